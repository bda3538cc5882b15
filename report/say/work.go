package say

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/report/english"
)

// done are the operations as a sentence says that they were done. One that is
// not here is said by its own word.
var done = map[string]string{
	"tarp": "tarp put on or taken off", "open-up": "opened up to look", "take-off-fitting": "fitting taken off",
	"dry-out": "dried out", "strip": "stripped", "strip-sealant": "sealant taken off", "make-good": "made good",
	"cut-out": "rot cut out", "sister": "sistered", "splice": "spliced", "replace-member": "member replaced",
	"treat": "treated with preservative", "composite-backing": "backing board laid", "fit-core": "core fitted",
	"lay-deck": "deck laid", "spreader": "spreader laid", "level": "levelled", "laminate": "laminated",
	"press": "pressed", "fasten": "fastened", "prime": "primed", "lay-membrane": "membrane laid", "reskin": "new skin laid",
	"patch": "patched", "weld": "welded", "bond-seam": "seam bonded", "terminate-edge": "edge terminated",
	"curb": "curb built", "counter-flash": "inner upstand built", "widen-flange": "flange widened",
	"refit-fitting": "fitting set back", "bed": "bedded", "cap-seal": "cap-sealed", "coat": "coated",
}

// work says the operations, one after another.
func (s *speaker) work() string {
	return s.each(s.take("ops"), func(o format.Object) string {
		op := word(o["op"])
		says, known := done[op]
		if !known {
			says = ledger.Said("operations", op)
		}
		if name := word(o["names"]); name != "" {
			says += " as " + name
		}
		if o["places"] != nil {
			says += " at " + Places(beyondUsual(op, ledger.PlacesOf(o["places"])))
		}
		return joined(says, uses(o["uses"]), materials(o), Values(object(o["values"])))
	})
}

// beyondUsual are places without the layers that the operation has anyway.
func beyondUsual(op string, places []place.Place) []place.Place {
	usual, _ := ledger.WordIn("operations", op)
	for i, p := range places {
		extra := slices.ContainsFunc(p.Layers, func(l string) bool { return !slices.Contains(usual.Layers, l) })
		if !extra {
			places[i].Layers = nil
		}
	}
	return places
}

// uses says lots and amounts: "3.6 kg of lot L-20-031".
func uses(v format.Value) string {
	var out []string
	for _, o := range ledger.Objects(v) {
		out = append(out, amount(ledger.Int(o, "amount"), word(o["unit"]))+" of lot "+word(o["lot"]))
	}
	if len(out) == 0 {
		return ""
	}
	return "with " + english.List(out)
}

// materials says fastener and ground of an operation.
func materials(o format.Object) string {
	fastener, onto := word(o["fastener"]), word(o["onto"])
	says := ""
	if fastener != "" {
		says = "by " + ledger.Said("fastener", fastener)
	}
	if onto != "" {
		says = strings.TrimSpace(says + " onto " + ledger.Said("material", onto))
	}
	return says
}

// delivery says which lots came in.
func (s *speaker) delivery() string {
	return "came in: " + s.each(s.take("lots"), lot)
}

// lot says a lot with what its maker's sheet says of it.
func lot(o format.Object) string {
	says := "lot " + word(o["lot"]) + ", " + ledger.Said("material", word(o["material"]))
	if n, ok := o["amount"].(int64); ok {
		says = joined(says, amount(n, word(o["unit"])))
	}
	if n, ok := o["packs"].(int64); ok {
		says += " in " + english.Numbered(int(n), "pack", "packs")
	}
	says = joined(says, strings.TrimSpace(word(o["maker"])+" "+quoted(word(o["product"]))))
	if no := word(o["maker-lot"]); no != "" {
		says = joined(says, "maker's lot "+no)
	}
	for _, on := range []struct{ member, says string }{{"made", "made "}, {"use-by", "good until "}, {"opened", "opened "}} {
		if text := word(o[on.member]); text != "" {
			says = joined(says, on.says+when(text))
		}
	}
	if fits := ledger.Texts(o["fits"]); len(fits) > 0 {
		says = joined(says, "made for "+english.List(saidOf("material", fits)))
	}
	return joined(says, stages(o["stages"]), word(o["what"]), Values(object(o["values"])))
}

func quoted(text string) string {
	if text == "" {
		return ""
	}
	return `"` + text + `"`
}

func saidOf(list string, words []string) []string {
	var out []string
	for _, w := range words {
		out = append(out, ledger.Said(list, w))
	}
	return out
}

// stages says the waits of a cure: "press-off 12 h, load 72 h".
func stages(v format.Value) string {
	var out []string
	for _, o := range ledger.Objects(v) {
		out = append(out, word(o["name"])+" "+Quantity("lasted", ledger.Int(o, "need")))
	}
	return strings.Join(out, ", ")
}

// cure says which step of a wait it is.
func (s *speaker) cure() string {
	of := s.entries(s.take("answers"))
	start := s.text("start")
	if start == "" {
		return "cure of " + of
	}
	says := "cure of " + of + " begun " + when(start)
	if lots := ledger.Texts(s.take("lots")); len(lots) > 0 {
		says = joined(says, lotsNamed(lots))
	}
	return joined(says, stages(s.take("stages")))
}

// log says the temperatures of a wait.
func (s *speaker) log(v format.Value) string {
	before := ""
	return s.each(v, func(o format.Object) string {
		on, clock := when(word(o["at"])), ""
		if m, err := day.ParseMoment(word(o["at"])); err == nil {
			on, clock = m.Day().Long(), m.Clock()
		}
		if on == before {
			on = ""
		}
		if on != "" {
			before = on
		}
		return strings.TrimSpace(on+" "+clock) + ": " + Values(object(o["values"]))
	})
}

// release says that a stage was reached; one that was let go before, and not
// disturbed, was let go on a test of hardness.
func (s *speaker) release(o format.Object) string {
	says := word(o["stage"]) + " released"
	if o["earliest"] == nil && s.a.Body["disturbed"] != true {
		says += " on hardness"
	}
	if dose, ok := o["dose"].(int64); ok {
		says += " after " + decimal(dose, shown{decimals: 2, all: true}) + " h of cure"
	}
	if at := word(o["earliest"]); at != "" {
		says = joined(says, "reached "+when(at))
	}
	return joined(says, quoted(word(o["look"])))
}

// certificate says what is promised where and until when.
func (s *speaker) certificate() string {
	says := "certificate " + s.text("tag") + ", " + ledger.Said("title", s.text("title"))
	if who := s.text("holder"); who != "" {
		says += ", for the holder (" + who + ")"
	}
	s.say(says)
	for _, o := range ledger.Objects(s.take("lines")) {
		s.say(coverLine(o))
	}
	for _, name := range []string{"numbers", "conditions", "exclusions", "shop-side"} {
		s.take(name)
	}
	return "its numbers, conditions and exclusions stand on the paper"
}
