package ledger

import (
	"strings"
	"sync"
)

// The words of work and upkeep: operations, fasteners, materials, what was done
// at a place and by whom. Which material may go on which ground stands with the
// coupons that decide it.

var operationWords = sync.OnceValue(func() []Word {
	return listed("operations", commonPractice, []Word{
		// Of no layer, or of the layer that the place or the mended work says.
		{Name: "tarp", Means: "covered with a tarp, or the tarp taken off"},
		{Name: "open-up", Means: "opened to look only"},
		{Name: "take-off-fitting", Means: "a fitting taken off its opening"},
		{Name: "dry-out", Means: "left open to dry, or dried with warm air", Carries: carries("", "lasted air-temp humidity")},
		{Name: "strip", Means: "sheet, skin or over-deck taken off"},
		{Name: "strip-sealant", Means: "sealant taken off down to bare ground", Carries: carries("", "length")},
		{Name: "make-good", Means: "mended what a check had failed", Carries: carries("", "length")},

		// Frame.
		{Name: "cut-out", Means: "rot cut out to sound wood", Layers: frameOnly, Carries: carries("section", "beyond-rot length")},
		{Name: "sister", Means: "a second member laid beside the old one", Layers: frameOnly, Carries: carries("section", "overlap length")},
		{Name: "splice", Means: "a piece let in with a scarf joint", Layers: frameOnly, Carries: carries("scarf", "section")},
		{Name: "replace-member", Means: "a whole member renewed", Layers: frameOnly, Carries: carries("section", "length scarf")},
		{Name: "treat", Means: "timber treated with preservative", Layers: frameOnly, Carries: carries("", "treated")},
		{Name: "composite-backing", Means: "a dense board laid under a row of screws", Layers: frameOnly, Carries: carries("", "thickness spacing")},

		// Deck and core.
		{Name: "fit-core", Means: "new foam or batt laid in", Layers: coreOnly, Carries: carries("", "thickness")},
		{Name: "lay-deck", Means: "new deck laid", Layers: deckOnly, Carries: carries("", "thickness gap")},
		{Name: "spreader", Means: "a plate laid under a unit to spread its load", Layers: deckAndCore, Carries: carries("size pressure", "thickness")},
		{Name: "level", Means: "brought to a plane or a fall", Layers: deckAndCore, Carries: carries("", "depth slope")},
		{Name: "laminate", Means: "layers glued to one another", Layers: deckAndCore, Carries: carries("", "area spread")},
		{Name: "press", Means: "held with weights, hold-down strips or vacuum", Layers: deckAndCore, Carries: carries("", "pressure spacing")},

		// Any layer.
		{Name: "fasten", Means: "stapled, screwed, nailed or riveted", Carries: carries("leg over-layer", "spacing count")},

		// Weather skin.
		{Name: "prime", Means: "cleaner or primer put on", Layers: weatherSkin, Carries: carries("", "flash")},
		{Name: "lay-membrane", Means: "a new sheet laid", Layers: weatherSkin, Carries: carries("", "spread")},
		{Name: "reskin", Means: "a new metal or glass-fibre skin laid", Layers: weatherSkin, Carries: carries("", "spread")},
		{Name: "patch", Means: "a piece of sheet set over a place", Layers: weatherSkin, Carries: carries("overlap", "size")},
		{Name: "weld", Means: "a lap joined with hot air", Layers: weatherSkin, Carries: carries("weld-temp speed overlap length", "")},
		{Name: "bond-seam", Means: "a lap joined with primer and seam tape, or with glue", Layers: weatherSkin, Carries: carries("overlap length", "")},
		{Name: "terminate-edge", Means: "an edge closed with a bar, a fold or a rail", Layers: weatherSkin, Carries: carries("", "spacing")},
		{Name: "curb", Means: "a raised rim built round an opening", Layers: weatherSkin, Carries: carries("height", "")},
		{Name: "counter-flash", Means: "an inner upstand, so that water past the lid runs out", Layers: weatherSkin, Carries: carries("", "height")},
		{Name: "widen-flange", Means: "a flange made wider", Layers: weatherSkin, Carries: carries("flange", "")},
		{Name: "refit-fitting", Means: "a fitting set back on its opening", Layers: weatherSkin},
		{Name: "bed", Means: "set in butyl or compound", Layers: weatherSkin, Carries: carries("", "thickness width")},
		{Name: "cap-seal", Means: "a bead of sealant over edge, screw or flange", Layers: weatherSkin, Carries: carries("bead", "length")},

		{Name: "coat", Means: "a coating rolled or sprayed on", Layers: []string{"coating"}, Carries: carries("", "film coats")},
	})
})

