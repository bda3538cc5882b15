package report

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/report/english"
)

// moisture is the moisture map beside the table of its readings. Without a map
// the table has the full width.
func (f FindingsFacts) moisture() []Section {
	m := f.Moisture
	if len(m.Readings) == 0 {
		return []Section{{Blocks: []Block{heading("Moisture"), Paragraph{Spans: plainly("No reading is written down.")}}}}
	}
	blocks := []Block{Heading{Place: Place{Column: Second}, Spans: plainly("Moisture, the newest reading of each place")}, m.table()}
	notes := Paragraph{Place: Place{Column: Second, Whole: true}, Spans: plainly(m.notes())}
	if m.Map == nil {
		return []Section{{Blocks: fullWidth(append(blocks, notes))}}
	}
	drawn := Plan{Place: Place{Column: First, Whole: true}, Drawing: *m.Map, Listed: m.MapList}
	return []Section{{NewPage: true, Columns: besidePlan, Gap: 350, Blocks: append([]Block{drawn}, append(blocks, notes)...)}}
}

// table has one row for each place.
func (m Moisture) table() Table {
	t := Table{Place: Place{Column: Second}, Columns: []Width{Rest, 2150, 2250}, Head: []Cell{label("place"), label("reads"), label("read on")}}
	for _, r := range m.Readings {
		reads := []Span{{Text: unbroken(r.Newest)}}
		if r.Over {
			reads = []Span{{Text: unbroken(r.Newest + ", over"), Style: Bold}}
		}
		place := r.Place
		if r.Corrected != "" {
			place += " (corrected by entry " + r.Corrected + ")"
		}
		if r.First != "" {
			place += ", was " + unbroken(r.First) + " on " + unbroken(r.FirstDay.Short())
		}
		t.Rows = append(t.Rows, []Cell{cell(place), {Spans: reads}, cell(unbroken(r.Day.Short()) + ", " + unbroken("entry "+r.Entry))})
	}
	return t
}

// notes say the limit, the scale and the air, and what is not known.
func (m Moisture) notes() string {
	says := "Nothing is closed over wood that reads over " + m.Limit + ": such a reading stands in a box, and the closer the dots, the wetter. "
	if m.Scale != "" {
		says += "Scale of the meter: " + m.Scale + ". "
	}
	if m.Air != "" {
		says += "Air in the hall: " + m.Air + ". "
	}
	return says + "A place without a reading was never read: it may be dry or wet."
}

// photos are the pictures of the findings, one of each, 56 mm wide, two
// abreast, with the finding, its place and day; then why the others have none.
func (f FindingsFacts) photos() []Section {
	var pictures []Block
	var reasons []string
	without := map[string][]string{}
	for _, one := range f.Findings {
		if at := slices.IndexFunc(one.Photos, func(p FindingPhoto) bool { return len(p.JPEG) > 0 }); at >= 0 {
			pictures = append(pictures, Picture{JPEG: one.Photos[at].JPEG, Says: english.Capital(one.Defect) + ".", Caption: f.caption(one)})
			continue
		}
		why := f.noPhoto(one)
		if without[why] == nil {
			reasons = append(reasons, why)
		}
		without[why] = append(without[why], one.Tag)
	}
	var list [][]Span
	for _, why := range reasons {
		list = append(list, []Span{{Text: english.List(without[why]) + ": ", Style: Bold}, {Text: Bind(why)}})
	}
	head := []Block{heading("Photos")}
	out := []Section{{Columns: twoColumns, Gap: 700, Flow: true, Blocks: append(head, pictures...)}}
	switch {
	case len(pictures) == 0 && len(list) == 0:
		return nil
	case len(pictures) == 0:
		return []Section{{Blocks: append(head, List{Items: list})}}
	case len(list) > 0:
		out = append(out, Section{Blocks: []Block{List{Items: list}}})
	}
	return out
}

// caption is what stands under the picture of a finding.
func (f FindingsFacts) caption(one Finding) []Span {
	says := f.units(one.Place) + ", " + one.Day.Long() + "."
	if more := len(one.Photos) - 1; more > 0 {
		says += " " + english.Capital(english.Counted(more, "more is", "more are")) + " named in the ledger."
	}
	return []Span{{Text: one.Tag, Style: Bold}, {Text: Bind(": " + says)}}
}

// noPhoto says why there is no picture of a finding.
func (f FindingsFacts) noPhoto(one Finding) string {
	switch {
	case len(one.Photos) > 0:
		return fixed("no-picture", "place", f.units(one.Place), "day", one.Day.Long())
	case one.NoPhoto != "":
		return english.Sentence("No photo: " + one.NoPhoto)
	}
	return "No photo."
}

