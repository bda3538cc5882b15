package cover_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lapmark/ledger/cover"
	"lapmark/ledger/day"
)

// The properties are those that the cover calculus promises of every coach and
// every question.

var (
	start  = must(2020, 1, 31)
	deck   = cover.Box{Front: 0, Rear: 7400, Left: -1100, Right: 1100}
	layers = []string{"membrane", "deck", "frame", "core"}
	shops  = []string{"quillstead", "low-ferry", "penny-drift"}
	causes = []string{"bad-weld", "branch-strike", "aged-sealant", "wrong-fastening", "past-seam"}
)

func must(year, month, date int) day.Day {
	d, err := day.New(year, month, date)
	if err != nil {
		panic(err)
	}
	return d
}

func drawDay(t *rapid.T, what string) day.Day {
	return start.AddDays(rapid.IntRange(0, 3000).Draw(t, what))
}

func drawPoint(t *rapid.T) cover.Point {
	return cover.Point{Aft: rapid.Int64Range(0, 7400).Draw(t, "aft"), Off: rapid.Int64Range(-1100, 1100).Draw(t, "off")}
}

func drawBox(t *rapid.T) cover.Box {
	p := drawPoint(t)
	long, wide := rapid.Int64Range(20, 3000).Draw(t, "long"), rapid.Int64Range(20, 1500).Draw(t, "wide")
	return cover.Box{Front: p.Aft, Rear: min(p.Aft+long, 7400), Left: p.Off, Right: min(p.Off+wide, 1100)}
}

func drawCertificate(t *rapid.T, no string) cover.Certificate {
	c := cover.Certificate{
		No: no, Coach: "C", Issuer: rapid.SampledFrom(shops).Draw(t, "issuer"), Numbers: cover.UsualNumbers(),
		ExcludedCauses: cover.UsualExcluded(), ShopSideCauses: cover.UsualShopSide(),
	}
	c.WorksFrom = drawDay(t, "works from")
	c.FirstDay = c.WorksFrom.AddDays(rapid.IntRange(0, 40).Draw(t, "cured after"))
	c.Numbers.Touch = rapid.Int64Range(0, 30).Draw(t, "touch")
	c.Numbers.UpkeepMissedMost = rapid.IntRange(0, 2).Draw(t, "missed most")
	for i := range rapid.IntRange(1, 3).Draw(t, "lines") {
		l := cover.Line{
			Line: string(rune('A' + i)), Months: rapid.IntRange(1, 120).Draw(t, "months"), Upkeep: rapid.Bool().Draw(t, "upkeep"),
			Promise: rapid.SampledFrom([]string{
				"watertight-fitting", "watertight-edge", "watertight-membrane", "bond", "sound-frame",
			}).Draw(t, "promise"),
			Floor: 10 * rapid.Int64Range(0, 100).Draw(t, "floor"),
		}
		l.FullMonths = rapid.IntRange(0, l.Months).Draw(t, "full")
		for n := range rapid.IntRange(1, 2).Draw(t, "places") {
			l.Places = append(l.Places, cover.Place{Place: string(rune('p' + n)), Box: drawBox(t)})
		}
		c.Lines = append(c.Lines, l)
	}
	return c
}

func drawUpkeep(t *rapid.T, f cover.Facts) cover.Upkeep {
	c := rapid.SampledFrom(f.Certificates).Draw(t, "kept up")
	l := rapid.SampledFrom(c.Lines).Draw(t, "line kept up")
	return cover.Upkeep{Day: drawDay(t, "upkeep"), By: cover.ByShop, Seen: []cover.Seen{
		{Certificate: c.No, Line: l.Line, State: rapid.SampledFrom([]string{"done", "resealed", "left"}).Draw(t, "state")},
	}}
}

func drawWork(t *rapid.T, declared bool) cover.LaterWork {
	w := cover.LaterWork{
		Day: drawDay(t, "later work"), By: rapid.SampledFrom([]string{"installer", "low-ferry"}).Draw(t, "by"), Declared: declared,
		Layers: []string{rapid.SampledFrom(layers).Draw(t, "layer")}, Boxes: []cover.Box{drawBox(t)},
	}
	if rapid.Bool().Draw(t, "taken back") {
		w.Back = w.Day.AddDays(rapid.IntRange(1, 900).Draw(t, "back after"))
	}
	return w
}

