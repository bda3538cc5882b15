package say

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/report/english"
)

// phrases say members in other words than their name and value.
var phrases = map[string]func(*speaker, format.Value) string{
	"left":       func(s *speaker, v format.Value) string { return "left by the holder: " + s.entries(v) },
	"owner-work": func(s *speaker, v format.Value) string { return "the holder's own work: " + s.entries(v) },
	"overridden": func(s *speaker, v format.Value) string { return "a rule was set aside: " + s.entries(v) },
	"troubles":   func(s *speaker, v format.Value) string { return "known trouble near it: " + s.entries(v) },
	"unseen":     func(s *speaker, v format.Value) string { return "not looked at: " + s.entries(v) },
	"answers":    func(s *speaker, v format.Value) string { return "for " + s.entries(v) },
	"adopts":     func(s *speaker, v format.Value) string { return "taken over as our own: " + s.entries(v) },
	"results":    func(s *speaker, v format.Value) string { return "checked: " + s.results(v) },
	"causes":     func(s *speaker, v format.Value) string { return "cause: " + s.each(v, s.cause) },
	"whose":      (*speaker).whose,
	"known":      func(s *speaker, v format.Value) string { return "known: " + s.known(v) },
	"given":      func(s *speaker, v format.Value) string { return "said " + english.List(saysHow(v)) },
	"told": func(s *speaker, v format.Value) string {
		return "the holder was told " + english.List(saysHow(format.Array{v}))
	},
	"overrides":     func(s *speaker, v format.Value) string { return s.each(v, override) },
	"photos":        func(s *speaker, v format.Value) string { return photos(v) },
	"shop":          func(s *speaker, v format.Value) string { return "signed as " + signer(v) },
	"by":            func(s *speaker, v format.Value) string { return "by " + english.List(ledger.Texts(v)) },
	"values":        func(s *speaker, v format.Value) string { return Values(object(v)) },
	"state":         func(s *speaker, v format.Value) string { return "left " + ledger.Said("state", word(v)) },
	"hides":         func(s *speaker, v format.Value) string { return "it hides what is under it" },
	"kept-dry":      func(s *speaker, v format.Value) string { return "kept dry since it was closed" },
	"disturbed":     func(s *speaker, v format.Value) string { return "disturbed before it was cured" },
	"from-paper":    func(s *speaker, v format.Value) string { return "taken from an older paper" },
	"deck":          func(s *speaker, v format.Value) string { return deck(object(v)) },
	"rafters-every": func(s *speaker, v format.Value) string { return "rafters every " + asItStands(v) + " mm" },
	"rafters-at":    func(s *speaker, v format.Value) string { return "rafters at " + numbers(v) + " mm aft" },
	"build":         func(s *speaker, v format.Value) string { return "built of " + s.each(v, layer) },
	"openings":      func(s *speaker, v format.Value) string { return "openings: " + s.each(v, opening) },
	"parked":        func(s *speaker, v format.Value) string { return "parked " + parked(object(v)) },
	"log":           (*speaker).log,
	"releases":      func(s *speaker, v format.Value) string { return s.each(v, s.release) },
	"not-this-coach": func(s *speaker, v format.Value) string {
		return "it is not about this coach"
	},
	"holder-present": func(s *speaker, v format.Value) string { return "the holder was there" },
	"to-work":        func(s *speaker, v format.Value) string { return "lent to be worked on" },
	"same-keeper": func(s *speaker, v format.Value) string {
		return "the same person keeps it"
	},
	"refused-shelter": func(s *speaker, v format.Value) string {
		return "the holder did not want it put under cover"
	},
	"holder-says": func(s *speaker, v format.Value) string { return ledger.Said("holder-says", word(v)) },
	"second":      func(s *speaker, v format.Value) string { return "with a second mark: " + word(v) },
	"open-claims": (*speaker).openClaims,
}

// freeTexts say free texts in other words than their name.
var freeTexts = map[string]string{
	"warned": "told: ", "no-photo": "no photo: ", "no-vin": "no VIN: ", "found": "how it was found: ",
}

