package rules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

// limited are the limits that a note of a day is written with.
func (w *written) limited(day, note string) []string {
	w.t.Helper()
	c, err := w.draft(sheet.Read(on(day, note), sheet.Heading{})[0])
	require.NoError(w.t, err)
	rules.Ask(c)
	out := []string{}
	for _, o := range ledger.Objects(c.Act.Body["limits"]) {
		out = append(out, o["rule"].(string)+" "+o["says"].(string))
	}
	return out
}

const laminated = "work: laminate at 3700-7400 aft full width layer deck+core, uses L-20-031 GLUE, uses P-20-02 8.14 m2, area 13.42 m2"

func glued(amount string) string { return strings.Replace(laminated, "GLUE", amount, 1) }

// 3600 g on 13.42 m² are 268, 2600 g 194, 2200 g 164 g/m² (TRADE 5.5); 80 % of
// 220 are 176.
func TestSpread(t *testing.T) {
	w := demoUpTo(t, "11.txt")
	says := func(amount string) []string { return w.asked("spread", "2020-04-09", glued(amount)) }
	require.Empty(t, says("3.6 kg"))
	require.Equal(t, []string{"spread noted: 194 g/m² at 3700–7400 aft, full width; the sheet says 220–300."}, says("2.6 kg"))
	require.Equal(t, []string{"spread stopped: 164 g/m² at 3700–7400 aft, full width is under 80 % of the least 220: starved."}, says("2.2 kg"))
	require.Equal(t, []string{"spread noted: 306 g/m² at 3700–7400 aft, full width; the sheet says 220–300."}, says("4.1 kg"))
	// 176 g/m² are 2361.92 g.
	require.Contains(t, says("2.362 kg")[0], "spread noted: 176 g/m²")
	require.Contains(t, says("2.361 kg")[0], "spread stopped: 176 g/m²")
	require.Equal(t, []string{"spread 80 %"}, w.limited("2020-04-09", glued("2.2 kg")))
	require.Equal(t, []string{"spread 80 %"}, w.limited("2020-04-09", glued("2.6 kg")))
	require.Empty(t, w.limited("2020-04-09", glued("3.6 kg")))
	w.with("spread", "90 %")
	require.Contains(t, says("2.6 kg")[0], "spread stopped: 194 g/m² at 3700–7400 aft, full width is under 90 % of the least 220")
	// Without a typed area each place is one glue line: 0.548625 m².
	require.Contains(t, w.asked("spread", "2020-04-09",
		"work: laminate at 6660-7325 aft 200-1025 L layer deck, uses L-20-031 100 g, uses P-20-02 0.5 m2")[0], "182 g/m²")
}

// Air of 17.0 °C and 62 % has its dew point at 9.7 °C (TRADE 5.3, Magnus).
func TestNearDew(t *testing.T) {
	w := demoUpTo(t, "11.txt")
	says := func(ground, humidity string) []string {
		return w.asked("near-dew", "2020-04-09", glued("3.6 kg")+"; with air-temp 17.0 C, ground-temp "+ground+" C, humidity "+humidity+" %")
	}
	require.Empty(t, says("15.0", "62.0"))
	require.Empty(t, says("12.7", "62.0"), "3.0 K")
	require.Equal(t, []string{"near-dew stopped: Ground 12.6 °C, dew point 9.7 °C: 2.9 K apart, 3.0 K needed."}, says("12.6", "62.0"))
	require.Equal(t, []string{"near-dew stopped: Ground 8.0 °C, dew point 9.7 °C: -1.7 K apart, 3.0 K needed."}, says("8.0", "62.0"))
	require.Equal(t, []string{"near-dew 3.0 K"}, w.limited("2020-04-09",
		glued("3.6 kg")+"; with air-temp 17.0 C, ground-temp 12.6 C, humidity 62.0 %"))
	require.Empty(t, w.asked("near-dew", "2020-04-09", "work: strip at 3700-7400 aft full width; with air-temp 17.0 C, ground-temp 12.6 C, humidity 62.0 %"))

	// A sheet that asks for more.
	w.sheets(on("2020-04-01", `delivery: lot G-1, glue-pu-two-part, maker-lot "1", use-by 2021-01-31, amount 3 kg, dew-gap 5.0 K, spread-range 220/300 g/m2`))
	note := strings.Replace(glued("3 kg"), "L-20-031", "G-1", 1) + "; with air-temp 17.0 C, ground-temp 14.6 C, humidity 62.0 %"
	require.Equal(t, []string{"near-dew stopped: Ground 14.6 °C, dew point 9.7 °C: 4.9 K apart, 5.0 K needed."}, w.asked("near-dew", "2020-04-09", note))
	require.NotContains(t, w.limited("2020-04-09", note), "near-dew 3.0 K", "the sheet decided")
}

