package loose

import (
	"regexp"
	"slices"
	"sort"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
)

// override is a rule that somebody sets aside: its key, why, and who.
type override struct{ rule, reason, by string }

var overrideWord = pattern(`(?i)(^|[\s;,])(override|despite)\s+`)

// cutOverrides takes the overrides out of a line.
func (s Shop) cutOverrides(line string) (string, []override, error) {
	var out []override
	for {
		at := outsideTexts(line, overrideWord())
		if at == nil {
			return line, out, nil
		}
		o, rest, err := s.override(line[at[1]:])
		if err != nil {
			return line, nil, err
		}
		out = append(out, o)
		line = strings.TrimRight(line[:at[0]], " ,;") + " " + rest
	}
}

// outsideTexts finds a pattern that does not stand between quotes.
func outsideTexts(line string, p *regexp.Regexp) []int {
	for _, at := range p.FindAllStringIndex(line, -1) {
		if strings.Count(line[:at[0]], `"`)%2 == 0 {
			return at
		}
	}
	return nil
}

func (s Shop) override(rest string) (override, string, error) {
	rule, behind := s.ruleAt(rest)
	if rule == "" {
		return override{}, "", unclear(Word, "override %s: no rule is called so", clip(rest))
	}
	o := override{rule: rule}
	behind = strings.TrimLeft(behind, " ")
	text, said := behind, false
	for _, lead := range []string{":", ",", "reason"} {
		if after, ok := strings.CutPrefix(strings.TrimLeft(text, " "), lead); ok {
			text, said = after, true
		}
	}
	text = strings.TrimLeft(text, " ")
	switch {
	case strings.HasPrefix(text, `"`):
		reason, after := quotedAt(text)
		o.reason = reason
		by, after := s.whoDecided(after)
		o.by = by
		return o, after, nil
	case said:
		o.reason, o.by = s.toTheEnd(text)
		return o, "", nil
	}
	by, after := "", behind
	if strings.HasPrefix(strings.TrimLeft(behind, " ,"), "by ") {
		by, after = s.whoDecided(behind)
	}
	o.by = by
	if text := strings.TrimLeft(after, " ,"); by != "" && strings.HasPrefix(text, `"`) {
		o.reason, after = quotedAt(text)
	}
	return o, after, nil
}

// ruleAt finds the longest key of a rule at the beginning of text.
func (s Shop) ruleAt(text string) (rule, rest string) {
	low := strings.ToLower(text)
	for _, key := range s.Rules {
		for _, typed := range []string{key, strings.ReplaceAll(key, "-", " ")} {
			end := len(typed)
			if !strings.HasPrefix(low, typed) || len(key) <= len(rule) || end < len(low) && low[end] >= 'a' && low[end] <= 'z' {
				continue
			}
			rule, rest = key, text[end:]
		}
	}
	return rule, rest
}

func quotedAt(text string) (inside, rest string) {
	var out strings.Builder
	for at := 1; at < len(text); at++ {
		switch {
		case text[at] != '"':
			out.WriteByte(text[at])
		case at+1 < len(text) && text[at+1] == '"':
			out.WriteByte('"')
			at++
		default:
			return strings.TrimSpace(out.String()), text[at+1:]
		}
	}
	return strings.TrimSpace(out.String()), ""
}

var markBehind = pattern(`(?i)^[\s,]*(?:by\s+)?([a-z]+(?:-[a-z]+)*(?:[ -]\d{1,3})?)\b`)

// whoDecided takes the mark behind a reason.
func (s Shop) whoDecided(text string) (mark, rest string) {
	m := markBehind().FindStringSubmatchIndex(text)
	if m == nil {
		return "", text
	}
	mark = strings.ToLower(strings.ReplaceAll(text[m[2]:m[3]], " ", "-"))
	if !slices.Contains(s.Marks, mark) {
		return "", text
	}
	return mark, text[m[1]:]
}

var byAtEnd = pattern(`(?i)[\s,]+by\s+([a-z]+(?:-[a-z]+)*(?:[ -]\d{1,3})?)\s*$`)

