//go:build darwin || freebsd

package shop

import "syscall"

// mountLocal is the flag of a file system that is stored on this machine
// (sys/mount.h MNT_LOCAL, from memory).
const mountLocal = 0x1000

func networkDrive(folder string) string {
	var st syscall.Statfs_t
	if err := syscall.Statfs(folder, &st); err != nil || uint64(st.Flags)&mountLocal != 0 {
		return ""
	}
	name := ""
	for _, c := range st.Fstypename {
		if c == 0 {
			break
		}
		name += string(rune(c))
	}
	return name
}