func TestOutsideSheet(t *testing.T) {
	w := demoUpTo(t, "11.txt")
	w.sheets(on("2020-04-01", `delivery: lot G-1, glue-pu-moisture, maker-lot "1", use-by 2021-01-31, amount 3 kg, use-temp 10.0/30.0 C, spread-range 220/300 g/m2, least-humidity 40.0 %`))
	says := func(air, ground, humidity string) []string {
		return w.asked("outside-sheet", "2020-04-09", strings.Replace(glued("3 kg"), "L-20-031", "G-1", 1)+
			"; with air-temp "+air+" C, ground-temp "+ground+" C, humidity "+humidity+" %")
	}
	require.Empty(t, says("10.0", "30.0", "40.0"))
	require.Equal(t, []string{
		"outside-sheet stopped: Air temp 9.9 °C: the sheet of G-1 says 10.0–30.0 °C.",
		"outside-sheet stopped: Ground temp 30.1 °C: the sheet of G-1 says 10.0–30.0 °C.",
		"outside-sheet stopped: Humidity 39.9 %: the sheet of G-1 says 40.0–100.0 %.",
	}, says("9.9", "30.1", "39.9"))
}

// A strip of the day by one of the welders, before the weld or in its note.
func TestNoWeldStrip(t *testing.T) {
	const weld = "work: weld at run 0 5000-5200 aft 40 wide, length 200 mm, overlap 40 mm, weld-temp 480.0 C, speed 1.8 m/min"
	const none = "no-weld-strip stopped: No weld-strip passed by hand-1 on 20 April 2020 before this weld."
	says := func(strip string) []string {
		w := demoUpTo(t, "16.txt")
		if strip != "" {
			w.sheets("coach GZ9TF785XEW004137\n" + strip + "\n")
		}
		return w.asked("no-weld-strip", "2020-04-20", weld+"; time 10:00")
	}
	const on20, on19 = "on 2020-04-20 zone +02:00\ncheck: weld-strip, ", "on 2020-04-19 zone +02:00\ncheck: weld-strip, "
	require.Equal(t, []string{none}, says(""))
	require.Empty(t, says(on20+"peel 150 N/50mm; by hand-1"))
	require.Empty(t, says(on20+"sheet-tears; by hand-1, hand-2"))
	require.Len(t, says(on20+"peel 149 N/50mm; by hand-1"), 1)
	require.Len(t, says(on20+"peel 150 N/50mm; by hand-2"), 1, "another hand")
	require.Len(t, says(on19+"peel 150 N/50mm; by hand-1"), 1, "the day before")
	require.Empty(t, says(on20+"peel 150 N/50mm; time 10:00; by hand-1"))
	require.Len(t, says(on20+"peel 150 N/50mm; time 10:01; by hand-1"), 1, "after the weld")
	w := demoUpTo(t, "16.txt")
	require.Empty(t, w.asked("no-weld-strip", "2020-04-20", weld+"; checked weld-strip, peel 180 N/50mm"))
}
