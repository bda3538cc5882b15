// Package record reads the facts of cover out of a checked and replayed ledger.
// What does not count, an entry of a guest that nobody adopted or one that is
// doubtful, is left out.
package record

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
)

// Facts are what a ledger says of cover. claim is the claim that is asked about,
// zero without one: it decides whether a hand-over took it along.
func Facts(r *ledger.Replay, claim ledger.No) cover.Facts {
	s := sourceOf(r)
	f := cover.Facts{Coach: r.Plate(), Deck: s.deck()}
	for _, a := range r.OfKind("certificate") {
		if a.Counts {
			f.Certificates = append(f.Certificates, s.certificate(a))
		}
	}
	for _, a := range r.Acts {
		if !a.Counts {
			continue
		}
		switch a.Kind {
		case "upkeep":
			f.Upkeep = append(f.Upkeep, s.upkeep(a))
			f.Left = append(f.Left, s.leftAtUpkeep(a)...)
		case "transfer":
			f.Sales = append(f.Sales, s.sale(a))
		case "later-work":
			f.LaterWork = append(f.LaterWork, s.laterWork(a)...)
		case "work":
			if !a.House {
				f.LaterWork = append(f.LaterWork, s.guestWork(a)...)
			}
		case "decision":
			f.Left = append(f.Left, s.left(a)...)
			f.OwnWork = append(f.OwnWork, s.ownWork(a)...)
		case "standing":
			f.Standings = append(f.Standings, s.standings(a)...)
		case "hand-over":
			f.HandOvers = append(f.HandOvers, s.handOver(a, claim)...)
		}
	}
	return f
}

// source is a ledger that facts are read from.
type source struct {
	r        *ledger.Replay
	allMends []mend
	lines    map[*ledger.Act][]rules.Line
	at       map[*ledger.Act]place.Region
}

func sourceOf(r *ledger.Replay) *source {
	return &source{r: r, lines: map[*ledger.Act][]rules.Line{}, at: map[*ledger.Act]place.Region{}}
}

// linesOf are the lines of a certificate, worked out once.
func (s *source) linesOf(a *ledger.Act) []rules.Line {
	out, known := s.lines[a]
	if !known {
		out, _ = rules.Lines(s.r, a)
		s.lines[a] = out
	}
	return out
}

// worked is where a work entry was, worked out once.
func (s *source) worked(a *ledger.Act) place.Region {
	out, known := s.at[a]
	if !known {
		for _, op := range rules.Ops(a) {
			for _, spot := range op.Spots(s.r) {
				out = out.Union(spot.Region)
			}
		}
		s.at[a] = out
	}
	return out
}

func (s *source) deck() cover.Box {
	d := s.r.Deck()
	if d == nil {
		return cover.Box{}
	}
	half := (max(d.Front, d.Rear) + 1) / 2
	return cover.Box{Front: 0, Rear: d.Length, Left: -half, Right: half}
}

// Name is how the shop that wrote an entry signs: the house by the name it had
// then, a guest by his own.
func Name(r *ledger.Replay, a *ledger.Act) string {
	if a.House {
		return r.HouseNameAt(a.No.N)
	}
	for _, b := range r.Acts {
		if b.Signer == a.Signer && !b.House {
			if name := object(b.Body["shop"], "name"); name != "" {
				return name
			}
		}
	}
	print, err := format.Fingerprint(a.Signer)
	if err != nil {
		return a.Signer
	}
	return print
}

func (s *source) certificate(a *ledger.Act) cover.Certificate {
	c := cover.Certificate{
		No: a.Text("tag"), Coach: s.r.Plate(), Issuer: Name(s.r, a), Numbers: numbers(a), Ref: a.No.String(),
		ExcludedCauses: causes(a.Body["exclusions"]), ShopSideCauses: ledger.Texts(a.Body["shop-side"]),
	}
	for _, o := range ledger.Objects(a.Body["instead-of"]) {
		c.InsteadOf = append(c.InsteadOf, cover.LineRef{Certificate: text(o, "cert"), Lines: lineNames(o)})
	}
	for _, l := range s.linesOf(a) {
		first := dayOf(text(l.Object, "first-day"))
		if c.FirstDay.IsZero() || first.Before(c.FirstDay) {
			c.FirstDay = first
		}
		c.Lines = append(c.Lines, line(l, first, s.deck()))
	}
	for i := range c.Lines {
		if c.Lines[i].FirstDay == c.FirstDay {
			c.Lines[i].FirstDay = day.Day{}
		}
	}
	c.WorksFrom = s.worksFrom(a, c)
	return c
}

