package facts_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/testdata/quillstead"
)

const roofVent = "  opening V1, roof-vent, centre 1000 aft, off 0, clear 400 x 400 mm\n"

// trailers are invented trailers with the work done on them, and what the
// certificate that is proposed for it says. Areas are by hand.
var trailers = []struct {
	name, deck, openings, notes string

	region, rest, everything string
	many                     bool
	lines                    []string
	next                     string
}{
	{
		name: "whole tapered deck", deck: "5200 mm, front 2200 mm, rear 1600 mm", openings: roofVent,
		notes: `decision: repair-now; at whole roof; given in-person, on 2021-05-10; warned "All of it is relaid."; holder holder-1; by desk
work:
  lay-deck at whole roof, uses P-1 10 m2, thickness 9 mm
  lay-membrane at whole roof, uses E-1 10 m2
  bed at V1, at left-edge, at right-edge, at front-joint, at rear-joint, uses S-1 600 ml
  photo d-1.jpg
  by hand-1
`,
		region: "over the whole deck", everything: "Everything that is not the roof deck",
		lines: []string{
			"the whole deck, less the places of 3 and 4", "the whole deck, deck only, 9.88 m²", "V1, flange and 75 mm around",
			"left, right, front and rear joint, 75 mm",
		},
		next: "over the whole deck",
	},
	{
		name: "one patch", deck: "4200 mm, front 2000 mm, rear 2000 mm",
		notes: `work: patch at 1200-1500 aft 300-700 L, uses E-1 0.12 m2, overlap 40 mm; photo d-1.jpg; by hand-1
`,
		region: "in one place, between 1200 and 1500 mm aft", rest: "The rest of the deck",
		everything: "Everything outside the places of the lines",
		lines:      []string{"the field between 1200 and 1500 mm aft, from 300 to 700 mm left of the middle, 0.12 m²"},
		next:       "at 1200–1500 × 300–700 L",
	},
	{
		name: "three patches", deck: "4200 mm, front 2000 mm, rear 2000 mm",
		notes: `work: patch at 1200-1500 aft 300-700 L, at 2200-2500 aft 0-400 R, at 3900-4200 aft 600-1000 R, uses E-1 0.4 m2, overlap 40 mm; photo d-1.jpg; by hand-1
`,
		region: "in three places", rest: "The rest of the deck", everything: "Everything outside the places of the lines",
		lines: []string{"three fields, mm aft × mm from the middle: 1200–1500 × 300–700 L; 2200–2500 × 0–400 R; 3900–4200 × 600–1000 R, 0.36 m²"},
		next:  "in three places",
	},
	{
		name: "a strip in the middle", deck: "4200 mm, front 2000 mm, rear 2000 mm",
		notes: `work: lay-deck at 1200-3400 aft full width, uses P-1 4.4 m2, thickness 9 mm; lay-membrane at 1200-3400 aft full width, uses E-1 4.4 m2; cap-seal at tie-in 1125-1275 aft full width, at tie-in 3325-3475 aft full width, uses S-1 300 ml, bead 6 mm; photo d-1.jpg; by hand-1
`,
		region: "between 1200 and 3400 mm aft", rest: "The part forward of 1200 mm and the part behind 3400 mm", many: true,
		everything: "Everything forward of 1200 mm and behind 3400 mm, tie-in apart",
		lines: []string{
			"the field from 1200 to 3400 mm, less the places of 3", "the whole field, deck only, 4.40 m²", "1125–1275 mm; 3325–3475 mm",
		},
		next: "from 1200 to 3400 mm",
	},
	{
		name: "both ends", deck: "4200 mm, front 2000 mm, rear 2000 mm",
		notes: `work: lay-membrane at 0-800 aft full width, at 3400-4200 aft full width, uses E-1 3.2 m2; photo d-1.jpg; by hand-1
`,
		region: "from the front to 800 mm aft and from 3400 mm aft to the rear", rest: "The strip from 800 to 3400 mm",
		everything: "Everything from 800 to 3400 mm",
		lines:      []string{"two fields, mm aft × mm from the middle: 0–800; 3400–4200, 3.20 m²"},
		next:       "from the front to 800 mm aft and from 3400 mm aft to the rear",
	},
	{
		name: "places left later", deck: "4200 mm, front 2000 mm, rear 2000 mm", openings: roofVent,
		notes: `work: lay-deck at 0-2400 aft full width, uses P-1 4.2 m2, thickness 9 mm; lay-membrane at 0-2400 aft full width, uses E-1 4.2 m2; bed at V1, uses S-1 100 ml; photo d-1.jpg; by hand-1
decision: leave; at 300-700 aft 200-600 L layer deck; at V1; given in-person, on 2021-05-10; warned "It will leak."; holder holder-1; by desk
`,
		region: "from the front to 2400 mm aft, with one place left out", rest: "The part behind 2400 mm and one place more", many: true,
		everything: "Everything behind 2400 mm, and 800–1200 × 200 L–200 R",
		// 2.4 × 2.0 m less 0.16 m² of the vent; and less 0.16 m² of deck.
		lines: []string{
			"the field forward of 2400 mm, less 800–1200 × 200 L–200 R, 4.64 m²",
			"the field forward of 2400 mm, less 300–700 × 200–600 L and 800–1200 × 200 L–200 R, deck only, 4.48 m²",
		},
		next: "from the front to 2400 mm aft, with one place left out",
	},
	{
		name: "left half", deck: "4200 mm, front 2000 mm, rear 2000 mm",
		notes: `work: lay-membrane at full length 0-1000 L, uses E-1 4.2 m2; photo d-1.jpg; by hand-1
`,
		region: "on the left half", rest: "The right half", everything: "Everything on the right half",
		lines: []string{"the left half of the deck, 4.20 m²"}, next: "on the left half",
	},
	{
		name: "frame alone", deck: "4200 mm, front 2000 mm, rear 2000 mm",
		notes: `work: sister at run 600 L 500-1500 aft 60 wide, at rear-header, section 60 x 45 mm; photo d-1.jpg; by hand-1
`,
		region: "in two places", rest: "The rest of the deck", everything: "Everything outside the places of the lines",
		lines: []string{"run 500–1500 aft, 600 L, 60 wide; rear header"}, next: "in two places",
	},
}

