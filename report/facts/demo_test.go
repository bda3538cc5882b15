package facts_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/testdata/quillstead"
)

// headOf is the head of a paper that shows a ledger up to entry n.
func headOf(t *testing.T, r *ledger.Replay, n int64) report.PaperHead {
	t.Helper()
	on := reportDay(t, r.Coach.Entry(ledger.No{N: n}).Day())
	return report.PaperHead{GivenOut: int(n) + 1, UpTo: int(n), UpToDay: on, Code: string(r.Coach.Code(n))}
}

// newest is the head of a paper that shows all of a ledger.
func newest(t *testing.T, r *ledger.Replay) report.PaperHead {
	t.Helper()
	return headOf(t, r, int64(len(r.Coach.Entries)))
}

// q7 are the facts of certificate Q-0007 of the demo.
func q7(t *testing.T, c report.Copy) (*ledger.Replay, report.CertificateFacts) {
	t.Helper()
	r := demo(t, 20)
	head := headOf(t, r, 53)
	require.Equal(t, reportDay(t, "2020-04-24"), head.UpToDay)
	f, err := facts.Certificate(r, certificate(t, r, "Q-0007"), facts.Options{Terms: quillstead.Terms(), Head: head, Copy: c})
	require.NoError(t, err)
	return r, f
}

// The facts of Q-0007 against the demo's own account of it: its areas, last
// days, doses and places, all reckoned there by hand.
func TestCertificateOfTheDemo(t *testing.T) {
	_, f := q7(t, report.OwnCopy)
	day := func(iso string) report.Day { return reportDay(t, iso) }
	require.Equal(t, report.Coach{Builder: "Tarnholt", Model: "Fellside 78", Year: 2014, VIN: "GZ9TF785XEW004137"}, f.Coach)
	require.Equal(t, "Adela Brunskog", f.HolderName)
	require.Equal(t, []any{"Q-0007", day("2020-04-24"), day("2020-04-24"), "work and cure", day("2020-04-23")},
		[]any{f.Number, f.Given, f.FirstDay, f.Ended, f.EndedDay})
	require.Equal(t, []string{"from 3700 mm aft to the rear", "The front half", "Everything forward of 3700 mm, tie-in apart"},
		[]string{f.RegionWords, f.ComplementWords, f.ComplementPlaces})
	require.False(t, f.WholeDeck || f.ComplementMany)
	require.Equal(t, []report.NotLooked{{Area: 8_140_000, Where: "under the skin there", AtHolderWish: true}}, f.NotLooked)
	told := "Water may run aft under the skin. The front is not in the warranty."
	require.Equal(t, []report.LeftTrouble{
		{Place: "R1", What: "flange 11 of 25 mm", Day: day("2020-03-23"), Consequence: told},
		{Place: "S1", What: "420 mm of split sealant", Day: day("2020-03-23"), Consequence: told},
	}, f.Left)
	require.Equal(t, []string{"Lining 4500–7400 mm"}, f.OwnWork)
	require.Empty(t, f.AnotherShop)
	require.Equal(t, []report.Override{{
		RuleSays: "Edge member 7340–7400 × 1000–1100 R reads 16.2 %, the limit is 15.0 %.",
		Reason:   "edge member under open rail, dries outward; test plug left; pin at first upkeep", Mark: "foreman", Entry: "30",
		Rule: "closing-too-wet",
	}}, f.Overrides)
	require.Empty(t, f.Looser)
	require.Equal(t, []report.Cure{
		{What: "glue", At: report.Moment{Day: day("2020-04-13"), Hour: 12, Minute: 28}},
		{What: "sealant", At: report.Moment{Day: day("2020-04-23"), Hour: 7, Minute: 34}},
	}, f.Cures)
	require.Equal(t, report.DefaultTerms().Numbers, f.Numbers)
	require.Equal(t, &report.UpkeepFacts{
		Places: "five fittings, both edges, rear joint, tie-in",
		Due:    day("2021-04-24"), From: day("2021-01-24"), Till: day("2021-06-23"),
	}, f.Upkeep)
}

// Lines, places and last days of Q-0007, as the demo has them.
func TestLinesOfTheDemo(t *testing.T) {
	_, f := q7(t, report.PassOnCopy)
	var got []string
	for _, l := range f.Lines {
		got = append(got, l.Promise+" until "+l.Last.Long()+": "+l.Places+l.Layers)
		require.Equal(t, reportDay(t, "2020-04-24"), l.First)
	}
	require.Equal(t, []string{
		"watertight-membrane until 23 April 2030: the field behind 3700 mm, less the places of 4, 5 and 6",
		"bond until 23 April 2030: the whole field",
		"sound-frame until 23 April 2030: rear header, rafters 8 and 9",
		"watertight-fitting until 23 April 2026: V2, A1, H1, P1, G1, flange and 75 mm around",
		"watertight-edge until 23 April 2025: left, right and rear joint, 75 mm",
		"watertight-tie-in until 23 April 2022: 3625–3775 mm",
	}, got)
	require.Equal(t, int64(8_140_000), f.Lines[1].Area)
	require.Zero(t, f.Lines[0].Area)
	// 72 full months: 80.0 %, as in the claim of 2026.
	require.Equal(t, 800, f.Lines[0].Shares[72])
	require.Empty(t, f.Lines[2].Shares)
}