func line(l rules.Line, first day.Day, deck cover.Box) cover.Line {
	out := cover.Line{
		Line: "L" + ledger.Decimal(l.Number), Promise: l.Promise.Name, FirstDay: first, Floor: 1000,
		Months: int(ledger.Int(l.Object, "months")), FullMonths: int(ledger.Int(l.Object, "full-months")),
		Upkeep: l.Object["upkeep"] == true,
	}
	if floor, said := l.Object["floor"].(int64); said {
		out.Floor = floor
	}
	for _, spot := range l.Spots {
		for _, box := range Boxes(spot.Region, deck) {
			out.Places = append(out.Places, cover.Place{Place: unlike(out.Places, nameOf(spot.Place)), Box: box})
		}
	}
	return out
}

// nameOf is the name of a place in a cover line: its name; the word of its part
// with the number; else field.
func nameOf(p place.Place) string {
	switch {
	case p.Name != "":
		return p.Name
	case p.Part != "" && p.Number != nil:
		return p.Part + "-" + ledger.Decimal(*p.Number)
	case p.Part != "":
		return p.Part
	}
	return "field"
}

// unlike is a name that no place of the line has yet: field, field-2.
func unlike(there []cover.Place, name string) string {
	free := name
	for n := int64(2); slices.ContainsFunc(there, func(p cover.Place) bool { return p.Place == free }); n++ {
		free = name + "-" + ledger.Decimal(n)
	}
	return free
}

// numbers are those of a certificate; one that it does not have is the usual
// one.
func numbers(a *ledger.Act) cover.Numbers {
	out := cover.UsualNumbers()
	values, _ := a.Body["numbers"].(format.Object)
	days := func(name string, to *int) {
		if n, said := values[name].(int64); said {
			*to = int(n)
		}
	}
	mm := func(name string, to *int64) {
		if n, said := values[name].(int64); said {
			*to = n
		}
	}
	days("report-days", &out.ReportDays)
	days("notice-days", &out.NoticeDays)
	days("transfers-most", &out.TransfersMost)
	days("declare-days", &out.DeclareDays)
	mm("margin", &out.Margin)
	mm("tie-in-reach", &out.TieIn)
	mm("touch", &out.Touch)
	days("upkeep-every", &out.UpkeepEveryMonths)
	days("upkeep-early", &out.UpkeepEarlyDays)
	days("upkeep-grace", &out.UpkeepGraceDays)
	days("upkeep-missed-most", &out.UpkeepMissedMost)
	return out
}

// causes are those among the exclusions: the others exclude what is no cause.
func causes(v format.Value) []string {
	var out []string
	for _, name := range ledger.Texts(v) {
		if w, ok := ledger.WordIn("exclusion", name); ok && w.List == "causes" {
			out = append(out, name)
		}
	}
	return out
}

// worksFrom is the earliest day of work by the issuer at one of the
// certificate's places that is later than the first day of the issuer's newest
// earlier certificate with a line there.
func (s *source) worksFrom(a *ledger.Act, c cover.Certificate) day.Day {
	at := s.places(a)
	var after day.Day
	var newest *ledger.Act
	for _, b := range s.r.OfKind("certificate") {
		if b.Counts && b.Before(a) && Name(s.r, b) == c.Issuer && s.places(b).Overlaps(at) && (newest == nil || newest.Before(b)) {
			newest, after = b, firstDay(b)
		}
	}
	var from day.Day
	for _, b := range s.r.OfKind("work") {
		d := b.Day()
		if !b.Counts || Name(s.r, b) != c.Issuer || !after.IsZero() && !after.Before(d) || !from.IsZero() && !d.Before(from) {
			continue
		}
		if s.worked(b).Overlaps(at) {
			from = d
		}
	}
	if from.IsZero() {
		return c.FirstDay
	}
	return from
}

func (s *source) places(a *ledger.Act) place.Region {
	var out place.Region
	for _, l := range s.linesOf(a) {
		out = out.Union(l.Region)
	}
	return out
}

func firstDay(a *ledger.Act) day.Day {
	var first day.Day
	for _, o := range ledger.Objects(a.Body["lines"]) {
		if d := dayOf(text(o, "first-day")); first.IsZero() || d.Before(first) {
			first = d
		}
	}
	return first
}

// lineNames are the lines of a cover ref; none: all.
func lineNames(o format.Object) []string {
	var out []string
	for _, n := range ledger.Ints(o["lines"]) {
		out = append(out, "L"+ledger.Decimal(n))
	}
	return out
}

func text(o format.Object, name string) string {
	s, _ := o[name].(string)
	return s
}

// object is a member of an object that a body holds.
func object(v format.Value, name string) string {
	o, _ := v.(format.Object)
	return text(o, name)
}

// dayOf is the day of a day or moment; zero of what is neither.
func dayOf(when string) day.Day {
	d, err := day.Parse(when[:min(len(when), len("2006-01-02"))])
	if err != nil {
		return day.Day{}
	}
	return d
}
