package ledger

import (
	"slices"
	"strings"

	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

// Replay is a checked coach worked through from its first entry: corrections
// applied, measures known, tags and lots named. It is what rules, cover and
// papers read.
type Replay struct {
	Coach  *Coach
	Opened map[No]map[string]string // private values and free texts at hand, by entry
	Acts   []*Act                   // every entry in the order of the chain, branches behind their take-in
	acts   map[No]*Act
	tags   map[string]No
	roofs  []roofFrom
	Lots   map[string]Lot
}

// Act is one entry as it counts now.
type Act struct {
	No        No
	Entry     *Entry // nil of a draft
	Kind      string
	Body      format.Object // with corrections applied; nobody may change it
	House     bool          // by the house of that entry
	Signer    string        // public key line; "" of a draft
	Counts    bool          // a fact for the house: its own and not doubtful, or adopted; not struck out
	Adopted   No            // the house entry that adopted it, zero if none
	StruckBy  No            // the correction that says it is not about this coach, zero if none
	Corrected []Correction
}

// Correction is one change that was made to an act.
type Correction struct {
	By  No
	At  string // JSON Pointer into the body
	Old format.Value
	New format.Value
}

// Lot is a lot as its delivery into this coach says.
type Lot struct {
	By    No
	ID    string
	Shape format.Object
}

type roofFrom struct {
	at    int64  // the entry from which it answers: its own, or the one that adopted it
	guest string // the key of a guest whose measure is not adopted
	roof  place.Roof
}

// Replay works a checked coach through. opened holds the private values and
// free texts at hand.
func NewReplay(c *Coach, opened map[No]map[string]string) *Replay {
	r := &Replay{Coach: c, Opened: opened, acts: map[No]*Act{}, tags: map[string]No{}, Lots: map[string]Lot{}}
	for _, e := range c.Entries {
		r.add(e)
		for _, b := range c.Branches {
			if b.TakeIn == e.No.N {
				for _, side := range b.Items {
					r.add(side)
				}
			}
		}
	}
	r.adopt()
	r.correct()
	r.name()
	return r
}

func (r *Replay) add(e *Entry) {
	a := &Act{No: e.No, Entry: e, Kind: e.Kind(), Body: e.Body(), House: e.Role == House, Signer: e.Key}
	_, doubtful := r.Coach.Doubtful(e.No)
	a.Counts = a.House && !doubtful && e.No.Branch == 0 || e.Role == Recovery
	r.Acts = append(r.Acts, a)
	r.acts[e.No] = a
}

// adopt counts what a house entry takes as its own. A guest's adopts has no
// effect.
func (r *Replay) adopt() {
	for _, a := range r.Acts {
		if !a.House || a.No.Branch != 0 {
			continue
		}
		for _, no := range refs(a.Body["adopts"]) {
			if b := r.acts[no]; b != nil {
				b.Counts, b.Adopted = true, a.No
			}
		}
	}
}

// correct applies corrections in the order of the chain. A guest corrects his
// own entries only; the rest has no effect.
func (r *Replay) correct() {
	for _, a := range r.Acts {
		if a.Kind != "correction" {
			continue
		}
		for _, no := range refs(a.Body["answers"]) {
			b := r.acts[no]
			if b == nil || !mayCorrect(a, b) {
				continue
			}
			if a.Body["not-this-coach"] == true {
				b.StruckBy, b.Counts = a.No, false
				continue
			}
			b.change(a)
		}
	}
}

// barred are the kinds that are not corrected: a new one is written.
var barred = []string{
	"certificate", "standing", "verdict", "ruling", "key-change", "hand-over", "take-on", "take-in", "given-out",
	"erased",
}

// Barred says whether entries of a kind are never corrected.
func Barred(kind string) bool { return slices.Contains(barred, kind) }

func mayCorrect(a, b *Act) bool {
	same := a.Signer == b.Signer || a.House && b.House
	wrongCoach := a.Body["not-this-coach"] == true
	return same && !Barred(b.Kind) && (b.Kind != "intake" || !wrongCoach) && b.No != a.No
}

func (a *Act) change(by *Act) {
	list, _ := by.Body["changes"].(format.Array)
	body, _ := format.Clone(a.Body).(format.Object)
	for _, one := range list {
		o, _ := one.(format.Object)
		c := Correction{By: by.No, Old: o["old"], New: o["new"]}
		c.At, _ = o["at"].(string)
		if applyChange(body, c) {
			a.Corrected = append(a.Corrected, c)
			a.Body = body
		}
	}
}

// applyChange changes one whole part of a body: a member, or one element of a
// list. The old value must be what stands there.
func applyChange(body format.Object, c Correction) bool {
	name, index, inList := strings.Cut(strings.TrimPrefix(c.At, "/"), "/")
	if !inList {
		if !sameValue(body[name], c.Old) {
			return false
		}
		if c.New == nil {
			delete(body, name)
		} else {
			body[name] = c.New
		}
		return true
	}
	list, _ := body[name].(format.Array)
	if index == "-" {
		if c.Old != nil || c.New == nil {
			return false
		}
		body[name] = append(slices.Clone(list), c.New)
		return true
	}
	i := slices.IndexFunc(list, func(v format.Value) bool { return c.Old != nil && sameValue(v, c.Old) })
	if n, ok := listIndex(index); ok && n < int64(len(list)) && sameValue(list[n], c.Old) {
		i = int(n)
	}
	if i < 0 {
		return false
	}
	list = slices.Clone(list)
	if c.New == nil {
		list = slices.Delete(list, i, i+1)
	} else {
		list[i] = c.New
	}
	body[name] = list
	return true
}

func listIndex(s string) (int64, bool) {
	if s == "0" {
		return 0, true
	}
	return natural(s)
}

func sameValue(a, b format.Value) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	x, err := format.Encode(a)
	y, err2 := format.Encode(b)
	return err == nil && err2 == nil && string(x) == string(y)
}

