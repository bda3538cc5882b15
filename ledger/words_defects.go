package ledger

import "sync"

// The words of a finding: what is wrong, at which element and layer, how deep
// it goes and how soon it must be mended.

// The layers that words of one row share. The weather skin is the membrane or
// the skin, whichever is outermost. Core is foam or batt, so what can only
// happen to foam belongs to it alone.
var (
	weatherSkin = []string{"membrane", "skin"}
	deckAndCore = []string{"deck", "core"}
	deckOnly    = []string{"deck"}
	coreOnly    = []string{"core"}
	frameOnly   = []string{"frame"}
)

// TroubleOf returns the kind of trouble, a word of the list "trouble", that a
// defect is when it is left; "" where the defect is not known. Source: the
// rules of cover, version 1.
func TroubleOf(defect string) string {
	if _, known := WordIn("defects", defect); !known {
		return ""
	}
	switch defect {
	case "delamination", "soft-deck", "eaten-foam", "crushed-core":
		return "bond"
	case "rot", "wet-timber":
		return "rot"
	case "split-board", "broken-frame":
		return "break"
	case "standing-water":
		return "standing-water"
	default:
		return "leak"
	}
}

var defectWords = sync.OnceValue(func() []Word {
	return listed("defects", commonPractice, []Word{
		// The weather skin.
		{Name: "torn-membrane", Means: "torn or holed through", Layers: weatherSkin, Carries: carries("", "length diameter")},
		{Name: "cracked-skin", Means: "glass-fibre, cap or metal cracked", Layers: weatherSkin, Carries: carries("", "length diameter")},
		{Name: "worn-membrane", Means: "rubbed or weathered thin, scrim showing or not", Layers: weatherSkin, Carries: carries("", "left thickness")},
		{Name: "corroded-skin", Means: "pitted or pinholed metal", Layers: weatherSkin, Carries: carries("", "count")},
		{Name: "peeling-coat", Means: "an earlier coat comes off", Layers: weatherSkin},
		{Name: "blister", Means: "raised and hollow", Layers: weatherSkin, Carries: carries("", "count diameter height film")},
		{Name: "bridging", Means: "the sheet spans a hollow angle or has shrunk from its edge", Layers: weatherSkin, Carries: carries("gap", "pull length")},

		// Seams.
		{Name: "fishmouth", Means: "a wrinkle open at a lap", Layers: weatherSkin, Carries: carries("length", "depth width")},
		{Name: "open-seam", Means: "a lap no longer joined", Layers: weatherSkin, Carries: carries("length", "depth")},
		{Name: "cold-weld", Means: "a weld that looks joined and peels", Layers: weatherSkin, Carries: carries("peel", "length")},
		{Name: "burnt-weld", Means: "a weld overheated and brittle", Layers: weatherSkin, Carries: carries("", "length")},

		// Edges.
		{Name: "tape-only-edge", Says: "tape-only edge", Means: "held or closed by tape alone", Layers: weatherSkin, Carries: carries("length", "width")},
		{Name: "lifted-edge", Means: "the edge of sheet, rail or over-deck stands up", Layers: weatherSkin, Carries: carries("height length", "")},
		{Name: "over-deck-step", Says: "over-deck step", Means: "a sheet laid on top leaves an edge", Layers: weatherSkin, Carries: carries("height length", "")},
		{Name: "short-part", Means: "a moulding, skin or insert was cut short", Layers: weatherSkin, Carries: carries("gap length", "short-by")},

		// Seals.
		{Name: "split-sealant", Means: "sealant cracked, off one side or missing", Layers: weatherSkin, Carries: carries("length", "gap")},
		{Name: "wrong-sealant", Means: "does not hold here, or stops later sealing, as silicone does", Layers: weatherSkin, Carries: carries("", "length")},
		{Name: "starved-bed", Means: "butyl or compound missing or short", Layers: weatherSkin, Carries: carries("length", "width short-by")},

		// Fittings.
		{Name: "narrow-flange", Means: "no flange, or less than needed", Layers: weatherSkin, Carries: carries("flange needed", "")},
		{Name: "low-curb", Means: "no curb, or one too low", Layers: weatherSkin, Carries: carries("height needed", "")},
		{Name: "crazed-lid", Means: "dome or lid crazed or cracked", Layers: weatherSkin, Carries: carries("", "length")},
		{Name: "flat-gasket", Means: "the gasket of a unit pressed flat", Layers: weatherSkin, Carries: carries("", "left thickness")},
		{Name: "open-hole", Means: "left by a removed fitting, or a cable without a gland", Layers: weatherSkin, Carries: carries("diameter", "count")},

		// Fasteners: the word does not say which layer they hold.
		{Name: "failed-fastener", Means: "backed out, turning free or rusted", Carries: carries("count", "height")},
		{Name: "short-bite", Means: "too short for what it holds, or ends in foam", Carries: carries("leg over-layer", "spacing count")},
		{Name: "stray-screws", Means: "through the weather skin, holding something else", Layers: weatherSkin, Carries: carries("count", "length diameter")},

		// Deck and core.
		{Name: "soft-deck", Means: "gives under the foot", Layers: deckAndCore, Carries: carries("deflection mass", "")},
		{Name: "delamination", Means: "layers have parted", Layers: deckAndCore, Carries: carries("", "gap")},
		{Name: "eaten-foam", Means: "foam dissolved by a solvent", Layers: coreOnly, Carries: carries("groove thickness", "")},
		{Name: "crushed-core", Means: "pressed thin", Layers: coreOnly, Carries: carries("left thickness", "")},
		{Name: "wet-core", Means: "foam or batt holds water", Layers: coreOnly, Carries: carries("", "wet-mass dry-mass number dry-number")},

		// Frame.
		{Name: "rot", Means: "the awl goes in without force", Layers: frameOnly, Carries: carries("depth thickness", "length area")},
		{Name: "wet-timber", Means: "reads over the limit, still sound", Layers: frameOnly, Carries: carries("moisture", "")},
		{Name: "split-board", Means: "split along a row of screws", Layers: frameOnly, Carries: carries("", "length spacing")},
		{Name: "broken-frame", Means: "a member cracked, corroded or cut", Layers: frameOnly, Carries: carries("", "section-left")},

		// Any layer.
		{Name: "standing-water", Means: "water still stands 48 h after it came", Carries: carries("depth", "")},
		{Name: "stain", Means: "a water mark or mould seen indoors"},
	})
})

