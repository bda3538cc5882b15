package reckon

import (
	"strconv"
	"strings"

	"lapmark/ledger/day"
	"lapmark/ledger/trade"
	"lapmark/ledger/vin"
)

// paperCalcs are those of plates and terms.
func paperCalcs() []Calc {
	number17 := Key{Name: "vin", Form: "GZ9TF785XEW004137", Also: "vin_without_digit", Means: "17 characters; position 9 may be _"}
	date := func(name, also, means string) Key {
		return Key{Name: name, Form: "2020-04-24", Also: also, Means: means}
	}
	const vinSource = "49 CFR 565.15, Tables III to V"
	const terms = "the last day where the month has no such day: Regulation (EEC, Euratom) 1182/71, art. 3(2)(c)"
	return []Calc{
		{
			Name: "vin", Tables: table("check character"), Means: "what position 9 of a VIN should be", Keys: []Key{number17},
			Formula: "Σ value × weight, mod 11; 10 is X", Source: vinSource, Example: "vin=GZ9TF785XEW004137", Do: position9,
		},
		{
			Name: "vin-sum", Tables: table("weighted sum"), Means: "the weighted sum of a VIN", Keys: []Key{number17},
			Formula: "Σ value × weight", Source: vinSource, Example: "vin=GZ9TF785XEW004137",
			Do: func(g Given) (Answer, error) {
				r, err := checked(g.texts["vin"])
				return number(int64(r.Sum), "", 0), err
			},
		},
		{
			Name: "vin-fits", Tables: table("check digit fits"), Means: "whether position 9 of a VIN is what it should be", Keys: []Key{number17},
			Formula: "as vin", Source: vinSource, Example: "vin=GZ9TF785XEW004137",
			Do: func(g Given) (Answer, error) {
				r, err := checked(g.texts["vin"])
				return Answer{Text: map[bool]string{true: "yes", false: "no"}[r.Good]}, err
			},
		},
		{
			Name: "model-year", Tables: table("model year"), Means: "the two years that position 10 of a VIN stands for",
			Keys:    []Key{{Name: "code", Form: "E", Means: "the character in position 10"}},
			Formula: "table, again after 30 years", Source: "49 CFR 565.15, Table VII", Example: "code=E",
			Do: func(g Given) (Answer, error) {
				if code := g.texts["code"]; len(code) == 1 {
					if early, late, ok := vin.ModelYears(code[0]); ok {
						return Answer{Text: strconv.Itoa(early) + " or " + strconv.Itoa(late)}, nil
					}
				}
				return Answer{}, badf("%q stands for no model year", g.texts["code"])
			},
		},
		dated("months-later", "date plus months", "a day so many months later", terms, "months", date("date", "", "the day"), func(d day.Day, n int) day.Day {
			to, _ := d.PlusMonths(n)
			return to
		}),
		dated("days-later", "date plus days", "a day so many days later", "calendar", "days", date("date", "", "the day"), day.Day.AddDays),
		dated("last-day", "last day of a term", "the last day of a term", "the day before the first day, so many months on; "+terms, "months",
			date("first", "first_day", "the first day"), day.LastDay),
		between("days-between", "days between", "the days from one day to another", "d", date("from", "", "a day"), date("to", "", "another"), day.Between),
		between("full-months", "full months between", "the full months of a term that are over", "months", date("from", "", "first day of the term"),
			date("to", "", "the day asked for"), day.FullMonths),
	}
}

func checked(text string) (vin.Result, error) {
	whole := strings.ReplaceAll(text, "_", "0") // position 9 weighs nothing
	if err := vin.Form(whole); err != nil {
		return vin.Result{}, badf("%v", err)
	}
	r := vin.Check(whole)
	r.Good = r.Good && whole == text
	return r, nil
}

func position9(g Given) (Answer, error) {
	r, err := checked(g.texts["vin"])
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Text: string(r.Want)}
	switch {
	case strings.Contains(g.texts["vin"], "_"):
	case !r.HasDigit:
		a.Says = []string{"This VIN has no check digit."}
	case r.Good:
		a.Says = []string{"The VIN has it."}
	default:
		a.Says = []string{"Position 9 should be " + string(r.Want) + ", the VIN says " + string(r.Is) + ". Read the plate again."}
	}
	return a, nil
}

func aDay(key, text string) (day.Day, error) {
	d, err := day.Parse(text)
	if err != nil {
		return d, badf("%s is no day: %.40q, write 2020-04-24", key, text)
	}
	return d, nil
}

func dated(name, quantity, means, source, counted string, from Key, move func(day.Day, int) day.Day) Calc {
	return Calc{
		Name: name, Tables: table(quantity), Means: means, Keys: []Key{from, plain(counted, "", "how many", -10_000, 10_000)},
		Formula: "calendar", Source: source, Example: from.Name + "=2020-04-24 " + counted + "=24",
		Do: func(g Given) (Answer, error) {
			d, err := aDay(from.Name, g.texts[from.Name])
			if err != nil {
				return Answer{}, err
			}
			if n := g.number(counted); n != float64(g.whole(counted)) {
				return Answer{}, badf("%s is a whole number", counted)
			}
			return Answer{Text: move(d, int(g.whole(counted))).String()}, nil
		},
	}
}

func between(name, quantity, means, unit string, from, to Key, count func(a, b day.Day) int) Calc {
	return Calc{
		Name: name, Tables: table(quantity), Means: means, Keys: []Key{from, to}, Formula: "calendar", Source: "calendar",
		Example: "from=2020-04-24 to=2022-04-23",
		Do: func(g Given) (Answer, error) {
			a, err := aDay(from.Name, g.texts[from.Name])
			if err != nil {
				return Answer{}, err
			}
			b, err := aDay(to.Name, g.texts[to.Name])
			return number(int64(count(a, b)), unit, 0), err
		},
	}
}

func convert(g Given) (Answer, error) {
	typed, to, gap := g.texts["value"], g.texts["to"], false
	rest := strings.TrimLeft(typed, "0123456789./-")
	from := unitWord(rest)
	if g.Has("from") {
		if from != "" {
			return Answer{}, badf("value has a unit, from says another")
		}
		from = g.texts["from"]
	}
	n, ok := fraction(typed[:len(typed)-len(rest)])
	if !ok {
		return Answer{}, badf("value is no number: %.40q", typed)
	}
	from, gap = strings.CutSuffix(tableUnits.Replace(from), " difference")
	to = strings.TrimSuffix(tableUnits.Replace(unitWord(to)), " difference")
	for _, of := range dimensions(gap) {
		a, known := measure(of, from)
		b, same := measure(of, to)
		if known && same {
			return number(a.To(n, b), b.Word, decimalsOf(a.To(n, b))), nil
		}
	}
	return Answer{}, badf("%q and %q do not measure the same", from, to)
}

// tableUnits are units as the tables write them.
var tableUnits = strings.NewReplacer("US gal/(ft2 h)", "gal/ft2h", "L/(m2 min)", "L/m2min", "US gal", "gal", "N/50 mm", "N/50mm")

// dimensions are asked in order: a temperature before a gap of one.
func dimensions(gap bool) (all []trade.Dimension) {
	if gap {
		return []trade.Dimension{trade.Step}
	}
	for _, m := range trade.Measures() {
		if len(all) == 0 || all[len(all)-1] != m.Of {
			all = append(all, m.Of)
		}
	}
	return all
}

// decimalsOf leaves a converted number its first four figures.
func decimalsOf(value float64) int {
	decimals := 4
	for scale := 1.0; decimals > 0 && (value >= scale || -value >= scale); scale *= 10 {
		decimals--
	}
	return decimals
}
