package check

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/report"
	"lapmark/report/english"
)

// Part is one part of an answer as people read it: sentences under a heading.
// A sentence that begins with two spaces belongs to the one above it.
type Part struct {
	Head string
	Says []string
}

func (p *Part) say(text string) {
	if text != "" {
		p.Says = append(p.Says, text)
	}
}

func (p *Part) under(text string) { p.say(indent + text) }

const indent = "  "

// Parts are the answer as people read it, always in this order: whole or not,
// these pages, by whom, with other papers, what stands in it, what is kept
// back or to be remarked, what it shows. A part with nothing to say is left
// out.
func (a Answer) Parts() []Part {
	parts := []Part{a.wholePart(), a.pagesPart()}
	if a.SignedBy != nil {
		parts = append(parts, a.signedPart())
	}
	parts = append(parts, a.withPart())
	if a.SignedBy != nil {
		parts = append(parts, a.promisedPart(), a.leftPart(), a.neverPart(), a.foundPart(), a.rebuiltPart(), a.hiddenPart(), a.remarksPart())
	}
	parts = append(parts, a.showsPart())
	return slices.DeleteFunc(parts, func(p Part) bool { return len(p.Says) == 0 })
}

// wholePart says whether the ledger is whole, and which coach it is of.
func (a Answer) wholePart() Part {
	p := Part{Head: a.Name}
	switch {
	case a.NotChecked != "":
		p.say(a.NotChecked)
	case len(a.Ledgers) > 0:
		p.say(fmt.Sprintf("This file holds %d ledgers. None of them is chosen:", len(a.Ledgers)))
		for _, l := range a.Ledgers {
			p.under(l.says())
		}
	case a.Whole:
		p.say(wholeSays(a.UpTo))
	default:
		for _, says := range a.FirstBadSays {
			p.say(says)
		}
	}
	if a.Coach != nil {
		p.say(a.Coach.says())
	}
	if a.Whole {
		p.say(report.Fill(saysHeadCode, "n", fmt.Sprint(a.UpTo.Entry), "code", a.UpTo.HeadCode))
	}
	return p
}

func (l Named) says() string {
	if l.Entries == 0 {
		return "a ledger of which no entry holds"
	}
	whole := "whole"
	if !l.Whole {
		whole = "not whole"
	}
	return fmt.Sprintf("%s, %s, by %s: %s, %s, head code %s",
		l.ID, l.Plate, l.House, english.Numbered(int(l.Entries), "entry", "entries"), whole, l.HeadCode)
}

func (c Coach) says() string {
	mark := "VIN " + c.VIN
	if c.VIN == "" {
		mark = "serial " + c.Serial
	}
	return fmt.Sprintf("%s %s, %d, %s, ledger %s.", c.Builder, c.Model, c.Year, mark, c.ID)
}

// pagesPart says whether these are the pages, or the bundle, that left.
func (a Answer) pagesPart() Part {
	p := Part{Head: "These pages"}
	if a.File == FormBundle {
		p.Head = "This bundle"
	}
	guest, house := "", ""
	if a.GivenOut != nil && a.SignedBy != nil {
		guest, house = a.GivenOut.By, a.SignedBy.House
	}
	pick := func(whole, not string) {
		if a.Whole {
			p.say(whole)
		} else {
			p.say(not)
		}
		p.say(a.PagesWhy)
	}
	switch {
	case a.Paper == LeftTheHouse:
		p.say(saysLeft)
	case a.Paper == PagesDiffer:
		pick(saysDiffer, saysPagesDiffer)
	case a.Paper == SavedAgain:
		pick(saysSaved, saysPagesSaved)
	case a.Paper == GuestPaper:
		p.say(report.Fill(report.FixedSays("guest-paper"), "fingerprint", guest, "house", house))
	case a.Bundle == BundleLeft:
		p.say(saysBundleLeft)
	case a.Bundle == GuestBundle:
		p.say(report.Fill(saysBundleGuest, "fingerprint", guest, "house", house))
	case a.Bundle == BundleDiffers:
		pick(saysBundleDiffer, saysBundleOther)
		if a.SignedBy == nil {
			p.say(saysBundleUnread)
		}
	}
	return p
}

// signedPart says whose keys signed, and what happened to them.
func (a Answer) signedPart() Part {
	p := Part{Head: "By whom"}
	s := a.SignedBy
	fill := func(text string) string {
		return report.Fill(text, "house", s.House, "fingerprint", s.Fingerprint, "name", firstOf(s.TrustedAs, s.TakenFrom),
			"n", fmt.Sprint(s.TakenOn))
	}
	switch {
	case s.How == InTrust:
		p.say(fill(saysInTrust))
	case s.How == ByKeyChange:
		p.say(fill(saysByChange))
	case s.How == DemoKey:
		p.say(fill(saysDemo))
	case s.How == Retired && a.Whole:
		p.say(fill(saysRetired))
	case s.How == Retired:
		p.say(fill(saysRetiredKey))
	case a.Whole:
		p.say(fill(saysUnknown))
	default:
		p.say(fill(saysUnknownKey))
	}
	if s.TakenFrom != "" {
		p.say(fill(saysTakenOn))
	}
	if s.Expected != nil && *s.Expected {
		p.say(saysExpected)
	} else if s.Expected != nil {
		p.say(saysNotExpected)
	}
	a.sayKeys(&p)
	return p
}

func (a Answer) sayKeys(p *Part) {
	for _, k := range a.KeyChanges {
		p.say(k.Says)
	}
	for _, d := range a.Doubtful {
		for _, says := range d.Says {
			p.say(says)
		}
	}
	for _, says := range a.guestsSaid() {
		p.say(says)
	}
	for _, b := range a.Branches {
		p.say(strings.TrimSpace(b.Says + " " + b.Why))
	}
	for _, l := range a.Lent {
		p.say(l.Says)
	}
	p.say("The keys, and the entries each signed:")
	for _, k := range a.Keys {
		p.under(k.says())
	}
}

func (k Key) says() string {
	out := k.Fingerprint + ", " + k.Role
	if k.Name != "" {
		out += ", calls itself " + k.Name
	}
	how := string(k.How)
	if k.TrustedAs != "" {
		how += " as " + k.TrustedAs
	}
	out += ", " + how + ": " + english.Plural(k.Count, "entry", "entries") + " " + k.Entries
	if k.GivenUp > 0 {
		out += fmt.Sprintf("; replaced by entry %d", k.GivenUp)
	}
	return out
}

// withPart says how the other papers lie to this one.
func (a Answer) withPart() Part {
	p := Part{Head: "With other papers"}
	for _, c := range a.With {
		who := c.File
		if c.Against != "" {
			who += " beside " + c.Against
		}
		p.say(who + ": " + strings.Join(c.Says, " "))
		switch c.Paper {
		case PagesDiffer:
			p.under(saysPagesDiffer)
		case SavedAgain:
			p.under(saysPagesSaved)
		}
		if c.Bundle == BundleDiffers {
			p.under(saysBundleOther)
		}
		if c.PagesWhy != "" {
			p.under(c.PagesWhy)
		}
	}
	return p
}

// showsPart says what a paper cannot show, and what a signature does.
func (a Answer) showsPart() Part {
	p := Part{Head: "What this shows"}
	p.say(a.Alone)
	p.say(a.Shows)
	return p
}