func freeText(name, text string) string {
	before, ok := freeTexts[name]
	if !ok {
		before = strings.ReplaceAll(name, "-", " ") + ": "
	}
	return before + `"` + text + `"`
}

// each says the elements of a list, one after another.
func (s *speaker) each(v format.Value, say func(format.Object) string) string {
	var out []string
	for _, o := range ledger.Objects(v) {
		out = append(out, say(o)+s.mark(o))
	}
	return strings.Join(out, "; ")
}

// entries names entries: by their tag where they have one.
func (s *speaker) entries(v format.Value) string {
	list, _ := v.(format.Array)
	var tags, numbers []string
	for _, one := range list {
		no, ok := ledger.NoOf(one)
		switch tag := s.r.TagOf(no); {
		case !ok:
			tags = append(tags, asItStands(one))
		case tag != "":
			tags = append(tags, tag)
		default:
			numbers = append(numbers, no.String())
		}
	}
	switch len(numbers) {
	case 0:
		return english.List(tags)
	case 1:
		return english.List(append(tags, "entry "+numbers[0]))
	}
	if len(tags) > 0 {
		return english.List(tags) + " and entries " + english.List(numbers)
	}
	return "entries " + english.List(numbers)
}

func object(v format.Value) format.Object {
	o, _ := v.(format.Object)
	return o
}

func word(v format.Value) string {
	s, _ := v.(string)
	return s
}

func (s *speaker) cause(o format.Object) string {
	sure := word(o["sure"])
	if sure == "" {
		sure = "judged"
	}
	says := joined(ledger.Said("causes", word(o["cause"])), ledger.Said("sure", sure), Values(object(o["values"])))
	if o["places"] != nil {
		says = joined(says, "at "+at(o["places"]))
	}
	if o["check"] != nil {
		says = joined(says, "by the check of "+s.entries(format.Array{o["check"]}))
	}
	return says
}

// whose says whose hand it was and how that is known; the two stand together.
func (s *speaker) whose(v format.Value) string {
	o := object(v)
	says := "whose hand: " + ledger.Said("whose", word(o["whose"]))
	if o["entry"] != nil {
		says += " (" + s.entries(format.Array{o["entry"]}) + ")"
	}
	if known := s.take("known"); known != nil {
		says += "; " + s.known(known)
	}
	return says
}

func (s *speaker) known(v format.Value) string {
	return s.each(v, func(o format.Object) string {
		says := ledger.Said("known", word(o["how"]))
		if who := word(o["who"]); who != "" {
			says += " " + who
		}
		if what := word(o["what"]); what != "" {
			says += `: "` + what + `"`
		}
		return says
	})
}

// saysHow tells how and when something was said.
func saysHow(v format.Value) []string {
	var out []string
	for _, o := range ledger.Objects(v) {
		out = append(out, ledger.Said("how", word(o["how"]))+" on "+when(word(o["when"])))
	}
	return out
}

func override(o format.Object) string {
	return `the rule ` + word(o["rule"]) + ` was set aside: "` + word(o["reason"]) + `" (` + word(o["by"]) + `)`
}

func photos(v format.Value) string {
	list, _ := v.(format.Array)
	return english.Numbered(len(list), "photo", "photos")
}

func signer(v format.Value) string {
	o := object(v)
	return word(o["name"]) + " in " + word(o["place"])
}

// when says a day or a moment: "9 April 2020", "9 April 2020 16:30".
func when(text string) string {
	if m, err := day.ParseMoment(text); err == nil {
		return m.Day().Long() + " " + m.Clock()
	}
	if d, err := day.Parse(text); err == nil {
		return d.Long()
	}
	return text
}

// openClaims says which open claims go along with a hand-over.
func (s *speaker) openClaims(v format.Value) string {
	if list, _ := v.(format.Array); len(list) == 0 {
		return "no open claim goes along"
	}
	return "open claims that go along: " + s.entries(v)
}