func (s Shop) toTheEnd(text string) (reason, mark string) {
	text = strings.TrimSpace(strings.ReplaceAll(text, "\n", " "))
	if m := byAtEnd().FindStringSubmatchIndex(text); m != nil {
		mark = strings.ToLower(strings.ReplaceAll(text[m[2]:m[3]], " ", "-"))
		if slices.Contains(s.Marks, mark) {
			return strings.TrimRight(text[:m[0]], " ,;"), mark
		}
	}
	return text, ""
}

func (n *note) overridden(list []override) error {
	for _, o := range list {
		v := format.Object{"rule": o.rule}
		if o.reason != "" {
			v["reason"] = o.reason
			if err := n.lookAlike(o.reason); err != nil {
				return err
			}
		}
		if o.by != "" {
			v["by"] = o.by
		}
		n.append("overrides", v)
	}
	return nil
}

// who takes the writers: by hand-2, by hand 2 and desk, hand-2.
func (n *note) who() error {
	var out format.Array
	for i := 0; i < len(n.t); i++ {
		if !n.t[i].is("by") {
			if mark := n.t[i]; mark.kind == aMark && !mark.used && slices.Contains(n.shop.Marks, mark.s) && !n.ofLabel(i, "who", "to", "second") {
				out = append(out, mark.s)
				n.t[i].used = true
			}
			continue
		}
		marks, next, err := n.marksAt(i + 1)
		if err != nil {
			return err
		}
		for _, m := range marks {
			out = append(out, m)
		}
		if len(marks) > 0 {
			n.use(i, next)
			i = next - 1
		}
	}
	if len(out) == 0 && n.d.Body["by"] == nil {
		for _, m := range n.by {
			out = append(out, m)
		}
	}
	if len(out) > 0 {
		n.d.Body["by"] = out
	}
	return nil
}

func (n *note) ofLabel(i int, names ...string) bool {
	j := n.before(i)
	return j >= 0 && slices.ContainsFunc(names, func(name string) bool { return n.t[j].s == name })
}

// marksAt reads the marks behind by. What is no mark and no word of another use
// is nobody of this shop.
func (n *note) marksAt(i int) (marks []string, next int, err error) {
	at := n.skipWords(i, "the")
	for {
		mark, after := n.markAt(at)
		if mark == "" {
			break
		}
		marks = append(marks, mark)
		next = after
		more := n.comma(after)
		more = n.skipWords(more, "and")
		if m, _ := n.markAt(more); m == "" || more == after {
			if more > after && more < len(n.t) && n.t[more-1].s == "and" && n.t[more].kind == aWord && len(n.t[more].senses) == 0 && !n.t[more].filler {
				return nil, i, unclear(Who, saysNoMark, n.t[more].raw)
			}
			break
		}
		at = more
	}
	if len(marks) > 0 || at >= len(n.t) {
		return marks, next, nil
	}
	t := n.t[at]
	for _, list := range []string{"how", "done-by", "known", "reader"} {
		if _, ok := n.sense(at, list); ok {
			return nil, i, nil
		}
	}
	if t.kind == aNumber || t.kind == aWord && n.means(at, labels, "holder") || t.kind == aMark && isHolder(t.s) {
		return nil, i, nil
	}
	return nil, i, unclear(Who, saysNoMark, t.raw)
}

func isHolder(mark string) bool {
	return strings.HasPrefix(mark, "holder-") || strings.HasPrefix(mark, "buyer-")
}

// markAt reads a mark of the shop: hand-2, hand 2, desk.
func (n *note) markAt(i int) (string, int) {
	if i >= len(n.t) || n.t[i].used || n.t[i].kind != aWord && n.t[i].kind != aMark {
		return "", i
	}
	if i+1 < len(n.t) && n.t[i].kind == aWord && n.t[i+1].kind == aNumber && n.t[i+1].whole && n.t[i+1].unit == "" {
		if m := n.t[i].s + "-" + n.t[i+1].s; slices.Contains(n.shop.Marks, m) {
			return m, i + 2
		}
	}
	if slices.Contains(n.shop.Marks, n.t[i].s) {
		return n.t[i].s, i + 1
	}
	return "", i
}

