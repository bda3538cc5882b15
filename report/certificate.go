package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lapmark/report/plan"
)

// MissingSentence names a sentence that the certificate prints and that is not
// among those it was given.
type MissingSentence struct{ Key string }

func (e MissingSentence) Error() string { return "the certificate has no sentence " + e.Key }

// MissingShares names a line that falls and has no share for each month.
type MissingShares struct{ Line int }

func (e MissingShares) Error() string {
	return fmt.Sprintf("line %d falls and its shares are not given month by month", e.Line)
}

// The columns of a certificate, in hundredths of a millimetre.
var (
	besidePlan = []plan.Unit{9200, 8250}
	twoColumns = []plan.Unit{8550, 8550}
	nextColumn = []plan.Unit{6400, 2800, 7700}
)

// printer lays out a certificate from its facts and sentences, and keeps in
// mind which sentences were missing and which were printed.
type printer struct {
	f       CertificateFacts
	says    map[string]string
	order   []string
	printed map[string]bool
	missing []string
}

func newPrinter(f CertificateFacts, says []Sentence) *printer {
	p := &printer{f: f, says: map[string]string{}, printed: map[string]bool{}}
	for _, s := range says {
		if _, twice := p.says[s.Key]; !twice {
			p.order = append(p.order, s.Key)
		}
		p.says[s.Key] = s.Says
	}
	return p
}

// Certificate lays out a certificate. It prints the sentences it is given and
// no others; one that is missing is a MissingSentence, sentences that do not
// fit an entry are TooLong, a day that is missing a MissingDay. A sentence whose key this layout does not know is
// printed as it stands, before the rights.
func Certificate(f CertificateFacts, says []Sentence) (Paper, error) {
	if err := SentencesFit(says); err != nil {
		return Paper{}, err
	}
	if err := given(f.printedDays()); err != nil {
		return Paper{}, err
	}
	for _, l := range f.Lines {
		if l.Full < l.Months && len(l.Shares) != l.Months {
			return Paper{}, MissingShares{l.Number}
		}
	}
	p := newPrinter(f, says)
	paper := p.paper()
	if len(p.missing) > 0 {
		return Paper{}, MissingSentence{p.missing[0]}
	}
	return paper, nil
}

// paper puts the sections together. The holder's part is laid out last:
// it takes in the sentences that nothing else printed.
func (p *printer) paper() Paper {
	f := p.f
	first := Section{Columns: besidePlan, Gap: 350, Blocks: p.first()}
	name := p.get("title") + " " + f.Number
	for _, key := range append([]string{"own", "pass-on", "shows-holder", "shows-other", "more-lines", "again-lines"}, earlierSays...) {
		p.printed[key] = true
	}
	others := p.others(name)
	next := Section{Columns: nextColumn, Gap: 450, Low: 12400, Blocks: p.nextHand()}
	_, mark := f.Coach.mark()
	furniture := Furniture{
		Shop: f.Shop.Name, Desk: deskLine(f.Shop), Name: name, Mark: mark,
		Foot: foot(unbroken(f.Number)+" is", p.get("later"), f.Head), Page: "page", Of: "of",
	}
	holder := Section{NewPage: true, Columns: twoColumns, Gap: 700, Flow: true, Blocks: p.holder()}
	return Paper{Title: name, Language: "en", Furniture: furniture, Sections: []Section{first, holder, others, next}}
}

// others is the upper half of the last page. The list of earlier papers stands
// there, or on a page of its own where it has no room.
func (p *printer) others(name string) Section {
	earlier := p.f.Earlier
	check := checking(p.get, p.f.Head.UpTo, p.advice(), "care")
	s := Section{
		NewPage: true, Columns: twoColumns, Gap: 700, Flow: true, Head: name + ", for others",
		Blocks: slices.Concat(check, earlierPapers(earlier, earlierNarrow, p.get)),
	}
	if len(earlier) > 0 {
		s.Short = slices.Concat(check, earlierApart(earlier, p.get))
		s.Apart = earlierPapers(earlier, earlierWide, p.get)
	}
	return s
}

// deskLine is the right side of the first head line.
func deskLine(s Shop) string {
	return Bind(fmt.Sprintf("%s · %s, tel. %s", s.Address, s.Desk, unbroken(s.Telephone)))
}

// advice is what the reader of this copy had better do with it.
func (p *printer) advice() string {
	return p.get(adviceKey(p.f.Copy))
}

// adviceKey is the sentence for who keeps a paper, or for who is shown it.
func adviceKey(c Copy) string {
	if c == OwnCopy {
		return "shows-holder"
	}
	return "shows-other"
}

// get is the sentence of that key; a missing one is kept in mind.
func (p *printer) get(key string) string {
	says, ok := p.says[key]
	if !ok || says == "" {
		if !slices.Contains(p.missing, key) {
			p.missing = append(p.missing, key)
		}
		return ""
	}
	p.printed[key] = true
	return says
}

// opt is the sentence of that key where there is one.
func (p *printer) opt(key string) string {
	if p.says[key] == "" {
		return ""
	}
	return p.get(key)
}

// under is a sentence that the law wants: needed under that law alone.
func (p *printer) under(law Law, key string) string {
	if p.f.Law == law {
		return p.get(key)
	}
	return p.opt(key)
}

// each are the numbered sentences of one kind, stem-1, stem-2 …, all that the
// certificate has: their key says where they stand, not how many things the
// facts name today.
func (p *printer) each(stem string) []string {
	var all []string
	for _, key := range p.order {
		number, numbered := strings.CutPrefix(key, stem+"-")
		if n, err := strconv.Atoi(number); numbered && err == nil && n > 0 {
			all = append(all, p.get(key))
		}
	}
	return all
}

// some are the numbered sentences of one kind, of which there must be so many.
func (p *printer) some(stem string, least int) []string {
	for i := 1; i <= least; i++ {
		p.get(fmt.Sprintf("%s-%d", stem, i))
	}
	return p.each(stem)
}

// units is a text of the facts as the sentences print it.
func (p *printer) units(text string) string {
	if p.f.Units == Both {
		return WithInches(text)
	}
	return text
}

// unknown are the sentences that nothing has printed: their keys are newer
// than this layout.
func (p *printer) unknown() []string {
	var all []string
	for _, key := range p.order {
		if !p.printed[key] {
			all = append(all, p.get(key))
		}
	}
	return all
}

// items are sentences as list items.
func items(texts []string) [][]Span {
	var all [][]Span
	for _, t := range texts {
		if t = strings.TrimSpace(t); t != "" {
			all = append(all, plainly(t))
		}
	}
	return all
}
