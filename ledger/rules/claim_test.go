package rules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/sheet"
)

const claimed = "claim C1: leak; noticed 2021-05-11; reported phone, on 2021-05-13; at spot 7050 aft 450 L layer lining; meanwhile \"tarp\"; " +
	"holder holder-1; private complaint \"wet\""

// withClaim is the demo's coach with its certificate and a claim.
func withClaim(t *testing.T) *written {
	t.Helper()
	w := demoUpTo(t, "19.txt")
	w.add(w.certificate())
	w.sheets(on("2021-05-13", claimed))
	return w
}

func verdict(word, ground string) string {
	share := "share 0.0 %, most 0.0 %"
	if word != "not-covered" {
		share = "share 80.0 %, most 80.0 %"
	}
	return on("2021-05-19", "verdict: answers C1; rules 1; "+word+" at spot 6900 aft 500 L, on 2021-05-11, line Q-0007/L1/field, "+share+
		", ground \""+ground+"\"; facts Q-0007")
}

func ruling(no, word, more string) string {
	return on("2021-05-20", "ruling: answers #"+no+"; "+word+more+"; told phone, on 2021-05-20")
}

const shown = "check: hose at 6475-7400 aft full width, came-in spot 6900 aft 500 L; answers C1"

func TestDaysOfAClaim(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.add(w.certificate())
	days := func(noticed, reported, now string) []string {
		return w.saysAt(now, on("2021-05-13", strings.NewReplacer("2021-05-11", noticed, "2021-05-13", reported).Replace(claimed)))
	}
	require.Empty(t, days("2021-05-13", "2021-05-13", "2021-05-13T10:00:00Z"))
	require.Equal(t, []string{"days-crossed refused: Noticed 14 May 2021, reported 13 May 2021, written 13 May 2021: out of order."},
		days("2021-05-14", "2021-05-13", "2021-05-13T10:00:00Z"))
	require.Equal(t, []string{"days-crossed refused: Noticed 11 May 2021, reported 14 May 2021, written 13 May 2021: out of order."},
		days("2021-05-11", "2021-05-14", "2021-05-13T10:00:00Z"))
	require.Empty(t, days("2021-05-11", "2021-05-14", "2021-05-13T22:00:00Z"), "it is the 14th there")
}

func TestSaleToldBeforeIt(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	sale := func(told string) []string {
		return w.says(on("2021-05-02", "transfer: sold 2021-05-01; told phone, on "+told+"; from-holder holder-1; to-holder holder-2; private holder-name \"N\""))
	}
	require.Empty(t, sale("2021-05-01"))
	require.Equal(t, []string{"days-crossed noted: Told 30 April 2021 of a sale dated 1 May 2021."}, sale("2021-04-30"))
}

// A ruling to the holder's loss that rests on where the water comes in needs it
// shown.
func TestWaterComesInSomewhere(t *testing.T) {
	const refusal = "source-unshown refused: Where the water comes in is not shown. A stain is not a source: hose or open up first."
	for _, c := range []struct {
		verdict, ground, ruling, before string
		refused                         bool
	}{
		{"not-covered", "no-line Q-0007", "as-the-verdict", "", true},
		{"not-covered", "no-line Q-0007", "as-the-verdict", shown, false},
		{"not-covered", "no-line Q-0007", "as-the-verdict", "work: open-up at spot 6900 aft 500 L; answers C1", false},
		{"not-covered", "no-line Q-0007", "as-the-verdict", "check: pins at spot 6900 aft 500 L, moisture 24.0 %; answers C1", true},
		{"not-covered", "no-line Q-0007", "as-the-verdict", strings.Replace(shown, "; answers C1", "", 1), true},
		{"not-covered", "no-line Q-0007", "goodwill-beyond; why \"x\"", "", false},
		{"not-covered", "expired Q-0007/L1/field 2030-04-23", "as-the-verdict", "", false},
		{"not-covered", "any-entry", "as-the-verdict", "", false},
		{"covered-in-part", "in-force Q-0007/L1/field 12 months", "as-the-verdict", "", false},
		{"cannot-say-yet", "entry-open", "to-holders-loss; why \"x\"; second foreman", "", true},
	} {
		w := withClaim(t)
		no := "55"
		if c.before != "" {
			w.sheets(on("2021-05-18", c.before))
			no = "56"
		}
		w.sheets(verdict(c.verdict, c.ground))
		word, more, _ := strings.Cut(c.ruling, ";")
		if more != "" {
			more = ";" + more
		}
		text := "ruling: answers #" + no + "; " + word
		after := "; told phone, on 2021-05-20"
		if strings.Contains(more, "second") {
			why, second, _ := strings.Cut(more, "; second")
			text += why + after + "; second" + second
		} else {
			text += more + after
		}
		require.Equal(t, c.refused, strings.Contains(strings.Join(w.says(on("2021-05-20", text)), "\n"), refusal), "%+v", c)
	}
}

