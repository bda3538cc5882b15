package report

import (
	"fmt"
	"strings"

	"lapmark/report/english"
)

// holder are the blocks of the holder's part.
func (p *printer) holder() []Block {
	blocks := p.promised()
	blocks = append(blocks, heading(p.get("head-despite")))
	blocks = append(blocks, p.despite()...)
	blocks = append(blocks, heading(p.get("head-cured")), p.cured())
	return append(blocks, p.answering()...)
}

// wording are the blocks of the holder's part that say nothing of a work done.
func (p *printer) wording() []Block { return append(p.promised(), p.answering()...) }

// promised are the blocks on claims, shares, upkeep, sales and causes.
func (p *printer) promised() []Block {
	blocks := []Block{
		heading(p.get("head-claim")),
		List{Numbered: true, Items: items(p.some("claim", 1))},
		heading(p.get("head-pays")),
	}
	blocks = append(blocks, p.pays()...)
	blocks = append(blocks, heading(p.get("head-upkeep")), p.paragraph(p.keepUp()...))
	blocks = append(blocks, heading(p.get("head-sale")), p.paragraph(p.get("sale"), p.get("no-card")))
	return append(blocks, heading(p.get("head-causes")), p.causes())
}

// answering are the blocks on who answers, on rights, and what nothing else
// printed.
func (p *printer) answering() []Block {
	blocks := []Block{heading(p.get("head-answers")), p.paragraph(p.get("who"), p.opt("dispute"))}
	rights := append([]string{p.get("rights"), p.under(US, "us-rights"), p.under(EU, "eu-remedies")}, p.each("rights")...)
	headRights := p.get("head-rights")
	for _, u := range p.unknown() {
		blocks = append(blocks, p.paragraph(u))
	}
	return append(blocks, heading(headRights), p.paragraph(rights...))
}

// paragraph is a paragraph of several sentences; empty ones are left out.
func (p *printer) paragraph(texts ...string) Paragraph {
	var all []string
	for _, t := range texts {
		if t != "" {
			all = append(all, t)
		}
	}
	return Paragraph{Spans: plainly(strings.Join(all, " "))}
}

// pays are the blocks on what is made good, in which share, and what is not
// paid.
func (p *printer) pays() []Block {
	made := append(p.some("pays", 1), p.opt("pays-free"))
	_, falling := shareGroups(p.f.Lines)
	var blocks []Block
	for i, g := range falling {
		made = append(made, p.get(fmt.Sprintf("pays-share-%d", i+1)))
		blocks = append(blocks, p.paragraph(made...))
		if len(g.line.Shares) == g.line.Months {
			blocks = append(blocks, shareTable(g.line))
		}
		made = nil
	}
	if len(falling) > 0 {
		made = append(made, p.get("pays-between"))
	}
	if not := p.each("pays-not"); len(not) > 0 {
		made = append(append(made, not...), p.under(US, "us-consequential"))
	}
	return append(blocks, p.paragraph(made...))
}

// keepUp are the sentences on upkeep and the other conditions.
func (p *printer) keepUp() []string {
	var asks []int
	for _, l := range p.f.Lines {
		if l.Upkeep {
			asks = append(asks, l.Number)
		}
	}
	texts := []string{p.opt("upkeep-none")}
	if len(asks) > 0 {
		texts = append(texts, p.get("upkeep"), p.get("upkeep-who"), p.get("upkeep-late"), p.opt("upkeep-rest"))
	}
	for _, c := range p.f.Conditions {
		if !stepConditions[c] {
			texts = append(texts, p.get("condition-"+c))
		}
	}
	return texts
}

// causes is the paragraph of the causes left out.
func (p *printer) causes() Paragraph {
	var list []string
	for _, word := range p.f.Exclusions {
		list = append(list, p.get("exclusion-"+word))
	}
	own := ""
	if len(p.f.ShopSide) > 0 {
		own = p.get("shop-side")
	}
	if len(list) == 0 {
		return p.paragraph(p.get("causes-none"), own)
	}
	return p.paragraph(english.Capital(strings.Join(list, "; "))+".", p.get("causes-shown"), own)
}

// despite are the rules set aside, each in a paragraph of its own.
func (p *printer) despite() []Block {
	texts := p.some("despite", len(p.f.Overrides))
	if len(texts) == 0 {
		texts = []string{p.get("no-despite")}
	}
	var blocks []Block
	for _, t := range append(texts, p.some("looser", len(p.f.Looser))...) {
		blocks = append(blocks, p.paragraph(t))
	}
	return blocks
}

// cured is the table of cures and checks.
func (p *printer) cured() Table {
	cures := p.some("cure", len(p.f.Cures))
	if len(cures) == 0 {
		cures = []string{p.get("cure-none")}
	}
	checks := p.some("check", len(p.f.Checks))
	if len(checks) == 0 {
		checks = []string{p.get("check-none")}
	}
	return Table{Columns: []Width{Natural, Rest}, Rows: [][]Cell{
		{cell("cured"), cell(strings.Join(cures, "; "))},
		{cell("checked"), cell(strings.Join(checks, "; "))},
	}}
}
