package facts

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/plan"
	"lapmark/report/say"
)

// smallPlan is how high the bare plan may be, in hundredths of a millimetre.
const smallPlan plan.Unit = 8200

// nextHand is what the next hand on this roof must know of what lies under the
// lines.
func (s *subject) nextHand() report.NextHand {
	return report.NextHand{
		Region:   s.behind(s.field),
		Membrane: s.sheets(), Weld: s.seams(), CoreDeck: s.boards(), Glue: s.glues(), Sealant: s.sealants(),
		UnderIt: s.underIt(), KeepAway: keepAway(s.materials()), Bare: plan.Small(s.planRoof(), smallPlan),
	}
}

// lying are the operations of the job over a line of which something was not
// taken out again later.
func (s *subject) lying() []rules.Op {
	var out []rules.Op
	for _, op := range s.job.Closed {
		at, err := s.r.Region(op.Act, op.Places)
		if err != nil || len(op.Places) == 0 || !s.takenOut(op, at) {
			out = append(out, op)
		}
	}
	return out
}

// takenOut says whether later strips and cuts took all of an operation's work
// out again.
func (s *subject) takenOut(op rules.Op, at place.Region) bool {
	for _, a := range s.r.Acts {
		if a.Kind != "work" || !a.Counts || !op.Act.Before(a) {
			continue
		}
		for _, later := range rules.Ops(a) {
			if later.Word != "strip" && later.Word != "cut-out" || !sharesLayer(layersAt(op), layersAt(later)) {
				continue
			}
			if gone, err := s.r.Region(a, later.Places); err == nil {
				at = at.Minus(gone)
			}
		}
	}
	return at.Empty()
}

// layersAt are the layers an operation lies in: those its places name, or its
// own.
func layersAt(op rules.Op) []string {
	if named := layersOf(op.Places); len(named) > 0 {
		return named
	}
	w, _ := ledger.WordIn("operations", op.Word)
	return w.Layers
}

func sharesLayer(a, b []string) bool {
	return slices.ContainsFunc(a, func(l string) bool { return slices.Contains(b, l) })
}

// lotsBy are the lots that some operations used, of materials that keep says,
// each once, in the order of their first use.
func (s *subject) lotsBy(keep func(op, material string) bool) []string {
	var out []string
	for _, op := range s.closed {
		for _, lot := range op.Lots {
			if keep(op.Word, s.material(lot)) && !slices.Contains(out, lot) {
				out = append(out, lot)
			}
		}
	}
	return out
}

// thick says a lot by its material, thickness and id: "PVC 1.5 mm, lot M-5520".
func (s *subject) thick(lot, cut string) string {
	says := strings.TrimSuffix(ledger.Said("material", s.material(lot)), cut)
	if v := object(s.r.Lots[lot].Shape["values"])["thickness"]; v != nil {
		says += " " + say.Quantity("thickness", v)
	}
	if s.material(lot) == "" {
		return "lot " + lot + ", not delivered here"
	}
	return says + ", lot " + lot
}

func (s *subject) sheets() string {
	return s.each(s.lotsBy(func(op, material string) bool {
		laid := op == "lay-membrane" || op == "reskin" || op == "patch" || op == "coat"
		return laid && (material == "" || isSheet(material) || material == "liquid-coat")
	}), " membrane")
}

func isSheet(material string) bool {
	return strings.HasPrefix(material, "membrane-") || material == "skin-sheet"
}

// boards are the core first, then the deck on it.
func (s *subject) boards() string {
	core := s.lotsBy(func(_, material string) bool { return strings.HasPrefix(material, "foam-") })
	deck := s.lotsBy(func(_, material string) bool { return material == "plywood" || material == "composite-board" })
	return s.each(append(core, deck...), " foam")
}

func (s *subject) each(lots []string, cut string) string {
	var out []string
	for _, lot := range lots {
		out = append(out, s.thick(lot, cut))
	}
	return strings.Join(out, "; ")
}

// seams say how laps were joined, each setting once.
func (s *subject) seams() string {
	var out []string
	for _, op := range s.closed {
		if op.Word != "weld" && op.Word != "bond-seam" {
			continue
		}
		var says []string
		for _, q := range []string{"weld-temp", "speed", "overlap"} {
			if v := object(op.Object["values"])[q]; v != nil {
				says = append(says, setting(q, v))
			}
		}
		one := strings.Join(says, ", ")
		if op.Word == "bond-seam" {
			one = "bonded, " + one
		}
		if !slices.Contains(out, one) {
			out = append(out, one)
		}
	}
	return strings.Join(out, "; ")
}

// setting says one setting of a seam: "480 °C", "1.8 m/min", "overlap 40 mm".
func setting(quantity string, v format.Value) string {
	says := strings.Replace(say.Quantity(quantity, v), ".0 °C", " °C", 1)
	if quantity == "overlap" {
		return "overlap " + says
	}
	return says
}

// glues say each glue with its lot and spread.
func (s *subject) glues() string {
	var out []string
	for _, lot := range s.lotsBy(func(_, material string) bool { return strings.HasPrefix(material, "glue-") }) {
		says := strings.TrimSuffix(ledger.Said("material", s.material(lot)), " glue") + ", lot " + lot
		if spread, ok := s.spread(lot); ok {
			says += ", " + say.Quantity("spread", spread)
		}
		out = append(out, says)
	}
	return strings.Join(out, "; ")
}

// spread is how much of a glue went on a square metre of all its glue lines,
// in g, rounded half up: the typed area of the glue lines, else the places.
func (s *subject) spread(lot string) (perSquareMetre int64, ok bool) {
	var grams, area int64
	for _, op := range s.closed {
		used := int64(0)
		for _, use := range ledger.Objects(op.Object["uses"]) {
			if text(use, "lot") == lot && text(use, "unit") == "g" {
				used += ledger.Int(use, "amount")
			}
		}
		if used == 0 {
			continue
		}
		typed := ledger.Int(object(op.Object["values"]), "area")
		if typed == 0 {
			region, err := s.r.Region(op.Act, op.Places)
			if err != nil {
				return 0, false
			}
			typed = region.Area()
		}
		grams, area = grams+used, area+typed
	}
	if area == 0 {
		return 0, false
	}
	return (grams*2_000_000 + area) / (2 * area), true
}

// sealants say each sealant and tape with its lot, and the bead where one was
// laid.
func (s *subject) sealants() string {
	var out []string
	beads := s.lotsBy(func(_, material string) bool { return ledger.Cures(material) && sortOf(material) == "sealant" })
	tapes := s.lotsBy(func(_, material string) bool { return strings.HasSuffix(material, "-tape") || material == "gasket" })
	for _, lot := range append(beads, tapes...) {
		says := ledger.Said("material", s.material(lot)) + ", lot " + lot
		if bead := s.bead(lot); bead > 0 {
			says += ", " + say.Quantity("bead", bead)
		}
		out = append(out, says)
	}
	return strings.Join(out, "; ")
}

// bead is the deepest bead that was laid of a lot.
func (s *subject) bead(lot string) int64 {
	deepest := int64(0)
	for _, op := range s.closed {
		if slices.Contains(op.Lots, lot) {
			deepest = max(deepest, ledger.Int(object(op.Object["values"]), "bead"))
		}
	}
	return deepest
}

// materials are the kinds of what lies under the lines, each once.
func (s *subject) materials() []string {
	var out []string
	for _, lot := range s.lotsBy(func(_, material string) bool { return material != "" }) {
		if m := s.material(lot); !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}
