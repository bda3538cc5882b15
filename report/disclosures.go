package report

import (
	"fmt"
	"strings"
)

// Missing is an item that the law wants on the paper and that is not there.
type Missing struct{ Item, Name, Place string }

// disclosure is one item: its name, where on the paper it stands, and whether
// it is there.
type disclosure struct {
	item, name, place string
	stands            func(r reading) bool
}

// usDisclosures are the items of 16 CFR 701.3 and 701.4, 15 USC 2302(c), 2303,
// 2304 and 2308, 16 CFR 700.1(h).
var usDisclosures = []disclosure{
	{"US-0", "one document", "the whole paper", reading.oneDocument},
	{"US-1", "who is protected", "facts; When you sell the coach", func(r reading) bool {
		return r.first("for") && r.holder("sale")
	}},
	{"US-2", "what is covered, and what is not", "page 1", reading.whatIsCovered},
	{"US-3", "what we do and pay, and what not", "What we do, and what we do not pay", reading.whatIsPaid},
	{"US-4", "start and length", "facts; In this warranty", func(r reading) bool {
		return r.first("first-day") && r.eachLine(func(key string) bool { return r.first(key + "-until") })
	}},
	{"US-5", "the steps of a claim, and who answers where", "If water comes in; Who answers", reading.howToClaim},
	{"US-6", "whether a dispute office comes first", "Who answers", func(r reading) bool { return r.holder("dispute") }},
	{"US-7", "the sentence on limited implied warranties", "page 1, Not in this warranty", func(r reading) bool {
		return r.says("implied-1") == "" || r.first("implied-1") && r.exact("us-implied", r.page1)
	}},
	{"US-8", "the sentence on costs left out", "What we do, and what we do not pay", func(r reading) bool {
		return r.says("pays-not-1") == "" || r.exact("us-consequential", r.rest)
	}},
	{"US-9", "the sentence on rights", "Your rights", func(r reading) bool { return r.exact("us-rights", r.rest) }},
	{"US-10", "no card to send in", "When you sell the coach", func(r reading) bool { return r.exact("no-card", r.rest) }},
	{"US-11", "the title: limited", "title", func(r reading) bool {
		title := strings.ToLower(r.says("title"))
		return r.first("title") && strings.Contains(title, "limited") && !strings.Contains(title, "full")
	}},
	{"US-12", "no more taken away than a limited warranty may", "the whole paper", reading.nothingRefused},
	{"US-13", "implied warranties stand", "the whole paper", reading.nothingRefused},
	{"US-14", "upkeep by anyone, sealant by kind", "What you keep up", reading.notTied},
	{"US-15", "labour", "What we do, and what we do not pay", func(r reading) bool { return strings.Contains(r.rest, "labour") }},
	{"US-16", "parts and work together", "What we do, and what we do not pay", func(r reading) bool {
		return strings.Contains(r.rest, "labour and material")
	}},
}

// euDisclosures are the items of Directive (EU) 2019/771 Art. 17(2)(a) to (e),
// from memory.
var euDisclosures = []disclosure{
	{"EU-3", "remedies by law stand beside it", "Your rights", func(r reading) bool { return r.exact("eu-remedies", r.rest) }},
	{"EU-4", "name and address of the guarantor", "Who answers", reading.whoAnswers},
	{"EU-5", "how to use the guarantee", "If water comes in", func(r reading) bool { return r.holder("claim-1") }},
	{"EU-6", "which goods", "page 1", reading.whatIsCovered},
	{"EU-7", "the terms of the guarantee", "What we do, and what we do not pay", reading.whatIsPaid},
}

