package day

import "fmt"

const minutesOfDay = 24 * 60

// Moment is one minute as a clock at some place shows it, with the offset of
// that clock from UTC. The zero Moment is none. Two moments of the same
// instant with different offsets are not ==; compare their UTC.
type Moment struct {
	day    Day
	minute int16 // since midnight
	offset int16 // minutes ahead of UTC
}

// ParseMoment reads "2020-04-09T16:30+02:00". Offsets reach to 14:00 either
// way (W3C XML Schema Part 2, 3.2.7.3); -00:00 and Z are not the form, so
// that one moment has one text. It answers ErrForm or ErrNoSuch.
func ParseMoment(text string) (Moment, error) {
	if !shaped(text, "0000-00-00T00:00+00:00") && !shaped(text, "0000-00-00T00:00-00:00") {
		return Moment{}, fmt.Errorf("moment %q: %w YYYY-MM-DDThh:mm+hh:mm", text, ErrForm)
	}
	on, err := Parse(text[:10])
	if err != nil {
		return Moment{}, err
	}
	hour, minute := digits(text[11:13]), digits(text[14:16])
	ahead, part := digits(text[17:19]), digits(text[20:22])
	offset := ahead*60 + part
	switch {
	case text[16] == '-' && offset == 0:
		return Moment{}, fmt.Errorf("moment %q: %w: the offset of UTC is +00:00", text, ErrForm)
	case hour > 23 || minute > 59 || part > 59 || offset > farthestOffset:
		return Moment{}, fmt.Errorf("moment %q: %w", text, ErrNoSuch)
	case text[16] == '-':
		offset = -offset
	}
	return Moment{on, int16(hour*60 + minute), int16(offset)}, nil
}

const farthestOffset = 14 * 60

// MomentAt returns the moment so many minutes after 1970-01-01T00:00Z, on a
// clock that is offset minutes ahead of UTC. An offset beyond 14 hours, or a
// day before 0001 or after 9999, gives the zero Moment.
func MomentAt(utc int64, offset int) Moment {
	if offset < -farthestOffset || offset > farthestOffset {
		return Moment{}
	}
	on, minute := split(utc, int64(offset), minutesOfDay)
	if on.IsZero() {
		return Moment{}
	}
	return Moment{on, int16(minute), int16(offset)}
}

// IsZero says whether m is no moment.
func (m Moment) IsZero() bool { return m == Moment{} }

// String is "2020-04-09T16:30+02:00", or nothing for the zero Moment.
func (m Moment) String() string {
	if m.IsZero() {
		return ""
	}
	sign, offset := '+', m.offset
	if offset < 0 {
		sign, offset = '-', -offset
	}
	return fmt.Sprintf("%sT%s%c%02d:%02d", m.day, m.Clock(), sign, offset/60, offset%60)
}

// Clock is "16:30".
func (m Moment) Clock() string { return fmt.Sprintf("%02d:%02d", m.minute/60, m.minute%60) }

// Day returns the calendar day at the place of the clock.
func (m Moment) Day() Day { return m.day }

// Offset returns the minutes the clock is ahead of UTC.
func (m Moment) Offset() int { return int(m.offset) }

// UTC returns the minutes since 1970-01-01T00:00Z. Times are differences of
// it, so no change of the clock makes a wait longer or shorter.
func (m Moment) UTC() int64 {
	return int64(m.day.number-epochNumber)*minutesOfDay + int64(m.minute) - int64(m.offset)
}

// split takes a count since the epoch apart into the day and the rest of it.
// It returns the zero Day outside the calendar.
func split(since, ahead, ofDay int64) (Day, int64) {
	const farthest = 1 << 40 // more seconds than the calendar has, so nothing overflows
	since = min(max(since, -farthest), farthest) + ahead
	days, rest := since/ofDay, since%ofDay
	if rest < 0 {
		days, rest = days-1, rest+ofDay
	}
	days += epochNumber
	if days < firstNumber || days > lastNumber {
		return Day{}, 0
	}
	return Day{int32(days)}, rest
}
