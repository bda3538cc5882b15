package questions

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/sheet"
)

// walker goes through the fields of a kind, takes the answers in their order,
// and stops at the first question that has none.
type walker struct {
	kind    ledger.Kind
	heading sheet.Heading
	answers []string
	draft   ledger.Draft
	head    string         // the word that heads what is asked now
	carried []ledger.Carry // what it may and must carry
	asked   map[string]bool
	open    Question
	pending bool
	err     error
}

// ask takes the next answer; ok is false where the question stays open.
func (w *walker) ask(q Question) (answer string, ok bool) {
	if w.pending {
		return "", false
	}
	if len(w.answers) == 0 {
		w.open, w.pending = q, true
		return "", false
	}
	answer, w.answers = w.answers[0], w.answers[1:]
	return answer, true
}

// begin sets what every note has and what needs no asking.
func (w *walker) begin(known []string) {
	w.asked = map[string]bool{}
	for _, f := range w.kind.AllFields() {
		if f.Default != nil {
			w.draft.Body[f.Name] = f.Default
		}
	}
	w.draft.Body["happened"] = w.heading.Day
	for _, part := range known {
		w.put(part)
		w.asked[firstWord(part)] = true
	}
}

// all asks what a note of the kind needs, then what else there is to say.
func (w *walker) all() {
	fields := w.kind.AllFields()
	for _, f := range fields {
		if w.wanted(f) {
			w.field(f)
		}
	}
	for _, p := range w.kind.Privates {
		if p.Asked {
			w.private(p)
		}
	}
	w.photos()
	w.field(fieldNamed(fields, "by"))
	for !w.pending && w.more() {
	}
}

// wanted says whether a field of the kind is asked in its turn.
func (w *walker) wanted(f ledger.Field) bool {
	return w.inTurn(f) && !w.asked[key(f)] && f.Name != "happened" && f.Name != "by"
}

// photos asks for pictures, and where the kind needs one and none is named, why
// there is none.
func (w *walker) photos() {
	fields := w.kind.AllFields()
	w.field(fieldNamed(fields, "photos"))
	needed := slices.ContainsFunc(w.draft.Lacks(), func(s string) bool { return strings.Contains(s, "no-photo") })
	if needed && !w.pending {
		w.field(fieldNamed(fields, "no-photo"))
	}
}

// more asks what else there is to say; it returns false where nothing is.
func (w *walker) more() bool {
	fields, privates := w.rest()
	var names []string
	for _, f := range fields {
		names = append(names, key(f))
	}
	for _, p := range privates {
		names = append(names, p.Name)
	}
	if len(names) == 0 {
		return false
	}
	answer, ok := w.ask(restQuestion(names, w.draft.Lacks()))
	if !ok || answer == "" {
		return false
	}
	for _, f := range fields {
		if key(f) == tidyWord(answer) {
			w.field(f)
		}
	}
	for _, p := range privates {
		if p.Name == tidyWord(answer) {
			w.private(p)
		}
	}
	return true
}

// rest are the fields and private values that nothing was said of yet.
func (w *walker) rest() (fields []ledger.Field, privates []ledger.Private) {
	for _, f := range w.kind.AllFields() {
		usual := f.Default != nil && !w.asked[key(f)]
		if (usual || !w.has(f)) && f.Need != ledger.Filled && f.Name != "private" && f.Name != "adopts" {
			fields = append(fields, f)
		}
	}
	for _, p := range w.kind.Privates {
		if _, said := w.draft.Private[p.Name]; !said && p.Sight != ledger.SightPaper {
			privates = append(privates, p)
		}
	}
	return fields, privates
}

// field asks one field of the kind.
func (w *walker) field(f ledger.Field) {
	if w.pending {
		return
	}
	w.asked[key(f)] = true
	must := f.Need == ledger.Must && !w.has(f)
	switch {
	case f.Form == ledger.FormShape && f.Many:
		for again := false; w.shape(f, must && !again, again) && !w.pending; again = true {
		}
	case f.Form == ledger.FormShape:
		w.shape(f, must, false)
	case f.Form == ledger.FormValues:
		w.values(f.Label, nil)
	case f.Form == ledger.FormChange:
		w.change()
	default:
		w.plain(f, must)
	}
}

