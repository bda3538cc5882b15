package report

import (
	"cmp"
	"fmt"
	"time"
)

// Day is a calendar day at the shop's place.
type Day struct {
	Year  int
	Month time.Month
	Date  int
}

// NewDay reads a day written YYYY-MM-DD.
func NewDay(iso string) (Day, error) {
	t, err := time.Parse("2006-01-02", iso)
	if err != nil {
		return Day{}, fmt.Errorf("no day: %q", iso)
	}
	return Day{t.Year(), t.Month(), t.Day()}, nil
}

// IsZero tells whether it is no day at all.
func (d Day) IsZero() bool { return d == Day{} }

// Long is the day in a sentence: "24 April 2020"; "" of the zero day.
func (d Day) Long() string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%d %s %d", d.Date, d.Month, d.Year)
}

// Short is the day in a table: "24 Apr 2020"; "" of the zero day.
func (d Day) Short() string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%d %s %d", d.Date, d.Month.String()[:3], d.Year)
}

// beside is the day in a sentence that has just named another: the year is
// left out where it is the same.
func (d Day) beside(other Day) string {
	if !d.IsZero() && d.Year == other.Year {
		return fmt.Sprintf("%d %s", d.Date, d.Month)
	}
	return d.Long()
}

// Moment is a day and the time on the clock at the shop's place.
type Moment struct {
	Day          Day
	Hour, Minute int
}

// Short is the moment in a table: "13 Apr 2020 12:28"; "" without a day.
func (m Moment) Short() string {
	if m.Day.IsZero() {
		return ""
	}
	return fmt.Sprintf("%s %02d:%02d", m.Day.Short(), m.Hour, m.Minute)
}

// compare puts days in order.
func (d Day) compare(other Day) int {
	return cmp.Or(cmp.Compare(d.Year, other.Year), cmp.Compare(d.Month, other.Month), cmp.Compare(d.Date, other.Date))
}

// after tells whether a day comes later than another.
func (d Day) after(other Day) bool { return d.compare(other) > 0 }