// choiceWords are the decisions a holder has, in the words of a paper, and what
// each takes out of a warranty.
var choiceWords = []struct{ word, says, takes string }{
	{"repair-now", "repair now", "Nothing is taken out. What is rebuilt, closed and checked can stand in the warranty."},
	{"repair-by", "repair by a day", "Until that day as if it were left; after it, as if it were repaired now."},
	{"only-make-tight", "only make tight", "It keeps water out for now. Nothing is promised where nothing was rebuilt."},
	{"leave", "leave it", "Its place is in no line of the warranty, and trouble of the same kind there is not answered for. {margin}"},
	{"holder-does", "you do it", "Your own work is in no line of the warranty. What you leave open counts as left."},
	{"another-shop", "another shop", "Its place is in no line of our warranty; that shop answers for its own work. {margin}"},
}

// choices are the decisions the holder has: what each takes out of a warranty,
// then one row for each finding to be signed.
func (f FindingsFacts) choices() []Section {
	if len(f.Findings) == 0 {
		return nil
	}
	margin := fixed("margin", "m", fmt.Sprint(f.Terms.Numbers.MarginMM))
	var means [][]Span
	for _, c := range choiceWords {
		says := english.Capital(c.says) + ". "
		means = append(means, []Span{{Text: says, Style: Bold}, {Text: Bind(f.units(Fill(c.takes, "margin", margin)))}})
	}
	t := Table{Columns: []Width{f.tagWidth(), Rest, 2600, 2600}}
	for _, one := range f.Findings {
		t.Rows = append(t.Rows, []Cell{one.tag(), {Spans: f.choiceRow(one)}, label("holder: initials, day"), label("shop: initials, day")})
	}
	return []Section{{Blocks: []Block{
		heading("Your choices"),
		Paragraph{Spans: append(plainly("Choose one for each finding. "), f.readFirst()...)},
		Paragraph{Spans: plainly("What a choice takes out of a warranty:")},
		List{Items: means},
		t,
	}}}
}

// choiceRow says a finding in short, why it came about, and the choices to
// tick.
func (f FindingsFacts) choiceRow(one Finding) []Span {
	spans := []Span{{Text: Bind(english.Capital(one.Defect)) + ", ", Style: Bold}, {Text: Bind(f.units(one.Place) + ". ")}}
	if one.Cause != "" {
		spans = append(spans, Span{Text: Bind("Cause: " + english.Sentence(f.units(one.Cause)) + " ")})
	}
	if one.Decided != "" {
		spans = append(spans, Span{Text: Bind(english.Sentence(one.Decided) + " ")})
	}
	for _, c := range choiceWords {
		says := c.says
		if c.word == "repair-by" {
			says = "repair by ________"
		}
		spans = append(spans, Span{Text: unbroken(says), Tick: true})
	}
	return spans
}

// warrantyHead is the heading of what the warranty would say.
const warrantyHead = "What our warranty would say"

// readFirst says that the wording may be read before anything is decided, and
// on which page.
func (f FindingsFacts) readFirst() []Span {
	says := f.Terms.TermsShown
	if says == "" {
		says = FixedSays("terms-shown")
	}
	before, after, _ := strings.Cut(says, "{p}")
	return []Span{
		{Text: Bind(before)}, {Text: "with the heading “" + warrantyHead + "”", PageOf: warrantyHead}, {Text: Bind(after)},
	}
}

// warranty is the holder's part of a certificate as this shop gives it, without
// the facts of one: the promises of its terms, and its usual conditions.
func (f FindingsFacts) warranty() Section {
	t := f.Terms
	cert := CertificateFacts{
		Law: t.Law, Units: t.Units, Shop: f.shop(), Copy: f.Copy, Numbers: t.Numbers, Exclusions: UsualExclusions(),
		ShopSide: UsualShopSide(), Rights: Rights,
	}
	upkeep := slices.ContainsFunc(f.Promised, func(l CertificateLine) bool { return l.Upkeep })
	cert.Lines, cert.Conditions, cert.Upkeep = f.Promised, UsualConditions(upkeep), &UpkeepFacts{}
	s := &speaker{f: cert, t: t}
	s.claim()
	s.pays()
	s.upkeep()
	s.sale()
	s.causes()
	s.answers()
	p := newPrinter(cert, s.says)
	blocks := []Block{
		heading(warrantyHead),
		Paragraph{Spans: plainly(t.TitleSays() + ". Only what is rebuilt and checked gets a line in it. Its lines would be:")},
		f.promises(),
	}
	if t.Implied != "" {
		implied := t.Implied
		if t.Law == US {
			implied += " " + FixedSays("us-implied")
		}
		blocks = append(blocks, Paragraph{Spans: plainly(implied)})
	}
	return Section{Name: warrantyHead, Columns: twoColumns, Gap: 700, Flow: true, Blocks: slices.Concat(blocks, p.wording())}
}

// promises says what each line would promise and for how long.
func (f FindingsFacts) promises() List {
	var all []string
	for _, l := range f.Promised {
		name, says := promiseSays(l.Promise, f.Terms)
		all = append(all, fmt.Sprintf("%s: %s, for %s. %s", name, says, months(l.Months), l.inFull()))
	}
	return List{Numbered: true, Items: items(all)}
}
