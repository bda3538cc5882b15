package loose

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/sheet"
)

// mostReadings are shown of one note; more are not.
const mostReadings = 4

// choices are the turns one reading takes where more than one is open. The
// reading is made again for each: it asks pick, and what it is told differs.
type choices struct {
	taken []int // what is told, in the order of asking
	open  []int // how many ways there were, in the order of asking
}

// pick says which of n ways this reading goes.
func (c *choices) pick(n int) int {
	at := len(c.open)
	c.open = append(c.open, n)
	if at < len(c.taken) {
		return c.taken[at]
	}
	c.taken = append(c.taken, 0)
	return 0
}

// next turns to the following way; false where all were gone.
func (c *choices) next() bool {
	c.taken = c.taken[:len(c.open)]
	for len(c.taken) > 0 {
		last := len(c.taken) - 1
		if c.taken[last]+1 < c.open[last] {
			c.taken[last]++
			c.open = nil
			return true
		}
		c.taken, c.open = c.taken[:last], c.open[:last]
	}
	return false
}

// reading is one draft and the line it is written as.
type reading struct {
	draft ledger.Draft
	line  string
	notes []string // words that went to the note by themselves
}

// tries are all turns that are gone at most.
const tries = 64

// all gathers the readings of a note. Turns that end nowhere are left out; where
// all do, the error of the first says why.
func all(h sheet.Heading, read func(*choices) (ledger.Draft, []string, error)) ([]reading, error) {
	var out []reading
	var first error
	c := &choices{}
	for range tries {
		c.open = nil
		d, notes, err := read(c)
		line := ""
		if err == nil {
			line, err = whole(d, h)
		}
		switch {
		case err != nil && first == nil:
			first = err
		case err == nil && !slices.ContainsFunc(out, func(r reading) bool { return r.line == line }):
			out = append(out, reading{d, line, notes})
		}
		if len(out) > mostReadings || !c.next() {
			break
		}
	}
	if len(out) == 0 {
		return nil, first
	}
	return out, nil
}

// whole writes a draft and reads it again: what does not come back is no
// reading.
func whole(d ledger.Draft, h sheet.Heading) (string, error) {
	line, err := sheet.Line(d, h)
	if err != nil {
		return "", err
	}
	_, err = sheet.ReadLine(line, h)
	return line, err
}

// one is the reading, if there is exactly one.
func one(list []reading) (reading, error) {
	switch {
	case len(list) == 1:
		return list[0], nil
	case len(list) > mostReadings:
		return reading{}, unclear(Readings, "more than four")
	}
	lines := make([]string, len(list))
	for i, r := range list {
		lines[i] = r.line
	}
	return reading{}, unclear(Readings, "%s", strings.Join(lines, " | "))
}
