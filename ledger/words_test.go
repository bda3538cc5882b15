package ledger_test

import (
	"encoding/json"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/testdata"
)

// The words of format version 1 that carry quantities, as the format was
// agreed: the word, what it carries, "!" = must. Words are never taken away.
const carryingWords = `
defects: torn-membrane length diameter ; cracked-skin length diameter ; worn-membrane left thickness ;
  corroded-skin count ; peeling-coat ; blister count diameter height film ; bridging gap! pull length ;
  fishmouth length! depth width ; open-seam length! depth ; cold-weld peel! length ; burnt-weld length ;
  tape-only-edge length! width ; lifted-edge height! length! ; over-deck-step height! length! ;
  short-part gap! length! short-by ; split-sealant length! gap ; wrong-sealant length ;
  starved-bed length! width short-by ; narrow-flange flange! needed! ; low-curb height! needed! ;
  crazed-lid length ; flat-gasket left thickness ; open-hole diameter! count ; failed-fastener count! height ;
  short-bite leg! over-layer! spacing count ; stray-screws count! length diameter ;
  soft-deck deflection! mass! ; delamination gap ; eaten-foam groove! thickness! ;
  crushed-core left! thickness! ; wet-core wet-mass dry-mass number dry-number ;
  rot depth! thickness! length area ; wet-timber moisture! ; split-board length spacing ;
  broken-frame section-left ; standing-water depth! ; stain
causes: past-seam ; past-edge ; past-fitting ; past-fastener count ; past-joint gap ; through-skin ;
  from-uphill ; condensation humidity air-temp surface-temp ; ac-condensate ; plumbing ; blocked-drain ;
  bad-weld peel ; poor-preparation ; wrong-fastening leg over-layer ; starved-glue spread ; wrong-glue ;
  closed-wet moisture ; cut-short short-by ; silicone-residue ; no-fall slope ; unit-load mass pressure ;
  new-opening count ; owner-screw count ; aged-sealant age ; weathering age ; missed-upkeep missed ;
  body-flexing ; foot-load mass ; material-fault ; branch-strike ; hail stone ; collision ; spill ; fire ;
  animal ; not-found
operations: tarp ; open-up ; take-off-fitting ; dry-out lasted air-temp humidity ; strip ;
  strip-sealant length ; make-good length ; cut-out section! beyond-rot length ;
  sister section! overlap length ; splice scarf! section ; replace-member section! length scarf ;
  treat treated ; composite-backing thickness spacing ; fit-core thickness ; lay-deck thickness gap ;
  spreader size! pressure! thickness ; level depth slope ; laminate area spread ; press pressure spacing ;
  fasten leg! over-layer! spacing count ; prime flash ; lay-membrane spread ; reskin spread ;
  patch overlap! size ; weld weld-temp! speed! overlap! length! ; bond-seam overlap! length! ;
  terminate-edge spacing ; curb height! ; counter-flash height ; widen-flange flange! ; refit-fitting ;
  bed thickness width ; cap-seal bead! length ; coat film coats
checks: pins moisture! ground-temp ; pinless number! dry-number! ; core-sample wet-mass! dry-mass! ;
  hall-air air-temp! humidity! ; tap area! ; awl depth! ; seam-probe length! voids! ;
  weld-strip peel! weld-temp speed ; peel-in-place peel! ; foam-coupon lasted! loss! ; bond-coupon force ;
  hose strip! flow! lasted! rise! after ; dam depth! lasted! rise ; air-and-soap pressure! bubbles! ;
  straight-edge gap! under! ; standing-water-look depth! ; fall slope! ; foot-test deflection! mass! ;
  screw-pull force! ; bite leg! over-layer! ; wet-film film! ; hardness shore! ;
  thermal-camera difference outside-temp ; photo-look`

