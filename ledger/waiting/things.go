package waiting

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/may"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
)

func say(m day.Moment) string { return m.Day().Long() + " " + m.Clock() }

func (s Look) moment(utc int64) day.Moment { return day.MomentAt(utc, s.Now.Offset()) }

// question is what may asks of a coach, at a place or anywhere.
func (s Look) question(c Coach, what string) may.Question {
	return may.Question{
		What: what, Now: s.Now, Case: rules.Case{Replay: c.Replay, Zone: s.Now.String()[16:], Limits: s.Limits, Now: s.Stamp},
	}
}

// cures are the open stages: how far, from when, and the next temperature.
func (s Look) cures(c Coach) []Line {
	var out []Line
	for _, w := range rules.Waits(c.Replay, nil) {
		for _, stage := range w.Open() {
			l := Line{Group: Curing, Coach: c.Plate, Entry: w.Start.No, What: ledger.Said("stages", stage) + ", " + placesOf(w), Do: "may"}
			p, err := w.Progress(stage, s.Limits)
			switch {
			case err != nil:
				l.Needs = "It cannot be reckoned: " + err.Error() + "."
			case !p.Logged:
				l.Needs = "No temperature was logged. Write one."
			default:
				s.progress(&l, p)
			}
			out = append(out, l)
		}
	}
	return out
}

func (s Look) progress(l *Line, p rules.Progress) {
	l.What += ": " + hundredths(p.Dose) + " of " + hundredths(int64(p.Need*100+0.5)) + " h at " + p.Ref.String()
	if p.Known {
		l.When = s.moment(p.At).String()
	}
	switch {
	case p.Reached:
		l.Late, l.Needs = true, "Reached "+say(s.moment(p.At))+". Look, and write the release."
		return
	case p.Known:
		l.Needs = "Earliest " + say(s.moment(p.At)) + " if it stays at " + p.Last.Temp.String() + "."
	default:
		l.Needs = "It does not cure at " + p.Last.Temp.String() + ". Warm it."
	}
	straight := s.Limits.StraightGap()
	if next := p.Last.At + straight; next > s.Now.UTC() {
		l.Needs += " Next temperature by " + say(s.moment(next)) + "; after that the gap counts at its lower end."
	} else {
		l.Needs += " The last temperature is of " + say(s.moment(p.Last.At)) + ": write one."
	}
}

func hundredths(n int64) string {
	part := ledger.Decimal(n % 100)
	if len(part) == 1 {
		part = "0" + part
	}
	return ledger.Decimal(n/100) + "." + part
}

func placesOf(w *rules.Wait) string {
	if w.Work == nil {
		return "entry " + w.Start.No.String()
	}
	return sayPlaces(ledger.PlacesIn(w.Work.Kind, w.Work.Body))
}

// mostPlaces are named in a line.
const mostPlaces = 3

func sayPlaces(places []place.Place) string {
	var out []string
	for _, p := range places {
		p.Layers = nil
		if s := ledger.SayPlace(p); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	if more := len(out) - mostPlaces; more > 0 {
		out = append(out[:mostPlaces], "and "+ledger.Decimal(int64(more))+" more")
	}
	return strings.Join(out, "; ")
}

// everWet says whether a coach was found or read wet at all: most were not, and
// are not asked further.
func (s Look) everWet(r *ledger.Replay) bool {
	return slices.ContainsFunc(r.Acts, func(a *ledger.Act) bool {
		if a.Kind == "finding" {
			return slices.Contains([]string{"wet-timber", "wet-core", "rot"}, a.Text("defect"))
		}
		return slices.ContainsFunc(ledger.Objects(a.Body["results"]), func(o format.Object) bool {
			check, _ := o["check"].(string)
			tenths, ok := rules.Moisture(o)
			return ok && s.Limits.TooWet(check, tenths)
		})
	})
}

// wet are the places that could not be closed now: the rules of closing say the
// first and how many more there are.
func (s Look) wet(c Coach) []Line {
	if !s.everWet(c.Replay) {
		return nil
	}
	var out []Line
	more := int64(0)
	for _, o := range may.Ask(s.question(c, may.Close)).Why {
		if o.Rule != "closing-unread" && o.Rule != "closing-too-wet" {
			continue
		}
		if len(out) == 0 {
			out = append(out, Line{Group: Closing, Coach: c.Plate, What: o.Sentence, Needs: "Read it again, or leave it open.", Do: "may"})
			continue
		}
		more++
	}
	switch more {
	case 0:
	case 1:
		out[0].Needs += " One more place: may close."
	default:
		out[0].Needs += " " + ledger.Decimal(more) + " more places: may close."
	}
	return out
}

// findings are those that nobody decided about and no work lies over.
func (s Look) findings(c Coach) []Line {
	var out []Line
	for _, f := range c.Replay.Acts {
		if f.Kind != "finding" || !f.Counts || answered(c.Replay, f, "decision", nil) || answered(c.Replay, f, "work", looking) {
			continue
		}
		name := f.Text("tag")
		if name == "" {
			name = f.No.String()
		}
		l := Line{
			Group: Ringing, Coach: c.Plate, Entry: f.No, When: f.Day().String(),
			What:  "Finding " + name + ", " + ledger.Said("defects", f.Text("defect")) + " at " + sayPlaces(f.Places()),
			Needs: "No decision yet. Ring the holder.",
		}
		if soon := f.Text("soon"); soon != "" && soon != "no-need" {
			l.Needs = "No decision yet, repair " + ledger.Said("soon", soon) + ". Ring the holder."
		}
		out = append(out, l)
	}
	return out
}

// asksForWork are the decisions after which the shop does something.
var asksForWork = []string{"repair-now", "repair-by", "only-make-tight", "look-further", "agree-extra"}

// decisions are those that no work followed, and those nobody could be reached
// for.
func (s Look) decisions(c Coach) []Line {
	var out []Line
	for _, d := range c.Replay.Acts {
		if d.Kind != "decision" || !d.Counts {
			continue
		}
		choice := d.Text("choice")
		first, last := given(d)
		l := Line{Coach: c.Plate, Entry: d.No, When: first.String(), What: capital(ledger.Said("choice", choice)) + " " + sayPlaces(d.Places())}
		switch {
		case choice == "no-answer":
			if answered(c.Replay, d, "decision", nil) {
				continue
			}
			l.Group = Ringing
			l.Needs = "Called " + times(len(ledger.Objects(d.Body["given"]))) + ", last on " + last.Long() + ". Ring again."
		case !slices.Contains(asksForWork, choice) || choice == "agree-extra" && lessCover(c.Replay, d) || answered(c.Replay, d, "work", noAnswerTo(choice)):
			continue
		default:
			l.Group, l.Needs = Working, "Agreed on "+first.Long()+", no work yet."
			if until := d.Text("until"); until != "" {
				l.When = until
				u, err := day.Parse(until)
				l.Late = err == nil && u.Before(s.Now.Day())
				l.Needs = "To be done by " + u.Long() + ", no work yet."
			}
		}
		out = append(out, l)
	}
	return out
}

// given are the first and the last day on which a decision was told.
func given(d *ledger.Act) (first, last day.Day) {
	first, last = d.Day(), d.Day()
	for i, o := range ledger.Objects(d.Body["given"]) {
		when, _ := o["when"].(string)
		on, err := day.Parse(when[:min(len(when), 10)])
		if err != nil {
			continue
		}
		if i == 0 {
			first, last = on, on
		}
		if on.Before(first) {
			first = on
		}
		if last.Before(on) {
			last = on
		}
	}
	return first, last
}

// looking are the operations that repair nothing.
var looking = []string{"tarp", "dry-out", "open-up", "take-off-fitting"}

// noAnswerTo are the operations that do not do what was decided.
func noAnswerTo(choice string) []string {
	switch choice {
	case "only-make-tight":
		return nil
	case "look-further":
		return looking[:2]
	}
	return looking
}

func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return ledger.Decimal(int64(n)) + " times"
}

