//go:build !linux && !windows && !darwin && !freebsd

package shop

// networkDrive cannot tell here.
func networkDrive(string) string { return "" }
