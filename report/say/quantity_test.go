package say_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report/say"
)

// Each value and what it is: the units of format version 1, written as SI
// (BIPM brochure, 9th edition, 5.4) by hand.
func TestQuantity(t *testing.T) {
	for _, c := range []struct {
		name  string
		value format.Value
		want  string
	}{
		{"depth", int64(14), "14 mm"},
		{"thickness", int64(1500), "1.5 mm"},
		{"leg", int64(15875), "15.875 mm"},
		{"size", format.Array{int64(60), int64(45)}, "60 × 45 mm"},
		{"voids", format.Array{int64(30), int64(15)}, "30 and 15 mm"},
		{"voids", format.Array{}, "none"},
		{"area", int64(13420000), "13.42 m²"},
		{"area", int64(6000), "0.006 m²"},
		{"count", int64(14), "14"},
		{"moisture", int64(310), "31.0 %"},
		{"wet-mass", int64(46200), "46.2 g"},
		{"mass", int64(600), "600 g"},
		{"mass", int64(3600), "3.6 kg"},
		{"mass", int64(80000), "80 kg"},
		{"pressure", int64(900), "900 Pa"},
		{"pressure", int64(27900), "27.9 kPa"},
		{"force", int64(14), "14 N"},
		{"peel", format.Array{int64(212), int64(198), int64(205)}, "212, 198 and 205 N/50 mm"},
		{"air-temp", int64(170), "17.0 °C"},
		{"air-temp", int64(-25), "−2.5 °C"},
		{"difference", int64(53), "5.3 K"},
		{"speed", int64(1800), "1.8 m/min"},
		{"flow", int64(6900), "6.9 L/min"},
		{"lasted", int64(35), "35 min"},
		{"lasted", int64(720), "12 h"},
		{"lasted", int64(90), "1 h 30 min"},
		{"spread-range", format.Array{int64(220), int64(300)}, "220–300 g/m²"},
		{"use-temp", format.Array{int64(100), int64(300)}, "10.0–30.0 °C"},
		{"density", int64(33), "33 kg/m³"},
		{"slope", int64(50), "1:50"},
		{"through-cure", int64(3000), "3 mm per root day"},
		{"treated", int64(14), "14 mL/m²"},
		{"upkeep-every", int64(12), "12 months"},
		{"report-days", int64(30), "30 days"},
		{"load-limit", int64(14), "14 kg/m²"},
		{"flux", int64(7), "7"},                   // not in the table
		{"depth", format.Array{int64(7)}, "7 mm"}, // one number where a list stands
	} {
		require.Equal(t, c.want, say.Quantity(c.name, c.value), c.name)
	}
}

// Every unit of the table has its words: a value of it is never bare.
func TestEveryUnitIsSaid(t *testing.T) {
	bare := map[ledger.Unit]bool{ledger.UnitCount: true}
	for _, q := range ledger.Quantities() {
		var v format.Value = int64(1234)
		if q.Many != ledger.OneNumber {
			v = format.Array{int64(1234), int64(5678)}
		}
		says := say.Quantity(q.Name, v)
		require.Equal(t, bare[q.Unit], isBare(says), "%s: %q", q.Name, says)
	}
}

func isBare(says string) bool {
	for _, r := range says {
		if (r < '0' || r > '9') && r != '.' {
			return false
		}
	}
	return true
}

func TestValuesInOrderAndInPairs(t *testing.T) {
	for want, values := range map[string]format.Object{
		"32 of 45 mm deep":                    {"depth": int64(32), "thickness": int64(45000)},
		"29 of 38 mm left":                    {"left": int64(29000), "thickness": int64(38000)},
		"flange 11 of 25 mm":                  {"flange": int64(11), "needed": int64(25)},
		"gives 2 mm under 80 kg":              {"deflection": int64(2), "mass": int64(80000)},
		"gap 2 mm under 1500 mm":              {"gap": int64(2), "under": int64(1500)},
		"420 mm long, gap 2 mm":               {"gap": int64(2), "length": int64(420)},
		"air 17.0 °C, humidity 62.0 %":        {"humidity": int64(620), "air-temp": int64(170)},
		"4 mm thick":                          {"thickness": int64(4000)},
		"film of 0.6 mm, 14 of them":          {"film": int64(600), "count": int64(14)},
		"welded at 480.0 °C, speed 1.8 m/min": {"weld-temp": int64(4800), "speed": int64(1800)},
	} {
		require.Equal(t, want, say.Values(values))
	}
}