// Disclosures are the items the law wants and that the certificate does not
// print. Each is looked for on the paper, where it has to stand. Under a law
// of neither form there are none.
func Disclosures(f CertificateFacts, says []Sentence) []Missing {
	list := map[Law][]disclosure{US: usDisclosures, EU: euDisclosures}[f.Law]
	paper := newPrinter(f, says).paper()
	r := reading{f: f, sentences: map[string]string{}, page1: Words(paper.Sections[0].Blocks)}
	for _, s := range paper.Sections[1:] {
		r.rest += " " + Words(s.Blocks)
	}
	for _, s := range says {
		r.sentences[s.Key] = s.Says
	}
	var missing []Missing
	for _, d := range list {
		if !d.stands(r) {
			missing = append(missing, Missing{d.item, d.name, d.place})
		}
	}
	return missing
}

// reading is a laid-out certificate being read: the words of page one, those
// of the other pages, and the sentences it was given.
type reading struct {
	f           CertificateFacts
	sentences   map[string]string
	page1, rest string
}

func (r reading) says(key string) string { return r.sentences[key] }

// first and holder tell whether the sentence of that key stands on page one,
// or on a later page.
func (r reading) first(key string) bool  { return r.stands(key, r.page1) }
func (r reading) holder(key string) bool { return r.stands(key, r.rest) }

func (r reading) stands(key, where string) bool {
	says := strings.Join(strings.Fields(r.says(key)), " ")
	return says != "" && strings.Contains(where, strings.TrimSuffix(says, "."))
}

// exact tells whether a fixed sentence stands there letter by letter.
func (r reading) exact(key, where string) bool { return strings.Contains(where, FixedSays(key)) }

// eachLine tells whether something holds for each line, of which there is one
// at least.
func (r reading) eachLine(holds func(key string) bool) bool {
	for _, l := range r.f.Lines {
		if !holds(fmt.Sprintf("line-%d", l.Number)) {
			return false
		}
	}
	return len(r.f.Lines) > 0
}

func (r reading) oneDocument() bool {
	low := strings.ToLower(r.page1 + r.rest)
	for _, elsewhere := range []string{"website", "web site", "www.", "http", "online at", "on request"} {
		if strings.Contains(low, elsewhere) {
			return false
		}
	}
	return true
}

func (r reading) whatIsCovered() bool {
	if !r.first("head-in") || !r.first("head-out") || !r.first("further-out") {
		return false
	}
	if !r.f.WholeDeck && !r.first("complement") {
		return false
	}
	counted := map[string]int{
		"not-looked": len(r.f.NotLooked), "left": len(leftTogether(r.f.Left)),
		"own-work": len(r.f.OwnWork), "another-shop": len(r.f.AnotherShop),
	}
	for stem, n := range counted {
		for i := 1; i <= n; i++ {
			if !r.first(fmt.Sprintf("%s-%d", stem, i)) {
				return false
			}
		}
	}
	return r.eachLine(func(key string) bool { return r.first(key) && r.first(key+"-name") })
}

func (r reading) whatIsPaid() bool {
	_, falling := shareGroups(r.f.Lines)
	for i := range falling {
		if !r.holder(fmt.Sprintf("pays-share-%d", i+1)) || !strings.Contains(r.rest, "we bear, %") {
			return false
		}
	}
	return r.holder("pays-1") && r.holder("pays-not-1")
}

func (r reading) howToClaim() bool { return r.holder("claim-1") && r.whoAnswers() }

func (r reading) whoAnswers() bool {
	s := r.f.Shop
	for _, need := range []string{s.Name, s.Address, s.Desk, s.Telephone} {
		if need == "" || !strings.Contains(r.says("who"), need) {
			return false
		}
	}
	return r.holder("who")
}

func (r reading) nothingRefused() bool {
	for _, says := range r.sentences {
		if RefusedText(says) != nil {
			return false
		}
	}
	return true
}

func (r reading) notTied() bool {
	if r.says("upkeep-none") != "" {
		return r.holder("upkeep-none")
	}
	who := r.says("upkeep-who")
	return r.holder("upkeep-who") && (strings.Contains(who, "any shop") || strings.Contains(who, "anyone")) && strings.Contains(who, "kind of sealant")
}
