package rules_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

// What no certificate may say, by whatever road it comes in, each beside one
// that goes in.
func TestWordingOfACertificate(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	for name, c := range map[string]struct {
		changes []string
		want    string
	}{
		"a cause in both lists": {
			[]string{"shop-side ", "shop-side hail, "},
			"cause-twice refused: Hail stands among the exclusions and among the causes this shop answers for. Strike it out of one.",
		},
		"the windows of two years meet: 90 + 246 days, 28 x 12 is 336": {
			[]string{"upkeep-grace 60 d", "upkeep-grace 246 d"},
			"upkeep-overlap refused: Upkeep counts from 90 days early to 246 days late: together that must stay under 28 days for each of 12 months. Shorten one.",
		},
		"a day less": {[]string{"upkeep-grace 60 d", "upkeep-grace 245 d"}, ""},
		"a place twice": {
			[]string{"at V2, at A1", "at V2, at V2, at A1"}, "place-twice refused: Line 4 names V2 twice. Say it once.",
		},
		"in two layers it is the same place": {
			[]string{"at V2, at A1", "at V2 layer coating, at V2 layer membrane, at A1"}, "place-twice refused: Line 4 names V2 twice. Say it once.",
		},
		"no margin":           {[]string{"margin 300 mm, ", ""}, "number-missing refused: The certificate lacks its number margin. Write it among the numbers."},
		"no number of upkeep": {[]string{"upkeep-early 90 d, ", ""}, "number-missing refused: The certificate lacks its number upkeep-early. Write it among the numbers."},
		"other rules":         {[]string{"rules 1", "rules 2"}, "rules-version refused: This certificate names rules 2; this program writes by rules 1. Write rules 1."},
		"called full": {
			[]string{"title limited", "title full"},
			"title-full refused: This is a limited warranty, not a full one: line 1 is in full for 60 of 120 months. Write title limited.",
		},
		"called full, no share falls": {
			[]string{"title limited", "title full", "full 60 months", "full 120 months"},
			"title-full refused: This is a limited warranty, not a full one: it goes on through 2 sales and no more. Write title limited.",
		},
		"the maker's promise": {
			[]string{"line 5, watertight-edge", "line 5, materials"},
			"maker-shorter refused: Line 5 promises what a maker answers for. No lot here says until which day that is: strike the line out.",
		},
		"beside one that is not there": {
			[]string{"rules 1", "rules 1\n  beside Q-0001"},
			"beside-unknown refused: There is no certificate Q-0001 on this coach to stand beside. Write the number of one that is there.",
		},
		"beside itself": {
			[]string{"rules 1", "rules 1\n  beside Q-0007"},
			"beside-unknown refused: There is no certificate Q-0007 on this coach to stand beside. Write the number of one that is there.",
		},
		"beside a finding": {
			[]string{"rules 1", "rules 1\n  beside F1"},
			"beside-unknown refused: There is no certificate F1 on this coach to stand beside. Write the number of one that is there.",
		},
		"instead of an older one": {
			[]string{"rules 1", "rules 1\n  instead-of Q-0001 L1"},
			"beside-unknown refused: There is no certificate Q-0001 on this coach to stand beside. Write the number of one that is there.",
		},
	} {
		got := w.says(certificate(t, c.changes...))
		if c.want == "" {
			require.Empty(t, got, name)
			continue
		}
		require.Contains(t, got, c.want, name)
	}
}

func TestBesideAnotherCertificate(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	c, err := w.draft(sheet.Read(certificate(t), sheet.Heading{})[0])
	require.NoError(t, err)
	w.add(c.Act)
	require.Empty(t, w.says(certificate(t, "certificate Q-0007", "certificate Q-0008", "rules 1", "rules 1\n  beside Q-0007")))
}

// What follows from water rides on a watertight line, and on no other.
func TestResultingDamageAlone(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	kept := func(lines ...string) []string {
		var out []string
		for line := range strings.Lines(certificate(t)) {
			if strings.HasPrefix(strings.TrimSpace(line), "line ") {
				continue
			}
			out = append(out, line)
			if strings.HasPrefix(strings.TrimSpace(line), "title") {
				out = append(out, lines...)
			}
		}
		return w.says(strings.Join(out, ""))
	}
	const (
		follows = "  line 1, resulting-damage, at 3700-7400 aft full width layer deck, from 2020-04-24, for 12 months, full 12 months\n"
		bond    = "  line 2, bond, at 3700-7400 aft full width layer deck+core, from 2020-04-24, for 12 months, full 12 months\n"
		tight   = "  line 2, watertight-membrane, at 3700-7400 aft full width layer membrane, from 2020-04-24, for 12 months, full 12 months\n"
	)
	require.Contains(t, kept(follows, bond),
		"resulting-alone refused: Line 1 promises what follows from water. That rides on a watertight line, and there is none here: strike it out.")
	require.Empty(t, kept(follows, tight))
}