// fitting are the kinds that a note of a kind may answer.
var fitting = map[string][]string{
	"cure": {"work", "cure"}, "decision": {"finding", "certificate"}, "work": {"finding", "decision", "claim", "check"},
	"check": {"work", "claim", "finding"}, "finding": {"finding", "claim"},
}

// saysNoMark says of a name that it is no mark here, and what to do.
const saysNoMark = "%s: not one of this shop's marks; lapmark words --mark writes one down"

// above is the nearest earlier note in pencil of a kind that fits. One without a
// tag cannot be pointed at yet.
func (n *note) above() (string, error) {
	for _, e := range slices.Backward(n.coach.Entries) {
		if kinds := fitting[n.kind.Name]; e.Ref != "" || len(kinds) > 0 && !slices.Contains(kinds, e.Kind) {
			continue
		}
		if tag := e.Draft.Text("tag"); tag != "" {
			return tag, nil
		}
		return "", unclear(Reference, "the %s above has no tag: give it one, as %s: N1", e.Kind, e.Kind)
	}
	return "", unclear(Reference, "no note above fits")
}

// references takes what the note points at.
func (n *note) references() error {
	for i := range n.t {
		if !n.t[i].is("above") {
			continue
		}
		tag, err := n.above()
		if err != nil {
			return err
		}
		n.append("answers", tag)
		n.t[i].used = true
	}
	for i := range n.t {
		t := &n.t[i]
		if t.used || t.kind != aRef && t.kind != aTag {
			continue
		}
		e, ok := n.coach.entry(t.s)
		if !ok {
			return unclear(Reference, "nothing is called %s", t.s)
		}
		if !n.canAnswer() {
			return unclear(Reference, "%s: a %s points at nothing", t.s, n.kind.Name)
		}
		ref := t.s
		if tag := e.Draft.Text("tag"); tag != "" {
			ref = tag
		}
		if !slices.Contains(ledger.Texts(n.d.Body["answers"]), ref) {
			n.append("answers", ref)
		}
		t.used = true
		if j := n.before(i); j >= 0 && (n.means(j, labels, "answers") || n.t[j].s == "for" || n.t[j].s == "of") {
			n.t[j].used = true
		}
	}
	return nil
}

func (n *note) canAnswer() bool {
	return slices.ContainsFunc(n.kind.Fields, func(f ledger.Field) bool { return f.Name == "answers" })
}

// day is the day of the heading.
func (n *note) day() (day.Day, error) {
	d, err := day.Parse(n.h.Day)
	if err != nil {
		return d, unclear(DayOf, "no day: write on 2020-04-07 above the note")
	}
	return d, nil
}

// oneDay picks among the days that a written day may be.
func (n *note) oneDay(d dated) day.Day { return d.days[n.c.pick(len(d.days))] }

// dayBehind reads the day behind token i, passing filler and commas.
func (n *note) dayBehind(i int, year bool) (string, error) {
	at := i + 1
	for at < len(n.t) && (n.passes(at) && n.t[at].kind != aStop || n.t[at].kind == aStop && n.t[at].s == ":") && !n.t[at].is("on") {
		at++
	}
	d, next, err := n.shop.dayAt(n.t, at)
	if err != nil || next == at {
		return "", err
	}
	if year && !d.year {
		return "", unclear(DayOf, "%s: of which year", rawOf(n.t[at:next]))
	}
	n.use(i, next)
	return n.oneDay(d).String(), nil
}

// said reads how something was said and when: phone 21 march, in person today.
// label is the word in front of it, "" where it needs none.
func (n *note) said(i int) (format.Object, error) {
	how, when := "", ""
	at := i
	for at < len(n.t) {
		if d, next, err := n.shop.dayAt(n.t, at); err != nil || next > at {
			if err != nil {
				return nil, err
			}
			if when != "" {
				break
			}
			when = n.oneDay(d).String()
			n.use(at, next)
			at = next
			continue
		}
		if c, next, err := n.shop.timeAt(n.t, at); err != nil || next > at && !n.t[at].used {
			if err != nil {
				return nil, err
			}
			on := when
			if on == "" {
				on = n.h.Day
			}
			d, err := day.Parse(on)
			if err != nil || len(on) > 10 {
				return nil, unclear(DayOf, "the day of it is not said")
			}
			if when, err = n.shop.moment(d, c, n.h); err != nil {
				return nil, err
			}
			n.use(at, next)
			at = next
			continue
		}
		if h, ok := n.howAt(at); ok && !n.t[at].used {
			if how != "" {
				break
			}
			how = h
			n.t[at].used = true
			at++
			continue
		}
		if !n.passes(at) && !n.t[at].is("by") || n.t[at].kind == aStop && n.t[at].s != "," {
			break
		}
		at++
	}
	if how == "" {
		return nil, nil
	}
	if when == "" {
		when = n.h.Day
	}
	return format.Object{"how": how, "when": when}, nil
}