// The other words of format version 1. Words are never taken away.
const plainWords = `
elements: deck-field front-joint rear-joint front-cap rear-cap front-radius rear-radius left-edge right-edge
  gutter-rail corner-moulding trim-insert awning-rail topper-rail slide-roof cab-over bunk-floor edge-member
  front-header rear-header rafter top-plate side-wall-head front-wall-skin rear-wall-skin tie-in seam deck-joint
  roof-vent skylight hatch air-conditioner refrigerator-vent plumbing-vent flue cable-gland marker-light camera
  antenna solar-mount rack-mount dish-mount ladder-mount
layers: coating membrane over-deck skin deck core inner-ply frame air-space lining
deep: on-the-face in-the-skin in-the-deck in-the-core in-the-frame through-indoors
soon: no-need next-upkeep before-wet-season before-rain before-walking before-driving
sure: measured seen judged told not-looked-at
whose: factory factory-later dealer our-shop other-shop present-owner former-owner wear-or-weather unknown
known: seen-being-done paper told-by from-signs not-asked
choice: repair-now repair-by leave holder-does another-shop only-make-tight look-further refuse-opening
  no-answer agree-extra
promise: watertight-membrane watertight-fitting watertight-edge watertight-tie-in bond sound-frame
  no-standing-water materials resulting-damage
exclusion: branch-strike hail collision foot-load spill fire animal new-opening owner-screw body-flexing
  condensation ac-condensate plumbing from-uphill owner-work left-trouble appearance contents upkeep-wear delay
  maker-only
condition: yearly-upkeep report-within first-look keep-from-worsening tell-of-sale transfers-at-most
  no-new-holes load-limit cleaner-list use-kind bring-to-shop let-open-up
trouble: leak bond rot break standing-water
verdict: covered covered-in-part not-covered cannot-say-yet shops-unfinished-work no-verdict
ruling: as-the-verdict goodwill-beyond to-holders-loss
ended: holder-let-go coach-destroyed paid-out
stages: press-off load water
how: in-person phone message on-paper
paper: findings certificate history upkeep-slip claim-answer bundle
material: membrane-tpo membrane-epdm membrane-pvc skin-sheet plywood composite-board timber glass-mat foam-eps
  foam-xps foam-pur glue-pu-two-part glue-pu-moisture glue-epoxy glue-polyester glue-solvent-contact
  glue-water-based glue-spray glue-pva lap-sealant sealant-non-sag silicone liquid-coat filler butyl-tape
  seam-tape cover-tape gasket primer cleaner preservative fasteners termination-bar moulding new-fitting
between: membrane-deck skin-ply ply-ply ply-core
state-of: backed-out turning-free rusted filled open
fastener: staple screw nail rivet
fail: foam-fails wood-fails glue-fails mixed sheet-tears lap-opens
madesafe: gas-off mains-off inverter-off solar-covered water-off roof-cleared
scale: softwood hardwood ply relative
state: open closed
cure-source: thermometer min-max logger told
title: full limited
reader: shop holder buyer later-shop
carried-on: print mail stick
done-by: our-shop other-shop holder
did: done resealed left not-reached
reason: planned lost stolen person-left
nose: nose-up nose-down
wall: left right front rear
side: left middle right
holder-says: agrees disputes nothing-yet
goes-on: goes-on-here goes-on-there
own-look: done to-do
ground: asked time-limit
standing: ended withdrawn taken-back
odometer-unit: km mi
lot-unit: g ml mm mm2 piece
later-work: what stands on a roof, and what is done to one
shop-side: bad-weld poor-preparation wrong-fastening starved-glue wrong-glue closed-wet cut-short material-fault`

// agreed reads one of the texts above: the name of each list, and what stands
// behind it, in their order.
func agreed(text string) (names []string, bodies map[string]string) {
	bodies = map[string]string{}
	for line := range strings.Lines(strings.TrimSpace(text)) {
		if name, body, found := strings.Cut(line, ":"); found {
			names = append(names, name)
			bodies[name] = body
		} else {
			bodies[names[len(names)-1]] += " " + line
		}
	}
	return names, bodies
}

func TestCarryingWordsAreComplete(t *testing.T) {
	names, bodies := agreed(carryingWords)
	counts := map[string]int{"defects": 37, "causes": 36, "operations": 34, "checks": 24}
	require.Len(t, names, len(counts))
	for _, list := range names {
		items := strings.Split(bodies[list], ";")
		words := ledger.WordsOf(list)
		require.Len(t, words, counts[list], list)
		require.Len(t, items, counts[list], list)
		for i, w := range words {
			said := []string{w.Name}
			for _, c := range w.Carries {
				name := c.Quantity
				if c.Must {
					name += "!"
				}
				said = append(said, name)
			}
			require.Equal(t, strings.Fields(items[i]), said, list)
		}
	}
}

