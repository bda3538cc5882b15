package ledger

import (
	"slices"
	"sync"
)

// The words of checks: what is measured, what failed, when it passes, and which
// material may go on which ground without or only with a coupon.

// checkWords carry the limit a result passes by when none is typed. Moisture,
// core samples and hall air have none: their limits belong to the rules of
// closing and gluing. The sheet or the agreement decides wet film, hardness and
// screw pull; what failed decides a bond coupon, the term bite what a fastener needs.
var checkWords = sync.OnceValue(func() []Word {
	return listed("checks", commonPractice, []Word{
		{
			Name: "pins", Means: "moisture of timber or ply", Carries: carries("moisture", "ground-temp"),
			Source: "closed at 15.0 %, common practice, no source; wood is bonded at 6 to 15 %, adhesive-bonding handbook; " +
				"decay can live over 20 %, US Navy MO-312 chapter 4",
		},
		{Name: "pinless", Means: "a relative scan, never a percentage", Carries: carries("number dry-number", "")},
		{Name: "core-sample", Means: "water in foam by weight", Carries: carries("wet-mass dry-mass", "")},
		{
			Name: "hall-air", Means: "air for drying and gluing", Carries: carries("air-temp humidity", ""),
			Source: "ground 3.0 K over the dew point: practice of ISO 8502-4, from memory",
		},
		{Name: "tap", Means: "hollow places", Carries: carries("area", ""), Passes: passesUsually("tap")},
		{Name: "awl", Means: "sound wood", Carries: carries("depth", ""), Passes: passesUsually("awl")},
		{
			Name: "seam-probe", Means: "a blunt hook along the whole lap",
			Carries: carries("length voids", ""), Passes: passesNone("voids"),
		},
		{
			Name: "weld-strip", Means: "the strip welded that day", Carries: carries("peel", "weld-temp speed"),
			Passes: passesUsually("weld-strip"), Source: "order of values in EN 12316-2, from memory; the maker's sheet rules",
		},
		{
			Name: "peel-in-place", Means: "a suspected weld pulled where it lies", Carries: carries("peel", ""),
			Passes: passesUsually("peel-in-place"), Source: "order of values in EN 12316-2, from memory; the maker's sheet rules",
		},
		{
			Name: "foam-coupon", Means: "does it eat the foam", Carries: carries("lasted loss", ""),
			Passes: passesUsually("foam-coupon"),
		},
		{Name: "bond-coupon", Means: "does it hold", Carries: carries("", "force")},
		{
			Name: "hose", Means: "water strip by strip, low to high", Carries: carries("strip flow lasted rise", "after"),
			Passes: passesUsually("hose"),
			Source: "3.4 L/(m2 min): ASTM E1105, from memory; 15 min and the rise: common practice, no source",
		},
		{
			Name: "dam", Means: "a shallow flood, no drop and no rise", Carries: carries("depth lasted", "rise"),
			Passes: passesUsually("dam"),
		},
		{
			Name: "air-and-soap", Means: "blower inside, soap outside",
			Carries: carries("pressure bubbles", ""), Passes: passesNone("bubbles"),
		},
		{
			Name: "straight-edge", Means: "hollows", Carries: carries("gap under", ""),
			Passes: passesUsually("straight-edge"),
		},
		{
			Name: "standing-water-look", Says: "look for standing water", Means: "what stands 48 h after water",
			Carries: carries("depth", ""), Passes: passesUsually("standing-water-look"),
		},
		{Name: "fall", Means: "slope, at least as steep as 1:80", Carries: carries("slope", ""), Passes: passesUsually("fall")},
		{
			Name: "foot-test", Means: "stiffness underfoot", Carries: carries("deflection mass", ""),
			Passes: passesUsually("foot-test"),
		},
		{Name: "screw-pull", Means: "hold in the backing", Carries: carries("force", "")},
		{
			Name: "bite", Means: "leg less what it only passes", Carries: carries("leg over-layer", ""),
			Source: "common practice, no source; NDS-2018 asks 6 shanks for a load from the side",
		},
		{Name: "wet-film", Means: "thickness of a coat just laid", Carries: carries("film", "")},
		{Name: "hardness", Means: "how far it has cured", Carries: carries("shore", "")},
		{Name: "thermal-camera", Means: "a picture, an indication only", Carries: carries("", "difference outside-temp")},
		{Name: "photo-look", Means: "the place before it is hidden"},
	})
})

