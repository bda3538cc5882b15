package testdata

import (
	"syscall"
	"testing"
)

// Mount puts a file system of its own in memory on a new folder, so that it can
// be full or read-only without harm. Where the machine lets nobody mount, which
// a container may forbid, the test is left out.
func Mount(t testing.TB, options string) string {
	t.Helper()
	folder := t.TempDir()
	if err := syscall.Mount("tmpfs", folder, "tmpfs", 0, options); err != nil {
		t.Skipf("no file system can be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(folder, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return folder
}
