package loose

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// Shop is what a reader needs to know of the shop.
type Shop struct {
	Today      string            // the day of reading
	Zone       *time.Location    // of the shop; nil: the zone of the heading holds
	Plates     []string          // VINs and serials of its coaches
	Marks      []string          // of its people
	Words      map[string]string // words of its own: what is typed, a word of the lists
	Rules      []string          // keys of rules that may be overridden
	Names      []string          // makers, products and shops: no names of people
	DayOrder   DayOrder          // of 3/4/2026
	Fahrenheit bool              // bare temperatures are degrees F
}

// DayOrder says which number of 3/4/2026 is the day.
type DayOrder int

// Not said: both readings are shown.
const (
	NotSaid DayOrder = iota
	DayFirst
	MonthFirst
)

// Entry is one entry or note of a coach that may be pointed at.
type Entry struct {
	Ref     string // F1, #34; "" for a note that nothing names yet
	Kind    string
	Draft   ledger.Draft
	Heading sheet.Heading
}

// Lot is one lot that came in for a coach.
type Lot struct {
	Unit   string // g, ml, mm, mm2, piece
	Amount int64
	Packs  int64
}

// Coach is what a reader needs to know of a coach. [Coach.Learn] fills it, note
// by note.
type Coach struct {
	Names   map[string]string // openings and seams: the element it is, "seam"
	Lots    map[string]Lot
	Entries []Entry
	holders []held
	every   int64
	at      []int64
	length  int64
	half    int64
	marks   []string // of those who wrote
	byRef   map[string]int
}

type held struct{ day, mark string }

// Learn takes in what an entry or a clear note says that later lines may point
// at. ref is its tag or #number, "" where it has none.
func (c *Coach) Learn(ref string, d ledger.Draft, h sheet.Heading) {
	c.Know(ref, d, h)
	if c.Names == nil {
		c.Names, c.Lots = map[string]string{}, map[string]Lot{}
	}
	switch d.Kind {
	case "intake", "measure":
		c.measure(d)
		c.holds(h.Day, d.Text("holder"))
	case "transfer":
		c.holds(d.Text("sold"), d.Text("to-holder"))
	case "work":
		for _, op := range objects(d.Body["ops"]) {
			if name, ok := op["names"].(string); ok {
				c.Names[name] = "seam"
			}
		}
	case "delivery":
		for _, lot := range objects(d.Body["lots"]) {
			name, _ := lot["lot"].(string)
			unit, _ := lot["unit"].(string)
			amount, _ := lot["amount"].(int64)
			packs, _ := lot["packs"].(int64)
			c.Lots[name] = Lot{unit, amount, packs}
		}
	}
	c.usedLots(d)
}

// usedLots takes in lots that were used or tried and came with no delivery.
func (c *Coach) usedLots(d ledger.Draft) {
	add := func(v format.Value, unit format.Value) {
		name, _ := v.(string)
		if _, known := c.Lots[name]; !known && name != "" {
			kept, _ := unit.(string)
			c.Lots[name] = Lot{Unit: kept}
		}
	}
	for _, list := range []string{"ops", "looked", "results"} {
		for _, one := range objects(d.Body[list]) {
			for _, use := range objects(one["uses"]) {
				add(use["lot"], use["unit"])
			}
			for _, lot := range ledger.Texts(one["lots"]) {
				add(lot, nil)
			}
		}
	}
}

// Know takes in an entry that may be pointed at and says nothing of the coach
// for the house: a guest's.
func (c *Coach) Know(ref string, d ledger.Draft, h sheet.Heading) {
	if c.byRef == nil {
		c.byRef = map[string]int{}
	}
	for _, name := range []string{ref, d.Text("tag")} {
		if name != "" {
			c.byRef[name] = len(c.Entries)
		}
	}
	c.Entries = append(c.Entries, Entry{ref, d.Kind, d, h})
	for _, mark := range ledger.Texts(d.Body["by"]) {
		if !slices.Contains(c.marks, mark) {
			c.marks = append(c.marks, mark)
		}
	}
}

func (c *Coach) holds(day, mark string) {
	if mark != "" {
		c.holders = append(c.holders, held{day, mark})
		slices.SortStableFunc(c.holders, func(a, b held) int { return cmp.Compare(a.day, b.day) })
	}
}

func (c *Coach) measure(d ledger.Draft) {
	for _, o := range objects(d.Body["openings"]) {
		name, _ := o["name"].(string)
		part, _ := o["part"].(string)
		c.Names[name] = part
	}
	if n, ok := d.Body["rafters-every"].(int64); ok {
		c.every, c.at = n, nil
	}
	if list, ok := d.Body["rafters-at"].(format.Array); ok {
		c.at = nil
		for _, v := range list {
			n, _ := v.(int64)
			c.at = append(c.at, n)
		}
	}
	if deck, ok := d.Body["deck"].(format.Object); ok {
		c.length, _ = deck["length"].(int64)
		front, _ := deck["front"].(int64)
		rear, _ := deck["rear"].(int64)
		c.half = (max(front, rear) + 1) / 2
	}
}

// holder is who held the coach on a day.
func (c *Coach) holder(day string) string {
	mark := ""
	for _, h := range c.holders {
		if h.day <= day {
			mark = h.mark
		}
	}
	return mark
}

// bays is how many bays there are; ok is false where no measure says so.
func (c *Coach) bays() (n int64, ok bool) {
	switch {
	case len(c.at) > 0:
		return int64(len(c.at)) + 1, true
	case c.every > 0 && c.length > 0:
		return (c.length + c.every - 1) / c.every, true
	}
	return 0, false
}

// entry finds what a reference points at.
func (c *Coach) entry(ref string) (Entry, bool) {
	at, ok := c.byRef[ref]
	if !ok {
		return Entry{}, false
	}
	return c.Entries[at], true
}

// knows says whether a chunk is a name, a lot or a tag of this coach.
func (c *Coach) knows(chunk string) bool {
	if _, ok := c.Names[chunk]; ok {
		return true
	}
	if _, ok := c.Lots[chunk]; ok {
		return true
	}
	if strings.HasPrefix(chunk, "#") {
		return false
	}
	_, ok := c.byRef[chunk]
	return ok
}

func objects(v format.Value) []format.Object {
	list, _ := v.(format.Array)
	var out []format.Object
	for _, one := range list {
		if o, ok := one.(format.Object); ok {
			out = append(out, o)
		}
	}
	return out
}
