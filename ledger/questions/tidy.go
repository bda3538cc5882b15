package questions

import (
	"fmt"
	"regexp"
	"strings"
	"sync"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// tidy writes an answer as a sheet has it: quotes round a text, a unit behind a
// bare number, hyphens in a word.
func tidy(f ledger.Field, answer string, h sheet.Heading) (string, error) {
	switch f.Form {
	case ledger.FormWord:
		return wordText(f, answer)
	case ledger.FormFlag:
		return yesText(answer)
	case ledger.FormPass:
		return passText(answer)
	case ledger.FormText, ledger.FormFree:
		return textText(f, answer), nil
	case ledger.FormMoment:
		return momentText(answer, h), nil
	case ledger.FormMm:
		return numbered(answer, "mm"), nil
	case ledger.FormMmList:
		return numbered(strings.ReplaceAll(answer, " ", "/"), "mm"), nil
	case ledger.FormMonths:
		return numbered(answer, "months"), nil
	case ledger.FormPerMille:
		return numbered(answer, "%"), nil
	case ledger.FormRef:
		return each(answer, refText), nil
	case ledger.FormTag, ledger.FormCoverRef:
		return strings.ToUpper(answer), nil
	case ledger.FormMark:
		return each(answer, func(s string) string { return strings.ReplaceAll(strings.ToLower(s), " ", "-") }), nil
	}
	return answer, nil
}

// each tidies the things of an answer that commas part.
func each(answer string, one func(string) string) string {
	parts := strings.Split(answer, ",")
	for i := range parts {
		parts[i] = one(strings.TrimSpace(parts[i]))
	}
	return strings.Join(parts, ", ")
}

// inParts parts an answer where each thing of the list stands alone in a sheet.
func inParts(f ledger.Field, text string) []string {
	if !f.Many || f.Form == ledger.FormText || !f.Apart && f.Form != ledger.FormPlace {
		return []string{text}
	}
	parts := strings.Split(text, ",")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

func tidyWord(answer string) string {
	return strings.Join(strings.Fields(strings.ToLower(answer)), "-")
}

func wordText(f ledger.Field, answer string) (string, error) {
	var names []string
	for _, w := range ledger.WordsOf(f.List) {
		names = append(names, w.Name)
	}
	if f.Many {
		for _, one := range strings.Split(answer, ",") {
			if tidyWord(one) == f.Empty && f.Empty != "" {
				continue
			}
			if _, err := oneOf(names, one); err != nil {
				return "", err
			}
		}
		return each(answer, tidyWord), nil
	}
	return oneOf(names, answer)
}

// mostNamed is how many words an error names.
const mostNamed = 12

// oneOf finds the word that an answer is; the error names the words.
func oneOf(names []string, answer string) (string, error) {
	said := tidyWord(answer)
	var near []string
	for _, name := range names {
		if name == said {
			return name, nil
		}
		if strings.HasPrefix(name, said) || strings.Contains(name, "-"+said) {
			near = append(near, name)
		}
	}
	if len(near) == 0 {
		near = names
	}
	if len(near) > mostNamed {
		return "", fmt.Errorf("%q is none of the words that may stand here", answer)
	}
	return "", fmt.Errorf("%q is none of these words: %s", answer, strings.Join(near, ", "))
}

func yesText(answer string) (string, error) {
	switch strings.ToLower(answer) {
	case "yes", "y":
		return "yes", nil
	case "no", "n":
		return "", nil
	}
	return "", fmt.Errorf("%q: answer yes or no", answer)
}

func passText(answer string) (string, error) {
	switch tidyWord(answer) {
	case "pass", "passed", "yes":
		return "pass", nil
	case "fail", "failed", "not-pass", "no":
		return "not-pass", nil
	}
	return "", fmt.Errorf("%q: answer pass or fail", answer)
}

func quote(s string) string {
	if len(s) > 1 && strings.HasPrefix(s, `"`) && strings.HasSuffix(s, `"`) {
		s = s[1 : len(s)-1]
	}
	return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
}

func textText(f ledger.Field, answer string) string {
	if answer == f.Empty && f.Empty != "" {
		return answer
	}
	return quote(answer)
}

var clockTime = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\d{1,2}:\d{2}$`) })

func momentText(answer string, h sheet.Heading) string {
	if clockTime().MatchString(answer) {
		return h.Day + " " + fmt.Sprintf("%05s", answer)
	}
	return answer
}

var bareNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[-0-9./ x]+$`) })

// numbered puts the unit behind a number that has none.
func numbered(answer, unit string) string {
	answer = strings.ReplaceAll(answer, ",", ".")
	if unit != "" && bareNumber().MatchString(answer) {
		return answer + " " + unit
	}
	return answer
}

func refText(s string) string {
	if _, ok := ledger.ParseNo(s); ok {
		return "#" + s
	}
	return strings.ToUpper(s)
}

func unitWord(q ledger.Quantity) string { return sheet.UnitWord(q.Unit) }

// valueText writes a quantity with its name and its unit.
func valueText(q ledger.Quantity, answer string) (string, error) {
	if q.Many == ledger.PairOfNumbers {
		answer = strings.Join(strings.Split(strings.ReplaceAll(answer, " ", ""), "x"), " x ")
	}
	text := q.Name + " " + numbered(answer, unitWord(q))
	if q.Unit == ledger.UnitSlope {
		text = q.Name + " 1:" + strings.TrimPrefix(answer, "1:")
	}
	return text, sheet.ReadValues(format.Object{}, text)
}

// anyValueText reads NAME NUMBER.
func anyValueText(answer string) (string, error) {
	name, number, _ := strings.Cut(strings.TrimSpace(answer), " ")
	q, ok := ledger.QuantityNamed(strings.ToLower(name))
	if !ok || number == "" {
		return "", fmt.Errorf("%q: write what was measured and the number, such as air-temp 17", answer)
	}
	return valueText(q, strings.TrimSpace(number))
}