var stateOfWords = sync.OnceValue(func() []Word {
	return listed("state-of", ownWord, []Word{
		{Name: "backed-out", Means: "the fastener has worked its way out"},
		{Name: "turning-free", Means: "the fastener turns and holds nothing"},
		{Name: "rusted", Means: "the fastener is rusted"},
		{Name: "filled", Means: "the gap was filled with something"},
	}, borrowed(stateWords(), "open"))
})

var betweenWords = sync.OnceValue(func() []Word {
	return listed("between", ownWord, []Word{
		{Name: "membrane-deck", Says: "membrane and deck", Means: "the membrane has parted from the deck"},
		{Name: "skin-ply", Says: "skin and ply", Means: "the skin has parted from the ply under it"},
		{Name: "ply-ply", Says: "ply and ply", Means: "the plies of one sheet have parted"},
		{Name: "ply-core", Says: "ply and core", Means: "the ply has parted from the core"},
	})
})

var deepWords = sync.OnceValue(func() []Word {
	return listed("deep", ownWord, []Word{
		{Name: "on-the-face", Means: "coating and seals"},
		{Name: "in-the-skin", Means: "membrane, over-deck or skin"},
		{Name: "in-the-deck", Means: "down into the deck"},
		{Name: "in-the-core", Means: "down into the core"},
		{Name: "in-the-frame", Means: "down into the frame"},
		{Name: "through-indoors", Says: "through to the inside", Means: "into the inner ply or the lining"},
	})
})

var soonWords = sync.OnceValue(func() []Word {
	return listed("soon", ownWord, []Word{
		{Name: "no-need", Means: "it may stay as it is"},
		{Name: "next-upkeep", Says: "at the next upkeep", Means: "when the roof is looked at next"},
		{Name: "before-wet-season", Says: "before the wet season", Means: "before the months of rain"},
		{Name: "before-rain", Says: "before it stands out in rain", Means: "before rain falls on it again"},
		{Name: "before-walking", Says: "before anyone walks on it", Means: "nobody steps there until it is mended"},
		{Name: "before-driving", Says: "before it is driven", Means: "the coach does not move until it is mended"},
	})
})

