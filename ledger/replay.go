package ledger

import (
	"cmp"
	"slices"
	"sort"

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
	index  index
	roofs  roofs
	sales  []*Act // that count, in the order they happened
	Lots   map[string]Lot
	as     string // public key line of the guest whose voice it is, "" of the house
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
	Holder    string        // the mark of the holder whose private values it holds
	Asked     int           // changes asked of it, whether they took or not
	Corrected []Correction
	signed    format.Object // the body as signed, with the numbers of this ledger
	at        int           // where it stands among the acts
}

// Signed is the body as it was signed. In an entry of a side branch the numbers
// of that branch stand as this ledger writes them: 60/1. Nobody may change it.
func (a *Act) Signed() format.Object { return a.signed }

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

// Replay works a checked coach through. opened holds the private values and
// free texts at hand.
func NewReplay(c *Coach, opened map[No]map[string]string) *Replay { return replay(c, opened, "") }

func replay(c *Coach, opened map[No]map[string]string, as string) *Replay {
	r := &Replay{
		Coach: c, Opened: opened, acts: map[No]*Act{}, tags: map[string]No{}, index: newIndex(), roofs: roofs{},
		Lots: map[string]Lot{}, as: as,
	}
	branches := c.Branches
	for _, e := range c.Entries {
		r.add(e, e.Body())
		for ; len(branches) > 0 && branches[0].TakeIn == e.No.N; branches = branches[1:] {
			for _, side := range branches[0].Items {
				r.add(side, branches[0].numbered(side, r.kindOf))
			}
		}
	}
	r.weigh()
	r.correct()
	r.hold()
	for _, a := range r.Acts {
		r.name(a)
	}
	r.speak()
	return r
}

// Grow takes in the entry by which its coach was extended, and the values that
// open it. All is worked through anew only where that entry has a say in earlier
// ones. A guest's own voice does not grow.
func (r *Replay) Grow(values map[string]string) {
	e := r.Coach.Last()
	if len(values) > 0 {
		r.Opened[e.No] = values
	}
	if reachesBack(e) {
		*r = *NewReplay(r.Coach, r.Opened)
		return
	}
	r.add(e, e.Body())
	a := r.acts[e.No]
	a.Holder = r.holderOf(a)
	r.name(a)
}

// reachesBack says whether an entry changes what earlier ones are worth, or who
// held the coach when they happened.
func reachesBack(e *Entry) bool {
	return slices.Contains([]string{"correction", "transfer", "take-in", "key-change"}, e.Kind()) || e.Body()["adopts"] != nil
}

// Until is the ledger as it stood after entry n: later entries have no say in
// it, no correction, measure or adoption among them.
func (r *Replay) Until(n int64) *Replay {
	if n >= int64(len(r.Coach.Entries)) {
		return r
	}
	return replay(r.Coach.until(n), r.Opened, r.as)
}

func (r *Replay) add(e *Entry, body format.Object) {
	a := &Act{
		No: e.No, Entry: e, Kind: e.Kind(), Body: body, House: e.Role == House, Signer: e.Key, signed: body, at: len(r.Acts),
	}
	_, doubtful := r.Coach.Doubtful(e.No)
	a.Counts = a.House && !doubtful && e.No.Branch == 0 || e.Role == Recovery
	r.Acts = append(r.Acts, a)
	r.acts[e.No] = a
}

// kindOf is the kind of an act so far, "" where there is none.
func (r *Replay) kindOf(no No) string {
	if a := r.acts[no]; a != nil {
		return a.Kind
	}
	return ""
}

// weigh settles what is struck out and what the house took as its own. Both are
// said by later entries, which must hold themselves: hence the newest first. A
// guest's adopts has no effect.
func (r *Replay) weigh() {
	for _, a := range slices.Backward(r.Acts) {
		if a.StruckBy != (No{}) {
			continue
		}
		if a.Kind == "correction" && a.Body["not-this-coach"] == true {
			for _, b := range r.earlier(a, "answers") {
				if r.mayCorrect(a, b) {
					b.StruckBy, b.Counts = a.No, false
				}
			}
		}
		if !a.House || a.No.Branch != 0 || !a.Counts {
			continue
		}
		for _, b := range r.earlier(a, "adopts") {
			if by := r.acts[b.StruckBy]; by != nil && by.at > a.at && !by.Counts && by.Signer != r.as {
				b.StruckBy = No{} // a guest takes back nothing that the house took as its own
			}
			b.Counts, b.Adopted = b.StruckBy == (No{}), a.No
		}
	}
}

// earlier are the acts that a member names: a reference only points back.
func (r *Replay) earlier(a *Act, member string) []*Act {
	var out []*Act
	for _, no := range a.Refs(member) {
		if b := r.acts[no]; b != nil && b.at < a.at {
			out = append(out, b)
		}
	}
	return out
}

// As is the ledger in a guest's own voice: what he wrote are facts to him, as
// the house's entries are to the house, whose facts they stay. guest is his
// public key line.
func (r *Replay) As(guest string) *Replay { return replay(r.Coach, r.Opened, guest) }

// speak gives the acts their standing in the voice of the guest whose ledger it
// is.
func (r *Replay) speak() {
	if r.as == "" {
		return
	}
	for _, a := range r.Acts {
		a.House = a.Signer == r.as
		a.Counts = a.Counts || a.House && a.StruckBy == (No{})
	}
}

