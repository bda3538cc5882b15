package facts_test

import (
	"errors"
	"maps"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/testdata/quillstead"
)

// parted checks that what a certificate reaches and what it leaves out share
// nothing and are the deck, to the square millimetre.
func parted(t require.TestingT, r *ledger.Replay, cert *ledger.Act) {
	deck, in, out, err := facts.Ground(r, cert)
	require.NoError(t, err)
	require.False(t, in.Overlaps(out))
	require.InDelta(t, deck.Area(), in.Area()+out.Area(), 1) // each is rounded half up on its own
	require.True(t, deck.Minus(in.Union(out)).Empty())
	require.True(t, in.Union(out).Minus(deck).Empty())
}

// The demo: 7400 × 2200 mm; lines reach 3625 to 7400, 3775 × 2200 mm.
func TestGroundOfTheDemo(t *testing.T) {
	r := demo(t, 20)
	cert := certificate(t, r, "Q-0007")
	parted(t, r, cert)
	deck, in, out, err := facts.Ground(r, cert)
	require.NoError(t, err)
	require.Equal(t, []int64{7400 * 2200, 3775 * 2200, 3625 * 2200}, []int64{deck.Area(), in.Area(), out.Area()})
}

func TestGroundOfOtherCoaches(t *testing.T) {
	for _, c := range trailers {
		r := coach(t, c.deck, c.openings, c.notes)
		cert, _ := proposedFor(t, r)
		parted(t, r, cert)
	}
}

// Any lines on any deck, tapered ones too.
func TestGroundOfAnyLines(t *testing.T) {
	straight := coach(t, "4200 mm, front 2000 mm, rear 2000 mm", "", "")
	tapered := coach(t, "5200 mm, front 2200 mm, rear 1601 mm", roofVent, "")
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom([]*ledger.Replay{straight, tapered}).Draw(t, "coach")
		lines := format.Array{}
		for i := range rapid.IntRange(1, 5).Draw(t, "lines") {
			places := format.Array{}
			for range rapid.IntRange(1, 3).Draw(t, "places") {
				places = append(places, somewhere(t))
			}
			promise := rapid.SampledFrom(ledger.Promises()).Draw(t, "promise").Name
			lines = append(lines, format.Object{"line": int64(i + 1), "promise": promise, "places": places})
		}
		parted(t, r, &ledger.Act{Kind: "certificate", Body: format.Object{"lines": lines}})
	})
}

// somewhere is any place of the roof.
func somewhere(t *rapid.T) format.Object {
	aft, off := rapid.Int64Range(-200, 5000).Draw(t, "aft"), rapid.Int64Range(-1300, 1200).Draw(t, "off")
	long, wide := rapid.Int64Range(1, 3000).Draw(t, "long"), rapid.Int64Range(1, 2000).Draw(t, "wide")
	switch rapid.IntRange(0, 4).Draw(t, "shape") {
	case 0:
		return format.Object{"shape": "field", "aft": format.Array{aft, aft + long}}
	case 1:
		return format.Object{"shape": "part", "part": "left-edge"}
	case 2:
		return format.Object{"shape": "spot", "aft": aft, "off": off, "radius": wide/2 + 1}
	}
	return format.Object{"shape": "field", "aft": format.Array{aft, aft + long}, "off": format.Array{off, off + wide}}
}

// A deck that is not measured, a certificate without lines, an entry that is
// none.
func TestNoGround(t *testing.T) {
	r := coach(t, "4200 mm, front 2000 mm, rear 2000 mm", "", "")
	_, _, _, err := facts.Ground(r, &ledger.Act{Kind: "certificate", Body: format.Object{}})
	require.ErrorIs(t, err, facts.ErrLines)
	bay := format.Object{"line": int64(1), "promise": "bond", "places": format.Array{format.Object{"shape": "bay", "bay": int64(2)}}}
	_, _, _, err = facts.Ground(r, &ledger.Act{Kind: "certificate", Body: format.Object{"lines": format.Array{bay}}})
	require.ErrorIs(t, err, place.ErrNoRafters)
	_, err = facts.Certificate(r, r.Intake(), facts.Options{})
	require.ErrorIs(t, err, facts.ErrKind)
	nothing := drafted(t, r, []format.Object{{
		"line": int64(1), "promise": "bond", "places": format.Array{format.Object{"shape": "field"}}, "first-day": "2021-06-01",
		"months": int64(12), "full-months": int64(12), "upkeep": false,
	}})
	_, err = facts.Certificate(r, nothing, facts.Options{Terms: quillstead.Terms()})
	require.ErrorIs(t, err, facts.ErrWork)
}

// Any lines over any roof that was relaid have words for where they are and
// where they are not, and lay out as a paper.
func TestAnyLinesHaveWords(t *testing.T) {
	const relaid = "work: lay-deck at whole roof, uses P-1 10 m2, thickness 9 mm; lay-membrane at whole roof, uses E-1 10 m2; photo d-1.jpg; by hand-1\n"
	straight := coach(t, "4200 mm, front 2000 mm, rear 2000 mm", "", relaid)
	tapered := coach(t, "5200 mm, front 2200 mm, rear 1601 mm", roofVent, relaid)
	base := drafted(t, straight, nil)
	head := newest(t, straight)
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom([]*ledger.Replay{straight, tapered}).Draw(t, "coach")
		lines := format.Array{}
		for i := range rapid.IntRange(1, 3).Draw(t, "lines") {
			places := format.Array{}
			for range rapid.IntRange(1, 2).Draw(t, "places") {
				places = append(places, somewhere(t))
			}
			promise := rapid.SampledFrom(ledger.Promises()).Draw(t, "promise").Name
			lines = append(lines, format.Object{
				"line": int64(i + 1), "promise": promise, "places": places, "first-day": "2021-06-01", "months": int64(24),
				"full-months": rapid.Int64Range(0, 24).Draw(t, "full"), "upkeep": rapid.Bool().Draw(t, "upkeep"),
			})
		}
		cert := *base
		cert.Body = maps.Clone(base.Body)
		cert.Body["lines"] = lines
		f, err := facts.Certificate(r, &cert, facts.Options{Terms: quillstead.Terms(), Copy: report.PassOnCopy, Head: head})
		if errors.Is(err, facts.ErrWork) {
			return // all of it lies beside the roof
		}
		require.NoError(t, err)
		require.NotEmpty(t, f.RegionWords)
		require.NotEmpty(t, f.ComplementPlaces)
		require.True(t, f.WholeDeck || f.ComplementWords != "")
		for _, l := range f.Lines {
			require.NotEmpty(t, l.Places)
		}
		_, err = report.Certificate(f, report.CertificateSentences(f, quillstead.Terms()))
		require.NoError(t, err)
	})
}
