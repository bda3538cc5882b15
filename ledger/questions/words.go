package questions

import (
	"strings"

	"lapmark/ledger"
)

// question asks for one value of a field; it is tidied and read under label.
func (w *walker) question(f ledger.Field, must bool, label string) Question {
	q := Question{Asks: asks(f), Must: must, Write: examples[f.Form], Whole: whole(f)}
	if f.Form == ledger.FormMark && strings.HasSuffix(f.Name, "holder") {
		q.Write = "holder-1"
	}
	if f.Form == ledger.FormWord {
		q.Words = ledger.WordsOf(f.List)
	}
	if f.Empty != "" {
		q.Usual = f.Empty
	}
	reads := w.reads()
	q.tidy = func(answer string) (string, error) {
		text, err := tidy(f, answer, w.heading)
		if err != nil || f.Form == ledger.FormFlag {
			return text, err
		}
		for _, part := range inParts(f, text) {
			if err := reads(labelled(label, part)); err != nil {
				return "", err
			}
		}
		return text, nil
	}
	return q
}

// asks is what a question says of a field.
func asks(f ledger.Field) string {
	name := f.Says
	if name == "" {
		name = strings.ReplaceAll(f.Name, "-", " ")
	}
	switch {
	case f.Asks != "":
		return f.Asks
	case f.Form == ledger.FormPlace && f.Many:
		return "at which places"
	case f.Form == ledger.FormPlace:
		return name + ", at which place"
	case f.Form == ledger.FormRef && f.Many:
		return "which entries it " + name
	case f.Form == ledger.FormFlag:
		return strings.ReplaceAll(f.Label, "-", " ") + ", yes or no"
	case f.Name == "photos":
		return "photos"
	}
	return name
}

// headAsks is what the head of a shape is asked as.
func headAsks(f, head ledger.Field) string {
	name := asks(head)
	own := strings.ReplaceAll(key(f), "-", " ")
	switch {
	case f.Label != "" && head.Asks == "" && own != name:
		return own + ", " + name
	case f.Name == "results" && f.Label != "" || f.Shape == "said":
		return own + ": " + name
	}
	return name
}

// examples are how an answer of a form is written.
var examples = map[ledger.Form]string{
	ledger.FormPlace:       "bay 9 left; 5550-6450 aft 350 L-350 R; A1",
	ledger.FormRef:         "#34, F1",
	ledger.FormDay:         "2020-03-16",
	ledger.FormDayOrMoment: "2020-03-16, or 2020-03-16 16:30",
	ledger.FormMoment:      "16:30, or 2020-04-09 16:30",
	ledger.FormMm:          "740 mm",
	ledger.FormMmList:      "738/1480/2220 mm",
	ledger.FormInteger:     "3",
	ledger.FormMonths:      "120 months",
	ledger.FormPerMille:    "10.0 %",
	ledger.FormSlope:       "1:80",
	ledger.FormAft:         "3300 aft",
	ledger.FormOff:         "400 L",
	ledger.FormPhoto:       "roof-1.jpg, roof-2.jpg",
	ledger.FormAmount:      "3600 ml",
	ledger.FormOdometer:    "61240 km",
	ledger.FormLotUse:      "L-20-031 3.6 kg",
	ledger.FormCoverRef:    "Q-0007 L4 L5",
	ledger.FormLimit:       `at-most moisture 15.0 % "source"`,
	ledger.FormStage:       "press-off 12 h",
	ledger.FormMark:        "hand-1",
	ledger.FormTag:         "W1",
	ledger.FormPass:        "pass, fail",
	ledger.FormHead:        "64, the number of the entry",
	ledger.FormLedger:      "K3QX7M2PZA4D, the name of the other ledger",
}

// whole says whether an answer is one thing, whatever commas are in it.
func whole(f ledger.Field) bool {
	return !f.Many || f.Form == ledger.FormText
}

func restQuestion(names, lacks []string) Question {
	q := Question{Asks: "anything else", Write: strings.Join(names, ", ")}
	if len(lacks) > 0 {
		q.Asks = "still missing: " + strings.Join(lacks, "; ") + ". Anything else"
	}
	q.tidy = func(answer string) (string, error) { return oneOf(names, answer) }
	return q
}

func valueQuestion(q ledger.Quantity) Question {
	return Question{
		Asks: strings.ReplaceAll(q.Name, "-", " ") + ", " + q.Means, Write: unitWord(q), Whole: true,
		tidy: func(answer string) (string, error) { return valueText(q, answer) },
	}
}

// anyValueQuestion asks for one more measured value by its name.
func anyValueQuestion() Question {
	return Question{Asks: "anything measured", Write: "air-temp 17", Whole: true, tidy: anyValueText}
}

func wasQuestion() Question {
	return Question{
		Asks: "the wrong part, as it stands in the entry", Write: "pins at bay 10 left, moisture 8.1 %", Whole: true,
		tidy: same,
	}
}

func isQuestion() Question {
	return Question{
		Asks: "the right part", Write: "pins at bay 10 left, moisture 28.1 %; empty: it does not hold at all", Whole: true,
		tidy: same,
	}
}

func privateQuestion(p ledger.Private) Question {
	q := Question{Asks: "private: " + strings.ReplaceAll(p.Name, "-", " "), Whole: true, tidy: same}
	if p.Money {
		q.Write = "3940.00 EUR"
	}
	return q
}

func same(answer string) (string, error) { return answer, nil }