// name learns tags, lots, openings, seams and measures, entry by entry.
func (r *Replay) name() {
	for _, a := range r.Acts {
		if tag, ok := a.Body["tag"].(string); ok {
			if _, taken := r.tags[tag]; !taken {
				r.tags[tag] = a.No
			}
		}
		if a.StruckBy != (No{}) {
			continue
		}
		r.learn(a)
	}
}

func (r *Replay) learn(a *Act) {
	switch a.Kind {
	case "intake", "measure":
		r.measure(a)
	case "work":
		r.seams(a)
	case "delivery":
		for _, o := range Objects(a.Body["lots"]) {
			id, _ := o["lot"].(string)
			if _, known := r.Lots[id]; !known {
				r.Lots[id] = Lot{By: a.No, ID: id, Shape: o}
			}
		}
	}
}

// measure lays a newer measure over what was known, member by member, opening
// by opening.
func (r *Replay) measure(a *Act) {
	roof := r.roof(a.Signer, a.Counts)
	if o, ok := a.Body["deck"].(format.Object); ok {
		roof.Deck = &place.Deck{Length: Int(o, "length"), Front: Int(o, "front"), Rear: Int(o, "rear")}
	}
	if n, ok := a.Body["rafters-every"].(int64); ok {
		roof.RaftersEvery, roof.RaftersAt = n, nil
	}
	if list, ok := a.Body["rafters-at"].(format.Array); ok {
		roof.RaftersAt = Ints(list)
	}
	for _, o := range Objects(a.Body["openings"]) {
		name, _ := o["name"].(string)
		roof.Openings[name] = openingOf(o)
	}
	r.roofs = append(r.roofs, r.roofBy(a, roof))
}

func (r *Replay) roofBy(a *Act, roof place.Roof) roofFrom {
	from := roofFrom{at: max(a.No.N, a.Adopted.N), roof: roof}
	if !a.Counts {
		from.guest = a.Signer
	}
	return from
}

func openingOf(o format.Object) place.Opening {
	part, _ := o["part"].(string)
	values, _ := o["values"].(format.Object)
	out := place.Opening{Part: part, Aft: Int(o, "aft"), Off: Int(o, "off"), Diameter: Int(values, "diameter")}
	if clear := Ints(values["clear"]); len(clear) == 2 {
		out.Clear = [2]int64{clear[0], clear[1]}
	}
	return out
}

// seams learns the names that operations give.
func (r *Replay) seams(a *Act) {
	var roof *place.Roof
	for _, o := range Objects(a.Body["ops"]) {
		name, ok := o["names"].(string)
		if !ok {
			continue
		}
		if roof == nil {
			copied := r.roof(a.Signer, a.Counts)
			roof = &copied
		}
		then := r.roof(a.Signer, a.Counts)
		if _, taken := roof.Names[name]; !taken {
			roof.Names[name] = place.Naming{Places: PlacesOf(o["places"]), Then: &then}
		}
	}
	if roof != nil {
		r.roofs = append(r.roofs, r.roofBy(a, *roof))
	}
}

// roof returns a copy of what is known last: the house's measures and those it
// adopted, and a guest's own for that guest.
func (r *Replay) roof(signer string, counts bool) place.Roof {
	return r.roofAt(int64(len(r.Coach.Entries))+1, signer, counts)
}

func (r *Replay) roofAt(before int64, signer string, counts bool) place.Roof {
	out := place.Roof{Openings: map[string]place.Opening{}, Names: map[string]place.Naming{}}
	for i := len(r.roofs) - 1; i >= 0; i-- {
		from := r.roofs[i]
		if from.at >= before || from.guest != "" && (counts || from.guest != signer) {
			continue
		}
		out.Deck, out.RaftersEvery, out.RaftersAt = from.roof.Deck, from.roof.RaftersEvery, from.roof.RaftersAt
		for name, o := range from.roof.Openings {
			out.Openings[name] = o
		}
		for name, n := range from.roof.Names {
			out.Names[name] = n
		}
		break
	}
	return out
}