func (n *note) howAt(i int) (string, bool) {
	if n.t[i].is("mail") || n.t[i].is("mailed") {
		return "message", true
	}
	return n.sense(i, "how")
}

// given takes all that was said, each with the day or time next to it.
func (n *note) given() error {
	for i := range n.t {
		if _, ok := n.howAt(i); !ok || n.t[i].used {
			continue
		}
		from := i
		if d, next, err := n.dayBefore(i); err == nil && next == i && d >= 0 {
			from = d
		}
		s, err := n.said(from)
		if err != nil {
			return err
		}
		if s != nil {
			n.append("given", s)
		}
	}
	return nil
}

// dayBefore finds a day that ends right in front of token i, and nothing behind
// it.
func (n *note) dayBefore(i int) (from, next int, err error) {
	if _, after, err := n.shop.dayAt(n.t, i+1); err == nil && after > i+1 {
		return -1, i, nil
	}
	for from = max(0, i-5); from < i; from++ {
		if _, next, err := n.shop.dayAt(n.t, from); err == nil && next == i {
			return from, i, nil
		}
	}
	return -1, i, nil
}

// told reads what was said behind a label: told 20.6.2025 by phone.
func (n *note) told(member, label string) error {
	i := n.find(labels, label)
	if i >= 0 {
		n.t[i].used = true
	} else if i = n.firstOf("how") - 1; i+1 == len(n.t) || n.t[i+1].used {
		return nil
	}
	s, err := n.said(i + 1)
	if err != nil {
		return err
	}
	if s == nil {
		return unclear(Word, "%s: how? in person, phone, message, on paper", label)
	}
	n.d.Body[member] = s
	return nil
}

// mainText is the member that a text without a label is.
var mainText = map[string]string{
	"not-looked-at": "why", "correction": "why", "standing": "why", "ruling": "why", "same-coach": "why",
	"decision": "warned", "lot-notice": "wrong", "hand-over": "not-taken",
}

// texts takes the quoted texts: with a label that member, else the main text of
// the kind, else the note.
func (n *note) texts() error {
	for i := range n.t {
		if n.t[i].kind != aText || n.t[i].used {
			continue
		}
		name := ""
		if j := n.before(i); j >= 0 {
			name = n.textLabel(j)
		}
		main := mainText[n.kind.Name]
		switch {
		case name != "":
		case main != "" && n.d.Private[main] == "":
			name = main
		default:
			name = "note"
		}
		if err := n.setText(name, n.t[i].s); err != nil {
			return err
		}
		n.t[i].used = true
	}
	return nil
}

func (n *note) textLabel(j int) string {
	for _, f := range n.kind.AllFields() {
		if (f.Form == ledger.FormFree || f.Form == ledger.FormText) && n.means(j, labels, f.Label) && f.Label != "" {
			n.t[j].used = true
			return f.Name
		}
	}
	return ""
}

func (n *note) setText(name, text string) error {
	if text == "" {
		return unclear(Word, "%s: an empty text", name)
	}
	for _, f := range n.kind.AllFields() {
		if f.Name != name || f.Form != ledger.FormText {
			continue
		}
		if f.Many {
			n.append(name, text)
		} else {
			n.d.Body[name] = text
		}
		return nil
	}
	if n.d.Private[name] != "" {
		return unclear(Word, "%s is said twice", name)
	}
	n.d.Private[name] = text
	return n.lookAlike(text)
}

