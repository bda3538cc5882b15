package facts_test

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/testdata/quillstead"
)

func today(t *testing.T, iso string) day.Day {
	t.Helper()
	d, err := day.Parse(iso)
	require.NoError(t, err)
	return d
}

// sheet20 are the lines of Q-0007 as the demo's sheet has them, typed by hand.
func sheet20(t *testing.T) []format.Object {
	t.Helper()
	text, err := os.ReadFile("../../cmd/internal/demo/sheets/20.txt")
	require.NoError(t, err)
	notes := sheet.Read(string(text), sheet.Heading{})
	require.NoError(t, notes[0].Err)
	require.Equal(t, "certificate", notes[0].Draft.Kind)
	return ledger.Objects(notes[0].Draft.Body["lines"])
}

// What is proposed before entry 53 are the six lines of the demo, the same
// places, days and numbers. The order of the five fittings alone is another:
// that in which the work on them began (entry 8).
func TestProposalOfTheDemo(t *testing.T) {
	want, got := sheet20(t), facts.Proposal(demo(t, 19), quillstead.Terms(), "Q-0007", today(t, "2020-04-24"))
	require.Len(t, got, 6)
	var began []string
	for _, p := range ledger.PlacesOf(got[3]["places"]) {
		began = append(began, p.Name)
	}
	require.Equal(t, []string{"A1", "V2", "H1", "P1", "G1"}, began)
	for _, lines := range [][]format.Object{want, got} {
		places := lines[3]["places"].(format.Array)
		slices.SortFunc(places, func(a, b format.Value) int {
			return slices.Compare([]byte(encoded(t, a)), []byte(encoded(t, b)))
		})
	}
	for i := range want {
		require.Equal(t, encoded(t, want[i]), encoded(t, got[i]))
	}
}

func encoded(t *testing.T, v format.Value) string {
	t.Helper()
	b, err := format.Encode(v)
	require.NoError(t, err)
	return string(b)
}

// regions are the places of the lines that are proposed, worked out.
func regions(t *testing.T, r *ledger.Replay, lines []format.Object) map[string]place.Region {
	t.Helper()
	out := map[string]place.Region{}
	for _, l := range lines {
		region, err := r.Region(&ledger.Act{Kind: "certificate"}, ledger.PlacesOf(l["places"]))
		require.NoError(t, err)
		out[l["promise"].(string)] = region
	}
	return out
}

// What is proposed is refused by no rule that asks whether more is promised
// than was rebuilt, and lies in no place that was left.
func TestProposalKeepsTheRules(t *testing.T) {
	for _, c := range trailers {
		r := coach(t, c.deck, c.openings, c.notes)
		cert := drafted(t, r, facts.Proposal(r, quillstead.Terms(), "T-1", today(t, "2021-06-01")))
		for _, o := range rules.Ask(rules.Case{Replay: r, Act: cert, Limits: rules.UsualLimits()}) {
			require.NotContains(t, []string{"beyond-rebuilt", "place", "term-range", "first-day-early"}, o.Rule, o.Sentence)
		}
	}
}

// What a decision leaves after the work is cut out of the lines of its layer
// and of no other; together the fields are the rest, to the square millimetre.
func TestProposalCutsOutWhatIsLeft(t *testing.T) {
	r := coach(t, "5200 mm, front 2200 mm, rear 1600 mm", roofVent, `work: lay-deck at 0-2400 aft full width, uses P-1 5 m2, thickness 9 mm; lay-membrane at 0-2400 aft full width, uses E-1 5 m2; bed at V1, uses S-1 100 ml; photo d-1.jpg; by hand-1
decision: leave; at 300-700 aft 200-600 L layer deck; at V1; given in-person, on 2021-05-10; warned "w"; holder holder-1; by desk
decision: holder-does; at 0-2400 aft full width layer lining; given in-person, on 2021-05-10; warned "w"; holder holder-1; by desk
`)
	lines := facts.Proposal(r, quillstead.Terms(), "T-1", today(t, "2021-06-01"))
	got := regions(t, r, lines)
	require.Len(t, got, 2) // the vent's own line is gone
	band, err := r.Roof().Work(place.Place{Shape: place.Field, Aft: place.Over(0, 2400)})
	require.NoError(t, err)
	vent := place.RegionOf(place.RoofPlane, place.Rect{Front: 800, Rear: 1200, Left: -200, Right: 200})
	spot := place.RegionOf(place.RoofPlane, place.Rect{Front: 300, Rear: 700, Left: -600, Right: -200})
	sheet, deck := band.Minus(vent), band.Minus(vent).Minus(spot)
	require.True(t, sheet.Minus(got["watertight-membrane"]).Empty() && got["watertight-membrane"].Minus(sheet).Empty())
	require.True(t, deck.Minus(got["bond"]).Empty() && got["bond"].Minus(deck).Empty())
}

