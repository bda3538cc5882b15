package carry

import (
	"errors"
	"fmt"
)

// ErrTooLarge says that a file, what is packed in it or the number of its
// streams is above the limits.
var ErrTooLarge = errors.New("too large")

// Limits bounds the work that a stranger's file can ask for. The numbers are
// common practice, no source.
type Limits struct {
	// File is the most bytes one paper or bundle may have, and the most bytes
	// that all streams of one file together may be read from.
	File int
	// Streams is the most streams one PDF may have.
	Streams int
	// Unpacked is the most bytes that all compressed streams of one PDF
	// together may unpack to.
	Unpacked int
}

// DefaultLimits returns the limits in use: 64 MiB a file, 20,000 streams,
// 64 MiB unpacked.
func DefaultLimits() Limits {
	return Limits{File: 64 << 20, Streams: 20_000, Unpacked: 64 << 20}
}

// checkSize refuses a file of more bytes than the limits allow.
func (l Limits) checkSize(size int) error {
	if size > l.File {
		return fmt.Errorf("%w: %d bytes, at most %d are read or written", ErrTooLarge, size, l.File)
	}
	return nil
}
