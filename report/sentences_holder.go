package report

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/report/english"
)

// claim says what to do when something happens.
func (s *speaker) claim() {
	var troubles []string
	promised := func(stem string) bool {
		return slices.ContainsFunc(s.f.Lines, func(l CertificateLine) bool { return strings.HasPrefix(l.Promise, stem) })
	}
	if promised("watertight") {
		troubles = append(troubles, "water comes in")
	}
	if promised("bond") {
		troubles = append(troubles, "the deck lifts")
	}
	if promised("sound-frame") && len(troubles) == 0 {
		troubles = append(troubles, "the frame gives way")
	}
	if len(troubles) == 0 {
		troubles = []string{"something is wrong"}
	}
	s.say("head-claim", "If "+strings.Join(troubles, ", or "))
	s.sayEach("claim", s.t.ClaimSteps)
}

// pays says what is made good, in which share, and what is not paid.
func (s *speaker) pays() {
	s.say("head-pays", "What we do, and what we do not pay")
	s.sayEach("pays", s.t.Pays)
	free, falling := shareGroups(s.f.Lines)
	switch {
	case len(free) == len(s.f.Lines):
		s.say("pays-free", "All of it free of charge.")
	case len(free) > 0:
		s.say("pays-free", english.Capital(theLines(free))+": free of charge.")
	}
	for i, g := range falling {
		s.say(fmt.Sprintf("pays-share-%d", i+1), english.Capital(theLines(g.numbers))+": we bear this share of labour and material:")
	}
	if len(falling) > 0 {
		s.say("pays-between", "Between these months it falls month by month.")
	}
	s.sayEach("pays-not", s.t.PaysNot)
	if s.f.Law == US && len(s.t.PaysNot) > 0 {
		s.say("us-consequential", fixed("us-consequential"))
	}
}

// upkeep says what the holder keeps up, and what else is asked of him.
func (s *speaker) upkeep() {
	f := s.f
	s.say("head-upkeep", "What you keep up")
	var asks, rests []int
	for _, l := range f.Lines {
		if l.Upkeep {
			asks = append(asks, l.Number)
		} else {
			rests = append(rests, l.Number)
		}
	}
	if len(asks) == 0 {
		s.say("upkeep-none", "Nothing has to be kept up: no line asks for it.")
	} else {
		s.asked(asks, rests)
	}
	for _, c := range f.Conditions {
		if !stepConditions[c] {
			s.say("condition-"+c, said(conditionWords, c))
		}
	}
}

// asked says which lines ask for upkeep, when, of whom, and what if not.
func (s *speaker) asked(asks, rests []int) {
	f := s.f
	verb, these, pause := "ask", "these lines", "pause"
	if len(asks) == 1 {
		verb, these, pause = "asks", "this line", "pauses"
	}
	often := "a year"
	if n := f.Numbers.UpkeepEveryMonths; n != 12 {
		often = "every " + months(n)
	}
	asked := fmt.Sprintf("%s %s for one look %s", english.Capital(theLines(asks)), verb, often)
	switch u := f.Upkeep; {
	case u == nil:
		s.say("upkeep", asked+"; none falls due before the last day.")
	case u.Due.IsZero():
		s.say("upkeep", asked+"; the certificate says where and when.")
	default:
		s.say("upkeep", fmt.Sprintf("%s: %s. First due %s, from %s to %s.", asked, u.Places, u.Due.Long(), u.From.beside(u.Due), u.Till.beside(u.Due)))
	}
	s.say("upkeep-who", "Who does it is yours to choose: "+s.t.UpkeepWho+". One photo of each place and the kind of sealant are enough.")
	missed := english.Capital(english.InWords(f.Numbers.UpkeepMissedMost+1)) + " missed in a row end"
	if f.Numbers.UpkeepMissedMost == 0 {
		missed = "One missed ends"
	}
	them := "them"
	if len(asks) == 1 {
		them = "it"
	}
	s.say("upkeep-late", fmt.Sprintf("If it is late, %s %s until it is done. %s %s.", these, pause, missed, them))
	if len(rests) == 1 {
		s.say("upkeep-rest", english.Capital(theLines(rests))+" asks for nothing.")
	} else if len(rests) > 1 {
		s.say("upkeep-rest", english.Capital(theLines(rests))+" ask for nothing.")
	}
}

