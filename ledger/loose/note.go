package loose

import (
	"slices"
	"strings"
	"unicode/utf8"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// note is one note on its way: its tokens, and the draft that is made of them.
// One is made for every reading that is tried.
type note struct {
	shop  Shop
	coach *Coach
	h     sheet.Heading
	by    []string // writers when the note says none
	line  string   // cleaned, without overrides
	c     *choices

	t     []token
	kind  ledger.Kind
	d     ledger.Draft
	at    []placed
	spare []string // words that went to the note

	kindAt    int   // the token of the kind word, -1 where none
	pins      bool  // a per cent at a place and nothing else
	plainLeak bool  // leak as a remark
	names     []int // tokens of names that operations give
}

// newNote readies a note for one reading.
func (b *base) newNote(c *choices) *note {
	n := &note{shop: b.shop, coach: b.coach, h: b.h, by: b.by, line: b.line, c: c}
	n.t = n.unpaired(b.tokens)
	n.d = b.parts.Clone()
	if n.d.Body == nil {
		n.d.Body = format.Object{}
	}
	return n
}

// base is what all readings of a note share.
type base struct {
	shop      Shop
	coach     *Coach
	h         sheet.Heading
	by        []string
	line      string
	tokens    []token
	overrides []override
	parts     ledger.Draft // what stood in the canonical form already
}

func (n *note) use(from, to int) {
	for i := from; i < to; i++ {
		n.t[i].used = true
	}
}

// sense is the word of a list that token i stands for.
func (n *note) sense(i int, list string) (string, bool) { return n.senseWith(i, list, Always) }

func (n *note) senseWith(i int, list string, granted With) (string, bool) {
	names := n.sensesIn(i, list, granted)
	if len(names) == 0 {
		return "", false
	}
	return names[0], true
}

// sensesIn are all words of a list that token i may stand for.
func (n *note) sensesIn(i int, list string, granted With) []string {
	if i < 0 || i >= len(n.t) {
		return nil
	}
	var out []string
	for _, s := range n.t[i].senses {
		if s.list == list && (s.with == Always || s.with == granted || n.holds(i, s.with)) {
			out = append(out, s.name)
		}
	}
	return out
}

// means says whether token i stands for that word of the list.
func (n *note) means(i int, list, name string) bool {
	return i >= 0 && i < len(n.t) && !n.t[i].used && slices.Contains(n.sensesIn(i, list, Always), name)
}

// holds says whether what a short word asks for stands in the note.
func (n *note) holds(i int, w With) bool {
	switch w {
	case ByNumber:
		return n.besideNumber(i, func(token) bool { return true })
	case ByTemperature:
		return n.besideNumber(i, func(t token) bool { return fits(t, ledger.UnitDeciC) })
	case ByTime:
		return n.besideNumber(i, func(t token) bool { return t.unit != "" && fits(t, ledger.UnitMin) })
	case InWork:
		return n.kind.Name == "work"
	case InFasten:
		return n.kind.Name == "work" && n.has("operations", "fasten")
	case InPinless:
		return n.has("checks", "pinless") || n.has("defects", "wet-core")
	case InCore:
		return n.has("checks", "core-sample") || n.has("defects", "wet-core")
	case InCorrection:
		return n.kind.Name == "correction"
	case InDelivery:
		return n.kind.Name == "delivery"
	case WithSeam:
		return n.has("elements", "seam") || slices.ContainsFunc(n.t, func(t token) bool {
			return t.kind == aTag && n.coach.Names[t.s] == "seam"
		})
	case WithTimber, WithMember:
		return slices.ContainsFunc(members, func(m string) bool { return n.has("elements", m) }) ||
			w == WithTimber && n.has("layers", "frame")
	case OnFoam:
		return i > 0 && slices.Contains([]string{"on", "onto", "foam"}, n.t[i-1].s)
	}
	return false
}

// members are the elements of timber.
var members = []string{"rafter", "edge-member", "front-header", "rear-header", "top-plate"}

// has says whether a word stands anywhere, used or not.
func (n *note) has(list, name string) bool {
	return slices.ContainsFunc(n.t, func(t token) bool {
		return slices.ContainsFunc(t.senses, func(s sense) bool { return s.list == list && s.name == name && s.with == Always })
	})
}

func (n *note) besideNumber(i int, ok func(token) bool) bool {
	for _, j := range []int{n.before(i), n.behind(i)} {
		if j >= 0 && j < len(n.t) && n.t[j].kind == aNumber && !n.t[j].used && ok(n.t[j]) {
			return true
		}
	}
	return false
}

// before is the next token in front of i that says something, -1 where none is;
// stops but a colon end the search.
func (n *note) before(i int) int {
	for j := i - 1; j >= 0; j-- {
		if n.t[j].kind == aStop && n.t[j].s != ":" && n.t[j].s != "=" {
			return -1
		}
		if n.t[j].kind == aNewline {
			return -1
		}
		if !n.passes(j) {
			return j
		}
	}
	return -1
}

// behind is the next token behind i that says something, len where none is.
func (n *note) behind(i int) int {
	for j := i + 1; j < len(n.t); j++ {
		if n.t[j].kind == aStop && n.t[j].s != ":" && n.t[j].s != "=" || n.t[j].kind == aNewline {
			return len(n.t)
		}
		if !n.passes(j) {
			return j
		}
	}
	return len(n.t)
}

// passes says whether token j says nothing of its own.
func (n *note) passes(j int) bool {
	t := n.t[j]
	return t.kind == aStop || t.filler && len(t.senses) == 0
}

// take takes the first unused word of a list.
func (n *note) take(list string) (string, int) {
	for i := range n.t {
		if n.t[i].used {
			continue
		}
		if name, ok := n.sense(i, list); ok {
			n.t[i].used = true
			return name, i
		}
	}
	return "", -1
}

// find is the first unused token that stands for a word, -1 where none does.
func (n *note) find(list, name string) int {
	for i := range n.t {
		if n.means(i, list, name) {
			return i
		}
	}
	return -1
}

// takeWord takes a word, and says whether it was there.
func (n *note) takeWord(list, name string) bool {
	i := n.find(list, name)
	if i >= 0 {
		n.t[i].used = true
	}
	return i >= 0
}

// append adds a value to a list of the draft.
func (n *note) append(name string, v format.Value) {
	list, _ := n.d.Body[name].(format.Array)
	n.d.Body[name] = append(list, v)
}

// read makes one reading.
func (b *base) read(c *choices) (ledger.Draft, []string, error) {
	n := b.newNote(c)
	kind, err := n.decide()
	if err != nil {
		return n.d, nil, err
	}
	k, ok := ledger.KindNamed(kind)
	if !ok {
		return n.d, nil, unclear(Kind, "%s", kind)
	}
	n.kind, n.d.Kind = k, kind
	for _, f := range k.AllFields() {
		if f.Default != nil && n.d.Body[f.Name] == nil {
			n.d.Body[f.Name] = format.Clone(f.Default)
		}
	}
	if n.d.Body["happened"] == nil {
		n.d.Body["happened"] = n.h.Day
	}
	steps := []func() error{
		n.head, n.privates, func() error { return n.overridden(b.overrides) }, n.who, n.files, n.clock, n.body,
		n.untaken, n.flags, n.texts, n.references, n.timeOfNote, n.left,
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return n.d, nil, err
		}
	}
	return n.d, n.spare, nil
}

