package rules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/sheet"
)

const coach = "coach GZ9TF785XEW004137\n"

// on is a note of a day, behind its heading.
func on(day, note string) string {
	return coach + "on " + day + " zone +02:00\n" + note + "; by hand-1\n"
}

// saysAt asks the rules about a note with the clock at a moment.
func (w *written) saysAt(now, text string) []string {
	w.t.Helper()
	was := w.now
	w.now = now
	defer func() { w.now = was }()
	return w.says(text)
}

// A clock may be ten minutes behind the phone's; a note without a time is of its
// day in the zone of its heading.
func TestFutureNotes(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	timed := on("2020-04-24", "remark: note \"x\"; time 12:11")
	require.Equal(t, []string{
		"future refused: Remark is dated 24 April 2020 12:11, this machine says 24 April 2020 12:00. Mend the date or set the clock.",
	}, w.saysAt("2020-04-24T10:00:59Z", timed))
	require.Empty(t, w.saysAt("2020-04-24T10:01:00Z", timed))
	require.Empty(t, w.says(timed), "nobody asks a clock")
	day := on("2020-04-25", "remark: note \"x\"")
	require.Equal(t, []string{
		"future refused: Remark is dated 25 April 2020, this machine says 24 April 2020 23:49. Mend the date or set the clock.",
	}, w.saysAt("2020-04-24T21:49:59Z", day))
	require.Empty(t, w.saysAt("2020-04-24T21:50:00Z", day))
}

func TestFutureByCorrection(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	mend := func(day string) []string {
		return w.saysAt("2020-03-20T10:00:00Z", on("2020-03-20", "correction: answers #6; was on 2020-03-17; is on "+day+"; why \"w\"; found \"f\""))
	}
	require.Empty(t, mend("2020-03-18"))
	require.Equal(t, []string{"future refused: Check is dated 21 March 2020, this machine says 20 March 2020 12:00. Mend the date or set the clock."},
		mend("2020-03-21"))
}

// Seven days, or the shop's own; what decided stands in the entry. A decision
// happened when it was given.
func TestLateNotes(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	note := on("2020-04-20", "remark: note \"x\"")
	require.Empty(t, w.saysAt("2020-04-27T10:00:00Z", note))
	require.Equal(t, []string{"late-note noted: Written 8 days after it happened."}, w.saysAt("2020-04-28T10:00:00Z", note))
	w.with("late-note", "8 d")
	require.Empty(t, w.saysAt("2020-04-28T10:00:00Z", note))
	w.with("late-note", "3 d")
	require.Equal(t, []string{"late-note noted: Written 4 days after it happened."}, w.saysAt("2020-04-24T10:00:00Z", note))
	w.now = "2020-04-24T10:00:00Z"
	require.Equal(t, "3 d", w.limitsOf(note)[0]["says"])
	require.Empty(t, w.limitsOf(on("2020-04-24", "remark: note \"x\"")), "it decided nothing")
	given := "decision: leave; at R1; given phone, on 2020-04-20; given in-person, on 2020-04-24; warned \"x\""
	require.Equal(t, []string{"late-note noted: Written 4 days after it happened."}, w.says(on("2020-04-24", given)))
}

func TestOlderThanTheIntake(t *testing.T) {
	w := demoUpTo(t, "02.txt")
	const what = "awl at rear-header, depth 1 mm"
	refusal := []string{
		"before-intake refused: Check of 15 March 2020 is older than the intake of 16 March 2020. Mark it from-paper and add the photo.",
	}
	require.Equal(t, refusal, w.says(on("2020-03-15", "check: "+what)))
	require.Empty(t, w.says(on("2020-03-16", "check: "+what)))
	require.Equal(t, refusal, w.says(on("2020-03-15", "check: "+what+"; from-paper")))
	require.Equal(t, refusal, w.says(on("2020-03-15", "check: "+what+"; photo p.jpg")))
	require.Empty(t, w.says(on("2020-03-15", "check: "+what+"; photo p.jpg; from-paper")))
	require.Empty(t, w.says(on("2020-03-15", "remark: note \"x\"")), "no reading, no work")
	require.Equal(t, []string{strings.Replace(refusal[0], "15 March", "14 March", 1)},
		w.says(on("2020-03-17", "correction: answers #6; was on 2020-03-17; is on 2020-03-14; why \"w\"; found \"f\"")))
}

// An odometer reads more from reading to reading; a mile is 1609.344 m (NIST
// Special Publication 811, appendix B).
func TestOdometerGoesBack(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	sale := func(reading string) string {
		return on("2021-05-02", "transfer: sold 2021-05-01; told phone, on 2021-05-02; from-holder holder-1; to-holder holder-2; odometer "+
			reading+"; private holder-name \"N\"")
	}
	require.Empty(t, w.says(sale("61240 km")))
	require.Equal(t, []string{"odometer-back noted: Odometer 61239 km on 2 May 2021, 61240 km on 16 March 2020 before."}, w.says(sale("61239 km")))
	require.Empty(t, w.says(sale("38053 mi")), "61240.4 km")
	require.Equal(t, []string{"odometer-back noted: Odometer 38052 mi on 2 May 2021, 61240 km on 16 March 2020 before."}, w.says(sale("38052 mi")))
	c, err := w.draft(sheet.Read(sale("61300 km"), sheet.Heading{})[0])
	require.NoError(t, err)
	w.add(c.Act)
	mend := "correction: answers #53; was odometer 61300 km; is odometer 6130 km; why \"w\"; found \"f\""
	require.Equal(t, []string{"odometer-back noted: Odometer 6130 km on 2 May 2021, 61240 km on 16 March 2020 before."}, w.says(on("2021-05-03", mend)))
}