// sale says what to do when the coach is sold.
func (s *speaker) sale() {
	n := s.f.Numbers
	s.say("head-sale", "When you sell the coach")
	if n.TransfersMost == 0 {
		s.say("sale", "It ends with the first sale.")
	} else {
		s.say("sale", fmt.Sprintf("Tell us within %d days; later, everything pauses from day %d until you do. It passes on for %s and ends with the %s.",
			n.NoticeDays, n.NoticeDays+1, english.Counted(n.TransfersMost, "sale", "sales"), english.Ordinal(n.TransfersMost+1)))
	}
	s.say("no-card", fixed("no-card"))
}

// causes says which causes are left out, and which are the shop's own.
func (s *speaker) causes() {
	s.say("head-causes", "Causes this warranty leaves out")
	if len(s.f.Exclusions) == 0 {
		s.say("causes-none", "No cause is left out.")
	}
	for _, word := range s.f.Exclusions {
		s.say("exclusion-"+word, s.causeSays(word))
	}
	if len(s.f.Exclusions) > 0 {
		s.say("causes-shown", "We must show such a cause by a check; a suspicion does not refuse a claim.")
	}
	if len(s.f.ShopSide) > 0 {
		var own []string
		for _, word := range s.f.ShopSide {
			own = append(own, said(shopSideWords, word))
		}
		s.say("shop-side", "Where a check shows a cause of our own, we answer though upkeep was late: "+strings.Join(own, ", ")+".")
	}
}

// causeSays is how an exclusion reads in the list.
func (s *speaker) causeSays(word string) string {
	for _, p := range s.t.Causes {
		if p.Word == word {
			return p.Says
		}
	}
	return strings.ReplaceAll(word, "-", " ")
}

// despite says which rules of the shop were set aside for this work.
func (s *speaker) despite() {
	s.say("head-despite", "Closed against our own rule")
	if len(s.f.Overrides) == 0 {
		s.say("no-despite", fixed("no-despite"))
	}
	for i, o := range s.f.Overrides {
		s.say(fmt.Sprintf("despite-%d", i+1), fixed("despite", "rule-says", english.Sentence(o.RuleSays), "reason", o.Reason,
			"mark", o.Mark, "n", o.Entry, "rule", o.Rule))
	}
	for i, l := range s.f.Looser {
		s.say(fmt.Sprintf("looser-%d", i+1), fixed("looser", "value", l.Value, "default", l.Usual, "n", l.Entry))
	}
}

// cured says what cured when, and what was checked.
func (s *speaker) cured() {
	s.say("head-cured", "Cured and checked")
	for i, c := range s.f.Cures {
		s.say(fmt.Sprintf("cure-%d", i+1), c.What+" "+c.At.Short())
	}
	for i, c := range s.f.Checks {
		s.say(fmt.Sprintf("check-%d", i+1), c.What+": "+c.Result)
	}
	if len(s.f.Cures) == 0 {
		s.say("cure-none", "nothing had to cure")
	}
	if len(s.f.Checks) == 0 {
		s.say("check-none", "no check is on record")
	}
}

// answers says who answers, and which rights stand beside the warranty.
func (s *speaker) answers() {
	shop := s.f.Shop
	who := []string{shop.Name, shop.Desk, shop.Address, "tel. " + shop.Telephone}
	if shop.Mail != "" {
		who = append(who, shop.Mail)
	}
	s.say("head-answers", "Who answers")
	s.say("who", english.Sentence(strings.Join(who, ", ")))
	if s.t.Dispute != "" {
		s.say("dispute", english.Sentence(s.t.Dispute))
	}
	s.say("head-rights", "Your rights")
	s.say("rights", s.f.Rights)
	switch s.f.Law {
	case US:
		s.say("us-rights", fixed("us-rights"))
	case EU:
		s.say("eu-remedies", fixed("eu-remedies"))
	case OtherLaw:
		s.sayEach("rights", s.t.Rights)
	}
}
