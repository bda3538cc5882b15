package report

import (
	"slices"
	"strconv"
)

// lastPageHeads are the headings of the upper half of the last page.
var lastPageHeads = []Sentence{
	{"head-check", "How to check this paper"},
	{"head-shows", "What the signature shows"},
	{"head-care", "Take care"},
	{"head-earlier", "Papers given out before this one"},
}

// lastPageSays is a heading of the last page or a fixed sentence.
func lastPageSays(key string) string {
	for _, h := range lastPageHeads {
		if h.Key == key {
			return h.Says
		}
	}
	return FixedSays(key)
}

// checking are the blocks that say to people other than the holder how to
// check the paper, what its signature shows, and what to take care of. says
// gives the sentences by key.
func checking(says func(key string) string, upTo int, advice string, cares ...string) []Block {
	shows := Fill(says("shows"), "n", strconv.Itoa(upTo), "advice", advice)
	blocks := []Block{
		heading(says("head-check")),
		Paragraph{Spans: plainly(says("alone"))},
		List{Numbered: true, Items: [][]Span{
			marked(says("check-file"), marking{"lapmark verify", Mono}),
			plainly(says("check-older")),
			plainly(says("check-call")),
		}},
		heading(says("head-shows")),
		Paragraph{Spans: plainly(shows)},
		heading(says("head-care")),
	}
	for _, c := range cares {
		blocks = append(blocks, Paragraph{Spans: plainly(says(c))})
	}
	return blocks
}

// later says up to which entry a paper is complete.
func later(text string, h PaperHead) []Span {
	n := strconv.Itoa(h.UpTo)
	return marked(Fill(text, "n", n, "day", h.UpToDay.Long()), marking{"entry " + n, Bold})
}

// foot is the foot box: which entry this paper is ("Q-0007 is"), up to where it
// is complete, the head code.
func foot(paperIs, laterSays string, h PaperHead) []FootCell {
	return []FootCell{
		{Label: paperIs, Says: []Span{{Text: Bind("entry " + strconv.Itoa(h.GivenOut)), Style: Bold}}},
		{Label: "complete up to", Says: later(laterSays, h)},
		{Label: "head code, to read aloud", Says: []Span{codeSpan(h.Code)}},
	}
}

// codeSpan is a head code, to be read in its groups.
func codeSpan(code string) Span { return Span{Text: unbroken(code), Style: Mono} }

// furnished is what stands on every page of a paper beside its blocks.
func furnished(s Shop, title, mark, paperIs string, h PaperHead) Furniture {
	return Furniture{
		Shop: s.Name, Desk: deskLine(s), Name: title, Mark: mark,
		Foot: foot(paperIs, FixedSays("later"), h), Page: "page", Of: "of",
	}
}

// forOthers are the last sections of a paper without the half page for the next
// hand: how to check it, what to take care of, the papers given out before. beware
// are further cautions.
func forOthers(title string, c Copy, h PaperHead, papers []EarlierPaper, beware []Block) []Section {
	check := checking(lastPageSays, h.UpTo, lastPageSays(adviceKey(c)), "care", "care-work")
	earlier := append(earlierPapers(papers, earlierWide, lastPageSays), Note{Spans: []Span{{Text: FixedSays("ask-history"), Style: Bold}}})
	return []Section{
		{NewPage: true, Head: title + ", for others", Columns: twoColumns, Gap: 700, Flow: true, Blocks: slices.Concat(check, beware)},
		{Blocks: earlier},
	}
}
