package check

import "fmt"

// together compares the file asked about with the others, and the others with
// each other: any two papers of one coach must lie on one chain.
func (a *Answer) together(this *file, others []*file, now int64) {
	stands := make([]bool, len(others))
	for i, other := range others {
		c := compare(this, other)
		c.UpTo = upTo(other, now)
		a.weigh(c, other)
		a.sinceDoubtful(this, other, &c)
		a.With = append(a.With, c)
		stands[i] = c.stands()
	}
	for i := range others {
		for j := i + 1; j < len(others); j++ {
			if !stands[i] || !stands[j] {
				continue
			}
			if c := compare(others[i], others[j]); !c.stands() {
				c.Against = others[i].name
				a.bad(Apart)
				a.With = append(a.With, c)
			}
		}
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

// sinceDoubtful asks a longer file of the same chain whether the given-out of
// this one is doubtful: then these are not the pages that left the house.
func (a *Answer) sinceDoubtful(this, other *file, c *Compared) {
	if c.Relation != OneChain || c.Newer != "other" || !this.endsGivenOut() {
		return
	}
	last := this.coach.Last().No
	if _, doubtful := other.coach.Doubtful(last); !doubtful {
		return
	}
	why := fmt.Sprintf(saysDoubtfulSince, last, other.name)
	c.say(why)
	a.differs(this, why)
}