func drawFacts(t *rapid.T) cover.Facts {
	f := cover.Facts{Coach: "C", Deck: deck}
	for i := range rapid.IntRange(1, 3).Draw(t, "certificates") {
		c := drawCertificate(t, string(rune('P'+i)))
		if i > 0 && rapid.Bool().Draw(t, "instead") {
			c.InsteadOf = []cover.LineRef{{Certificate: "P"}}
		}
		f.Certificates = append(f.Certificates, c)
	}
	for range rapid.IntRange(0, 4).Draw(t, "upkeeps") {
		f.Upkeep = append(f.Upkeep, drawUpkeep(t, f))
	}
	for range rapid.IntRange(0, 3).Draw(t, "sales") {
		s := cover.Sale{Day: drawDay(t, "sale")}
		s.Told = s.Day.AddDays(rapid.IntRange(0, 200).Draw(t, "told after"))
		f.Sales = append(f.Sales, s)
	}
	for range rapid.IntRange(0, 2).Draw(t, "works") {
		f.LaterWork = append(f.LaterWork, drawWork(t, rapid.Bool().Draw(t, "declared")))
	}
	for range rapid.IntRange(0, 2).Draw(t, "left") {
		f.Left = append(f.Left, cover.Left{Day: drawDay(t, "left on"), Kind: cover.KindLeak, Box: drawBox(t)})
	}
	return f
}

func drawQuestion(t *rapid.T) cover.Question {
	q := cover.Question{Kind: rapid.SampledFrom([]string{cover.KindLeak, cover.KindLeak, cover.KindBond, cover.KindRot}).Draw(t, "kind")}
	q.Noticed = drawDay(t, "noticed")
	q.Reported = q.Noticed.AddDays(rapid.IntRange(0, 80).Draw(t, "reported after"))
	q.Entries = []cover.Entry{{At: drawPoint(t)}}
	if rapid.Bool().Draw(t, "shown") {
		q.Entries[0].Cause, q.Entries[0].Shown = rapid.SampledFrom(causes).Draw(t, "cause"), true
	}
	if q.Kind == cover.KindLeak && rapid.IntRange(0, 5).Draw(t, "entry open") == 0 {
		q.Entries = nil
	}
	return q
}

func ask(t require.TestingT, f cover.Facts, q cover.Question) cover.Answer {
	answers, err := cover.Ask(f, q)
	require.NoError(t, err)
	require.Len(t, answers, 1)
	return answers[0]
}

// notWorse says that b gives the holder no less than a.
func notWorse(t require.TestingT, a, b cover.Answer, why string) {
	require.GreaterOrEqual(t, b.Share, a.Share, "%s: %v, then %v", why, wants(a), wants(b))
	require.GreaterOrEqual(t, b.Most, a.Most, "%s: %v, then %v", why, wants(a), wants(b))
}

func TestOrderOfFactsIsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, q := drawFacts(t), drawQuestion(t)
		turned := f
		turned.Certificates = rapid.Permutation(f.Certificates).Draw(t, "certificates turned")
		turned.Upkeep = rapid.Permutation(f.Upkeep).Draw(t, "upkeep turned")
		turned.Sales = rapid.Permutation(f.Sales).Draw(t, "sales turned")
		turned.LaterWork = rapid.Permutation(f.LaterWork).Draw(t, "works turned")
		turned.Left = rapid.Permutation(f.Left).Draw(t, "left turned")
		require.Equal(t, wants(ask(t, f, q)), wants(ask(t, turned, q)))
		require.Equal(t, cover.StandingOn(f, q.Noticed), cover.StandingOn(turned, q.Noticed))
	})
}

func TestShareNeverRisesWithTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFacts(t)
		a, b := drawDay(t, "day"), drawDay(t, "other day")
		if b.Before(a) {
			a, b = b, a
		}
		before, after := cover.StandingOn(f, a), cover.StandingOn(f, b)
		for i := range before {
			if before[i].Months+int(before[i].Share) > 0 && after[i].Share > 0 {
				require.LessOrEqual(t, after[i].Share, before[i].Share, before[i].Line)
			}
		}
	})
}

