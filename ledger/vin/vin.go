// Package vin checks vehicle identification numbers: their form and the check
// digit in position 9.
//
// The sums are those of 49 CFR 565.15(c), Tables III to V. Outside North
// America position 9 is left to the maker (ISO 3779, from memory), so a number
// without a check digit there is not a wrong one.
//
// The check digit has two blind spots: letters that count alike (T and L are
// both 3), and a letter that counts like a digit (F and 6).
package vin

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Length is the number of characters of a VIN (49 CFR 565.13(b)).
const Length = 17

// FormError says why a text is no VIN. Count is the number of its characters;
// Bad is the first one that no VIN has, Place its position from 1. Bad is 0
// when only the count is wrong.
type FormError struct {
	Count int
	Bad   rune
	Place int
}

func (e *FormError) Error() string {
	if e.Bad != 0 {
		return fmt.Sprintf("position %d of the VIN is %q", e.Place, e.Bad)
	}
	return fmt.Sprintf("the VIN has %d characters, not %d", e.Count, Length)
}

// Form answers a *FormError unless the text is 17 capitals and digits without
// I, O and Q (49 CFR 565.13, 565.15).
func Form(vin string) error {
	count := utf8.RuneCountInString(vin)
	place := 0
	for _, c := range vin {
		place++
		if _, ok := value(c); !ok {
			return &FormError{Count: count, Bad: c, Place: place}
		}
	}
	if count != Length {
		return &FormError{Count: count}
	}
	return nil
}

// Result is what the check digit of a VIN says.
type Result struct {
	Sum      int  // the weighted sum of the other sixteen characters
	Want     byte // what position 9 should be: '0' to '9' or 'X'
	Is       byte // what it is
	HasDigit bool // position 9 is a digit or X at all
	Good     bool // it is the one wanted
}

// Check works out the check digit of a VIN. What has not the form of one gets
// the zero Result.
func Check(vin string) Result {
	if Form(vin) != nil {
		return Result{}
	}
	r := Result{Is: vin[checkPlace]}
	for i, c := range vin {
		counts, _ := value(c)
		r.Sum += counts * weight(i)
	}
	r.Want = "0123456789X"[r.Sum%11] // Table V; the remainder, never its printed decimals
	r.HasDigit = r.Is == 'X' || r.Is >= '0' && r.Is <= '9'
	r.Good = r.Is == r.Want
	return r
}

// ModelYears returns the two years that the letter or digit in position 10
// stands for: it comes again after 30 years (49 CFR 565.15, Table VII). ok is
// false for one that no year has.
func ModelYears(code byte) (early, late int, ok bool) {
	n := strings.IndexByte("ABCDEFGHJKLMNPRSTVWXY123456789", code)
	return 1980 + n, 2010 + n, n >= 0
}

// checkPlace is where the check digit stands, counted from 0.
const checkPlace = 8

// weight returns what a position counts, counted from 0 (Table IV).
func weight(place int) int {
	return [Length]int{8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2}[place]
}

// value returns what a character counts (Table III); I, O, Q and everything
// that is no capital or digit have no value.
func value(c rune) (counts int, ok bool) {
	switch {
	case c >= '0' && c <= '9':
		return int(c - '0'), true
	case c >= 'A' && c <= 'H':
		return int(c-'A') + 1, true
	case c >= 'J' && c <= 'N':
		return int(c-'J') + 1, true
	case c == 'P':
		return 7, true
	case c == 'R':
		return 9, true
	case c >= 'S' && c <= 'Z':
		return int(c-'S') + 2, true
	}
	return 0, false
}
