package rules_test

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

const (
	houseLine = "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIAOhB7/zzhC+HXDdGOdLwJln5NYwm6UNXx3chmQSVTG4"
	houseKey  = "SHA256:lbmsoA0yIEcEiVDRnMWuzm+nV+3ZEEpVIURqFoeSspg"
)

// written is a coach that grows by sheets. Signatures are not what is tested
// here: every blob passes.
type written struct {
	t      *testing.T
	coach  *ledger.Coach
	replay *ledger.Replay
	limits rules.Limits
	now    string                      // what the clock says, "" where nobody asks
	shown  func(string) (string, bool) // which other coach has a photo
}

func pass(string, []byte, []byte) (string, error) { return houseLine, nil }

// sheets inks whole sheets; every note must go in.
func (w *written) sheets(texts ...string) {
	w.t.Helper()
	for _, text := range texts {
		for _, n := range sheet.Read(text, sheet.Heading{}) {
			require.NoError(w.t, n.Err, n.Words)
			c, err := w.draft(n)
			require.NoError(w.t, err, n.Words)
			for _, o := range rules.Ask(c) {
				require.Equal(w.t, rules.Noted, o.Degree, "%s: %s", n.Words, o.Sentence)
			}
			w.add(c.Act)
		}
	}
}

// draft makes the case of a note: resolved and filled.
func (w *written) draft(n sheet.Note) (rules.Case, error) {
	names := ledger.Names{
		No:  func(string) (ledger.No, bool) { return ledger.No{}, false },
		Tag: func(ledger.No) string { return "" },
		Photo: func(name string) (string, bool) {
			sum := sha256.Sum256([]byte(name))
			return hex.EncodeToString(sum[:]), true
		},
	}
	size := int64(0)
	if w.replay != nil {
		size = int64(len(w.coach.Entries))
		names.No, names.Tag, names.Last = w.replay.Tagged, w.replay.TagOf, size
	}
	d := n.Draft.Clone()
	if changes, ok := d.Body["changes"]; ok {
		name := d.Body["answers"].(format.Array)[0].(string)
		no, ok := w.replay.Tagged(name)
		if !ok {
			no, ok = ledger.ParseNo(strings.TrimPrefix(name, "#"))
		}
		require.True(w.t, ok, n.Words)
		old := w.replay.Act(no)
		before := ledger.Unresolve(old.Kind, old.Body, nil, names)
		list, err := sheet.Changes(changes, before, n.Heading)
		require.NoError(w.t, err)
		d.Body["changes"] = list
	}
	body, err := d.Resolve(names)
	require.NoError(w.t, err, n.Words)
	if d.Kind == "intake" {
		body["house"], body["recovery"] = houseLine, "SHA256:other"
	}
	a := &ledger.Act{No: ledger.No{N: size + 1}, Kind: d.Kind, Body: body, House: true, Counts: true}
	c := rules.Case{
		Replay: w.replay, Act: a, Private: n.Draft.Private, Zone: n.Heading.Zone, Limits: w.limits, Shown: w.shown,
	}
	if w.now != "" {
		c.Now, err = day.ParseStamp(w.now)
		require.NoError(w.t, err)
	}
	return c, rules.Fill(c)
}

func (w *written) add(a *ledger.Act) {
	w.t.Helper()
	if w.coach == nil {
		w.coach = ledger.NewCoach()
	}
	text, err := format.Encode(a.Body)
	require.NoError(w.t, err)
	at := cmp.Or(w.now, "2020-03-16T16:40:00Z")
	line := format.Line{At: at, Body: text, Key: houseKey, Kind: a.Kind, Prev: w.coach.Newest(), V: 1}
	l1, err := line.Append(nil)
	require.NoError(w.t, err)
	leaf, err := format.Leaf(l1, make([]byte, format.SigSize))
	require.NoError(w.t, err)
	require.NoError(w.t, w.coach.Extend(leaf, pass))
	w.replay = ledger.NewReplay(w.coach, nil)
}

