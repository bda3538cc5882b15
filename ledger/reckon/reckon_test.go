package reckon

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/trade"
	"lapmark/testdata"
)

func ask(t *testing.T, asked string) (Answer, error) {
	t.Helper()
	words := strings.Fields(asked)
	c, pairs, ok := Named(words[0])
	require.True(t, ok, asked)
	return c.Reckon(append(pairs, words[1:]...))
}

// tableUnit says an answer in the unit of a row.
var tableUnit = map[string]string{
	"% of oven-dry mass": "%", "% of dry mass": "%", "% RH": "%", "h at reference": "h", "-": "", "lbf/in": "lbf", "text": "", "year": "",
	"date": "", "months": "months",
}

// notReckoned are the quantities of the tables that are no question of a shop:
// constants, laws of other trades, texts. Their own rooms test them.
var notReckoned = []string{
	"Magnus constants over water", "coefficient", "temperature-adjusted age, EN 1992 B.10", "Arrhenius factor", "age factor, ASTM C1074 form",
	"activation energy from two equal treatments", "doubling rule as activation energy", "spread of real factors per 10 K",
	"wood screw withdrawal, ultimate", "nail withdrawal, ultimate", "staple withdrawal, two legs by the nail form, ultimate", "withdrawal constant in SI", "nail constant, older ultimate",
	"velocity pressure", "velocity pressure constant", "velocity pressure constant, SI", "external pressure coefficient, 1 m2", "external pressure coefficient, 10 m2",
	"polystyrene sphere", "total solubility parameter", "attacks polystyrene foam", "polyurethane foam against",
	"well formed", "character value", "position weight", "rule",
}

// Every quantity of the tables that a shop asks is answered under its own name,
// with the names and units of the row's inputs. Sources stand in the rows.
func TestReferenceReckoned(t *testing.T) {
	for _, file := range []string{
		"psychro.csv", "emc.csv", "cure.csv", "fasteners.csv", "uplift.csv", "arithmetic.csv", "solvents.csv", "units.csv", "vin.csv", "dates.csv",
	} {
		tests := map[string]func(*testdata.Try){}
		for _, quantity := range notReckoned {
			tests[quantity] = testdata.Read
		}
		for _, c := range Calcs() {
			for _, table := range c.Tables {
				tests[table.Quantity] = reckoned
			}
		}
		testdata.EachRow(t, file, tests)
	}
}

func reckoned(r *testdata.Try) {
	testdata.Read(r) // all inputs are given as they stand
	c, pairs, ok := Named(hyphened(r.Quantity))
	require.True(r.T, ok, r.Quantity)
	pairs = append(pairs, strings.Split(r.Inputs, "; ")...)
	if r.Quantity == "conversion" {
		pairs = append(pairs, "to="+r.Unit)
	}
	a, err := c.Reckon(pairs)
	require.NoError(r.T, err, "%s %s", r.Quantity, r.Inputs)
	if a.Text != "" {
		r.Is(a.Text)
		return
	}
	unit, renamed := tableUnit[r.Unit]
	if !renamed {
		unit = r.Unit
	}
	if value, same := trade.Convert(a.Value, a.Unit, unit); same && r.Quantity != "conversion" {
		a.Value, a.Unit = value, unit
	}
	if r.Quantity != "conversion" {
		require.Equal(r.T, unit, a.Unit, "%s %s", r.Quantity, r.Inputs)
	}
	r.Near(a.Value)
}

