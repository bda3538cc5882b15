package check

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapmark/crypto/private"
	"lapmark/ledger"
)

// secrecy is in which of the two files the slip of a commitment belongs.
type secrecy int

// Free texts travel in words.txt, declared private values in private.txt; what
// this program does not know may stand in either.
const (
	unknownField secrecy = iota
	freeField
	privateField
)

// commitment is one commitment of one entry.
type commitment struct {
	order   int // of the entry: those of branches last
	no      ledger.No
	name    string
	secrecy secrecy
}

// compare orders commitments as their slips stand in a file.
func (c commitment) compare(o commitment) int {
	return cmp.Or(cmp.Compare(c.order, o.order), strings.Compare(c.name, o.name))
}

// sealed is the commitments of a ledger, and the values that slips opened.
type sealed struct {
	entries []*ledger.Entry
	by      map[string][]commitment // by the text of the commitment, in order
	values  map[ledger.No]map[string]string
	kinds   map[string]map[string]secrecy
}

// seal gathers the commitments of all entries.
func seal(c *ledger.Coach) *sealed {
	s := &sealed{
		entries: slices.Clone(c.Entries),
		by:      map[string][]commitment{},
		values:  map[ledger.No]map[string]string{},
		kinds:   map[string]map[string]secrecy{},
	}
	for _, b := range c.Branches {
		s.entries = append(s.entries, b.Items...)
	}
	for i, e := range s.entries {
		for name, text := range e.Commitments() {
			s.by[text] = append(s.by[text], commitment{i, e.No, name, s.secrecy(e.Kind(), name)})
		}
	}
	for _, same := range s.by {
		slices.SortFunc(same, commitment.compare)
	}
	return s
}

// secrecy says what a member of private is, by the kind's declaration.
func (s *sealed) secrecy(kind, name string) secrecy {
	known, ok := s.kinds[kind]
	if !ok {
		known = map[string]secrecy{}
		k, _ := ledger.KindNamed(kind)
		for _, free := range k.FreeTexts() {
			known[free] = freeField
		}
		for _, p := range k.Privates {
			known[p.Name] = privateField
		}
		s.kinds[kind] = known
	}
	return known[name]
}

// read opens what the slips of a file fit. The error says which line is not
// as it was written: no slip, twice there, fitting no commitment of its own
// name, of the other file, or not in its place.
func (s *sealed) read(name string, text []byte, other secrecy) error {
	slips, err := private.Lines(text)
	if err != nil {
		return fmt.Errorf("the slips of %s are not as they were written: %w", name, err)
	}
	last := commitment{order: -1}
	for i, slip := range slips {
		said, err := private.Parse(slip)
		if err != nil {
			return fmt.Errorf("line %d of %s: %w", i+1, name, err)
		}
		fits := s.fits(slip, said.Name)
		if len(fits) == 0 {
			return fmt.Errorf("line %d of %s opens nothing in the entries", i+1, name)
		}
		own := slices.DeleteFunc(slices.Clone(fits), func(c commitment) bool { return c.secrecy == other })
		at := slices.IndexFunc(own, func(c commitment) bool { return c.compare(last) > 0 })
		switch {
		case len(own) == 0:
			return fmt.Errorf("line %d of %s: a slip of %s does not belong there", i+1, name, said.Name)
		case at < 0:
			return fmt.Errorf("line %d of %s is not in its place", i+1, name)
		}
		last = own[at]
		s.keep(fits, said.Value)
	}
	return nil
}

// open opens what slips fit and passes over those that fit nothing.
func (s *sealed) open(slips []string) {
	for _, slip := range slices.Compact(slices.Sorted(slices.Values(slips))) { // each once: a slip may fit many entries
		if said, err := private.Parse(slip); err == nil {
			s.keep(s.fits(slip, said.Name), said.Value)
		}
	}
}

// fits are the commitments of its own name that a slip opens.
func (s *sealed) fits(slip, name string) []commitment {
	var out []commitment
	for _, c := range s.by[private.Commit(slip)] {
		if c.name == name {
			out = append(out, c)
		}
	}
	return out
}

func (s *sealed) keep(fits []commitment, value string) {
	for _, c := range fits {
		if s.values[c.no] == nil {
			s.values[c.no] = map[string]string{}
		}
		s.values[c.no][c.name] = value
	}
}

// shut lists the commitments of one secrecy that nothing opened, in order.
func (s *sealed) shut(want secrecy) []commitment {
	var out []commitment
	for _, same := range s.by {
		for _, c := range same {
			if _, open := s.values[c.no][c.name]; !open && c.secrecy == want {
				out = append(out, c)
			}
		}
	}
	slices.SortFunc(out, commitment.compare)
	return out
}

// lines are the lines of a text that may be cut off or damaged.
func lines(text []byte) []string { return strings.Split(string(text), "\n") }
