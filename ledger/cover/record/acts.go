package record

import (
	"cmp"
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
)

// upkeep is one look at the places of lines: each place of each line named, as
// it was looked at.
func (s *source) upkeep(a *ledger.Act) cover.Upkeep {
	out := cover.Upkeep{Day: a.Day(), By: a.Text("done-by"), Ref: a.No.String()}
	if out.By == "our-shop" && a.House {
		out.By = cover.ByShop
	}
	for _, ref := range ledger.Objects(a.Body["covers"]) {
		no, _ := s.r.Tagged(text(ref, "cert"))
		cert := s.r.Act(no)
		if cert == nil || cert.Kind != "certificate" {
			continue
		}
		for _, l := range s.linesOf(cert) {
			if named := ledger.Ints(ref["lines"]); len(named) == 0 || slices.Contains(named, l.Number) {
				out.Seen = append(out.Seen, s.seen(a, text(ref, "cert"), l)...)
			}
		}
	}
	return out
}

// seen is how each place of a line was left.
func (s *source) seen(a *ledger.Act, cert string, l rules.Line) []cover.Seen {
	var out []cover.Seen
	for _, o := range ledger.Objects(a.Body["looked"]) {
		for _, looked := range rules.Spots(s.r, a, ledger.PlacesOf(o["places"]), nil) {
			for i, spot := range l.Spots {
				if !rules.Serves(looked, spot) {
					continue
				}
				for _, name := range s.namesOf(l, i) {
					out = append(out, cover.Seen{
						Certificate: cert, Line: "L" + ledger.Decimal(l.Number), Place: name, State: text(o, "did"),
						Photos: len(ledger.Texts(o["photos"])), Sealant: s.sealant(o),
					})
				}
			}
		}
	}
	return out
}

// namesOf are the names under which a place of a line stands among its places.
func (s *source) namesOf(l rules.Line, at int) []string {
	all := line(l, day.Day{}, s.deck()).Places
	n := 0
	for i := range at {
		n += len(Boxes(l.Spots[i].Region, s.deck()))
	}
	var out []string
	for i := range Boxes(l.Spots[at].Region, s.deck()) {
		out = append(out, all[n+i].Place)
	}
	return out
}

// sealant is the kind of what a place was sealed with: as said, else that of the
// lot that was used first, or its number where no delivery says what it is.
func (s *source) sealant(looked format.Object) string {
	if kind := text(looked, "material"); kind != "" {
		return kind
	}
	uses := ledger.Objects(looked["uses"])
	if len(uses) == 0 {
		return ""
	}
	id := text(uses[0], "lot")
	if lot, known := s.r.Lots[id]; known {
		return text(lot.Shape, "material")
	}
	return id
}

// leftAtUpkeep are the places that an upkeep left as they were.
func (s *source) leftAtUpkeep(a *ledger.Act) []cover.Left {
	var out []cover.Left
	for _, o := range ledger.Objects(a.Body["looked"]) {
		if text(o, "did") == "left" {
			for _, spot := range rules.Spots(s.r, a, ledger.PlacesOf(o["places"]), nil) {
				out = append(out, s.lefts(a, a.Day(), cover.KindLeak, spot.Region)...)
			}
		}
	}
	return out
}

// lefts are the boxes of a trouble that was left, each with the day it was
// mended.
func (s *source) lefts(a *ledger.Act, on day.Day, kind string, region place.Region) []cover.Left {
	var out []cover.Left
	for _, box := range Boxes(region, s.deck()) {
		out = append(out, cover.Left{Day: on, Kind: kind, Box: box, Mended: s.mended(a, on, kind, region, box), Ref: a.No.String()})
	}
	return out
}

// left are the troubles that a decision leaves: each place of each finding it
// answers, of an opening the clear size.
func (s *source) left(a *ledger.Act) []cover.Left {
	if !rules.LeavesTrouble(a.Text("choice")) {
		return nil
	}
	var out []cover.Left
	none := int64(0)
	for _, no := range a.Refs("answers") {
		f := s.r.Act(no)
		if f == nil || f.Kind != "finding" {
			continue
		}
		places := f.Places()
		for i := range places {
			if places[i].Shape == place.Named {
				places[i].Skirt = &none
			}
		}
		for _, spot := range rules.Spots(s.r, f, places, nil) {
			out = append(out, s.lefts(a, a.Day(), ledger.TroubleOf(f.Text("defect")), spot.Region)...)
		}
	}
	return out
}

