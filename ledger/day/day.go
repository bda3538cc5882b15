// Package day holds calendar days, local moments and UTC stamps as small
// values, and counts months the way a term of a warranty runs.
//
// Each of the three has one written form and reads no other:
//
//	Day     2020-04-24              the calendar day at the shop's place
//	Moment  2020-04-09T16:30+02:00  a minute on the shop's clock
//	Stamp   2026-05-04T13:22:11Z    a second in UTC
//
// The calendar is the Gregorian one, carried back before its introduction
// (ISO 8601), from the year 0001 to 9999. Nothing here asks a clock.
package day

import (
	"cmp"
	"errors"
	"fmt"
)

// ErrForm says that a text is not of the one form that is read.
var ErrForm = errors.New("not of the form")

// ErrNoSuch says that a text has the form and names no real day or time:
// 2021-02-29, 24:00.
var ErrNoSuch = errors.New("no such day or time")

// Day is one calendar day. The zero Day is no day at all; days compare with
// == and with Compare.
type Day struct {
	number int32 // 1 is 0001-01-01
}

// The first and the last day there are. Counting that would run past them
// stays at them.
const (
	firstNumber = 1
	lastNumber  = 3_652_059 // 9999-12-31
	epochNumber = 719_163   // 1970-01-01
)

// New returns the day of a year, month and day of the month. It answers
// ErrNoSuch when the calendar has none.
func New(year, month, date int) (Day, error) {
	if year < 1 || year > 9999 || month < 1 || month > 12 || date < 1 || date > monthLength(year, month) {
		return Day{}, fmt.Errorf("%04d-%02d-%02d: %w", year, month, date, ErrNoSuch)
	}
	return number(year, month, date), nil
}

// Parse reads "2020-04-24". It answers ErrForm or ErrNoSuch.
func Parse(text string) (Day, error) {
	if !shaped(text, "0000-00-00") {
		return Day{}, fmt.Errorf("day %q: %w YYYY-MM-DD", text, ErrForm)
	}
	return New(digits(text[0:4]), digits(text[5:7]), digits(text[8:10]))
}

// IsZero says whether d is no day at all.
func (d Day) IsZero() bool { return d == Day{} }

// String is "2020-04-24", or nothing for the zero Day.
func (d Day) String() string {
	if d.IsZero() {
		return ""
	}
	y, m, n := d.Date()
	return fmt.Sprintf("%04d-%02d-%02d", y, m, n)
}

// Long is "24 April 2020", as it stands in a sentence.
func (d Day) Long() string { return d.words(monthName) }

// Short is "24 Apr 2020", as it stands in a table.
func (d Day) Short() string {
	return d.words(func(month int) string { return monthName(month)[:3] })
}

func (d Day) words(name func(month int) string) string {
	if d.IsZero() {
		return ""
	}
	y, m, n := d.Date()
	return fmt.Sprintf("%d %s %04d", n, name(m), y)
}

func monthName(month int) string {
	return [...]string{
		"January", "February", "March", "April", "May", "June", "July",
		"August", "September", "October", "November", "December",
	}[month-1]
}

// Compare is -1, 0 or 1 as d is before, on or after e. The zero Day is before
// every day.
func (d Day) Compare(e Day) int { return cmp.Compare(d.number, e.number) }

// Before says whether d is earlier than e.
func (d Day) Before(e Day) bool { return d.number < e.number }

// After says whether d is later than e.
func (d Day) After(e Day) bool { return d.number > e.number }

// AddDays returns the day n days after d, n below 0 before it: plain counting,
// no weekend or holiday moves it. The zero Day stays no day.
func (d Day) AddDays(n int) Day {
	if d.IsZero() {
		return d
	}
	n = min(max(n, -lastNumber), lastNumber)
	return Day{int32(min(max(int(d.number)+n, firstNumber), lastNumber))}
}

// Between returns how many days later to is than from.
func Between(from, to Day) int { return int(to.number) - int(from.number) }

// monthLength returns the number of days of a month of the Gregorian calendar.
func monthLength(year, month int) int {
	switch month {
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	case 4, 6, 9, 11:
		return 30
	}
	return 31
}

// number counts the days up to a real date. The year is taken to begin in
// March, so that the leap day is its last.
func number(year, month, date int) Day {
	y, m := year, month-3
	if m < 0 {
		y, m = y-1, m+12
	}
	const marchToDecember = 306 // 1 March of year 0 lies 306 days before 0001-01-01
	days := y*365 + y/4 - y/100 + y/400 + (m*153+2)/5 + date - marchToDecember
	return Day{int32(days)}
}

// Date returns year, month (1 to 12) and day of the month; zeros for the zero
// Day.
func (d Day) Date() (year, month, date int) {
	if d.IsZero() {
		return 0, 0, 0
	}
	year = min(int(d.number)*400/146_097+2, 9999) // never too early, one or two too late
	for number(year, 1, 1).number > d.number {
		year--
	}
	month = 12
	for number(year, month, 1).number > d.number {
		month--
	}
	return year, month, int(d.number-number(year, month, 1).number) + 1
}