// What a person asks, and what is printed. Values worked by hand or by the
// tables of published values.
func TestAnswers(t *testing.T) {
	for asked, want := range map[string]string{
		"dew-point air=17C rh=62":                                                      "9.7 °C (49.4 °F)",
		"dew-point air=62.6F rh=62%":                                                   "9.7 °C (49.4 °F)",
		"dew-point air=17 rh=62":                                                       "9.7 °C (49.4 °F)",
		"dew-gap ground=15 air=17 rh=62":                                               "5.3 K",
		"wood-moisture air=21.1C rh=65":                                                "12.0 %",
		"cold-meter wood=10C":                                                          "2.0 %",
		"days-to-limit first=31 then=21.5 days=11 settles=7.3":                         "13.1 d",
		"days-to-limit first=31 then=21.5 days=11 air=20 rh=80":                        "never in this air",
		"days-to-limit first=31 then=15 days=11 air=24 rh=38":                          "0.0 d",
		"bite leg=16mm over=6mm":                                                       "10.0 mm (0.394 in)",
		"bite leg=5/8in over=1/4in":                                                    "0.375 in (9.53 mm)",
		"bite leg=5/8\" over=5.2mm":                                                    "0.420 in (10.68 mm)",
		"bite leg=1-1/4in over=1/2in+1/4in":                                            "0.500 in (12.70 mm)",
		"bite leg=15.875mm over=5.2mm":                                                 "10.7 mm (0.420 in)",
		"spread glue=3.6kg lines=13.42m2":                                              "268 g/m² (0.88 oz/ft²)",
		"bearing mass=41kg on=186864mm2":                                               "2.2 kPa (0.31 psi)",
		"spray strip=2.035m2":                                                          "6.9 L/min (1.83 gal/min)",
		"pond length=900mm width=700mm depth=14mm":                                     "2.9 L (0.78 gal)",
		"core-sample wet=21.8g dry=21.0g":                                              "3.8 %",
		"fall rise=15mm run=1200mm":                                                    "1:80",
		"road-pressure speed=65mph":                                                    "517 Pa (10.8 lbf/ft²)",
		"uplift speed=65mph spacing=101.6mm row=406.4mm":                               "53 N (12.0 lbf)",
		"hold wood=spruce-pine-fir gauge=16 bite=9.525mm":                              "33 N (7.4 lbf)",
		"over-hold pull=12lbf held=7.395lbf":                                           "1.62",
		"pair put=glue-solvent-contact on=foam-eps":                                    "eats",
		"pair put=cleaner on=foam-eps carrier=water":                                   "foam-coupon",
		"pair put=filler on=plywood":                                                   "not in the table",
		"solvent dispersion=15.5 polar=10.4 hydrogen=7.0":                              "0.630",
		"vin vin=GZ9TF785XEW004173":                                                    "3",
		"model-year code=E":                                                            "1984 or 2014",
		"convert value=60mil to=mm":                                                    "1.524 mm (0.060 in)",
		"convert value=68F to=C":                                                       "20.00 °C (68.0 °F)",
		"last-day first=2020-04-24 months=24":                                          "2022-04-23",
		"cure-hours time=12h from=20C to=14C":                                          "1091 min",
		"bead depth=6mm temp=17.5C":                                                    "5.86 d",
		"bead depth=6mm temp=17.5C rh=30":                                              "9.76 d",
		"cure log=0h/20,12h/20 need=12 ref=20 least=10 cap=30":                         "12.00 h",
		"cure log=0h/20,12h/20 ref=20 table=10/48,20/12,30/8":                          "12.00 h",
		"cure log=2020-04-09T16:30/68F,2020-04-10T04:30/20C/10 ref=20 least=10 cap=30": "6.00 h",
	} {
		a, err := ask(t, asked)
		require.NoError(t, err, asked)
		require.Equal(t, want, a.String(), asked)
	}
}

// The night after laminating: doses and times by the closed form of TRADE
// arithmetic, worked apart from this code.
func TestCureOfANight(t *testing.T) {
	const night = "log=16:30/19,20:30/17,0:30/14,4:30/12,8:30/15"
	a, err := ask(t, "cure "+night+" need=12h ref=20C least=10C cap=30C")
	require.NoError(t, err)
	require.Equal(t, "11.44 h", a.String())
	require.Equal(t, []string{"12 h at 20.0 °C: not reached. Earliest 09:18 on day 2 if it stays at 15.0 °C."}, a.Says)

	a, err = ask(t, "cure-time "+night+",9:30/16 need=12h ref=20C least=10C cap=30C")
	require.NoError(t, err)
	require.Equal(t, "1007 min", a.String())
	require.Equal(t, []string{"That is 09:17 on day 2."}, a.Says)

	a, err = ask(t, "cure-time "+night+" need=12h ref=20C least=10C cap=30C")
	require.NoError(t, err)
	require.Equal(t, "not reached", a.String())

	a, err = ask(t, "cure log=15:00/14,19:00/11,22:00/9 need=12h ref=20 least=10 cap=30")
	require.NoError(t, err)
	require.Equal(t, "3.16 h", a.String())
	require.Equal(t, []string{"12 h at 20.0 °C: not reached. It does not cure at 9.0 °C."}, a.Says)

	a, err = ask(t, "cure log=0h/20,14h/30,40h/20 ref=20 least=10 cap=30")
	require.NoError(t, err)
	require.Equal(t, []string{
		"From 0 h after the start to 14 h after the start without a temperature: counted at 20.0 °C.",
		"From 14 h after the start to 40 h after the start without a temperature: not counted.",
	}, a.Says)
}