func TestChecksOfTheDemo(t *testing.T) {
	_, f := q7(t, report.PassOnCopy)
	require.Equal(t, []report.PassedCheck{
		{What: "awl", Result: "1 mm deep"},
		{What: "tap", Result: "none hollow"},
		{What: "foot test", Result: "gives 2 mm under 80 kg"},
		{What: "weld strip", Result: "at least 198 N/50 mm"},
		{What: "seam probe", Result: "nothing open"},
		{What: "hose, 4 strips of 15 min", Result: "dry inside, rise at most 0.2 %"},
		{What: "fall", Result: "1:50"},
		{What: "straight edge", Result: "gap 2 mm under 1500 mm"},
	}, f.Checks)
}

// What lies behind 3700 mm: 3600 g on 13.42 m² of glue lines are 268 g/m²
// (arithmetic of the demo); rafters 8 and 9 stand at 8 and 9 times 740 mm.
func TestNextHandOfTheDemo(t *testing.T) {
	_, f := q7(t, report.PassOnCopy)
	n := f.Next
	require.Equal(t, []string{
		"behind 3700 mm", "PVC 1.5 mm, lot M-5520", "480 °C, 1.8 m/min, overlap 40 mm",
		"XPS 38 mm, lot X-20-06; plywood 4 mm, lot P-20-02", "two-part PU, lot L-20-031, 268 g/m²",
		"lap sealant, lot 20-0417, 6 mm; butyl tape, lot B-20-03",
		"new rear header; rafters 8 and 9 (5920, 6660 mm) sistered; spreader under A1; timber, lot T-20-01",
	}, []string{n.Region, n.Membrane, n.Weld, n.CoreDeck, n.Glue, n.Sealant, n.UnderIt})
	require.Equal(t, []string{
		"Polyester resin, solvent contact glue, spray glue not made for foam or liquid coating, primer, cleaner or " +
			"preservative with solvent: dissolves the XPS foam",
		"PVA glue: no bond on the XPS foam",
		"Seam tape, cover tape or an unlike sheet: no bond on the PVC membrane. Weld like to like",
		"Silicone: nothing bonds over it",
	}, n.KeepAway)
	require.NotEmpty(t, n.Bare.Marks)
}

// The draft gives the sentences it is signed with; once inked it gives the
// same ones, and they lay out as a paper without one missing.
func TestDraftAndEntrySayTheSame(t *testing.T) {
	r, f := q7(t, report.OwnCopy)
	var signed []report.Sentence
	for _, o := range ledger.Objects(certificate(t, r, "Q-0007").Body["sentences"]) {
		signed = append(signed, report.Sentence{Key: o["key"].(string), Says: o["says"].(string)})
	}
	require.Equal(t, signed, report.CertificateSentences(f, quillstead.Terms()))
	require.Empty(t, report.Disclosures(f, signed))
	_, err := report.Certificate(f, signed)
	require.NoError(t, err)
}

// What is written later changes no certificate: new work and a new certificate
// over the same field leave the facts of Q-0007 as they were.
func TestLaterEntriesChangeNothing(t *testing.T) {
	r, before := q7(t, report.OwnCopy)
	k := continued(t, r)
	k.ink(`coach GZ9TF785XEW004137
on 2021-05-03 zone +02:00
work: patch at 5000-5300 aft 0-400 R layer membrane, uses M-5520 0.12 m2, overlap 40 mm; photo x-1.jpg; by hand-1
certificate Q-0008: holder holder-1; title limited; line 1, watertight-membrane, at 5000-5300 aft 0-400 R layer membrane, from 2021-05-04, for 12 months, full 12 months; numbers report-days 30 d; conditions report-within; exclusions hail; shop-side bad-weld; rules 1; beside Q-0007; private holder-name "Adela Brunskog"; by foreman
`, "2021-05-04T10:00:00Z")
	options := facts.Options{Terms: quillstead.Terms(), Head: before.Head, Copy: report.OwnCopy}
	after, err := facts.Certificate(k.r, certificate(t, k.r, "Q-0007"), options)
	require.NoError(t, err)
	require.Equal(t, before, after)
	newer, err := facts.Certificate(k.r, certificate(t, k.r, "Q-0008"), options)
	require.NoError(t, err)
	require.Equal(t, []string{"Q-0007"}, newer.Beside)
	require.Equal(t, "PVC 1.5 mm, lot M-5520", newer.Next.Membrane)
	require.Equal(t, "in one place, between 5000 and 5300 mm aft", newer.RegionWords)
}

// Corrections that come after a certificate change nothing of it either: not a
// finding that was left, a reading, a reason, a check, nor the roof's measures.
func TestLaterCorrectionsChangeNothing(t *testing.T) {
	r, before := q7(t, report.OwnCopy)
	k := continued(t, r)
	k.ink(`coach GZ9TF785XEW004137
on 2021-05-03 zone +02:00
correction: answers F8; not-this-coach; why "w"; found "f"; by foreman
measure: deck length 7500 mm, front 2250 mm, rear 2250 mm; by hand-1
`, "2021-05-04T10:00:00Z")
	after, err := facts.Certificate(k.r, certificate(t, k.r, "Q-0007"), facts.Options{Terms: quillstead.Terms(), Head: before.Head, Copy: report.OwnCopy})
	require.NoError(t, err)
	require.Equal(t, before, after)
}
