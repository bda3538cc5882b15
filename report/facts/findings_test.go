package facts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/report/plan"
	"lapmark/testdata/quillstead"
)

// found are the facts of the findings paper on the newest head.
func found(t *testing.T, r *ledger.Replay, c report.Copy) report.FindingsFacts {
	t.Helper()
	head := newest(t, r)
	return facts.Findings(r, facts.Options{Terms: quillstead.Terms(), Copy: c, Given: head.UpToDay, Head: head, HolderName: "Adela Brunskog"})
}

func tags(f report.FindingsFacts) []string {
	var out []string
	for _, one := range f.Findings {
		out = append(out, one.Tag)
	}
	return out
}

func byTag(t *testing.T, f report.FindingsFacts, tag string) report.Finding {
	t.Helper()
	for _, one := range f.Findings {
		if one.Tag == tag {
			return one
		}
	}
	t.Fatalf("no %s among %v", tag, tags(f))
	return report.Finding{}
}

// The demo's first four sheets, the state its findings paper of 20 March 2020
// shows: eight findings on 17 and 18 March, one before driving, three before
// rain, four before the wet season (sheets 2 and 3); all behind 3700 mm but R1
// and S1; the front not opened at the holder's wish (sheet 4), 3700 x 2200 mm =
// 8.14 m².
func TestFindingsOfTheDemo(t *testing.T) {
	f := found(t, demo(t, 4), report.OwnCopy)
	require.Equal(t, []string{"F4", "F6", "F5", "F1", "F7", "F8", "F3", "F2"}, tags(f))
	day := func(iso string) report.Day { return reportDay(t, iso) }
	require.Equal(t, day("2020-03-16"), f.DayIn)
	require.Equal(t, []report.Day{day("2020-03-17"), day("2020-03-18"), day("2020-03-19")}, f.Looked)
	require.Equal(t, day("2020-03-11"), f.LastRain, "rain-days 5")
	require.True(t, f.PapersShown)
	require.Empty(t, f.Papers)
	require.Equal(t, "A stain in the rear lounge, and it is soft underfoot by the air conditioner.", f.Asked)
	require.Equal(t, "all behind 3700 mm but two", f.Where)
	require.Equal(t, []any{"The front half", false}, []any{f.Unopened, f.UnopenedMany})
	require.Equal(t, []report.NotLooked{{Area: 8_140_000, Where: "under the skin forward of 3700 mm", AtHolderWish: true}}, f.NotLooked)
	require.Empty(t, f.Uncounted)

	f4 := byTag(t, f, "F4")
	require.Equal(t, []string{"rot", "in the frame", "before it is driven", "the rear header, 900 L–250 R", "32 of 45 mm deep", "past a joint, seen"},
		[]string{f4.Defect, f4.Deep, f4.SoonSays, f4.Place, f4.Measured, f4.Cause})
	require.Equal(t, "the factory; from signs: first-fit sealant under the coat", f4.Whose)
	require.Len(t, f4.Photos, 1)
	// entry 10 | core sample 120.0 % water by mass
	require.Equal(t, "29 of 38 mm left; core sample 120.0 % water by mass", byTag(t, f, "F5").Measured)
	require.Equal(t, "another shop; told by the holder; from signs: roll-on coat over the factory joint", byTag(t, f, "F2").Whose)
	require.Equal(t, "whose hand is not known", byTag(t, f, "F6").Whose)
	require.True(t, byTag(t, f, "F7").Trade, "R1 is a refrigerator vent")
	require.False(t, f4.Trade || byTag(t, f, "F8").Trade)
}

// Entry 14 corrects entry 6: bay 10 left counts as 28.1 %. The limit is 15.0 %.
func TestMoistureOfTheDemo(t *testing.T) {
	m := found(t, demo(t, 4), report.PassOnCopy).Moisture
	var got []string
	for _, r := range m.Readings {
		says := r.Place + " " + r.Newest + " entry " + r.Entry
		if r.Over {
			says += " over"
		}
		if r.Corrected != "" {
			says += " corrected by " + r.Corrected
		}
		got = append(got, says)
	}
	require.Equal(t, []string{
		"bay 3 left 11.2 % entry 6", "bay 6 middle 16.8 % entry 6 over", "bay 8 left 27.0 % entry 6 over",
		"spot 5900 aft, 300 L, core sample, water by mass 120.0 % entry 10 over",
		"bay 9 left 31.0 % entry 6 over", "bay 9 right 24.5 % entry 6 over", "bay 10 left 28.1 % entry 6 over corrected by 14",
	}, got)
	require.Equal(t, []string{"15.0 %", "softwood"}, []string{m.Limit, m.Scale})
	require.Contains(t, m.Air, "air 16.0 °C, humidity 64.0 %")
	words := drawnWords(*m.Map)
	for _, n := range []string{"11.2", "16.8", "27.0", "31.0", "24.5", "28.1"} {
		require.Contains(t, words, n)
	}
	require.NotContains(t, words, "8.1")
}

