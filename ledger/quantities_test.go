package ledger_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
)

// The quantities of format version 1 in the order of printing, as the format
// was agreed: word, unit, and a value as JSON. A unit is never changed.
const quantities = `
depth | mm | 14
thickness | um | 1500
left | um | 1500
film | um | 1500
loss | um | 1500
groove | um | 1500
length | mm | 14
width | mm | 14
height | mm | 14
diameter | mm | 14
size | mm, pair | [60,45]
section | mm, pair | [60,45]
clear | mm, pair | [60,45]
gap | mm | 14
pull | mm | 14
leg | um | 1500
over-layer | um | 1500
spacing | mm | 14
overlap | mm | 14
flange | mm | 14
needed | mm | 14
short-by | mm | 14
beyond-rot | mm | 14
bead | um | 1500
deflection | mm | 14
under | mm | 14
area | mm2 | 13420000
voids | mm, list | [30,15]
count | count | 14
coats | count | 14
strip | number | 14
bubbles | count | 14
moisture | 0.1 % | 310
rise | 0.1 % | 310
number | count | 14
dry-number | count | 14
wet-mass | mg | 46200
dry-mass | mg | 46200
mass | g | 3600
pressure | Pa | 27900
force | N | 14
peel | N/50mm, list | [212,198,205]
air-temp | 0.1 C | 170
lowest-temp | 0.1 C | 170
ground-temp | 0.1 C | 170
surface-temp | 0.1 C | 170
outside-temp | 0.1 C | 170
weld-temp | 0.1 C | 170
difference | 0.1 K | 53
humidity | 0.1 % | 310
speed | mm/min | 1800
flow | ml/min | 6900
lasted | min | 720
after | min | 720
open-for | min | 720
flash | min | 720
spread | g/m2 | 14
treated | ml/m2 | 14
density | kg/m3 | 14
slope | 1:n | 50
scarf | 1:n | 50
section-left | 0.1 % | 310
shore | Shore A | 14
stone | mm | 14
age | years | 14
missed | months | 14
use-temp | 0.1 C, low/high | [100,300]
store-temp | 0.1 C, low/high | [100,300]
dew-gap | 0.1 K | 53
spread-range | g/m2, low/high | [220,300]
open-time | min | 720
open-life | min | 720
ref-temp | 0.1 C | 170
least-temp | 0.1 C | 170
cap-temp | 0.1 C | 170
doubling | 0.1 K | 53
least-humidity | 0.1 % | 310
through-cure | um per root day | 3000
press-least | Pa | 27900
report-days | days | 14
notice-days | days | 14
transfers-most | count | 14
margin | mm | 14
tie-in-reach | mm | 14
touch | mm | 14
declare-days | days | 14
upkeep-every | months | 14
upkeep-early | days | 14
upkeep-grace | days | 14
upkeep-missed-most | count | 14
load-limit | kg/m2 | 14`

func TestQuantitiesAreComplete(t *testing.T) {
	many := map[string]ledger.Many{
		"": ledger.OneNumber, "pair": ledger.PairOfNumbers, "list": ledger.ListOfNumbers, "low/high": ledger.LowHigh,
	}
	// Counts, strips and Shore A are all bare numbers.
	bare := map[string]ledger.Unit{"number": ledger.UnitCount, "Shore A": ledger.UnitCount}
	var want []ledger.Quantity
	for line := range strings.Lines(strings.TrimSpace(quantities)) {
		cells := strings.Split(strings.TrimSpace(line), " | ")
		unit, numbers, _ := strings.Cut(cells[1], ", ")
		require.Contains(t, many, numbers)
		require.Equal(t, numbers != "", strings.HasPrefix(cells[2], "["), cells[0])
		q := ledger.Quantity{Name: cells[0], Unit: ledger.Unit(unit), Many: many[numbers]}
		if u, ok := bare[unit]; ok {
			q.Unit = u
		}
		want = append(want, q)
	}
	got := ledger.Quantities()
	require.Len(t, got, len(want))
	for i, q := range got {
		require.NotEmpty(t, q.Means, q.Name)
		q.Means = ""
		require.Equal(t, want[i], q)
	}
}

func TestQuantityNamed(t *testing.T) {
	form := regexp.MustCompile(`^[a-z][a-z0-9-]{0,39}$`)
	all := ledger.Quantities()
	for i, q := range all {
		require.Regexp(t, form, q.Name)
		found, ok := ledger.QuantityNamed(q.Name)
		require.True(t, ok)
		require.Equal(t, q, found)
		require.Equal(t, i, ledger.QuantityRank(q.Name), "twice: %s", q.Name)
	}
	_, ok := ledger.QuantityNamed("colour")
	require.False(t, ok)
	require.Equal(t, len(all), ledger.QuantityRank("colour"), "what is not known comes last")

	all[0].Name = "spoilt"
	require.Equal(t, "depth", ledger.Quantities()[0].Name)
}

// The units are fine enough for what is published and typed: 5/8 in through 1/4
// in leaves 3/8 in (fasteners.csv: exact fractions of an inch of 25.4 mm), which
// whole millimetres cannot say.
func TestUnitsAreFineEnough(t *testing.T) {
	const leg, over, bite = 5 * 25_400 / 8, 25_400 / 4, 3 * 25_400 / 8 // micrometres
	row := referenceRow(t, "fasteners.csv", "bite", "leg_mm=15.875; over_mm=6.35")
	mm, err := strconv.ParseFloat(row.Value, 64)
	require.NoError(t, err)
	require.InDelta(t, mm*1000, leg-over, 1e-9)
	require.Equal(t, bite, leg-over)
	for _, name := range []string{"leg", "over-layer", "bead", "thickness", "left", "film", "loss", "groove"} {
		q, _ := ledger.QuantityNamed(name)
		require.Equal(t, ledger.UnitUm, q.Unit, name)
	}
}