// What was left and closed over later is mended, and proposed.
func TestProposalTakesWhatWasMended(t *testing.T) {
	r := coach(t, "4200 mm, front 2000 mm, rear 2000 mm", roofVent, `decision: leave; at V1; given in-person, on 2021-05-10; warned "w"; holder holder-1; by desk
work: lay-membrane at 0-2100 aft full width, uses E-1 4.2 m2; bed at V1, uses S-1 100 ml; photo d-1.jpg; by hand-1
`)
	got := regions(t, r, facts.Proposal(r, quillstead.Terms(), "T-1", today(t, "2021-06-01")))
	require.Equal(t, int64(2100*2000), got["watertight-membrane"].Area())
	require.Equal(t, int64(550*550), got["watertight-fitting"].Area())

	late := coach(t, "4200 mm, front 2000 mm, rear 2000 mm", roofVent, `work: lay-membrane at 0-2100 aft full width, uses E-1 4.2 m2; bed at V1, uses S-1 100 ml; photo d-1.jpg; by hand-1
decision: leave; at V1; given in-person, on 2021-05-08; warned "w"; holder holder-1; by desk
`)
	got = regions(t, late, facts.Proposal(late, quillstead.Terms(), "T-1", today(t, "2021-06-01")))
	require.Equal(t, int64(550*550), got["watertight-fitting"].Area(), "decided before the work, inked after it")
}

// Work that a certificate lies over already is not proposed again; new work on
// the same field is.
func TestProposalAfterACertificate(t *testing.T) {
	r := demo(t, 20)
	require.Empty(t, facts.Proposal(r, quillstead.Terms(), "Q-0008", today(t, "2020-05-02")))
	k := newInker(t, quillstead.Terms())
	k.ink(intakeOf("4200 mm, front 2000 mm, rear 2000 mm", ""), "2021-05-03T16:00:00Z")
	k.ink(`coach TB78-1133
on 2021-05-10 zone +02:00
work: lay-membrane at 0-2100 aft full width, uses E-1 4.2 m2; photo d-1.jpg; by hand-1
certificate T-1: holder holder-1; title limited; line 1, watertight-membrane, at 0-2100 aft full width layer membrane, from 2021-05-11, for 12 months, full 12 months; numbers report-days 30 d; conditions report-within; exclusions hail; shop-side bad-weld; rules 1; private holder-name "Odd Brankov"; by foreman

on 2021-06-10 zone +02:00
work: patch at 300-600 aft 0-400 R, uses E-1 0.12 m2, overlap 40 mm; photo d-2.jpg; by hand-1
`, "2021-06-10T16:00:00Z")
	lines := facts.Proposal(k.r, quillstead.Terms(), "T-2", today(t, "2021-06-12"))
	require.Len(t, lines, 1)
	require.Equal(t, int64(300*400), regions(t, k.r, lines)["watertight-membrane"].Area())
	require.Equal(t, "2021-06-12", lines[0]["first-day"]) // nothing had to cure
}

// Where something cured, the lines begin on the day after the last release or
// the last work, whichever is later.
func TestProposalFirstDay(t *testing.T) {
	const sealed = `work S1: lay-membrane at 0-2100 aft full width, uses E-1 4.2 m2; cap-seal at rear-joint, uses S-1 300 ml, bead 3 mm; photo d-1.jpg; time 08:00; by hand-1

on 2021-05-12 zone +02:00
cure: answers S1; start 2021-05-10 08:00; lot S-1; stage water 24 h; with bead 3 mm, ref-temp 23.0 C, least-temp 5.0 C, cap-temp 30.0 C, doubling 10.0 K, through-cure 3 mm/rtd; log 2021-05-10 08:00, air-temp 23.0 C; log 2021-05-12 08:00, air-temp 23.0 C, lowest-temp 23.0 C; source logger; release water, dose 48.00 h, earliest 2021-05-11 08:00, look "hard"; time 08:00; by hand-1
`
	k := newInker(t, quillstead.Terms())
	k.ink(intakeOf("4200 mm, front 2000 mm, rear 2000 mm", ""), "2021-05-03T16:00:00Z")
	k.ink("coach TB78-1133\non 2021-05-10 zone +02:00\n"+sealed, "2021-05-12T16:00:00Z")
	first := func(r *ledger.Replay) format.Value {
		return facts.Proposal(r, quillstead.Terms(), "T-1", today(t, "2021-07-01"))[0]["first-day"]
	}
	require.Equal(t, "2021-05-13", first(k.r))
	k.ink(`coach TB78-1133
on 2021-05-20 zone +02:00
work: patch at 300-600 aft 0-400 R, uses E-1 0.12 m2, overlap 40 mm; photo d-2.jpg; by hand-1
`, "2021-05-20T16:00:00Z")
	require.Equal(t, "2021-05-21", first(k.r))
}

// A promise without months is not proposed; the numbers are those of the terms.
func TestProposalFollowsTheTerms(t *testing.T) {
	r := coach(t, "4200 mm, front 2000 mm, rear 2000 mm", "", `work: lay-deck at 0-2100 aft full width, uses P-1 4.2 m2, thickness 9 mm; lay-membrane at 0-2100 aft full width, uses E-1 4.2 m2; photo d-1.jpg; by hand-1
`)
	terms := quillstead.Terms()
	for i, p := range terms.Promises {
		switch p.Promise {
		case "bond":
			terms.Promises[i].Months = 0
		case "watertight-membrane":
			terms.Promises[i] = report.PromiseTerm{Promise: p.Promise, Months: 36, Full: 12, Floor: 25, Upkeep: true}
		}
	}
	lines := facts.Proposal(r, terms, "T-1", today(t, "2021-06-01"))
	require.Len(t, lines, 1)
	require.Equal(t, `{"first-day":"2021-06-01","floor":250,"full-months":12,"line":1,"months":36,"places":[{"aft":[0,2100],"layers":["membrane"],"shape":"field"}],"promise":"watertight-membrane","upkeep":true}`, encoded(t, lines[0]))
}