func TestListsAreComplete(t *testing.T) {
	carrying, _ := agreed(carryingWords)
	names, bodies := agreed(plainWords)
	require.Equal(t, append(carrying, names...), ledger.Lists())
	bodies["later-work"] = bodies["elements"] // and every operation
	for _, w := range ledger.WordsOf("operations") {
		bodies["later-work"] += " " + w.Name
	}
	for _, list := range names {
		var said []string
		for _, w := range ledger.WordsOf(list) {
			said = append(said, w.Name)
		}
		require.Equal(t, strings.Fields(bodies[list]), said, list)
	}
}

func TestEachWordIsWhole(t *testing.T) {
	form := regexp.MustCompile(`^[a-z][a-z0-9-]{0,39}$`)
	for _, list := range ledger.Lists() {
		seen := map[string]bool{}
		for _, w := range ledger.WordsOf(list) {
			require.Regexp(t, form, w.Name, list)
			require.False(t, seen[w.Name], "%s twice in %s", w.Name, list)
			seen[w.Name] = true
			require.NotEmpty(t, w.Means, w.Name)
			require.False(t, strings.HasSuffix(w.Means, "."), w.Name)
			require.NotEmpty(t, w.Source, w.Name)
			require.NotEqual(t, strings.ReplaceAll(w.Name, "-", " "), w.Says, "says no more than its name")
			found, ok := ledger.WordIn(list, w.Name)
			require.True(t, ok)
			require.Equal(t, w, found)
		}
	}
	_, ok := ledger.WordIn("defects", "hail")
	require.False(t, ok, "hail is a cause")
	_, ok = ledger.WordIn("colours", "red")
	require.False(t, ok)
	require.Nil(t, ledger.WordsOf("colours"))
}

// A word that stands in two lists means the same in both and is declared in one
// of them. One word is said of two things: a place left as it was, and the left
// side.
func TestOneWordOneMeaning(t *testing.T) {
	homes := map[string]map[string]ledger.Word{}
	for _, list := range ledger.Lists() {
		for _, w := range ledger.WordsOf(list) {
			if homes[w.Name] == nil {
				homes[w.Name] = map[string]ledger.Word{}
			}
			home, ok := ledger.WordIn(w.List, w.Name)
			require.True(t, ok, "%s is not in its own list %s", w.Name, w.List)
			require.Equal(t, home, w)
			homes[w.Name][w.List] = w
		}
	}
	for name, lists := range homes {
		if name == "left" {
			require.Len(t, lists, 2)
			continue
		}
		require.Len(t, lists, 1, name)
	}
}

func TestWordsNameWhatExists(t *testing.T) {
	for _, list := range ledger.Lists() {
		for _, w := range ledger.WordsOf(list) {
			carried := map[string]bool{}
			for _, c := range w.Carries {
				_, known := ledger.QuantityNamed(c.Quantity)
				require.True(t, known, "%s carries %s", w.Name, c.Quantity)
				require.False(t, carried[c.Quantity], "%s carries %s twice", w.Name, c.Quantity)
				carried[c.Quantity] = true
			}
			for _, layer := range w.Layers {
				_, known := ledger.WordIn("layers", layer)
				require.True(t, known, "%s lies in %s", w.Name, layer)
			}
			if w.Passes == nil {
				continue
			}
			require.Equal(t, "checks", list)
			for _, p := range append([]ledger.Passes{*w.Passes}, w.Passes.Also...) {
				require.True(t, carried[p.Quantity], "%s passes by %s", w.Name, p.Quantity)
				require.NotEqual(t, p.AtMost == nil, p.AtLeast == nil, w.Name)
				require.NotEmpty(t, p.Source)
			}
		}
	}
}

func TestWordsAreCopies(t *testing.T) {
	for _, list := range []string{"checks", "defects"} {
		before := written(t, list)
		for _, w := range ledger.WordsOf(list) {
			spoil(w)
			found, _ := ledger.WordIn(list, w.Name)
			spoil(found)
		}
		require.Equal(t, before, written(t, list))
	}
	for _, q := range ledger.Promises() {
		for i := range q.Layers {
			q.Layers[i] = "spoilt"
		}
	}
	for _, p := range ledger.Promises() {
		require.NotContains(t, p.Layers, "spoilt")
	}
}