// body reads what belongs to the kind.
func (n *note) body() error {
	if read, ok := map[string]func() error{
		"check": n.check, "finding": n.finding, "work": n.work, "decision": n.decision, "cure": n.cure,
		"remark": n.remark, "not-looked-at": n.remark, "correction": n.correction, "upkeep": n.upkeep,
		"later-work": n.laterWork, "claim": n.claim, "transfer": n.transfer, "intake": n.intake, "measure": n.measure,
		"delivery": n.delivery, "certificate": n.certificate,
	}[n.kind.Name]; ok {
		return read()
	}
	return n.plainKind()
}

// head takes the tag behind the kind word.
func (n *note) head() error {
	i := 0
	for i < len(n.t) && (n.t[i].used || n.passes(i)) {
		i++
	}
	if i >= len(n.t) || n.t[i].kind != aTag || n.kindAt < 0 || i != n.kindAt+1 || n.d.Text("tag") != "" {
		return nil
	}
	tag := n.t[i].s
	if n.coach.knows(tag) {
		if slices.Contains([]string{"finding", "claim", "certificate"}, n.kind.Name) {
			return unclear(Reference, "%s is there already: a new one has a new tag", tag)
		}
		return nil
	}
	if !slices.Contains([]string{"finding", "claim", "certificate", "work"}, n.kind.Name) {
		return nil
	}
	n.d.Body["tag"] = tag
	n.t[i].used = true
	return nil
}

