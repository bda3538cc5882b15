package rules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// 16 mm through 6 leave 10, 5/8 in through 1/4 in leave 9.525, through a
// measured 5.2 mm 10.675 (TRADE 5.4). Least 12 for a staple, 19 for a screw;
// common practice, no source.
func TestBiteShort(t *testing.T) {
	w := demoUpTo(t, "16.txt")
	says := func(words string) []string {
		return w.asked("bite-short", "2020-04-16", "work: fasten at rafter 8, "+words)
	}
	require.Empty(t, says("staple, leg 18 mm, over-layer 6 mm"))
	require.Equal(t, []string{"bite-short stopped: 17.9 mm through 6 mm leaves 11.9 mm; 12 mm into solid needed."},
		says("staple, leg 17.9 mm, over-layer 6 mm"))
	require.Equal(t, []string{"bite-short stopped: 15.875 mm through 6.35 mm leaves 9.525 mm; 12 mm into solid needed."},
		says("staple, leg 15.875 mm, over-layer 6.35 mm"))
	require.Equal(t, []string{"bite-short stopped: 15.875 mm through 5.2 mm leaves 10.675 mm; 12 mm into solid needed."},
		says("nail, leg 15.875 mm, over-layer 5.2 mm"))
	require.Empty(t, says("screw, leg 25 mm, over-layer 6 mm"))
	require.Len(t, says("screw, leg 24.9 mm, over-layer 6 mm"), 1)
	require.Len(t, says("rivet, leg 24.9 mm, over-layer 6 mm"), 1)
	require.Equal(t, []string{"bite-short stopped: 24.9 mm through 6 mm leaves 18.9 mm; 19 mm into solid needed. No fastener was named: it is taken for a screw."},
		says("leg 24.9 mm, over-layer 6 mm"))
	require.Equal(t, []string{"bite-short stopped: 60 mm through 6 mm leaves 0 mm; 19 mm into solid needed."},
		says("screw, onto foam-xps, leg 60 mm, over-layer 6 mm"), "foam holds nothing")
	require.Equal(t, []string{"bite 12 mm 19 mm"}, w.limited("2020-04-16", "work: fasten at rafter 8, staple, leg 16 mm, over-layer 6 mm"))
	require.Empty(t, w.limited("2020-04-16", "work: fasten at rafter 8, staple, leg 18 mm, over-layer 6 mm"))
}

// 25 mm of flange (common practice, no source): the newest that was found,
// measured or widened counts.
func TestFlangeNarrow(t *testing.T) {
	w := demoUpTo(t, "16.txt")
	const bed = "bed at V2, uses B-20-03 1000 mm, thickness 3 mm, width 20 mm"
	says := func(note string) []string { return w.asked("flange-narrow", "2020-04-16", "work: "+note) }
	require.Empty(t, says(bed), "nobody said how wide it is")
	require.Empty(t, says("widen-flange at V2, flange 25 mm; "+bed))
	require.Equal(t, []string{"flange-narrow stopped: V2: flange 24 mm, 25 mm needed. Widen it, or say why."},
		says("widen-flange at V2, flange 24 mm; "+bed))
	require.Equal(t, []string{"flange-narrow stopped: R1: flange 11 mm, 25 mm needed. Widen it, or say why."},
		says("refit-fitting at R1"), "as finding F7 says")
	require.Empty(t, says("widen-flange at R1, flange 30 mm; refit-fitting at R1"))
}

// 41 kg on a plate press 2.2 kPa, on four pads 27.9 (TRADE 5.5); foam bears 30 %
// of its kPa at 10 % (practice with EPS, from memory).
func TestLoadOnFoam(t *testing.T) {
	w := demoUpTo(t, "11.txt")
	w.sheets(on("2020-04-01", `delivery: lot X-9, foam-xps, maker-lot "9", amount 6 m2, thickness 38 mm, pressure 93 kPa`))
	const fit = "work: fit-core at 5500-6300 aft full width layer core, uses X-9 1.7 m2, thickness 38 mm; refit-fitting at A1"
	require.Empty(t, w.asked("load-on-foam", "2020-04-16", fit), "the plate of entry 31 spreads it")
	require.Empty(t, w.asked("load-on-foam", "2020-04-16", fit+"; spreader at A1, size 560 x 560 mm, pressure 27.9 kPa"), "30 % of 93 kPa")
	require.Equal(t, []string{"load-on-foam noted: 41 kg presses 28 kPa on XPS foam of 93 kPa at 10 %. Spreader?"},
		w.asked("load-on-foam", "2020-04-16", fit+"; spreader at A1, size 560 x 560 mm, pressure 28 kPa"))
	require.Empty(t, w.asked("load-on-foam", "2020-04-16", strings.ReplaceAll(fit, "A1", "V2")+"; spreader at V2, size 560 x 560 mm, pressure 28 kPa"), "no mass")
}