// passesNone is a limit no shop sets: nothing open, no bubble.
func passesNone(quantity string) *Passes {
	return &Passes{Quantity: quantity, AtMost: limitOf(0), Source: commonPractice}
}

// passesUsually is the limit of the terms table, at its usual values.
func passesUsually(check string) *Passes {
	t, ok := TermOf(check)
	if !ok {
		return nil
	}
	p, err := t.Passes(t.Usual, t.Source)
	if err != nil {
		return nil
	}
	return p
}

// FailurePasses says whether what failed in a check, a word of the list "fail",
// lets it pass; known is false where it does not decide. In a bond coupon the
// ground fails and not the glue; a weld tears the sheet and does not open.
// Common practice, no source.
func FailurePasses(check, failure string) (pass, known bool) {
	switch check + " " + failure {
	case "bond-coupon foam-fails", "bond-coupon wood-fails", "weld-strip sheet-tears", "peel-in-place sheet-tears":
		return true, true
	case "bond-coupon glue-fails", "weld-strip lap-opens", "peel-in-place lap-opens":
		return false, true
	}
	return false, false
}

var failWords = sync.OnceValue(func() []Word {
	return listed("fail", ownWord, []Word{
		{Name: "foam-fails", Means: "the foam tore, not the glue"},
		{Name: "wood-fails", Means: "the wood tore, not the glue"},
		{Name: "glue-fails", Means: "the glue let go"},
		{Name: "mixed", Means: "partly the ground, partly the glue"},
		{Name: "sheet-tears", Means: "the sheet tore, not the lap"},
		{Name: "lap-opens", Means: "the lap came open"},
	})
})

var stageWords = sync.OnceValue(func() []Word {
	return listed("stages", commonPractice, []Word{
		{Name: "press-off", Means: "weights, strips or vacuum may come off"},
		{Name: "load", Means: "it may bear a unit and may be closed over"},
		{Name: "water", Means: "the sealant is cured through and may meet water"},
	})
})

var scaleWords = sync.OnceValue(func() []Word {
	return listed("scale", ownWord, []Word{
		{Name: "softwood", Means: "the meter stood on softwood"},
		{Name: "hardwood", Means: "the meter stood on hardwood"},
		{Name: "ply", Says: "plywood", Means: "the meter stood on plywood"},
		{Name: "relative", Means: "a scale of its own, no percentage"},
	})
})

var cureSourceWords = sync.OnceValue(func() []Word {
	return listed("cure-source", ownWord, []Word{
		{Name: "thermometer", Means: "read by hand off a thermometer"},
		{Name: "min-max", Says: "min-max thermometer", Means: "read off one that keeps the lowest and the highest"},
		{Name: "logger", Means: "written down by an instrument"},
	}, borrowed(sureWords(), "told"))
})

// The answers of Fit.
const (
	FitHolds      = "holds"       // goes
	FitFoamCoupon = "foam-coupon" // only after that check passed on both lots
	FitBondCoupon = "bond-coupon" // only after that check passed on both lots
	FitPrimer     = "primer"      // only after prime there
	FitLayer      = "layer"       // only with a layer between
	FitNoBond     = "no-bond"     // does not bond
	FitEats       = "eats"        // dissolves it
)

// OldBitumen is a ground that a roof may have and that no lot is of.
const OldBitumen = "old-bitumen"