func TestWronglyAsked(t *testing.T) {
	for asked, says := range map[string]string{
		"dew-point air=17C":                                   "rh is missing: its relative humidity, 0.1 to 100 %",
		"dew-point air=17C rh=62 wind=3":                      `dew-point has no key "wind": air, rh`,
		"dew-point air=17C air=18C rh=62":                     "air is given twice",
		"dew-point air=17C temp_c=18 rh=62":                   "air is given twice",
		"dew-point air rh=62":                                 `"air" is no KEY=VALUE`,
		"dew-point air=warm rh=62":                            "air is no number: \"warm\"",
		"dew-point air=17,5C rh=62":                           "air is not in ,5C: C, F",
		"dew-point air=17kg rh=62":                            "air is not in kg: C, F",
		"dew-point air=17+1 rh=62":                            "air is one number",
		"bite leg=5/0in over=0":                               "leg is no number",
		"bite leg=1-5in over=0":                               "leg is no number",
		"bite leg=1.in over=0":                                "leg is no number",
		"bite leg=--1in over=0":                               "leg is no number",
		"uplift speed=65mph zone=middle spacing=1 row=1":      "zone is none of corner",
		"hold bite=9mm gauge=16":                              "density or wood is missing",
		"hold bite=9mm density=0.42":                          "shank, or gauge of a staple, is missing",
		"wire gauge=21":                                       "no wire of gauge 21",
		"wire gauge=16.5":                                     "no wire of gauge 16.5",
		"wood-density wood=oak":                               "no such wood: aspen",
		"days-to-limit first=31 then=21 days=1":               "air is missing",
		"cure log=0:20 ref=20 least=10":                       "cap is missing",
		"cure log=0:20 ref=20 least=10 table=20/12":           "a table says its own least and cap",
		"cure log=0:20 ref=20 table=20":                       "is no row of a table",
		"cure log=0:20 ref=20 table=20/long":                  "is no number of hours",
		"cure log=noon ref=20 least=10 cap=30":                "is no point of a log",
		"cure log=12:30/20/10/5 ref=20 least=10 cap=30":       "is no point of a log",
		"cure log=25:00/20 ref=20 least=10 cap=30":            "is no time",
		"cure log=12:3/20 ref=20 least=10 cap=30":             "is no time",
		"cure log=2020-13-01T10:00/20 ref=20 least=10 cap=30": "is no moment",
		"cure log=12:30/hot ref=20 least=10 cap=30":           "is no number",
		"cure log=xh/20 ref=20 least=10 cap=30":               "is no number of hours",
		"vin vin=GZ9TF785XEW00413":                            "16 characters",
		"model-year code=O":                                   "stands for no model year",
		"convert value=4 to=mm":                               "do not measure the same",
		"convert value=4kg to=mm":                             "do not measure the same",
		"convert value=4kg from=g to=mg":                      "value has a unit, from says another",
		"convert value=xkg to=g":                              "value is no number",
		"last-day first=24.4.2020 months=24":                  "first is no day",
		"last-day first=2020-04-24 months=1.5":                "months is a whole number",
		"days-between from=2020-04-24 to=soon":                "to is no day",
	} {
		_, err := ask(t, asked)
		require.ErrorIs(t, err, ErrAsked, asked)
		require.ErrorContains(t, err, says, asked)
	}
	_, _, ok := Named("fortune")
	require.False(t, ok)
}

