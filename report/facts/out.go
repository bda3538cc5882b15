package facts

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/english"
	"lapmark/report/say"
)

// acts are the entries that a list of the certificate names.
func (s *subject) acts(list string) []*ledger.Act {
	var out []*ledger.Act
	for _, no := range s.cert.Refs(list) {
		if a := s.r.Act(no); a != nil {
			out = append(out, a)
		}
	}
	return out
}

// notLooked are the places nobody has looked at, as far as nothing opened them
// since.
func (s *subject) notLooked() []report.NotLooked {
	var out []report.NotLooked
	for _, a := range s.acts("unseen") {
		region := s.unopened(a)
		if region.Empty() {
			continue
		}
		out = append(out, report.NotLooked{
			Area: region.Area(), Where: s.unseenAt(a.Places(), region), AtHolderWish: s.wished(a, region),
		})
	}
	return out
}

// unopened is what of a place not looked at lies on the deck and was neither
// opened nor closed again in one of its layers later on.
func (s *subject) unopened(a *ledger.Act) place.Region {
	region, err := s.r.Region(a, a.Places())
	if err != nil {
		return place.Region{}
	}
	region = s.deck.Intersect(region)
	layers := layersOf(a.Places())
	for _, b := range s.r.Acts {
		if b.Kind != "work" || !b.Counts || b.Before(a) {
			continue
		}
		for _, op := range rules.Ops(b) {
			if !opens(op, layers) {
				continue
			}
			if at, err := s.r.Region(b, op.Places); err == nil {
				region = region.Minus(at)
			}
		}
	}
	return region
}

// opens says whether an operation lets somebody look at one of the layers.
func opens(op rules.Op, layers []string) bool {
	switch op.Word {
	case "tarp", "take-off-fitting", "dry-out":
		return false
	}
	at := layersAt(op)
	return len(layers) == 0 || op.Word == "open-up" && len(at) == 0 || sharesLayer(at, layers)
}

func layersOf(places []place.Place) []string {
	var out []string
	for _, p := range places {
		for _, l := range p.Layers {
			if !slices.Contains(out, l) {
				out = append(out, l)
			}
		}
	}
	return out
}

// unseenAt says how deep and where nobody has looked; "there" is what the
// sentence before it says.
func (s *subject) unseenAt(places []place.Place, region place.Region) string {
	deep := deepOf(places)
	if same(region, s.deck.Minus(s.field)) {
		return deep + " there"
	}
	return deep + " " + s.behind(region)
}

// deepOf says how deep nobody has looked: "under the skin".
func deepOf(places []place.Place) string {
	layers := layersOf(places)
	switch {
	case len(layers) == 0:
		return "of the roof"
	case !slices.ContainsFunc(layers, outside) && len(layers) > 1:
		return "under the skin"
	}
	return "of " + say.Layers(layers)
}

// outside says whether a layer is seen from outside.
func outside(layer string) bool {
	return slices.Contains([]string{"coating", "membrane", "over-deck", "skin"}, layer)
}

// wished says whether a place was not opened because the holder did not want
// it: a decision says so, or the reason given.
func (s *subject) wished(a *ledger.Act, region place.Region) bool {
	if strings.Contains(s.r.Opened[a.No]["why"], "holder's wish") {
		return true
	}
	return slices.ContainsFunc(s.r.Acts, func(b *ledger.Act) bool {
		if b.Kind != "decision" || !b.Counts || b.Text("choice") != "refuse-opening" {
			return false
		}
		at, err := s.r.Region(b, b.Places())
		return err == nil && at.Overlaps(region)
	})
}

// left are the troubles that a decision left and no closed work has mended
// since: each place of each finding it answers, or its own places where it
// answers none.
func (s *subject) left() []report.LeftTrouble {
	var out []report.LeftTrouble
	for _, d := range s.acts("left") {
		if d.Text("choice") == "another-shop" {
			continue
		}
		one := report.LeftTrouble{Day: dayOf(d.Day()), Consequence: s.r.Opened[d.No]["warned"]}
		found := s.findings(d)
		for _, f := range found {
			for _, p := range s.unmended(d, f) {
				one.Place, one.What = english.Capital(short(p)), say.Trouble(f)
				out = append(out, one)
			}
		}
		if places := s.unmended(d, d); len(found) == 0 && len(places) > 0 {
			one.Place, one.What = english.Capital(s.listed(places)), unanswered[d.Text("choice")]
			out = append(out, one)
		}
	}
	return out
}

// unmended are the places of a decision, or of a finding that it answers, that
// no closed work lies over since: in a layer of the place, or of the promises
// that answer for the trouble, as the proposal takes them into its lines.
func (s *subject) unmended(decision, a *ledger.Act) []place.Place {
	var out []place.Place
	for _, p := range a.Places() {
		layers := p.Layers
		if a.Kind == "finding" {
			layers = layersOfTrouble(a)
		}
		if at, err := clearAt(s.r, a, p); err != nil || !mended(s.r, decision, at, layers) {
			out = append(out, p)
		}
	}
	return out
}

// layersOfTrouble are the layers of the promises that answer for a finding.
func layersOfTrouble(finding *ledger.Act) []string {
	var out []string
	for _, p := range ledger.Promises() {
		if slices.Contains(p.Answers, ledger.TroubleOf(finding.Text("defect"))) {
			out = append(out, p.Layers...)
		}
	}
	return out
}

// unanswered says what became of a place that a decision leaves though nothing
// was found there.
var unanswered = map[string]string{
	"leave": "as it is", "refuse-opening": "not opened", "no-answer": "no answer was given",
}

// findings are the findings that a decision answers.
func (s *subject) findings(d *ledger.Act) []*ledger.Act {
	var out []*ledger.Act
	for _, no := range d.Refs("answers") {
		if a := s.r.Act(no); a != nil && a.Kind == "finding" {
			out = append(out, a)
		}
	}
	return out
}

// anotherShop are the places the holder gave to another shop and that this
// one did not close since.
func (s *subject) anotherShop() []report.AnotherShop {
	var out []report.AnotherShop
	for _, d := range s.acts("left") {
		if places := s.unmended(d, d); d.Text("choice") == "another-shop" && len(places) > 0 {
			out = append(out, report.AnotherShop{Place: english.Capital(s.listed(places)), Day: dayOf(d.Day())})
		}
	}
	return out
}

// ownWork are the places the holder keeps for himself and that this shop did
// not close since.
func (s *subject) ownWork() []string {
	var out []string
	for _, d := range s.acts("owner-work") {
		if places := s.unmended(d, d); len(places) > 0 {
			out = append(out, english.Capital(s.listed(places)))
		}
	}
	return out
}

// listed says places as they stand in a list: "lining 4500–7400 mm".
func (s *subject) listed(places []place.Place) string {
	var out []string
	for _, p := range places {
		out = append(out, s.item(p))
	}
	return english.List(out)
}

// item says one place: its layers, its element, its numbers.
func (s *subject) item(p place.Place) string {
	var words []string
	if len(p.Layers) > 0 {
		words = append(words, say.Layers(p.Layers))
	}
	region, err := s.roof.Work(p)
	box, ok := region.Bounds(place.RoofPlane)
	if p.Shape != place.Field || err != nil || !ok {
		p.Layers = nil
		return strings.Join(append(words, short(p)), " ")
	}
	if p.Part != "" {
		words = append(words, ledger.Said("elements", p.Part))
	}
	return strings.Join(append(words, s.rect(box)), " ")
}
