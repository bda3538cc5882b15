package say

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// leads say the first sentence of each kind; what they take of the members is
// not said again.
var leads = map[string]func(*speaker) string{
	"intake":        (*speaker).intake,
	"finding":       (*speaker).finding,
	"not-looked-at": (*speaker).notLooked,
	"decision":      (*speaker).decision,
	"delivery":      (*speaker).delivery,
	"work":          (*speaker).work,
	"cure":          (*speaker).cure,
	"check":         func(s *speaker) string { return s.results(s.take("results")) },
	"remark":        (*speaker).remark,
	"correction":    (*speaker).correction,
	"certificate":   (*speaker).certificate,
	"given-out":     (*speaker).givenOut,
	"lot-notice":    (*speaker).lotNotice,
	"standing":      (*speaker).standing,
	"upkeep":        (*speaker).upkeep,
	"later-work":    (*speaker).laterWork,
	"transfer":      (*speaker).transfer,
	"claim":         (*speaker).claim,
	"verdict":       (*speaker).verdict,
	"ruling":        (*speaker).ruling,
	"key-change":    (*speaker).keyChange,
	"hand-over":     (*speaker).handOver,
	"take-on":       (*speaker).takeOn,
	"take-in":       (*speaker).takeIn,
	"same-coach":    (*speaker).sameCoach,
	"erased":        (*speaker).erased,
}

// intake says which coach came in.
func (s *speaker) intake() string {
	says := "taken in: " + s.text("builder") + " " + s.text("model")
	if year, ok := s.take("year").(int64); ok {
		says += " of " + ledger.Decimal(year)
	}
	if vin := s.text("vin"); vin != "" {
		says = joined(says, "VIN "+vin)
	}
	if serial := s.text("serial"); serial != "" {
		says = joined(says, "serial "+serial)
	}
	if o, ok := s.take("odometer").(format.Object); ok {
		says = joined(says, ledger.Decimal(ledger.Int(o, "reading"))+" "+word(o["unit"])+s.mark(o))
	}
	return says
}

// finding says the defect, where, how deep, how soon; what was measured and how
// sure that is.
func (s *speaker) finding() string {
	defect := Defect(s.a)
	s.told["defect"], s.told["state-of"], s.told["between"] = true, true, true
	deep, soon := s.text("deep"), s.text("soon")
	says := defect + " at " + joined(s.where(deep), ledger.Said("deep", deep))
	if soon != "" { // a note in pencil may lack it
		says += "; " + ledger.Said("soon", soon)
	}
	s.say(says)
	return joined(Values(object(s.take("values"))), ledger.Said("sure", s.text("sure")))
}

// where says the places of a finding; their layers only where the innermost is
// not what its depth says already.
func (s *speaker) where(deep string) string {
	places := ledger.PlacesOf(s.take("places"))
	for i, p := range places {
		if n := len(p.Layers); n > 0 && depthOf(p.Layers[n-1]) == deep {
			places[i].Layers = nil
		}
	}
	return Places(places)
}

// depthOf is how deep a layer lies, a word of the list deep.
func depthOf(layer string) string {
	switch layer {
	case "coating":
		return "on-the-face"
	case "membrane", "over-deck", "skin":
		return "in-the-skin"
	case "deck", "core", "frame":
		return "in-the-" + layer
	}
	return "through-indoors"
}

func (s *speaker) notLooked() string { return "not looked at: " + at(s.take("places")) }

// decision says what the holder chose, for which findings and places.
func (s *speaker) decision() string {
	says := "the holder chose"
	if who := s.text("holder"); who != "" {
		says = "the holder (" + who + ") chose"
	}
	if answers := s.take("answers"); answers != nil {
		says += " for " + s.entries(answers)
	}
	says += ": " + ledger.Said("choice", s.text("choice"))
	if until := s.text("until"); until != "" {
		says += " until " + when(until)
	}
	return says + ", at " + at(s.take("places"))
}

func (s *speaker) remark() string {
	says := "remark"
	if answers := s.take("answers"); answers != nil {
		says += " on " + s.entries(answers)
	}
	if places := s.take("places"); places != nil {
		says += " at " + at(places)
	}
	return says
}

// correction says what was wrong in which entry, and what is right.
func (s *speaker) correction() string {
	about := s.entries(s.take("answers"))
	var changes []string
	for _, o := range ledger.Objects(s.take("changes")) {
		changes = append(changes, s.change(o))
	}
	if len(changes) == 0 {
		return about + " corrected"
	}
	return about + " corrected: " + strings.Join(changes, "; ")
}

// change says one change of a correction.
func (s *speaker) change(o format.Object) string {
	pointer := word(o["at"])
	before, after := s.part(pointer, o["old"]), s.part(pointer, o["new"])
	switch {
	case after == "":
		return before + " does not hold"
	case before == "":
		return "added " + after
	}
	return "not " + before + ", but " + after
}

// part says a part of the corrected entry, old or new.
func (s *speaker) part(pointer string, v format.Value) string {
	if v == nil {
		return ""
	}
	member, _, inList := strings.Cut(strings.TrimPrefix(pointer, "/"), "/")
	if inList {
		v = format.Array{v}
	}
	if member == "results" {
		return s.results(v)
	}
	for _, f := range s.correctedFields() {
		if f.Name == member {
			return s.plain(f, v)
		}
	}
	return member + " " + asItStands(v)
}

// correctedFields are the fields of the entry that a correction speaks of.
func (s *speaker) correctedFields() []ledger.Field {
	for _, no := range s.a.Refs("answers") {
		if b := s.r.Act(no); b != nil {
			kind, _ := ledger.KindNamed(b.Kind)
			return kind.AllFields()
		}
	}
	return nil
}

// givenOut says which paper left the house, for whom and how.
func (s *speaker) givenOut() string {
	says := ledger.Said("paper", s.text("paper")) + " given out"
	if answers := s.take("answers"); answers != nil {
		says = ledger.Said("paper", s.text("paper")) + " " + s.entries(answers) + " given out"
	}
	says += " to " + ledger.Said("reader", s.text("reader")) + " (" + s.text("to") + ") "
	on := map[string]string{"print": "on paper", "mail": "by mail", "stick": "on a stick"}
	how := s.text("on")
	if on[how] == "" {
		return joined(says+"on "+how, "as of "+when(s.text("as-of")))
	}
	return joined(says+on[how], "as of "+when(s.text("as-of")))
}

// mark says behind a part of an entry which correction put it there.
func (s *speaker) mark(o format.Object) string {
	at := slices.IndexFunc(s.a.Corrected, func(c ledger.Correction) bool {
		return c.New != nil && same(c.New, o)
	})
	if at < 0 {
		return ""
	}
	return " (corrected by entry " + s.a.Corrected[at].By.String() + ")"
}

// corrections says what was corrected that is not marked where it stands, and
// that an entry is not about this coach.
func (s *speaker) corrections() {
	for _, c := range s.a.Corrected {
		member, _, _ := strings.Cut(strings.TrimPrefix(c.At, "/"), "/")
		if _, marked := c.New.(format.Object); marked && slices.Contains(markedInPlace, member) {
			continue
		}
		s.say("corrected by entry " + c.By.String() + ": " + strings.ReplaceAll(member, "-", " "))
	}
	if s.a.StruckBy != (ledger.No{}) {
		s.say("not about this coach, says entry " + s.a.StruckBy.String())
	}
}

// markedInPlace are the members whose parts are marked where they stand.
var markedInPlace = []string{
	"results", "causes", "overrides", "build", "openings", "releases", "log", "ops", "lots", "odometer",
}
