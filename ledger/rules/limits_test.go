package rules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

func (w *written) with(rule, says string) {
	w.t.Helper()
	var err error
	w.limits, err = w.limits.With(rule, says)
	require.NoError(w.t, err)
}

// filled is the first result of a check, and the limits of its entry.
func (w *written) filled(line string) (result format.Object, limits []format.Object) {
	w.t.Helper()
	notes := sheet.Read("coach GZ9TF785XEW004137\non 2020-03-20 zone +01:00\ncheck: "+line+"; by hand-1\n", sheet.Heading{})
	require.NoError(w.t, notes[0].Err, line)
	c, err := w.draft(notes[0])
	require.NoError(w.t, err, line)
	return ledger.Objects(c.Act.Body["results"])[0], ledger.Objects(c.Act.Body["limits"])
}

// The shop's own value decides, from both sides, and stands in the entry.
func TestOwnLimitsDecide(t *testing.T) {
	for _, c := range []struct {
		rule, says, passes, fails string
		limit                     format.Object // of the result
	}{
		{"awl", "3 mm", "awl at rear-header, depth 3 mm", "awl at rear-header, depth 4 mm", limitOf("depth", "at-most", 3)},
		{"awl", "1 mm", "awl at rear-header, depth 1 mm", "awl at rear-header, depth 2 mm", limitOf("depth", "at-most", 1)},
		{
			"tap", "0.02 m2", "tap at 3700-7400 aft full width, area 0.02 m2", "tap at 3700-7400 aft full width, area 0.03 m2",
			limitOf("area", "at-most", 20_000),
		},
		{"weld-strip", "120 N/50mm", "weld-strip, peel 120/130 N/50mm", "weld-strip, peel 119/130 N/50mm", limitOf("peel", "at-least", 120)},
		{
			"peel-in-place", "120 N/50mm", "peel-in-place at rear-header, peel 120 N/50mm", "peel-in-place at rear-header, peel 119 N/50mm",
			limitOf("peel", "at-least", 120),
		},
		{
			"foam-coupon", "12 h 0.2 mm", "foam-coupon, lot A-1, lot B-1, loss 0.2 mm, lasted 12 h",
			"foam-coupon, lot A-1, lot B-1, loss 0.2 mm, lasted 11 h", limitOf("loss", "at-most", 200),
		},
		{
			"hose", "3.4 L/m2min 10 min 2.0 %", "hose at rear-header, strip 1, rise 2.0 %, flow 6.9 L/min, lasted 10 min",
			"hose at rear-header, strip 1, rise 2.0 %, flow 6.9 L/min, lasted 9 min", limitOf("rise", "at-most", 20),
		},
		{
			"dam", "30 mm 1 h", "dam at rear-header, depth 30 mm, rise 0.0 %, lasted 1 h", "dam at rear-header, depth 31 mm, rise 0.0 %, lasted 1 h",
			limitOf("rise", "at-most", 0),
		},
		{
			"straight-edge", "4 mm 1000 mm", "straight-edge at rear-header, gap 4 mm, under 1000 mm",
			"straight-edge at rear-header, gap 4 mm, under 999 mm", limitOf("gap", "at-most", 4),
		},
		{
			"standing-water-look", "5 mm 48 h", "standing-water-look at rear-header, depth 5 mm", "standing-water-look at rear-header, depth 6 mm",
			limitOf("depth", "at-most", 5),
		},
		{"fall", "1:100", "fall at rear-header, slope 1:100", "fall at rear-header, slope 1:101", limitOf("slope", "at-most", 100)},
		{
			"foot-test", "4 mm 70 kg", "foot-test at rear-header, deflection 4 mm, mass 70 kg",
			"foot-test at rear-header, deflection 4 mm, mass 69 kg", limitOf("deflection", "at-most", 4),
		},
		{
			"bite", "10 mm 15 mm", "bite at rear-header, staple, leg 14 mm, over-layer 4 mm",
			"bite at rear-header, staple, leg 13.9 mm, over-layer 4 mm", limitOf("leg", "at-least", 14_000),
		},
		{
			"bite", "10 mm 15 mm", "bite at rear-header, screw, leg 19 mm, over-layer 4 mm",
			"bite at rear-header, screw, leg 18.9 mm, over-layer 4 mm", limitOf("leg", "at-least", 19_000),
		},
	} {
		w := demoUpTo(t, "04.txt")
		w.with(c.rule, c.says)
		for line, pass := range map[string]bool{c.passes: true, c.fails: false} {
			result, limits := w.filled(line)
			require.Equal(t, pass, result["pass"], line)
			require.Equal(t, []format.Object{{"rule": c.rule, "says": c.says}}, limits, line)
			require.Equal(t, c.limit, result["limit"], line)
		}
	}
}

