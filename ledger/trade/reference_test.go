package trade

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/testdata"
)

// inputs are the named inputs of one row of a reference file.
type inputs map[string]string

func (in inputs) number(t *testing.T, name string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(in[name], 64)
	require.NoError(t, err, name)
	return n
}

func (in inputs) tenths(t *testing.T, name string) DeciCelsius {
	t.Helper()
	return DeciCelsius(math.Round(10 * in.number(t, name)))
}

func (in inputs) sheet(t *testing.T) CureSheet {
	t.Helper()
	s := glue()
	s.Ref, s.Least, s.Cap = in.tenths(t, "ref_c"), in.tenths(t, "least_c"), in.tenths(t, "cap_c")
	return s
}

// log reads "0:19,4:17": hours and degrees, up to the hour until.
func (in inputs) log(t *testing.T, until float64) []Point {
	t.Helper()
	var log []Point
	for pair := range strings.SplitSeq(in["log"], ",") {
		hour, temp, _ := strings.Cut(pair, ":")
		p := inputs{"hour": hour, "temp": temp}
		if h := p.number(t, "hour"); h <= until {
			log = append(log, Point{At: int64(math.Round(60 * h)), Temp: p.tenths(t, "temp")})
		}
	}
	return log
}

// Rows of testdata/reference/cure.csv: the doubling rule of the trade, closed
// forms checked by numeric integration, and the square-root law of Comyn 1998.
func TestReferenceCure(t *testing.T) {
	work := map[string]func(*testing.T, inputs) float64{
		"rate by the doubling rule":                   ruleRate,
		"time by the doubling rule":                   ruleTime,
		"cure dose":                                   logDose,
		"time when dose is reached":                   timeReached,
		"time when dose starts to count again":        timeAgain,
		"through-cure of a bead":                      daysThrough,
		"depth by the square-root law":                nil, // needs the value: below
		"temperature-adjusted age, EN 1992 B.10":      nil, // laws of other trades
		"Arrhenius factor":                            nil,
		"age factor, ASTM C1074 form":                 nil,
		"activation energy from two equal treatments": nil,
		"doubling rule as activation energy":          nil,
		"spread of real factors per 10 K":             nil,
	}
	tried := map[string]int{}
	for _, row := range testdata.Reference(t, "cure.csv") {
		in := inputs(row.Named())
		run, known := work[row.Quantity]
		require.True(t, known, "%s: no test for %q", row.ID, row.Quantity)
		if row.Quantity == "depth by the square-root law" {
			in["value"] = row.Value
			run = depthAt
		}
		if run == nil {
			continue
		}
		t.Run(row.ID, func(t *testing.T) {
			want, err := strconv.ParseFloat(row.Value, 64)
			require.NoError(t, err)
			tolerance := 0.0
			if row.Tolerance != "exact" {
				tolerance, err = strconv.ParseFloat(row.Tolerance, 64)
				require.NoError(t, err)
			}
			require.InDelta(t, want, run(t, in), tolerance, "%s %s", row.Quantity, row.Inputs)
		})
		tried[row.Quantity]++
	}
	require.Len(t, tried, 7)
}

func ruleRate(t *testing.T, in inputs) float64 {
	return in.sheet(t).rate(10 * in.number(t, "temp_c"))
}

func ruleTime(t *testing.T, in inputs) float64 {
	s := CureSheet{Ref: in.tenths(t, "at_c"), Cap: 800, Doubling: 100}
	return in.number(t, "minutes") / s.rate(10*in.number(t, "to_c"))
}

func logDose(t *testing.T, in inputs) float64 {
	return dose(t, in.log(t, in.number(t, "at_h")), in.sheet(t)).Hours()
}

func timeReached(t *testing.T, in inputs) float64 {
	at, ok := dose(t, in.log(t, math.Inf(1)), in.sheet(t)).Reached(in.number(t, "need_h"))
	require.True(t, ok)
	return float64(at)
}

func timeAgain(t *testing.T, in inputs) float64 {
	before := dose(t, in.log(t, in.number(t, "after_h")), in.sheet(t)).Hours()
	at, ok := dose(t, in.log(t, math.Inf(1)), in.sheet(t)).Reached(math.Nextafter(before, math.Inf(1)))
	require.True(t, ok)
	return float64(at)
}

func daysThrough(t *testing.T, in inputs) float64 {
	need := beadNeed(t, 1000*in.number(t, "depth_mm"), 1000*in.number(t, "k_mm"))
	s := BeadSheet()
	s.Ref = in.tenths(t, "ref_c")
	r, err := BeadDose([]Point{{Temp: in.tenths(t, "temp_c")}}, s)
	require.NoError(t, err)
	at, ok := r.Forecast(need)
	require.True(t, ok)
	return float64(at) / (24 * 60)
}

// depthAt turns the law round: the row's depth, with the k of its first pair,
// needs the row's days.
func depthAt(t *testing.T, in inputs) float64 {
	k := 1000 * in.number(t, "depth1_mm") / math.Sqrt(in.number(t, "day1"))
	depth := in.number(t, "value")
	need := beadNeed(t, 1000*depth, k)
	return depth * math.Sqrt(24*in.number(t, "day")/need)
}

func beadNeed(t *testing.T, bead, k float64) float64 {
	t.Helper()
	need, err := BeadNeed(Micrometre(math.Round(bead)), MicrometrePerRootDay(math.Round(k)))
	require.NoError(t, err)
	return need
}
