package report

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lapmark/ledger"
)

// promiseTerm reads how long a promise is proposed.
func promiseTerm(at int, promise string) termKey {
	return termKey{
		word: "promise " + promise, says: "",
		read: func(t *Terms, lines []string) error {
			p, err := readPromise(promise, oneLine(lines))
			t.Promises[at] = p
			return err
		},
		write: func(t Terms) []string { return []string{t.Promises[at].says()} },
	}
}

// says is the promise as the terms file writes it.
func (p PromiseTerm) says() string {
	if p.Months == 0 {
		return "none"
	}
	floor, upkeep := "-", "no"
	if p.Floor < 100 {
		floor = strconv.Itoa(p.Floor)
	}
	if p.Upkeep {
		upkeep = "yes"
	}
	return fmt.Sprintf("%d %d %s %s", p.Months, p.Full, floor, upkeep)
}

// readPromise reads "months full floor upkeep", or "none".
func readPromise(promise, value string) (PromiseTerm, error) {
	p := PromiseTerm{Promise: promise, Floor: 100}
	if value == "none" {
		return PromiseTerm{Promise: promise}, nil
	}
	f := strings.Fields(value)
	if len(f) != 4 {
		return p, errors.New("months, full months, floor in percent (- for none), upkeep yes or no; or none")
	}
	var err error
	if p.Months, err = readNumber(f[0], 1, 240); err != nil {
		return p, fmt.Errorf("months: %w", err)
	}
	if p.Full, err = readNumber(f[1], 0, p.Months); err != nil {
		return p, fmt.Errorf("full months: %w", err)
	}
	if f[2] != "-" {
		if p.Floor, err = readNumber(f[2], 0, 100); err != nil {
			return p, fmt.Errorf("floor: %w", err)
		}
	}
	if f[3] != "yes" && f[3] != "no" {
		return p, errors.New("upkeep is yes or no")
	}
	p.Upkeep = f[3] == "yes"
	return p, nil
}

func readNumber(text string, least, most int) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < least || n > most {
		return 0, fmt.Errorf("%q is not a whole number from %d to %d", text, least, most)
	}
	return n, nil
}

func numberTerm(w numberWord) termKey {
	return termKey{
		word: w.Word, says: w.Says,
		read: func(t *Terms, lines []string) error {
			value := oneLine(lines)
			n, err := readNumber(strings.TrimSuffix(value, unitBehind(w.Unit)), w.Least, w.Most)
			*w.In(&t.Numbers) = n
			return err
		},
		write: func(t Terms) []string {
			return []string{strconv.Itoa(*w.In(&t.Numbers)) + unitBehind(w.Unit)}
		},
	}
}

func unitBehind(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// limitTerm reads the values of a rule or check: as many as usual, in the same
// units.
func limitTerm(term ledger.Term) termKey {
	return termKey{
		word: term.Rule,
		read: func(t *Terms, lines []string) error {
			value := oneLine(lines)
			numbers, err := term.Numbers(value)
			if err != nil {
				return err
			}
			usual, err := term.Numbers(term.Usual)
			if err == nil && !slices.Equal(numbers, usual) {
				t.Limits = append(t.Limits, Limit{term.Rule, value})
			}
			return err
		},
		write: func(t Terms) []string {
			says, _ := t.LimitSays(term.Rule)
			return []string{says}
		},
	}
}
