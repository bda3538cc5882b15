package loose

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"lapmark/ledger/day"
	"lapmark/ledger/sheet"
)

var monthNames = []string{
	"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december",
}

var weekdayNames = []string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}

// named finds a month or weekday by its name or by its first letters, three or
// more; 0 is none.
func namedIn(list []string, s string) int {
	if s == "sept" {
		s = "sep"
	}
	for i, name := range list {
		if s == name || len(s) == 3 && strings.HasPrefix(name, s) || len(s) == 4 && strings.HasPrefix(name, s) && len(name) > 5 {
			return i + 1
		}
	}
	return 0
}

// dated is a day as it was read: the days it may be, and whether a year was
// said.
type dated struct {
	days []day.Day
	year bool
}

// dayAt reads a day at token i; next is i where there is none.
func (s Shop) dayAt(in []token, i int) (d dated, next int, err error) {
	at := i
	for at < len(in) && (in[at].is("the") || in[at].is("on")) {
		at++
	}
	if at >= len(in) || in[at].used {
		return d, i, nil
	}
	t := in[at]
	switch {
	case t.kind == aDay:
		d, err = s.written(t.s)
		return d, at + 1, err
	case t.kind == aWord && (t.s == "today" || t.s == "yesterday"):
		today, err := day.Parse(s.Today)
		if t.s == "yesterday" {
			today = today.AddDays(-1)
		}
		return dated{days: []day.Day{today}, year: true}, at + 1, err
	case t.kind == aWord && namedIn(weekdayNames, t.s) > 0 && t.s != "sat" && t.s != "sun":
		return dated{days: []day.Day{s.weekday(namedIn(weekdayNames, t.s))}}, at + 1, nil
	case t.kind == aNumber && t.whole && t.unit == "":
		if text, next := strokes(in, at); text != "" {
			d, err = s.written(text)
			return d, next, err
		}
		return s.dateFirst(in, i, at)
	case t.kind == aWord && namedIn(monthNames, t.s) > 0:
		return s.monthFirst(in, i, at)
	}
	return d, i, nil
}

// strokes reads 3/4/26; with a year of four figures it is one token.
func strokes(in []token, at int) (string, int) {
	text := ""
	for k := range 5 {
		i := at + k
		if i >= len(in) || in[i].used || k > 0 && !in[i].glued {
			return "", at
		}
		number := in[i].kind == aNumber && in[i].whole && in[i].unit == "" && len(in[i].raw) <= 2
		if k%2 == 0 && !number || k%2 == 1 && in[i].s != "/" || k == 4 && len(in[i].raw) != 2 {
			return "", at
		}
		text += in[i].raw
	}
	if at+5 < len(in) && in[at+5].glued {
		return "", at
	}
	return text, at + 5
}

func (s Shop) dateFirst(in []token, i, at int) (d dated, next int, err error) {
	month := skipWord(in, at+1, "of")
	if month >= len(in) || in[month].kind != aWord || namedIn(monthNames, in[month].s) == 0 {
		return d, i, nil
	}
	return s.withYear(in, month+1, namedIn(monthNames, in[month].s), in[at])
}

func (s Shop) monthFirst(in []token, i, at int) (d dated, next int, err error) {
	date := skipWord(in, at+1, "the")
	if date >= len(in) || in[date].kind != aNumber || !in[date].whole || in[date].unit != "" || in[date].num.Num().Int64() > 31 {
		return d, i, nil
	}
	return s.withYear(in, date+1, namedIn(monthNames, in[at].s), in[date])
}

func (s Shop) withYear(in []token, i, month int, date token) (dated, int, error) {
	at := i
	if at < len(in) && in[at].kind == aStop && in[at].s == "," {
		at++
	}
	n := int(date.num.Num().Int64())
	if at < len(in) && in[at].kind == aNumber && in[at].whole && in[at].unit == "" && len(in[at].s) == 4 {
		if year := int(in[at].num.Num().Int64()); year >= 1950 && year < 2100 {
			d, err := makeDay(year, month, n)
			return dated{days: []day.Day{d}, year: true}, at + 1, err
		}
	}
	if at < len(in) && in[at].kind == aNumber && in[at].whole && in[at].unit == "" && len(in[at].s) == 2 && at+1 == len(in) && at > 0 && len(in) <= 5 && i == at {
		d, err := makeDay(2000+int(in[at].num.Num().Int64()), month, n)
		return dated{days: []day.Day{d}, year: true}, at + 1, err
	}
	d, err := s.latest(month, n)
	return dated{days: []day.Day{d}}, i, err
}

