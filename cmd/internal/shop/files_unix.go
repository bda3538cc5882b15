//go:build !windows

package shop

import (
	"errors"
	"syscall"
)

// isInvalid says whether a file system cannot sync a folder.
func isInvalid(err error) bool { return errors.Is(err, syscall.EINVAL) }