func limitOf(quantity, side string, n int64) format.Object {
	return format.Object{"quantity": quantity, side: n, "source": "terms of the shop"}
}

// A usual limit names its source; a typed one stands in its place and writes no
// limit of the shop; with the usual number and source it is the usual one.
func TestLimitsInAnEntry(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	result, limits := w.filled("weld-strip, peel 160 N/50mm")
	require.Equal(t, format.Object{
		"quantity": "peel", "at-least": int64(150), "source": "order of EN 12316-2, from memory",
	}, result["limit"])
	require.Equal(t, []format.Object{{"rule": "weld-strip", "says": "150 N/50mm"}}, limits)

	_, limits = w.filled(`weld-strip, peel 160 N/50mm, limit at-least peel 150 N/50mm "maker's sheet"`)
	require.Empty(t, limits, "the maker's sheet decided")
	_, limits = w.filled("weld-strip, sheet-tears")
	require.Empty(t, limits, "what failed decided")
	_, limits = w.filled("seam-probe at rear-header, length 100 mm, voids none")
	require.Empty(t, limits, "no shop sets this one")

	result, limits = w.filled(`awl at rear-header, depth 1 mm, limit at-most depth 2 mm "common practice, no source"`)
	require.Equal(t, "common practice, no source", result["limit"].(format.Object)["source"])
	require.Equal(t, []format.Object{{"rule": "awl", "says": "2 mm"}}, limits)
	_, limits = w.filled(`awl at rear-header, depth 1 mm, limit at-most depth 2 mm "agreed"`)
	require.Empty(t, limits)

	result, limits = w.filled(`hose at rear-header, strip 1, rise 1.8 %, flow 6.9 L/min, lasted 15 min, limit at-most rise 2.0 % "agreed"`)
	require.Equal(t, true, result["pass"])
	require.Equal(t, []format.Object{{"rule": "hose", "says": "3.4 L/m2min 15 min 1.0 %"}}, limits, "its 15 min are the shop's")
}

// Which limit decided is for the tool to say.
func TestTypedLimitUsed(t *testing.T) {
	const note = "coach GZ9TF785XEW004137\non 2020-03-20 zone +01:00\ncheck: awl at rear-header, depth 1 mm; %by hand-1\n"
	w := demoUpTo(t, "04.txt")
	require.NoError(t, w.fails(strings.Replace(note, "%", "", 1)))
	typed := strings.Replace(note, "%", `limit-used awl, says "2 mm"; `, 1)
	require.ErrorIs(t, w.fails(typed), rules.ErrTyped)
	bare := &written{t: t}
	intake, _, _ := strings.Cut(demoSheet(t, "01.txt"), "check:")
	require.ErrorIs(t, bare.fails(strings.Replace(intake, "  signer", "  limit-used late-note, says \"7 d\"\n  signer", 1)), rules.ErrTyped)
}

func TestLimitsThatCannotBeSet(t *testing.T) {
	l, err := rules.UsualLimits().With("vin-form", "17")
	require.ErrorContains(t, err, `no limit of "vin-form" can be set`)
	require.Equal(t, rules.UsualLimits(), l)
	_, err = rules.UsualLimits().With("awl", "2 cm")
	require.ErrorContains(t, err, `awl: "2 cm": written like "2 mm"`)

	w := demoUpTo(t, "04.txt")
	w.with("awl", "3 mm")
	w.with("awl", "2 mm")
	result, _ := w.filled("awl at rear-header, depth 1 mm")
	require.Equal(t, "common practice, no source", result["limit"].(format.Object)["source"], "the usual value again")
}