func makeDay(year, month, date int) (day.Day, error) {
	d, err := day.New(year, month, date)
	if err != nil {
		return d, unclear(DayOf, "%04d-%02d-%02d: there is no such day", year, month, date)
	}
	return d, nil
}

// latest is the newest such day not after the day of reading.
func (s Shop) latest(month, date int) (day.Day, error) {
	today, err := day.Parse(s.Today)
	if err != nil {
		return today, unclear(DayOf, "the year is not said")
	}
	year, _, _ := today.Date()
	for back := range 8 {
		if d, err := day.New(year-back, month, date); err == nil && !d.After(today) {
			return d, nil
		}
	}
	return day.Day{}, unclear(DayOf, "%d-%d: there is no such day", month, date)
}

func (s Shop) weekday(n int) day.Day {
	today, err := day.Parse(s.Today)
	if err != nil {
		return day.Day{}
	}
	y, m, d := today.Date()
	is := (int(time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC).Weekday())+6)%7 + 1
	return today.AddDays(-((is - n + 7) % 7))
}

// written reads 2020-03-16, 16.3.2020 and 3/4/2026.
func (s Shop) written(text string) (dated, error) {
	if dayISO().MatchString(text) {
		d, err := day.Parse(text)
		if err != nil {
			err = unclear(DayOf, "%s: there is no such day", text)
		}
		return dated{[]day.Day{d}, true}, err
	}
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == '.' || r == '/' })
	var n [3]int
	for i, p := range parts {
		n[i], _ = strconv.Atoi(p)
	}
	if len(parts) == 2 {
		d, err := s.latest(n[1], n[0])
		return dated{days: []day.Day{d}}, err
	}
	if n[2] < 100 {
		n[2] += 2000
	}
	order := s.DayOrder
	switch {
	case strings.Contains(text, ".") || n[0] > 12:
		order = DayFirst
	case n[1] > 12:
		order = MonthFirst
	}
	var out []day.Day
	if order != MonthFirst {
		if d, err := makeDay(n[2], n[1], n[0]); err == nil {
			out = append(out, d)
		}
	}
	if order != DayFirst {
		if d, err := makeDay(n[2], n[0], n[1]); err == nil && !slices.Contains(out, d) {
			out = append(out, d)
		}
	}
	if len(out) == 0 {
		return dated{}, unclear(DayOf, "%s: there is no such day", text)
	}
	return dated{out, true}, nil
}

// clockTime is a time of day as it was read.
type clockTime struct {
	minutes int
	offset  string // as typed, "" where none was
}

// timeAt reads a time at token i; next is i where there is none.
func (s Shop) timeAt(in []token, i int) (c clockTime, next int, err error) {
	at := i
	for at < len(in) && (in[at].is("at") || in[at].is("time")) {
		at++
	}
	if at >= len(in) || in[at].used {
		return c, i, nil
	}
	t := in[at]
	switch {
	case t.kind == aTime:
		return writtenTime(in, t, at+1)
	case t.is("noon"):
		return clockTime{minutes: 720}, at + 1, nil
	case t.kind == aNumber && at > i && len(t.s) == 4 && t.whole && t.unit == "":
		n := int(t.num.Num().Int64())
		if n/100 > 23 || n%100 > 59 {
			return c, i, nil
		}
		return clockTime{minutes: n/100*60 + n%100}, at + 1, nil
	case t.is("half") || t.is("quarter"):
		return spokenTime(in, i, at)
	case t.kind == aNumber && t.whole && t.unit == "":
		hour := int(t.num.Num().Int64())
		half, after := halfOfDay(in, at+1)
		if half == "" && after == at+1 {
			if after < len(in) && (in[after].s == "oclock" || in[after].s == "o'clock") {
				return c, after + 1, unclear(Time, "%s o'clock: am or pm", t.raw)
			}
			return c, i, nil
		}
		m, ok := onHalf(hour, 0, half)
		if !ok {
			return c, after, unclear(Time, "%s %s is no time", t.raw, half)
		}
		return clockTime{minutes: m}, after, nil
	}
	return c, i, nil
}