func TestWordsOfOtherCoaches(t *testing.T) {
	for _, c := range trailers {
		t.Run(c.name, func(t *testing.T) {
			cert, f := proposedFor(t, coach(t, c.deck, c.openings, c.notes))
			require.Equal(t, report.Coach{Builder: "Ostbrook", Model: "Wren 12", Year: 1974, Serial: "TB78-1133"}, f.Coach)
			require.Equal(t, []string{c.region, c.rest, c.everything}, []string{f.RegionWords, f.ComplementWords, f.ComplementPlaces})
			require.Equal(t, c.many, f.ComplementMany)
			require.Equal(t, c.rest == "", f.WholeDeck)
			var got []string
			for _, l := range f.Lines {
				says := l.Places
				if l.Layers != "" {
					says += ", " + l.Layers
				}
				if l.Area > 0 {
					says += ", " + ledger.SayArea(l.Area)
				}
				got = append(got, says)
			}
			require.Equal(t, c.lines, got)
			require.Equal(t, c.next, f.Next.Region)
			require.Empty(t, cert.Body["sentences"])
			_, err := report.Certificate(f, report.CertificateSentences(f, quillstead.Terms()))
			require.NoError(t, err)
		})
	}
}

// patchLines are lines of 300 × 400 mm each, one behind the other.
func patchLines(n int64) []format.Object {
	var out []format.Object
	for i := range n {
		out = append(out, format.Object{
			"line": i + 1, "promise": "watertight-membrane", "first-day": "2021-06-01", "months": int64(12), "full-months": int64(12),
			"upkeep": false, "places": format.Array{format.Object{
				"shape": "field", "aft": format.Array{400 * i, 400*i + 300}, "off": format.Array{int64(0), int64(400)},
			}},
		})
	}
	return out
}

// Of many equal lines none speaks for the others: where the certificate reaches
// is said of all of them. One that is more than half of all speaks alone.
func TestWordsOfManyEqualLines(t *testing.T) {
	r := coach(t, "12400 mm, front 2500 mm, rear 2500 mm", "", "work: lay-membrane at whole roof, uses E-1 18 m2; photo d-1.jpg; by hand-1\n")
	headline := func(lines []format.Object) string {
		f, err := facts.Certificate(r, drafted(t, r, lines), facts.Options{Terms: quillstead.Terms(), Copy: report.PassOnCopy})
		require.NoError(t, err)
		for _, s := range report.CertificateSentences(f, quillstead.Terms()) {
			if s.Key == "headline" {
				return s.Says
			}
		}
		return ""
	}
	require.Equal(t, "We put our name to this roof in 30 places, for what the 30 lines below say, all until 31 May 2022. The rest of the deck is not in it.",
		headline(patchLines(30)))
	three := patchLines(3)
	require.Regexp(t, "^We put our name to this roof in three places, for what the three lines", headline(three))
	three[1]["places"].(format.Array)[0].(format.Object)["off"] = format.Array{int64(-800), int64(800)}
	three[2]["months"] = int64(6)
	three[2]["full-months"] = int64(6)
	require.Equal(t, "We put our name to this roof between 400 and 700 mm aft, from 800 mm left to 800 mm right of the middle, "+
		"for what the three lines below say, the longest until 31 May 2022. The rest of the deck is not in it.", headline(three))
}

// A line on a wall alone reaches nothing of the deck.
func TestWordsOfAWall(t *testing.T) {
	r := coach(t, "4200 mm, front 2000 mm, rear 2000 mm", "", "work: cap-seal at left wall 600-1400 aft 0-300 down, uses S-1 90 ml, bead 3 mm; photo d-1.jpg; by hand-1\n")
	cert := drafted(t, r, []format.Object{{
		"line": int64(1), "promise": "watertight-edge", "first-day": "2021-06-01", "months": int64(12), "full-months": int64(12),
		"upkeep": false, "places": format.Array{format.Object{
			"shape": "wall", "wall": "left", "along": format.Array{int64(600), int64(1400)}, "down": format.Array{int64(0), int64(300)},
		}},
	}})
	f, err := facts.Certificate(r, cert, facts.Options{Terms: quillstead.Terms(), Copy: report.PassOnCopy})
	require.NoError(t, err)
	require.Equal(t, []string{"at left wall, 600–1400 aft, 0–300 down", "The roof deck", "Everything on the roof deck"},
		[]string{f.RegionWords, f.ComplementWords, f.ComplementPlaces})
	require.Equal(t, "left wall, 600–1400 aft, 0–300 down", f.Lines[0].Places)
}