// mend is what can mend a trouble: closed work of anyone, or an upkeep.
type mend struct {
	act    *ledger.Act
	upkeep bool
	layers []string
	region place.Region
	boxes  []cover.Box
}

// mends are all of them, worked out once.
func (s *source) mends() []mend {
	if s.allMends != nil {
		return s.allMends
	}
	add := func(a *ledger.Act, upkeep bool, spots []rules.Spot) {
		for _, spot := range spots {
			s.allMends = append(s.allMends, mend{a, upkeep, spot.Layers, spot.Region, Boxes(spot.Region, s.deck())})
		}
	}
	for _, op := range rules.ClosedByAnyone(s.r) {
		add(op.Act, false, op.Spots(s.r))
	}
	for _, a := range s.r.OfKind("upkeep") {
		for _, o := range ledger.Objects(a.Body["looked"]) {
			if did := text(o, "did"); a.Counts && (did == "done" || did == "resealed") {
				add(a, true, rules.Spots(s.r, a, ledger.PlacesOf(o["places"]), nil))
			}
		}
	}
	return s.allMends
}

// mended is the first later day on which closed work of anyone, in a layer that
// touches the trouble, or for a leak an upkeep, holds the place.
func (s *source) mended(a *ledger.Act, on day.Day, kind string, region place.Region, box cover.Box) day.Day {
	var first day.Day
	for _, m := range s.mends() {
		d := m.act.Day()
		later := on.Before(d) || on == d && a.Before(m.act)
		touches := m.upkeep && kind == cover.KindLeak || !m.upkeep && cover.Touches(kind, m.layers)
		if !later || !touches || !first.IsZero() && !d.Before(first) {
			continue
		}
		if slices.ContainsFunc(m.boxes, box.Inside) && m.region.Holds(region, 0) {
			first = d
		}
	}
	return first
}

// ownWork is what the holder does himself: the innermost layer of each place,
// else its part or name.
func (s *source) ownWork(a *ledger.Act) []cover.OwnWork {
	if a.Text("choice") != "holder-does" {
		return nil
	}
	var out []cover.OwnWork
	for _, spot := range rules.Spots(s.r, a, a.Places(), nil) {
		p := spot.Place
		what := cmp.Or(p.Part, p.Name, "work")
		if n := len(p.Layers); n > 0 {
			what = p.Layers[n-1]
		}
		for _, box := range Boxes(spot.Region, s.deck()) {
			out = append(out, cover.OwnWork{What: what, Box: box, Ref: a.No.String()})
		}
	}
	return out
}

// sale is a sale and the day the house was told of it: as said, or by a claim of
// that holder or a later one.
func (s *source) sale(a *ledger.Act) cover.Sale {
	out := cover.Sale{Day: dayOf(a.Text("sold")), Told: dayOf(object(a.Body["told"], "when")), SameKeeper: a.Body["same-keeper"] == true}
	if out.Told.IsZero() {
		out.Told = a.Day()
	}
	holders := s.holdersFrom(a)
	for _, b := range s.r.OfKind("claim") {
		reported := dayOf(object(b.Body["reported"], "when"))
		if b.Counts && slices.Contains(holders, b.Text("holder")) && !reported.IsZero() && reported.Before(out.Told) {
			out.Told = reported
		}
	}
	return out
}

// holdersFrom are the holders of a sale and of later ones.
func (s *source) holdersFrom(a *ledger.Act) []string {
	var out []string
	for _, b := range s.r.OfKind("transfer") {
		if b.Counts && (b == a || dayOf(a.Text("sold")).Before(dayOf(b.Text("sold")))) {
			out = append(out, b.Text("to-holder"))
		}
	}
	return out
}

// usualLayers are those that work by others is in where none is said: the
// weather skin. Doubt is read for the holder.
var usualLayers = []string{"membrane", "skin"}

// laterWork is work by others as the house wrote it. Known is the day it reached
// the house; one that was only guessed from signs, or of which not every place
// has a photo, was not declared.
func (s *source) laterWork(a *ledger.Act) []cover.LaterWork {
	by := object(a.Body["whose"], "whose")
	base := cover.LaterWork{Day: lastDay(ledger.Texts(a.Body["done"])), By: cmp.Or(by, "unknown"), Ref: a.No.String()}
	if base.Day.IsZero() {
		base.Day = a.Day()
	}
	var all []rules.Spot
	places := 0
	for _, o := range ledger.Objects(a.Body["found"]) {
		list := ledger.PlacesOf(o["places"])
		places += len(list)
		all = append(all, rules.Spots(s.r, a, list, usualLayers)...)
	}
	if told(a) && len(ledger.Texts(a.Body["photos"])) >= places {
		base.Known = a.Day()
	}
	return s.works(base, all)
}