func (w *walker) has(f ledger.Field) bool {
	_, said := w.draft.Private[f.Name]
	_, there := w.draft.Body[f.Name]
	return said || there
}

// plain asks a field of one value, or of several parted by commas.
func (w *walker) plain(f ledger.Field, must bool) {
	answer, ok := w.ask(w.question(f, must, f.Label))
	if !ok || answer == "" {
		return
	}
	if f.Form == ledger.FormFlag {
		if yes, _ := yesText(answer); yes != "" {
			w.put(f.Label)
		}
		return
	}
	text, err := tidy(f, answer, w.heading)
	if err != nil {
		w.err = err
		return
	}
	for _, part := range inParts(f, text) {
		w.put(labelled(f.Label, part))
	}
	w.heads(f, text)
}

// shape asks an object of a shared shape: its head, then its members. It
// returns false where the head is not answered.
func (w *walker) shape(f ledger.Field, must, again bool) bool {
	s, _ := ledger.ShapeNamed(f.Shape)
	head := s.Fields[0]
	q := w.question(head, must, f.Label)
	q.Asks = headAsks(f, head)
	if again {
		q.Asks = "another one: " + q.Asks
	}
	answer, ok := w.ask(q)
	if !ok || answer == "" {
		return false
	}
	text, err := tidy(head, answer, w.heading)
	if err != nil {
		w.err = err
		return false
	}
	items := []string{labelled(head.Label, text)}
	before, head0 := w.carried, w.head
	w.carried = nil
	w.heads(head, text)
	var rest []ledger.Field
	for _, member := range s.Fields[1:] {
		switch {
		case member.Need == ledger.Filled:
		case w.inTurn(member), member.Form == ledger.FormValues && len(w.carried) > 0:
			items = w.member(f, member, items)
		case len(member.Of) == 0:
			rest = append(rest, member)
		}
	}
	items = w.moreOf(f, rest, items)
	w.carried, w.head = before, head0
	w.put(labelled(f.Label, strings.Join(items, ", ")))
	return true
}

// moreOf asks what else is to be said of a shape: another member by its name, or
// something measured.
func (w *walker) moreOf(f ledger.Field, rest []ledger.Field, items []string) []string {
	for !w.pending {
		q, names := w.moreQuestion(f, rest)
		if len(names) == 0 {
			break
		}
		answer, ok := w.ask(q)
		if !ok || answer == "" {
			break
		}
		at := slices.IndexFunc(rest, func(m ledger.Field) bool { return key(m) == tidyWord(answer) })
		if at < 0 {
			said, err := anyValueText(answer)
			if err != nil {
				w.err = err
				break
			}
			items = append(items, said)
			continue
		}
		items = w.member(f, rest[at], items)
		rest = slices.Delete(slices.Clone(rest), at, at+1)
	}
	return items
}

func (w *walker) moreQuestion(f ledger.Field, rest []ledger.Field) (q Question, names []string) {
	var measured []string
	for _, c := range w.carried {
		if !c.Must {
			measured = append(measured, c.Quantity+" with its number")
		}
	}
	for _, member := range rest {
		if member.Form != ledger.FormValues {
			names = append(names, key(member))
		}
	}
	members := names
	names = slices.Concat(measured, names)
	q = Question{Asks: "anything else of this " + f.Shape, Write: strings.Join(names, ", "), Whole: true}
	q.tidy = func(answer string) (string, error) {
		if slices.Contains(members, tidyWord(answer)) {
			return tidyWord(answer), nil
		}
		if _, err := anyValueText(answer); err == nil {
			return answer, nil
		}
		return oneOf(names, answer)
	}
	return q, names
}

