package rules_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

func correction(answers, changes string) string {
	return on("2020-04-25", "correction: answers "+answers+"; "+changes+"; why \"w\"; found \"f\"")
}

// Until it is given out a certificate stops no correction; then those of what
// it rests on, until the holder was told.
func TestCorrectionOfWhatACertificateRestsOn(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	awl := "was awl at rear-header 7340-7400 aft full width layer frame, at rafter 8 width 60, at rafter 9 width 60, depth 1 mm, " +
		"limit at-most depth 2 mm \"common practice, no source\", pass; " +
		"is awl at rear-header 7340-7400 aft full width layer frame, at rafter 8 width 60, at rafter 9 width 60, depth 2 mm"
	w.add(w.certificate())
	require.Empty(t, w.says(correction("#32", awl)), "not given out")
	w.sheets(on("2020-04-24", "given-out: certificate; answers Q-0007; as-of 2020-04-24; reader holder; to holder-1; on print; private to-name \"A\""))
	stopped := func(n string) []string {
		return []string{"correction-given-out stopped: Certificate Q-0007 rests on entry " + n + ". Tell the holder and write the day."}
	}
	require.Equal(t, stopped("32"), w.says(correction("#32", awl)), "among its checks")
	require.Empty(t, w.says(on("2020-04-25", "correction: answers #32; "+awl+"; why \"w\"; found \"f\"; told phone, on 2020-04-25")))
	for answers, changes := range map[string]string{
		"#24": "was lot B-20-03, butyl-tape, maker \"Ostrelle\", product \"bedding tape\", maker-lot \"0288\", amount 30000 mm, packs 3, fits membrane-pvc, thickness 3 mm, width 20 mm; " +
			"is lot B-20-03, butyl-tape, maker \"Ostrelle\", product \"bedding tape\", maker-lot \"0289\", amount 30000 mm, packs 3, fits membrane-pvc, thickness 3 mm, width 20 mm",
		"#36": "was source thermometer; is source logger",
		"#1":  "was rafters-every 740 mm; is rafters-every 730 mm",
	} {
		require.Equal(t, stopped(answers[1:]), w.says(correction(answers, changes)), changes)
	}
	w.sheets(on("2020-04-25", "check: pins at spot 5100 aft 560 R, moisture 12.1 %"))
	require.Empty(t, w.says(correction("#55", "was pins at spot 5100 aft 560 R, moisture 12.1 %; is pins at spot 5100 aft 560 R, moisture 11.2 %")),
		"it came after the certificate")
	const r1 = "opening R1, refrigerator-vent, centre 2100 aft, off 800 L, clear 400 x 400 mm"
	const v2 = "opening V2, roof-vent, centre 4600 aft, off 300 R, clear 356 x 356 mm"
	for answers, changes := range map[string]string{
		"#1": "was year 2014; is year 2013",
		"#2": "was hall-air, air-temp 16.0 C, humidity 64.0 %; is hall-air, air-temp 16.0 C, humidity 63.0 %",
	} {
		require.Empty(t, w.says(correction(answers, changes)), changes)
	}
	require.Empty(t, w.says(correction("#1", "was "+r1+"; is opening R1, refrigerator-vent, centre 2110 aft, off 800 L, clear 400 x 400 mm")),
		"no line speaks of R1")
	require.Equal(t, stopped("1"), w.says(correction("#1", "was "+v2+"; is opening V2, roof-vent, centre 4610 aft, off 300 R, clear 356 x 356 mm")))
}

// A corrected value is judged by the limit of its entry, from both sides,
// whatever the shop's limit is by now.
func TestCorrectedResultIsJudgedAnew(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	w.with("awl", "3 mm")
	w.sheets(
		on("2020-03-20", "check: awl at bay 3 left, depth 1 mm"),
		on("2020-03-20", "check: pins at bay 3 left, moisture 8.1 %, limit at-most moisture 15.0 % \"agreed\""),
	)
	w.with("awl", "2 mm")
	mended := func(answers, was, is string) (format.Object, []format.Object) {
		notes := sheet.Read(on("2020-03-21", "correction: answers "+answers+"; was "+was+"; is "+is+"; why \"w\"; found \"f\""), sheet.Heading{})
		c, err := w.draft(notes[0])
		require.NoError(t, err)
		rules.Ask(c)
		return ledger.Objects(c.Act.Body["changes"])[0]["new"].(format.Object), ledger.Objects(c.Act.Body["limits"])
	}
	const awl = "awl at bay 3 left, depth 1 mm, limit at-most depth 3 mm \"terms of the shop\", pass"
	for depth, pass := range map[string]bool{"3 mm": true, "4 mm": false} {
		result, limits := mended("#16", awl, "awl at bay 3 left, depth "+depth)
		require.Equal(t, pass, result["pass"], depth)
		require.Equal(t, limitOf("depth", "at-most", 3), result["limit"], depth)
		require.Equal(t, []format.Object{{"rule": "awl", "says": "3 mm"}}, limits, depth)
	}
	const pins = "pins at bay 3 left, moisture 8.1 %, limit at-most moisture 15.0 % \"agreed\", pass"
	for read, pass := range map[string]bool{"15.0 %": true, "28.1 %": false} {
		result, limits := mended("#17", pins, "pins at bay 3 left, moisture "+read)
		require.Equal(t, pass, result["pass"], read)
		require.Empty(t, limits)
	}
	require.ErrorIs(t, w.fails(on("2020-03-21", "correction: answers #17; was "+pins+
		"; is pins at bay 3 left, moisture 28.1 %, limit at-most moisture 15.0 % \"agreed\", pass; why \"w\"; found \"f\"")), rules.ErrTyped)
	result, _ := mended("#6", "pins at bay 3 left, moisture 11.2 %", "pins at bay 3 left, moisture 12.2 %")
	require.Nil(t, result["pass"], "a plain reading is not judged")
	require.ErrorContains(t, w.fails(on("2020-03-21", "correction: answers #16; was limit-used awl, says \"3 mm\"; is limit-used awl, says \"9 mm\"; why \"w\"; found \"f\"")),
		"the limits of an entry are those that it was judged by")
}

// What was corrected counts as it was judged anew.
func TestCorrectedCheckNoLongerPasses(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	require.Empty(t, w.says(certificate(t)))
	const was = "tap at 3700-7400 aft full width layer deck+core, area 0 m2, limit at-most area 0 m2 \"common practice, no source\", pass"
	w.sheets(correction("#40", "was "+was+"; is tap at 3700-7400 aft full width layer deck+core, area 0.2 m2"))
	require.Contains(t, w.says(certificate(t)),
		"check-missing stopped: Bond at 3700–7400 aft, full width, deck + core needs a tap after the press of 9 April 2020.")
}
