package check

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/report/english"
)

// runs says numbers of entries, three and more in a row as "4 to 6".
func runs(nos []ledger.No) string { return strings.Join(english.Runs(nos, follows), ", ") }

func follows(a, b ledger.No) bool {
	if a.Branch == 0 {
		return b == ledger.No{N: a.N + 1}
	}
	return b == ledger.No{N: a.N, Branch: a.Branch + 1}
}

// since says how long it is from one day to another: "1 year and 209 days".
func since(from, to day.Day) string {
	days := day.Between(from, to)
	switch {
	case days < 0:
		return ""
	case days == 0:
		return "today"
	}
	fromYear, _, _ := from.Date()
	toYear, _, _ := to.Date()
	years := toYear - fromYear
	if on, _ := from.PlusMonths(12 * years); on.After(to) {
		years--
	}
	on, _ := from.PlusMonths(12 * years)
	rest := day.Between(on, to)
	switch {
	case years == 0:
		return english.Numbered(rest, "day", "days")
	case rest == 0:
		return english.Numbered(years, "year", "years")
	}
	return english.Numbered(years, "year", "years") + " and " + english.Numbered(rest, "day", "days")
}

// duration says some seconds in the largest unit that fits: "4 minutes".
func duration(seconds int64) string {
	units := []struct {
		of        int64
		one, many string
	}{{86400, "day", "days"}, {3600, "hour", "hours"}, {60, "minute", "minutes"}, {1, "second", "seconds"}}
	for _, u := range units {
		if seconds >= u.of {
			return english.Numbered(int(seconds/u.of), u.one, u.many)
		}
	}
	return english.Numbered(0, "second", "seconds")
}

// sentence begins a text with a capital letter and ends it with a full stop.
func sentence(text string) string { return english.Sentence(english.Capital(strings.TrimSpace(text))) }

// longDay is an ISO day as it stands in a sentence; what is no day stays.
func longDay(iso string) string {
	d, err := day.Parse(iso)
	if err != nil {
		return iso
	}
	return d.Long()
}

// dayAfter is the day after an ISO day.
func dayAfter(iso string) string {
	d, err := day.Parse(iso)
	if err != nil {
		return iso
	}
	return d.AddDays(1).String()
}

// shortDay is an ISO day as it stands in a list.
func shortDay(iso string) string {
	d, err := day.Parse(iso)
	if err != nil {
		return iso
	}
	return d.Short()
}

// spaced is a word as people say it.
func spaced(word string) string { return strings.ReplaceAll(word, "-", " ") }

func firstOf(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}