// member asks one member of a shape and adds its items.
func (w *walker) member(f, member ledger.Field, items []string) []string {
	if w.pending {
		return items
	}
	if member.Form == ledger.FormValues {
		return w.values(f.Label, items)
	}
	q := w.question(member, member.Need == ledger.Must, "")
	q.tidy = w.fits(member, f.Label, items)
	answer, ok := w.ask(q)
	if !ok || answer == "" {
		return items
	}
	text, err := tidy(member, answer, w.heading)
	if err != nil {
		w.err = err
		return items
	}
	if member.Form == ledger.FormFlag {
		return append(items, member.Label)
	}
	for _, part := range inParts(member, text) {
		items = append(items, labelled(member.Label, part))
	}
	return items
}

// values asks what the word before must carry, each by its name; where it
// carries nothing, whatever was measured. Without items they are a part of their
// own.
func (w *walker) values(label string, items []string) []string {
	var said []string
	for _, c := range w.carried {
		q, _ := ledger.QuantityNamed(c.Quantity)
		if !c.Must {
			continue
		}
		if answer, ok := w.ask(valueQuestion(q)); ok && answer != "" {
			text, _ := valueText(q, answer)
			said = append(said, text)
		}
	}
	for len(w.carried) == 0 && !w.pending {
		answer, ok := w.ask(anyValueQuestion())
		if !ok || answer == "" {
			break
		}
		text, err := anyValueText(answer)
		if err != nil {
			w.err = err
			break
		}
		said = append(said, text)
	}
	if items != nil {
		return append(items, said...)
	}
	if len(said) > 0 {
		w.put(labelled(label, strings.Join(said, ", ")))
	}
	return nil
}

// change asks what was wrong and what is right, as they stand in a sheet.
func (w *walker) change() {
	for {
		was, ok := w.ask(wasQuestion())
		if !ok || was == "" {
			return
		}
		is, ok := w.ask(isQuestion())
		if !ok {
			return
		}
		w.put("was " + was)
		if is != "" {
			w.put("is " + is)
		}
	}
}

func (w *walker) private(p ledger.Private) {
	answer, ok := w.ask(privateQuestion(p))
	if ok && answer != "" {
		w.put("private " + p.Name + " " + quote(answer))
	}
}

// put reads a part into the note.
func (w *walker) put(part string) {
	if err := sheet.ReadPart(&w.draft, w.kind, part, w.heading); err != nil && w.err == nil {
		w.err = err
	}
}

// heads remembers the word of a field that others follow.
func (w *walker) heads(f ledger.Field, name string) {
	if f.Form != ledger.FormWord || f.Many {
		return
	}
	word, _ := ledger.WordIn(f.List, name)
	if len(word.Carries) > 0 || w.head == "" {
		w.head, w.carried = name, word.Carries
	}
}

// inTurn says whether a field is asked in its turn: it must be said, or the
// table asks for it, always or where one of its words heads the rest.
func (w *walker) inTurn(f ledger.Field) bool {
	return f.Need == ledger.Must || f.Asked && (len(f.Of) == 0 || slices.Contains(f.Of, w.head))
}

// fits checks an answer by reading the shape as far as it is said.
func (w *walker) fits(member ledger.Field, label string, items []string) func(string) (string, error) {
	reads := w.reads()
	return func(answer string) (string, error) {
		text, err := tidy(member, answer, w.heading)
		if err != nil || member.Form == ledger.FormFlag {
			return text, err
		}
		all := slices.Clone(items)
		for _, part := range inParts(member, text) {
			all = append(all, labelled(member.Label, part))
		}
		return text, reads(labelled(label, strings.Join(all, ", ")))
	}
}

// reads says whether a part could be read into the note as it stands before the
// open question.
func (w *walker) reads() func(part string) error {
	before := w.draft.Clone()
	return func(part string) error {
		d := before.Clone()
		return sheet.ReadPart(&d, w.kind, part, w.heading)
	}
}

func fieldNamed(list []ledger.Field, name string) ledger.Field {
	return list[slices.IndexFunc(list, func(f ledger.Field) bool { return f.Name == name })]
}

// key is how a field is named when it is asked for: its word in a sheet.
func key(f ledger.Field) string {
	if f.Label != "" {
		return f.Label
	}
	return f.Name
}

func labelled(label, text string) string { return strings.TrimSpace(label + " " + text) }

func firstWord(s string) string {
	word, _, _ := strings.Cut(s, " ")
	return word
}
