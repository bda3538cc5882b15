package trade

import (
	"errors"
	"math"
)

// ErrOrder says that the points of a log do not follow one another in time.
var ErrOrder = errors.New("log points out of order")

// Point is one reading of a cure log.
type Point struct {
	At     int64        // minutes of UTC since 1970
	Temp   DeciCelsius  // the air then
	Lowest *DeciCelsius // the lowest since the point before, where that was read
}

// Gap is a stretch of a log without a temperature that was too long to run
// straight through.
type Gap struct {
	From, To int64       // minutes of UTC since 1970
	Counted  bool        // at its lower end; else it counted nothing
	Temp     DeciCelsius // that lower end
}

// Result is the dose of a log: the hours at the reference temperature that it
// is worth, from its first point to its last. Nothing is credited after that.
type Result struct {
	Gaps []Gap // those too long to run straight through, in order of time

	sheet  CureSheet
	points int
	last   Point
	steps  []step
	dosed  float64 // minutes at the reference temperature
}

// step is one stretch of the log: the temperature runs straight from one value
// to the other, in tenths of a degree.
type step struct {
	at       int64
	minutes  int64
	from, to float64
	before   float64 // dose before it, minutes
}

// Dose works out the cure dose of a log: the sum of the doubling rule over
// time. Between two points the temperature runs straight, if the gap is no
// longer than sheet.Straight; up to sheet.Low the gap counts at its lower end;
// beyond that it counts nothing. Where the lowest since the point before was
// read, the whole gap counts at that, however long. No log has no dose.
//
// It answers ErrRange for a temperature outside -40…80 °C or a sheet nothing
// can be worked out with, and ErrOrder unless every point is later than the
// one before.
func Dose(log []Point, sheet CureSheet) (Result, error) {
	if err := sheet.check(); err != nil {
		return Result{}, err
	}
	r := Result{sheet: sheet, points: len(log)}
	for i, p := range log {
		if err := p.check(); err != nil {
			return Result{}, err
		}
		if i > 0 {
			if p.At <= r.last.At {
				return Result{}, ErrOrder
			}
			r.add(r.last, p)
		}
		r.last = p
	}
	return r, nil
}

func (p Point) check() error {
	const farthest = 1 << 40 // minutes, so that no difference of two overflows
	if p.At < -farthest || p.At > farthest {
		return outside("minute", p.At)
	}
	if p.Temp < coldest || p.Temp > hottest {
		return outside("logged temperature", p.Temp)
	}
	if p.Lowest != nil && (*p.Lowest < coldest || *p.Lowest > hottest) {
		return outside("lowest temperature", *p.Lowest)
	}
	return nil
}

// add counts the gap between two neighbouring points.
func (r *Result) add(a, b Point) {
	from, to := a.Temp, b.Temp
	minutes := b.At - a.At
	switch {
	case b.Lowest != nil:
		from, to = *b.Lowest, *b.Lowest
	case minutes > r.sheet.Low:
		r.Gaps = append(r.Gaps, Gap{From: a.At, To: b.At, Temp: min(from, to)})
		return
	case minutes > r.sheet.Straight:
		from, to = min(from, to), min(from, to)
		r.Gaps = append(r.Gaps, Gap{From: a.At, To: b.At, Temp: from, Counted: true})
	}
	s := step{at: a.At, minutes: minutes, from: float64(from), to: float64(to), before: r.dosed}
	r.steps = append(r.steps, s)
	r.dosed = r.after(s, minutes)
}

// after returns the dose so many minutes into a step.
func (r *Result) after(s step, minutes int64) float64 {
	here := s.from + (s.to-s.from)*float64(minutes)/float64(s.minutes)
	return s.before + r.sheet.ramp(s.from, here, float64(minutes))
}

// Hours returns the dose at the last log point, not rounded.
func (r Result) Hours() float64 { return r.dosed / 60 }

// Hundredths returns the dose at the last log point in hundredths of an hour,
// rounded half up: what is printed and kept.
func (r Result) Hundredths() int64 { return int64(math.Floor(r.dosed/60*100 + 0.5)) }

// Reached returns the first whole minute, of UTC since 1970, at which the dose
// of the log was at least need hours. It is decided on the dose that was not
// rounded; ok is false while the log falls short.
func (r Result) Reached(need float64) (at int64, ok bool) {
	if r.points == 0 || math.IsNaN(need) || r.dosed < need*60 {
		return 0, false
	}
	for _, s := range r.steps {
		if r.after(s, s.minutes) >= need*60 {
			return s.at + first(s.minutes, func(m int64) bool { return r.after(s, m) >= need*60 }), true
		}
	}
	return r.last.At, true // nothing was needed, and one point is no step
}

// Forecast returns the first whole minute at which the dose will be need hours
// if the air stays at the last temperature of the log; a dose the log reached
// already is answered as Reached answers it. ok is false without a log, and
// where the last temperature is too low for anything to cure.
func (r Result) Forecast(need float64) (at int64, ok bool) {
	if at, ok = r.Reached(need); ok {
		return at, true
	}
	rate := r.sheet.rate(float64(r.last.Temp))
	if r.points == 0 || !(rate > 0) || !(need*60 <= mostMinutes) {
		return 0, false
	}
	wait := int64(math.Ceil((need*60-r.dosed)/rate)) + 1
	enough := func(m int64) bool { return r.dosed+float64(m)*rate >= need*60 }
	return r.last.At + first(wait, enough), true
}

// mostMinutes is the longest need that is forecast: a hundred years.
const mostMinutes = 100 * 366 * 24 * 60

// first returns the smallest m from 0 to most at which enough holds, given
// that it goes on holding and holds at most.
func first(most int64, enough func(m int64) bool) int64 {
	low, high := int64(0), most
	for low < high {
		if m := low + (high-low)/2; enough(m) {
			high = m
		} else {
			low = m + 1
		}
	}
	return low
}