// says asks the rules about the last note of a text, and returns "RULE degree:
// sentence" for each outcome.
func (w *written) says(text string) []string {
	w.t.Helper()
	notes := sheet.Read(text, sheet.Heading{})
	n := notes[len(notes)-1]
	require.NoError(w.t, n.Err, n.Words)
	c, err := w.draft(n)
	var early *rules.Early
	if errors.As(err, &early) {
		return []string{early.Outcome.Rule + " " + early.Outcome.Degree.String() + ": " + early.Outcome.Sentence}
	}
	require.NoError(w.t, err)
	out := []string{}
	for _, o := range rules.Ask(c) {
		out = append(out, o.Rule+" "+o.Degree.String()+": "+o.Sentence)
	}
	return out
}

// fails returns what keeps the note from being filled.
func (w *written) fails(text string) error {
	w.t.Helper()
	notes := sheet.Read(text, sheet.Heading{})
	n := notes[len(notes)-1]
	require.NoError(w.t, n.Err, n.Words)
	_, err := w.draft(n)
	return err
}

// demoUpTo is the demo's coach with its sheets up to one of them.
func demoUpTo(t *testing.T, last string) *written {
	t.Helper()
	files, err := filepath.Glob("../../cmd/internal/demo/sheets/*.txt")
	require.NoError(t, err)
	slices.Sort(files)
	w := &written{t: t}
	for _, file := range files {
		if filepath.Base(file) > last {
			break
		}
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		w.sheets(string(text))
	}
	return w
}

func demoSheet(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../cmd/internal/demo/sheets/" + name)
	require.NoError(t, err)
	return string(text)
}

// certificate is the demo's Q-0007, with one thing changed.
func certificate(t *testing.T, changes ...string) string {
	t.Helper()
	text, _, _ := strings.Cut(demoSheet(t, "20.txt"), "given-out:")
	var kept []string
	for line := range strings.Lines(text) {
		word, _, _ := strings.Cut(strings.TrimSpace(line), " ")
		switch word {
		case "left", "owner-work", "overridden", "unseen", "lots", "cures", "checks", "troubles":
			continue // filled by the tool
		}
		kept = append(kept, line)
	}
	text = strings.Join(kept, "")
	for i := 0; i < len(changes); i += 2 {
		changed := strings.ReplaceAll(text, changes[i], changes[i+1])
		require.NotEqual(t, text, changed, changes[i])
		text = changed
	}
	return text
}