// Outside its range a formula gives no number.
func TestOutsideTheRange(t *testing.T) {
	for _, asked := range []string{
		"dew-point air=61C rh=62", "dew-point air=17 rh=0", "wood-moisture air=20 rh=96", "bead depth=12mm temp=20", "bead depth=6mm temp=4C",
		"core-sample wet=20g dry=21g", "cure log=0h/90,1h/20 ref=20 least=10 cap=30", "cure log=0h/-41,1h/20 ref=20 least=10 cap=30",
		"cure log=0h/20,1h/20 ref=20 table=21/12", "cure log=0h/99999999,1h/20 ref=20 least=10 cap=30", "hall-humidity air=20 limit=1",
		"uplift speed=65mph spacing=3m row=3m coefficient=5.1",
	} {
		a, err := ask(t, asked)
		require.ErrorIs(t, err, trade.ErrRange, asked)
		require.ErrorContains(t, err, "outside the range", asked)
		require.Zero(t, a)
	}
	_, err := ask(t, "cure log=1h/20,1h/20 ref=20 least=10 cap=30")
	require.ErrorIs(t, err, trade.ErrOrder)
}

// The declarations: names and keys are one each, the example is in its range,
// and the range of each number is the one that the formula has.
func TestDeclarations(t *testing.T) {
	names := map[string]bool{}
	for _, c := range Calcs() {
		require.False(t, names[c.Name], c.Name)
		names[c.Name] = true
		for _, text := range []string{c.Means, c.Formula, c.Source, c.Example} {
			require.NotEmpty(t, text, c.Name)
		}
		example := strings.Fields(c.Example)
		_, err := c.Reckon(example)
		require.NoError(t, err, c.Name)
		for _, k := range c.Keys {
			require.NotEmpty(t, k.Means, "%s %s", c.Name, k.Name)
			if k.Words != nil || k.Form != "" {
				continue
			}
			_, known := trade.MeasureNamed(k.Of, k.Unit)
			require.True(t, known, "%s %s in %q", c.Name, k.Name, k.Unit)
			for _, end := range []float64{k.Least, k.Most} {
				_, err := c.Reckon(with(example, k.Name, figure(end)))
				if meets(c.Name, k.Name) {
					continue
				}
				require.False(t, errors.Is(err, trade.ErrRange), "%s %s=%s: %v", c.Name, k.Name, figure(end), err)
			}
			past := math.Max(1, math.Abs(k.Most)) * 1.01
			for _, beyond := range []float64{k.Most + past - math.Abs(k.Most), k.Least - past/1000} {
				_, err := c.Reckon(with(example, k.Name, figure(beyond)))
				require.Error(t, err, "%s %s=%s", c.Name, k.Name, figure(beyond))
			}
		}
	}
}

// meets are keys whose range depends on another key: a sample weighs no more
// dried than wet, and a hall does not dry wood to nothing.
func meets(calc, key string) bool {
	switch calc + " " + key {
	case "core-sample wet", "core-sample dry", "hall-humidity limit", "hall-humidity air", "uplift spacing", "uplift row", "cure at", "cure ref",
		"cure-hours from", "cure-hours to":
		return true
	}
	return false
}

func with(pairs []string, key, value string) []string {
	out := []string{key + "=" + value}
	for _, p := range pairs {
		if !strings.HasPrefix(p, key+"=") {
			out = append(out, p)
		}
	}
	return out
}

// Nothing typed breaks the reading; a number that is read is read the same when
// it is written in the unit of its key.
func FuzzReckon(f *testing.F) {
	for _, c := range Calcs() {
		f.Add(c.Name, c.Example)
	}
	f.Add("bite", "leg=1-5/8\" over=6.35mm+1/4in")
	f.Add("convert", "value=5 from=F difference to=K difference")
	f.Fuzz(func(t *testing.T, name, pairs string) {
		c, fixed, ok := Named(name)
		if !ok {
			return
		}
		given := append(fixed, strings.Fields(pairs)...)
		a, err := c.Reckon(given)
		if err != nil {
			require.Zero(t, a)
			return
		}
		require.False(t, math.IsNaN(a.Value) || math.IsInf(a.Value, 0), "%s %s", name, pairs)
		require.NotEmpty(t, a.String())
		g, err := c.read(given)
		require.NoError(t, err)
		for _, k := range c.Keys {
			if n, ok := g.numbers[k.Name]; ok {
				again := Given{numbers: map[string]float64{}, texts: map[string]string{}}
				require.NoError(t, again.take(k, figure(math.Round(n*1e9)/1e9)+k.Unit), "%s %v", k.Name, n)
				require.InDelta(t, n, again.numbers[k.Name], 1e-8*math.Max(1, math.Abs(n)))
			}
		}
	})
}
