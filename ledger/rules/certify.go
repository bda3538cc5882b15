package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/place"
)

const (
	tape       = 10  // mm, tolerance of the tape; common practice, no source
	checkReach = 100 // mm, how far beyond a check's place it speaks
	mostMonths = 240 // the longest term of a line

	saysBeyond     = "Line {n} covers {area} nobody rebuilt: {place}."
	saysStage      = "{stage} at {place} is not released."
	saysNoStart    = "Lot {lot} at {place} has no cure-start."
	saysEarly      = "First day {day}: cure was released {day}. The first possible day is {day}."
	saysNoneYet    = "{promise} at {place} needs {a check} after the {operation} of {day}."
	saysOpen       = "Finding {n}, {defect} at {place}, {mm} mm from line {line}, has neither work and check nor a decision."
	saysCutOut     = "Line {n} leaves out {place}: {decision}, {day}."
	saysRange      = "Months {m}, full {f}, floor {p} %: 1–240, at most {m}, 0–100."
	saysUnnumbered = "This certificate has no number. Write one behind the word certificate."
	saysTaken      = "Certificate {no} is already used on {coach}."
	saysNoArea     = "Line {n} has a place that cannot be worked out yet: {what}. Measure the roof, or say the place in mm."
	saysTwice      = "Two lines are numbered {n}. Give each its own number."
)

var forCertificates = []string{"certificate"}

func certifyRule(key string, degree Degree, look func(Case) []Outcome, sentences ...string) Rule {
	return Rule{Key: key, Degree: degree, Kinds: forCertificates, Sentences: sentences, Look: func(c Case) []Outcome {
		if c.Replay == nil {
			return nil
		}
		return look(c)
	}}
}

var certifyRules = []Rule{
	certifyRule("place", Refused, noArea, saysNoArea),
	certifyRule("term-range", Refused, termRange, saysRange, saysTwice),
	certifyRule("number-taken", Refused, numberTaken, saysTaken, saysUnnumbered),
	certifyRule("beyond-rebuilt", Refused, beyondRebuilt, saysBeyond),
	certifyRule("stage-open", Refused, stageOpen, saysStage, saysNoStart),
	certifyRule("first-day-early", Refused, firstDayEarly, saysEarly),
	certifyRule("check-missing", Stopped, checkMissing, saysNoneYet),
	certifyRule("finding-open", Refused, findingOpen, saysOpen),
	certifyRule("left-cut-out", Noted, leftCutOut, saysCutOut),
}

func refused(rule, sentence string, values ...string) Outcome {
	return Outcome{Rule: rule, Degree: Refused, Sentence: fill(sentence, values...)}
}

func noArea(c Case) []Outcome {
	var out []Outcome
	for _, o := range ledger.Objects(c.Act.Body["lines"]) {
		if _, err := spots(c.Replay, c.Act, ledger.PlacesOf(o["places"]), nil); err != nil {
			out = append(out, refused("place", saysNoArea, ledger.Decimal(ledger.Int(o, "line")), err.Error()))
		}
	}
	return out
}

func termRange(c Case) []Outcome {
	var out []Outcome
	seen := map[int64]bool{}
	for _, o := range ledger.Objects(c.Act.Body["lines"]) {
		m, f := ledger.Int(o, "months"), ledger.Int(o, "full-months")
		floor, ok := o["floor"].(int64)
		if !ok {
			floor = 1000
		}
		if m < 1 || m > mostMonths || f > m || f < 0 || floor < 0 || floor > 1000 {
			months := ledger.Decimal(m)
			out = append(out, refused("term-range", saysRange, months, ledger.Decimal(f), trade1(floor), months))
		}
		n := ledger.Int(o, "line")
		if seen[n] {
			out = append(out, refused("term-range", saysTwice, ledger.Decimal(n)))
		}
		seen[n] = true
	}
	return out
}

func numberTaken(c Case) []Outcome {
	number := c.Act.Text("tag")
	switch {
	case number == "":
		return []Outcome{refused("number-taken", saysUnnumbered)}
	case c.Taken == nil:
		return nil
	}
	if coach, taken := c.Taken(number); taken {
		return []Outcome{refused("number-taken", saysTaken, number, coach)}
	}
	return nil
}

// rebuilt is what the shop closed for a promise: in one of its layers, by one
// of the operations it asks for.
func rebuilt(r *ledger.Replay, p ledger.Promise) place.Region {
	var out place.Region
	for _, op := range Closed(r) {
		if len(p.ClosedBy) > 0 && !slices.Contains(p.ClosedBy, op.Word) {
			continue
		}
		for _, s := range op.spots(r) {
			if measured(s.Place) && (len(s.Layers) == 0 || sharesLayer(s.Layers, p.Layers)) {
				out = out.Union(s.Region)
			}
		}
	}
	return out
}

