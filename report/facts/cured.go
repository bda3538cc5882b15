package facts

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/english"
	"lapmark/report/say"
)

// cures are what cured and when its last stage was reached. Several of one sort
// are told apart by their lots.
func (s *subject) cures() []report.Cure {
	type one struct {
		report.Cure
		lot   string
		early bool
		hard  bool // before its dose was reached
	}
	var all []one
	sorts := map[string]int{}
	for _, a := range s.acts("cures") {
		for _, w := range rules.Waits(s.r, nil) {
			if w.Last == a.No {
				what, lot := s.cured(w)
				all = append(all, one{report.Cure{What: what, At: reachedBy(a)}, lot, a.Body["disturbed"] == true, onHardness(a)})
				sorts[what]++
			}
		}
	}
	var out []report.Cure
	for _, c := range all {
		if sorts[c.What] > 1 && c.lot != "" {
			c.What += " " + c.lot
		}
		switch {
		case c.early:
			c.What += ", disturbed early,"
		case c.hard:
			c.What += ", released on hardness,"
		}
		out = append(out, c.Cure)
	}
	return out
}

// onHardness says whether an entry releases a stage before its dose was reached,
// and was not disturbed: the rules let it pass on a test of hardness alone.
func onHardness(a *ledger.Act) bool {
	return a.Body["disturbed"] != true && slices.ContainsFunc(ledger.Objects(a.Body["releases"]), func(o format.Object) bool {
		return o["earliest"] == nil
	})
}

// cured says what a cure is of: the sort of its material, and its lot.
func (s *subject) cured(w *rules.Wait) (what, lot string) {
	lots := ledger.Texts(w.Start.Body["lots"])
	if len(lots) == 0 && w.Work != nil {
		for _, op := range rules.Ops(w.Work) {
			lots = append(lots, op.Lots...)
		}
	}
	for _, id := range lots {
		if material := s.material(id); ledger.Cures(material) {
			return sortOf(material), id
		}
	}
	if len(lots) > 0 {
		return "lot " + lots[0], ""
	}
	return "entry " + w.Start.No.String(), ""
}

func (s *subject) material(lot string) string { return text(s.r.Lots[lot].Shape, "material") }

// sortOf is the sort of a material that cures: glue, sealant, coating, filler.
func sortOf(material string) string {
	switch material {
	case "lap-sealant", "sealant-non-sag", "silicone":
		return "sealant"
	case "liquid-coat":
		return "coating"
	case "filler":
		return "filler"
	}
	return "glue"
}

// reachedBy is when the last stage was reached that an entry releases; of one
// disturbed early, when it was released.
func reachedBy(a *ledger.Act) report.Moment {
	var last day.Moment
	for _, o := range ledger.Objects(a.Body["releases"]) {
		if m, err := day.ParseMoment(text(o, "earliest")); err == nil && (last.IsZero() || last.UTC() < m.UTC()) {
			last = m
		}
	}
	if m, err := day.ParseMoment(a.Text("happened")); last.IsZero() && err == nil {
		last = m
	}
	if last.IsZero() {
		return report.Moment{Day: dayOf(a.Day())}
	}
	minute := int(last.UTC()+int64(last.Offset())) % (24 * 60)
	return report.Moment{Day: dayOf(last.Day()), Hour: minute / 60, Minute: minute % 60}
}

// checks are the checks that passed, each sort once with its worst reading.
func (s *subject) checks() []report.PassedCheck {
	var order []string
	all := map[string][]format.Object{}
	for _, a := range s.acts("checks") {
		for _, o := range ledger.Objects(a.Body["results"]) {
			name := text(o, "check")
			if o["pass"] != true {
				continue
			}
			if all[name] == nil {
				order = append(order, name)
			}
			all[name] = append(all[name], o)
		}
	}
	var out []report.PassedCheck
	for _, name := range order {
		out = append(out, passedCheck(name, all[name]))
	}
	return out
}

// passedCheck says one sort of check: what was done, and the worst of what it
// showed.
func passedCheck(name string, results []format.Object) report.PassedCheck {
	values, failures := worst(name, results)
	what := ledger.Said("checks", name)
	if name == "hose" {
		return hosed(what, len(results), values)
	}
	var found []string
	if reading := say.Reading(name, values); reading != "" && values["peel"] != nil {
		found = append(found, "at least "+reading)
	} else if reading != "" {
		found = append(found, reading)
	}
	for _, f := range failures {
		found = append(found, ledger.Said("fail", f))
	}
	if len(found) == 0 {
		found = []string{"passed"}
	}
	return report.PassedCheck{What: what, Result: strings.Join(found, ", ")}
}

// hosed says how many strips were hosed for how long, and what came of it.
func hosed(what string, strips int, values format.Object) report.PassedCheck {
	what += ", " + english.Numbered(strips, "strip", "strips")
	if values["lasted"] != nil {
		what += " of " + say.Quantity("lasted", values["lasted"])
	}
	result := "dry inside"
	if rise, ok := values["rise"].(int64); ok && rise > 0 {
		result += ", rise at most " + say.Quantity("rise", rise)
	}
	return report.PassedCheck{What: what, Result: result}
}

// worst are the values of several results of one check: the worst of what it
// passes by, and what all have in common; and what failed.
func worst(name string, results []format.Object) (values format.Object, failures []string) {
	values = format.Object{}
	for i, o := range results {
		for q, v := range object(o["values"]) {
			switch before, there := values[q]; {
			case i == 0:
				values[q] = v
			case there:
				values[q] = worse(name, q, before, v)
			}
		}
		for q := range values {
			if object(o["values"])[q] == nil || values[q] == nil {
				delete(values, q)
			}
		}
		if f := text(o, "failure"); f != "" && !slices.Contains(failures, f) {
			failures = append(failures, f)
		}
	}
	if list := ledger.Ints(values["peel"]); len(list) > 0 {
		values["peel"] = format.Array{slices.Min(list)}
	}
	for _, q := range []string{"length", "weld-temp", "speed"} { // how it was done, not what it showed
		delete(values, q)
	}
	return values, failures
}

// worse is the worse of two values of a quantity that a check passes by, or
// the value where they are the same, or nothing.
func worse(name, quantity string, a, b format.Value) format.Value {
	w, _ := ledger.WordIn("checks", name)
	m, one := a.(int64)
	n, other := b.(int64)
	if one && other && w.Passes != nil && w.Passes.Quantity == quantity {
		if w.Passes.AtLeast != nil {
			return min(m, n)
		}
		return max(m, n)
	}
	list, isList := a.(format.Array)
	more, areLists := b.(format.Array)
	if isList && areLists && (quantity == "peel" || quantity == "voids") {
		return slices.Concat(list, more)
	}
	if one && other && m == n {
		return a
	}
	return nil
}
