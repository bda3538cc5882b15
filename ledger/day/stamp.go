package day

import "fmt"

const secondsOfDay = minutesOfDay * 60

// Stamp is one second in UTC: when an entry was inked. The zero Stamp is none.
type Stamp struct {
	day    Day
	second int32 // since midnight
}

// ParseStamp reads "2026-05-04T13:22:11Z", 20 characters. Seconds run from 00
// to 59: a leap second has no stamp. It answers ErrForm or ErrNoSuch.
func ParseStamp(text string) (Stamp, error) {
	if !shaped(text, "0000-00-00T00:00:00Z") {
		return Stamp{}, fmt.Errorf("stamp %q: %w YYYY-MM-DDThh:mm:ssZ", text, ErrForm)
	}
	on, err := Parse(text[:10])
	if err != nil {
		return Stamp{}, err
	}
	hour, minute, second := digits(text[11:13]), digits(text[14:16]), digits(text[17:19])
	if hour > 23 || minute > 59 || second > 59 {
		return Stamp{}, fmt.Errorf("stamp %q: %w", text, ErrNoSuch)
	}
	return Stamp{on, int32((hour*60+minute)*60 + second)}, nil
}

// StampAt returns the stamp so many seconds after 1970-01-01T00:00:00Z, and
// the zero Stamp before 0001 or after 9999.
func StampAt(unix int64) Stamp {
	on, second := split(unix, 0, secondsOfDay)
	return Stamp{on, int32(second)}
}

// IsZero says whether s is no stamp.
func (s Stamp) IsZero() bool { return s == Stamp{} }

// String is "2026-05-04T13:22:11Z", or nothing for the zero Stamp.
func (s Stamp) String() string {
	if s.IsZero() {
		return ""
	}
	return fmt.Sprintf("%sT%02d:%02d:%02dZ", s.day, s.second/3600, s.second/60%60, s.second%60)
}

// Day returns the calendar day in UTC.
func (s Stamp) Day() Day { return s.day }

// Unix returns the seconds since 1970-01-01T00:00:00Z.
func (s Stamp) Unix() int64 {
	return int64(s.day.number-epochNumber)*secondsOfDay + int64(s.second)
}
