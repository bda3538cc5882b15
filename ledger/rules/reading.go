package rules

import (
	"math"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/trade"
)

const (
	keyPinless = "pinless-percent"
	keyJump    = "reading-jump"
	keyCold    = "meter-cold"

	saysPinless = "A pinless number is not a percentage. Give it with the dry reference."
	saysJump    = "{place} fell from {a} to {b} % in {h} h: meter, wrong spot, or dry on the face only?"
	saysCold    = "Wood at {t} °C: a meter that does not correct for it reads about {n} % low."
)

// withReadings are the kinds that may hold readings, and what mends them.
var withReadings = []string{"check", "finding", "work", "upkeep", "correction"}

var readingRules = []Rule{
	{Key: keyPinless, Degree: Refused, Kinds: withReadings, Sentences: []string{saysPinless}, Look: ofEach(pinlessPercent)},
	{Key: keyJump, Degree: Noted, Kinds: withReadings, Sentences: []string{saysJump}, Look: mendedToo(readingJump)},
	{Key: keyCold, Degree: Noted, Kinds: withReadings, Sentences: []string{saysCold}, Look: ofEach(meterCold)},
}

func pinlessPercent(a *ledger.Act) []Outcome {
	for _, o := range ledger.Objects(a.Body["results"]) {
		if text(o, "check") == "pinless" && object(o["values"])["moisture"] != nil {
			return []Outcome{refused(keyPinless, saysPinless)}
		}
	}
	return nil
}

// pins is one reading of timber or ply.
type pins struct {
	at       Spot
	moisture int64
}

// pinsOf are the readings of an act whose places could be worked out.
func pinsOf(r *ledger.Replay, a *ledger.Act) []pins {
	var out []pins
	for _, o := range ledger.Objects(a.Body["results"]) {
		moisture, read := object(o["values"])["moisture"].(int64)
		if text(o, "check") != "pins" || !read {
			continue
		}
		at, _ := spots(r, a, ledger.PlacesOf(o["places"]), nil)
		for _, s := range at {
			out = append(out, pins{s, moisture})
		}
	}
	return out
}

// readingJump compares a reading with the newest one before it at the same
// place, by the hours between them.
func readingJump(c Case) []Outcome {
	if c.Replay == nil {
		return nil
	}
	var out []Outcome
	var before []*ledger.Act
	for i, p := range pinsOf(c.Replay, c.Act) {
		if i == 0 {
			before = c.readBefore()
		}
		if o, jumped := c.jump(p, before); jumped {
			out = append(out, o)
		}
	}
	return out
}

// readBefore are the acts that a fall in the hours of the shop's limit could
// begin with, the newest first.
func (c Case) readBefore() []*ledger.Act {
	var out []*ledger.Act
	days := int((c.Limits.numbers(keyJump)[1] + 24*60 - 1) / (24 * 60))
	for back := 0; back <= days; back++ {
		for _, a := range c.Replay.On(c.Act.Day().AddDays(-back)) {
			if a.Counts && a.No != c.Act.No && c.Act.Follows(a) && c.minute(a) < c.minute(c.Act) {
				out = append(out, a)
			}
		}
	}
	newestFirst(out, c.minute)
	return out
}

func (c Case) jump(p pins, before []*ledger.Act) (o Outcome, jumped bool) {
	limit := c.Limits.numbers(keyJump)
	for _, a := range before {
		minutes := c.minute(c.Act) - c.minute(a)
		if minutes > limit[1] {
			break
		}
		for _, q := range pinsOf(c.Replay, a) {
			same := q.at.Region.Holds(p.at.Region, tape) && p.at.Region.Holds(q.at.Region, tape)
			if !same || !sharesLayer(p.at.Layers, q.at.Layers) {
				continue
			}
			h := int64(math.Round(float64(minutes) / 60))
			return Outcome{Rule: keyJump, Degree: Noted, Limit: keyJump, Sentence: fill(saysJump,
				capital(ledger.SayPlace(p.at.Place)), trade1(q.moisture), trade1(p.moisture), ledger.Decimal(h))}, q.moisture-p.moisture > limit[0]
		}
	}
	return Outcome{}, false
}

// minute is when an act happened, where hours count: one without a time of day
// stands at 12:00 of its day.
func (c Case) minute(a *ledger.Act) int64 {
	if m, err := day.ParseMoment(a.When()); err == nil {
		return m.UTC()
	}
	return utcOf(dayIn(a.When()).String() + "T12:00" + c.zone())
}

func (c Case) zone() string {
	if c.Zone == "" {
		return "+00:00"
	}
	return c.Zone
}

// meterCold says each temperature of the wood once; the readings stay as they
// were read.
func meterCold(a *ledger.Act) []Outcome {
	var out []Outcome
	for _, o := range ledger.Objects(a.Body["results"]) {
		wood, measured := woodTemp(a, o)
		if text(o, "check") != "pins" || !measured {
			continue
		}
		low, err := trade.ColdMeter(trade.Celsius(wood) / 10)
		tenths := int64(math.Round(float64(low) * 10))
		if err != nil || tenths == 0 {
			continue
		}
		out = appendOnce(out, Outcome{Rule: keyCold, Degree: Noted, Sentence: fill(saysCold, trade1(wood), trade1(tenths))})
	}
	return out
}

// woodTemp is the temperature of the wood that was read: the reading's own, else
// that of the note.
func woodTemp(a *ledger.Act, result format.Object) (tenths int64, measured bool) {
	if t, ok := object(result["values"])["ground-temp"].(int64); ok {
		return t, true
	}
	tenths, measured = object(a.Body["values"])["ground-temp"].(int64)
	return tenths, measured
}