// flags takes the words that stand for themselves: holder-present, from-paper.
func (n *note) flags() error {
	for _, f := range n.kind.AllFields() {
		if f.Form == ledger.FormFlag && f.Label != "hides" && n.takeWord(labels, f.Label) {
			n.d.Body[f.Name] = true
		}
	}
	return nil
}

// files takes the names of pictures.
func (n *note) files() error {
	for i := range n.t {
		t := &n.t[i]
		if t.kind != aFile || t.used {
			continue
		}
		low := strings.ToLower(t.s)
		if strings.HasSuffix(low, ".csv") || strings.HasSuffix(low, ".txt") {
			return unclear(Word, "%s: a logger's file is not taken in yet; write its times and temperatures", t.raw)
		}
		if !slices.Contains(ledger.Texts(n.d.Body["photos"]), t.s) {
			n.append("photos", t.s)
		}
		t.used = true
	}
	if n.d.Body["photos"] != nil {
		for n.takeWord(labels, "photo") {
		}
	}
	return nil
}

// clock takes a time that is plain to see before numbers are read: 16:30, 4 pm. A
// cure and what was said have times of their own.
func (n *note) clock() error {
	if !slices.Contains([]string{"check", "finding", "work", "remark", "not-looked-at", "upkeep", "later-work"}, n.kind.Name) {
		return nil
	}
	return n.times(func(i, next int) bool {
		return n.fourFigures(i, next) || slices.ContainsFunc(n.t[i:next], func(t token) bool { return t.kind == aTime || t.s == "am" || t.s == "pm" || t.s == "noon" })
	})
}

// fourFigures says whether tokens are at 1630 or time 1630 and no part of a
// place: at 1630/300L, at 1200 aft.
func (n *note) fourFigures(from, next int) bool {
	if next-from < 2 || n.t[next-1].kind != aNumber || next-2 > from {
		return false
	}
	if next == len(n.t) || n.t[next].kind == aStop || n.t[next].kind == aNewline {
		return true
	}
	t := n.t[next]
	_, side := n.sideAt(next)
	return t.kind != aSign && t.kind != aNumber && !side && !slices.Contains([]string{"aft", "forward", "to", "full width"}, t.s)
}

// today passes over the day of the heading where it is said once more; another
// day asks for a heading.
func (n *note) today() error {
	for i := range n.t {
		if n.t[i].used {
			continue
		}
		d, next, err := n.shop.dayAt(n.t, i)
		if err != nil {
			return err
		}
		if next == i {
			continue
		}
		if len(d.days) != 1 || d.days[0].String() != n.h.Day {
			return unclear(DayOf, "%s: put the day on a line of its own above", rawOf(n.t[i:next]))
		}
		n.use(i, next)
	}
	return nil
}

// timeOfNote gives a time that nothing else took to the note.
func (n *note) timeOfNote() error {
	if err := n.today(); err != nil {
		return err
	}
	had := n.d.Body["happened"]
	if err := n.times(func(int, int) bool { return true }); err != nil {
		return err
	}
	if n.kind.Name == "cure" && n.d.Body["log"] != nil && n.d.Body["happened"] != had {
		return unclear(Time, "a time of the log has no temperature")
	}
	return nil
}

func (n *note) times(plain func(from, to int) bool) error {
	for i := range n.t {
		c, next, err := n.shop.timeAt(n.t, i)
		if err != nil {
			return err
		}
		if next == i || n.t[i].used || !plain(i, next) {
			continue
		}
		if n.d.Body["happened"] != n.h.Day {
			return unclear(Time, "%s: a second time", rawOf(n.t[i:next]))
		}
		d, err := n.day()
		if err != nil {
			return err
		}
		m, err := n.shop.moment(d, c, n.h)
		if err != nil {
			return err
		}
		n.d.Body["happened"] = m
		n.use(i, next)
	}
	return nil
}

