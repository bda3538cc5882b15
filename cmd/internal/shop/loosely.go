package shop

import (
	"maps"
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/loose"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
	"lapmark/report/say"
)

// Settings of the book that say how lines are read: the order of 3/4/2026
// ("day first", "month first") and bare temperatures ("F").
const (
	settingDayOrder    = "day-order"
	settingTemperature = "temperature"
)

// looseShop is what the reader of loose lines is told of the shop.
func (s *Shop) looseShop() (loose.Shop, error) {
	today, _ := s.Today()
	out := loose.Shop{Today: today, Zone: s.location(), Words: map[string]string{}, Names: []string{s.Terms.Shop}}
	for _, rule := range rules.Rules() {
		out.Rules = append(out.Rules, rule.Key)
	}
	coaches, err := s.Book.Coaches()
	if err != nil {
		return out, err
	}
	for _, c := range coaches {
		out.Plates = append(out.Plates, c.VIN+c.Serial)
		out.Names = append(out.Names, c.Builder, c.Model)
	}
	pencilled, err := s.Book.Pencilled()
	if err != nil {
		return out, err
	}
	out.Plates = append(out.Plates, pencilled...)
	slices.Sort(out.Plates)
	out.Plates = slices.Compact(out.Plates) // a coach with pencil is one coach
	marks, err := s.Book.Marks()
	if err != nil {
		return out, err
	}
	out.Marks = slices.Clone(usualMarks)
	for _, m := range marks {
		out.Marks = append(out.Marks, m.Mark)
	}
	words, err := s.Book.OwnWords()
	if err != nil {
		return out, err
	}
	for _, w := range words {
		out.Words[w.Typed] = w.Word
	}
	return out, s.looseSettings(&out)
}

// usualMarks are marks that every shop has; its book has more.
var usualMarks = []string{"foreman", "desk", "hand-1", "hand-2"}

func (s *Shop) looseSettings(out *loose.Shop) error {
	order, err := s.Book.Setting(settingDayOrder)
	if err != nil {
		return err
	}
	out.DayOrder = map[string]loose.DayOrder{"day first": loose.DayFirst, "month first": loose.MonthFirst}[order]
	temperature, err := s.Book.Setting(settingTemperature)
	out.Fahrenheit = temperature == "F"
	return err
}

// looseCoach is what the reader is told of a coach: its entries as they count
// now, its pencil, and the notes of this sheet so far.
func (c *readingCoach) looseCoach() *loose.Coach {
	if c.loose != nil {
		return c.loose
	}
	c.loose = &loose.Coach{}
	if r := c.coach.Replay; r != nil {
		n := ledger.Names{No: r.Tagged, Tag: r.TagOf, Last: int64(len(r.Coach.Entries))}
		for _, a := range r.Acts {
			d := ledger.Unresolve(a.Kind, a.Body, nil, n)
			h := sheet.Heading{Coach: c.coach.Plate, Day: a.Entry.Day(), Zone: zoneOf(a.Entry)}
			if a.Counts || a.Kind == "work" || a.Kind == "delivery" {
				c.loose.Learn("#"+a.No.String(), d, h)
			} else {
				c.loose.Know("#"+a.No.String(), d, h)
			}
		}
	}
	for _, p := range c.learnt {
		c.loose.Learn("", p.draft, p.heading)
	}
	return c.loose
}

// drafted is a clear note and its heading.
type drafted struct {
	draft   ledger.Draft
	heading sheet.Heading
}

// sentence sets a note in words; "" where no ledger says what its numbers mean
// yet.
func (c *readingCoach) sentence(d ledger.Draft) string {
	r := c.coach.Replay
	if r == nil {
		return ""
	}
	body, err := d.Resolve(c.pencilNames())
	if err != nil {
		return ""
	}
	shown := *r
	shown.Opened = map[ledger.No]map[string]string{{}: maps.Clone(d.Private)}
	if body["changes"] != nil {
		return "" // the parts stand in the line as the entry has them
	}
	return say.Entry(&shown, &ledger.Act{Kind: d.Kind, Body: withoutSeal(body), House: true, Counts: true})
}

// withoutSeal is a body without what a sentence has no need of.
func withoutSeal(body format.Object) format.Object {
	out := maps.Clone(body)
	delete(out, "photos")
	return out
}