const early = "load-early water-early"

// DEMO's D1: press-off released on 10 April 09:30, load on 13 April 14:00; by the
// log so far 12 h were reached at 09:18 if it stayed at 15 °C.
func TestLoadEarly(t *testing.T) {
	w := demoUpTo(t, "12.txt")
	half, _, _ := strings.Cut(demoSheet(t, "13.txt"), "cure:\n  answers #35\n  log 2020-04-10 09:30")
	w.sheets(half)
	const press = "load-early stopped: 3700–7400 aft, full width is not released for press off; earliest 10 April 2020 09:18."
	says := func(day, note string) []string { return w.asked(early, day, note) }
	require.Equal(t, []string{press}, says("2020-04-10", "work: strip at 5000-5100 aft 0-300 R layer deck; time 09:00"))
	for _, harmless := range []string{"tarp", "open-up", "dry-out"} {
		require.Empty(t, says("2020-04-10", "work: "+harmless+" at 5000-5100 aft 0-300 R; time 09:00"))
	}
	require.Empty(t, says("2020-04-10", "work: strip at 3000-3100 aft 0-300 R layer deck; time 09:00"), "beside it")
	w.sheets(strings.Replace(demoSheet(t, "13.txt"), strings.TrimPrefix(half, "coach GZ9TF785XEW004137\non 2020-04-10 zone +02:00\n"), "", 1))
	require.Empty(t, says("2020-04-10", "work: strip at 5000-5100 aft 0-300 R layer deck; time 10:00"))
	const sheet = "work: lay-membrane at 3700-7400 aft full width layer membrane, uses M-5520 8.36 m2; kept-dry; photo s.jpg; time "
	require.Regexp(t, `^load-early stopped: 3700–7400 aft, full width is not released for load; earliest 13 April 2020 `, says("2020-04-10", sheet+"10:00")[0])
	require.Len(t, says("2020-04-10", "work: refit-fitting at A1; time 10:00"), 1, "41 kg")
	require.Empty(t, says("2020-04-10", "work: refit-fitting at V2; time 10:00"), "no mass")
	w.sheets(demoSheet(t, "14.txt"))
	require.Empty(t, says("2020-04-13", sheet+"14:00"))
	require.Len(t, says("2020-04-13", sheet+"13:59"), 1)
}

// DEMO's E1: cured through on 23 April 07:34, released at 09:00.
func TestWaterEarly(t *testing.T) {
	w := demoUpTo(t, "18.txt")
	const hose = "check: hose at 3700-4625 aft full width, strip 1, rise 0.1 %, flow 6.9 L/min, lasted 15 min; time "
	got := w.asked(early, "2020-04-22", hose+"09:00")
	require.Len(t, got, 1)
	require.Regexp(t, `^water-early stopped: Sealant at left edge, .* is cured through on 23 April 2020 07:34 at the earliest\.$`, got[0])
	require.Empty(t, w.asked(early, "2020-04-22", strings.Replace(hose, "3700-4625", "1000-1600", 1)+"09:00"), "beside it")
	require.Empty(t, w.asked(early, "2020-04-17", hose+"10:00"), "before it was sealed")
	require.Empty(t, w.asked(early, "2020-04-22", "check: tap at 3700-4625 aft full width layer deck, area 0 m2"), "no water")
	release, _, _ := strings.Cut(demoSheet(t, "19.txt"), "check:")
	w.sheets(release)
	require.Empty(t, w.asked(early, "2020-04-23", hose+"09:00"))
	require.Len(t, w.asked(early, "2020-04-23", hose+"08:59"), 1)
}
