package rules

import (
	"math"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/trade"
)

// Wait is one cure: the entry that started it, the work it follows, its log so
// far and what of it was released.
type Wait struct {
	Start    *ledger.Act
	Work     *ledger.Act
	Log      []trade.Point
	Released map[string]ledger.No // by stage
	LastDay  day.Day              // of the newest release
	Last     ledger.No            // the entry of the newest release
}

// Waits returns the cures of a coach, in the order of their starts. extra is a
// draft that may start, log or release one more.
func Waits(r *ledger.Replay, extra *ledger.Act) []*Wait {
	acts := r.Acts
	if extra != nil {
		acts = append(slices.Clone(acts), extra)
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
		for _, o := range ledger.Objects(a.Body["releases"]) {
			w.Released[text(o, "stage")] = a.No
			w.Last = a.No
			w.LastDay = a.Day()
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

// Stages returns the stages that were started, with their need in hours.
func (w *Wait) Stages() map[string]float64 {
	out := map[string]float64{}
	for _, o := range ledger.Objects(w.Start.Body["stages"]) {
		out[text(o, "name")] = float64(ledger.Int(o, "need")) / 60
	}
	return out
}

func (w *Wait) sheet() trade.CureSheet {
	values := object(w.Start.Body["values"])
	return trade.CureSheet{
		Ref: trade.DeciCelsius(ledger.Int(values, "ref-temp")), Least: trade.DeciCelsius(ledger.Int(values, "least-temp")),
		Cap: trade.DeciCelsius(ledger.Int(values, "cap-temp")), Doubling: trade.DeciKelvin(ledger.Int(values, "doubling")),
		Straight: trade.StraightGap, Low: trade.LowGap,
	}
}

// Dose reckons the cure of a stage from the log.
func (w *Wait) Dose(stage string) (trade.Result, error) {
	if stage == "water" {
		return trade.BeadDose(w.Log, w.sheet())
	}
	return trade.Dose(w.Log, w.sheet())
}

// fillCure fills stages and sheet values of a start from its lots, and dose and
// earliest of a release from the log.
func fillCure(c Case) error {
	if _, starts := c.Act.Body["start"]; starts {
		fillStart(c)
	}
	releases := ledger.Objects(c.Act.Body["releases"])
	if len(releases) == 0 && c.Act.Body["log"] == nil {
		return nil
	}
	waits := Waits(c.Replay, c.Act)
	w := waitOf(waits, c.Replay, c.Act)
	if _, starts := c.Act.Body["start"]; starts {
		w = waits[len(waits)-1]
	}
	if w == nil {
		return typedf("no start of a cure answers to it: name the entry with the start, or the work")
	}
	for _, o := range releases {
		if err := fillRelease(c, w, o); err != nil {
			return err
		}
	}
	return noteGaps(c, w)
}

// fillStart takes what the maker's sheet says of the lots.
func fillStart(c Case) {
	values := object(c.Act.Body["values"])
	if values == nil {
		values = format.Object{}
	}
	for _, id := range ledger.Texts(c.Act.Body["lots"]) {
		lot := c.Replay.Lots[id].Shape
		for _, name := range []string{"ref-temp", "least-temp", "cap-temp", "doubling", "through-cure"} {
			if v, ok := object(lot["values"])[name]; ok && values[name] == nil {
				values[name] = v
			}
		}
		if stages, ok := lot["stages"]; ok && c.Act.Body["stages"] == nil {
			c.Act.Body["stages"] = format.Clone(stages)
		}
	}
	if bead := workBead(c); bead > 0 && values["bead"] == nil && values["through-cure"] != nil {
		values["bead"] = bead
	}
	if len(values) > 0 {
		c.Act.Body["values"] = values
	}
	if c.Act.Body["stages"] != nil {
		return
	}
	bead, k := ledger.Int(values, "bead"), ledger.Int(values, "through-cure")
	if need, err := trade.BeadNeed(trade.Micrometre(bead), trade.MicrometrePerRootDay(k), nil); err == nil {
		c.Act.Body["stages"] = format.Array{format.Object{"name": "water", "need": int64(math.Ceil(need * 60))}}
	}
}

// workBead is the deepest bead of the work that the cure follows.
func workBead(c Case) int64 {
	deepest := int64(0)
	for _, no := range c.Act.Refs("answers") {
		if w := c.Replay.Act(no); w != nil {
			for _, o := range ledger.Objects(w.Body["ops"]) {
				deepest = max(deepest, ledger.Int(object(o["values"]), "bead"))
			}
		}
	}
	return deepest
}

const (
	keyCureEarly  = "cure-early"
	saysCureEarly = "{stage} at {place}: {dose} of {need} h at {tr} °C. Earliest {time} if it stays at {t} °C. " +
		"Already disturbed? Write disturbed-early."
	saysCureCold = "{stage} at {place}: {dose} of {need} h at {tr} °C. It does not cure at {t} °C. " +
		"Already disturbed? Write disturbed-early."
	keyLogGap   = "log-gap"
	saysLogGap  = "12 h 24 h"
	saysGapLow  = "{h} h without a temperature: counted at {t} °C."
	saysGapLost = "{h} h without a temperature: not counted."
)

// Early is a release asked for before the dose was reached.
type Early struct{ Outcome Outcome }

// Error is the sentence of the rule.
func (e *Early) Error() string { return e.Outcome.Sentence }

// fillRelease reckons one release. One that comes before its dose is refused,
// unless the note says that it was disturbed early.
func fillRelease(c Case, w *Wait, o format.Object) error {
	stage := text(o, "stage")
	need, ok := w.Stages()[stage]
	if !ok {
		return typedf("%s was not started there", stage)
	}
	dose, err := w.Dose(stage)
	if err != nil {
		return err
	}
	if said, typed := o["dose"].(int64); typed && said != dose.Hundredths() {
		return typedf("the dose of %s is %s h by the log, not %s", stage, hundredths(dose.Hundredths()), hundredths(said))
	}
	at, reached := dose.Reached(need)
	if !reached && c.Act.Body["disturbed"] != true {
		return &Early{early(c, w, stage, need, dose)}
	}
	o["dose"] = dose.Hundredths()
	if !reached {
		return nil
	}
	earliest := day.MomentAt(at, offsetOf(c.Zone)).String()
	if said, typed := o["earliest"].(string); typed && utcOf(said) != at {
		return typedf("%s was reached %s by the log, not %s", stage, earliest, said)
	}
	if _, typed := o["earliest"]; !typed {
		o["earliest"] = earliest
	}
	return nil
}

func early(c Case, w *Wait, stage string, need float64, dose trade.Result) Outcome {
	last := w.Log[len(w.Log)-1]
	place := "the place of entry " + w.Start.No.String()
	if w.Work != nil {
		place = placesOf(w.Work)
	}
	values := []string{
		ledger.Said("stages", stage), place, hundredths(dose.Hundredths()),
		hundredths(int64(math.Round(need * 100))), trade1(int64(w.sheet().Ref)),
	}
	says := saysCureCold
	if at, ok := dose.Forecast(need); ok {
		says = saysCureEarly
		m := day.MomentAt(at, offsetOf(c.Zone))
		values = append(values, m.Day().Long()+" "+m.Clock())
	}
	values = append(values, trade1(int64(last.Temp)))
	return Outcome{Rule: keyCureEarly, Degree: Refused, Sentence: fill(says, values...)}
}

// noteGaps writes the shop's limit into the entry where a gap of the log was
// too long to run straight through.
func noteGaps(c Case, w *Wait) error {
	if len(GapsOf(w, c.Act)) > 0 {
		useLimit(c.Act, format.Object{"rule": keyLogGap, "says": saysLogGap})
	}
	return nil
}

// GapsOf returns the gaps of a log that end with a point of the given act.
func GapsOf(w *Wait, a *ledger.Act) []trade.Gap {
	ends := map[int64]bool{}
	for _, o := range ledger.Objects(a.Body["log"]) {
		ends[utcOf(text(o, "at"))] = true
	}
	dose, err := trade.Dose(w.Log, w.sheet())
	if err != nil {
		return nil
	}
	var out []trade.Gap
	for _, g := range dose.Gaps {
		if ends[g.To] {
			out = append(out, g)
		}
	}
	return out
}

// logGap notes what a long gap was counted as.
func logGap(c Case) []Outcome {
	if c.Replay == nil {
		return nil
	}
	w := waitOf(Waits(c.Replay, c.Act), c.Replay, c.Act)
	if w == nil {
		return nil
	}
	var out []Outcome
	for _, g := range GapsOf(w, c.Act) {
		h := trimZeros(int64(math.Round(float64(g.To-g.From)/6)), 1)
		says := fill(saysGapLost, h)
		if g.Counted {
			says = fill(saysGapLow, h, trade1(int64(g.Temp)))
		}
		out = append(out, Outcome{Rule: keyLogGap, Degree: Noted, Sentence: says})
	}
	return out
}

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