// lots takes lot ids with an amount beside them.
func (n *note) lots(from, to int) ([]format.Object, error) {
	var out []format.Object
	for i := from; i < to; i++ {
		t := n.t[i]
		lot, ok := n.coach.Lots[t.s]
		if t.used || t.kind != aTag || !ok {
			continue
		}
		amount, at, end, err := n.amountBeside(i, lot)
		if err != nil {
			return nil, err
		}
		if at < 0 {
			return nil, unclear(Number, "how much of %s", t.s)
		}
		for _, word := range []string{"lot", "uses"} {
			if j := n.before(min(i, at)); j >= from && n.t[j].s == word {
				n.t[j].used = true
			}
			if j := n.before(i); j >= from && n.t[j].s == word {
				n.t[j].used = true
			}
		}
		n.use(at, end)
		n.t[i].used = true
		out = append(out, format.Object{"lot": t.s, "amount": amount, "unit": lot.Unit})
	}
	return out, nil
}

// packWords count packs of a lot.
var packWords = []string{
	"cartridge", "board", "tube", "sausage", "can", "roll", "sheet", "pack", "tin", "bottle", "bag", "bucket", "drum", "tub",
}

func isPack(s string) bool {
	return slices.Contains(packWords, s) || strings.HasSuffix(s, "s") && slices.Contains(packWords, strings.TrimSuffix(s, "s"))
}

var lotUnits = map[string]ledger.Unit{"g": ledger.UnitG, "mm": ledger.UnitMm, "mm2": ledger.UnitMm2}

// amountBeside finds the amount of a lot behind it, or in front of it.
func (n *note) amountBeside(i int, lot Lot) (amount int64, from, to int, err error) {
	for _, at := range []int{n.behind(i), n.packStart(i)} {
		if at < 0 || at >= len(n.t) || n.t[at].used || n.t[at].kind != aNumber {
			continue
		}
		amount, end, ok, err := n.amountAt(at, lot)
		if err != nil {
			return 0, -1, -1, err
		}
		if ok {
			return amount, at, end, nil
		}
	}
	return 0, -1, -1, nil
}

// packStart is the number in front of a lot id: 3.6 kg L-20-031, 7 cartridges of
// 20-0417.
func (n *note) packStart(i int) int {
	j := n.before(i)
	if j >= 0 && n.t[j].s == "lot" {
		j = n.before(j)
	}
	if j > 0 && (isPack(n.t[j].s) || n.t[j].is("l")) {
		j = n.before(j)
	}
	return j
}

func (n *note) amountAt(i int, lot Lot) (amount int64, end int, ok bool, err error) {
	t := n.t[i]
	next := n.skipWords(i+1, "a", "of", "the")
	if next < len(n.t) && isPack(n.t[next].s) {
		amount, err := lot.packs(t)
		return amount, next + 1, err == nil, err
	}
	if t.unit == "" && i+1 < len(n.t) && n.t[i+1].is("l") && lot.Unit == "ml" {
		t.unit = "litre"
		amount, err := n.millilitres(t)
		return amount, i + 2, err == nil, err
	}
	switch {
	case t.unit == "":
		return 0, i, false, nil
	case lot.Unit == "ml" && unitTable[t.unit].dim == dimVolume:
		amount, err := n.millilitres(t)
		return amount, i + 1, err == nil, err
	case lot.Unit == "piece" && unitTable[t.unit].dim == dimPiece:
		amount, err := n.kept(t, ledger.UnitCount, "pieces")
		return amount, i + 1, err == nil, err
	}
	u, known := lotUnits[lot.Unit]
	if !known || !fits(t, u) {
		return 0, i, false, nil
	}
	amount, err = n.kept(t, u, "amount")
	return amount, i + 1, err == nil, err
}

func (n *note) millilitres(t token) (int64, error) {
	v := unitTable[t.unit]
	t.num = mul(t.num, v.num, v.den)
	return wholeOf(t.num, slices.Contains(fromElsewhere, t.unit), t, "amount")
}

// packs is an amount of packs, where the delivery says what one holds.
func (l Lot) packs(t token) (int64, error) {
	if l.Packs <= 0 || l.Amount%l.Packs != 0 {
		return 0, unclear(Number, "%s: the delivery does not say what one holds", t.raw)
	}
	return wholeOf(mul(t.num, l.Amount/l.Packs, 1), false, t, "packs")
}