// name learns tags, lots, openings, seams and measures of an act, after those
// before it.
func (r *Replay) name(a *Act) {
	r.index.add(a)
	if tag, ok := a.Body["tag"].(string); ok {
		if _, taken := r.tags[tag]; !taken {
			r.tags[tag] = a.No
		}
	}
	if a.StruckBy != (No{}) {
		return
	}
	switch a.Kind {
	case "intake", "measure":
		r.roofs.answers(a, func(m *measures, from int64) { m.takes(a, from) })
	case "work":
		r.roofs.answers(a, func(m *measures, from int64) { m.seams(a, from) })
	case "delivery":
		r.lots(a)
	}
}

// lots learns the lots of a delivery. What counts comes first: a guest gives no
// lot of the house other values.
func (r *Replay) lots(a *Act) {
	counts := func(a *Act) bool { return a.Counts || a.Signer == r.as }
	for _, o := range Objects(a.Body["lots"]) {
		id, _ := o["lot"].(string)
		if old, known := r.Lots[id]; !known || counts(a) && !counts(r.acts[old.By]) {
			r.Lots[id] = Lot{By: a.No, ID: id, Shape: o}
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

// hold learns the sales that count, in the order they happened, and whose
// private values each entry holds.
func (r *Replay) hold() {
	for _, a := range r.Acts {
		if a.Kind == "transfer" && a.Counts && a.Text("to-holder") != "" {
			r.sales = append(r.sales, a)
		}
	}
	slices.SortStableFunc(r.sales, func(a, b *Act) int {
		switch {
		case a.Before(b):
			return -1
		case b.Before(a):
			return 1
		}
		return 0
	})
	for _, a := range r.Acts {
		a.Holder = r.holderOf(a)
	}
}

// holderOf is whose private values an act holds: of a transfer the new holder's,
// else those of the holder it names, else of who held the coach then.
func (r *Replay) holderOf(a *Act) string {
	return cmp.Or(a.Text("to-holder"), a.Text("holder"), r.HolderAt(a))
}

// Holder is the mark of who holds the coach by the newest sale.
func (r *Replay) Holder() string { return r.after(len(r.sales)) }

// HolderAt is the mark of who held the coach when an act happened.
func (r *Replay) HolderAt(a *Act) string {
	return r.after(sort.Search(len(r.sales), func(i int) bool { return !r.sales[i].Before(a) }))
}

// after is who holds the coach after so many sales.
func (r *Replay) after(sales int) string {
	switch {
	case sales > 0:
		return r.sales[sales-1].Text("to-holder")
	case len(r.Acts) > 0:
		return r.Intake().Text("holder")
	}
	return ""
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
// take-on. In a guest's voice it is the name that guest signs with.
func (r *Replay) HouseName() string { return r.HouseNameAt(int64(len(r.Coach.Entries))) }

// HouseNameAt is that name as it was at entry n.
func (r *Replay) HouseNameAt(n int64) string {
	name := ""
	for _, a := range r.Acts {
		if a.No.N > n {
			break
		}
		named := a.Kind == "intake" || a.Kind == "take-on" && a.Counts && a.No.Branch == 0
		if r.as != "" {
			named = a.Signer == r.as
		}
		if named {
			if o, ok := a.Body["shop"].(format.Object); ok {
				name, _ = o["name"].(string)
			}
		}
	}
	return name
}

// Day is the calendar day of an act.
func (a *Act) Day() day.Day { return dayOf(a.Text("happened")) }

// dayOf is the day of a day or moment, zero of what is neither.
func dayOf(when string) day.Day {
	if len(when) < 10 {
		return day.Day{}
	}
	d, err := day.Parse(when[:10])
	if err != nil {
		return day.Day{}
	}
	return d
}

// Before says whether an act happened before another. Notes are inked late: the
// order in the ledger decides only between equal times. Where one of the two has
// no time of day their days count, as written, and then the order.
func (a *Act) Before(b *Act) bool {
	whenA, whenB := a.When(), b.When()
	x, errX := day.ParseMoment(whenA)
	y, errY := day.ParseMoment(whenB)
	timeless := errX != nil || errY != nil
	switch {
	case !timeless && x.UTC() != y.UTC():
		return x.UTC() < y.UTC()
	case timeless && dayOf(whenA) != dayOf(whenB):
		return dayOf(whenA).Before(dayOf(whenB))
	case a.No.N != b.No.N:
		return a.No.N < b.No.N
	}
	return a.No.Branch < b.No.Branch
}

// Follows says whether an act stands behind another in the ledger; a draft
// stands behind all.
func (a *Act) Follows(b *Act) bool { return b.Entry != nil && (a.Entry == nil || b.at < a.at) }

// said is when and how something was said that happened by being said: a
// decision when it was given, a ruling when it was told.
func (a *Act) said() []format.Object {
	switch a.Kind {
	case "decision":
		return Objects(a.Body["given"])
	case "ruling":
		return Objects(format.Array{a.Body["told"]})
	}
	return nil
}

// When is the day or moment an act happened. A decision happened when it was
// first given, a ruling when it was told; a day without a time is earlier than the
// moments in it.
func (a *Act) When() string {
	first := ""
	for _, o := range a.said() {
		if s, _ := o["when"].(string); first == "" || earlier(s, first) {
			first = s
		}
	}
	if first == "" {
		return a.Text("happened")
	}
	return first
}

// earlier says whether a day or moment lies before another; a day without a
// time before the moments in it.
func earlier(a, b string) bool {
	x, errX := day.ParseMoment(a)
	y, errY := day.ParseMoment(b)
	switch {
	case errX == nil && errY == nil:
		return x.UTC() < y.UTC()
	case dayOf(a) != dayOf(b):
		return dayOf(a).Before(dayOf(b))
	}
	return errX != nil && errY == nil
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