// A certificate without a number gets the shop's next one; a typed one stays.
func TestNumberOfACertificate(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	for text, want := range map[string]string{
		certificate(t, "certificate Q-0007:", "certificate:"): "Q-0042", certificate(t): "Q-0007",
	} {
		c, err := w.draft(sheet.Read(text, sheet.Heading{})[0])
		require.NoError(t, err)
		c.Next = func() (string, error) { return "Q-0042", nil }
		require.NoError(t, rules.Fill(c))
		require.Equal(t, want, c.Act.Text("tag"))
	}
	c, err := w.draft(sheet.Read(certificate(t, "certificate Q-0007:", "certificate:"), sheet.Heading{})[0])
	require.NoError(t, err)
	lost := errors.New("the book cannot be read")
	c.Next = func() (string, error) { return "", lost }
	require.ErrorIs(t, rules.Fill(c), lost)
	require.Equal(t, []string{"number-taken refused: This certificate has no number. Write one behind the word certificate."},
		w.says(certificate(t, "certificate Q-0007:", "certificate:")), "where nobody gives one")
}

// A reason answers a rule by its word.
func TestReasonForNoRule(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	note := func(rule string) string {
		return "coach GZ9TF785XEW004137\non 2020-03-20 zone +01:00\ncheck: awl at rear-header, depth 1 mm; override " + rule +
			", reason \"fifteen characters\", by foreman; by hand-1\n"
	}
	require.Empty(t, w.says(note("closing-too-wet")))
	for rule, why := range map[string]string{"closing-to-wet": "mistyped", "log-gap": "notes only", "vin-form": "takes no reason"} {
		require.Equal(t, []string{
			"override-unknown refused: " + rule + " is no rule that stops a note. A reason answers one that does, by its word.",
		}, w.says(note(rule)), why)
	}
}

// Where a rule about a lot was answered with a reason, no maker answers; and no
// lot says until when he would.
func TestMakersPromise(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	ask := func() []string {
		return w.says(certificate(t, "line 6, watertight-tie-in, at tie-in 3625-3775 aft full width", "line 6, materials, at 3700-7400 aft full width layer deck"))
	}
	const none = "maker-shorter refused: Line 6 promises what a maker answers for. No lot here says until which day that is: strike the line out."
	const reasoned = "maker-shorter refused: Lot P-20-02 was used with a reason given: no maker's promise there."
	require.Contains(t, ask(), none)
	require.NotContains(t, ask(), reasoned)
	work := func(rule string) {
		w.sheets(on("2020-04-20", "work: lay-deck at 5000-5100 aft 0-100 R layer deck, uses P-20-02 0.01 m2; override "+rule+
			", reason \"fifteen characters\", by foreman"))
	}
	work("closing-unread")
	require.NotContains(t, ask(), reasoned, "that is not about the lot")
	work("lot-overdrawn")
	require.Contains(t, ask(), reasoned)
}

// The holder may say yes to less: for the certificate, over each line given up.
func TestHoldersYesToLess(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.add(w.certificate())
	stopped := "worse-than-before refused: From 24 May 2021 the holder would have less than Q-0007 line 1. Write it beside, or get the holder's decision."
	ask := func(lines string) []string {
		return w.says(certificate(t, "certificate Q-0007", "certificate Q-0008", "rules 1", "rules 1\n  instead-of Q-0007"+lines,
			"full 60 months", "full 12 months"))
	}
	require.Contains(t, ask(" L1"), stopped)
	w.sheets(on("2020-04-24", "decision: agree-extra; at 3700-7400 aft full width; given phone, on 2020-04-24; warned \"x\""))
	require.Contains(t, ask(" L1"), stopped, "it answers no certificate")
	w.sheets(on("2020-04-24", "decision: agree-extra; answers Q-0007; at 3700-7300 aft full width; given phone, on 2020-04-24; warned \"x\""))
	require.Contains(t, ask(" L1"), stopped, "it lies over a part of the line")
	w.sheets(on("2020-04-24", "decision: agree-extra; answers Q-0007; at 7300-7400 aft full width; given phone, on 2020-04-24; warned \"x\""))
	require.NotContains(t, ask(" L1"), stopped)
	require.NotContains(t, ask(" L1 L2"), stopped)
	require.Contains(t, ask(" L1 L6"), stopped, "line 6 begins at 3625")
	require.Contains(t, ask(""), stopped, "all of it")
}

// A certificate that takes the place of another one, and is nowhere worse, needs
// no yes of the holder: 60 full months of 120 against the same, or more.
func TestInsteadThatIsNowhereWorse(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.add(w.certificate())
	ask := func(changes ...string) []string {
		all := append([]string{"certificate Q-0007", "certificate Q-0008", "rules 1", "rules 1\n  instead-of Q-0007 L1"}, changes...)
		return worse(w.says(certificate(t, all...)))
	}
	require.Empty(t, ask(), "the same again")
	require.Empty(t, ask("full 60 months", "full 72 months"))
	less := func(day string) []string {
		return []string{"worse-than-before refused: From " + day + " the holder would have less than Q-0007 line 1. Write it beside, or get the holder's decision."}
	}
	require.Equal(t, less("24 April 2020"), ask("margin 300 mm", "margin 301 mm"))
	require.Equal(t, less("24 April 2020"), ask("report-days 30 d", "report-days 29 d"))
	require.Equal(t, less("24 April 2020"), ask("delay", "delay, maker-only"), "one more cause is excluded")
	require.Equal(t, less("24 April 2029"), ask("for 120 months, full 60 months, floor 10.0 %", "for 108 months, full 108 months"), "it ends a year early")
}

func worse(says []string) []string {
	return slices.DeleteFunc(says, func(s string) bool { return !strings.HasPrefix(s, "worse-than-before") })
}