// Yes is said only from the first to the last day of a line.
func TestYesOnlyWithinTheTerm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, q := drawFacts(t), drawQuestion(t)
		a := ask(t, f, q)
		if a.Verdict != cover.Covered && a.Verdict != cover.CoveredInPart || a.Line == "" {
			return
		}
		c := f.Certificates[slices.IndexFunc(f.Certificates, func(c cover.Certificate) bool { return c.No == a.Line[:1] })]
		l := c.Lines[slices.IndexFunc(c.Lines, func(l cover.Line) bool { return l.Line == a.Line[2:3] })]
		require.False(t, a.Day.Before(c.FirstDay) || a.Day.After(c.LastDay(l)), "%v", wants(a))
		require.Positive(t, a.Share)
	})
}

func TestTellingLaterNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, q := drawFacts(t), drawQuestion(t)
		later := q
		later.Reported = q.Reported.AddDays(rapid.IntRange(1, 400).Draw(t, "later by"))
		notWorse(t, ask(t, f, later), ask(t, f, q), "told earlier")
	})
}

func TestUndeclaredWorkNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, q := drawFacts(t), drawQuestion(t)
		more := f
		more.LaterWork = append(slices.Clone(f.LaterWork), drawWork(t, false))
		notWorse(t, ask(t, more, q), ask(t, f, q), "without that work")
	})
}

func TestBesideNeverHarms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, q := drawFacts(t), drawQuestion(t)
		more := f
		more.Certificates = append(slices.Clone(f.Certificates), drawCertificate(t, "Z"))
		notWorse(t, ask(t, f, q), ask(t, more, q), "with a certificate beside")
	})
}

func TestUpkeepNeverHarms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, q := drawFacts(t), drawQuestion(t)
		more := f
		more.Upkeep = append(slices.Clone(f.Upkeep), drawUpkeep(t, f))
		notWorse(t, ask(t, f, q), ask(t, more, q), "with one more upkeep")
	})
}

func TestTapeNeverHarms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, q := drawFacts(t), drawQuestion(t)
		more := f
		more.Certificates = slices.Clone(f.Certificates)
		by := rapid.Int64Range(1, 50).Draw(t, "wider by")
		for i := range more.Certificates {
			more.Certificates[i].Numbers.Touch += by
		}
		notWorse(t, ask(t, f, q), ask(t, more, q), "with a wider tape")
	})
}

// What is decided with something open holds however that turns out, and it is
// left open only where it can turn out differently.
func TestOpenOnlyWhereCompletionsDiffer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, q := drawFacts(t), drawQuestion(t)
		if len(q.Entries) > 0 && q.Entries[0].Shown {
			return
		}
		a := ask(t, f, q)
		full := q
		at := drawPoint(t)
		if len(q.Entries) > 0 {
			at = q.Entries[0].At
		}
		var seen []cover.Answer
		for _, cause := range append(cover.UsualShopSide(), "aged-sealant", "") {
			full.Entries = []cover.Entry{{At: at, Cause: cause, Shown: cause != ""}}
			one := ask(t, f, full)
			if cause == "" && one.Verdict == cover.CannotSayYet {
				continue
			}
			seen = append(seen, one)
			require.GreaterOrEqual(t, one.Share, a.Share, "%v, then %v", wants(a), wants(one))
			require.LessOrEqual(t, one.Share, a.Most, "%v, then %v", wants(a), wants(one))
			if a.Verdict != cover.CannotSayYet {
				require.Equal(t, []any{a.Verdict, a.Share}, []any{one.Verdict, one.Share})
			}
		}
		if a.Verdict == cover.CannotSayYet && a.Lead == cover.KeyCauseOpen {
			best := slices.MaxFunc(seen, func(a, b cover.Answer) int { return int(a.Share - b.Share) })
			require.Equal(t, a.Most, best.Share)
			require.NotEqual(t, a.Share, a.Most)
		}
	})
}