// Fit returns how material a goes on ground b; known is false for a pair that
// is not in the table. On foam such a pair asks for a foam coupon. solvent says
// that a primer, cleaner, preservative or coat is in solvent, not in alcohol or
// water; foamSafe that the sheet of a spray glue calls it safe on foam. A sheet
// on its own kind is a weld. Common practice, no source, but for the rows that
// name one.
func Fit(a, b string, solvent, foamSafe bool) (fit string, known bool) {
	switch {
	case !GoesOn(a):
		return "", false
	case b == "silicone":
		return FitNoBond, true
	}
	mild := !solvent
	if isGlue(a) {
		mild = foamSafe
	}
	ground := slices.IndexFunc(fitGrounds, func(g []string) bool { return slices.Contains(g, b) })
	row := slices.IndexFunc(fitRows(), func(r fitRow) bool { return slices.Contains(r.of, a) && (mild || !r.mild) })
	if ground >= 0 && row >= 0 {
		fit = fitRows()[row].on[ground]
	}
	if fit == "" && isFoam(b) {
		fit = FitFoamCoupon
	}
	return fit, fit != ""
}

// fitGrounds are the columns of the table of fits.
var fitGrounds = [][]string{
	{"foam-eps", "foam-xps"},
	{"foam-pur"},
	{"plywood", "timber"},
	{"skin-sheet"},
	{"membrane-tpo"},
	{"membrane-epdm"},
	{"membrane-pvc"},
	{OldBitumen},
}

// fitRow says how the materials of a row go on each ground, "" = not in the
// table. A mild row holds without solvent or foam-safe and stands before the
// other one.
type fitRow struct {
	of   []string
	mild bool
	on   [8]string
}

var fitRows = sync.OnceValue(tableOfFits)

func tableOfFits() []fitRow {
	const (
		hold = FitHolds
		foam = FitFoamCoupon
		bond = FitBondCoupon
		prim = FitPrimer
		lay  = FitLayer
		none = FitNoBond
		eats = FitEats
	)
	return []fitRow{
		{of: []string{"glue-pu-two-part", "glue-epoxy"}, on: [8]string{hold, hold, hold, hold, bond, bond, bond}},
		{of: []string{"glue-pu-moisture", "glue-water-based"}, on: [8]string{bond, bond, hold, bond, bond, bond, bond}},
		// Styrene.
		{of: []string{"glue-polyester"}, on: [8]string{eats, hold, hold, bond, bond, bond, bond}},
		{of: []string{"glue-spray"}, mild: true, on: [8]string{foam, foam, hold, hold, bond, bond, bond}},
		{of: []string{"glue-solvent-contact", "glue-spray"}, on: [8]string{eats, foam, hold, hold, bond, bond, bond}},
		{of: []string{"glue-pva"}, on: [8]string{none, none, hold, none, bond, bond, bond}},
		{of: []string{"primer", "cleaner", "preservative"}, mild: true, on: [8]string{foam, foam, hold, hold}},
		{of: []string{"primer", "cleaner"}, on: [8]string{eats, foam, hold, hold, bond, bond, bond}},
		{of: []string{"preservative"}, on: [8]string{eats, foam, hold, hold}},
		{of: []string{"liquid-coat"}, mild: true, on: [8]string{foam, foam, hold, hold, bond, bond, bond}},
		{of: []string{"liquid-coat"}, on: [8]string{eats, foam, hold, hold, bond, bond, bond}},
		{of: []string{"lap-sealant", "sealant-non-sag"}, on: [8]string{foam, hold, hold, hold, bond, bond, bond}},
		// US VA master specification 07 54 23, note 8: neither polystyrene nor urethane directly under TPO.
		{of: []string{"membrane-tpo"}, on: [8]string{lay, lay, hold, bond, hold, none, none, bond}},
		// A dark sheet; EPS softens above 70 C, page of a producer. EPDM is never welded.
		{of: []string{"membrane-epdm"}, on: [8]string{lay, bond, hold, bond, none, "", none, lay}},
		// The plasticiser wanders.
		{of: []string{"membrane-pvc"}, on: [8]string{lay, bond, hold, bond, none, none, hold, lay}},
		{of: []string{"silicone"}, on: [8]string{none, none, none, none}},
		// Clamped under a flange.
		{of: []string{"butyl-tape"}, on: [8]string{4: hold, 5: hold, 6: bond}},
		// PVC is welded.
		{of: []string{"seam-tape", "cover-tape"}, on: [8]string{4: prim, 5: prim, 6: none}},
	}
}
