package shop

import (
	"path/filepath"
	"syscall"
	"unsafe"
)

// driveRemote is what GetDriveTypeW answers for a drive letter of the network
// (fileapi.h DRIVE_REMOTE, from memory).
const driveRemote = 4

var getDriveType = syscall.NewLazyDLL("kernel32.dll").NewProc("GetDriveTypeW")

func networkDrive(folder string) string {
	path, err := filepath.Abs(folder)
	if err != nil {
		return ""
	}
	if isUNC(path) {
		return "network share"
	}
	root, err := syscall.UTF16PtrFromString(filepath.VolumeName(path) + `\`)
	if err != nil || getDriveType.Find() != nil {
		return ""
	}
	if kind, _, _ := getDriveType.Call(uintptr(unsafe.Pointer(root))); kind == driveRemote {
		return "network drive"
	}
	return ""
}
