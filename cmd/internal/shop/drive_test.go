package shop

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// A list of mounts as the kernel writes it: the longest mount point that a path
// lies under counts, and of two on one point the later.
func TestMountedAs(t *testing.T) {
	const mounts = `22 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw
30 22 0:41 / /mnt/desk rw,nosuid - fuse.sshfs desk@yard:/shop rw,user_id=1000
31 22 0:42 / /mnt/the\040yard rw - fuse.rclone yard: rw
32 30 0:43 / /mnt/desk/own rw - ext4 /dev/sdb1 rw
33 22 0:44 / /mnt/twice rw - ext4 /dev/sdc1 rw
34 33 0:45 / /mnt/twice rw - fuse.sshfs a:/b rw
a line of another sort
`
	for path, kind := range map[string]string{
		"/home/shop": "ext4", "/mnt/desk": "fuse.sshfs", "/mnt/desk/shop": "fuse.sshfs", "/mnt/desktop": "ext4",
		"/mnt/the yard/x": "fuse.rclone", "/mnt/desk/own/shop": "ext4", "/mnt/twice/x": "fuse.sshfs",
	} {
		require.Equal(t, kind, mountedAs(mounts, path), path)
	}
	require.Empty(t, mountedAs("", "/home"))
	require.True(t, slices.Contains(networkFuse, "fuse.sshfs"))
}

func TestIsUNC(t *testing.T) {
	for path, yes := range map[string]bool{
		`\\yard\shop`: true, `//yard/shop`: true, `\\?\UNC\yard\shop`: true, `\\?\unc\yard\shop`: true,
		`C:\shop`: false, `\\?\C:\shop`: false, `\\.\C:`: false, `shop`: false, ``: false,
	} {
		require.Equal(t, yes, isUNC(path), path)
	}
}