// Roof returns the roof as measured now, by the house's own and adopted
// measures.
func (r *Replay) Roof() place.Roof { return r.roof("", true) }

// Region works out the places of an act (or of a draft, with a zero number)
// against the newest measures before it. A deck measured later answers for
// what reaches all over; an error says what was not measured.
func (r *Replay) Region(a *Act, places []place.Place) (place.Region, error) {
	if len(places) > MaxPlaces {
		return place.Region{}, ErrPlaces
	}
	before := a.No.N
	if a.Entry == nil || a.No.Branch != 0 {
		before = int64(len(r.Coach.Entries)) + 1
	}
	if a.Kind == "intake" || a.Kind == "measure" || a.Kind == "work" {
		before++ // what the entry itself measures or names
	}
	roof := r.roofAt(before, a.Signer, a.Counts || a.Entry == nil)
	if a.Entry == nil {
		r.ownSeams(a, &roof)
	}
	if roof.Deck == nil {
		roof.Deck = r.Roof().Deck
	}
	var out place.Region
	for _, p := range places {
		one, err := roof.Work(p)
		if err != nil {
			return place.Region{}, err
		}
		out = out.Union(one)
	}
	return out, nil
}

// ownSeams lets a draft speak of the seams it names itself.
func (r *Replay) ownSeams(a *Act, roof *place.Roof) {
	for _, o := range Objects(a.Body["ops"]) {
		if name, ok := o["names"].(string); ok {
			roof.Names[name] = place.Naming{Places: PlacesOf(o["places"])}
		}
	}
}

// Act returns an entry as it counts now, nil where there is none.
func (r *Replay) Act(no No) *Act { return r.acts[no] }

// Tagged returns the entry of a tag.
func (r *Replay) Tagged(tag string) (No, bool) {
	no, ok := r.tags[tag]
	return no, ok
}

// TagOf returns the tag of an entry, "" where it has none or another entry had
// the tag before it.
func (r *Replay) TagOf(no No) string {
	a := r.acts[no]
	if a == nil {
		return ""
	}
	tag, _ := a.Body["tag"].(string)
	if r.tags[tag] != no {
		return ""
	}
	return tag
}

// Holder is the mark of who holds the coach after the newest entry.
func (r *Replay) Holder() string {
	holder := ""
	for _, a := range r.Acts {
		switch {
		case a.Kind == "intake":
			holder, _ = a.Body["holder"].(string)
		case a.Kind == "transfer" && a.Counts:
			if to, ok := a.Body["to-holder"].(string); ok {
				holder = to
			}
		}
	}
	return holder
}

// Intake is the first act.
func (r *Replay) Intake() *Act { return r.Acts[0] }

// Plate is the VIN or, where there is none, the serial of the coach.
func (r *Replay) Plate() string {
	if vin, ok := r.Intake().Body["vin"].(string); ok {
		return vin
	}
	serial, _ := r.Intake().Body["serial"].(string)
	return serial
}

// HouseName is the name the house signs with: that of the newest intake or
// take-on.
func (r *Replay) HouseName() string {
	name := ""
	for _, a := range r.Acts {
		if a.Kind == "intake" || a.Kind == "take-on" && a.Counts {
			if o, ok := a.Body["shop"].(format.Object); ok {
				name, _ = o["name"].(string)
			}
		}
	}
	return name
}

// Day is the calendar day of an act.
func (a *Act) Day() day.Day {
	s, _ := a.Body["happened"].(string)
	if len(s) < 10 {
		return day.Day{}
	}
	d, err := day.Parse(s[:10])
	if err != nil {
		return day.Day{}
	}
	return d
}

// Text returns a member of the body that is a text.
func (a *Act) Text(name string) string {
	s, _ := a.Body[name].(string)
	return s
}

// Refs returns the entry numbers in a member of the body.
func (a *Act) Refs(name string) []No { return refs(a.Body[name]) }

// Places returns the places of the act's own member places.
func (a *Act) Places() []place.Place { return PlacesOf(a.Body["places"]) }

// Objects returns the objects of a list.
func Objects(v format.Value) []format.Object {
	list, _ := v.(format.Array)
	var out []format.Object
	for _, one := range list {
		if o, ok := one.(format.Object); ok {
			out = append(out, o)
		}
	}
	return out
}

// Texts returns the texts of a list.
func Texts(v format.Value) []string {
	list, _ := v.(format.Array)
	var out []string
	for _, one := range list {
		if s, ok := one.(string); ok {
			out = append(out, s)
		}
	}
	return out
}

// Ints returns the integers of a list.
func Ints(v format.Value) []int64 {
	list, _ := v.(format.Array)
	var out []int64
	for _, one := range list {
		if n, ok := one.(int64); ok {
			out = append(out, n)
		}
	}
	return out
}

// Int returns an integer member, 0 where there is none.
func Int(o format.Object, name string) int64 {
	n, _ := o[name].(int64)
	return n
}