// told says whether it is known otherwise than by guess.
func told(a *ledger.Act) bool {
	return slices.ContainsFunc(ledger.Objects(a.Body["known"]), func(o format.Object) bool {
		return text(o, "how") != "from-signs" && text(o, "how") != "not-asked"
	})
}

func lastDay(list []string) day.Day {
	var last day.Day
	for _, d := range list {
		if one := dayOf(d); last.Before(one) {
			last = one
		}
	}
	return last
}

// guestWork is work that a guest wrote himself and the house took over: declared
// by his own entry.
func (s *source) guestWork(a *ledger.Act) []cover.LaterWork {
	base := cover.LaterWork{Day: a.Day(), By: Name(s.r, a), Declared: true, Ref: a.No.String()}
	var all []rules.Spot
	for _, op := range rules.Ops(a) {
		if !slices.Contains(untouching, op.Word) {
			all = append(all, op.Spots(s.r)...)
		}
	}
	return s.works(base, all)
}

// untouching are operations that enter no layer.
var untouching = []string{"tarp", "dry-out"}

// works puts places together that share their layers and the day they were taken
// back.
func (s *source) works(base cover.LaterWork, all []rules.Spot) []cover.LaterWork {
	var out []cover.LaterWork
	for _, spot := range all {
		one := base
		one.Layers, one.Back = spot.Layers, s.takenBack(base.Day, spot.Region)
		at := slices.IndexFunc(out, func(w cover.LaterWork) bool { return w.Back == one.Back && slices.Equal(w.Layers, one.Layers) })
		if at < 0 {
			out = append(out, one)
			at = len(out) - 1
		}
		out[at].Boxes = append(out[at].Boxes, Boxes(spot.Region, s.deck())...)
	}
	return out
}

// takenBack is the first day from which a place is taken back that others
// worked at.
func (s *source) takenBack(worked day.Day, region place.Region) day.Day {
	var first day.Day
	for _, a := range s.r.OfKind("standing") {
		from := dayOf(a.Text("from"))
		if !a.Counts || a.Text("to") != "taken-back" || from.Before(worked) || !first.IsZero() && !from.Before(first) {
			continue
		}
		var at place.Region
		for _, spot := range rules.Spots(s.r, a, a.Places(), nil) {
			at = at.Union(spot.Region)
		}
		if at.Holds(region, 0) {
			first = from
		}
	}
	return first
}

func (s *source) standings(a *ledger.Act) []cover.Standing {
	word := a.Text("to")
	if word != cover.WordWithdrawn && word != cover.WordEnded {
		return nil
	}
	var out []cover.Standing
	for _, ref := range ledger.Objects(a.Body["covers"]) {
		one := cover.Standing{
			Certificate: text(ref, "cert"), Word: word, Day: dayOf(a.Text("from")), Told: dayOf(object(a.Body["told"], "when")),
			Reason: a.Text("ground"), ReplacedBy: a.Text("replaced-by"), Ref: a.No.String(),
		}
		if word == cover.WordEnded {
			one.Lines = lineNames(ref)
		}
		out = append(out, one)
	}
	return out
}

// handOver is a hand-over, once its take-on stands, or one to nobody.
func (s *source) handOver(a *ledger.Act, claim ledger.No) []cover.HandOver {
	out := cover.HandOver{Day: a.Day(), From: Name(s.r, a), OpenClaims: a.Refs("open-claims") != nil, Ref: a.No.String()}
	if claim != (ledger.No{}) {
		out.OpenClaims = slices.Contains(a.Refs("open-claims"), claim)
	}
	if a.Body["to"] == nil {
		return []cover.HandOver{out}
	}
	on := slices.IndexFunc(s.r.OfKind("take-on"), func(b *ledger.Act) bool { return b.Counts && slices.Contains(b.Refs("answers"), a.No) })
	if on < 0 {
		return nil
	}
	out.To = cmp.Or(object(s.r.OfKind("take-on")[on].Body["shop"], "name"), object(a.Body["to"], "name"))
	for _, ref := range ledger.Objects(a.Body["covers"]) {
		lines := lineNames(ref)
		if len(lines) == 0 {
			lines = []string{"*"}
		}
		for _, l := range lines {
			out.Lines = append(out.Lines, text(ref, "cert")+"/"+l)
		}
	}
	return []cover.HandOver{out}
}
