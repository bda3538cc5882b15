package ledger

import (
	"sync"

	"lapmark/ledger/format"
)

// Form is how one value of a field is kept in an entry and written in a sheet.
type Form int

// The forms. The comment shows the JSON value and the sheet's words for it.
const (
	FormWord        Form = iota // "bond": bond, a word of the field's list
	FormFlag                    // true: the label alone
	FormPass                    // true, false: pass, not-pass
	FormMark                    // "hand-1": hand-1
	FormTag                     // "Q-0007": Q-0007
	FormToken                   // text without spaces, bare
	FormKeyLine                 // "ssh-ed25519 AAAA…", bare
	FormText                    // an open text: "Tarnholt" in quotes
	FormFree                    // a text that is a commitment; in quotes
	FormInteger                 // 2014
	FormDay                     // "2020-03-16"
	FormMoment                  // "2020-04-09T16:30+02:00": 2020-04-09 16:30
	FormDayOrMoment             // one of the two
	FormMm                      // 740: 740 mm
	FormMonths                  // 120: 120 months
	FormPerMille                // 100: 10.0 %
	FormSlope                   // 80: 1:80
	FormDose                    // 1217: 12.17 h
	FormAft                     // 3300: 3300 aft; -50: 50 forward
	FormOff                     // -400: 400 L
	FormMmList                  // [738,1480]: 738/1480 mm
	FormRef                     // 34 or "60/1": #34, #60/1, or the tag of the entry
	FormPhoto                   // 64 hex digits: a file name in pencil, 12 digits in ink
	FormPlace                   // an object: the words of a place
	FormValues                  // an object of quantities: each an item
	FormAmount                  // the two members amount and unit: 3.6 kg
	FormOdometer                // {"reading":61240,"unit":"km"}: 61240 km
	FormLotUse                  // {"amount":…,"lot":…,"unit":…}: L-20-031 3.6 kg
	FormCoverRef                // {"cert":"Q-0007","lines":[4,5]}: Q-0007 L4 L5
	FormLimit                   // {"at-most":150,…}: at-most moisture 15.0 % "source"
	FormStage                   // {"name":"load","need":4320}: load 72 h
	FormHead                    // {"root":…,"size":64}: 64; the root is filled by the tool
	FormLedger                  // a ledger id in base64: the first 12 characters of its name
	FormChange                  // {"at":…,"new":…,"old":…}: was …, is …
	FormShape                   // an object of the field's shape
)

// Need says whether a field must be there.
type Need int

// A field may be there, must be there, or is filled by the tool.
const (
	May Need = iota
	Must
	Filled
)

// Field is one member of a kind or of a shared shape, declared once: its JSON
// member, its words in a sheet, its place in the order of asking and printing.
type Field struct {
	Name    string       // the JSON member
	Label   string       // the first word of its part or item; "" where the value comes first
	Form    Form         //
	List    string       // FormWord: the list of its words
	Shape   string       // FormShape: the name of the shape
	Many    bool         // the JSON member is an array
	Apart   bool         // each element of the list is a part of its own in a sheet
	Empty   string       // the word for a list that may be empty: none
	Need    Need         //
	Asked   bool         // asked for in its turn when a kind is filled in by question, though it need not be said
	Of      []string     // asked for only behind one of these words
	Default format.Value // always written in JSON, left out in a sheet; nil = none
	Says    string       // how a sentence names it; "" = the name in words
	Asks    string       // how a question names it; "" = as a sentence does
}

// OwnPart says whether each element of a list field is a part of its own in a
// sheet; the elements of other lists are items of one part.
func (f Field) OwnPart() bool { return f.Many && f.Apart }

// Shape is an object that several kinds share.
type Shape struct {
	Name   string
	Fields []Field
}

// ShapeNamed returns a shared shape; ok is false where there is none of that
// name.
func ShapeNamed(name string) (s Shape, ok bool) {
	fields, ok := shapes()[name]
	return Shape{Name: name, Fields: fields}, ok
}

func word(name, list string) Field { return Field{Name: name, Form: FormWord, List: list} }
func labelled(name, label string, form Form) Field {
	return Field{Name: name, Label: label, Form: form}
}
func named(name string, form Form) Field { return labelled(name, name, form) }
func (f Field) must() Field              { f.Need = Must; return f }
func (f Field) filled() Field            { f.Need = Filled; return f }
func (f Field) ask() Field               { f.Asked = true; return f }
func (f Field) of(words ...string) Field { f.Asked, f.Of = true, words; return f }
func (f Field) many() Field              { f.Many = true; return f }
func (f Field) apart() Field             { f.Many, f.Apart = true, true; return f }
func (f Field) or(v format.Value) Field  { f.Default = v; return f }
func (f Field) label(s string) Field     { f.Label = s; return f }
func (f Field) none() Field              { f.Empty = "none"; return f }
func (f Field) says(s string) Field      { f.Says = s; return f }
func (f Field) asks(s string) Field      { f.Asks = s; return f }