// lessCover says whether a yes of the holder is one to less in the warranty: it
// answers a certificate, and asks for no work.
func lessCover(r *ledger.Replay, d *ledger.Act) bool {
	return slices.ContainsFunc(d.Refs("answers"), func(no ledger.No) bool {
		a := r.Act(no)
		return a != nil && a.Kind == "certificate"
	})
}

// answered says whether a later act of a kind answers an act, or lies over its
// place. Work of some operations alone is none.
func answered(r *ledger.Replay, of *ledger.Act, kind string, but []string) bool {
	var at place.Region
	worked := false
	for _, a := range r.Acts {
		if a == of || a.Kind != kind || !a.Counts || a.Before(of) {
			continue
		}
		if kind == "work" && !slices.ContainsFunc(rules.Ops(a), func(op rules.Op) bool { return !slices.Contains(but, op.Word) }) {
			continue
		}
		if slices.Contains(a.Refs("answers"), of.No) {
			return true
		}
		if !worked {
			at, worked = regionOf(r, of), true
		}
		if own := regionOf(r, a); own.Overlaps(at) {
			return true
		}
	}
	return false
}

func regionOf(r *ledger.Replay, a *ledger.Act) place.Region {
	at, err := r.Region(a, ledger.PlacesIn(a.Kind, a.Body))
	if err != nil {
		return place.Region{}
	}
	return at
}

// certificates asks for a coach whose closed work no certificate followed.
func (s Look) certificates(c Coach) []Line {
	if s.Certify == nil || len(rules.Closed(c.Replay)) == 0 {
		return nil
	}
	lines, may := s.Certify(c.Plate)
	if lines == 0 || !may {
		return nil
	}
	says := ledger.Decimal(int64(lines)) + " lines can be signed"
	if lines == 1 {
		says = "1 line can be signed"
	}
	return []Line{{Group: Signing, Coach: c.Plate, What: says, Needs: "Look at them, then certify.", Do: "certify"}}
}

// quiet is how long a clear note may wait in pencil, in days (common practice,
// no source).
const quiet = 2

// pencil are the notes that wait for an answer, each; and how many are ready,
// once the oldest is more than two days old.
func (s Look) pencil(c Coach) []Line {
	var out []Line
	ready, oldest := int64(0), ""
	for _, n := range c.Notes {
		if n.State == "clear" {
			ready++
			if oldest == "" || n.Day < oldest {
				oldest = n.Day
			}
			continue
		}
		what := "Note " + ledger.Decimal(n.ID)
		if n.Kind != "" {
			what += ", " + n.Kind
		}
		out = append(out, Line{
			Group: Pencil, Coach: c.Plate, Note: n.ID, When: n.Day, Late: n.State == "stopped" || n.State == "refused",
			What: what + " of " + dayLong(n.Day) + ", " + n.State, Needs: n.Why, Do: "pencil",
		})
	}
	if first, err := day.Parse(oldest); ready > 0 && err == nil {
		what := ledger.Decimal(ready) + " notes are ready, the oldest of " + first.Long()
		if ready == 1 {
			what = "1 note is ready, of " + first.Long()
		}
		out = append(out, Line{
			Group: Pencil, Coach: c.Plate, When: oldest, Late: day.Between(first, s.Now.Day()) > quiet, What: what, Needs: "Ink.", Do: "ink",
		})
	}
	return out
}

func dayLong(text string) string {
	d, err := day.Parse(text)
	if err != nil {
		return text
	}
	return d.Long()
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