func TestVerdictOlderThanItsFacts(t *testing.T) {
	w := withClaim(t)
	w.sheets(on("2021-05-18", shown), verdict("covered-in-part", "in-force Q-0007/L1/field 12 months"))
	ask := func() []string { return w.says(ruling("56", "as-the-verdict", "")) }
	require.Empty(t, ask())
	w.sheets(on("2021-05-19", "given-out: history; as-of 2021-05-19; reader holder; to holder-1; on mail; private to-name \"A\""))
	require.Empty(t, ask(), "a paper is no fact")
	w.sheets(on("2021-05-20", "check: pins at spot 6900 aft 500 L, moisture 24.0 %"))
	require.Equal(t, []string{"verdict-old noted: Entry 58 is newer than this verdict. Ask again."}, ask())
	w.sheets(on("2021-05-20", "remark: note \"x\""), on("2021-05-20", "check: pins at spot 6900 aft 500 L, moisture 24.0 %"))
	require.Equal(t, []string{"verdict-old noted: Entries 58–60 are newer than this verdict. Ask again."}, ask())
}

// To the holder's loss: a reason, and another person's mark; a shop of one mark
// waits a day.
func TestRulingBelowTheVerdict(t *testing.T) {
	below := func(no, day, by, second string) string {
		return coach + "on " + day + " zone +02:00\nruling: answers #" + no + "; to-holders-loss; why \"x\"; told phone, on " + day +
			"; second " + second + "%; by " + by + "\n"
	}
	w := withClaim(t)
	w.sheets(on("2021-05-18", shown), verdict("covered-in-part", "in-force Q-0007/L1/field 12 months"))
	note := below("56", "2021-05-20", "foreman", "desk")
	require.Equal(t, []string{"ruling-below stopped: Verdict covered in part, ruling less, to the holder's loss. " +
		"Give the reason and a second mark."}, w.says(strings.Replace(note, "%", "", 1)))
	const reason = "; override ruling-below, reason \"he had been told and went on\", by foreman"
	require.Empty(t, w.says(strings.Replace(note, "%", reason, 1)))
	require.Equal(t, []string{"second-mark refused: The second mark is that of another person; foreman stands twice."},
		w.says(strings.Replace(below("56", "2021-05-20", "foreman", "foreman"), "%", reason, 1)))
	require.Empty(t, w.says(strings.Replace(ruling("56", "as-the-verdict", ""), "%", "", 1)))

	one := alone(t)
	require.Equal(t, []string{"second-mark refused: A shop of one mark rules to the holder's loss a day after the verdict or later: from 20 May 2021."},
		one.says(strings.Replace(below("4", "2021-05-19", "hand-1", "hand-1"), "%", reason, 1)))
	require.Empty(t, one.says(strings.Replace(below("4", "2021-05-20", "hand-1", "hand-1"), "%", reason, 1)))
}

// alone is a coach of a shop of one mark, with a claim and a verdict.
func alone(t *testing.T) *written {
	t.Helper()
	intake, _, _ := strings.Cut(demoSheet(t, "01.txt"), "check:")
	w := &written{t: t}
	w.sheets(strings.Replace(intake, "by desk", "by hand-1", 1), on("2021-05-13", claimed), on("2021-05-18", shown),
		strings.Replace(verdict("covered-in-part", "in-force LF-112/L1/field 12 months"), "facts Q-0007", "facts #3", 1))
	return w
}

// A claim that was ruled covered lacks the work, its check and its certificate,
// until each is there; asked when the house closes.
func TestClaimsThatStillLack(t *testing.T) {
	w := withClaim(t)
	handOver := on("2021-06-10", "hand-over: open-claims none")
	lacks := func(what string) []string {
		return []string{"claim-open noted: Claim C1, ruled as the verdict says, still lacks " + what + "."}
	}
	require.Empty(t, w.says(handOver), "nobody has ruled")
	w.sheets(on("2021-05-18", shown), verdict("covered-in-part", "in-force Q-0007/L1/field 12 months"),
		ruling("56", "as-the-verdict", "; at 6660-7325 aft 200-1025 L"))
	require.Equal(t, lacks("the work and a check and a new certificate"), w.says(handOver))
	w.sheets(on("2021-06-08", "work: patch at 6660-7325 aft 200-1025 L, uses M-5520 0.6 m2, overlap 40 mm; answers C1"))
	require.Equal(t, lacks("a check and a new certificate"), w.says(handOver))
	w.sheets(on("2021-06-08", "check: hose at 6475-7400 aft full width, strip 4, rise 2.0 %, flow 6.9 L/min, lasted 15 min"))
	require.Equal(t, lacks("a check and a new certificate"), w.says(handOver), "it did not pass")
	w.sheets(on("2021-06-08", "check: hose at 6475-7400 aft full width, strip 4, rise 0.1 %, flow 6.9 L/min, lasted 15 min"))
	require.Equal(t, lacks("a new certificate"), w.says(handOver))
	c, err := w.draft(sheet.Read(certificate(t, "certificate Q-0007", "certificate Q-0008", "on 2020-04-24", "on 2021-06-09"), sheet.Heading{})[0])
	require.NoError(t, err)
	w.add(c.Act)
	require.Empty(t, w.says(handOver))
}

func TestNothingIsLackingOfWhatWasNotCovered(t *testing.T) {
	handOver := on("2021-06-10", "hand-over: open-claims none")
	for rule, lacks := range map[string]bool{
		"as-the-verdict": false, "goodwill-beyond; why \"x\"": false, "goodwill-beyond; at spot 6900 aft 500 L; why \"x\"": true,
	} {
		w := withClaim(t)
		w.sheets(on("2021-05-18", shown), verdict("not-covered", "no-line Q-0007"), ruling("56", rule, ""))
		require.Equal(t, lacks, len(w.says(handOver)) > 0, rule)
	}
}
