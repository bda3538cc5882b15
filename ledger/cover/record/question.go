package record

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
)

// Shown are sure words by which a check shows a cause.
var shownBy = []string{"measured", "seen"}

// Question is what a claim asks, with what the checks that answer it have shown:
// where water came in, and why. checks are their entries.
func Question(r *ledger.Replay, claim *ledger.Act) (q cover.Question, checks []ledger.No) {
	s := sourceOf(r)
	q = cover.Question{
		Kind: claim.Text("trouble"), Noticed: dayOf(claim.Text("noticed")),
		Reported: dayOf(object(claim.Body["reported"], "when")), RefusedShelter: claim.Body["refused-shelter"] == true,
	}
	if q.Reported.IsZero() {
		q.Reported = claim.Day()
	}
	if at := s.middles(claim, claim.Places()); len(at) > 0 {
		q.Shows = &at[0]
	}
	for _, a := range r.Acts {
		if a.Counts && a.Kind == "check" && slices.Contains(a.Refs("answers"), claim.No) {
			entries := s.entries(a, q)
			q.Entries = append(q.Entries, entries...)
			if len(entries) > 0 {
				checks = append(checks, a.No)
			}
		}
	}
	if len(q.Entries) == 0 && q.Kind == cover.KindLeak {
		q.Possible, checks = s.narrowed(claim)
	}
	return q, checks
}

// entries are the places that a check found water coming in at, or, of a trouble
// judged where it shows, that place; one for each cause it shows.
func (s *source) entries(a *ledger.Act, q cover.Question) []cover.Entry {
	var at []cover.Point
	for _, o := range ledger.Objects(a.Body["results"]) {
		if p, err := ledger.PlaceOf(o["came-in"]); err == nil {
			at = append(at, s.middles(a, []place.Place{p})...)
		}
	}
	if q.Kind != cover.KindLeak && q.Shows != nil {
		at = []cover.Point{*q.Shows}
	}
	var out []cover.Entry
	for _, p := range at {
		for _, why := range shown(a) {
			out = append(out, cover.Entry{At: p, Cause: why, Shown: true})
		}
		if len(shown(a)) == 0 && q.Kind == cover.KindLeak {
			out = append(out, cover.Entry{At: p})
		}
	}
	return out
}

// shown are the causes that a check shows.
func shown(a *ledger.Act) []string {
	var out []string
	for _, o := range ledger.Objects(a.Body["causes"]) {
		if slices.Contains(shownBy, text(o, "sure")) && !slices.Contains(out, text(o, "cause")) {
			out = append(out, text(o, "cause"))
		}
	}
	return out
}

// middles are the middles of places, as they are asked.
func (s *source) middles(a *ledger.Act, places []place.Place) []cover.Point {
	var out []cover.Point
	for _, spot := range rules.Spots(s.r, a, places, nil) {
		for _, box := range Boxes(spot.Region, s.deck()) {
			out = append(out, box.Middle())
		}
	}
	return out
}

// Middles are the middles of a place, as it is asked; it is worked out against
// what is measured now.
func Middles(r *ledger.Replay, p place.Place) ([]cover.Point, error) {
	s := sourceOf(r)
	region, err := r.Region(&ledger.Act{Kind: "remark", House: true, Counts: true}, []place.Place{p})
	if err != nil {
		return nil, err
	}
	var out []cover.Point
	for _, box := range Boxes(region, s.deck()) {
		out = append(out, box.Middle())
	}
	return out, nil
}

// narrowed are the strips that let water in though nobody saw where.
func (s *source) narrowed(claim *ledger.Act) (out []cover.Box, checks []ledger.No) {
	for _, a := range s.r.OfKind("check") {
		if !a.Counts || !slices.Contains(a.Refs("answers"), claim.No) {
			continue
		}
		before := len(out)
		for _, o := range ledger.Objects(a.Body["results"]) {
			if text(o, "check") != "hose" || o["pass"] != false {
				continue
			}
			for _, spot := range rules.Spots(s.r, a, ledger.PlacesOf(o["places"]), nil) {
				out = append(out, Boxes(spot.Region, s.deck())...)
			}
		}
		if len(out) > before {
			checks = append(checks, a.No)
		}
	}
	return out, checks
}

// Body is the body of a verdict that answers entries: what was judged, by which
// rules, on which facts.
func Body(answers []ledger.No, q cover.Question, judged []cover.Answer, facts []ledger.No) format.Object {
	list := make(format.Array, len(judged))
	for i, a := range judged {
		list[i] = judgedBody(a, q, i)
	}
	body := format.Object{"rules": int64(cover.Version), "judged": list}
	for name, refs := range map[string][]ledger.No{"answers": answers, "facts": facts} {
		var out format.Array
		for _, no := range refs {
			out = append(out, no.Value())
		}
		body[name] = out
	}
	return body
}

func judgedBody(a cover.Answer, q cover.Question, i int) format.Object {
	o := format.Object{"verdict": a.Verdict, "day": a.Day.String(), "share": a.Share, "most": a.Most}
	for name, said := range map[string]string{"line": a.Line, "check": a.Check, "who": a.Who} {
		if said != "" {
			o[name] = said
		}
	}
	var grounds, out format.Array
	for _, g := range a.Grounds {
		grounds = append(grounds, g.Text())
	}
	for _, s := range a.Out {
		out = append(out, s)
	}
	o["grounds"] = grounds
	if len(out) > 0 {
		o["out"] = out
	}
	at := q.Shows
	if q.Kind == cover.KindLeak {
		at = nil
	}
	if i < len(q.Entries) {
		at = &q.Entries[i].At
	}
	if at != nil {
		o["places"] = format.Array{spot(*at)}
	}
	return o
}

func spot(p cover.Point) format.Object {
	return format.Object{"shape": "spot", "aft": p.Aft, "off": p.Off, "radius": place.UsualRadius}
}

// Used are the entries that answers rest on: the certificate that leads, what
// its grounds and what is not paid rest on, and the checks; sorted. There is
// always one.
func Used(r *ledger.Replay, f cover.Facts, judged []cover.Answer, checks []ledger.No) []ledger.No {
	out := slices.Clone(checks)
	add := func(ref string) {
		if no, ok := ledger.ParseNo(ref); ok && !slices.Contains(out, no) {
			out = append(out, no)
		}
	}
	for _, a := range judged {
		cert, _, _ := cover.LineOf(a.Line)
		for _, c := range f.Certificates {
			if c.No == cert {
				add(c.Ref)
			}
		}
		for _, g := range a.Grounds {
			if g.On == a.Line || g.On == "" {
				add(g.Ref)
			}
		}
		for _, own := range f.OwnWork {
			if slices.Contains(a.Out, "own-work "+own.What) {
				add(own.Ref)
			}
		}
	}
	if len(out) == 0 { // no line leads: it rests on every certificate, or on there being none
		for _, c := range f.Certificates {
			add(c.Ref)
		}
	}
	if len(out) == 0 {
		out = append(out, r.Intake().No)
	}
	slices.SortFunc(out, func(a, b ledger.No) int {
		if x, y := r.Act(a), r.Act(b); x != nil && y != nil && y.Follows(x) {
			return -1
		}
		return 1
	})
	return out
}