// measured says whether a place says where it is. An element alone that lies
// along no edge stands for the whole deck: work noted so loosely is nothing to
// put a name to.
func measured(p place.Place) bool {
	if p.Shape != place.Part || p.Number != nil || p.Part == "deck-field" {
		return true
	}
	_, lies := place.Lies(p.Part)
	return lies
}

func beyondRebuilt(c Case) []Outcome {
	lines, _ := Lines(c.Replay, c.Act)
	var out []Outcome
	for _, l := range lines {
		if l.Promise.Width < 0 {
			continue
		}
		done := rebuilt(c.Replay, l.Promise)
		if done.Holds(l.Region, tape) {
			continue
		}
		beyond := l.Region.Minus(done)
		o := refused("beyond-rebuilt", saysBeyond, ledger.Decimal(l.Number), ledger.SayArea(beyond.Area()),
			sayRegion(c.Replay, beyond))
		o.Mend = "Take line " + ledger.Decimal(l.Number) + " back to what was rebuilt: " +
			sayRegion(c.Replay, l.Region.Intersect(done))
		if l.Region.Intersect(done).Empty() {
			o.Mend = "Strike line " + ledger.Decimal(l.Number) + " out"
		}
		out = append(out, o)
	}
	return out
}

func stageOpen(c Case) []Outcome {
	j, _ := JobOf(c.Replay, c.Act)
	places := allSpots(j.Lines)
	var out []Outcome
	waits := Waits(c.Replay, nil)
	for _, w := range waits {
		if w.Work == nil || !overAny(workSpots(c.Replay, w.Work), places) {
			continue
		}
		for _, o := range ledger.Objects(w.Start.Body["stages"]) {
			if _, released := w.Released[text(o, "name")]; !released {
				out = append(out, refused("stage-open", saysStage, capital(ledger.Said("stages", text(o, "name"))), placesOf(w.Work)))
			}
		}
	}
	return append(out, lotsWithoutStart(c.Replay, j, waits)...)
}

func workSpots(r *ledger.Replay, a *ledger.Act) []Spot {
	var out []Spot
	for _, op := range Ops(a) {
		out = append(out, op.spots(r)...)
	}
	return out
}

// lotsWithoutStart finds curing lots in the job's closed work that no cure
// started.
func lotsWithoutStart(r *ledger.Replay, j Job, waits []*Wait) []Outcome {
	var out []Outcome
	for _, op := range j.Closed {
		for _, lot := range op.Lots {
			if !curing(r, lot) || started(waits, op.Act, lot) {
				continue
			}
			out = append(out, refused("stage-open", saysNoStart, lot, sayPlaces(op.Places)))
		}
	}
	return out
}

func sayPlaces(places []place.Place) string {
	var out []string
	for _, p := range places {
		out = append(out, ledger.SayPlace(p))
	}
	return join(out)
}

func curing(r *ledger.Replay, lot string) bool {
	shape := r.Lots[lot].Shape
	_, through := object(shape["values"])["through-cure"]
	return shape["stages"] != nil || through || ledger.Cures(text(shape, "material"))
}

func started(waits []*Wait, work *ledger.Act, lot string) bool {
	return slices.ContainsFunc(waits, func(w *Wait) bool {
		lots := ledger.Texts(w.Start.Body["lots"])
		return w.Work == work && (len(lots) == 0 || slices.Contains(lots, lot))
	})
}

// LastCure is the day of the newest release of a cure in one of the places.
func LastCure(r *ledger.Replay, places []Spot) day.Day {
	var last day.Day
	for _, w := range Waits(r, nil) {
		if w.Work != nil && !w.LastDay.IsZero() && overAny(workSpots(r, w.Work), places) && last.Before(w.LastDay) {
			last = w.LastDay
		}
	}
	return last
}

func firstDayEarly(c Case) []Outcome {
	lines, _ := Lines(c.Replay, c.Act)
	var out []Outcome
	for _, l := range lines {
		last := LastCure(c.Replay, l.Spots)
		first := dayOf(text(l.Object, "first-day"))
		if last.IsZero() || last.Before(first) {
			continue
		}
		o := refused("first-day-early", saysEarly, first.String(), last.String(), last.AddDays(1).String())
		o.Mend = "Line " + ledger.Decimal(l.Number) + " from " + last.AddDays(1).String()
		if !slices.ContainsFunc(out, func(p Outcome) bool { return p.Sentence == o.Sentence }) {
			out = append(out, o)
		}
	}
	return out
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
