package reckon

import (
	"math"

	"lapmark/ledger/trade"
)

const (
	doseFormula = "Σ∫ g dt; g = 0 below least, else 2^((min(T, cap) - ref)/doubling); or the maker's table"
	doseSource  = "doubling per 10 °C, a rule of thumb, real glues 1.5 to 2.5 (adhesive process article); the maker's table goes first"
	beadFormula = "24 (depth/k)² h at 23 °C, by the doubling rule; under 50 % RH × 50/RH"
	beadSource  = "depth ~ √time: Comyn 1998, Int. J. Adhesion and Adhesives 18; k from memory"
)

func cureCalcs() []Calc {
	log := Key{Name: "log", Form: logForm, Means: "time/temperature, and /lowest since the last"}
	need := hours("need", "need", "hours at ref that are asked for")
	return []Calc{
		{
			Name: "cure", Tables: table("cure dose"), Means: "how far a glue has cured by its temperature log",
			Keys:    append([]Key{log, need.orNot(), hours("at", "at", "up to so many hours of the log").orNot()}, sheetKeys()...),
			Formula: doseFormula, Source: doseSource, Example: "log=16:30/19,20:30/17,0:30/14,4:30/12,8:30/15 need=12h ref=20C least=10C cap=30C",
			Do: cure,
		},
		{
			Name: "cure-time", Tables: table("time when dose is reached"), Means: "when a dose was reached, minutes after the first point",
			Keys: append([]Key{log, need}, sheetKeys()...), Formula: doseFormula, Source: doseSource,
			Example: "log=16:30/19,20:30/17,0:30/14,4:30/12,8:30/15,9:30/16 need=12h ref=20C least=10C cap=30C",
			Do: func(g Given) (Answer, error) {
				l, dose, err := g.dose()
				if err != nil {
					return Answer{}, err
				}
				at, reached := dose.Reached(g.number("need"))
				if !reached {
					return Answer{Text: "not reached", Says: reaching(g, l, dose)}, nil
				}
				return minutes(at-l.points[0].At, l.say(at)), nil
			},
		},
		{
			Name: "cure-again", Tables: table("time when dose starts to count again"),
			Means: "when a log that was too cold counts again, minutes after the first point",
			Keys:  append([]Key{log, hours("after", "after", "so many hours of the log")}, sheetKeys()...), Formula: doseFormula, Source: doseSource,
			Example: "log=15:00/14,19:00/11,22:00/9,6:00/7,10:00/12 after=7h ref=20C least=10C cap=30C",
			Do:      again,
		},
		{
			Name: "cure-rate", Tables: table("rate by the doubling rule"), Means: "how fast a glue cures at a temperature, against ref",
			Keys: append([]Key{temperature("at", "temp", "the glue line", -40, 80)}, sheetKeys()...), Formula: doseFormula, Source: doseSource,
			Example: "at=15C ref=20C least=10C cap=30C",
			Do: func(g Given) (Answer, error) {
				s, err := g.sheet()
				if err != nil {
					return Answer{}, err
				}
				rate, err := s.Rate(g.tenths("at"))
				return number(rate, "", 3), err
			},
		},
		{
			Name: "cure-hours", Tables: table("time by the doubling rule"), Means: "how long a time of the sheet is at another temperature",
			Keys: []Key{
				{Name: "time", Of: trade.Time, Unit: "min", Least: 0.01, Most: 1_000_000, Also: "minutes:min", Means: "of the sheet"},
				temperature("from", "at", "what the sheet gives it at", -40, 80), temperature("to", "to", "what it is", -40, 80),
			},
			Formula: "time × 2^((from - to)/10)", Source: doseSource, Example: "time=12h from=20C to=14C",
			Do: func(g Given) (Answer, error) {
				s := trade.CureSheet{Ref: g.tenths("from"), Least: -400, Cap: 800, Doubling: 100}
				rate, err := s.Rate(g.tenths("to"))
				a := number(g.number("time")/rate, "min", 0)
				a.Says = []string{rounded(a.Value/60, 1) + " h. Whether it cures at all there, the sheet says."}
				return a, err
			},
		},
		{
			Name: "bead", Tables: table("through-cure of a bead"), Means: "how long a bead of sealant takes to cure through",
			Keys: []Key{
				length("depth", "depth", "thickest place, open on one face", 2, 10), rootDay().usually("3"),
				temperature("temp", "temp", "the air, held", 5, 40), share("rh", "", "its relative humidity, on average", 0.1, 100).orNot(),
				temperature("ref", "ref", "what k is given at", -40, 80).usually("23C"),
			},
			Formula: beadFormula, Source: beadSource, Example: "depth=6mm temp=17.5C", Do: bead,
		},
		{
			Name: "bead-depth", Tables: table("depth by the square-root law"), Means: "how deep a bead is cured after so many days",
			Keys: []Key{
				length("depth", "depth1", "cured through in the first time", 0.5, 30), days("in", "day1", "the first time"), days("day", "", "the time asked for"),
			},
			Formula: "depth × √(day/in)", Source: beadSource, Example: "depth=3mm in=1d day=4d",
			Do: func(g Given) (Answer, error) {
				return number(g.number("depth")*math.Sqrt(g.number("day")/g.number("in")), "mm", 1), nil
			},
		},
	}
}

func hours(name, also, means string) Key {
	return Key{Name: name, Of: trade.Time, Unit: "h", Least: 0, Most: 100_000, Also: also, Means: means}
}