func shape(name, label, of string) Field {
	return Field{Name: name, Label: label, Form: FormShape, Shape: of}
}

func places() Field { return labelled("places", "at", FormPlace).apart() }
func values() Field { return Field{Name: "values", Form: FormValues} }
func with() Field   { return labelled("values", "with", FormValues) }

// shapes are the objects that several kinds share, their members in the order
// of a sheet; made when they are first asked for.
var shapes = sync.OnceValue(func() map[string][]Field {
	return map[string][]Field{
		"deck":     {named("length", FormMm).must(), named("front", FormMm).must(), named("rear", FormMm).must()},
		"build":    {word("layer", "layers").must(), named("what", FormText), values()},
		"parked":   {word("nose", "nose").must(), named("slope", FormSlope)},
		"signer":   {{Name: "name", Form: FormText, Need: Must}, labelled("place", "in", FormText).must()},
		"limit":    {{Name: "rule", Form: FormToken, Need: Must}, named("says", FormText).must()},
		"sentence": {{Name: "key", Form: FormToken, Need: Must}, named("says", FormText).must()},
		"override": {
			{Name: "rule", Form: FormToken, Need: Must}, named("reason", FormText).must(), named("by", FormMark).must(),
		},
		"whose": {word("whose", "whose").must().asks("whose hand it was"), named("entry", FormRef).of("our-shop").asks("the entry of that work")},
		"known": {word("how", "known").must().asks("how that is known"), named("who", FormMark).of("told-by").asks("who told it, by mark"), named("what", FormText).ask().asks("what shows it")},
		"said":  {word("how", "how").must().asks("how it was said"), labelled("when", "on", FormDayOrMoment).must().asks("on which day")},
		"result": {
			word("check", "checks").must().asks("which check"), places().ask(), named("came-in", FormPlace).of("hose", "dam").asks("where water came in, if it did"), labelled("lots", "lot", FormTag).many(),
			word("material", "material").label("material"), word("onto", "material").label("onto"),
			word("fastener", "fastener").of("bite"), word("failure", "fail").of("weld-strip", "peel-in-place", "bond-coupon").asks("what gave way"), values(), named("limit", FormLimit),
			{Name: "pass", Form: FormPass},
		},
		"operation": {
			word("op", "operations").must().asks("what was done"), places().ask(), named("names", FormTag), named("uses", FormLotUse).many().ask().asks("which lots, and how much of each"),
			word("fastener", "fastener").of("fasten"), word("onto", "material").label("onto").of("fasten"), values(),
		},
		"cause": {
			word("cause", "causes").must().asks("the cause"), word("sure", "sure").ask().asks("how sure"), named("check", FormRef), places(), values(),
		},
		"lot": {
			{Name: "lot", Form: FormTag, Need: Must},
			word("material", "material").must().asks("what it is"), named("maker", FormText).ask(),
			named("product", FormText).ask(), named("maker-lot", FormText).ask(), named("made", FormDay), named("use-by", FormDay).ask(),
			labelled("amount", "amount", FormAmount).ask().asks("how much came for this coach"), named("packs", FormInteger), named("opened", FormDay),
			labelled("stages", "stage", FormStage).many(), word("fits", "material").label("fits").many(),
			named("what", FormText), values(),
		},
		"cover line": {
			{Name: "line", Form: FormInteger, Need: Must},
			word("promise", "promise").must(), places().must(),
			labelled("first-day", "from", FormDay).must(), labelled("months", "for", FormMonths).must(),
			labelled("full-months", "full", FormMonths).must(), named("floor", FormPerMille),
			named("upkeep", FormFlag).or(false),
		},
		"opening": {
			{Name: "name", Form: FormTag, Need: Must},
			word("part", "elements").must(),
			labelled("aft", "centre", FormAft).must(), named("off", FormOff).must(), values(),
		},
		"log point": {{Name: "at", Form: FormMoment, Need: Must, Asks: "time of the reading"}, values().ask()},
		"looked": {
			word("did", "did").must().asks("what was done"), places().ask(), named("uses", FormLotUse).many(),
			word("material", "material").label("material"), labelled("photos", "photo", FormPhoto).many(), values(),
		},
		"found": {word("what", "later-work").must().asks("what was put there"), places().ask(), values()},
		"judged": {
			word("verdict", "verdict").must(), places(), labelled("day", "on", FormDay), named("line", FormToken),
			named("share", FormPerMille), named("most", FormPerMille), labelled("grounds", "ground", FormText).many(),
			word("check", "checks").label("check"), named("who", FormText), named("out", FormText).many(),
		},
		"release": {
			word("stage", "stages").must().asks("for which stage"), named("dose", FormDose).filled(), named("earliest", FormMoment).filled(),
			named("look", FormText).ask().asks("how it looks"),
		},
	}
})