// Read again, a place has its newest reading and says what it was: bay 9 left
// 31.0 % on 17 March, 13.1 % on 7 April (sheets 2 and 10).
func TestMoistureReadAgain(t *testing.T) {
	m := found(t, demo(t, 10), report.PassOnCopy).Moisture
	for _, r := range m.Readings {
		if r.Place == "bay 9 left" {
			require.Equal(t, report.MoistureReading{
				Place: "bay 9 left", Newest: "13.1 %", Day: reportDay(t, "2020-04-07"), Entry: "28",
				First: "31.0 %", FirstDay: reportDay(t, "2020-03-17"),
			}, r)
			require.Contains(t, drawnWords(*m.Map), "was 31.0")
			return
		}
	}
	t.Fatal("bay 9 left is not there")
}

// drawnWords are the words of a drawing.
func drawnWords(d plan.Drawing) []string {
	var out []string
	for _, m := range d.Marks {
		if w, ok := m.(plan.Words); ok {
			out = append(out, w.Text)
		}
	}
	return out
}

// Every finding has its tag on the plan, and the opening that it lies at.
func TestFindingsPlanOfTheDemo(t *testing.T) {
	p := found(t, demo(t, 4), report.PassOnCopy).Plan
	words := drawnWords(p.Drawing)
	for _, says := range []string{"F1", "F2", "F3", "F4", "F5", "F6", "F7", "F8", "R1 refrigerator vent", "Not looked at", "3700"} {
		require.Contains(t, words, says)
	}
	require.Empty(t, p.Names)
}

// Once work lies over it a finding is no longer among them, and that is said;
// R1 and S1 were left (sheet 6).
func TestWorkedFindingsAreSaid(t *testing.T) {
	f := found(t, demo(t, 20), report.PassOnCopy)
	require.Equal(t, []string{"F7", "F8"}, tags(f))
	require.Equal(t, "decided on 23 March 2020: leave", byTag(t, f, "F7").Decided)
	require.Len(t, f.Uncounted, 6)
	require.Contains(t, f.Uncounted[3], "F4, rot, the rear header, 900 L–250 R: closed work lies over it since.")
}

// trailer is a measured trailer of 4200 x 2000 mm with these notes.
func trailer(t *testing.T, notes string) *inker {
	t.Helper()
	k := newInker(t, quillstead.Terms())
	k.ink(intakeOf("4200 mm, front 2000 mm, rear 2000 mm", ""), "2021-05-03T16:00:00Z")
	k.ink("coach TB78-1133\non 2021-05-10 zone +02:00\n"+notes, "2021-05-10T16:00:00Z")
	return k
}

const oneFinding = `finding F1: rot; at 300-700 aft 200-600 L; with depth 12 mm; in-the-deck; before-rain; no-photo "the camera fell"; by hand-1
`

// A guest's finding does not count until the house takes it over, and both are
// said; one that is not about this coach is said to be struck out.
func TestFindingsOfOthers(t *testing.T) {
	k := trailer(t, oneFinding)
	k.hand = "LF1"
	k.ink(`coach TB78-1133
on 2021-05-11 zone +02:00
finding LF-1: split-sealant; at 1000-1400 aft 100-300 R; with length 400 mm; on-the-face; next-upkeep; no-photo "dark"; signer "Low Ferry Coachworks", in "Low Ferry"; by lf-foreman
`, "2021-05-11T10:00:00Z")
	k.hand = ""
	f := found(t, k.r, report.PassOnCopy)
	require.Equal(t, []string{"F1"}, tags(f))
	require.Len(t, f.Uncounted, 1)
	require.Contains(t, f.Uncounted[0], "LF-1, split sealant, 1000–1400 aft, 100–300 R: Entry ")
	require.Contains(t, f.Uncounted[0], "by a guest, by its own word Low Ferry Coachworks")
	require.Contains(t, f.Uncounted[0], "It changes no line of Quillstead Roof Works.")

	k.ink("coach TB78-1133\non 2021-05-12 zone +02:00\nremark: at 1000-1400 aft 100-300 R; adopts LF-1; note \"ours too\"; by desk\n", "2021-05-12T10:00:00Z")
	f = found(t, k.r, report.PassOnCopy)
	require.Equal(t, []string{"F1", "LF-1"}, tags(f))
	require.Empty(t, f.Uncounted)
	require.Contains(t, strings.Join(byTag(t, f, "LF-1").Notes, " "), "Adopted by Quillstead Roof Works in entry ")

	k.ink("coach TB78-1133\non 2021-05-13 zone +02:00\ncorrection: answers F1; not-this-coach; why \"the neighbour's\"; found \"asked\"; by foreman\n", "2021-05-13T10:00:00Z")
	f = found(t, k.r, report.PassOnCopy)
	require.Equal(t, []string{"LF-1"}, tags(f))
	require.Equal(t, []string{fmt.Sprintf("F1, rot, 300–700 aft, 200–600 L: not about this coach, says entry %d.", k.size())}, f.Uncounted)
}

