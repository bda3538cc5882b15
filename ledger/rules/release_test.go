package rules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// Before its dose a stage is let go on a test of hardness that passed there since
// the start; it then has no time at which it was reached.
func TestReleasedOnHardness(t *testing.T) {
	w := demoUpTo(t, "12.txt")
	const release = "cure: answers #35; log 2020-04-09 20:30, air-temp 17.0 C; source thermometer; release press-off; time 20:30"
	const hard = `check: hardness at 5000-5100 aft 0-300 R, shore 70, limit at-least shore 65 "maker's sheet"; time `
	says := func() []string { return w.says(on("2020-04-09", release)) }
	refused := func(why string) {
		t.Helper()
		require.Regexp(t, "^cure-early refused: Press off at .*: 3.48 of 12.00 h at 20.0 °C. Earliest .* Already disturbed", strings.Join(says(), "\n"), why)
	}
	refused("nothing was tested")
	w.sheets(on("2020-04-09", hard+"16:00"))
	refused("tested before it was glued")
	w.sheets(on("2020-04-09", strings.Replace(hard, "70", "64", 1)+"20:00"))
	refused("too soft")
	w.sheets(on("2020-04-09", strings.Replace(hard, "5000-5100", "3000-3100", 1)+"20:00"))
	refused("elsewhere")
	w.sheets(on("2020-04-09", hard+"20:00"))
	require.Empty(t, says())
	c, err := w.draft(sheet.Read(on("2020-04-09", release), sheet.Heading{})[0])
	require.NoError(t, err)
	require.Equal(t, format.Array{format.Object{"stage": "press-off", "dose": int64(348)}}, c.Act.Body["releases"])
}

// A bond over what was disturbed early waits for a tap and a pull of it.
func TestBondDisturbedEarly(t *testing.T) {
	w := demoUpTo(t, "12.txt")
	half, _, _ := strings.Cut(demoSheet(t, "13.txt"), "cure:\n  answers #35\n  log 2020-04-10 09:30")
	w.sheets(half, on("2020-04-10", "cure: answers #35; release press-off; disturbed-early; time 09:00"))
	for _, name := range []string{"14.txt", "15.txt", "16.txt", "17.txt", "18.txt", "19.txt"} {
		w.sheets(demoSheet(t, name))
	}
	bond := func() []string { return only(w.says(certificate(t)), "cure-early") }
	const want = "cure-early refused: Line 2 promises a bond at 3700–7400 aft, full width, disturbed early on 10 April 2020. " +
		"It needs a tap, and a bond-coupon or screw-pull, passed after that."
	require.Equal(t, []string{want}, bond(), "tapped by entry 40, and never pulled")
	w.sheets(on("2020-04-09", "check: bond-coupon, lot L-20-031, lot P-20-02, wood-fails"))
	require.Len(t, bond(), 1, "pulled before it was disturbed")
	w.sheets(on("2020-04-12", "check: bond-coupon, lot L-20-031, lot P-20-02, wood-fails"))
	require.Empty(t, bond())
}
