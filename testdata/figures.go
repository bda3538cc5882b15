package testdata

import (
	"flag"
	"testing"
	"time"
)

// Large says whether a benchmark may take its time: not where each is only to
// be run once (-benchtime 1x), and not with -short.
func Large() bool {
	once := flag.Lookup("test.benchtime")
	return !testing.Short() && (once == nil || once.Value.String() != "1x")
}

// Best runs the sides in turn and returns the least time of each. clock is
// [ProcessorTime], or [WallTime] where several processors are the point.
func Best(b *testing.B, clock func() time.Duration, sides ...func() error) []time.Duration {
	b.Helper()
	timed := make([]func() time.Duration, len(sides))
	for i, side := range sides {
		timed[i] = func() time.Duration {
			at := clock()
			if err := side(); err != nil {
				b.Fatal(err)
			}
			return clock() - at
		}
	}
	return Turns(b, timed...)
}

// Turns is Best for sides that time themselves. They go in turn, so that a busy
// machine troubles each alike.
func Turns(b *testing.B, sides ...func() time.Duration) []time.Duration {
	b.Helper()
	rounds := 15
	if !Large() {
		rounds = 3
	}
	best := make([]time.Duration, len(sides))
	for b.Loop() {
		for range rounds {
			for i, side := range sides {
				if took := side(); best[i] == 0 || took < best[i] {
					best[i] = took
				}
			}
		}
	}
	return best
}

// AtMost reports how many times as long one side takes as another. More than
// the goal fails; where there was little time to measure, twice the goal does.
func AtMost(b *testing.B, unit string, goal float64, side, measure time.Duration) {
	b.Helper()
	ratio := float64(side) / float64(measure)
	b.ReportMetric(ratio, unit)
	if !Large() {
		goal *= 2
	}
	if ratio > goal {
		b.Errorf("%s: %.4g (%v against %v), at most %.4g", unit, ratio, side, measure, goal)
	}
}

// WallTime is the time by the clock on the wall.
func WallTime() time.Duration { return time.Since(started) }

var started = time.Now()
