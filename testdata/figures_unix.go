//go:build unix

package testdata

import (
	"syscall"
	"time"
)

// ProcessorTime is what this program has used so far, and the programs it has
// run: what others do at the same time does not count.
func ProcessorTime() time.Duration {
	var used time.Duration
	for _, who := range []int{syscall.RUSAGE_SELF, syscall.RUSAGE_CHILDREN} {
		var r syscall.Rusage
		if err := syscall.Getrusage(who, &r); err != nil {
			panic(err)
		}
		used += time.Duration(r.Utime.Nano() + r.Stime.Nano())
	}
	return used
}
