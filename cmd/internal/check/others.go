package check

import (
	"fmt"

	"lapmark/ledger"
	"lapmark/report/english"
)

// together compares the file asked about with the others, and the others with
// each other: any two papers of one coach must lie on one chain, and what a
// newer one disowns an older one must not pass off.
func (a *Answer) together(this *file, others []*file, in Input) {
	keys := newRing(in)
	stands := make([]bool, len(others))
	for i, other := range others {
		c := compare(this, other)
		c.UpTo = upTo(other, in.Now)
		c.PagesWhy = other.pagesWhy()
		a.weigh(c, other)
		if stands[i] = c.stands(); stands[i] {
			a.sinceDoubtful(this, other, &c)
			a.otherDoubtful(this, other, &c)
			a.otherSigner(other, keys, &c)
		}
		a.With = append(a.With, c)
	}
	for i := range others {
		for j := range i {
			if stands[i] && stands[j] {
				a.each(others[j], others[i])
			}
		}
	}
}

// each compares two of the others, and says what does not fit.
func (a *Answer) each(one, two *file) {
	c := compare(one, two)
	fits := c.stands()
	if fits {
		said := len(c.Says)
		a.otherDoubtful(one, two, &c)
		a.otherDoubtful(two, one, &c)
		fits = len(c.Says) == said
	} else {
		a.bad(Apart)
	}
	if !fits {
		c.Against = one.name
		a.With = append(a.With, c)
	}
}

// stands says whether the two files can stand beside each other.
func (c Compared) stands() bool {
	switch c.Relation {
	case SameState, OneChain, TakenIn, Joined:
		return true
	}
	return false
}

// pagesWhy says why the pages of a file that was read are not as they left.
func (f *file) pagesWhy() string {
	if f.coach == nil || f.broken != nil {
		return ""
	}
	return f.why
}

// weigh puts into the answer what another file makes bad or leaves open.
func (a *Answer) weigh(c Compared, other *file) {
	switch {
	case c.Relation == NotRead && other.nothing != "":
		a.unsettled(PaperNotRead)
	case c.Relation == NotRead:
		a.bad(OtherPaperBad)
	case !c.stands() && c.Relation != NothingHeld:
		a.bad(Apart)
	}
	if other.coach != nil && other.broken != nil || other.pages == PagesDiffer || other.packing == BundleDiffers {
		a.bad(OtherPaperBad)
	}
	if other.pages == SavedAgain {
		a.unsettled(OtherSavedAgain)
	}
	if c.Missing != "" {
		a.unsettled(EntriesMissing)
	}
}

// disownedBy lists the entries that two files have in common and that one of
// them holds for doubtful while the other knows nothing of it. given says
// whether the other was given out by one of them.
func disownedBy(knows, other *file) (list []ledger.No, given bool) {
	if knows.coach.Ledger != other.coach.Ledger {
		return nil, false
	}
	for _, e := range other.coach.Entries[:common(knows.coach.Entries, other.coach.Entries)] {
		_, doubtful := knows.coach.Doubtful(e.No)
		if _, known := other.coach.Doubtful(e.No); doubtful && !known {
			list = append(list, e.No)
			given = given || other.endsGivenOut() && e == other.coach.Last()
		}
	}
	return list, given
}

// sinceDoubtful asks another file whether the given-out of this one is
// doubtful: then these are not the pages that left the house. What else of this
// file is doubtful by it stays unsettled, for it is shown as a fact here.
func (a *Answer) sinceDoubtful(this, other *file, c *Compared) {
	list, given := disownedBy(other, this)
	switch {
	case given:
		why := fmt.Sprintf(saysDoubtfulSince, this.coach.Last().No, other.name)
		c.say(why)
		a.differs(this, why)
	case len(list) > 0:
		c.say(saysFactsDoubtful, english.Plural(len(list), "entry", "entries"), runs(list), english.Plural(len(list), "is", "are"))
		a.unsettled(DoubtfulFacts)
	}
}

// otherDoubtful asks this file the same about another, which a thief of the
// key may have given out.
func (a *Answer) otherDoubtful(this, other *file, c *Compared) {
	if _, given := disownedBy(this, other); !given {
		return
	}
	c.say(saysDoubtfulHere, other.coach.Last().No, other.name, this.name)
	if c.File == other.name {
		c.notAsItLeft(other)
	}
	a.bad(OtherPaperBad)
}

// notAsItLeft takes back that the other file is as it left the house.
func (c *Compared) notAsItLeft(other *file) {
	if other.form == FormBundle {
		c.Bundle = BundleDiffers
	} else if c.Paper != SavedAgain {
		c.Paper = PagesDiffer
	}
}

// otherSigner says who signed another file, where this one does not tell: its
// guest who gave it out, or a house that came after this file.
func (a *Answer) otherSigner(other *file, keys *ring, c *Compared) {
	if last := other.coach.Last(); other.pages == GuestPaper || other.packing == GuestBundle {
		c.say(saysOtherGuest, last.Line.Key)
		if !keys.vouchedGuest(other.coach, last.Key) {
			a.unsettled(OtherGuest)
		}
	}
	if c.Relation == SameState || c.Newer == "this" {
		return
	}
	s := keys.signedBy(other.coach, "")
	if s.Settled || s.Fingerprint == a.SignedBy.Fingerprint {
		return
	}
	c.Key = s.Fingerprint
	c.say(saysOtherKey, s.Fingerprint, keyStands[s.How])
	a.unsettled(OtherKeyUnknown)
}

// keyStands says how a key stands that does not settle anything.
var keyStands = map[How]string{
	Unknown: "a key you do not know", Retired: "a key you retired", DemoKey: "a demo key, whose secret everybody has",
}
