package rules

import (
	"errors"
	"fmt"
	"math"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/trade"
)

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
		return typedf("no cure was started there, or more than one. Answer the entry with the start")
	}
	for _, o := range releases {
		if err := fillRelease(c, w, o); err != nil {
			return err
		}
	}
	return nil
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
	if values["through-cure"] == nil && c.Act.Body["stages"] == nil && beadsOnly(c) {
		values["through-cure"] = c.Limits.numbers("k")[0]
		useLimit(c.Act, c.Limits.used("k"))
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
	if need, err := trade.BeadNeed(trade.Micrometre(bead), trade.MicrometrePerRootDay(k)); err == nil {
		c.Act.Body["stages"] = format.Array{format.Object{"name": "water", "need": int64(math.Ceil(need * 60))}}
	}
}

// beadsOnly says whether a start is that of a bead of sealant of a known depth,
// and of nothing else.
func beadsOnly(c Case) bool {
	lots := ledger.Texts(c.Act.Body["lots"])
	for _, id := range lots {
		kind := text(c.Replay.Lots[id].Shape, "material")
		if kind != "lap-sealant" && kind != "sealant-non-sag" && kind != "silicone" {
			return false
		}
	}
	_, typed := object(c.Act.Body["values"])["bead"]
	return len(lots) > 0 && (typed || workBead(c) > 0)
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

// Early is a release asked for before the dose was reached.
type Early struct{ Outcome Outcome }

// Error is the sentence of the rule.
func (e *Early) Error() string { return e.Outcome.Sentence }

// fillRelease reckons one release. One that comes before its dose is refused,
// unless the note says that it was disturbed early or a test of hardness passed
// there: it then has no time at which the dose was reached.
func fillRelease(c Case, w *Wait, o format.Object) error {
	stage := text(o, "stage")
	need, ok, err := w.need(stage)
	if err == nil && !ok {
		return typedf("the stage %s was not started there. Name one that was, or start it", stage)
	}
	dose, err2 := w.dose(stage, c.Limits)
	err = errors.Join(err, err2)
	free := c.Act.Body["disturbed"] == true || w.hard(c)
	if errors.Is(err, trade.ErrRange) && free {
		return undosed(stage, o)
	}
	if err != nil {
		return fmt.Errorf("the cure of %s cannot be reckoned from this log: %w. Ask the maker", stage, err)
	}
	if said, typed := o["dose"].(int64); typed && said != dose.Hundredths() {
		return typedf("the dose of %s is %s h by the log, not %s. Leave it out, the tool fills it", stage, hundredths(dose.Hundredths()), hundredths(said))
	}
	at, reached := dose.Reached(need)
	if !reached && !free && len(w.Log) == 0 {
		return typedf("%s cannot be reckoned: no temperature was logged since the start. Write one, such as log 20:30 17, then release", stage)
	}
	if !reached && !free {
		return &Early{early(c, w, stage, need, dose)}
	}
	o["dose"] = dose.Hundredths()
	if !reached {
		return nil
	}
	earliest := day.MomentAt(at, offsetOf(c.Zone)).String()
	if said, typed := o["earliest"].(string); typed && utcOf(said) != at {
		return typedf("%s was reached %s by the log, not %s. Leave it out, the tool fills it", stage, earliest, said)
	}
	if _, typed := o["earliest"]; !typed {
		o["earliest"] = earliest
	}
	return nil
}

// undosed lets a stage go that was disturbed in air too cold or too warm to
// reckon with: no dose is written, and none was reached.
func undosed(stage string, o format.Object) error {
	if o["dose"] != nil || o["earliest"] != nil {
		return typedf("the dose of %s cannot be reckoned from this log. Leave dose and earliest out", stage)
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
		capital(ledger.Said("stages", stage)), place, hundredths(dose.Hundredths()),
		hours(need), trade1(int64(w.sheet(c.Limits).Ref)),
	}
	says := saysCureCold
	if at, ok := dose.Forecast(need); ok {
		says = saysCureEarly
		m := day.MomentAt(at, offsetOf(c.Zone))
		values = append(values, sayMoment(m))
	}
	values = append(values, trade1(int64(last.Temp)))
	says = fill(says, values...)
	if started, _ := w.started(stage); need > started {
		says += " " + fill(saysDry, trade1(w.meanHumidity()), hours(need), hours(started))
	}
	return Outcome{Rule: keyCureEarly, Degree: Refused, Sentence: says}
}

// hours are printed as they are kept, to hundredths.
func hours(h float64) string { return hundredths(int64(math.Round(h * 100))) }

// meanHumidity is printed to a tenth; the need goes by the mean as it is.
func (w *Wait) meanHumidity() int64 {
	var sum float64
	for _, h := range w.Humidity {
		sum += float64(h)
	}
	return int64(math.Round(sum / float64(len(w.Humidity))))
}

// gapsOf returns the gaps of a log that end with a point of the draft.
func gapsOf(c Case, w *Wait) []trade.Gap {
	ends := map[int64]bool{}
	for _, o := range ledger.Objects(c.Act.Body["log"]) {
		ends[utcOf(text(o, "at"))] = true
	}
	dose, err := trade.Dose(w.Log, w.sheet(c.Limits))
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
	for _, g := range gapsOf(c, w) {
		h := trimZeros(int64(math.Round(float64(g.To-g.From)/6)), 1)
		says := fill(saysGapLost, h)
		if g.Counted {
			says = fill(saysGapLow, h, trade1(int64(g.Temp)))
		}
		out = append(out, Outcome{Rule: keyLogGap, Degree: Noted, Sentence: says, Limit: keyLogGap})
	}
	return out
}
