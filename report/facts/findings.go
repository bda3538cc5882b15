package facts

import (
	"cmp"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/report"
	"lapmark/report/english"
	"lapmark/report/plan"
	"lapmark/report/say"
)

// Findings gathers a findings paper: what counts as found by now, what nobody
// looked at, what was read of the moisture, and the promises of the terms. What
// only the holder may read is on the own copy alone.
func Findings(r *ledger.Replay, o Options) report.FindingsFacts {
	in := r.Intake()
	f := report.FindingsFacts{
		Terms: o.Terms, Coach: coachOf(r), Head: o.Head, Given: o.Given, Copy: o.Copy,
		DayIn: dayOf(in.Day()), Looked: lookedOn(r), Promised: promised(o.Terms), Earlier: earlier(r, o.Head.UpTo),
	}
	if days, ok := in.Body["rain-days"].(int64); ok {
		f.LastRain = dayOf(in.Day().AddDays(-int(days)))
	}
	if list, ok := in.Body["papers-shown"].(format.Array); ok {
		f.PapersShown = true
		f.Papers = append(f.Papers, ledger.Texts(list)...)
	}
	if o.Copy == report.OwnCopy {
		f.HolderName = o.HolderName
		f.Asked = mayRead(r, o.Copy)[in.No]["complaint"]
	}
	s := newSurvey(r, o)
	for _, a := range s.found {
		f.Findings = append(f.Findings, s.finding(a))
	}
	f.Uncounted = s.uncounted()
	s.unseen(&f)
	f.Where = s.whereFound()
	f.Plan = s.plan()
	f.Moisture = s.moisture()
	return f
}

// survey is a roof as it was found. Where the deck was not measured, subject has
// no area.
type survey struct {
	subject
	found   []*ledger.Act // the findings that count, by how soon and place
	regions map[*ledger.Act]place.Region
	names   map[string]string
}

func newSurvey(r *ledger.Replay, o Options) *survey {
	s := &survey{subject: subject{r: r, o: o, roof: r.Roof()}, regions: map[*ledger.Act]place.Region{}, names: guestNames(r)}
	if deck, err := s.roof.Work(place.Place{Shape: place.Field}); err == nil {
		s.deck = deck
	}
	for _, a := range r.Acts {
		if a.Kind != "finding" || !a.Counts || s.worked(a) {
			continue
		}
		s.found = append(s.found, a)
		if at, err := r.Region(a, a.Places()); err == nil {
			s.regions[a] = s.deck.Intersect(at)
		}
	}
	slices.SortStableFunc(s.found, func(a, b *ledger.Act) int {
		return cmp.Or(cmp.Compare(soonness(b), soonness(a)), cmp.Compare(s.front(a), s.front(b)))
	})
	return s
}

// soonness puts findings in order: the later a word stands in its list, the
// sooner it presses.
func soonness(a *ledger.Act) int {
	return slices.IndexFunc(ledger.WordsOf("soon"), func(w ledger.Word) bool { return w.Name == a.Text("soon") })
}

// front is where a finding begins behind the front edge; what has no area comes
// last.
func (s *survey) front(a *ledger.Act) int64 {
	box, ok := s.regions[a].Bounds(place.RoofPlane)
	if !ok {
		return place.Farthest
	}
	return box.Front
}

// worked says whether closed work lies over all places of a finding since.
func (s *survey) worked(a *ledger.Act) bool {
	return len(a.Places()) > 0 && len(s.unmended(a, a)) == 0
}

// lookedOn are the days of the findings, of what was not looked at and of the
// readings on the roof that count, each once.
func lookedOn(r *ledger.Replay) []report.Day {
	var days []day.Day
	for _, a := range r.Acts {
		reading := slices.ContainsFunc(ledger.Objects(a.Body["results"]), func(o format.Object) bool { return o["places"] != nil })
		if a.Counts && (a.Kind == "finding" || a.Kind == "not-looked-at" || a.Kind == "check" && reading) {
			days = append(days, a.Day())
		}
	}
	slices.SortFunc(days, func(a, b day.Day) int {
		switch {
		case a.Before(b):
			return -1
		case b.Before(a):
			return 1
		}
		return 0
	})
	var out []report.Day
	for _, d := range slices.Compact(days) {
		out = append(out, dayOf(d))
	}
	return out
}

// promised are the lines that the terms have a length for.
func promised(t report.Terms) []report.CertificateLine {
	var out []report.CertificateLine
	for _, p := range t.Promises {
		if p.Months == 0 {
			continue
		}
		l := report.CertificateLine{
			Number: len(out) + 1, Promise: p.Promise, Months: p.Months, Full: p.Full, Floor: p.Floor * 10, Upkeep: p.Upkeep,
		}
		if l.Full < l.Months {
			l.Shares = shares(l.Months, l.Full, l.Floor)
		}
		out = append(out, l)
	}
	return out
}