// The gaps of a log count by the shop's hours: 14 h and 24 h are straight where
// it trusts a log for 24 h, and the dose grows with them.
func TestOwnLogGap(t *testing.T) {
	log, _, _ := strings.Cut(demoSheet(t, "14.txt"), "cure:\n  answers #35\n  release")
	usual := demoUpTo(t, "13.txt")
	require.Equal(t, []format.Object{{"rule": "log-gap", "says": "12 h 24 h"}}, usual.limitsOf(log))
	wide := demoUpTo(t, "13.txt")
	wide.with("log-gap", "24 h 48 h")
	require.Empty(t, wide.says(log))
	require.Empty(t, wide.limitsOf(log), "no gap was too long")
	short := demoUpTo(t, "13.txt")
	short.with("log-gap", "12 h 14 h")
	require.Equal(t, []string{
		"log-gap noted: 14 h without a temperature: counted at 16.0 °C.",
		"log-gap noted: 24 h without a temperature: not counted.",
		"log-gap noted: 24 h without a temperature: not counted.",
	}, short.says(log))
	require.Equal(t, []format.Object{{"rule": "log-gap", "says": "12 h 14 h"}}, short.limitsOf(log))
}

// limitsOf are the limits that the last note of a text is filled with.
func (w *written) limitsOf(text string) []format.Object {
	w.t.Helper()
	notes := sheet.Read(text, sheet.Heading{})
	c, err := w.draft(notes[len(notes)-1])
	require.NoError(w.t, err)
	rules.Ask(c)
	return ledger.Objects(c.Act.Body["limits"])
}

// The margin round a left trouble is the shop's: a finding 300 mm away is near
// at 300 mm and not at 299 mm.
func TestOwnMargin(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.sheets("coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\nfinding F9: split-sealant; at spot 3300 aft 0; with length 100 mm; " +
		"on-the-face; before-rain; no-photo \"x\"; by hand-1\n")
	require.Contains(t, strings.Join(w.says(certificate(t)), "\n"), "finding-open refused: Finding F9")
	w.with("finding-open", "299 mm")
	require.Empty(t, w.says(certificate(t)))
}

// What a certificate names among its troubles goes by its own margin, which
// judges it for ever, and not by the shop's limit of the day (ENTRIES 4).
func TestTroublesByTheCertificatesMargin(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.sheets("coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\nfinding F9: split-sealant; at spot 3300 aft 0; with length 100 mm; " +
		"on-the-face; before-rain; no-photo \"x\"; by hand-1\n" +
		"decision: leave; answers F9; given phone, on 2020-04-23; warned \"it stays\"; by desk\n")
	f9, ok := w.replay.Tagged("F9")
	require.True(t, ok)
	troubles := func(margin string) []ledger.No {
		c, err := w.draft(sheet.Read(strings.Replace(certificate(t), "margin 300 mm", "margin "+margin, 1), sheet.Heading{})[0])
		require.NoError(t, err)
		return c.Act.Refs("troubles")
	}
	require.Contains(t, troubles("300 mm"), f9)
	require.NotContains(t, troubles("299 mm"), f9)
	w.with("finding-open", "299 mm")
	require.Contains(t, troubles("300 mm"), f9)
}

// A bead of a lot whose sheet names no k cures by the shop's: 6 mm at 3 mm/rtd
// needs 96 h, at 2 mm/rtd 216 h (24 (6/k)^2, testdata/reference/cure.csv: depth
// grows with the root of time).
func TestBeadWithoutThroughCure(t *testing.T) {
	for k, need := range map[string]int64{"3 mm/rtd": 96 * 60, "2 mm/rtd": 216 * 60} {
		w := demoUpTo(t, "19.txt")
		w.with("k", k)
		const heading = "coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\n"
		w.sheets(heading + "delivery: lot S-9, lap-sealant, maker-lot \"S9\", use-by 2021-01-01, amount 300 ml, fits membrane-pvc; by hand-1\n" +
			"work E9: cap-seal at V2, uses S-9 40 ml, bead 6 mm; by hand-1\n")
		const start = "cure: answers E9; start 2020-04-23 10:00; lot S-9; log 2020-04-23 10:00, air-temp 23.0 C; source logger; by hand-1\n"
		notes := sheet.Read(heading+start, sheet.Heading{})
		require.NoError(t, notes[0].Err)
		c, err := w.draft(notes[0])
		require.NoError(t, err)
		require.Equal(t, format.Array{format.Object{"name": "water", "need": need}}, c.Act.Body["stages"])
		require.Equal(t, []format.Object{{"rule": "k", "says": k}}, ledger.Objects(c.Act.Body["limits"]))

		bare := strings.Replace(start, "lot S-9; ", "", 1)
		none, err := w.draft(sheet.Read(heading+bare, sheet.Heading{})[0])
		require.NoError(t, err)
		require.Nil(t, none.Act.Body["stages"], "of which lot is not said")

		w.add(c.Act)
		hours := map[string]string{"3 mm/rtd": "96.00", "2 mm/rtd": "216.00"}[k]
		require.Regexp(t, "^cure-early refused: Water .*: 1.00 of "+hours+" h at 23.0 °C",
			w.says(heading + "cure: answers E9; log 2020-04-23 11:00, air-temp 23.0 C; source logger; release water; time 11:00; by hand-1\n")[0])
	}
}