// written is a list of words as text, which nothing can change afterwards.
func written(t *testing.T, list string) string {
	t.Helper()
	text, err := json.Marshal(ledger.WordsOf(list))
	require.NoError(t, err)
	return string(text)
}

func spoil(w ledger.Word) {
	for i := range w.Layers {
		w.Layers[i] = "spoilt"
	}
	for i := range w.Carries {
		w.Carries[i].Quantity = "spoilt"
	}
	if w.Passes == nil {
		return
	}
	for _, p := range append([]ledger.Passes{*w.Passes}, w.Passes.Also...) {
		if p.AtMost != nil {
			*p.AtMost = -1
		}
		if p.AtLeast != nil {
			*p.AtLeast = -1
		}
	}
	for i := range w.Passes.Also {
		w.Passes.Also[i].Quantity = "spoilt"
	}
}

// referenceRow is the row of a table with that quantity and those inputs.
func referenceRow(t *testing.T, file, quantity, inputs string) testdata.Row {
	t.Helper()
	rows := testdata.Reference(t, file)
	i := slices.IndexFunc(rows, func(r testdata.Row) bool { return r.Quantity == quantity && r.Inputs == inputs })
	require.GreaterOrEqual(t, i, 0, "%s, %s is not in %s", quantity, inputs, file)
	return rows[i]
}

// limitIn returns the limit of a check on a quantity.
func limitIn(t *testing.T, check, quantity string) (limit int64, source string) {
	t.Helper()
	w, ok := ledger.WordIn("checks", check)
	require.True(t, ok)
	require.NotNil(t, w.Passes, check)
	for _, p := range append([]ledger.Passes{*w.Passes}, w.Passes.Also...) {
		if p.Quantity == quantity && p.AtMost != nil {
			return *p.AtMost, p.Source
		}
		if p.Quantity == quantity {
			return *p.AtLeast, p.Source
		}
	}
	t.Fatalf("%s has no limit on %s", check, quantity)
	return 0, ""
}

// The limits of checks against the trade's values in materials.csv, where they
// stand as common practice or, the peel of EN 12316-2, as from memory.
func TestLimitsOfChecks(t *testing.T) {
	cases := []struct {
		row, of         string // the row
		check, quantity string
		unit            float64 // what 1 of the row's unit is in the quantity's
	}{
		{"loss at most", "foam coupon", "foam-coupon", "loss", 1000},
		{"rise indoors at most", "hose test", "hose", "rise", 10},
		{"depth at most", "dam test", "dam", "depth", 1},
		{"hollow under 1.5 m straight-edge at most", "deck", "straight-edge", "gap", 1},
		{"fall at least", "deck", "fall", "slope", 1},
		{"bend at most", "deck", "foot-test", "deflection", 1},
		{"depth at most", "awl", "awl", "depth", 1},
		{"peel at least", "weld strip", "weld-strip", "peel", 1},
		{"peel at least", "weld strip", "peel-in-place", "peel", 1},
	}
	for _, c := range cases {
		row := referenceRow(t, "materials.csv", c.row, c.of)
		value, err := strconv.ParseFloat(strings.TrimPrefix(row.Value, "1:"), 64)
		require.NoError(t, err)
		limit, source := limitIn(t, c.check, c.quantity)
		require.InDelta(t, value*c.unit, float64(limit), 1e-9, c.check)
		w, _ := ledger.WordIn("checks", c.check)
		if row.Status == "from-memory" {
			require.Contains(t, w.Source, "from memory", c.check)
			require.Equal(t, "order of EN 12316-2, from memory", source)
		} else {
			require.Equal(t, "common practice, no source", source, c.check)
		}
	}
}

// How a check itself must be made, against the same rows.
func TestHowChecksAreMade(t *testing.T) {
	cases := []struct {
		row, of, says   string // the row, and where it says so
		check, quantity string
		limit           int64
	}{
		{"loss at most", "foam coupon", "mm in 24 h", "foam-coupon", "lasted", 24 * 60},
		{"rate", "hose test", "15 min per strip", "hose", "lasted", 15},
		{"depth at most", "dam test", "2 h", "dam", "lasted", 2 * 60},
		{"hollow under 1.5 m straight-edge at most", "deck", "under 1.5 m", "straight-edge", "under", 1500},
		{"bend at most", "deck", "under 80 kg", "foot-test", "mass", 80_000},
	}
	for _, c := range cases {
		row := referenceRow(t, "materials.csv", c.row, c.of)
		require.Contains(t, row.Quantity+" "+row.Unit+" "+row.Source+" "+row.Locator, c.says)
		limit, _ := limitIn(t, c.check, c.quantity)
		require.Equal(t, c.limit, limit, c.check)
	}
}