var stateWords = sync.OnceValue(func() []Word {
	return listed("state", ownWord, []Word{
		{Name: "open", Means: "nothing closes it"},
		{Name: "closed", Means: "the work there is done for now"},
	})
})

var doneByWords = sync.OnceValue(func() []Word {
	return listed("done-by", ownWord,
		borrowed(whoseWords(), "our-shop", "other-shop"), borrowed(readerWords(), "holder"))
})

var didWords = sync.OnceValue(func() []Word {
	return listed("did", ownWord, []Word{
		{Name: "done", Means: "it was looked at"},
		{Name: "resealed", Means: "it was looked at and sealed again"},
		{Name: "left", Means: "it was looked at, and a trouble was left as it was"},
		{Name: "not-reached", Means: "nobody got to it"},
	})
})

var ownLookWords = sync.OnceValue(func() []Word {
	return listed("own-look", ownWord, borrowed(didWords(), "done"), []Word{
		{Name: "to-do", Means: "it is still to be looked at"},
	})
})

var fastenerWords = sync.OnceValue(func() []Word {
	return listed("fastener", commonPractice, []Word{
		{Name: "staple", Means: "driven, with two legs"},
		{Name: "screw", Means: "turned in"},
		{Name: "nail", Means: "driven, with one leg"},
		{Name: "rivet", Means: "set through a hole"},
	})
})