// takeCauses reads the causes of a finding or check, how sure each is, and its
// quantities beside it.
func (n *note) takeCauses() error {
	for i := range n.t {
		name, ok := n.sense(i, "causes")
		if !ok || n.t[i].used {
			continue
		}
		n.t[i].used = true
		o := format.Object{"cause": name}
		next := i + 1
		for next < len(n.t) && n.t[next].kind == aStop && n.t[next].s == "," {
			next++
		}
		if sure, ok := n.sense(next, "sure"); ok && next < len(n.t) && !n.t[next].used {
			o["sure"] = sure
			n.t[next].used = true
		}
		word := quantitiesOf("causes", name)
		if j := n.behind(i); j < len(n.t) && n.t[j].kind == aNumber && !n.t[j].used && len(word.Carries) > 0 {
			q, _ := ledger.QuantityNamed(word.Carries[0].Quantity)
			if fits(n.t[j], q.Unit) && n.t[j].unit != "" {
				v := values{n: n, from: j, to: len(n.t), word: word, o: format.Object{}}
				if err := v.take(j, q); err != nil {
					return err
				}
				o["values"] = v.o
			}
		}
		if j := n.before(i); j >= 0 && n.means(j, labels, "cause") {
			n.t[j].used = true
		}
		n.append("causes", o)
	}
	return nil
}

// takeKnown reads how a thing is known: holder told us, from signs "…".
func (n *note) takeKnown() error {
	for i := range n.t {
		if n.t[i].used {
			continue
		}
		if n.means(i, grammar, "told us") || n.means(i, "sure", "told") && n.holderBefore(i) >= 0 {
			j := n.holderBefore(i)
			if j < 0 {
				continue
			}
			mark, from, err := n.holderEnding(j)
			if err != nil {
				return err
			}
			n.use(from, j+1)
			n.t[i].used = true
			n.append("known", format.Object{"how": "told-by", "who": mark})
			continue
		}
		name, ok := n.sense(i, "known")
		if !ok {
			continue
		}
		o := format.Object{"how": name}
		n.t[i].used = true
		if j := n.skipWords(i+1, "by", "the"); name == "told-by" {
			if mark, next, ok := n.holderAt(j); ok {
				o["who"] = mark
				n.use(i, next)
			}
		}
		if j := n.behind(i); j < len(n.t) && n.t[j].kind == aText && !n.t[j].used {
			o["what"] = n.t[j].s
			n.t[j].used = true
		}
		n.append("known", o)
	}
	return nil
}

func (n *note) holderBefore(i int) int {
	j := n.before(i)
	if j < 0 || n.t[j].used {
		return -1
	}
	if n.means(j, labels, "holder") || n.means(j, "reader", "holder") || n.t[j].kind == aMark && isHolder(n.t[j].s) {
		return j
	}
	return -1
}

func (n *note) holderEnding(j int) (mark string, from int, err error) {
	if n.t[j].kind == aMark {
		return n.t[j].s, j, nil
	}
	mark = n.coach.holder(n.h.Day)
	if mark == "" {
		return "", j, unclear(Who, "%s: nobody is written down as the holder", n.t[j].raw)
	}
	return mark, j, nil
}

// holderAt reads a holder's mark: holder-2, holder 2, the holder.
func (n *note) holderAt(i int) (mark string, next int, ok bool) {
	if i >= len(n.t) || n.t[i].used {
		return "", i, false
	}
	t := n.t[i]
	if t.kind == aMark && isHolder(t.s) {
		return t.s, i + 1, true
	}
	isWord := n.means(i, labels, "holder") || n.means(i, "reader", "holder") || t.is("buyer")
	if !isWord {
		return "", i, false
	}
	if no, ok := n.bareNumber(i + 1); ok && no > 0 {
		name := "holder"
		if t.is("buyer") {
			name = "buyer"
		}
		return name + "-" + ledger.Decimal(no), i + 2, true
	}
	mark = n.coach.holder(n.h.Day)
	return mark, i + 1, mark != "" && !t.is("buyer")
}

func sortedNames(o format.Object) []string {
	names := format.Names(o)
	sort.Strings(names)
	return names
}