// What passes by a rule, a sheet or an agreement has no limit of its own: a
// plain reading of pins never passes.
func TestChecksWithoutLimit(t *testing.T) {
	for _, name := range []string{
		"pins", "pinless", "core-sample", "hall-air", "bond-coupon", "screw-pull", "bite", "wet-film", "hardness",
		"thermal-camera", "photo-look",
	} {
		w, ok := ledger.WordIn("checks", name)
		require.True(t, ok)
		require.Nil(t, w.Passes, name)
	}
}

// What failed decides. The weld strip: materials.csv, a film-tearing bond
// passes, an opening weld fails.
func TestFailurePasses(t *testing.T) {
	row := referenceRow(t, "materials.csv", "acceptance of test strip", "hot-air weld")
	require.Equal(t, "film-tearing bond: cap/core tears off scrim; weld opening = fail", row.Value)
	decided := 0
	for _, check := range ledger.WordsOf("checks") {
		for _, failure := range ledger.WordsOf("fail") {
			pass, known := ledger.FailurePasses(check.Name, failure.Name)
			if !known {
				require.False(t, pass)
				continue
			}
			decided++
			good := []string{"foam-fails", "wood-fails", "sheet-tears"}
			require.Equal(t, slices.Contains(good, failure.Name), pass, "%s %s", check.Name, failure.Name)
		}
	}
	require.Equal(t, 7, decided)
}

// solventsOf says in which liquids a material comes.
var solventsOf = map[string][]string{
	"glue-polyester":       {"styrene"},
	"glue-solvent-contact": {"acetone", "toluene", "cyclohexane", "heptane"},
	"glue-spray":           {"acetone", "dichloromethane", "heptane"},
	"primer":               {"toluene", "o-xylene", "ethylbenzene"},
	"cleaner":              {"acetone", "methyl acetate", "heptane"},
	"preservative":         {"o-xylene", "mesitylene"},
	"liquid-coat":          {"o-xylene", "butyl acetate"},
}

// Polystyrene against solvents.csv (resistance lists for expanded polystyrene):
// what comes in an attacking liquid eats the foam, what comes in alcohol or
// water does not but still asks for a coupon.
func TestFitOnPolystyrene(t *testing.T) {
	attacks := map[string]string{}
	for _, row := range testdata.Reference(t, "solvents.csv") {
		if row.Quantity == "attacks polystyrene foam" {
			attacks[strings.TrimPrefix(row.Inputs, "liquid=")] = row.Value
		}
	}
	for _, foam := range []string{"foam-eps", "foam-xps"} {
		for material, liquids := range solventsOf {
			attacked := 0
			for _, liquid := range liquids {
				if attacks[liquid] == "yes" {
					attacked++
				}
			}
			require.Positive(t, attacked, material)
			fit, known := ledger.Fit(material, foam, true, false)
			require.True(t, known)
			require.Equal(t, ledger.FitEats, fit, "%s on %s", material, foam)
		}
		for _, liquid := range []string{"water", "2-propanol", "1-propanol"} {
			require.Equal(t, "no", attacks[liquid])
		}
		for _, material := range []string{"primer", "cleaner", "preservative", "liquid-coat"} {
			fit, _ := ledger.Fit(material, foam, false, false)
			require.Equal(t, ledger.FitFoamCoupon, fit, material)
		}
		// A plasticiser attacks, slowly: the sheet that holds it needs a layer between.
		require.Equal(t, "yes", attacks["dibutyl phthalate (plasticiser)"])
		fit, _ := ledger.Fit("membrane-pvc", foam, true, false)
		require.Equal(t, ledger.FitLayer, fit)
	}
}

