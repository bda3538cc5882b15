package sheet

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
)

func writeDay(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	s, ok := v.(string)
	_, err := day.Parse(s)
	return bare(s), ok && err == nil
}

func readDay(f ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	s := c.next()
	if _, err := day.Parse(s); err != nil {
		return nil, unclear(ReasonDay, "%s: %q is no day: write 2020-04-07", orName(f), s)
	}
	return s, nil
}

// clock splits a moment into day and time as the sheet writes them: the offset
// stays behind the time where it is not the heading's.
func clock(moment string, h Heading) (dayOf, timeOf string, ok bool) {
	if _, err := day.ParseMoment(moment); err != nil {
		return "", "", false
	}
	dayOf, rest, _ := strings.Cut(moment, "T")
	return dayOf, strings.TrimSuffix(rest, h.Zone), true
}

// moment joins them again.
func moment(dayOf, timeOf string, h Heading) (string, error) {
	if len(timeOf) == len("16:30") {
		timeOf += h.Zone
	}
	s := dayOf + "T" + timeOf
	if _, err := day.ParseMoment(s); err != nil {
		return "", unclear(ReasonTime, "%s is no time: write 16:30", timeOf)
	}
	return s, nil
}

func writeWhen(_ ledger.Field, h Heading, v format.Value) (item, bool) {
	s, ok := v.(string)
	if dayOf, timeOf, ok := clock(s, h); ok {
		return bare(dayOf, timeOf), true
	}
	_, err := day.Parse(s)
	return bare(s), ok && err == nil
}

func readWhen(f ledger.Field, h Heading, c *cursor) (format.Value, error) {
	v, err := readDay(f, h, c)
	if err != nil || c.done() {
		return v, err
	}
	return moment(v.(string), c.next(), h)
}

func readMoment(f ledger.Field, h Heading, c *cursor) (format.Value, error) {
	v, err := readDay(f, h, c)
	if err != nil {
		return nil, err
	}
	return moment(v.(string), c.next(), h)
}

// IsMoment says whether s is a moment as a body holds it.
func IsMoment(s string) bool {
	_, err := day.ParseMoment(s)
	return err == nil
}
