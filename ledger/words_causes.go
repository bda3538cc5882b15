package ledger

import "sync"

// The words of why: the cause of a trouble, how sure that is, whose hand it
// was and how that is known; and what a certificate says about causes.

var causeWords = sync.OnceValue(func() []Word {
	return listed("causes", commonPractice, []Word{
		// Where the water came in: this says where, not why.
		{Name: "past-seam", Says: "past a seam", Means: "water came in past a seam"},
		{Name: "past-edge", Says: "past an edge", Means: "water came in past an edge"},
		{Name: "past-fitting", Says: "past a fitting", Means: "water came in past a fitting"},
		{Name: "past-fastener", Says: "past a fastener", Means: "water came in past a fastener", Carries: carries("", "count")},
		{Name: "past-joint", Says: "past a joint", Means: "water came in where the deck meets a cap or wall", Carries: carries("", "gap")},
		{Name: "through-skin", Says: "through the skin", Means: "water came in through the skin itself"},
		{Name: "from-uphill", Means: "water came from elsewhere under the skin"},

		// Water that is not from the roof.
		{Name: "condensation", Means: "moisture of the air settled on a cold face", Carries: carries("", "humidity air-temp surface-temp")},
		{Name: "ac-condensate", Says: "water from the air conditioner", Means: "from the pan or drain of the unit"},
		{Name: "plumbing", Means: "from pipes or tanks"},
		{Name: "blocked-drain", Means: "a gutter or spout was blocked"},

		// Workmanship.
		{Name: "bad-weld", Means: "welded cold, fast or dirty", Carries: carries("", "peel")},
		{Name: "poor-preparation", Means: "the ground was dirty, damp or not primed"},
		{Name: "wrong-fastening", Means: "the wrong fastener, or one with too little bite", Carries: carries("", "leg over-layer")},
		{Name: "starved-glue", Means: "too little glue", Carries: carries("", "spread")},
		{Name: "wrong-glue", Means: "a glue that does not hold on this ground"},
		{Name: "closed-wet", Means: "closed over while it was still wet", Carries: carries("", "moisture")},
		{Name: "cut-short", Means: "a part was cut too short", Carries: carries("", "short-by")},

		// Built or left so.
		{Name: "silicone-residue", Means: "silicone left on the ground, over which nothing bonds"},
		{Name: "no-fall", Means: "too little slope for the water to run off", Carries: carries("", "slope")},
		{Name: "unit-load", Says: "load of a unit", Means: "a unit stands on the roof without a spreader", Carries: carries("", "mass pressure")},
		{Name: "new-opening", Means: "an opening was cut later", Carries: carries("", "count")},
		{Name: "owner-screw", Says: "owner's screw", Means: "a screw put in by the owner, from inside or outside", Carries: carries("", "count")},

		// Age and use.
		{Name: "aged-sealant", Means: "the sealant has come to its age", Carries: carries("", "age")},
		{Name: "weathering", Means: "worn by sun, rain and frost", Carries: carries("", "age")},
		{Name: "missed-upkeep", Means: "the upkeep was not done", Carries: carries("", "missed")},
		{Name: "body-flexing", Says: "flexing of the body", Means: "the body of the coach works on the road"},
		{Name: "foot-load", Means: "someone stood or walked on it", Carries: carries("", "mass")},
		{Name: "material-fault", Means: "the lot itself was at fault"},

		// Events.
		{Name: "branch-strike", Means: "a branch hit or scraped the roof"},
		{Name: "hail", Means: "hail hit the roof", Carries: carries("", "stone")},
		{Name: "collision", Means: "the coach hit something, or was hit"},
		{Name: "spill", Means: "fuel, solvent or bitumen was spilt on it"},
		{Name: "fire", Means: "fire or heat"},
		{Name: "animal", Means: "an animal gnawed, scratched or nested"},

		{Name: "not-found", Means: "the cause was looked for and not found"},
	})
})

// shopSideWords are the causes that a certificate lays to the shop when
// nothing else is said. Source: the rules of cover, version 1.
var shopSideWords = sync.OnceValue(func() []Word {
	return listed("shop-side", commonPractice, borrowed(causeWords(),
		"bad-weld", "poor-preparation", "wrong-fastening", "starved-glue", "wrong-glue", "closed-wet", "cut-short",
		"material-fault"))
})

// exclusionWords are what a certificate may leave out. The causes among them
// are left out when nothing else is said.
var exclusionWords = sync.OnceValue(func() []Word {
	return listed("exclusion", commonPractice, borrowed(causeWords(),
		"branch-strike", "hail", "collision", "foot-load", "spill", "fire", "animal", "new-opening", "owner-screw",
		"body-flexing", "condensation", "ac-condensate", "plumbing", "from-uphill"), []Word{
		{Name: "owner-work", Says: "owner's work", Means: "what the owner did or had done"},
		{Name: "left-trouble", Means: "a trouble that was known and left"},
		{Name: "appearance", Means: "looks: stains, shades, marks of the work"},
		{Name: "contents", Means: "what lies or stands in the coach"},
		{Name: "upkeep-wear", Means: "sealant that upkeep renews"},
		{Name: "delay", Means: "what grew worse after the days for telling were over"},
		{Name: "maker-only", Says: "the maker alone", Means: "a part for which the maker alone answers"},
	})
})

var sureWords = sync.OnceValue(func() []Word {
	return listed("sure", ownWord, []Word{
		{Name: "measured", Means: "an instrument said so"},
		{Name: "seen", Means: "somebody of the shop saw it"},
		{Name: "judged", Means: "worked out from signs, not shown"},
		{Name: "told", Means: "somebody said so and the shop did not see it"},
		{Name: "not-looked-at", Means: "nobody looked"},
	})
})

var whoseWords = sync.OnceValue(func() []Word {
	return listed("whose", ownWord, []Word{
		{Name: "factory", Says: "the factory", Means: "built so"},
		{Name: "factory-later", Says: "the factory, later", Means: "a recall or later work by the builder"},
		{Name: "dealer", Says: "the dealer", Means: "the dealer who sold the coach"},
		{Name: "our-shop", Means: "the house of that entry"},
		{Name: "other-shop", Says: "another shop", Means: "a shop that is named only with its paper"},
		{Name: "present-owner", Says: "the present owner", Means: "who owns the coach that day"},
		{Name: "former-owner", Says: "a former owner", Means: "somebody who owned the coach before"},
		{Name: "wear-or-weather", Means: "nobody's hand: age, use or weather"},
		{Name: "unknown", Means: "not known, and nobody is blamed by guess"},
	})
})

var knownWords = sync.OnceValue(func() []Word {
	return listed("known", ownWord, []Word{
		{Name: "seen-being-done", Means: "somebody of the shop saw it done"},
		{Name: "paper", Means: "a bill, a certificate or another paper shows it"},
		{Name: "told-by", Means: "somebody said so; who is said too"},
		{Name: "from-signs", Means: "the work itself shows it; the signs are said too"},
		{Name: "not-asked", Means: "nobody asked; only where the hand is unknown"},
	})
})
