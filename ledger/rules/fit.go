package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

const (
	keyEats     = "eats-foam"
	keyNoCoupon = "no-coupon"
	keyNoLayer  = "no-layer"
	keyPair     = "pair-unknown"

	saysEats     = "{a} dissolves {b}: not written as work. If it is already on, write a finding eaten-foam, hand our-shop."
	saysNoCoupon = "{a} on {b} only after a {coupon} on these lots; none passed since {day}."
	saysNoLayer  = "{a} on {b} needs a layer between."
	saysNoPrimer = "{a} on {b} needs primer first."
	saysNoBond   = "{a} does not bond to {b}."
	saysPair     = "{a} on {b} is not in the table. Ask the maker or make a coupon."
)

var fitRules = []Rule{
	{Key: keyEats, Degree: Refused, Kinds: forWork, Sentences: []string{saysEats}, Look: fits(ledger.FitEats)},
	{
		Key: keyNoCoupon, Degree: Stopped, Kinds: forWork, Sentences: []string{saysNoCoupon},
		Plain: "the pair that was joined there needs a coupon first", Look: fits(ledger.FitFoamCoupon, ledger.FitBondCoupon),
	},
	{
		Key: keyNoLayer, Degree: Stopped, Kinds: forWork, Sentences: []string{saysNoLayer, saysNoPrimer, saysNoBond},
		Plain: "the pair that was joined there needs a layer or a primer between",
		Look:  fits(ledger.FitLayer, ledger.FitPrimer, ledger.FitNoBond),
	},
	{Key: keyPair, Degree: Noted, Kinds: forWork, Sentences: []string{saysPair}, Look: fits("")},
}

// pair is one material on a ground, and how they go together: "" where the table
// does not say.
type pair struct {
	op  Op
	lot string
	on  ground
	fit string
}

// pairs are what the lots of a note touch. A lot of no known kind has none.
func (c Case) pairs() []pair {
	if c.seen.once("pairs") {
		c.seen.pairs = c.findPairs()
	}
	return c.seen.pairs
}

func (c Case) findPairs() []pair {
	var out []pair
	if c.Act.Kind != "work" {
		return nil
	}
	for _, op := range Ops(c.Act) {
		for _, lot := range op.Lots {
			if !ledger.GoesOn(c.material(lot)) {
				continue
			}
			on := c.touched(op, lot)
			if len(on) == 0 {
				on = []ground{{}}
			}
			for _, g := range on {
				out = append(out, pair{op, lot, g, c.fit(lot, g)})
			}
		}
	}
	return out
}

// fit is how a lot goes on a ground. A pair that the sheet of one of the two
// names as good holds.
func (c Case) fit(lot string, g ground) string {
	a := c.lot(lot)
	names := func(sheet format.Object, material string) bool {
		return slices.Contains(ledger.Texts(sheet["fits"]), material)
	}
	if names(a, g.material) || g.lot != "" && names(c.lot(g.lot), text(a, "material")) {
		return ledger.FitHolds
	}
	what := strings.ToLower(text(a, "what"))
	mild := strings.Contains(what, "alcohol") || strings.Contains(what, "water")
	safe := strings.Contains(what, "foam-safe") || strings.Contains(what, "foam safe")
	fit, known := ledger.Fit(text(a, "material"), g.material, !mild, safe)
	if !known {
		return ""
	}
	return fit
}

// fits looks for pairs that go together in one of some ways.
func fits(ways ...string) func(Case) []Outcome {
	return known(func(c Case) []Outcome {
		var out []Outcome
		for _, p := range c.pairs() {
			if !slices.Contains(ways, p.fit) {
				continue
			}
			o, wrong := c.unfit(p)
			if wrong && !slices.ContainsFunc(out, func(q Outcome) bool { return q.Sentence == o.Sentence }) {
				out = append(out, o)
			}
		}
		return out
	})
}

// unfit is what is wrong with a pair, if anything is.
func (c Case) unfit(p pair) (o Outcome, wrong bool) {
	a, b := capital(ledger.Said("material", c.material(p.lot))), sayGround(p.on)
	switch p.fit {
	case ledger.FitEats:
		return refused(keyEats, saysEats, a, b), true
	case ledger.FitFoamCoupon, ledger.FitBondCoupon:
		since, passed := c.coupon(p)
		return stopped(keyNoCoupon, keyNoCoupon, saysNoCoupon, a, b, p.fit, since.String()), !passed
	case ledger.FitLayer:
		return stopped(keyNoLayer, "", saysNoLayer, a, b), true
	case ledger.FitPrimer:
		return stopped(keyNoLayer, "", saysNoPrimer, a, b), !c.primed(p)
	case ledger.FitNoBond:
		return stopped(keyNoLayer, "", saysNoBond, a, b), true
	}
	return noted(keyPair, "", saysPair, a, b), true
}

func sayGround(g ground) string {
	switch g.material {
	case "":
		return "a ground that nobody named"
	case ledger.OldBitumen:
		return "old bitumen"
	}
	return ledger.Said("material", g.material)
}

// coupon says whether the coupon that a pair asks for passed on both lots in the
// months before, or in the note; since is the first day that counts. Where the
// ground has no lot it is one of the lot onto its kind.
func (c Case) coupon(p pair) (since day.Day, passed bool) {
	since, _ = c.Act.Day().PlusMonths(-int(c.Limits.numbers(keyNoCoupon)[0]))
	for _, a := range c.andItself(withResults...) {
		for _, o := range results(a, p.fit) {
			lots := ledger.Texts(o["lots"])
			ground := slices.Contains(lots, p.on.lot) || p.on.lot == "" && text(o, "onto") == p.on.material
			if o["pass"] == true && slices.Contains(lots, p.lot) && ground && !a.Day().Before(since) {
				return since, true
			}
		}
	}
	return since, false
}

// primed says whether primer was put on where a pair is joined, before or in the
// note.
func (c Case) primed(p pair) bool {
	at := union(p.op.spots(c.Replay))
	var done place.Region
	for _, a := range c.andItself("work") {
		for _, op := range Ops(a) {
			if op.Word == "prime" {
				done = done.Union(union(op.spots(c.Replay)))
			}
		}
	}
	return done.Holds(at, tape)
}
