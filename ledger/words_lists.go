package ledger

import (
	"slices"
	"sync"
)

// The words of what was decided, promised, asked and ruled, of papers, keys and
// places; and what each promise rests on.

var choiceWords = sync.OnceValue(func() []Word {
	return listed("choice", ownWord, []Word{
		{Name: "repair-now", Means: "repaired in this job"},
		{Name: "repair-by", Means: "repaired until a day that is said"},
		{Name: "leave", Means: "left as it is"},
		{Name: "holder-does", Says: "the holder does it", Means: "the holder does it, or has it done"},
		{Name: "another-shop", Means: "another shop does it"},
		{Name: "only-make-tight", Means: "made tight for now, not repaired"},
		{Name: "look-further", Means: "opened further, up to hours or a price that are said"},
		{Name: "refuse-opening", Says: "no opening up", Means: "the holder does not want it opened"},
		{Name: "no-answer", Means: "the holder was called and did not answer"},
		{Name: "agree-extra", Says: "agreed on top", Means: "the holder agrees to more work, or to less in the warranty"},
	})
})

var promiseWords = sync.OnceValue(func() []Word {
	return listed("promise", ownWord, []Word{
		{Name: "watertight-membrane", Means: "no water through the sheet laid and its welds"},
		{Name: "watertight-fitting", Means: "no water past a fitting and its skirt"},
		{Name: "watertight-edge", Means: "no water past an edge or joint"},
		{Name: "watertight-tie-in", Says: "watertight tie-in", Means: "no water where new work meets what was left"},
		{Name: "bond", Means: "the hold between glued layers"},
		{Name: "sound-frame", Means: "no rot and no break in the members renewed"},
		{Name: "no-standing-water", Means: "no water deeper than 3 mm after 48 h"},
		{Name: "materials", Means: "what the makers answer for, lot by lot"},
		{Name: "resulting-damage", Means: "what the water spoiled, beside the watertight lines"},
	})
})

var conditionWords = sync.OnceValue(func() []Word {
	return listed("condition", commonPractice, []Word{
		{Name: "yearly-upkeep", Means: "the lines marked upkeep are looked at when it is due"},
		{Name: "report-within", Means: "a trouble is told within the days said"},
		{Name: "first-look", Means: "the shop looks before it is repaired for good; making tight is always free"},
		{Name: "keep-from-worsening", Means: "the holder keeps it from getting worse"},
		{Name: "tell-of-sale", Means: "a sale is told within the days said"},
		{Name: "transfers-at-most", Means: "it passes on for so many sales"},
		{Name: "no-new-holes", Means: "nothing is screwed or cut into the places of the lines"},
		{Name: "load-limit", Means: "no more load on the roof than said"},
		{Name: "cleaner-list", Means: "only the cleaners named are used"},
		{Name: "use-kind", Says: "kind of use", Means: "for the use said, private or hire"},
		{Name: "bring-to-shop", Means: "the coach is brought to the shop"},
		{Name: "let-open-up", Means: "the shop may open up to look"},
	})
})

var troubleWords = sync.OnceValue(func() []Word {
	return listed("trouble", ownWord,
		[]Word{{Name: "leak", Means: "water comes in"}},
		borrowed(promiseWords(), "bond"), borrowed(defectWords(), "rot"),
		[]Word{{Name: "break", Means: "a member cracks, splits or gives way"}},
		borrowed(defectWords(), "standing-water"))
})

var verdictWords = sync.OnceValue(func() []Word {
	return listed("verdict", ownWord, []Word{
		{Name: "covered", Means: "a line answers for it in full"},
		{Name: "covered-in-part", Means: "a line answers for a share of it"},
		{Name: "not-covered", Means: "no line answers for it"},
		{Name: "cannot-say-yet", Means: "the possible answers differ; one check is named"},
		{Name: "shops-unfinished-work", Says: "the shop's unfinished work", Means: "the work has begun and its first day is still to come"},
		{Name: "no-verdict", Means: "the record or the coach does not allow an answer"},
	})
})

var rulingWords = sync.OnceValue(func() []Word {
	return listed("ruling", ownWord, []Word{
		{Name: "as-the-verdict", Says: "as the verdict says", Means: "as the certificate says"},
		{Name: "goodwill-beyond", Says: "more than the verdict says, as goodwill", Means: "more than the certificate says, of the shop's own will"},
		{Name: "to-holders-loss", Says: "to the holder's loss", Means: "less than the certificate says, with a reason and a second mark"},
	})
})

var endedWords = sync.OnceValue(func() []Word {
	return listed("ended", ownWord, []Word{
		{Name: "holder-let-go", Says: "the holder let it go", Means: "the holder gave it up, by a decision"},
		{Name: "coach-destroyed", Says: "the coach is destroyed", Means: "there is no coach any more"},
		{Name: "paid-out", Means: "the line was paid out"},
	})
})

