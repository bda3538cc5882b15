package rules

import (
	"errors"
	"fmt"

	"lapmark/ledger"
	"lapmark/ledger/trade"
)

// Progress is how far a stage of a cure has come by its log.
type Progress struct {
	Stage   string
	Dose    int64   // hundredths of an hour, at the last log point
	Need    float64 // hours
	Ref     trade.DeciCelsius
	Reached bool
	At      int64       // minute of UTC it was reached, or will be if the air stays as it is
	Known   bool        // that there is such a minute
	Last    trade.Point // the last log point
	Logged  bool        // that there is one
}

// Open returns the stages that were started and not released, in their order.
func (w *Wait) Open() []string {
	var out []string
	for _, o := range ledger.Objects(w.Start.Body["stages"]) {
		stage := text(o, "name")
		if _, released := w.Released[stage]; !released {
			out = append(out, stage)
		}
	}
	return out
}

// Progress reckons a stage from the log so far. The error says why that cannot
// be done.
func (w *Wait) Progress(stage string, l Limits) (Progress, error) {
	need, started, err := w.need(stage)
	if err == nil && !started {
		return Progress{}, fmt.Errorf("%s was not started there", stage)
	}
	dose, err2 := w.dose(stage, l)
	if err := errors.Join(err, err2); err != nil {
		return Progress{}, err
	}
	p := Progress{Stage: stage, Dose: dose.Hundredths(), Need: need, Ref: w.sheet(l).Ref}
	if n := len(w.Log); n > 0 {
		p.Last, p.Logged = w.Log[n-1], true
	}
	if p.At, p.Reached = dose.Reached(need); p.Reached {
		p.Known = true
		return p, nil
	}
	p.At, p.Known = dose.Forecast(need)
	return p, nil
}

// StraightGap is how long a temperature may be missing, in minutes, for the log
// to run straight through.
func (l Limits) StraightGap() int64 { return l.numbers(keyLogGap)[0] }

// TooWet says whether a pins or core sample reads over what may be closed.
func (l Limits) TooWet(check string, tenths int64) bool { return tenths > l.wettest(check) }
