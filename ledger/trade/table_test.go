package trade

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// makers is an invented table that says what the doubling rule says.
func makers() CureTable { return CureTable{{100, 24}, {200, 12}, {300, 6}} }

// A table by the doubling rule cures as the rule does, in any log.
func TestTableOfTheRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sheet := glue()
		sheet.Table, sheet.Least, sheet.Cap, sheet.Doubling = makers(), 0, 0, 0
		var log []Point
		at := int64(0)
		for range rapid.IntRange(2, 8).Draw(t, "points") {
			at += rapid.Int64Range(1, 30*60).Draw(t, "gap")
			log = append(log, Point{At: at, Temp: DeciCelsius(rapid.Int64Range(-50, 400).Draw(t, "temp"))})
		}
		byTable, err := Dose(log, sheet)
		require.NoError(t, err)
		byRule, err := Dose(log, glue())
		require.NoError(t, err)
		require.InDelta(t, byRule.Hours(), byTable.Hours(), 1e-9*(1+byRule.Hours()))
	})
}

// A real table is no straight doubling: 48 h at 10 °C, 12 h at 20, 8 h at 30.
func TestMakersTable(t *testing.T) {
	sheet := CureSheet{Ref: 200, Table: CureTable{{100, 48}, {200, 12}, {300, 8}}, Straight: StraightGap, Low: LowGap}
	for temp, rate := range map[float64]float64{99: 0, 100: 0.25, 150: 0.5, 200: 1, 250: math.Sqrt(1.5), 300: 1.5, 350: 1.5} {
		require.InDelta(t, rate, sheet.rate(temp), 1e-12, "%v", temp)
	}
	at, ok := dose(t, hall(0, 200, 12*60, 200), sheet).Reached(12)
	require.True(t, ok)
	require.Equal(t, int64(12*60), at, "12 h at 20 °C are 12 h, to the minute")
	require.Equal(t, 18.0, dose(t, hall(0, 350, 12*60, 310), sheet).Hours())
	require.Zero(t, dose(t, hall(0, 20, 12*60, 99), sheet).Hours())

	flat := sheet
	flat.Table = CureTable{{100, 12}, {300, 12}}
	require.InDelta(t, 12, dose(t, hall(0, 100, 12*60, 300), flat).Hours(), 1e-9)
}

func TestTableRefuses(t *testing.T) {
	for _, table := range []CureTable{
		{},
		{{100, 24}},
		{{210, 24}, {300, 12}},
		{{100, 24}, {190, 12}},
		{{200, 24}, {200, 12}},
		{{200, 12}, {300, 24}},
		{{200, 0}, {300, 0}},
		{{200, math.NaN()}},
		{{200, 24}, {801, 12}},
		{{-401, 24}, {300, 12}},
		{{200, math.Inf(1)}},
	} {
		_, err := Dose(nil, CureSheet{Ref: 200, Table: table, Low: 1})
		require.ErrorIs(t, err, ErrRange, "%v", table)
	}
	_, err := Dose(nil, CureSheet{Ref: 200, Table: CureTable{{200, 24}}, Low: 1})
	require.NoError(t, err)
}
