package report

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/report/english"
	"lapmark/report/plan"
)

// findingsTitle is the title of the paper.
const findingsTitle = "What we found"

// Findings lays out the findings paper: page one with plan, list and what was
// not looked at; then moisture, photos, the holder's choices, what a warranty
// would say, and how to check the paper. Its error is a MissingDay.
func Findings(f FindingsFacts) (Paper, error) {
	if err := given(f.printedDays()); err != nil {
		return Paper{}, err
	}
	_, mark := f.Coach.mark()
	sections := []Section{f.firstPage()}
	sections = append(sections, f.moisture()...)
	sections = append(sections, Section{Blocks: f.uncounted()})
	sections = append(sections, f.photos()...)
	sections = append(sections, f.choices()...)
	sections = append(sections, f.warranty())
	others := forOthers(findingsTitle, f.Copy, f.Head, f.Earlier, f.licensed())
	others[0].NewPage, others[0].Head = false, ""
	return Paper{
		Title: findingsTitle, Language: "en",
		Furniture: furnished(f.shop(), findingsTitle, mark, "this paper is", f.Head),
		Sections:  append(slices.DeleteFunc(sections, func(s Section) bool { return len(s.Blocks) == 0 }), others...),
	}, nil
}

func (f FindingsFacts) shop() Shop {
	t := f.Terms
	return Shop{Name: t.Shop, Address: t.Address, Desk: t.Desk, Telephone: t.Telephone, Mail: t.Mail}
}

// units is a text of the facts as the shop wants its lengths.
func (f FindingsFacts) units(text string) string {
	if f.Terms.Units == Both {
		return WithInches(text)
	}
	return text
}

// firstPage is page one. Without a plan what was not looked at comes before the
// list, so that it stands on this page however long the list is.
func (f FindingsFacts) firstPage() Section {
	blocks := []Block{
		Heading{Title: true, Spans: plainly(findingsTitle)},
		Paragraph{Lead: true, Spans: f.headline()},
		f.facts(),
	}
	out := []Block{
		Heading{Place: Place{Column: Second, Whole: true}, Ruled: true, Spans: plainly("Not looked at")},
		List{Place: Place{Column: Second, Whole: true}, Items: items(f.notLooked())},
	}
	if f.Plan == nil {
		blocks = append(blocks, Paragraph{Spans: plainly("No plan: the roof is not measured yet.")})
		blocks = append(blocks, fullWidth(out)...)
		return Section{Blocks: append(blocks, fullWidth(f.list())...)}
	}
	blocks = append(blocks, Plan{Place: Place{Column: First, Whole: true}, Drawing: f.Plan.Drawing, Listed: f.Plan.List})
	blocks = append(append(blocks, f.list()...), out...)
	if legend := legendTable(f.Plan.Legend); len(legend.Rows) > 0 {
		blocks = append(blocks, legend)
	}
	if len(f.Plan.Names) > 0 {
		blocks = append(blocks, Paragraph{Place: Place{Whole: true}, Spans: plainly(strings.Join(f.Plan.Names, "; "))})
	}
	return Section{Columns: besidePlan, Gap: 350, Blocks: blocks}
}

// fullWidth are blocks out of a column, over the full width.
func fullWidth(blocks []Block) []Block {
	var out []Block
	for _, b := range blocks {
		switch one := b.(type) {
		case Heading:
			one.Place = Place{}
			b = one
		case Paragraph:
			one.Place = Place{}
			b = one
		case List:
			one.Place = Place{}
			b = one
		case Table:
			one.Place = Place{}
			b = one
		}
		out = append(out, b)
	}
	return out
}

// legendTable is the legend of a plan, two samples abreast.
func legendTable(legend []LegendItem) Table {
	t := Table{Place: Place{Whole: true}, Columns: []Width{sampleWidth, Rest}, Rules: Unruled, Abreast: true}
	for _, l := range legend {
		t.Rows = append(t.Rows, []Cell{{Drawing: &l.Sample}, cell(l.Says)})
	}
	return t
}

