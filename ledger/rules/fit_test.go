package rules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const fitKeys = "eats-foam no-coupon no-layer pair-unknown"

// delivery is a lot that came in.
func delivery(lot string) string { return "delivery: lot " + lot }

// Contact glue on XPS (TRIALS 7): not written as work, whichever way the foam is
// there: among the lots of the note, laid before, or as the coach was built.
func TestContactGlueOnFoam(t *testing.T) {
	const eats = "eats-foam refused: Solvent contact glue dissolves XPS foam: not written as work. If it is already on, write a finding eaten-foam, hand our-shop."
	const glue = ` layer deck+core, uses CX-88 3 kg, uses P-20-02 8.14 m2, area 13.42 m2`
	w := demoUpTo(t, "11.txt")
	w.sheets(on("2020-03-31", delivery(`CX-88, glue-solvent-contact, maker-lot "88", use-by 2020-12-31, amount 5 kg, spread-range 220/300 g/m2`)))
	require.Contains(t, w.asked(fitKeys, "2020-04-09", "work: laminate at 5100-7400 aft full width"+glue), eats, "laid by entry 31")
	require.Equal(t, []string{strings.Replace(eats, "XPS", "EPS", 1)}, w.asked(fitKeys, "2020-04-09", "work: laminate at 3700-4900 aft full width"+glue),
		"built so")
	require.Equal(t, []string{eats}, w.asked(fitKeys, "2020-04-09",
		"work: fit-core at 3700-4900 aft full width layer core, uses X-20-06 0.5 m2, thickness 38 mm; laminate at 3700-4900 aft full width"+glue))
	require.Equal(t, []string{eats}, w.asked(fitKeys, "2020-04-09",
		"work: laminate at 5100-7400 aft full width"+glue+`; override no-coupon, reason "fifteen characters", by foreman`), "a reason is no way out")
	require.Empty(t, w.asked(fitKeys, "2020-04-09", strings.Replace("work: laminate at 5100-7400 aft full width"+glue, "CX-88", "L-20-031", 1)))
}

// A pair that asks for a coupon holds once it passed on both lots, for twelve
// months; a pair that a sheet names holds without.
func TestCoupons(t *testing.T) {
	w := demoUpTo(t, "16.txt")
	const seal = "work: cap-seal at 5000-5100 aft 0-300 R, uses S-9 40 ml, bead 6 mm"
	const none = "no-coupon stopped: Lap sealant on PVC membrane only after a bond-coupon on these lots; none passed since "
	w.sheets(on("2020-04-15", delivery(`S-9, lap-sealant, maker-lot "9", use-by 2023-01-01, amount 300 ml`)))
	require.Equal(t, []string{none + "2019-04-16."}, w.asked(fitKeys, "2020-04-16", seal))
	const coupon = "check: bond-coupon, lot S-9, lot M-5520, material lap-sealant, onto membrane-pvc, "
	w.sheets(on("2020-04-15", coupon+"glue-fails"))
	require.Len(t, w.asked(fitKeys, "2020-04-16", seal), 1, "it did not pass")
	w.sheets(on("2020-04-15", strings.Replace(coupon, "M-5520", "M-1", 1)+"foam-fails"))
	require.Len(t, w.asked(fitKeys, "2020-04-16", seal), 1, "another lot")
	w.sheets(on("2020-04-15", coupon+"foam-fails"))
	require.Empty(t, w.asked(fitKeys, "2020-04-16", seal))
	require.Empty(t, w.asked(fitKeys, "2021-04-15", seal))
	require.Equal(t, []string{none + "2020-04-16."}, w.asked(fitKeys, "2021-04-16", seal), "twelve months are over")
	require.Empty(t, w.asked(fitKeys, "2020-04-16", strings.Replace(seal, "S-9", "20-0417", 1)), "its sheet names it")

	w.with("no-coupon", "6 months")
	c := w.limited("2020-12-01", seal)
	require.Equal(t, []string{"no-coupon 6 months"}, c)
}

// Where the ground has no lot a coupon of the lot onto its kind is enough.
func TestCouponOntoWhatWasBuilt(t *testing.T) {
	w := demoUpTo(t, "09.txt")
	w.sheets(on("2020-04-01", delivery(`G-1, glue-pu-moisture, maker-lot "1", use-by 2021-01-31, amount 3 kg, spread-range 100/200 g/m2`)))
	const glue = "work: laminate at 1000-1300 aft 0-300 R layer core, uses G-1 15 g, area 0.1 m2"
	says := w.asked(fitKeys, "2020-04-02", glue)
	require.Equal(t, []string{"no-coupon stopped: Moisture-curing PU glue on EPS foam only after a bond-coupon on these lots; none passed since 2019-04-02."}, says,
		"plywood above and below holds")
	w.sheets(on("2020-04-01", "check: bond-coupon, lot G-1, material glue-pu-moisture, onto foam-eps, foam-fails"))
	require.Empty(t, w.asked(fitKeys, "2020-04-02", glue))
}