var elementWords = sync.OnceValue(func() []Word {
	return listed("elements", commonPractice, []Word{
		{Name: "deck-field", Means: "the deck away from its edges and fittings", Carries: carries("", "length width")},
		{Name: "front-joint", Means: "where the deck meets the front cap or wall", Carries: carries("", "length width gap")},
		{Name: "rear-joint", Means: "where the deck meets the rear cap or wall", Carries: carries("", "length width gap")},
		{Name: "front-cap", Means: "the moulded part at the front", Carries: carries("", "length width gap")},
		{Name: "rear-cap", Means: "the moulded part at the rear", Carries: carries("", "length width gap")},
		{Name: "front-radius", Means: "the rounded part at the front, measured along its surface", Carries: carries("", "length width gap")},
		{Name: "rear-radius", Means: "the rounded part at the rear, measured along its surface", Carries: carries("", "length width gap")},
		{Name: "left-edge", Means: "rail or fold along the left side", Carries: carries("", "length spacing short-by")},
		{Name: "right-edge", Means: "rail or fold along the right side", Carries: carries("", "length spacing short-by")},
		{Name: "gutter-rail", Means: "the rail that leads the water off", Carries: carries("", "length spacing short-by")},
		{Name: "corner-moulding", Means: "the moulding over a corner of the body", Carries: carries("", "length spacing short-by")},
		{Name: "trim-insert", Means: "the strip over the screws of a rail", Carries: carries("", "length spacing short-by")},
		{Name: "awning-rail", Means: "the rail that holds an awning", Carries: carries("", "length spacing short-by")},
		{Name: "topper-rail", Means: "the rail of the cover over a slide-out", Carries: carries("", "length spacing short-by")},
		{Name: "slide-roof", Means: "the roof of a slide-out", Carries: carries("", "thickness")},
		{Name: "cab-over", Says: "part over the cab", Means: "the part of the body over the cab", Carries: carries("", "thickness")},
		{Name: "bunk-floor", Means: "the floor of the bunk over the cab", Carries: carries("", "thickness")},
		{Name: "edge-member", Means: "the timber or profile along the edge of the deck", Carries: carries("", "section")},
		{Name: "front-header", Means: "the cross member at the front of the deck, rafter 0", Carries: carries("", "section")},
		{Name: "rear-header", Means: "the cross member at the rear of the deck", Carries: carries("", "section")},
		{Name: "rafter", Means: "a cross member of the roof, numbered from the front", Carries: carries("", "section")},
		{Name: "top-plate", Means: "the head of a side wall", Carries: carries("", "section")},
		{Name: "side-wall-head", Means: "the upper 300 mm of a side wall", Carries: carries("", "thickness width")},
		{Name: "front-wall-skin", Means: "the skin of the front wall", Carries: carries("", "thickness width")},
		{Name: "rear-wall-skin", Means: "the skin of the rear wall", Carries: carries("", "thickness width")},
		{Name: "tie-in", Says: "tie-in", Means: "where new work meets what was left", Carries: carries("", "thickness width")},
		{Name: "seam", Means: "a lap welded, glued or taped; usual lap 75 mm, weld at least 38 mm from memory", Carries: carries("", "overlap length")},
		{Name: "deck-joint", Means: "where two deck panels meet", Carries: carries("", "gap height")},
		{Name: "roof-vent", Means: "a vent in the roof with a lid", Carries: carries("", "clear flange height")},
		{Name: "skylight", Means: "a fixed window in the roof", Carries: carries("", "clear flange height")},
		{Name: "hatch", Means: "an opening with a lid that a person can use", Carries: carries("", "clear flange height")},
		{Name: "air-conditioner", Means: "a cooling unit over an opening in the roof", Carries: carries("", "clear mass")},
		{Name: "refrigerator-vent", Means: "the vent over a refrigerator", Carries: carries("", "clear flange diameter")},
		{Name: "plumbing-vent", Means: "the vent of a waste pipe", Carries: carries("", "clear flange diameter")},
		{Name: "flue", Means: "the outlet of a heater or stove", Carries: carries("", "clear flange diameter")},
		{Name: "cable-gland", Means: "where a cable goes through the roof", Carries: carries("", "count diameter")},
		{Name: "marker-light", Means: "a lamp that marks the outline of the coach", Carries: carries("", "count")},
		{Name: "camera", Means: "a camera on the roof or its edge", Carries: carries("", "count")},
		{Name: "antenna", Means: "an antenna on the roof", Carries: carries("", "count")},
		{Name: "solar-mount", Means: "the foot of a solar panel", Carries: carries("", "count length")},
		{Name: "rack-mount", Means: "the foot of a roof rack", Carries: carries("", "count length")},
		{Name: "dish-mount", Means: "the foot of a dish", Carries: carries("", "count length")},
		{Name: "ladder-mount", Means: "the foot of a ladder", Carries: carries("", "count length")},
	})
})

var layerWords = sync.OnceValue(func() []Word {
	return listed("layers", ownWord, []Word{
		{Name: "coating", Means: "what was rolled or sprayed on the outside"},
		{Name: "membrane", Means: "the sheet that sheds the water"},
		{Name: "over-deck", Says: "over-deck", Means: "a deck laid over an older roof"},
		{Name: "skin", Means: "metal or glass-fibre sheet, or an old membrane under an over-deck"},
		{Name: "deck", Means: "the boards under the weather skin"},
		{Name: "core", Means: "foam or batt"},
		{Name: "inner-ply", Means: "the ply on the inside of the core"},
		{Name: "frame", Means: "rafters, headers and edge members"},
		{Name: "air-space", Means: "the hollow between frame and lining"},
		{Name: "lining", Means: "what is seen indoors"},
	})
})