func days(name, also, means string) Key {
	return Key{Name: name, Of: trade.Time, Unit: "d", Least: 0.01, Most: 1000, Also: also, Means: means}
}

func rootDay() Key {
	return Key{Name: "k", Of: trade.RootDay, Unit: "mm/rtd", Least: 0.5, Most: 10, Also: "k_mm:mm/rtd", Means: "mm in the root of a day, by the sheet"}
}

// sheetKeys are what the maker's sheet says about a cure.
func sheetKeys() []Key {
	return []Key{
		temperature("ref", "ref", "what the hours of the sheet are given at", -40, 80),
		temperature("least", "least", "below it nothing cures", -40, 80).orNot(),
		temperature("cap", "cap", "above it nothing is gained", -40, 80).orNot(),
		Key{Name: "doubling", Of: trade.Step, Unit: "K", Least: 1, Most: 100, Means: "the step that doubles the speed"}.usually("10K"),
		{Name: "table", Form: tableForm, Optional: true, Means: "the maker's own, in place of least, cap and doubling"},
	}
}

func (g Given) sheet() (trade.CureSheet, error) {
	s := trade.CureSheet{
		Ref: g.tenths("ref"), Least: g.tenths("least"), Cap: g.tenths("cap"), Doubling: trade.DeciKelvin(math.Round(10 * g.number("doubling"))),
		Straight: trade.StraightGap, Low: trade.LowGap,
	}
	if !g.Has("table") {
		return s, g.needs("least", "cap")
	}
	if g.Has("least") || g.Has("cap") {
		return s, badf("a table says its own least and cap")
	}
	var err error
	s.Table, err = readTable(g.texts["table"])
	return s, err
}

// dose reckons the log, up to the hour that is asked for.
func (g Given) dose() (airLog, trade.Result, error) {
	s, err := g.sheet()
	if err != nil {
		return airLog{}, trade.Result{}, err
	}
	l, err := readLog(g.texts["log"])
	if err != nil {
		return airLog{}, trade.Result{}, err
	}
	if g.Has("at") {
		l = l.upTo(g.number("at"))
	}
	dose, err := trade.Dose(l.points, s)
	return l, dose, err
}

func (l airLog) upTo(hours float64) airLog {
	until := l.points[0].At + int64(math.Round(60*hours))
	n := 0
	for n < len(l.points) && l.points[n].At <= until {
		n++
	}
	return airLog{points: l.points[:n], say: l.say}
}

func cure(g Given) (Answer, error) {
	l, dose, err := g.dose()
	if err != nil {
		return Answer{}, err
	}
	a := number(dose.Hours(), "h", 2)
	for _, gap := range dose.Gaps {
		says := "From " + l.say(gap.From) + " to " + l.say(gap.To) + " without a temperature: not counted."
		if gap.Counted {
			says = "From " + l.say(gap.From) + " to " + l.say(gap.To) + " without a temperature: counted at " + gap.Temp.String() + "."
		}
		a.Says = append(a.Says, says)
	}
	if g.Has("need") {
		a.Says = append(a.Says, reaching(g, l, dose)...)
	}
	return a, nil
}

// reaching says when a need was reached, or will be if the air stays so.
func reaching(g Given, l airLog, dose trade.Result) []string {
	need, last := g.number("need"), l.points[len(l.points)-1]
	asked := figure(need) + " h at " + g.tenths("ref").String()
	if at, ok := dose.Reached(need); ok {
		return []string{asked + ": reached " + l.say(at) + "."}
	}
	if at, ok := dose.Forecast(need); ok {
		return []string{asked + ": not reached. Earliest " + l.say(at) + " if it stays at " + last.Temp.String() + "."}
	}
	return []string{asked + ": not reached. It does not cure at " + last.Temp.String() + "."}
}

func minutes(after int64, clock string) Answer {
	a := number(after, "min", 0)
	a.Says = []string{"That is " + clock + "."}
	return a
}

func again(g Given) (Answer, error) {
	l, whole, err := g.dose()
	if err != nil {
		return Answer{}, err
	}
	s, err := g.sheet()
	if err != nil {
		return Answer{}, err
	}
	before, err := trade.Dose(l.upTo(g.number("after")).points, s)
	if err != nil {
		return Answer{}, err
	}
	at, counts := whole.Reached(math.Nextafter(before.Hours(), math.Inf(1)))
	if !counts {
		return Answer{Text: "not in this log"}, nil
	}
	return minutes(at-l.points[0].At, l.say(at)), nil
}

func bead(g Given) (Answer, error) {
	need, err := trade.BeadNeed(g.micrometres("depth"), trade.MicrometrePerRootDay(math.Round(1000*g.number("k"))))
	if err != nil {
		return Answer{}, err
	}
	if g.Has("rh") {
		if need, err = trade.InDryAir(need, []trade.DeciPercent{trade.DeciPercent(math.Round(10 * g.number("rh")))}); err != nil {
			return Answer{}, err
		}
	}
	s := trade.BeadSheet()
	s.Ref = g.tenths("ref")
	dose, err := trade.BeadDose([]trade.Point{{Temp: g.tenths("temp")}}, s)
	if err != nil {
		return Answer{}, err
	}
	at, ok := dose.Forecast(need)
	if !ok {
		return Answer{Text: "never in this air"}, nil
	}
	a := number(float64(at)/(24*60), "d", 2)
	a.Says = []string{figure(math.Round(need*100)/100) + " h at " + s.Ref.String() + " are needed. The maker's sheet comes first."}
	return a, nil
}