// materialWords carry the values of the maker's sheet, typed once a lot.
var materialWords = sync.OnceValue(func() []Word {
	return listed("material", commonPractice, []Word{
		{Name: "membrane-tpo", Says: "TPO membrane", Means: "roof sheet of thermoplastic polyolefin", Carries: carries("thickness", "width")},
		{Name: "membrane-epdm", Says: "EPDM membrane", Means: "roof sheet of EPDM rubber, never welded", Carries: carries("thickness", "width")},
		{Name: "membrane-pvc", Says: "PVC membrane", Means: "roof sheet of plasticised PVC", Carries: carries("thickness", "width")},
		{Name: "skin-sheet", Means: "metal or glass-fibre sheet", Carries: carries("thickness", "width")},
		{Name: "plywood", Means: "boards of glued plies", Carries: carries("thickness", "width size")},
		{Name: "composite-board", Means: "dense board without wood", Carries: carries("thickness", "width size")},
		{Name: "timber", Means: "sawn or planed wood", Carries: carries("section", "thickness width length")},
		{Name: "glass-mat", Means: "glass-fibre mat or cloth", Carries: carries("thickness", "width")},
		{Name: "foam-eps", Says: "EPS foam", Means: "expanded polystyrene foam", Carries: carries("thickness", "density pressure size")},
		{Name: "foam-xps", Says: "XPS foam", Means: "extruded polystyrene foam", Carries: carries("thickness", "density pressure size")},
		{Name: "foam-pur", Says: "PUR foam", Means: "polyurethane foam", Carries: carries("thickness", "density pressure size")},
		{Name: "glue-pu-two-part", Says: "two-part PU glue", Means: "polyurethane glue of two parts", Carries: carries("spread-range", glueSheet)},
		{Name: "glue-pu-moisture", Says: "moisture-curing PU glue", Means: "polyurethane glue that cures by moisture", Carries: carries("spread-range", glueSheet)},
		{Name: "glue-epoxy", Says: "epoxy glue", Means: "epoxy resin glue of two parts", Carries: carries("spread-range", glueSheet)},
		{Name: "glue-polyester", Says: "polyester resin", Means: "polyester resin, which holds styrene", Carries: carries("spread-range", glueSheet)},
		{Name: "glue-solvent-contact", Says: "solvent contact glue", Means: "contact glue in solvent", Carries: carries("spread-range", glueSheet)},
		{Name: "glue-water-based", Says: "water-based glue", Means: "contact or wet-lay glue in water", Carries: carries("spread-range", glueSheet)},
		{Name: "glue-spray", Says: "spray glue", Means: "glue sprayed from a can", Carries: carries("spread-range", glueSheet)},
		{Name: "glue-pva", Says: "PVA glue", Means: "white wood glue, for dry places", Carries: carries("spread-range", glueSheet)},
		{Name: "lap-sealant", Means: "sealant that levels itself", Carries: carries("", sealantSheet)},
		{Name: "sealant-non-sag", Says: "non-sag sealant", Means: "sealant that stays where it is put", Carries: carries("", sealantSheet)},
		{Name: "silicone", Means: "silicone sealant, over which nothing bonds", Carries: carries("", sealantSheet)},
		{Name: "liquid-coat", Says: "liquid coating", Means: "coating rolled, brushed or sprayed on", Carries: carries("", sealantSheet)},
		{Name: "filler", Means: "paste that fills and hardens", Carries: carries("", sealantSheet)},
		{Name: "butyl-tape", Means: "tape of butyl to be clamped under a flange", Carries: carries("", "width thickness")},
		{Name: "seam-tape", Means: "tape that joins a lap from inside", Carries: carries("", "width thickness")},
		{Name: "cover-tape", Means: "tape laid over a seam or edge", Carries: carries("", "width thickness")},
		{Name: "gasket", Means: "the ring that seals a fitting", Carries: carries("", "width thickness")},
		{Name: "primer", Means: "put on before tape, glue or sealant", Carries: carries("", "flash")},
		{Name: "cleaner", Means: "takes dirt and grease off before a joint", Carries: carries("", "flash")},
		{Name: "preservative", Means: "keeps timber from rot", Carries: carries("", "flash treated")},
		{Name: "fasteners", Means: "staples, screws, nails or rivets", Carries: carries("", "leg diameter count")},
		{Name: "termination-bar", Means: "flat bar that holds the edge of a sheet", Carries: carries("", "width length")},
		{Name: "moulding", Means: "profile over a joint or corner", Carries: carries("", "length")},
		{Name: "new-fitting", Means: "a new vent, lid, unit or mount", Carries: carries("", "clear")},
	})
})

// What the maker's sheet of a glue and of a sealant says, in the order of
// asking. Solvent, and whether it is safe on foam, stand in the lot's text.
const (
	glueSheet = "open-life store-temp use-temp dew-gap open-time ref-temp least-temp cap-temp doubling " +
		"press-least least-humidity"
	sealantSheet = "use-temp ref-temp least-temp cap-temp doubling through-cure film"
)

// Cures says whether a lot of the material must cure before what rests on it
// is certified. Butyl, tapes and primers need no wait. Common practice, no
// source.
func Cures(material string) bool {
	switch material {
	case "lap-sealant", "sealant-non-sag", "silicone", "filler", "liquid-coat":
		return true
	}
	return isGlue(material)
}

func isGlue(material string) bool     { return isMaterial("glue-", material) }
func isFoam(material string) bool     { return isMaterial("foam-", material) }
func isMembrane(material string) bool { return isMaterial("membrane-", material) }

// isMaterial reports whether the material is one of those whose words begin
// alike.
func isMaterial(prefix, material string) bool {
	_, known := wordIndex()[wordKey{"material", material}]
	return known && strings.HasPrefix(material, prefix)
}

// GoesOn says whether the material is put on a ground and so has a fit:
// membranes, glues, sealants, coats, fillers, tapes, primers, cleaners,
// preservatives.
func GoesOn(material string) bool {
	switch material {
	case "butyl-tape", "seam-tape", "cover-tape", "primer", "cleaner", "preservative":
		return true
	}
	return isMembrane(material) || Cures(material)
}

// IsGround says whether other materials are put on this one: boards, foams,
// timbers, skins, sheets.
func IsGround(material string) bool {
	switch material {
	case "plywood", "composite-board", "timber", "skin-sheet":
		return true
	}
	return isFoam(material) || isMembrane(material)
}