var howWords = sync.OnceValue(func() []Word {
	return listed("how", ownWord, []Word{
		{Name: "in-person", Means: "said face to face"},
		{Name: "phone", Says: "by phone", Means: "said by telephone"},
		{Name: "message", Says: "by message", Means: "written by mail or message"},
		{Name: "on-paper", Means: "written on paper"},
	})
})

var paperWords = sync.OnceValue(func() []Word {
	return listed("paper", ownWord, []Word{
		{Name: "findings", Means: "what was found, before repair"},
		{Name: "certificate", Means: "what the shop puts its name to"},
		{Name: "history", Means: "what happened to the coach"},
		{Name: "upkeep-slip", Means: "what must be kept up, and when"},
		{Name: "claim-answer", Means: "verdict and ruling on a claim"},
		{Name: "bundle", Means: "the ledger itself with its words and pictures"},
	})
})

var madeSafeWords = sync.OnceValue(func() []Word {
	return listed("madesafe", commonPractice, []Word{
		{Name: "gas-off", Means: "gas shut"},
		{Name: "mains-off", Means: "mains cable out"},
		{Name: "inverter-off", Means: "inverter and battery off"},
		{Name: "solar-covered", Means: "panels covered; their strings stay live in daylight"},
		{Name: "water-off", Means: "water pump off"},
		{Name: "roof-cleared", Means: "nothing loose on the roof"},
	})
})

var titleWords = sync.OnceValue(func() []Word {
	return listed("title", "15 USC 2303", []Word{
		{Name: "full", Means: "a warranty that meets the least terms of 15 USC 2304"},
		{Name: "limited", Means: "a warranty with any limit: a share that falls, sales at most"},
	})
})

var readerWords = sync.OnceValue(func() []Word {
	return listed("reader", ownWord, []Word{
		{Name: "shop", Means: "the shop itself"},
		{Name: "holder", Says: "the holder", Means: "who owns the coach that day"},
		{Name: "buyer", Says: "a buyer", Means: "who thinks of buying the coach"},
		{Name: "later-shop", Says: "a later shop", Means: "who works on the roof next"},
	})
})

var carriedOnWords = sync.OnceValue(func() []Word {
	return listed("carried-on", ownWord, []Word{
		{Name: "print", Means: "on printed paper"},
		{Name: "mail", Means: "by mail, as a file"},
		{Name: "stick", Means: "on a stick, as a file"},
	})
})

var reasonWords = sync.OnceValue(func() []Word {
	return listed("reason", ownWord, []Word{
		{Name: "planned", Says: "a planned change", Means: "changed without need"},
		{Name: "lost", Says: "the old one is lost", Means: "the key is gone, and nobody else has it"},
		{Name: "stolen", Says: "the old one may be in other hands", Means: "somebody else may have the key"},
		{Name: "person-left", Says: "somebody who knew the passphrase has left", Means: "somebody who knew the passphrase has left"},
	})
})

var noseWords = sync.OnceValue(func() []Word {
	return listed("nose", ownWord, []Word{
		{Name: "nose-up", Means: "the front stands higher"},
		{Name: "nose-down", Means: "the front stands lower"},
	})
})

var sideWords = sync.OnceValue(func() []Word {
	return listed("side", ownWord, []Word{
		{Name: "left", Means: "left of the centreline, facing forward"},
		{Name: "middle", Means: "a quarter of the width each side of the centreline"},
		{Name: "right", Means: "right of the centreline, facing forward"},
	})
})

var wallWords = sync.OnceValue(func() []Word {
	return listed("wall", ownWord, borrowed(sideWords(), "left", "right"), []Word{
		{Name: "front", Means: "the wall at the front"},
		{Name: "rear", Means: "the wall at the rear"},
	})
})

var holderSaysWords = sync.OnceValue(func() []Word {
	return listed("holder-says", ownWord, []Word{
		{Name: "agrees", Says: "the holder agrees", Means: "the holder agrees"},
		{Name: "disputes", Says: "the holder does not agree", Means: "the holder does not agree"},
		{Name: "nothing-yet", Says: "the holder has not answered yet", Means: "the holder has not said"},
	})
})

var goesOnWords = sync.OnceValue(func() []Word {
	return listed("goes-on", ownWord, []Word{
		{Name: "goes-on-here", Says: "new entries go into this one", Means: "new entries go into this ledger"},
		{Name: "goes-on-there", Says: "new entries go into that one", Means: "new entries go into the other ledger"},
	})
})

var groundWords = sync.OnceValue(func() []Word {
	return listed("ground", ownWord, []Word{
		{Name: "asked", Says: "the person asked for it", Means: "the person asked for it"},
		{Name: "time-limit", Says: "the time for keeping it was over", Means: "the time for keeping it was over"},
	})
})