// Polyurethane foam against solvents.csv (rigid polyurethane foam association,
// 2006): solvents and alcohol are resisted only partly, so nothing that comes in
// them simply holds.
func TestFitOnPolyurethaneFoam(t *testing.T) {
	for liquid, materials := range map[string][]string{
		"toluene, chlorobenzene": {"glue-solvent-contact", "glue-spray", "primer", "cleaner", "liquid-coat"},
		"acetone, ethyl acetate": {"glue-solvent-contact", "cleaner"},
	} {
		require.Equal(t, "partly", referenceRow(t, "solvents.csv", "polyurethane foam against", "liquid="+liquid).Value)
		for _, material := range materials {
			fit, _ := ledger.Fit(material, "foam-pur", true, false)
			require.Equal(t, ledger.FitFoamCoupon, fit, material)
		}
	}
	require.Equal(t, "partly", referenceRow(t, "solvents.csv", "polyurethane foam against", "liquid=ethyl alcohol").Value)
	fit, _ := ledger.Fit("primer", "foam-pur", false, false)
	require.Equal(t, ledger.FitFoamCoupon, fit)
}

// No foam directly under TPO: US VA master specification 07 54 23, note 8.
func TestFitOfTPO(t *testing.T) {
	row := referenceRow(t, "materials.csv", "separator needed", "EPS under membrane")
	require.Contains(t, row.Value, "no polystyrene or urethane insulation directly under TPO")
	require.Equal(t, "published", row.Status)
	for _, foam := range []string{"foam-eps", "foam-xps", "foam-pur"} {
		fit, known := ledger.Fit("membrane-tpo", foam, true, false)
		require.True(t, known)
		require.Equal(t, ledger.FitLayer, fit)
	}
}

// Common practice, no source.
func TestFit(t *testing.T) {
	cases := []struct {
		a, b              string
		solvent, foamSafe bool
		fit               string
	}{
		{"glue-pu-two-part", "foam-xps", true, false, "holds"},
		{"glue-pu-moisture", "skin-sheet", true, false, "bond-coupon"},
		{"glue-spray", "foam-eps", true, true, "foam-coupon"},
		{"glue-solvent-contact", "foam-eps", true, true, "eats"},
		{"glue-pva", "timber", true, false, "holds"},
		{"glue-pva", "skin-sheet", true, false, "no-bond"},
		{"lap-sealant", "membrane-pvc", true, false, "bond-coupon"},
		{"butyl-tape", "membrane-epdm", true, false, "holds"},
		{"butyl-tape", "membrane-pvc", true, false, "bond-coupon"},
		{"seam-tape", "membrane-tpo", true, false, "primer"},
		{"cover-tape", "membrane-pvc", true, false, "no-bond"},
		{"seam-tape", "foam-eps", true, false, "foam-coupon"}, // not in the table, on foam
		{"filler", "foam-pur", false, false, "foam-coupon"},   // the same
		{"membrane-pvc", "membrane-tpo", true, false, "no-bond"},
		{"membrane-pvc", "membrane-pvc", true, false, "holds"},
		{"membrane-epdm", "membrane-epdm", true, false, ""}, // never welded
		{"membrane-epdm", "old-bitumen", true, false, "layer"},
		{"lap-sealant", "silicone", true, false, "no-bond"},
		{"silicone", "plywood", true, false, "no-bond"},
		{"filler", "plywood", true, false, ""},
		{"cleaner", "membrane-tpo", false, false, ""},
		{"plywood", "foam-eps", true, false, ""}, // a board is not put on, it is glued
		{"glue-of-tomorrow", "foam-eps", true, false, ""},
		{"glue-epoxy", "foam-of-tomorrow", true, false, ""},
	}
	for _, c := range cases {
		fit, known := ledger.Fit(c.a, c.b, c.solvent, c.foamSafe)
		require.Equal(t, c.fit, fit, "%s on %s", c.a, c.b)
		require.Equal(t, c.fit != "", known, "%s on %s", c.a, c.b)
	}
	for _, w := range ledger.WordsOf("material") {
		if !ledger.GoesOn(w.Name) {
			continue
		}
		for _, foam := range []string{"foam-eps", "foam-xps", "foam-pur"} {
			_, known := ledger.Fit(w.Name, foam, true, false)
			require.True(t, known, "%s on %s", w.Name, foam)
		}
	}
}