// headline says what has to happen how soon, how much was found where, and what
// nobody has seen.
func (f FindingsFacts) headline() []Span {
	var spans []Span
	if soon := f.soonest(); soon != "" {
		spans = append(spans, Span{Text: Bind(soon), Style: Bold})
	}
	found := f.Terms.NoneFound
	if found == "" {
		found = FixedSays("none-found")
	}
	if n := len(f.Findings); n > 0 {
		found = english.Capital(english.Counted(n, "finding", "findings"))
		if f.Where != "" {
			found += ", " + f.units(f.Where)
		}
		found += "."
	}
	spans = append(spans, Span{Text: Bind(found)})
	if f.Unopened != "" {
		was := " was not opened."
		if f.UnopenedMany {
			was = " were not opened."
		}
		spans = append(spans, Span{Text: Bind(f.units(f.Unopened) + was), Style: Bold})
	}
	for i := range spans[:len(spans)-1] {
		spans[i].Text += " "
	}
	return spans
}

// pressing are the words of how soon that a headline names, the worst first.
var pressing = []string{"before-driving", "before-walking", "before-rain", "before-wet-season", "next-upkeep"}

// soonest says how many things press, the two worst kinds: "One thing before it
// is driven, three before it stands out in rain."
func (f FindingsFacts) soonest() string {
	var parts []string
	for _, word := range pressing {
		n, says := 0, ""
		for _, one := range f.Findings {
			if one.Soon == word {
				n, says = n+1, one.SoonSays
			}
		}
		switch {
		case n == 0 || len(parts) == 2:
		case len(parts) == 0:
			parts = append(parts, english.Counted(n, "thing", "things")+" "+says)
		default:
			parts = append(parts, english.InWords(n)+" "+says)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return english.Sentence(english.Capital(strings.Join(parts, ", ")))
}

// facts is the table under the headline.
func (f FindingsFacts) facts() Table {
	rows := [][]Cell{
		{label("coach"), cell(f.Coach.says()), label("came in"), cell(f.DayIn.Long() + "; papers shown: " + f.shown())},
		{f.Coach.markLabel(), f.Coach.markCell(), label("looked at"), cell(f.looked())},
		{label("made"), cell("as of " + f.Given.Long()), label("last rain"), cell(orNotSaid(f.LastRain.Long()))},
		{label("holder"), cell(holderSays(f.Copy, f.HolderName, lastPageSays))},
	}
	if f.Copy == OwnCopy && f.Asked != "" {
		rows = append(rows, []Cell{label("asked"), cell("by the holder: “" + f.Asked + "”")})
	}
	return Table{Columns: []Width{Natural, Rest, Natural, Rest}, Rules: RuledAround, Rows: rows}
}

func orNotSaid(text string) string {
	if text == "" {
		return "not said"
	}
	return text
}

// looked are the days on which the roof was looked at: each of up to four, more
// of them as a span.
func (f FindingsFacts) looked() string {
	days := f.Looked
	switch n := len(days); {
	case n == 0:
		return "no day is written down"
	case n > 4:
		return fmt.Sprintf("on %s from %s to %s", english.Counted(n, "day", "days"), days[0].beside(days[n-1]), days[n-1].Long())
	}
	var says []string
	last := days[len(days)-1]
	for i, d := range days {
		switch {
		case d == last:
			says = append(says, d.Long())
		case d.Year == last.Year && d.Month == days[i+1].Month:
			says = append(says, fmt.Sprint(d.Date))
		default:
			says = append(says, d.beside(last))
		}
	}
	return english.List(says)
}

// shown are the papers that were shown before.
func (f FindingsFacts) shown() string {
	switch {
	case !f.PapersShown:
		return "not said"
	case len(f.Papers) == 0:
		return "none"
	}
	return english.List(f.Papers)
}

// list is the list of findings.
func (f FindingsFacts) list() []Block {
	at := Place{Column: Second}
	blocks := []Block{Heading{Place: at, Spans: plainly("Found, the most pressing first")}}
	if len(f.Findings) == 0 {
		return append(blocks, Paragraph{Place: at, Spans: plainly("No finding is written of this roof.")})
	}
	t := Table{
		Place: at, Columns: []Width{f.tagWidth(), Rest},
		More: []Span{{Text: "More of them below or on the next page.", Style: Italic}}, Again: []Span{{Text: "Found, continued", Style: Bold}},
	}
	for _, one := range f.Findings {
		t.Rows = append(t.Rows, []Cell{one.tag(), {Spans: f.says(one)}})
	}
	return append(blocks, t)
}

// widestTag is the most room that tags take beside a list; the last resort of a
// longer one is to stand over the words.
const widestTag Width = 2400

// tagWidth is the width of the widest tag.
func (f FindingsFacts) tagWidth() Width {
	wide := tagWidth
	for _, one := range f.Findings {
		wide = max(wide, plan.Tag(one.Tag).Width)
	}
	return min(wide, widestTag)
}

// tag is the tag of a finding as on the plan; one that is too long for its
// column is plain text.
func (one Finding) tag() Cell {
	drawing := plan.Tag(one.Tag)
	says := []Span{{Text: one.Tag, Style: Bold}}
	if drawing.Width > widestTag {
		return Cell{Spans: says}
	}
	return Cell{Drawing: &drawing, Spans: says}
}

// says tells a finding: what, how deep, how soon; where; what was measured;
// whose hand.
func (f FindingsFacts) says(one Finding) []Span {
	plain := english.Sentence(english.Capital(f.units(one.Place)))
	if one.Measured != "" {
		plain += " " + english.Sentence(english.Capital(f.units(one.Measured)))
	}
	spans := []Span{
		{Text: Bind(english.Capital(one.Defect)+", "+one.Deep+"; "+one.SoonSays) + ". ", Style: Bold},
		{Text: Bind(plain) + " "},
		{Text: Bind(english.Sentence(english.Capital(one.Whose))), Style: Italic},
	}
	for _, n := range one.Notes {
		spans = append(spans, Span{Text: " " + Bind(n)})
	}
	return spans
}

// notLooked says what nobody has looked at.
func (f FindingsFacts) notLooked() []string {
	var out []string
	for _, n := range f.NotLooked {
		key := "not-looked"
		if n.AtHolderWish {
			key = "not-looked-wish"
		}
		out = append(out, f.units(fixed(key, "area", squareMetres(n.Area), "where", n.Where)))
	}
	for _, says := range f.NotLookedSaid {
		out = append(out, f.units(says))
	}
	if len(out) == 0 {
		return []string{"No place is written down as not looked at."}
	}
	return out
}

// uncounted are the findings that do not count, or no longer.
func (f FindingsFacts) uncounted() []Block {
	if len(f.Uncounted) == 0 {
		return nil
	}
	var all []string
	for _, says := range f.Uncounted {
		all = append(all, f.units(says))
	}
	return []Block{heading("Written in the ledger, not counted above"), List{Items: items(all)}}
}

// licensed names the findings at parts that a licensed trade has to see to.
func (f FindingsFacts) licensed() []Block {
	var tags []string
	for _, one := range f.Findings {
		if one.Trade {
			tags = append(tags, one.Tag)
		}
	}
	if len(tags) == 0 {
		return nil
	}
	return []Block{Paragraph{Spans: plainly(english.List(tags) + ": " + FixedSays("care-trade"))}}
}

// printedDays are the days on a findings paper.
func (f FindingsFacts) printedDays() []namedDay {
	all := []namedDay{
		{"the day it is made", f.Given}, {"the day of the newest entry", f.Head.UpToDay}, {"the day the coach came in", f.DayIn},
	}
	for _, d := range f.Looked {
		all = append(all, namedDay{"a day it was looked at", d})
	}
	for _, one := range f.Findings {
		all = append(all, namedDay{"the day of " + one.Tag, one.Day})
	}
	for _, m := range f.Moisture.Readings {
		all = append(all, namedDay{"the day of a reading", m.Day})
	}
	return append(all, earlierDays(f.Earlier)...)
}