var standingWords = sync.OnceValue(func() []Word {
	return listed("standing", ownWord, []Word{
		{Name: "ended", Means: "the line is over by word"},
		{Name: "withdrawn", Means: "the certificate was issued in error"},
		{Name: "taken-back", Says: "taken into the warranty again", Means: "the shop takes a place set aside into its line again"},
	})
})

// laterWorkWords are what others may have left on the roof or done to it.
var laterWorkWords = sync.OnceValue(func() []Word {
	return listed("later-work", ownWord, elementWords(), operationWords())
})

var odometerUnitWords = sync.OnceValue(func() []Word {
	return listed("odometer-unit", ownWord, []Word{
		{Name: "km", Means: "kilometres"},
		{Name: "mi", Means: "miles"},
	})
})

var lotUnitWords = sync.OnceValue(func() []Word {
	return listed("lot-unit", ownWord, []Word{
		{Name: "g", Means: "grams"},
		{Name: "ml", Means: "millilitres"},
		{Name: "mm", Means: "millimetres of length"},
		{Name: "mm2", Means: "square millimetres"},
		{Name: "piece", Means: "pieces"},
	})
})

// Promise says what one promise of a certificate rests on. Source: the rules of
// certifying and of cover, version 1; common practice, no source.
type Promise struct {
	Name     string        // a word of the list "promise"
	Width    int           // order of asking, 0 = the narrowest named thing; -1 = answers for no place
	Answers  []string      // the kinds of trouble it answers for
	Layers   []string      // the layers of which one must have been closed by the shop; coating, membrane, skin are one
	ClosedBy []string      // the operations of which one must have closed it; none = any closed work
	Checks   []NeededCheck // what must have passed before it is given
	Shows    string        // the check that shows the cause of a trouble; "" = none
}

// NeededCheck is a check that a promise asks for.
type NeededCheck struct {
	OneOf  []string // any one of these
	After  []string // after the newest of these operations there; none = of any closed work in the layers
	OnSeam bool     // asked of each seam that such an operation made or mended, and of no other place
}

// Promises returns what each promise rests on, in the order of the list
// "promise".
func Promises() []Promise {
	outside := []string{"coating", "membrane", "skin"}
	water := NeededCheck{OneOf: []string{"hose", "dam", "air-and-soap"}}
	probe := NeededCheck{
		OneOf: []string{"seam-probe"}, After: []string{"weld", "bond-seam", "patch", "make-good"}, OnSeam: true,
	}
	leak := []string{"leak"}
	return []Promise{
		{
			Name: "watertight-membrane", Width: 3, Answers: leak, Layers: outside,
			ClosedBy: []string{"lay-membrane", "reskin", "patch", "coat"},
			Checks:   []NeededCheck{water, probe}, Shows: "peel-in-place",
		},
		{
			Name: "watertight-fitting", Width: 0, Answers: leak, Layers: outside,
			ClosedBy: []string{"bed", "cap-seal"}, Checks: []NeededCheck{water}, Shows: "bite",
		},
		{
			Name: "watertight-edge", Width: 2, Answers: leak, Layers: outside,
			ClosedBy: []string{"bed", "cap-seal"}, Checks: []NeededCheck{water}, Shows: "bite",
		},
		{
			Name: "watertight-tie-in", Width: 1, Answers: leak, Layers: outside,
			Checks: []NeededCheck{water, probe}, Shows: "peel-in-place",
		},
		{
			Name: "bond", Width: 4, Answers: []string{"bond"}, Layers: slices.Clone(deckAndCore),
			Checks: []NeededCheck{{OneOf: []string{"tap"}, After: []string{"laminate", "lay-deck", "press"}}},
			Shows:  "bond-coupon",
		},
		{
			Name: "sound-frame", Width: 5, Answers: []string{"rot", "break"}, Layers: slices.Clone(frameOnly),
			Checks: []NeededCheck{{OneOf: []string{"awl"}}}, Shows: "awl",
		},
		{
			Name: "no-standing-water", Width: 6, Answers: []string{"standing-water"}, Layers: slices.Clone(deckOnly),
			Checks: []NeededCheck{{OneOf: []string{"standing-water-look"}}}, Shows: "straight-edge",
		},
		{Name: "materials", Width: -1},
		{Name: "resulting-damage", Width: -1},
	}
}

// TroubleLayers returns the layers that later work must have entered to touch a
// trouble; nil where the trouble is not known. Source: the rules of cover,
// version 1.
func TroubleLayers(trouble string) []string {
	switch trouble {
	case "leak":
		return []string{"coating", "membrane", "skin"}
	case "bond":
		return []string{"over-deck", "deck", "core", "inner-ply"}
	case "standing-water":
		return []string{"membrane", "over-deck", "deck"}
	case "rot", "break":
		return slices.Clone(frameOnly)
	}
	return nil
}
