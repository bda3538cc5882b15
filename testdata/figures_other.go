//go:build !unix

package testdata

import "time"

// ProcessorTime is the time by the clock on the wall: this system is not asked
// for more.
func ProcessorTime() time.Duration { return WallTime() }
