package ledger

import "slices"

// Sight says who may see a private value: the holder of that time and the
// shop, the shop alone, or the one paper it belongs to.
type Sight int

// The three sights of a private value.
const (
	SightHolder Sight = iota
	SightShop
	SightPaper
)

// Private is a private field of a kind. It stands in an entry as a commitment
// and is always there.
type Private struct {
	Name  string
	Sight Sight
	Asked bool // asked for when the kind is filled in by question
	Money bool // a decimal with two places, a space, an ISO 4217 code
}

// Kind is one kind of entry, declared once.
type Kind struct {
	Name     string
	Says     string // what it is, for a sentence
	Tag      Need   // Filled: given by the tool when not said
	Fields   []Field
	Privates []Private
	Guest    bool // a guest may write it
	Cover    bool // it can change what a certificate still covers
	Lacks    func(Draft) []string

	all []Field // Fields and commonFields
}

func shopSees(names ...string) []Private { return privates(SightShop, names) }

func privates(sight Sight, names []string) []Private {
	out := make([]Private, len(names))
	for i, name := range names {
		out[i] = Private{Name: name, Sight: sight}
	}
	return out
}

func asked(name string) Private { return Private{Name: name, Asked: true} }
func money(name string, sight Sight) Private {
	return Private{Name: name, Sight: sight, Money: true}
}

// commonFields are the members every kind may have, in the order of a sheet;
// they follow the kind's own. The heading says the day of happened.
var commonFields = []Field{
	labelled("photos", "photo", FormPhoto).many(),
	named("no-photo", FormFree),
	shape("overrides", "override", "override").apart(),
	shape("limits", "limit-used", "limit").apart().filled(),
	named("from-paper", FormFlag),
	named("adopts", FormRef).many(),
	shape("shop", "signer", "signer"),
	named("note", FormFree),
	{Name: "private", Label: "private"},
	labelled("happened", "time", FormDayOrMoment).must(),
	named("by", FormMark).many().must().asks("who, by mark"),
}

func roof() []Field {
	return []Field{
		shape("deck", "deck", "deck"), named("rafters-every", FormMm), named("rafters-at", FormMmList),
		shape("build", "build", "build").apart(), shape("openings", "opening", "opening").apart(),
	}
}

func answers() Field { return named("answers", FormRef).many() }

func fields(lists ...[]Field) []Field { return slices.Concat(lists...) }

// KindNamed returns the kind of that name; ok is false for a kind this program
// does not know.
func KindNamed(name string) (k Kind, ok bool) {
	list := kinds()
	for i := range list { // a kind is large: none is copied to be passed over
		if list[i].Name == name {
			return list[i], true
		}
	}
	return Kind{}, false
}

// Kinds returns all kinds in the order of the specification.
func Kinds() []Kind { return append([]Kind(nil), kinds()...) }

// AllFields returns the kind's own fields and those every kind has, in the
// order of a sheet.
func (k Kind) AllFields() []Field { return k.all }

// complete gives every kind the fields that all have.
func complete(list []Kind) []Kind {
	for i := range list {
		list[i].all = slices.Clip(fields(list[i].Fields, commonFields))
	}
	return list
}

// FreeTexts returns the names of the members that are free text: commitments
// whose slips travel with the ledger.
func (k Kind) FreeTexts() []string {
	var out []string
	for _, f := range k.AllFields() {
		if f.Form == FormFree {
			out = append(out, f.Name)
		}
	}
	return out
}

// PrivateNamed returns a private field of the kind.
func (k Kind) PrivateNamed(name string) (p Private, ok bool) {
	for _, p := range k.Privates {
		if p.Name == name {
			return p, true
		}
	}
	return Private{}, false
}