// left looks at what no step took: filler vanishes, other words go to the note,
// the rest is unclear.
func (n *note) left() error {
	var words []string
	row, most := 0, 0
	for i := range n.t {
		t := n.t[i]
		if t.used || t.filler || t.kind == aNewline || n.leadsUsed(i) {
			continue
		}
		if err := n.leftOver(i); err != nil {
			return err
		}
		if t.kind == aStop || t.kind == aSign {
			row = 0
			continue
		}
		words = append(words, t.raw)
		row++
		most = max(most, row)
	}
	if most > 3 {
		return unclear(Word, "%s: what of it is meant? A text stands in quotes", clip(strings.Join(words, " ")))
	}
	if len(words) == 0 {
		return nil
	}
	n.spare = words
	text := strings.Join(words, " ")
	if had := n.d.Private["note"]; had != "" {
		text = had + "; " + text
	}
	n.d.Private["note"] = text
	return n.lookAlike(text)
}

// leadsUsed says whether a word only leads to what was taken: from 3700 to 7400,
// for A1.
func (n *note) leadsUsed(i int) bool {
	if (n.t[i].s == "from" || n.t[i].s == "up") && n.behind(i) < len(n.t) && n.t[n.behind(i)].used {
		return true
	}
	return slices.ContainsFunc(n.t[i].senses, func(s sense) bool { return s.list == labels && n.labelSaid(s.name) })
}

// leftOver says whether a token that is left makes the note unclear.
func (n *note) leftOver(i int) error {
	t := n.t[i]
	switch t.kind {
	case aNumber:
		return unclear(Number, "%s: of what", t.raw)
	case aTag, aRef:
		return unclear(Reference, "nothing is called %s", t.s)
	case aMark:
		return unclear(Who, "%s: for what", t.s)
	case aDay:
		return unclear(DayOf, "%s: the day of what", t.raw)
	case aTime:
		return unclear(Time, "%s: the time of what", t.raw)
	case aText:
		return unclear(Word, "%q: one text too many", clip(t.s))
	case aStop:
		if t.s == "?" {
			return unclear(Word, "a question mark: what is sure")
		}
		return nil
	case aSign:
		if t.s == "/" || t.s == "x" || t.s == "+" {
			return unclear(Word, "%s is left over", t.s)
		}
		return nil
	}
	switch {
	case t.slip != nil:
		return t.slip
	case len(n.sensesIn(i, "side", BehindPlace)) > 0:
		return unclear(Place, "%s of what", t.raw)
	case t.s == "hundred", t.s == "thousand":
		return unclear(Number, "%s: how many", t.raw)
	case slices.Contains(doubtWords, t.s), utf8.RuneCountInString(t.s) == 1:
		return unclear(Word, "%s: say what is, one thing a line", t.raw)
	case isUnit(t.s) && len(t.s) < 3 || namedIn(monthNames, t.s) > 0 && t.s != "may" && t.s != "march":
		return unclear(Number, "%s: a number is missing", t.raw)
	}
	if n.opensPrivate(i) {
		return unclear(Private, "%s: of whom", t.raw)
	}
	for _, s := range t.senses {
		if s.with != Always && !n.holds(i, s.with) {
			continue
		}
		if slices.Contains([]string{"defects", "checks", "operations", "choice", kindWords}, s.list) {
			return unclear(Kind, "%s does not fit in a %s: write a line for each", t.raw, n.kind.Name)
		}
		if s.list != "fastener" && s.list != "material" { // names of things, which a note may hold
			return unclear(Word, "%s: it does not fit here", t.raw)
		}
	}
	return nil
}

// labelSaid says whether a label is of a member that the draft has.
func (n *note) labelSaid(label string) bool {
	for _, f := range n.kind.AllFields() {
		if f.Label == label {
			_, open := n.d.Body[f.Name]
			return open || n.d.Private[f.Name] != "" || label == "private"
		}
	}
	return label == "uses"
}