// Under 50 % of humidity a bead needs 50/RH as long (TRADE 5.2, 9.76 instead of
// 5.86 days at 30 %): the mean of the log, that of the release with it. Damp
// air takes nothing off.
func TestBeadInDryAir(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	const heading = "coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\n"
	w.sheets(heading +
		"delivery: lot S-9, lap-sealant, maker-lot \"S9\", use-by 2021-01-01, amount 300 ml, fits membrane-pvc, through-cure 3 mm/rtd; by hand-1\n" +
		"work E9: cap-seal at V2, uses S-9 40 ml, bead 6 mm; by hand-1\n" +
		"cure: answers E9; start 2020-04-23 10:00; lot S-9; log 2020-04-23 10:00, air-temp 23.0 C, humidity 20.0 %; source logger; by hand-1\n")
	release := func(humidity string) []string {
		return w.says("coach GZ9TF785XEW004137\non 2020-04-29 zone +02:00\ncure: answers E9; log 2020-04-28 10:00, air-temp 23.0 C, " +
			"lowest-temp 23.0 C" + humidity + "; source logger; release water; time 11:00; by hand-1\n")
	}
	early := release(", humidity 40.0 %") // 30 % on average: 96 h × 50/30 = 160 h, 120 h are logged
	require.Len(t, early, 1)
	require.Contains(t, early[0], ": 120.00 of 160.00 h at 23.0 °C. Earliest 30 April 2020 02:00 if it stays at 23.0 °C.")
	require.Contains(t, early[0], " The air was dry, 30.0 % on average: 160.00 h instead of 96.00.")
	require.Empty(t, release(", humidity 80.0 %"), "50 % on average: 96 h")
	require.Len(t, release(""), 1, "20 % is all that was logged: 240 h")
	require.ErrorContains(t, w.fails("coach GZ9TF785XEW004137\non 2020-04-29 zone +02:00\ncure: answers E9; "+
		"log 2020-04-28 10:00, air-temp 23.0 C, lowest-temp 23.0 C, humidity 80.0 %; source logger; release water, dose 119.00 h; by hand-1\n"),
		"the dose of water is 120.00 h by the log, not 119.00")
}

// A bead in air too cold to reckon with (a mean under 5 °C, TRADE 5.2) is let go
// only where it was disturbed already, and then without a dose.
func TestBeadInColdAir(t *testing.T) {
	cold := func(temp, more string) (*written, string) {
		w := demoUpTo(t, "19.txt")
		const heading = "coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\n"
		w.sheets(heading +
			"delivery: lot S-9, lap-sealant, maker-lot \"S9\", use-by 2021-01-01, amount 300 ml, fits membrane-pvc, through-cure 3 mm/rtd; by hand-1\n" +
			"work E9: cap-seal at V2, uses S-9 40 ml, bead 6 mm; by hand-1\n" +
			"cure: answers E9; start 2020-04-23 10:00; lot S-9; log 2020-04-23 10:00, air-temp " + temp + "; source logger; by hand-1\n")
		return w, on("2020-04-24", "cure: answers E9; log 2020-04-23 20:00, air-temp "+temp+"; source logger; release water"+more)
	}
	w, note := cold("4.9 C", "")
	require.ErrorContains(t, w.fails(note), "cannot be reckoned from this log")
	w, note = cold("4.9 C", "; disturbed-early")
	c, err := w.draft(sheet.Read(note, sheet.Heading{})[0])
	require.NoError(t, err)
	require.NotContains(t, ledger.Objects(c.Act.Body["releases"])[0], "dose")
	w, note = cold("4.9 C", ", dose 0.00 h; disturbed-early")
	require.ErrorIs(t, w.fails(note), rules.ErrTyped)
	w, note = cold("5.0 C", "; disturbed-early")
	c, err = w.draft(sheet.Read(note, sheet.Heading{})[0])
	require.NoError(t, err)
	require.Contains(t, ledger.Objects(c.Act.Body["releases"])[0], "dose")
}