// A corrected finding counts as corrected, and says by which entry.
func TestCorrectedFinding(t *testing.T) {
	k := trailer(t, oneFinding)
	k.ink(`coach TB78-1133
on 2021-05-12 zone +02:00
correction: answers F1; was before-rain; is before-driving; why "felt again"; found "on the lift"; by foreman
`, "2021-05-12T10:00:00Z")
	one := byTag(t, found(t, k.r, report.PassOnCopy), "F1")
	require.Equal(t, []string{"before it is driven", "before-driving"}, []string{one.SoonSays, one.Soon})
	require.Equal(t, []string{fmt.Sprintf("Corrected by entry %d.", k.size())}, one.Notes)
	require.Equal(t, "the camera fell", one.NoPhoto)
}

// Nothing found: the headline says so in the shop's words.
func TestNothingFound(t *testing.T) {
	k := newInker(t, quillstead.Terms())
	k.ink(intakeOf("4200 mm, front 2000 mm, rear 2000 mm", ""), "2021-05-03T16:00:00Z")
	f := found(t, k.r, report.PassOnCopy)
	require.Empty(t, f.Findings)
	require.True(t, f.LastRain.IsZero())
	require.Empty(t, f.Asked, "the copy to pass on has no complaint")
	require.Contains(t, printed(findings(t, k.r, report.PassOnCopy)), "Nothing was found here.")
}

// A roof that was not measured has no plan and no areas; its places are said as
// they were.
func TestFindingsOfAnUnmeasuredRoof(t *testing.T) {
	k := newInker(t, quillstead.Terms())
	k.ink(strings.Replace(intakeOf("", ""), "  deck length \n", "", 1), "2021-05-03T16:00:00Z")
	k.ink("coach TB78-1133\non 2021-05-10 zone +02:00\n"+oneFinding+`not-looked-at: at whole roof layer core; why "the snow lay on it"; by hand-1
check: pins at 300-700 aft 200-600 L, moisture 22.0 %; scale softwood; by hand-1
`, "2021-05-10T16:00:00Z")
	f := found(t, k.r, report.PassOnCopy)
	require.Nil(t, f.Plan)
	require.Nil(t, f.Moisture.Map)
	require.Len(t, f.Moisture.Readings, 1)
	require.Empty(t, f.NotLooked)
	require.Equal(t, []string{"The whole roof, core: nobody has looked at it. The snow lay on it."}, f.NotLookedSaid)
	all := printed(findings(t, k.r, report.PassOnCopy))
	for _, says := range []string{"No plan: the roof is not measured yet.", "Part of the roof was not opened.", "22.0 %, over"} {
		require.Contains(t, all, says)
	}
}

// Forty findings: each is in the list, has its row of choices, and is on the
// plan or is said not to be.
func TestManyFindings(t *testing.T) {
	f := found(t, manyFindings(t), report.OwnCopy)
	require.Len(t, f.Findings, 40)
	words := drawnWords(f.Plan.Drawing)
	for _, one := range f.Findings {
		if !strings.Contains(strings.Join(f.Plan.Names, " "), one.Tag) {
			require.Contains(t, words, one.Tag)
		}
	}
	p, err := report.Findings(f)
	require.NoError(t, err)
	all := printed(p)
	for _, one := range f.Findings {
		require.GreaterOrEqual(t, strings.Count(all, one.Tag+" "), 2, one.Tag)
	}
}

// manyFindings is a trailer with forty findings and long names.
func manyFindings(t *testing.T) *ledger.Replay {
	t.Helper()
	field := func(front, left int) string {
		return fmt.Sprintf("%d-%d aft %d-%d L", front, front+300, left, left+200)
	}
	spot := func(front, left int) string { return fmt.Sprintf("spot %d aft %d L", front+100, left+100) }
	var notes strings.Builder
	for i := range 40 {
		front, left := 100+(i/4)*400, 50+(i%4)*230
		says := [...]string{
			"rot; at " + field(front, left) + "; with depth 12 mm; cause past-joint, judged; whose former-owner; known told-by, who holder-1; in-the-deck; before-rain",
			"split-sealant; at " + spot(front, left) + "; with length 40 mm, gap 1 mm; whose other-shop; known from-signs, " +
				`what "a bead of another colour over a bead of another colour, smoothed by hand"; on-the-face; next-upkeep`,
			"delamination; at " + field(front, left) + "; between ply-core; in-the-core; before-wet-season",
			"stray-screws; at " + spot(front, left) + "; with length 30 mm, diameter 4 mm, count 2; through-indoors; before-walking",
		}[i%4]
		fmt.Fprintf(&notes, "finding ROOF-%d: %s; no-photo \"the light was too poor on that day\"; by hand-1\n", i+1, says)
	}
	return trailer(t, notes.String()).r
}
