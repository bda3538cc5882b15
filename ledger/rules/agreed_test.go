package rules_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// notAgreed is what the rule says of a work.
func notAgreed(area, op, at string) string {
	return "work-not-agreed stopped: " + area + " m² of " + op + " at " + at +
		" was not agreed before it was done. Ring the holder and write agree-extra."
}

// The demo's decision covers 3625 to 7400 aft. Within 100 mm beyond it and
// 0.05 m² nothing is asked: 2200 × 22 mm is 0.0484 m², 2200 × 23 is 0.0506.
func TestWorkBeyondWhatWasAgreed(t *testing.T) {
	w := demoUpTo(t, "10.txt")
	work := func(place string) []string { return w.says(on("2020-04-08", "work: strip at "+place+" layer skin")) }
	require.Empty(t, work("3625-5000 aft full width"))
	require.Empty(t, work("3603-5000 aft full width"))
	require.Equal(t, []string{notAgreed("0.05", "strip", "3602–5000 aft, full width, skin")}, work("3602-5000 aft full width"))
	require.Empty(t, work("3525-5000 aft 0-100 R"), "100 mm beyond")
	require.Equal(t, []string{notAgreed("0.01", "strip", "3524–5000 aft, 0–100 R, skin")}, work("3524-5000 aft 0-100 R"), "101 mm beyond")
	require.Equal(t, []string{notAgreed("0.25", "strip", "1000–1500 aft, 0–500 R, skin")}, work("1000-1500 aft 0-500 R"))
	w.with("work-not-agreed", "0.30 m2 2600 mm")
	require.Empty(t, work("1100-1600 aft 0-500 R"))
	require.Equal(t, []string{notAgreed("0.25", "strip", "1000–1500 aft, 0–500 R, skin")}, work("1000-1500 aft 0-500 R"), "2625 mm away")
	require.Equal(t, "0.30 m2 2600 mm", w.limitsOf(on("2020-04-08", "work: strip at 1000-1500 aft 0-500 R layer skin"))[0]["says"])
	require.Empty(t, w.limitsOf(on("2020-04-08", "work: strip at 1100-1600 aft 0-500 R layer skin")))
	reason := "; override work-not-agreed, reason \"rain came, holder not reached\", by foreman"
	require.Equal(t, "work-not-agreed", w.limitsOf(on("2020-04-08", "work: strip at 1000-1500 aft 0-500 R layer skin"+reason))[0]["rule"],
		"it decided, though a reason was given")
}

func TestWorkThatAsksForNoYes(t *testing.T) {
	w := demoUpTo(t, "10.txt")
	for _, op := range []string{"tarp", "open-up", "take-off-fitting", "dry-out", "make-good"} {
		require.Empty(t, w.says(on("2020-04-08", "work: "+op+" at 1000-1500 aft 0-500 R layer skin")), op)
	}
	require.Len(t, w.says(on("2020-04-08", "work: strip-sealant at 1000-1500 aft 0-500 R")), 1)
}

// Which decisions are a yes, and when they were given: without a time of day
// before the other notes of that day.
func TestWhatIsAYes(t *testing.T) {
	for choice, yes := range map[string]bool{
		"repair-now": true, "repair-by": true, "only-make-tight": true, "look-further": true, "agree-extra": true,
		"leave": false, "holder-does": false, "another-shop": false, "refuse-opening": false,
	} {
		w := demoUpTo(t, "10.txt")
		until := ""
		if choice == "repair-by" {
			until = "; until 2020-05-01"
		}
		w.sheets(on("2020-04-08", "decision: "+choice+"; at 1000-1500 aft 0-500 R"+until+"; given phone, on 2020-04-08; warned \"x\""))
		says := w.says(on("2020-04-08", "work: strip at 1000-1500 aft 0-500 R layer skin; time 07:00"))
		require.Equal(t, yes, len(says) == 0, "%s: %v", choice, says)
	}
	for given, yes := range map[string]bool{"2020-04-08 10:00": true, "2020-04-08 10:01": false, "2020-04-07": true, "2020-04-08": true, "2020-04-09": false} {
		w := demoUpTo(t, "10.txt")
		w.sheets(on("2020-04-09", "decision: agree-extra; at 1000-1500 aft 0-500 R; given phone, on "+given+"; warned \"x\""))
		says := w.says(on("2020-04-08", "work: strip at 1000-1500 aft 0-500 R layer skin; time 10:00"))
		require.Equal(t, yes, len(says) == 0, "%s: %v", given, says)
	}
}

// A yes ends where a certificate of the shop has come to lie over its place.
func TestYesEndsWithTheCertificate(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	work := "work: strip at 5000-5500 aft 0-500 R layer skin"
	require.Empty(t, w.says(on("2020-04-25", work)))
	w.add(w.certificate())
	require.Equal(t, []string{notAgreed("0.25", "strip", "5000–5500 aft, 0–500 R, skin")}, w.says(on("2020-04-25", work)))
	require.Empty(t, w.says(on("2020-04-23", work)), "it was done before")
	w.sheets(on("2020-04-25", "decision: agree-extra; at 5000-5500 aft 0-500 R; given phone, on 2020-04-25; warned \"x\""))
	require.Empty(t, w.says(on("2020-04-25", work)))
}

// A correction that moves a work out of what was agreed is asked as the work.
func TestWorkMovedByCorrection(t *testing.T) {
	w := demoUpTo(t, "10.txt")
	w.sheets(on("2020-04-08", "work: strip at 4000-4500 aft 0-500 R layer skin"))
	mend := func(is string) []string {
		return w.says(on("2020-04-09", "correction: answers #31; was strip at 4000-4500 aft 0-500 R layer skin; is strip at "+is+
			" layer skin; why \"w\"; found \"f\""))
	}
	require.Empty(t, mend("4100-4600 aft 0-500 R"))
	require.Equal(t, []string{notAgreed("0.25", "strip", "1000–1500 aft, 0–500 R, skin")}, mend("1000-1500 aft 0-500 R"))
}

// Agreed before the work, written after it: noted at the one inked last.
func TestAgreedAndWrittenLate(t *testing.T) {
	const decision = "decision: agree-extra; at 1000-1500 aft 0-500 R; given phone, on 2020-04-08; warned \"x\""
	const work = "work: strip at 1000-1500 aft 0-500 R layer skin"
	const says = "agreed-late noted: Agreed by phone on 8 April 2020, written 2 days later."
	w := demoUpTo(t, "10.txt")
	w.now = "2020-04-10T10:00:00Z"
	require.Empty(t, w.says(on("2020-04-10", decision)), "no work there yet")
	w.sheets(on("2020-04-09", work+"; override work-not-agreed, reason \"rain came, holder not reached\", by foreman"))
	require.Equal(t, []string{says}, w.says(on("2020-04-10", decision)))

	w = demoUpTo(t, "10.txt")
	w.now = "2020-04-10T10:00:00Z"
	w.sheets(on("2020-04-10", decision))
	require.Equal(t, []string{says}, w.says(on("2020-04-09", work)), "the work had waited for it")
	require.Empty(t, w.says(on("2020-04-10", work)), "written on the day of the work")
	require.Empty(t, w.says(on("2020-04-09", "work: strip at 4000-4500 aft 0-500 R layer skin")), "elsewhere")
}
