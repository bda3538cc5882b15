package day

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestMoment(t *testing.T) {
	m, err := ParseMoment("2020-04-09T16:30+02:00")
	require.NoError(t, err)
	require.Equal(t, "2020-04-09T16:30+02:00", m.String())
	require.Equal(t, "2020-04-09", m.Day().String())
	require.Equal(t, "16:30", m.Clock())
	require.Equal(t, 120, m.Offset())
	// date -u -d 2020-04-09T14:30Z +%s, coreutils: 1586442600
	require.Equal(t, int64(1586442600/60), m.UTC())
	require.Equal(t, m, MomentAt(m.UTC(), 120))
	require.Equal(t, "2020-04-09T11:00-03:30", MomentAt(m.UTC(), -210).String())
	require.Empty(t, Moment{}.String())
}

// Two readings an hour apart by the sun though the clock was put forward
// between them.
func TestMomentsAreComparedInUTC(t *testing.T) {
	a, err := ParseMoment("2020-03-29T01:30+01:00")
	require.NoError(t, err)
	b, err := ParseMoment("2020-03-29T03:30+02:00")
	require.NoError(t, err)
	require.Equal(t, int64(60), b.UTC()-a.UTC())
}

func TestParseMomentRefuses(t *testing.T) {
	for text, want := range map[string]error{
		"2020-04-09":                ErrForm,
		"2020-04-09T16:30":          ErrForm,
		"2020-04-09T16:30Z":         ErrForm,
		"2020-04-09T16:30-00:00":    ErrForm,
		"2020-04-09T16:30:00+02:00": ErrForm,
		"2020-04-09 16:30+02:00":    ErrForm,
		"2020-04-09T16:30+0200":     ErrForm,
		"2020-04-09T24:00+02:00":    ErrNoSuch,
		"2020-04-09T16:60+02:00":    ErrNoSuch,
		"2020-04-09T16:30+02:60":    ErrNoSuch,
		"2020-04-09T16:30+14:01":    ErrNoSuch,
		"2020-04-31T16:30+02:00":    ErrNoSuch,
	} {
		_, err := ParseMoment(text)
		require.ErrorIs(t, err, want, text)
	}
	for _, text := range []string{"2020-04-09T16:30+14:00", "2020-04-09T16:30-14:00", "2020-04-09T00:00+00:00"} {
		_, err := ParseMoment(text)
		require.NoError(t, err, text)
	}
}

func TestStamp(t *testing.T) {
	s, err := ParseStamp("2026-05-04T13:22:11Z")
	require.NoError(t, err)
	require.Equal(t, "2026-05-04T13:22:11Z", s.String())
	require.Equal(t, "2026-05-04", s.Day().String())
	// date -u -d 2026-05-04T13:22:11Z +%s, coreutils: 1777900931
	require.Equal(t, int64(1777900931), s.Unix())
	require.Equal(t, s, StampAt(1777900931))
	require.Empty(t, Stamp{}.String())

	for text, want := range map[string]error{
		"2026-05-04T13:22:11":       ErrForm,
		"2026-05-04T13:22:11+00:00": ErrForm,
		"2026-05-04T13:22:11.0Z":    ErrForm,
		"2026-05-04t13:22:11z":      ErrForm,
		"2026-05-04T13:22:60Z":      ErrNoSuch, // a leap second
		"2026-05-04T24:00:00Z":      ErrNoSuch,
		"2026-05-04T13:60:00Z":      ErrNoSuch,
		"2026-02-29T13:22:11Z":      ErrNoSuch,
	} {
		_, err := ParseStamp(text)
		require.ErrorIs(t, err, want, text)
	}
}

func TestOutsideTheCalendarIsNone(t *testing.T) {
	first := Stamp{day: Day{firstNumber}}
	last := Stamp{day: Day{lastNumber}, second: secondsOfDay - 1}
	require.Equal(t, first, StampAt(first.Unix()))
	require.Equal(t, last, StampAt(last.Unix()))
	for _, unix := range []int64{first.Unix() - 1, last.Unix() + 1, -1 << 63, 1<<63 - 1} {
		require.True(t, StampAt(unix).IsZero())
	}
	for _, utc := range []int64{-1 << 63, 1<<63 - 1} {
		require.True(t, MomentAt(utc, 840).IsZero())
	}
	require.True(t, MomentAt(0, 841).IsZero())
}

// Moments and stamps against Go's own time package, both ways.
func TestMomentsAndStampsAgainstTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unix := rapid.Int64Range(-62_000_000_000, 253_000_000_000).Draw(t, "unix")
		offset := rapid.IntRange(-840, 840).Draw(t, "offset")
		at := time.Unix(unix, 0)
		require.Equal(t, at.UTC().Format("2006-01-02T15:04:05Z"), StampAt(unix).String())
		s, err := ParseStamp(StampAt(unix).String())
		require.NoError(t, err)
		require.Equal(t, unix, s.Unix())

		minute := at.Truncate(time.Minute)
		text := minute.In(time.FixedZone("", offset*60)).Format("2006-01-02T15:04-07:00")
		m, err := ParseMoment(text)
		require.NoError(t, err)
		require.Equal(t, text, m.String())
		require.Equal(t, minute.Unix(), m.UTC()*60)
		require.Equal(t, m, MomentAt(m.UTC(), offset))
	})
}
