package rules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

// Notes are inked in another order than they happened: here what is newest is
// inked first.

func (w *written) certificate(changes ...string) *ledger.Act {
	w.t.Helper()
	c, err := w.draft(sheet.Read(certificate(w.t, changes...), sheet.Heading{})[0])
	require.NoError(w.t, err)
	return c.Act
}

func TestNewestEarlierCertificate(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.add(w.certificate())
	w.add(w.certificate("certificate Q-0007", "certificate Q-0005", "on 2020-04-24", "on 2020-04-23"))
	j, err := rules.JobOf(w.replay, w.certificate("certificate Q-0007", "certificate Q-0009", "on 2020-04-24", "on 2020-05-24"))
	require.NoError(t, err)
	require.Equal(t, "Q-0007", j.Before.Text("tag"))
	j, err = rules.JobOf(w.replay, w.certificate("certificate Q-0007", "certificate Q-0009", "on 2020-04-24", "on 2020-04-22"))
	require.NoError(t, err)
	require.Nil(t, j.Before, "both are of later days")
}

// A certificate names what the one before it could not: what happened after it,
// and what was inked after it.
func TestNothingFallsBetweenTwoCertificates(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	unseen := func(day, at string) ledger.No {
		w.sheets("coach GZ9TF785XEW004137\non " + day + " zone +02:00\nnot-looked-at: at " + at + "; why \"x\"; by hand-1\n")
		return ledger.No{N: int64(len(w.coach.Entries))}
	}
	after := unseen("2020-05-02", "0-100 aft full width")
	w.add(w.certificate())
	late := unseen("2020-04-20", "100-200 aft full width")
	next := w.certificate("certificate Q-0007", "certificate Q-0008", "on 2020-04-24", "on 2020-05-24")
	require.Equal(t, []ledger.No{after, late}, next.Refs("unseen"))
}

func TestProbeAfterTheLastWeld(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	on := func(day, note string) {
		w.sheets("coach GZ9TF785XEW004137\non " + day + " zone +02:00\n" + note + "; by hand-1\n")
	}
	const weld = "work: weld at run 0 5000-5200 aft 40 wide, length 200 mm, overlap 40 mm, weld-temp 480.0 C, speed 1.8 m/min; " +
		"checked weld-strip, lot M-5520, peel 180/177/190 N/50mm"
	const probe = "check: seam-probe at run 0 5000-5200 aft 40 wide, length 200 mm, voids none"
	says := func() string { return strings.Join(w.says(certificate(t)), "\n") }
	on("2020-04-26", weld)
	on("2020-04-24", weld)
	on("2020-04-25", probe)
	require.Contains(t, says(), "a seam probe after the weld of 26 April 2020")
	require.NotContains(t, says(), "after the weld of 24 April 2020", "only the last one is asked for")
	on("2020-04-26", probe)
	require.NotContains(t, says(), "seam probe")
}

// A mend lies in the layers of the newest work there.
func TestMendOfTheNewestWork(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	on := func(day, note string) {
		w.sheets("coach GZ9TF785XEW004137\non " + day + " zone +02:00\n" + note + "; by hand-1\n")
	}
	const at = " at 1000-1400 aft 0-400 R"
	on("2020-04-20", "decision: agree-extra;"+at+"; given phone, on 2020-04-20; warned \"x\"")
	on("2020-04-26", "work: patch"+at+", uses M-5520 0.16 m2, overlap 75 mm; override no-coupon, reason \"the sheet is clamped there\", by foreman")
	on("2020-04-24", "work: lay-deck"+at+", uses P-20-02 0.16 m2, thickness 4 mm")
	on("2020-04-27", "work: make-good"+at)
	line := w.certificate("line 1, watertight-membrane, at 3700-7400 aft full width", "line 1, watertight-membrane, at 1000-1400 aft 0-400 R")
	require.Contains(t, strings.Join(w.ask(line), "\n"), "a hose, a dam or a test with air and soap after the make good of 27 April 2020", "it is the patch that was mended")
}

func (w *written) ask(a *ledger.Act) []string {
	var out []string
	for _, o := range rules.Ask(rules.Case{Replay: w.replay, Act: a, Limits: w.limits}) {
		out = append(out, o.Rule+": "+o.Sentence)
	}
	return out
}
