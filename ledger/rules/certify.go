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

	saysBeyond  = "Line {n} covers {area} nobody rebuilt: {place}."
	saysStage   = "{stage} at {place} is not released."
	saysNoStart = "Lot {lot} at {place} has no cure-start."
	saysEarly   = "First day {day}: cure was released {day}. The first possible day is {day}."
	saysNoneYet = "{promise} at {place} needs {a check} after the {operation} of {day}."
	saysOpen    = "Finding {n}, {defect} at {place}, {mm} mm from line {line}, has neither work and check nor a decision."
	saysCutOut  = "Line {n} leaves out {place}: {decision}, {day}."
	saysRange   = "Months {m}, full {f}, floor {p} %: 1–240, at most {m}, 0–100."
	saysTaken   = "Certificate {no} is already used on {coach}."
	saysNoArea  = "Line {n} has a place that cannot be worked out yet: {what}."
	saysTwice   = "Two lines are numbered {n}."
)

var forCertificates = []string{"certificate"}

func certifyRule(key string, look func(Case) []Outcome, sentences ...string) Rule {
	return Rule{Key: key, Kinds: forCertificates, Sentences: sentences, Look: func(c Case) []Outcome {
		if c.Replay == nil {
			return nil
		}
		return look(c)
	}}
}

var certifyRules = []Rule{
	certifyRule("place", noArea, saysNoArea),
	certifyRule("term-range", termRange, saysRange, saysTwice),
	certifyRule("number-taken", numberTaken, saysTaken),
	certifyRule("beyond-rebuilt", beyondRebuilt, saysBeyond),
	certifyRule("stage-open", stageOpen, saysStage, saysNoStart),
	certifyRule("first-day-early", firstDayEarly, saysEarly),
	certifyRule("check-missing", checkMissing, saysNoneYet),
	certifyRule("finding-open", findingOpen, saysOpen),
	certifyRule("left-cut-out", leftCutOut, saysCutOut),
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
		if m < 1 || m > 240 || f > m || f < 0 || floor < 0 || floor > 1000 {
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
	if c.Taken == nil {
		return nil
	}
	number := c.Act.Text("tag")
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

func checkMissing(c Case) []Outcome {
	lines, _ := Lines(c.Replay, c.Act)
	var out []Outcome
	for _, l := range lines {
		out = append(out, missingChecks(c.Replay, l)...)
	}
	return out
}

// missingChecks finds the checks a line still needs.
func missingChecks(r *ledger.Replay, l Line) []Outcome {
	var out []Outcome
	for _, need := range l.Promise.Checks {
		if need.OnSeam {
			out = append(out, missingProbes(r, l, need)...)
			continue
		}
		op, last := lastWork(r, l, need.After)
		if last == nil || checked(r, need.OneOf, last.No, l.Region) {
			continue
		}
		out = append(out, missing(l, need, op, sayPlaces(l.Places), last))
	}
	return out
}

func missing(l Line, need ledger.NeededCheck, op, where string, last *ledger.Act) Outcome {
	return Outcome{Rule: "check-missing", Degree: Stopped, Sentence: fill(saysNoneYet,
		capital(ledger.Said("promise", l.Promise.Name)), where, sayOneOf(need.OneOf),
		ledger.Said("operations", op), last.Day().Long())}
}

func sayOneOf(checks []string) string {
	out := ""
	for i, name := range checks {
		if i > 0 && i == len(checks)-1 {
			out += " or "
		} else if i > 0 {
			out += ", "
		}
		out += article(ledger.Said("checks", name))
	}
	return out
}

func article(s string) string {
	if strings.ContainsAny(s[:1], "aeiou") {
		return "an " + s
	}
	return "a " + s
}

// lastWork finds the newest closed work of a line in the promise's layers: one
// of the operations named, or any.
func lastWork(r *ledger.Replay, l Line, after []string) (op string, last *ledger.Act) {
	for _, done := range append(Closed(r), pressed(r)...) {
		if len(after) > 0 && !slices.Contains(after, done.Word) {
			continue
		}
		if len(after) == 0 && slices.Contains(notClosing, done.Word) {
			continue
		}
		for _, s := range done.spots(r) {
			layered := len(s.Layers) == 0 || sharesLayer(s.Layers, l.Promise.Layers)
			if layered && s.Region.Overlaps(l.Region) && (last == nil || last.No.N <= done.Act.No.N) {
				op, last = done.Word, done.Act
			}
		}
	}
	return op, last
}

// pressed are the press operations, which close nothing but move a bond.
func pressed(r *ledger.Replay) []Op {
	var out []Op
	for _, a := range r.Acts {
		if a.Kind != "work" || !own(a) {
			continue
		}
		for _, op := range Ops(a) {
			if op.Word == "press" {
				out = append(out, op)
			}
		}
	}
	return out
}

// checked says whether passed checks after an entry, their places grown by 100
// mm, hold the region together.
func checked(r *ledger.Replay, oneOf []string, after ledger.No, region place.Region) bool {
	var seen place.Region
	for _, a := range r.Acts {
		if !a.Counts || a.No.N < after.N {
			continue
		}
		for _, o := range ledger.Objects(a.Body["results"]) {
			if !slices.Contains(oneOf, text(o, "check")) || o["pass"] != true {
				continue
			}
			at, _ := spots(r, a, ledger.PlacesOf(o["places"]), nil)
			seen = seen.Union(union(at))
		}
	}
	return seen.Grow(checkReach).Holds(region, 0)
}

// missingProbes asks for a probe of each seam in the line after the last weld
// or mend of that seam.
func missingProbes(r *ledger.Replay, l Line, need ledger.NeededCheck) []Outcome {
	var out []Outcome
	done := Closed(r)
	for i, op := range done {
		if !slices.Contains(need.After, op.Word) {
			continue
		}
		at := op.spots(r)
		region := union(at)
		if !region.Overlaps(l.Region) || mendedLater(r, done[i+1:], need.After, region) {
			continue
		}
		if !checked(r, need.OneOf, op.Act.No, region) {
			out = append(out, missing(l, need, op.Word, sayPlaces(op.Places), op.Act))
		}
	}
	return out
}

// mendedLater says whether later work on the same seam holds all of it, so that
// only the later one is asked for.
func mendedLater(r *ledger.Replay, later []Op, words []string, region place.Region) bool {
	for _, op := range later {
		if slices.Contains(words, op.Word) && union(op.spots(r)).Holds(region, tape) {
			return true
		}
	}
	return false
}

// open is one finding as it stands for a certificate.
type open struct {
	act    *ledger.Act
	line   int64
	mm     int64
	near   bool // inside or within the margin of a line
	left   bool // a decision leaves it
	tight  bool // only made tight, by decision
	worked bool // closed work over it in a layer of it, and the line's checks
}

func openFindings(c Case, j Job) []open {
	var out []open
	for _, a := range c.Replay.Acts {
		if a.Kind != "finding" || !a.Counts {
			continue
		}
		out = append(out, judgeFinding(c, j, a))
	}
	return out
}

func judgeFinding(c Case, j Job, a *ledger.Act) open {
	f := open{act: a}
	w, _ := ledger.WordIn("defects", a.Text("defect"))
	at, _ := spots(c.Replay, a, a.Places(), w.Layers)
	region := union(at)
	checksDone := true
	for _, l := range j.Lines {
		mm, ok := region.Distance(l.Region)
		if !ok || mm > c.Limits.Margin {
			continue
		}
		if !f.near || mm < f.mm {
			f.near, f.mm, f.line = true, mm, l.Number
		}
		if answersFor(l, a) && len(missingChecks(c.Replay, l)) > 0 {
			checksDone = false
		}
	}
	f.worked = checksDone && workedOver(c.Replay, a, at)
	for _, b := range c.Replay.Acts {
		if b.Kind != "decision" || !b.Counts || !slices.Contains(b.Refs("answers"), a.No) {
			continue
		}
		f.left = f.left || slices.Contains(settledBy, b.Text("choice"))
		f.tight = f.tight || b.Text("choice") == "only-make-tight"
	}
	return f
}

// answersFor says whether a line promises something about the trouble that a
// defect is.
func answersFor(l Line, finding *ledger.Act) bool {
	return slices.Contains(l.Promise.Answers, ledger.TroubleOf(finding.Text("defect")))
}

// workedOver says whether later closed work lies over all of a finding in a
// layer of it.
func workedOver(r *ledger.Replay, a *ledger.Act, at []Spot) bool {
	for _, s := range at {
		var done place.Region
		for _, op := range Closed(r) {
			if op.Act.No.N < a.No.N {
				continue
			}
			for _, w := range op.spots(r) {
				if sharesLayer(w.Layers, s.Layers) {
					done = done.Union(w.Region)
				}
			}
		}
		if !done.Holds(s.Region, tape) {
			return false
		}
	}
	return len(at) > 0
}

func findingOpen(c Case) []Outcome {
	j, _ := JobOf(c.Replay, c.Act)
	var out []Outcome
	for _, f := range openFindings(c, j) {
		if !f.near || f.left || f.tight || f.worked {
			continue
		}
		number := f.act.Text("tag")
		if number == "" {
			number = f.act.No.String()
		}
		out = append(out, refused("finding-open", saysOpen, number, ledger.Said("defects", f.act.Text("defect")),
			sayPlaces(f.act.Places()), ledger.Decimal(f.mm), ledger.Decimal(f.line)))
	}
	return out
}

func leftCutOut(c Case) []Outcome {
	lines, _ := Lines(c.Replay, c.Act)
	var out []Outcome
	for _, a := range c.Replay.Acts {
		if a.Kind != "decision" || !a.Counts || !slices.Contains(settledBy, a.Text("choice")) {
			continue
		}
		at, _ := spots(c.Replay, a, a.Places(), nil)
		for _, l := range lines {
			if inLayers(l, at) {
				out = append(out, Outcome{Rule: "left-cut-out", Degree: Noted, Sentence: fill(saysCutOut,
					ledger.Decimal(l.Number), sayPlaces(a.Places()), ledger.Said("choice", a.Text("choice")), a.Day().Long())})
			}
		}
	}
	return out
}

// inLayers says whether a place lies inside a line, in a layer of the line.
func inLayers(l Line, at []Spot) bool {
	for _, s := range at {
		for _, t := range l.Spots {
			layers := t.Layers
			if len(layers) == 0 {
				layers = l.Promise.Layers
			}
			if s.Region.Overlaps(t.Region) && sharesLayer(s.Layers, layers) {
				return true
			}
		}
	}
	return false
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