func TestLayersAndPrimer(t *testing.T) {
	w := demoUpTo(t, "16.txt")
	w.sheets(on("2020-04-15", delivery(`T-9, seam-tape, maker-lot "9", amount 10000 mm, thickness 1 mm, width 75 mm`)),
		on("2020-04-15", delivery(`T-8, membrane-tpo, maker-lot "8", amount 4 m2, thickness 1.5 mm`)),
		on("2020-04-15", delivery(`E-9, membrane-epdm, maker-lot "9", amount 4 m2, thickness 1.5 mm`)),
		on("2020-04-15", delivery(`PR-1, primer, maker-lot "1", amount 500 ml, what "in alcohol"`)),
		on("2020-04-15", delivery(`B-9, butyl-tape, maker-lot "9", amount 10000 mm, thickness 3 mm, width 20 mm`)))
	at := " at 1000-1300 aft 0-300 R"
	strip := "work: strip" + at + " layer skin+deck; "
	require.Equal(t, []string{"no-layer stopped: TPO membrane on EPS foam needs a layer between."},
		w.asked(fitKeys, "2020-04-16", strip+"lay-membrane"+at+" layer membrane, uses T-8 0.1 m2"))
	require.Empty(t, w.asked(fitKeys, "2020-04-16", strip+"lay-deck"+at+", uses P-20-02 0.1 m2, thickness 4 mm; lay-membrane"+at+" layer membrane, uses T-8 0.1 m2"),
		"a board lies between")
	require.Equal(t, []string{"no-layer stopped: Seam tape does not bond to PVC membrane."},
		w.asked(fitKeys, "2020-04-16", "work: bond-seam at W1, uses T-9 400 mm, length 300 mm, overlap 75 mm"))
	sheet := "work: strip" + at + " layer skin; lay-membrane" + at + " layer membrane, uses E-9 0.1 m2; "
	tape := "bond-seam" + at + ", uses T-9 400 mm, length 300 mm, overlap 75 mm"
	epdm := func(note string) []string {
		return only(w.says(on("2020-04-16", note)), "no-layer")
	}
	require.Equal(t, []string{"no-layer stopped: Seam tape on EPDM membrane needs primer first."}, epdm(sheet+tape))
	require.Empty(t, epdm(sheet+"prime"+at+", uses PR-1 20 ml; "+tape))
	require.Len(t, epdm(sheet+"prime at 1000-1300 aft 0-200 R, uses PR-1 20 ml; "+tape), 1, "a third of it is not primed")

	require.Equal(t, []string{"pair-unknown noted: Butyl tape on skin sheet is not in the table. Ask the maker or make a coupon."},
		w.asked(fitKeys, "2020-04-16", "work: bed"+at+", uses B-9 400 mm, thickness 3 mm, width 20 mm"))
	require.Equal(t, []string{"pair-unknown noted: Butyl tape on a ground that nobody named is not in the table. Ask the maker or make a coupon."},
		w.asked(fitKeys, "2020-04-16", "work: bed at left wall 1000-1300 aft 0-300 down layer lining, uses B-9 400 mm, thickness 3 mm, width 20 mm"))
}

// Nothing bonds over silicone, until it is off.
func TestOverSilicone(t *testing.T) {
	w := demoUpTo(t, "16.txt")
	const at = " at 5000-5100 aft 0-300 R"
	w.sheets(on("2020-04-15", delivery(`SI-1, silicone, maker-lot "1", use-by 2021-01-01, amount 300 ml`)),
		on("2020-04-16", "work: cap-seal"+at+`, uses SI-1 40 ml, bead 6 mm; override no-layer, reason "the holder wants it", by foreman`))
	const seal = "cap-seal" + at + ", uses 20-0417 40 ml, bead 6 mm"
	require.Equal(t, []string{"no-layer stopped: Lap sealant does not bond to silicone."}, w.asked(fitKeys, "2020-04-17", "work: "+seal))
	require.Empty(t, w.asked(fitKeys, "2020-04-17", "work: strip-sealant"+at+"; "+seal))
}