// finding is one finding in words.
func (s *survey) finding(a *ledger.Act) report.Finding {
	opened := s.r.Opened[a.No]
	f := report.Finding{
		Tag: tagOf(a), Day: dayOf(a.Day()), Defect: say.Defect(a), Deep: ledger.Said("deep", a.Text("deep")),
		Soon: a.Text("soon"), SoonSays: ledger.Said("soon", a.Text("soon")), Place: say.Places(bare(a.Places())),
		Measured: measured(a), Cause: say.Causes(a), Whose: say.Whose(s.r, a), Notes: s.notes(a), Trade: s.trade(a),
		Decided: s.decided(a), NoPhoto: opened["no-photo"],
	}
	for _, hash := range ledger.Texts(a.Body["photos"]) {
		f.Photos = append(f.Photos, report.FindingPhoto{JPEG: s.o.Pictures[hash]})
	}
	return f
}

// tagOf is what a finding is called: by its tag, else by its number.
func tagOf(a *ledger.Act) string { return cmp.Or(a.Text("tag"), a.No.String()) }

// bare are places without their layers: how deep says the finding itself.
func bare(places []place.Place) []place.Place {
	out := slices.Clone(places)
	for i := range out {
		out[i].Layers = nil
	}
	return out
}

// measured says what was measured of a finding, and what a check of it read.
func measured(a *ledger.Act) string {
	var out []string
	if says := say.Values(object(a.Body["values"])); says != "" {
		out = append(out, says)
	}
	for _, o := range ledger.Objects(a.Body["results"]) {
		if says := reading(text(o, "check"), object(o["values"])); says != "" {
			out = append(out, ledger.Said("checks", text(o, "check"))+" "+says)
		}
	}
	if len(out) == 0 {
		return ledger.Said("sure", a.Text("sure"))
	}
	return strings.Join(out, "; ")
}

// notes say that a finding was corrected, or is a guest's that the house took
// over.
func (s *survey) notes(a *ledger.Act) []string {
	var out []string
	for _, c := range a.Corrected {
		if says := "Corrected by entry " + c.By.String() + "."; !slices.Contains(out, says) {
			out = append(out, says)
		}
	}
	if says := standing(s.r, a, s.names); says != "" {
		out = append(out, says)
	}
	return out
}

// licensed are the parts with gas, mains, solar or cooling lines.
var licensed = []string{"air-conditioner", "refrigerator-vent", "flue", "cable-gland", "solar-mount"}

// trade says whether a finding lies at a part that a licensed trade has to see
// to.
func (s *survey) trade(a *ledger.Act) bool {
	return slices.ContainsFunc(a.Places(), func(p place.Place) bool {
		part := p.Part
		if p.Shape == place.Named {
			part = s.roof.Openings[p.Name].Part
		}
		return slices.Contains(licensed, part)
	})
}

// decided says the newest decision of the holder on a finding that is one of
// the choices.
func (s *survey) decided(a *ledger.Act) string {
	says := ""
	for _, b := range s.r.Acts {
		if b.Kind == "decision" && b.Counts && b.Text("choice") != "look-further" && slices.Contains(b.Refs("answers"), a.No) {
			says = "decided on " + b.Day().Long() + ": " + ledger.Said("choice", b.Text("choice"))
		}
	}
	return says
}

// uncounted says which findings of the ledger do not count, or no longer: those
// of guests, doubtful ones, those struck out, those that work lies over.
func (s *survey) uncounted() []string {
	var out []string
	for _, a := range s.r.Acts {
		if a.Kind != "finding" || slices.Contains(s.found, a) {
			continue
		}
		says := tagOf(a) + ", " + say.Defect(a) + ", " + say.Places(bare(a.Places())) + ": "
		switch {
		case a.StruckBy != (ledger.No{}):
			says += "not about this coach, says entry " + a.StruckBy.String() + "."
		case a.Counts:
			says += "closed work lies over it since."
		default:
			says += cmp.Or(standing(s.r, a, s.names), "it does not count for "+s.r.HouseName()+".")
		}
		out = append(out, says)
	}
	return out
}

