package say

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/report/english"
)

// coverLine says one line of a certificate.
func coverLine(o format.Object) string {
	says := "line " + ledger.Decimal(ledger.Int(o, "line")) + ", " + ledger.Said("promise", word(o["promise"])) + ", at " + at(o["places"])
	months := ledger.Int(o, "months")
	if first, err := day.Parse(word(o["first-day"])); err == nil {
		says = joined(says, "from "+first.Long()+" until "+day.LastDay(first, int(months)).Long())
	}
	if full := ledger.Int(o, "full-months"); full < months {
		says = joined(says, "in full for "+english.Numbered(int(full), "month", "months"))
	}
	if floor, ok := o["floor"].(int64); ok {
		says = joined(says, "then falling to "+Quantity("moisture", floor))
	}
	if o["upkeep"] == true {
		says = joined(says, "asks for upkeep")
	}
	return says
}

// Trouble says a finding in a few words, to stand behind its place: "flange 11
// of 25 mm", "420 mm of split sealant", "rot, 32 of 45 mm deep".
func Trouble(a *ledger.Act) string {
	defect := a.Text("defect")
	name := ledger.Said("defects", defect)
	values := object(a.Body["values"])
	switch length := values["length"]; {
	case defect == "narrow-flange" || defect == "low-curb":
		return Values(format.Object{"flange": values["flange"], "height": values["height"], "needed": values["needed"]})
	case length != nil && isSeal(defect):
		return Quantity("length", length) + " of " + name
	}
	return joined(name, Values(values))
}

// isSeal says whether a defect runs along an edge, a seam or a bead, so that
// its length says how much of it there is.
func isSeal(defect string) bool {
	return slices.Contains([]string{
		"open-seam", "burnt-weld", "tape-only-edge", "split-sealant", "wrong-sealant", "starved-bed",
	}, defect)
}

// Defect names the defect of a finding: "delamination of ply and core".
func Defect(a *ledger.Act) string {
	says := ledger.Said("defects", a.Text("defect"))
	if state := a.Text("state-of"); state != "" {
		says = joined(says, ledger.Said("state-of", state))
	}
	if between := a.Text("between"); between != "" {
		says += " of " + ledger.Said("between", between)
	}
	return says
}

// Causes says why a finding came about, each with how sure that is.
func Causes(a *ledger.Act) string {
	s := &speaker{a: a}
	return s.each(a.Body["causes"], s.cause)
}

// Whose says whose hand a finding was, and how that is known: "the factory;
// from signs: bedded in the first-fit sealant".
func Whose(r *ledger.Replay, a *ledger.Act) string {
	s := &speaker{r: r, a: a}
	o := object(a.Body["whose"])
	says := ledger.Said("whose", word(o["whose"]))
	if o == nil || says == "unknown" {
		says = "whose hand is not known"
	}
	if o["entry"] != nil {
		says += " (" + s.entries(format.Array{o["entry"]}) + ")"
	}
	for _, k := range ledger.Objects(a.Body["known"]) {
		says += "; " + ledger.Said("known", word(k["how"]))
		if who := word(k["who"]); who != "" {
			if who == r.HolderAt(a) {
				who = "the holder"
			}
			says += " " + who
		}
		if what := word(k["what"]); what != "" {
			says += ": " + what
		}
		says += s.mark(k)
	}
	return says
}