// Every figure here is DEMO's own, worked out by hand from its sheets: the
// first possible day, the area nobody rebuilt, doses and times.
func TestCertifyingTheDemo(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	require.Empty(t, w.says(certificate(t)), "as it is it goes in")
	require.NoError(t, w.fails(demoSheet(t, "20.txt")[:strings.Index(demoSheet(t, "20.txt"), "given-out:")]),
		"the lists of the sheet are those the ledger gives")

	for name, c := range map[string]struct {
		changes []string
		want    string
	}{
		"from 3400 instead of 3700": {
			[]string{"line 1, watertight-membrane, at 3700-7400", "line 1, watertight-membrane, at 3400-7400"},
			"beyond-rebuilt refused: Line 1 covers 0.66 m² nobody rebuilt: 3400–3700 aft, full width.",
		},
		"9 mm over, within the tape": {
			[]string{"line 2, bond, at 3700-7400", "line 2, bond, at 3691-7400"}, "",
		},
		"11 mm over": {
			[]string{"line 2, bond, at 3700-7400", "line 2, bond, at 3689-7400"},
			"beyond-rebuilt refused: Line 2 covers 0.02 m² nobody rebuilt: 3689–3700 aft, full width.",
		},
		"on the sealing day": {
			[]string{"from 2020-04-24", "from 2020-04-23"},
			"first-day-early refused: First day 2020-04-23: cure was released 2020-04-23. The first possible day is 2020-04-24.",
		},
		"241 months": {
			[]string{"for 24 months, full 24 months", "for 241 months, full 24 months"},
			"term-range refused: Months 241, full 24, floor 100.0 %: 1–240, at most 241, 0–100.",
		},
		"240 months": {[]string{"for 24 months, full 24 months", "for 240 months, full 24 months"}, ""},
		"in full longer than the term": {
			[]string{"for 24 months, full 24 months", "for 24 months, full 25 months"},
			"term-range refused: Months 24, full 25, floor 100.0 %: 1–240, at most 24, 0–100.",
		},
		"two lines of one number": {
			[]string{"line 6, watertight-tie-in", "line 5, watertight-tie-in"}, "term-range refused: Two lines are numbered 5. Give each its own number.",
		},
		"a lid that stayed": {
			[]string{"at V2, at A1", "at S1, at A1"},
			"beyond-rebuilt refused: Line 4 covers 0.49 m² nobody rebuilt: 2525–3275 aft, 25–675 L.",
		},
		"a promise of standing water": {
			[]string{"line 6, watertight-tie-in, at tie-in 3625-3775 aft full width", "line 6, no-standing-water, at 3700-7400 aft full width"},
			"check-missing stopped: No standing water at 3700–7400 aft, full width needs a look for standing water after the laminate of 9 April 2020.",
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

func TestCertificateNumberTaken(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	notes := sheet.Read(certificate(t), sheet.Heading{})
	c, err := w.draft(notes[0])
	require.NoError(t, err)
	c.Taken = func(number string) (string, bool) { return "GZ9RK6128HB000387", number == "Q-0007" }
	require.Equal(t, "Certificate Q-0007 is already used on GZ9RK6128HB000387.", rules.Ask(c)[0].Sentence)
	c.Taken = func(number string) (string, bool) { return "", number == "Q-0008" }
	require.Empty(t, rules.Ask(c))
}

// Before the sealant was released, before the deck was tapped, before anything
// was decided: each rule trips, and one sheet later it does not.
func TestCertifyingTooSoon(t *testing.T) {
	require.Contains(t, demoUpTo(t, "18.txt").says(certificate(t)),
		"stage-open refused: Water at left edge, 3775–7400 aft, 1025–1100 L; right edge, 3775–7400 aft, 1025–1100 R; "+
			"rear joint, 7325–7400 aft, full width; tie-in, 3625–3775 aft, full width; A1; V2; H1; P1; G1 is not released.")
	w := demoUpTo(t, "19.txt")
	for _, says := range w.says(certificate(t)) {
		require.NotContains(t, says, "stage-open")
	}
	finding := "coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\nfinding F9: split-sealant; %; with length 100 mm; on-the-face; " +
		"before-rain; no-photo \"x\"; by hand-1\n"
	near := demoUpTo(t, "19.txt")
	near.sheets(strings.Replace(finding, "%", "at spot 3300 aft 0", 1))
	require.Contains(t, near.says(certificate(t)),
		"finding-open refused: Finding F9, split sealant at spot 3300 aft, on the centreline, 300 mm from line 6, has neither work and check nor a decision.")
	far := demoUpTo(t, "19.txt")
	far.sheets(strings.Replace(finding, "%", "at spot 3299 aft 0", 1))
	require.Empty(t, far.says(certificate(t)), "301 mm away")
	near.sheets("coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\ndecision: leave; answers F9; given phone, on 2020-04-23; " +
		"warned \"it stays\"; by desk\n")
	require.Empty(t, near.says(certificate(t)), "left by the holder")
}

func TestLotWithoutCureStart(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.sheets("coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\n" +
		"work E9: cap-seal at V2, uses 20-0417 40 ml, bead 6 mm; by hand-1\n")
	require.Contains(t, w.says(certificate(t)), "stage-open refused: Lot 20-0417 at V2 has no cure-start.")
	w = demoUpTo(t, "19.txt")
	w.sheets("coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\n" +
		"work E9: bed at V2, uses B-20-03 40 mm; by hand-1\n")
	for _, says := range w.says(certificate(t)) {
		require.NotContains(t, says, "stage-open", "butyl does not cure")
	}
	require.Contains(t, w.says(certificate(t)),
		"check-missing stopped: Watertight fitting at V2; A1; H1; P1; G1 needs a hose, a dam or a test with air and soap after the bed of 23 April 2020.")
}

func TestLeftPlaceInALine(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.sheets("coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\n" +
		"decision: leave; at 5000-5100 aft 0-100 R layer deck; given phone, on 2020-04-23; warned \"it stays\"; by desk\n")
	require.Equal(t, []string{"left-cut-out noted: Line 2 leaves out 5000–5100 aft, 0–100 R, deck: leave, 23 April 2020."},
		w.says(certificate(t)), "noted at the line whose layer it is in, and at no other")
}

// 11.44 of 12.00 h at 08:30, earliest 09:18 if it stays at 15 °C; with the
// temperature of 09:30 it was reached at 09:17 (closed form of the doubling
// rule, testdata/reference/cure.csv).
func TestReleaseOfACure(t *testing.T) {
	w := demoUpTo(t, "12.txt")
	first, _, _ := strings.Cut(demoSheet(t, "13.txt"), "cure:\n  answers #35\n  log 2020-04-10 09:30")
	w.sheets(first)
	ask := "coach GZ9TF785XEW004137\non 2020-04-10 zone +02:00\ncure: answers #35; release press-off; time 08:30; by foreman\n"
	require.Equal(t, []string{
		"cure-early refused: Press off at 3700–7400 aft, full width, deck + core; 3700–7400 aft, full width: 11.44 of 12.00 h at 20.0 °C. " +
			"Earliest 10 April 2020 09:18 if it stays at 15.0 °C. Already disturbed? Write disturbed-early.",
	}, w.says(ask))
	require.Empty(t, w.says(strings.Replace(ask, "time 08:30", "disturbed-early; time 08:30", 1)))
	typed := "coach GZ9TF785XEW004137\non 2020-04-10 zone +02:00\n" +
		"cure: answers #35; log 2020-04-10 09:30, air-temp 16.0 C; release press-off, DOSE; time 09:30; by foreman\n"
	require.NoError(t, w.fails(strings.Replace(typed, "DOSE", "dose 12.17 h, earliest 2020-04-10 09:17", 1)))
	require.ErrorIs(t, w.fails(strings.Replace(typed, "DOSE", "dose 12.18 h, earliest 2020-04-10 09:17", 1)), rules.ErrTyped)
	require.ErrorIs(t, w.fails(strings.Replace(typed, "DOSE", "dose 12.17 h, earliest 2020-04-10 09:18", 1)), rules.ErrTyped)
}

// A start without a temperature is no log: a release of it is refused in words.
func TestReleaseWithoutALog(t *testing.T) {
	w := demoUpTo(t, "11.txt")
	start, _, _ := strings.Cut(demoSheet(t, "12.txt"), "  log 2020-04-09 16:30")
	w.sheets(start + "  source thermometer\n  time 16:30\n  by hand-1\n")
	ask := "coach GZ9TF785XEW004137\non 2020-04-10 zone +02:00\ncure: answers #35; release press-off; time 08:30; by foreman\n"
	err := w.fails(ask)
	require.ErrorIs(t, err, rules.ErrTyped)
	require.ErrorContains(t, err, "no temperature was logged since the start")
	require.NoError(t, w.fails(strings.Replace(ask, "time 08:30", "disturbed-early; time 08:30", 1)))
}

func TestLongGapsAreNoted(t *testing.T) {
	w := demoUpTo(t, "13.txt")
	log, _, _ := strings.Cut(demoSheet(t, "14.txt"), "cure:\n  answers #35\n  release")
	require.Equal(t, []string{
		"log-gap noted: 14 h without a temperature: counted at 16.0 °C.",
		"log-gap noted: 24 h without a temperature: counted at 16.0 °C.",
		"log-gap noted: 24 h without a temperature: counted at 17.0 °C.",
	}, w.says(log))
}

// What a check passes by, from both sides of each limit.
func TestResultsPassByTheirLimit(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	for line, pass := range map[string]bool{
		"awl at rear-header, depth 2 mm":                                                                     true,
		"awl at rear-header, depth 3 mm":                                                                     false,
		"tap at 3700-7400 aft full width, area 0 m2":                                                         true,
		"tap at 3700-7400 aft full width, area 0.01 m2":                                                      false,
		"weld-strip, peel 150/160/170 N/50mm":                                                                true,
		"weld-strip, peel 149/160/170 N/50mm":                                                                false,
		"weld-strip, sheet-tears":                                                                            true,
		"weld-strip, lap-opens":                                                                              false,
		"seam-probe at 3700-7400 aft full width, length 3700 mm, voids none":                                 true,
		"seam-probe at 3700-7400 aft full width, length 3700 mm, voids 1 mm":                                 false,
		"hose at 3700-4625 aft full width, strip 1, rise 1.0 %, flow 6.9 L/min, lasted 15 min":               true,
		"hose at 3700-4625 aft full width, strip 1, rise 1.1 %, flow 6.9 L/min, lasted 15 min":               false,
		"hose at 3700-4625 aft full width, strip 1, rise 0.0 %, flow 6.9 L/min, lasted 14 min":               false,
		"foam-coupon, lot A-1, lot B-1, loss 0.2 mm, lasted 24 h":                                            true,
		"foam-coupon, lot A-1, lot B-1, loss 0.201 mm, lasted 24 h":                                          false,
		"foam-coupon, lot A-1, lot B-1, loss 0.2 mm, lasted 23 h":                                            false,
		"bond-coupon, lot A-1, lot B-1, foam-fails":                                                          true,
		"bond-coupon, lot A-1, lot B-1, glue-fails":                                                          false,
		"bite at rear-header, staple, leg 16 mm, over-layer 4 mm":                                            true,
		"bite at rear-header, staple, leg 15.9 mm, over-layer 4 mm":                                          false,
		"bite at rear-header, screw, leg 25 mm, over-layer 6 mm":                                             true,
		"bite at rear-header, screw, leg 24.9 mm, over-layer 6 mm":                                           false,
		"bite at rear-header, onto foam-xps, screw, leg 25 mm, over-layer 6 mm":                              false,
		`bite at rear-header, screw, leg 20 mm, over-layer 6 mm, limit at-least leg 20 mm "maker's sheet"`:   true,
		`bite at rear-header, screw, leg 25 mm, over-layer 6 mm, limit at-least leg 25.1 mm "maker's sheet"`: false,
		`pins at rear-header, moisture 15.0 %, limit at-most moisture 15.0 % "common practice, no source"`:   true,
		`pins at rear-header, moisture 15.1 %, limit at-most moisture 15.0 % "common practice, no source"`:   false,
	} {
		notes := sheet.Read("coach GZ9TF785XEW004137\non 2020-03-20 zone +01:00\ncheck: "+line+"; by hand-1\n", sheet.Heading{})
		require.NoError(t, notes[0].Err, line)
		c, err := w.draft(notes[0])
		require.NoError(t, err, line)
		got, known := ledger.Objects(c.Act.Body["results"])[0]["pass"].(bool)
		require.True(t, known, line)
		require.Equal(t, pass, got, line)
		word := map[bool]string{true: "not-pass", false: "pass"}[pass]
		wrong := strings.Replace(notes[0].Words, "; by hand-1", ", "+word+"; by hand-1", 1)
		require.ErrorIs(t, w.fails("coach GZ9TF785XEW004137\non 2020-03-20 zone +01:00\n"+wrong+"\n"), rules.ErrTyped, line)
	}
}

func TestCheckWithoutItsNumber(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	says := func(line string) []string {
		return w.says("coach GZ9TF785XEW004137\non 2020-03-20 zone +01:00\ncheck: " + line + "; by hand-1\n")
	}
	require.Equal(t, []string{"not-measured refused: Pins without moisture is not a check. Measure it, or write a remark."}, says("pins at bay 3 left"))
	require.Empty(t, says("pins at bay 3 left, moisture 12.0 %"))
	require.Empty(t, says("hose at 3700-4625 aft full width, came-in spot 4000 aft 0"), "the way in needs no number")
}

// A decision without a place takes those of the findings it answers, and the
// holder of that day.
func TestDecisionIsFilled(t *testing.T) {
	w := demoUpTo(t, "03.txt")
	notes := sheet.Read("coach GZ9TF785XEW004137\non 2020-03-23 zone +01:00\n"+
		"decision: leave; answers F7, F8; given phone, on 2020-03-21; warned \"w\"; by desk\n", sheet.Heading{})
	c, err := w.draft(notes[0])
	require.NoError(t, err)
	require.Equal(t, "holder-1", c.Act.Text("holder"))
	var names []string
	for _, p := range c.Act.Places() {
		names = append(names, p.Name)
	}
	require.Equal(t, []string{"R1", "S1"}, names)
}

func TestCorrectionOfWhatIsNotCorrected(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	notes := sheet.Read(certificate(t), sheet.Heading{})
	c, err := w.draft(notes[0])
	require.NoError(t, err)
	w.add(c.Act)
	text := "coach GZ9TF785XEW004137\non 2020-04-25 zone +02:00\ncorrection: answers Q-0007; not-this-coach; why \"w\"; found \"f\"; by foreman\n"
	require.Equal(t, []string{"correction-barred refused: Entry 53 is a certificate; it is not corrected. Write a new one."}, w.says(text))
}

// A shop asks no more changes of an entry than are followed.
func TestChangesOfOneEntry(t *testing.T) {
	w := demoUpTo(t, "01.txt")
	correction := func(n int) *ledger.Act {
		changes := format.Array{}
		for range n {
			changes = append(changes, format.Object{"at": "/soon", "old": "no-need", "new": "before-rain"})
		}
		no := int64(len(w.coach.Entries)) + 1
		return &ledger.Act{
			No: ledger.No{N: no}, Kind: "correction", House: true, Counts: true,
			Body: format.Object{"answers": format.Array{int64(2)}, "changes": changes},
		}
	}
	barred := func(a *ledger.Act) (says []string) {
		for _, o := range rules.Ask(rules.Case{Replay: w.replay, Act: a}) {
			if o.Rule == "correction-barred" {
				says = append(says, o.Degree.String()+": "+o.Sentence)
			}
		}
		return says
	}
	w.add(correction(150))
	require.Empty(t, barred(correction(50)))
	require.Equal(t, []string{"refused: Entry 2 has 201 changes with these; 200 are followed. Write a new one."}, barred(correction(51)))
}

// A correction is asked what the entry it mends was asked: only what it brings
// counts. The check digits are those of 49 CFR 565.15(c).
func TestCorrectionsAreAskedAsTheirEntries(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	mend := func(no, change, more string) []string {
		return w.says("coach GZ9TF785XEW004137\non 2020-03-24 zone +01:00\ncorrection: answers #" + no + "; " + change +
			"; why \"w\"; found \"f\"" + more + "; by foreman\n")
	}
	vin := func(is, more string) []string { return mend("1", "was vin GZ9TF785XEW004137; is vin "+is, more) }
	require.Empty(t, vin("GZ9RK6128HB000387", ""))
	require.Equal(t, []string{"vin-check stopped: Position 9 should be 3, the VIN says X. Read the plate again: GZ9TF785XEW004173."},
		vin("GZ9TF785XEW004173", ""))
	require.Empty(t, vin("GZ9TF785XEW004173", "; override vin-check, reason \"plate read twice with the holder\", by foreman"))
	require.Equal(t, []string{"vin-form refused: A VIN has 17 characters and no I, O or Q; this has 16 characters: GZ9TF785XEW00413. " +
		"Older or other plate: give it as serial."}, vin("GZ9TF785XEW00413", ""))
	require.Equal(t, []string{"vin-form refused: A VIN has 17 characters and no I, O or Q; this has O in position 12: GZ9TF785XEWO04137. " +
		"Older or other plate: give it as serial."}, vin("GZ9TF785XEWO04137", ""))
	require.Empty(t, mend("1", "was year 2014; is year 2013", ""), "the VIN stays")
}

// Nobody has read a log that is later than the note. A note without a time
// stands for its day, whatever the clock of the log.
func TestLogAheadOfItsNote(t *testing.T) {
	w := demoUpTo(t, "12.txt")
	ask := func(at, time string) []string {
		return w.says("coach GZ9TF785XEW004137\non 2020-04-10 zone +02:00\ncure: answers #35; log " + at +
			", air-temp 16.0 C; source logger" + time + "; by foreman\n")
	}
	require.NotContains(t, strings.Join(ask("2020-04-10 09:30", "; time 09:30"), ""), "log-ahead")
	require.Contains(t, ask("2020-04-10 09:31", "; time 09:30"), "log-ahead refused: The log has a reading of 10 April 2020 09:31, "+
		"but the note is of 10 April 2020 09:30: nobody had read it yet. Mend the time or the day.")
	require.Contains(t, ask("2020-04-11 00:00", ""), "log-ahead refused: The log has a reading of 11 April 2020 00:00, "+
		"but the note is of 10 April 2020: nobody had read it yet. Mend the time or the day.")
	require.NotContains(t, strings.Join(ask("2020-04-10 23:59", ""), ""), "log-ahead")
	correction := "coach GZ9TF785XEW004137\non 2020-04-12 zone +02:00\ncorrection: answers #35; is log 2020-04-10 00:30, air-temp 16.0 C; " +
		"why \"w\"; found \"f\"; by foreman\n"
	require.Equal(t, []string{"log-ahead refused: The log has a reading of 10 April 2020 00:30, but the note is of 9 April 2020 16:30: " +
		"nobody had read it yet. Mend the time or the day."}, w.says(correction))
}

// Each rule is declared once, with its sentences.
func TestRulesAreDeclaredOnce(t *testing.T) {
	seen, asked := map[string]bool{}, 0
	for _, r := range rules.Rules() {
		require.False(t, seen[r.Key], r.Key)
		seen[r.Key] = true
		require.Regexp(t, `^[a-z]+(-[a-z]+)*$`, r.Key)
		require.NotEmpty(t, r.Sentences, r.Key)
		if r.Look != nil {
			asked++
		}
		for _, s := range r.Sentences {
			require.Regexp(t, `[.?]$`, s)
			require.Equal(t, strings.Count(s, "{"), strings.Count(s, "}"), s)
		}
		found, ok := rules.RuleNamed(r.Key)
		require.True(t, ok)
		require.Equal(t, r.Sentences, found.Sentences)
	}
	require.Greater(t, asked, 20)
	for _, key := range []string{"cure-early", "place", "closing-too-wet", "work-not-agreed", "water-early"} {
		require.True(t, seen[key], key)
	}
	_, ok := rules.RuleNamed("closing-too-dry")
	require.False(t, ok)
}

// What a rule of the demo's certificate does is what its table says it does at
// most.
func TestDegreesAreThoseOfTheTable(t *testing.T) {
	w := demoUpTo(t, "18.txt")
	for _, says := range w.says(certificate(t)) {
		key, rest, _ := strings.Cut(says, " ")
		degree, _, _ := strings.Cut(rest, ":")
		r, ok := rules.RuleNamed(key)
		require.True(t, ok, key)
		require.Equal(t, r.Degree.String(), degree, key)
	}
}

// What was noted when a note was inked is noted of its entry for ever: it is
// worked out again from the ledger as it stood.
func TestNotedForEver(t *testing.T) {
	w := &written{t: t, now: "2020-04-24T09:30:00Z"}
	noted := map[ledger.No][]string{}
	for n := 1; n <= 24; n++ {
		if n == 4 {
			w.with("late-note", "30 d")
		}
		for _, note := range sheet.Read(demoSheet(t, fmt.Sprintf("%02d.txt", n)), sheet.Heading{}) {
			c, err := w.draft(note)
			require.NoError(t, err)
			for _, o := range rules.Ask(c) {
				if o.Degree == rules.Noted {
					noted[c.Act.No] = append(noted[c.Act.No], o.Sentence)
				}
			}
			w.add(c.Act)
		}
	}
	w.sheets(correction("#6", "was pins at bay 3 left, moisture 11.2 %; is pins at bay 3 left, moisture 10.2 %"))
	again := map[ledger.No][]string{}
	w.replay.Each(int64(len(w.coach.Entries)), func(before *ledger.Replay, a *ledger.Act) {
		require.Len(t, before.Acts, int(a.No.N)-1)
		for _, o := range rules.NotedOf(before, a, "+02:00") {
			again[a.No] = append(again[a.No], o.Sentence)
		}
	})
	require.Equal(t, noted, again)
	require.Contains(t, again[ledger.No{N: 6}], "Written 38 days after it happened.")
	require.Contains(t, again[ledger.No{N: 6}], "Wood at 15.0 °C: a meter that does not correct for it reads about 1.0 % low.")
	require.Len(t, again[ledger.No{N: 38}], 3)
	require.NotContains(t, again, ledger.No{N: 22}, "30 days were allowed, it was 28")
}