func writtenTime(in []token, t token, after int) (clockTime, int, error) {
	text, offset := t.s, ""
	if at := strings.IndexAny(text, "+-"); at > 0 {
		text, offset = text[:at], text[at:]
	}
	hour, rest, _ := strings.Cut(text, ":")
	h, _ := strconv.Atoi(hour)
	m, _ := strconv.Atoi(rest)
	half, next := halfOfDay(in, after)
	if half != "" {
		n, ok := onHalf(h, m, half)
		if !ok || offset != "" {
			return clockTime{}, next, unclear(Time, "%s %s is no time", t.s, half)
		}
		return clockTime{minutes: n}, next, nil
	}
	switch {
	case h > 23 || m > 59:
		return clockTime{}, next, unclear(Time, "%s is no time", t.s)
	case len(hour) == 1 && h > 0:
		return clockTime{}, next, unclear(Time, "%s: am or pm? Write 0%s or %d:%02d", t.s, t.s, h+12, m)
	}
	return clockTime{h*60 + m, offset}, next, nil
}

// halfOfDay reads am and pm, also a.m. and p.m.
func halfOfDay(in []token, i int) (string, int) {
	if i >= len(in) || in[i].kind != aWord {
		return "", i
	}
	switch in[i].s {
	case "am", "pm":
		return in[i].s, i + 1
	case "a", "p":
		if i+2 < len(in) && in[i+1].s == "." && in[i+1].glued && in[i+2].s == "m" && in[i+2].glued {
			return in[i].s + "m", i + 3
		}
	}
	return "", i
}

func onHalf(hour, minute int, half string) (int, bool) {
	if hour < 1 || hour > 12 || minute > 59 {
		return 0, false
	}
	hour %= 12
	if half == "pm" {
		hour += 12
	}
	return hour*60 + minute, true
}

// spokenTime reads half past four pm, quarter past and quarter to.
func spokenTime(in []token, i, at int) (clockTime, int, error) {
	if at+2 >= len(in) || in[at+2].kind != aNumber || !in[at+1].is("past") && !in[at+1].is("to") {
		return clockTime{}, i, nil
	}
	half, next := halfOfDay(in, at+3)
	if half == "" {
		return clockTime{}, at + 3, unclear(Time, "%s: am or pm", rawOf(in[at:at+3]))
	}
	m, ok := onHalf(int(in[at+2].num.Num().Int64()), 0, half)
	part := map[string]int{"half": 30, "quarter": 15}[in[at].s]
	if in[at+1].s == "to" {
		part = -part
	}
	if !ok || in[at+1].s == "to" && in[at].s == "half" || m+part < 0 {
		return clockTime{}, next, unclear(Time, "%s is no time", rawOf(in[at:next]))
	}
	return clockTime{minutes: m + part}, next, nil
}

// zoneOf is the offset of the shop's clock on a day at noon, or of the heading
// where the shop has said no zone.
func (s Shop) zoneOf(d day.Day, h sheet.Heading) string {
	if s.Zone == nil {
		return h.Zone
	}
	y, m, n := d.Date()
	return time.Date(y, time.Month(m), n, 12, 0, 0, 0, s.Zone).Format("-07:00")
}

// moment is a time of a day with the offset of the shop's clock then. A time
// that does not come that day, or comes twice, is unclear.
func (s Shop) moment(d day.Day, c clockTime, h sheet.Heading) (string, error) {
	hour, minute := c.minutes/60, c.minutes%60
	clock := twoFigures(hour) + ":" + twoFigures(minute)
	offset := c.offset
	switch {
	case offset != "":
	case s.Zone == nil || d.String() == h.Day && h.Zone != s.zoneOf(d, h):
		offset = h.Zone
	default:
		y, m, n := d.Date()
		at := time.Date(y, time.Month(m), n, hour, minute, 0, 0, s.Zone)
		if at.Format("15:04") != clock {
			return "", unclear(Time, "%s does not come on %s", clock, d)
		}
		for _, other := range []time.Time{at.Add(-time.Hour), at.Add(time.Hour)} {
			if other.Format("2006-01-02 15:04") == at.Format("2006-01-02 15:04") {
				return "", unclear(Time, "%s comes twice on %s", clock, d)
			}
		}
		offset = at.Format("-07:00")
	}
	text := d.String() + "T" + clock + offset
	if !sheet.IsMoment(text) {
		return "", unclear(Time, "%s is no time", clock)
	}
	return text, nil
}

func twoFigures(n int) string { return string([]byte{byte('0' + n/10%10), byte('0' + n%10)}) }
