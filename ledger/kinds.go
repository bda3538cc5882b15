package ledger

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
	Roles    bool // its body is read for who may write what, whatever else is read of it
	Lacks    func(Draft) []string
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
	named("by", FormMark).many().must(),
}

func roof() []Field {
	return []Field{
		shape("deck", "deck", "deck"), named("rafters-every", FormMm), named("rafters-at", FormMmList),
		shape("build", "build", "build").apart(), shape("openings", "opening", "opening").apart(),
	}
}

func answers() Field { return named("answers", FormRef).many() }

func fields(lists ...[]Field) []Field {
	var out []Field
	for _, list := range lists {
		out = append(out, list...)
	}
	return out
}

// KindNamed returns the kind of that name; ok is false for a kind this program
// does not know.
func KindNamed(name string) (k Kind, ok bool) {
	for _, k := range kinds {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

// Kinds returns all kinds in the order of the specification.
func Kinds() []Kind { return append([]Kind(nil), kinds...) }

// Known says whether this program reads the body of the kind. Of the others it
// knows who may write them, and shows the body as it stands.
func (k Kind) Known() bool { return k.Fields != nil }

// AllFields returns the kind's own fields and those every kind has, in the
// order of a sheet.
func (k Kind) AllFields() []Field { return fields(k.Fields, commonFields) }

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

var kinds = []Kind{
	{
		Name: "intake", Says: "taken in", Cover: true, Lacks: intakeLacks,
		Fields: fields([]Field{
			named("vin", FormToken), named("serial", FormToken), named("no-vin", FormFree),
			named("builder", FormText).must(), named("model", FormText).must(), named("year", FormInteger).must(),
			named("odometer", FormOdometer),
		}, roof(), []Field{
			named("holder", FormMark).must(), labelled("owned-months", "owned", FormMonths),
			named("rain-days", FormInteger).says("days since the last rain"),
			named("papers-shown", FormText).many().none().must(),
			word("made-safe", "madesafe").label("made-safe").many().none().must(),
			named("nonce", FormToken).filled(), named("house", FormKeyLine).filled(),
			named("recovery", FormToken).filled(),
		}),
		Privates: append([]Private{
			asked("holder-name"),
			{Name: "holder-phone"},
			{Name: "holder-mail"},
			{Name: "holder-address"},
			{Name: "plate"},
			asked("complaint"),
		}, shopSees("valuables")...),
	},
	{
		Name: "measure", Says: "measured", Guest: true, Cover: true, Lacks: measureLacks,
		Fields: fields(roof(), []Field{named("crown", FormMm), shape("parked", "parked", "parked")}),
	},
	{
		Name: "finding", Says: "found", Tag: Filled, Guest: true, Cover: true, Lacks: findingLacks,
		Fields: []Field{
			word("defect", "defects").must(), word("state-of", "state-of"), places().must(), with(),
			word("between", "between").label("between"), shape("results", "checked", "result").apart(),
			shape("causes", "cause", "cause").apart(), shape("whose", "whose", "whose").or(unknownHand()),
			shape("known", "known", "known").apart(), word("deep", "deep").must(), word("soon", "soon").must(),
			word("sure", "sure").or("seen"), answers(),
		},
		Privates: shopSees("business"),
	},
	{
		Name: "not-looked-at", Says: "not looked at", Guest: true,
		Fields: []Field{places().must(), named("why", FormFree).must()},
	},
	{
		Name: "decision", Says: "the holder chose", Guest: true, Cover: true, Lacks: decisionLacks,
		Fields: []Field{
			word("choice", "choice").must(), answers(), places().filled(), named("until", FormDay),
			shape("given", "given", "said").apart().must(), named("warned", FormFree), named("holder", FormMark).filled(),
		},
		Privates: []Private{
			money("price", SightHolder), money("agreed-price", SightHolder), {Name: "signature"},
		},
	},
	{
		Name: "delivery", Says: "lots came in", Guest: true,
		Fields:   []Field{shape("lots", "lot", "lot").apart().must()},
		Privates: []Private{money("cost", SightShop)},
	},
	{Name: "lot-notice"},
	{
		Name: "work", Says: "worked", Guest: true, Cover: true, Lacks: workLacks,
		Fields: []Field{
			shape("ops", "", "operation").apart().must(), word("state", "state").or("closed"),
			named("hides", FormFlag).or(false), named("kept-dry", FormFlag), with(),
			shape("results", "checked", "result").apart(), answers(),
		},
		Privates: shopSees("hours"),
	},
	{
		Name: "cure", Says: "cure", Guest: true, Cover: true, Lacks: cureLacks,
		Fields: []Field{
			answers().must(), named("start", FormMoment), labelled("lots", "lot", FormTag).apart(),
			labelled("stages", "stage", FormStage).apart(), with(), shape("log", "log", "log point").apart(),
			word("source", "cure-source").label("source"), named("file", FormPhoto), named("sensor", FormPlace),
			shape("releases", "release", "release").apart(),
			labelled("disturbed", "disturbed-early", FormFlag).or(false),
		},
	},
	{
		Name: "check", Says: "checked", Guest: true, Cover: true,
		Fields: []Field{
			shape("results", "", "result").apart().must(), named("instrument", FormText),
			word("scale", "scale").label("scale"), with(), shape("causes", "cause", "cause").apart(), answers(),
			named("holder-present", FormFlag).or(false),
		},
	},
	{
		Name: "remark", Says: "remarked", Guest: true, Lacks: remarkLacks,
		Fields: []Field{places(), answers()},
	},
	{
		Name: "certificate", Says: "put our name to", Tag: Filled, Guest: true, Cover: true,
		Fields: []Field{
			named("holder", FormMark).must(), word("title", "title").label("title").must(),
			shape("lines", "line", "cover line").apart().must(), named("numbers", FormValues).must(),
			word("conditions", "condition").label("conditions").many().must(),
			word("exclusions", "exclusion").label("exclusions").many().must(),
			word("shop-side", "causes").label("shop-side").many().must(), named("rules", FormInteger).must(),
			named("beside", FormTag).many(), named("instead-of", FormCoverRef).many(),
			named("left", FormRef).many().filled(), named("owner-work", FormRef).many().filled(),
			named("overridden", FormRef).many().filled(), named("troubles", FormRef).many().filled(),
			named("unseen", FormRef).many().filled(),
			Field{Name: "lots", Label: "lots", Form: FormTag, Many: true}.filled(),
			named("cures", FormRef).many().filled(), named("checks", FormRef).many().filled(),
			named("language", FormToken).filled(), shape("sentences", "sentence", "sentence").apart().filled(),
		},
		Privates: []Private{asked("holder-name"), money("price", SightHolder)},
	},
	{Name: "standing", Cover: true},
	{
		Name: "given-out", Says: "given out", Guest: true,
		Fields: []Field{
			word("paper", "paper").must(), answers(), named("as-of", FormDay).must(),
			word("reader", "reader").label("reader").must(), named("to", FormMark).must(),
			word("on", "carried-on").label("on").must(), named("to-work", FormFlag),
			named("left-out", FormRef).many().filled(), named("how-to-check", FormToken).filled(),
		},
		Privates: []Private{
			{Name: "to-name"}, {Name: "face", Sight: SightPaper}, {Name: "face-pass-on", Sight: SightPaper},
		},
	},
	{Name: "upkeep", Guest: true, Cover: true},
	{Name: "later-work", Guest: true, Cover: true},
	{Name: "transfer", Cover: true},
	{Name: "claim"},
	{Name: "verdict"},
	{Name: "ruling", Cover: true},
	{
		Name: "correction", Says: "corrected", Guest: true, Cover: true, Lacks: correctionLacks,
		Fields: []Field{
			answers().must(), Field{Name: "changes", Form: FormChange}.apart(), named("not-this-coach", FormFlag),
			named("why", FormFree).must(), named("found", FormFree).must(), shape("told", "told", "said"),
		},
	},
	{Name: "key-change", Cover: true, Roles: true},
	{Name: "hand-over", Cover: true, Roles: true},
	{Name: "take-on", Cover: true, Roles: true},
	{Name: "take-in", Cover: true, Roles: true},
	{Name: "same-coach", Cover: true},
	{Name: "erased"},
}
