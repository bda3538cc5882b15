package day

// PlusMonths returns the day with the same number n months on, n below 0
// back. Where that month lacks the number it is the month's last day, and
// moved is true. (W3C XML Schema Part 2, appendix E; Regulation (EEC, Euratom)
// 1182/71 art. 3(2)(c), last sentence.)
func (d Day) PlusMonths(n int) (to Day, moved bool) {
	if d.IsZero() {
		return d, false
	}
	const all = 9999 * 12
	year, month, date := d.Date()
	months := year*12 + month - 1 + min(max(n, -all), all)
	year, month = months/12, months%12+1
	switch {
	case year < 1:
		return Day{firstNumber}, true
	case year > 9999:
		return Day{lastNumber}, true
	}
	if last := monthLength(year, month); date > last {
		return number(year, month, last), true
	}
	return number(year, month, date), false
}

// LastDay returns the last day of a term of so many months that begins with
// first: the day before the same number, or, where that month lacks the
// number, the moved day itself. (German Civil Code sections 187(2), 188(2),
// 188(3): from memory.)
func LastDay(first Day, months int) Day {
	to, moved := first.PlusMonths(months)
	if moved {
		return to
	}
	return to.AddDays(-1)
}

// FullMonths returns how many months of a term that begins with first are over
// on the day at: the most of which the last day lies before at, and 0 before
// the term begins. On a moved last day the month is still running.
func FullMonths(first, at Day) int {
	if first.IsZero() || at.IsZero() {
		return 0
	}
	fromYear, fromMonth, _ := first.Date()
	toYear, toMonth, _ := at.Date()
	months := (toYear-fromYear)*12 + toMonth - fromMonth
	if !LastDay(first, months).Before(at) {
		months--
	}
	return max(months, 0)
}
