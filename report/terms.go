package report

import "lapmark/ledger"

// Terms are a shop's own words and values: who it is, how its warranty is
// written, what it proposes, and the limits it works by. The terms file is
// plain text; ParseTerms reads it and TermsText writes it.
type Terms struct {
	// Shop, Address, Desk and Telephone are needed; Mail is not.
	Shop, Address, Desk, Telephone, Mail string
	Law                                  Law
	// Title is empty for the title the law asks for.
	Title string
	Paper Size
	Units Units
	// ClaimSteps, Pays and PaysNot are sentences in order.
	ClaimSteps, Pays, PaysNot []string
	// Causes has the words of each exclusion, as they stand in a list.
	Causes []Phrase
	// Implied is empty where implied warranties are not limited, else the
	// sentence that limits how long they last.
	Implied string
	// Dispute says whether an office has to be asked first.
	Dispute string
	// UpkeepWho lists who may do the upkeep.
	UpkeepWho string
	// Rights are the rights to be named besides, under a law of neither form.
	Rights []string
	// Thanks is printed on the upkeep slip, at most 120 characters.
	Thanks string
	// NoneFound, Goodwill and TermsShown are the sentences that papers print
	// exactly so and that a shop may word otherwise.
	NoneFound, Goodwill, TermsShown string
	// Promises are what certify proposes, in the order of the table.
	Promises []PromiseTerm
	Numbers  Numbers
	// Limits are those that differ from the usual ones, by rule or check.
	Limits []Limit
}

// Phrase is what a word says in a sentence.
type Phrase struct{ Word, Says string }

// Limit is the value of a rule or check that the shop works by, written as in
// an entry: "log-gap", "12 h 24 h".
type Limit struct{ Rule, Says string }

// PromiseTerm is how long a promise is proposed: months, of these in full, the
// floor of the share in percent (100: it does not fall), and whether it asks
// for upkeep. Months 0: not proposed.
type PromiseTerm struct {
	Promise             string
	Months, Full, Floor int
	Upkeep              bool
}

// TitleSays is the title of the warranty.
func (t Terms) TitleSays() string {
	if t.Title != "" {
		return t.Title
	}
	return t.Law.title()
}

// Needed names the terms that are needed and still empty.
func (t Terms) Needed() []string {
	var missing []string
	for _, k := range termKeys() {
		if k.needed && len(k.write(t)[0]) == 0 {
			missing = append(missing, k.word)
		}
	}
	return missing
}

// LimitSays is the value of a rule or check the shop works by, and whether it
// is the usual one.
func (t Terms) LimitSays(rule string) (says string, usual bool) {
	for _, l := range t.Limits {
		if l.Rule == rule {
			return l.Says, false
		}
	}
	term, known := ledger.TermOf(rule)
	return term.Usual, known
}

// DefaultTerms are the usual terms. Those that are needed are empty. The
// values are common practice, no source.
func DefaultTerms() Terms {
	return Terms{
		ClaimSteps: []string{
			"Keep it from getting worse. Making it tight at once is always allowed, by anyone.",
			"Tell our warranty desk within {report-days} days of noticing: by post, telephone or in person.",
			"Bring the coach to us, or to a shop we name together. Let us look before it is repaired for good.",
			"We find where the water comes in, and answer in writing: covered, covered in part, not covered, or which test would settle it.",
			"If covered, we make it good, with a new certificate beside this one. Repair never shortens this one.",
		},
		Pays:      []string{"We make good the place and any deck, core, inner ply or lining of ours that its water spoiled, labour and material together."},
		PaysNot:   []string{"We do not pay for contents, towing, lodging or lost use of the coach."},
		Causes:    usualCauses(),
		Dispute:   "No dispute office has to be used first.",
		UpkeepWho: "yourself, us, any shop",
		Promises:  usualPromises(),
		Numbers:   usualNumbers(),

		NoneFound: FixedSays("none-found"), Goodwill: FixedSays("goodwill"), TermsShown: FixedSays("terms-shown"),
	}
}

func usualCauses() []Phrase {
	return []Phrase{
		{"branch-strike", "branch strike"},
		{"hail", "hail"},
		{"collision", "collision"},
		{"foot-load", "foot load of more than 100 kg on one square metre"},
		{"spill", "spilt fuel, solvent or bitumen"},
		{"fire", "fire"},
		{"animal", "animals"},
		{"new-opening", "openings made by others"},
		{"owner-screw", "screws put in by others"},
		{"body-flexing", "flexing of the body"},
		{"condensation", "condensation"},
		{"ac-condensate", "water from the air conditioner"},
		{"plumbing", "water from pipes"},
		{"from-uphill", "water that enters outside the lines"},
		{"owner-work", "the holder's own work"},
		{"left-trouble", "known trouble that was left"},
		{"appearance", "looks"},
		{"contents", "contents of the coach"},
		{"upkeep-wear", "sealant that upkeep renews"},
		{"delay", "worsening after the {report-days} days"},
		{"maker-only", "what the maker of a part alone answers for"},
	}
}

func usualPromises() []PromiseTerm {
	return []PromiseTerm{
		{"watertight-membrane", 120, 60, 10, false},
		{"watertight-fitting", 72, 72, 100, true},
		{"watertight-edge", 60, 60, 100, true},
		{"watertight-tie-in", 24, 24, 100, true},
		{"bond", 120, 60, 10, false},
		{"sound-frame", 120, 120, 100, false},
		{Promise: "no-standing-water"},
		{Promise: "materials"},
		{Promise: "resulting-damage"},
	}
}