// unseen gathers what nobody has looked at: areas, or the places as they were
// said where they have none.
func (s *survey) unseen(f *report.FindingsFacts) {
	for _, a := range s.notLookedAt() {
		region, wish := s.unopened(a), strings.Contains(s.r.Opened[a.No]["why"], "holder's wish")
		switch {
		case s.deck.Empty():
			says := english.Capital(say.Places(a.Places())) + ": nobody has looked at it."
			if why := s.r.Opened[a.No]["why"]; why != "" {
				says += " " + english.Sentence(english.Capital(why))
			}
			f.NotLookedSaid = append(f.NotLookedSaid, says)
		case !region.Empty():
			f.NotLooked = append(f.NotLooked, report.NotLooked{
				Area: region.Area(), Where: deepOf(a.Places()) + " " + s.behind(region), AtHolderWish: wish || s.wished(a, region),
			})
		}
	}
	switch rest := s.notOpened(); {
	case !rest.Empty():
		f.Unopened, f.UnopenedMany = s.rest(rest)
	case len(f.NotLookedSaid) > 0:
		f.Unopened = "Part of the roof"
	}
}

// notLookedAt are the entries that say so and count.
func (s *survey) notLookedAt() []*ledger.Act {
	var out []*ledger.Act
	for _, a := range s.r.Acts {
		if a.Kind == "not-looked-at" && a.Counts {
			out = append(out, a)
		}
	}
	return out
}

// notOpened is all of the deck that nobody has looked at.
func (s *survey) notOpened() place.Region {
	var out place.Region
	for _, a := range s.notLookedAt() {
		out = out.Union(s.unopened(a))
	}
	return out
}

// whereFound says where the findings lie, where what was opened is one part
// across the whole deck: "all behind 3700 mm but two".
func (s *survey) whereFound() string {
	open := s.deck.Minus(s.notOpened())
	all := s.patches(open)
	if len(s.found) == 0 || len(all) != 1 || !all[0].wide || same(open, s.deck) {
		return ""
	}
	out := 0
	for _, a := range s.found {
		at := s.regions[a]
		if at.Empty() || 2*open.Intersect(at).Area() < at.Area() {
			out++
		}
	}
	switch {
	case out == len(s.found):
		return ""
	case out == 0 && len(s.found) == 1:
		return s.behind(open)
	case out == 0:
		return "all " + s.behind(open)
	}
	return "all " + s.behind(open) + " but " + english.InWords(out)
}

// plan draws what was found; nil of a roof that was not measured.
func (s *survey) plan() *report.FindingsPlan {
	if s.deck.Empty() {
		return nil
	}
	in := plan.FindingsInput{Roof: s.planRoof()}
	out := report.FindingsPlan{}
	for _, a := range s.found {
		at := drawn(s.regions[a])
		places := a.Places()
		says := tagOf(a) + ": " + say.Defect(a) + ", " + say.Places(bare(places))
		if len(at) == 0 {
			out.List = append(out.List, says+", not on the plan")
			out.Names = append(out.Names, tagOf(a)+" is not on the plan: "+say.Places(bare(places)))
			continue
		}
		spots := !slices.ContainsFunc(places, func(p place.Place) bool { return p.Shape != place.Spot })
		in.Found = append(in.Found, plan.Found{Tag: tagOf(a), Deep: deepOn(a), Soon: soonOn(a), Regions: at, Spot: spots})
		out.List = append(out.List, says)
	}
	for _, p := range s.patches(s.notOpened()) {
		in.Unseen = append(in.Unseen, drawn(p.region))
		if box := roomiest(p); area(box) >= leastBare {
			in.Statements = append(in.Statements, plan.Statement{Rect: box, Bold: []string{"Not looked at"}, Plain: []string{"not opened: dry or wet, nobody knows"}})
		}
		out.List = append(out.List, "Not looked at: "+s.rect(p.box))
		for _, at := range []int64{p.box.Front, p.box.Rear} {
			if at > 0 && at < s.length() && !slices.Contains(in.Borders, at) {
				in.Borders = append(in.Borders, at)
			}
		}
	}
	for _, o := range in.Roof.Openings {
		out.List = append(out.List, o.Name+" "+o.Says+": "+s.rect(o.Clear))
	}
	drawing, legend := plan.Findings(in)
	out.Drawing, out.Names = drawing, append(out.Names, legend.Names...)
	for _, sample := range legend.Samples {
		out.Legend = append(out.Legend, report.LegendItem{Sample: sample.Drawing, Says: sample.Says})
	}
	return &out
}

// deepOn and soonOn say how a finding is drawn; a word newer than this tool as
// the least.
func deepOn(a *ledger.Act) plan.Deep {
	return map[string]plan.Deep{
		"in-the-skin": plan.InTheSkin, "in-the-deck": plan.InTheDeck, "in-the-core": plan.InTheCore,
		"in-the-frame": plan.InTheFrame, "through-indoors": plan.ThroughIndoors,
	}[a.Text("deep")]
}

func soonOn(a *ledger.Act) plan.Soon {
	return map[string]plan.Soon{
		"before-wet-season": plan.BeforeWetSeason, "before-rain": plan.BeforeRain, "before-walking": plan.BeforeMoving,
		"before-driving": plan.BeforeMoving,
	}[a.Text("soon")]
}
