package day

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lapmark/testdata"
)

// Rows of testdata/reference/dates.csv: W3C XML Schema Part 2 appendix E and
// four calendar libraries named in the rows.
func TestReferenceDates(t *testing.T) {
	tried := map[string]int{}
	for _, row := range testdata.Reference(t, "dates.csv") {
		in := row.Named()
		var got string
		switch row.Quantity {
		case "date plus months":
			to, moved := parse(t, in["date"]).PlusMonths(whole(t, in["months"]))
			require.Equal(t, strings.HasPrefix(row.Locator, "clamped"), moved, row.ID)
			got = to.String()
		case "date plus days":
			got = parse(t, in["date"]).AddDays(whole(t, in["days"])).String()
		case "days between":
			got = strconv.Itoa(Between(parse(t, in["from"]), parse(t, in["to"])))
		case "full months between":
			got = strconv.Itoa(FullMonths(parse(t, in["from"]), parse(t, in["to"])))
		case "last day of a term":
			got = LastDay(parse(t, in["first_day"]), whole(t, in["months"])).String()
		case "rule": // a text to read
			continue
		default:
			t.Fatalf("%s: no test for %q", row.ID, row.Quantity)
		}
		require.Equal(t, row.Value, got, row.ID)
		tried[row.Quantity]++
	}
	require.Len(t, tried, 5)
}

func TestPlusMonthsSaysWhetherItMoved(t *testing.T) {
	for _, c := range []struct {
		from  string
		n     int
		to    string
		moved bool
	}{
		{"2000-03-30", 1, "2000-04-30", false}, // W3C XML Schema Part 2, appendix E
		{"2000-03-31", 1, "2000-04-30", true},
		{"2020-03-31", -1, "2020-02-29", true},
		{"2020-01-15", -13, "2018-12-15", false},
		{"9999-12-31", 1, "9999-12-31", true},
		{"0001-01-01", -1, "0001-01-01", true},
	} {
		to, moved := parse(t, c.from).PlusMonths(c.n)
		require.Equal(t, c.to, to.String(), c.from)
		require.Equal(t, c.moved, moved, c.from)
	}
}

// Worked by hand: a term of 12 months from a leap day, and 37 from the end of
// August.
func TestLastDayAndFullMonths(t *testing.T) {
	require.Equal(t, "2024-09-30", LastDay(parse(t, "2021-08-31"), 37).String())
	require.Equal(t, "2024-02-28", LastDay(parse(t, "2020-02-29"), 48).String())
	for at, want := range map[string]int{
		"2020-02-28": 0, "2020-02-29": 0, "2021-02-28": 11, "2021-03-01": 12,
	} {
		require.Equal(t, want, FullMonths(parse(t, "2020-02-29"), parse(t, at)), at)
	}
	for at, want := range map[string]int{"2026-05-11": 72, "2030-04-23": 119, "2026-11-25": 79} {
		require.Equal(t, want, FullMonths(parse(t, "2020-04-24"), parse(t, at)), at)
	}
}

// FullMonths against its definition, counted one month at a time.
func TestFullMonthsIsTheLargest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := Day{int32(rapid.IntRange(735_000, 742_000).Draw(t, "first"))}
		at := first.AddDays(rapid.IntRange(-400, 8_000).Draw(t, "later"))
		n := 0
		for LastDay(first, n+1).Before(at) {
			n++
		}
		require.Equal(t, n, FullMonths(first, at), "%s to %s", first, at)
	})
}

// Every day of the calendar against Go's own time package.
func TestEveryDayAgainstTime(t *testing.T) {
	d := Day{firstNumber}
	for at := time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC); at.Year() < 10_000; at = at.AddDate(0, 0, 1) {
		year, month, date := d.Date()
		if year != at.Year() || month != int(at.Month()) || date != at.Day() {
			t.Fatalf("day %d is %d-%d-%d, not %s", d.number, year, month, date, at)
		}
		if back := number(year, month, date); back != d {
			t.Fatalf("%d-%d-%d is day %d, not %d", year, month, date, back.number, d.number)
		}
		d = Day{d.number + 1}
	}
	require.Equal(t, int32(lastNumber+1), d.number)
	require.Equal(t, "1970-01-01", Day{epochNumber}.String())
}

func TestParseRefuses(t *testing.T) {
	for text, want := range map[string]error{
		"":              ErrForm,
		"2020-4-24":     ErrForm,
		"2020-04-24 ":   ErrForm,
		"2020/04/24":    ErrForm,
		"+020-04-24":    ErrForm,
		"２０２０-04-24":    ErrForm,
		"2020-04-24T00": ErrForm,
		"2021-02-29":    ErrNoSuch,
		"1900-02-29":    ErrNoSuch,
		"2020-00-10":    ErrNoSuch,
		"2020-13-01":    ErrNoSuch,
		"2020-04-31":    ErrNoSuch,
		"2020-04-00":    ErrNoSuch,
		"0000-01-01":    ErrNoSuch,
	} {
		got, err := Parse(text)
		require.ErrorIs(t, err, want, text)
		require.True(t, got.IsZero())
	}
}

func TestPrinted(t *testing.T) {
	d := parse(t, "2020-04-24")
	require.Equal(t, "24 April 2020", d.Long())
	require.Equal(t, "24 Apr 2020", d.Short())
	require.Equal(t, "3 May 2020", parse(t, "2020-05-03").Short())
	require.Empty(t, Day{}.String()+Day{}.Long()+Day{}.Short())
	require.True(t, d.Before(d.AddDays(1)) && d.After(d.AddDays(-1)) && d.Compare(d) == 0)
	require.Equal(t, "9999-12-31", d.AddDays(math.MaxInt).String())
	require.Equal(t, "0001-01-01", d.AddDays(math.MinInt).String())
	require.True(t, Day{}.AddDays(7).IsZero())
}

func FuzzParse(f *testing.F) {
	f.Add("2020-02-29")
	f.Fuzz(func(t *testing.T, text string) {
		d, err := Parse(text)
		if err == nil && d.String() != text {
			t.Fatalf("%q is written back as %q", text, d)
		}
		_, outside := time.Parse(time.DateOnly, text)
		if (err == nil) != (outside == nil && !strings.HasPrefix(text, "0000")) {
			t.Fatalf("%q: %v, but time says %v", text, err, outside)
		}
	})
}

func parse(t *testing.T, text string) Day {
	t.Helper()
	d, err := Parse(text)
	require.NoError(t, err)
	return d
}

func whole(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	return n
}
