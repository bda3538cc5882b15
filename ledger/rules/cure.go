package rules

import (
	"math"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/trade"
)

// Wait is one cure: the entry that started it, the work it follows, its log so
// far and what of it was released.
type Wait struct {
	Start    *ledger.Act
	Work     *ledger.Act
	Log      []trade.Point
	Humidity []trade.DeciPercent  // of the points that say it
	Released map[string]ledger.No // by stage
	LastDay  day.Day              // of the newest release
	Last     ledger.No            // the entry of the newest release

	Disturbed *ledger.Act // the newest release that was disturbed early, nil if none was
}

// Waits returns the cures of a coach, in the order of their starts. extra is a
// draft that may start, log or release one more; one that is asked about again
// stands for its entry.
func Waits(r *ledger.Replay, extra *ledger.Act) []*Wait {
	acts := r.Acts
	if extra != nil {
		inked := func(a *ledger.Act) bool { return a.No == extra.No }
		acts = append(slices.DeleteFunc(slices.Clone(acts), inked), extra)
	}
	var out []*Wait
	for _, a := range acts {
		if a.Kind != "cure" || !a.Counts && a.Entry != nil {
			continue
		}
		w := waitOf(out, r, a)
		if _, starts := a.Body["start"]; starts {
			w = &Wait{Start: a, Released: map[string]ledger.No{}}
			for _, no := range a.Refs("answers") {
				w.Work = r.Act(no)
			}
			out = append(out, w)
		}
		if w == nil {
			continue
		}
		w.log(a)
		if a.Body["disturbed"] == true {
			w.Disturbed = a
		}
		for _, o := range ledger.Objects(a.Body["releases"]) {
			w.Released[text(o, "stage")] = a.No
			if w.LastDay.IsZero() || !a.Day().Before(w.LastDay) {
				w.Last, w.LastDay = a.No, a.Day()
			}
		}
	}
	return out
}

// waitOf finds the cure that a log or release goes on with: the entry with the
// start, or the work itself if one start answers it.
func waitOf(waits []*Wait, r *ledger.Replay, a *ledger.Act) *Wait {
	var found *Wait
	for _, no := range a.Refs("answers") {
		for _, w := range waits {
			if w.Start.No == no || w.Work != nil && w.Work.No == no {
				found = w
			}
		}
	}
	return found
}

func (w *Wait) log(a *ledger.Act) {
	for _, o := range ledger.Objects(a.Body["log"]) {
		m, err := day.ParseMoment(text(o, "at"))
		values := object(o["values"])
		if h, ok := values["humidity"].(int64); ok {
			w.Humidity = append(w.Humidity, trade.DeciPercent(h))
		}
		temp, ok := values["air-temp"].(int64)
		if err != nil || !ok {
			continue
		}
		p := trade.Point{At: m.UTC(), Temp: trade.DeciCelsius(temp)}
		if low, ok := values["lowest-temp"].(int64); ok {
			t := trade.DeciCelsius(low)
			p.Lowest = &t
		}
		w.Log = append(w.Log, p)
	}
	slices.SortStableFunc(w.Log, func(a, b trade.Point) int { return int(a.At - b.At) })
}

// started returns the need of a stage as it was started, in hours.
func (w *Wait) started(stage string) (hours float64, ok bool) {
	for _, o := range ledger.Objects(w.Start.Body["stages"]) {
		if text(o, "name") == stage {
			return float64(ledger.Int(o, "need")) / 60, true
		}
	}
	return 0, false
}

// need is what a stage needs in the air that was logged: a bead needs more in
// dry air.
func (w *Wait) need(stage string) (hours float64, ok bool, err error) {
	hours, ok = w.started(stage)
	if stage == "water" {
		hours, err = trade.InDryAir(hours, w.Humidity)
	}
	return hours, ok, err
}

// sheet is the maker's sheet of a cure. A bead whose lot says nothing else
// cures as trade.BeadSheet does.
func (w *Wait) sheet(l Limits) trade.CureSheet {
	gap := l.numbers(keyLogGap)
	values := object(w.Start.Body["values"])
	s := trade.CureSheet{
		Ref: trade.DeciCelsius(ledger.Int(values, "ref-temp")), Least: trade.DeciCelsius(ledger.Int(values, "least-temp")),
		Cap: trade.DeciCelsius(ledger.Int(values, "cap-temp")), Doubling: trade.DeciKelvin(ledger.Int(values, "doubling")),
	}
	if _, said := values["ref-temp"]; !said && values["through-cure"] != nil {
		s = trade.BeadSheet()
	}
	s.Straight, s.Low = gap[0], gap[1]
	return s
}

// dose reckons the cure of a stage from the log, its gaps by the shop's limit.
func (w *Wait) dose(stage string, l Limits) (trade.Result, error) {
	if stage == "water" {
		return trade.BeadDose(w.Log, w.sheet(l))
	}
	return trade.Dose(w.Log, w.sheet(l))
}

const (
	keyCureEarly  = "cure-early"
	saysCureEarly = "{stage} at {place}: {dose} of {need} h at {tr} °C. Earliest {time} if it stays at {t} °C. " +
		"Already disturbed? Write disturbed-early."
	saysCureCold = "{stage} at {place}: {dose} of {need} h at {tr} °C. It does not cure at {t} °C. " +
		"Already disturbed? Write disturbed-early."
	saysDry      = "The air was dry, {mean} % on average: {need} h instead of {need}."
	keyLogGap    = "log-gap"
	saysGapLow   = "{h} h without a temperature: counted at {t} °C."
	saysLogAhead = "The log has a reading of {time}, but the note is of {happened}: nobody had read it yet. Mend the time or the day."
	saysGapLost  = "{h} h without a temperature: not counted."
)

// logAhead refuses readings of a log that are later than the note itself. A note
// without a time stands for the whole of its day.
func logAhead(a *ledger.Act) []Outcome {
	if a.Kind != "cure" {
		return nil
	}
	var out []Outcome
	for _, o := range ledger.Objects(a.Body["log"]) {
		at, err := day.ParseMoment(text(o, "at"))
		if err != nil {
			continue
		}
		ahead, happened := a.Day().Before(at.Day()), a.Day().Long()
		if m, err := day.ParseMoment(a.Text("happened")); err == nil {
			ahead, happened = m.UTC() < at.UTC(), sayMoment(m)
		}
		if ahead {
			out = append(out, refused(keyLogAhead, saysLogAhead, sayMoment(at), happened))
		}
	}
	return out
}

func sayMoment(m day.Moment) string { return m.Day().Long() + " " + m.Clock() }

func hundredths(n int64) string { return ledger.Decimal(n/100) + "." + twoDigits(n%100) }

func twoDigits(n int64) string {
	if n < 10 {
		return "0" + ledger.Decimal(n)
	}
	return ledger.Decimal(n)
}

func trade1(tenths int64) string {
	return strings.TrimSuffix(trade.DeciCelsius(tenths).String(), " °C")
}

func utcOf(moment string) int64 {
	m, err := day.ParseMoment(moment)
	if err != nil {
		return math.MinInt64
	}
	return m.UTC()
}

// offsetOf reads the offset of a heading, +02:00, in minutes.
func offsetOf(zone string) int {
	m, err := day.ParseMoment("2000-01-02T00:00" + zone)
	if err != nil {
		return 0
	}
	return m.Offset()
}

func placesOf(a *ledger.Act) string {
	var all []string
	for _, op := range Ops(a) {
		for _, p := range op.Places {
			if s := ledger.SayPlace(p); !contains(all, s) {
				all = append(all, s)
			}
		}
	}
	return join(all)
}
