package check

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/report"
	"lapmark/report/english"
)

// promisedPart says what the certificates promise by their own words.
func (a Answer) promisedPart() Part {
	p := Part{Head: "Promised, as of " + longDay(a.Today)}
	if len(a.Promised) == 0 {
		p.say("No certificate stands in these entries.")
	}
	for _, c := range a.Promised {
		p.say(fmt.Sprintf("%s of %s, entry %s. %s", c.Tag, longDay(c.Day), c.Entry, c.Says))
		for _, l := range c.Lines {
			p.under(l.says())
		}
		var later []string
		for _, r := range c.Later {
			later = append(later, r.Entry+" ("+r.Says+")")
		}
		if len(later) > 0 {
			p.under("later entries name it: " + strings.Join(later, ", "))
		}
	}
	return p
}

func (l Line) says() string {
	out := fmt.Sprintf("line %d, %s: %s; %s from %s", l.Line, l.Says, l.Places,
		english.Numbered(int(l.Months), "month", "months"), longDay(l.FirstDay))
	if l.LastDay != "" {
		out += ", last day " + longDay(l.LastDay)
	}
	switch l.State {
	case StateUnknown:
		return out
	case Over:
		return out + "; over since " + longDay(dayAfter(l.LastDay))
	}
	return out + "; " + string(l.State)
}

func (a Answer) leftPart() Part {
	p := Part{Head: "Left"}
	if len(a.Left) == 0 {
		p.say("Nothing was left, by these entries.")
	}
	for _, l := range a.Left {
		p.say(l.Says + " (entry " + l.Entry + byGuest(l.By) + ")")
	}
	return p
}

func (a Answer) neverPart() Part {
	p := Part{Head: "Never looked at"}
	if len(a.NeverLookedAt) == 0 {
		p.say("No place is named that nobody looked at.")
	}
	for _, n := range a.NeverLookedAt {
		p.say(n.Says + " (entry " + n.Entry + " of " + longDay(n.Day) + byGuest(n.By) + ")")
		if n.Why != "" {
			p.under("why: " + n.Why)
		}
	}
	return p
}

func (a Answer) foundPart() Part {
	p := Part{Head: "What was found"}
	if len(a.Found) == 0 {
		p.say(report.FixedSays("none-found"))
	}
	for _, f := range a.Found {
		p.say(fmt.Sprintf("%s, entry %s of %s%s: %s, %s; %s. %s.", f.Tag, f.Entry, shortDay(f.Day), byGuest(f.By),
			f.Says, f.Deep, f.Soon, english.Capital(f.Places)))
		for _, b := range f.Became {
			p.under("entry " + b.Entry + ": " + b.Says)
		}
		if len(f.Became) == 0 {
			p.under("no decision and no work that counts names it")
		}
	}
	return p
}

func (a Answer) rebuiltPart() Part {
	p := Part{Head: "What was rebuilt"}
	if len(a.Rebuilt) == 0 {
		p.say("No closed work stands in these entries.")
	}
	for _, r := range a.Rebuilt {
		p.say(fmt.Sprintf("Entry %s of %s%s:", r.Entry, shortDay(r.Day), byGuest(r.By)))
		for _, op := range r.Ops {
			p.under(op.Says + ": " + op.Places)
		}
	}
	return p
}

func byGuest(by string) string {
	if by == byHouse {
		return ""
	}
	return " by " + by
}

// listPapers are the papers that list entries, and so can leave some out.
var listPapers = []string{"findings", "history", "claim-answer"}

// hiddenPart says what this reader does not see.
func (a Answer) hiddenPart() Part {
	p := Part{Head: "Not printed, not shown"}
	if a.GivenOut != nil && slices.Contains(listPapers, a.GivenOut.Paper) && a.Paper == LeftTheHouse {
		p.say(a.leftOutSays())
	}
	if len(a.NotShown) == 0 {
		p.say(report.FixedSays("nothing-kept"))
	} else {
		p.say(report.Fill(report.FixedSays("not-shown"), "kinds", strings.Join(privatesSaid(a.NotShown), ", ")))
	}
	if !a.WordsHere {
		p.say(saysNoWords)
	}
	for _, m := range a.WordsMissing {
		p.say(sentence(m.Says))
	}
	for _, e := range a.Erased {
		p.say(e.Says + " (entry " + e.Entry + ", of " + e.Of + ": " + strings.Join(privatesSaid(e.Names), ", ") + ")")
	}
	if a.Pictures.Named > 0 && a.Pictures.Here == 0 && len(a.Pictures.Missing) == 0 {
		p.say(report.Fill(saysPictures, "n", fmt.Sprint(a.Pictures.Named)))
	}
	for _, m := range a.Pictures.Missing {
		p.say(m.Says)
	}
	return p
}

func (a Answer) leftOutSays() string {
	if len(a.LeftOut) == 0 {
		return report.FixedSays("all-printed")
	}
	var list []string
	for _, l := range a.LeftOut {
		list = append(list, l.Entry+", "+l.Kind+", "+shortDay(l.Day))
	}
	return report.Fill(saysLeftOut, "n", english.Numbered(len(list), "entry", "entries"), "list", strings.Join(list, "; "))
}

// privatesSaid are names of private values as people say them.
func privatesSaid(names []string) []string {
	var out []string
	for _, name := range names {
		said := spaced(name)
		if name == faceName || name == passOnName {
			said = "the hash of other pages"
		}
		if !slices.Contains(out, said) {
			out = append(out, said)
		}
	}
	return out
}

func (a Answer) remarksPart() Part {
	p := Part{Head: "Remarks"}
	for _, r := range a.Remarks {
		p.say("Entry " + r.Entry + ": " + sentence(r.Says))
	}
	return p
}