// Butyl tape does not cure, a moisture-cure adhesive, a lap sealant and a
// silicone do: materials.csv, from memory.
func TestCures(t *testing.T) {
	require.Equal(t, "none (pressure sensitive)", referenceRow(t, "materials.csv", "cure", "butyl tape").Value)
	for _, row := range [][2]string{
		{"full cure", "1-part moisture-cure PU adhesive"},
		{"full cure", "2-part PU foam/laminating adhesive"},
		{"full cure", "self-levelling lap sealant"},
		{"depth after 7 days", "one-part RTV silicone"},
	} {
		require.NotEmpty(t, referenceRow(t, "materials.csv", row[0], row[1]).Value)
	}
	cure := strings.Fields(`glue-pu-two-part glue-pu-moisture glue-epoxy glue-polyester glue-solvent-contact
		glue-water-based glue-spray glue-pva lap-sealant sealant-non-sag silicone liquid-coat filler`)
	for _, w := range ledger.WordsOf("material") {
		require.Equal(t, slices.Contains(cure, w.Name), ledger.Cures(w.Name), w.Name)
	}
	require.False(t, ledger.Cures("glue-of-tomorrow"))
}

func TestTroubleOf(t *testing.T) {
	rest := map[string]string{
		"delamination": "bond", "soft-deck": "bond", "eaten-foam": "bond", "crushed-core": "bond",
		"rot": "rot", "wet-timber": "rot", "split-board": "break", "broken-frame": "break",
		"standing-water": "standing-water",
	}
	for _, w := range ledger.WordsOf("defects") {
		want, ok := rest[w.Name]
		if !ok {
			want = "leak"
		}
		require.Equal(t, want, ledger.TroubleOf(w.Name), w.Name)
		_, known := ledger.WordIn("trouble", want)
		require.True(t, known)
	}
	require.Empty(t, ledger.TroubleOf("hail"))
}

func TestPromises(t *testing.T) {
	all := ledger.Promises()
	words := ledger.WordsOf("promise")
	require.Len(t, all, len(words))
	order := map[int]string{}
	answered := map[string]bool{}
	for i, p := range all {
		require.Equal(t, words[i].Name, p.Name)
		if p.Width < 0 {
			require.Empty(t, p.Answers)
			require.Empty(t, p.Checks)
			continue
		}
		order[p.Width] = p.Name
		for _, trouble := range p.Answers {
			answered[trouble] = true
		}
		names := map[string][]string{"trouble": p.Answers, "layers": p.Layers, "operations": p.ClosedBy, "checks": {p.Shows}}
		for _, c := range p.Checks {
			names["checks"] = append(names["checks"], c.OneOf...)
			names["operations"] = append(names["operations"], c.After...)
		}
		for list, used := range names {
			for _, name := range used {
				_, known := ledger.WordIn(list, name)
				require.True(t, known, "%s names %s of %s", p.Name, name, list)
			}
		}
		for _, name := range p.ClosedBy {
			op, _ := ledger.WordIn("operations", name)
			require.True(t, slices.ContainsFunc(op.Layers, func(l string) bool { return slices.Contains(p.Layers, l) }),
				"%s closes %s", name, p.Name)
		}
	}
	require.Equal(t, map[int]string{
		0: "watertight-fitting", 1: "watertight-tie-in", 2: "watertight-edge", 3: "watertight-membrane", 4: "bond",
		5: "sound-frame", 6: "no-standing-water",
	}, order)
	for _, w := range ledger.WordsOf("trouble") {
		require.True(t, answered[w.Name], "nothing answers for %s", w.Name)
		require.NotEmpty(t, ledger.TroubleLayers(w.Name))
		for _, layer := range ledger.TroubleLayers(w.Name) {
			_, known := ledger.WordIn("layers", layer)
			require.True(t, known, layer)
		}
	}
	require.Nil(t, ledger.TroubleLayers("hail"))
}

// A cause is left out or is laid to the shop, never both.
func TestExclusionsAndShopSide(t *testing.T) {
	for _, w := range ledger.WordsOf("shop-side") {
		require.Equal(t, "causes", w.List)
		_, both := ledger.WordIn("exclusion", w.Name)
		require.False(t, both, w.Name)
	}
	causes := 0
	for _, w := range ledger.WordsOf("exclusion") {
		if w.List == "causes" {
			causes++
		}
	}
	require.Equal(t, 14, causes)
}
