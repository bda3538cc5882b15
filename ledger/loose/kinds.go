package loose

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

func (n *note) finding() error {
	if err := n.places(); err != nil {
		return err
	}
	said := n.find(labels, "checked") >= 0
	end := n.checkedFrom("defects")
	if end < len(n.t) && !said && !n.hasPlace(end, len(n.t)) {
		return unclear(Kind, "check and finding in one line: where was it checked")
	}
	defect := -1
	for i := range n.t {
		names := n.sensesIn(i, "defects", Always)
		if len(names) == 0 || n.t[i].used {
			continue
		}
		if defect >= 0 {
			return unclear(Kind, "%s and %s: a line for each", n.t[defect].raw, n.t[i].raw)
		}
		defect = i
		n.t[i].used = true
		n.d.Body["defect"] = names[n.c.pick(len(names))]
	}
	if defect < 0 && n.d.Body["defect"] == nil {
		return unclear(Kind, "a finding says what is wrong")
	}
	if err := n.amid(segment{"", 0, end}); err != nil {
		return err
	}
	for i, p := range n.at {
		if p.from < end {
			n.append("places", p.o)
			n.at[i].taken = true
		}
	}
	for _, step := range []func() error{n.takeCauses, n.takeKnown} {
		if err := step(); err != nil {
			return err
		}
	}
	n.listWord("deep", "deep")
	n.listWord("soon", "soon")
	n.listWord("between", "between")
	n.listWord("state-of", "state-of")
	if whose, i := n.take("whose"); i >= 0 {
		n.d.Body["whose"] = format.Object{"whose": whose}
		n.labelBefore(i, "whose")
	}
	name, _ := n.d.Body["defect"].(string)
	values, err := n.quantities(0, end, quantitiesOf("defects", name))
	if err != nil {
		return err
	}
	if len(values) > 0 {
		n.d.Body["values"] = values
	}
	n.listWord("sure", "sure")
	return n.results(end)
}

// listWord takes a word of a list as a member, and its label in front of it.
func (n *note) listWord(member, list string) {
	if name, i := n.take(list); i >= 0 {
		n.d.Body[member] = name
		n.labelBefore(i, member)
	}
}

func (n *note) labelBefore(i int, label string) {
	if j := n.before(i); j >= 0 && n.means(j, labels, label) {
		n.t[j].used = true
	}
}

// allPlaces gives all places to the note.
func (n *note) allPlaces() {
	for i, p := range n.at {
		n.append("places", p.o)
		n.at[i].taken = true
	}
}

func (n *note) remark() error {
	if err := n.places(); err != nil {
		return err
	}
	n.allPlaces()
	if n.plainLeak {
		i := n.find("trouble", "leak")
		n.t[i].used = true
		n.d.Private["note"] = n.t[i].raw
	}
	return nil
}

func (n *note) decision() error {
	n.listWord("choice", "choice")
	if n.d.Body["choice"] == nil {
		return unclear(Kind, "a decision says what the holder chose")
	}
	if err := n.places(); err != nil {
		return err
	}
	if until := n.find(labels, "until"); until >= 0 {
		d, err := n.dayBehind(until, true)
		if err != nil {
			return err
		}
		n.d.Body["until"] = d
	}
	if err := n.given(); err != nil {
		return err
	}
	if err := n.references(); err != nil {
		return err
	}
	n.takeHolder()
	n.allPlaces()
	if n.d.Body["places"] == nil {
		n.placesOfFindings()
	}
	return nil
}

// takeHolder takes the holder of the day, where it needs no saying.
func (n *note) takeHolder() {
	for i := range n.t {
		if mark, next, ok := n.holderAt(i); ok {
			if next > i+1 || n.t[i].kind == aMark {
				n.d.Body["holder"] = mark
			}
			n.use(i, next)
		}
	}
}

// placesOfFindings takes the places of the findings that a decision answers.
func (n *note) placesOfFindings() {
	for _, ref := range ledger.Texts(n.d.Body["answers"]) {
		e, _ := n.coach.entry(ref)
		if e.Kind != "finding" {
			continue
		}
		places, _ := e.Draft.Body["places"].(format.Array)
		for _, p := range clonePlaces(places) {
			had, _ := n.d.Body["places"].(format.Array)
			if !slices.ContainsFunc(had, func(v format.Value) bool { return format.Same(v, p) }) {
				n.append("places", p)
			}
		}
	}
}

func (n *note) cure() error {
	for i := range n.t {
		if _, known := n.coach.Lots[n.t[i].s]; known && n.t[i].kind == aTag && !n.t[i].used {
			n.append("lots", n.t[i].s)
			n.t[i].used = true
			n.labelBefore(i, "lot")
		}
	}
	if err := n.references(); err != nil {
		return err
	}
	if n.d.Body["answers"] == nil {
		return unclear(Reference, "cure of which work")
	}
	if err := n.start(); err != nil {
		return err
	}
	if err := n.stages(); err != nil {
		return err
	}
	if err := n.logPoints(); err != nil {
		return err
	}
	n.listWord("source", "cure-source")
	with, err := n.quantities(0, len(n.t), ledger.Word{}) // by their words alone
	if err != nil {
		return err
	}
	if len(with) > 0 {
		n.d.Body["values"] = with
	}
	return nil
}

func (n *note) start() error {
	i := n.find(labels, "start")
	if i < 0 {
		i = slices.IndexFunc(n.t, func(t token) bool { return t.is("started") })
	}
	if i < 0 {
		return nil
	}
	m, next, err := n.momentAt(i + 1)
	if err != nil || next == i+1 {
		return orTime(err, "start: when")
	}
	n.d.Body["start"] = m
	n.use(i, next)
	return nil
}

func orTime(err error, what string) error {
	if err != nil {
		return err
	}
	return unclear(Time, "%s", what)
}

// momentAt reads a time, or a day and a time.
func (n *note) momentAt(i int) (string, int, error) {
	on, err := n.day()
	if err != nil {
		return "", i, err
	}
	at := i
	for at < len(n.t) && n.passes(at) && !n.t[at].is("at") && !n.t[at].is("on") && n.t[at].kind != aStop {
		at++
	}
	if d, next, err := n.shop.dayAt(n.t, at); err != nil {
		return "", i, err
	} else if next > at {
		on, at = n.oneDay(d), n.comma(next)
	}
	c, next, err := n.shop.timeAt(n.t, at)
	if err != nil || next == at {
		return "", i, err
	}
	m, err := n.shop.moment(on, c, n.h)
	return m, next, err
}

// stages reads stages with their hours, and releases without.
func (n *note) stages() error {
	for i := range n.t {
		name, ok := n.sense(i, "stages")
		if !ok || n.t[i].used {
			continue
		}
		n.t[i].used = true
		j := n.before(i)
		if j >= 0 && (n.means(j, labels, "stage") || n.means(j, labels, "release") || n.t[j].is("released")) {
			n.t[j].used = true
		}
		if j := n.behind(i); j < len(n.t) && n.t[j].kind == aNumber && !n.t[j].used && n.t[j].unit != "" && fits(n.t[j], ledger.UnitMin) {
			need, err := n.kept(n.t[j], ledger.UnitMin, name)
			if err != nil {
				return err
			}
			n.t[j].used = true
			n.append("stages", format.Object{"name": name, "need": need})
			continue
		}
		o := format.Object{"stage": name}
		for j := i + 1; j < len(n.t); j++ {
			if n.t[j].kind == aText && !n.t[j].used {
				if k := n.before(j); k >= 0 && (n.means(k, labels, "note") || n.means(k, labels, "no-photo")) {
					continue
				}
				n.labelBefore(j, "look")
				o["look"] = n.t[j].s
				n.t[j].used = true
				if err := n.lookAlike(n.t[j].s); err != nil {
					return err
				}
				break
			}
		}
		n.append("releases", o)
	}
	return nil
}

// logPoint is a time and a temperature; days are dealt when all are read.
type logPoint struct {
	on   string // the day, where it was said
	time clockTime
	temp int64
}

// logPoints reads times with their temperatures. The last lies on the day of the
// heading; a time later than the one behind it belongs to the day before.
func (n *note) logPoints() error {
	log := n.find(labels, "log")
	points, err := n.readLog(max(log, 0))
	if err != nil {
		return err
	}
	for n.takeWord(labels, "log") {
	}
	if len(points) == 0 {
		if log >= 0 {
			return unclear(Time, "log: a time and a temperature each")
		}
		return nil
	}
	d, err := n.day()
	if err != nil {
		return err
	}
	days := make([]day.Day, len(points))
	for i := len(points) - 1; i >= 0; i-- {
		if i < len(points)-1 && points[i].time.minutes >= points[i+1].time.minutes {
			d = d.AddDays(-1)
		}
		if points[i].on != "" {
			if d, err = day.Parse(points[i].on); err != nil {
				return err
			}
		}
		days[i] = d
	}
	for i, p := range points {
		m, err := n.shop.moment(days[i], p.time, n.h)
		if err != nil {
			return err
		}
		n.append("log", format.Object{"at": m, "values": format.Object{"air-temp": p.temp}})
	}
	return nil
}

func (n *note) readLog(from int) ([]logPoint, error) {
	temp, _ := ledger.QuantityNamed("air-temp")
	var out []logPoint
	on := ""
	for i := from; i < len(n.t); i++ {
		if d, next, err := n.shop.dayAt(n.t, i); err != nil {
			return nil, err
		} else if next > i {
			on = n.oneDay(d).String()
			n.use(i, next)
			i = next - 1
			continue
		}
		c, next, err := n.shop.timeAt(n.t, i)
		if err != nil {
			return nil, err
		}
		if next == i || n.t[i].used {
			continue
		}
		j := n.temperature(i, next)
		if j < 0 {
			continue
		}
		v, err := n.keptOf(n.t[j], temp)
		if err != nil {
			return nil, err
		}
		n.use(i, next)
		n.t[j].used = true
		for _, k := range []int{n.before(j), n.behind(j)} {
			if n.means(k, quantities, "air-temp") {
				n.t[k].used = true
				break
			}
		}
		out = append(out, logPoint{on, c, v})
		on = ""
	}
	return out, nil
}

// temperature finds the temperature of a time: behind it, or alone in front of
// it.
func (n *note) temperature(from, behind int) int {
	fitting := func(j int) bool {
		return j >= 0 && j < len(n.t) && n.t[j].kind == aNumber && !n.t[j].used && fits(n.t[j], ledger.UnitDeciC)
	}
	j := behind - 1
	for steps := 0; steps < 2; steps++ {
		j = n.behindComma(j)
		if fitting(j) {
			return j
		}
		if j >= len(n.t) || !n.means(j, quantities, "air-temp") {
			break
		}
	}
	if j := n.before(from); fitting(j) && n.t[j].unit != "" {
		return j
	}
	return -1
}

func (n *note) behindComma(i int) int {
	j := i + 1
	for j < len(n.t) && (n.passes(j) && n.t[j].kind != aStop || n.t[j].kind == aStop && (n.t[j].s == "," || n.t[j].s == ":" || n.t[j].s == "=")) {
		j++
	}
	return j
}

// correction reads A should be B of the entry that is named.
func (n *note) correction() error {
	if err := n.places(); err != nil {
		return err
	}
	if err := n.references(); err != nil {
		return err
	}
	refs := ledger.Texts(n.d.Body["answers"])
	if len(refs) != 1 {
		return unclear(Reference, "a correction names the one entry it corrects, as #28")
	}
	if i := n.find(labels, "told"); i >= 0 {
		if err := n.told("told", "told"); err != nil {
			return err
		}
	}
	if n.takeWord(labels, "not-this-coach") {
		n.d.Body["not-this-coach"] = true
		return nil
	}
	at := n.find(grammar, "should be")
	if at < 0 && n.d.Body["changes"] != nil {
		return nil
	}
	if at < 0 {
		return unclear(Word, "what is wrong: write 8.1 should be 28.1, or was … is … as the entry has it")
	}
	e, _ := n.coach.entry(refs[0])
	a, b := n.numberBefore(at), n.behind(at)
	if a < 0 || b >= len(n.t) || n.t[b].kind != aNumber {
		return unclear(Number, "which number should be which")
	}
	changes, err := n.changed(e, n.t[a], n.t[b])
	if err != nil {
		return err
	}
	n.d.Body["changes"] = changes
	n.t[a].used, n.t[b].used, n.t[at].used = true, true, true
	for i := range n.t { // the words of the part that is corrected
		for _, list := range []string{"checks", "operations", "defects", quantities} {
			if _, ok := n.sense(i, list); ok {
				n.t[i].used = true
			}
		}
	}
	return nil
}

func (n *note) numberBefore(i int) int {
	for j := i - 1; j >= 0; j-- {
		if n.t[j].kind == aNumber && !n.t[j].used {
			return j
		}
	}
	return -1
}

// changed finds the one part of an entry that holds a number at the places said,
// and writes it as it was and as it is.
func (n *note) changed(e Entry, a, b token) (format.Array, error) {
	kind, ok := ledger.KindNamed(e.Kind)
	if !ok {
		return nil, unclear(Reference, "%s is newer than this tool", e.Ref)
	}
	var found []format.Object
	for _, f := range kind.Fields {
		if f.Form == ledger.FormValues && e.Draft.Body[f.Name] != nil {
			part := format.Object{"values": e.Draft.Body[f.Name], "places": e.Draft.Body["places"]}
			is, err := n.replacedHere(part, a, b)
			if err != nil {
				return nil, err
			}
			if is != nil {
				found = append(found, format.Object{"at": "/" + f.Name, "old": part["values"], "new": is["values"]})
			}
		}
		for i, one := range objects(e.Draft.Body[f.Name]) {
			if !f.OwnPart() {
				continue
			}
			is, err := n.replacedHere(one, a, b)
			if err != nil {
				return nil, err
			}
			if is != nil {
				found = append(found, format.Object{
					"at": "/" + f.Name + "/" + ledger.Decimal(int64(i)), "old": one, "new": is,
				})
			}
		}
	}
	if len(found) != 1 {
		return nil, unclear(Reference, "%d parts of %s hold %s there", len(found), e.Ref, a.raw)
	}
	return sheet.Changed(format.Array{found[0]}, e.Draft, e.Heading)
}

// replacedHere is replaced for a part at the places said.
func (n *note) replacedHere(part format.Object, a, b token) (format.Object, error) {
	if !n.samePlace(part) {
		return nil, nil
	}
	return n.replaced(part, a, b)
}

func (n *note) samePlace(part format.Object) bool {
	places, _ := part["places"].(format.Array)
	for i, p := range n.at {
		n.at[i].taken = true
		if !slices.ContainsFunc(places, func(v format.Value) bool { return format.Same(v, p.o) }) {
			return false
		}
	}
	return true
}

// replaced is a part with one value changed; nil where none holds the number.
func (n *note) replaced(part format.Object, a, b token) (format.Object, error) {
	values, _ := part["values"].(format.Object)
	var out format.Object
	for _, name := range sortedNames(values) {
		q, _ := ledger.QuantityNamed(name)
		was, one := values[name].(int64)
		if !one || !fits(a, q.Unit) || !fits(b, q.Unit) {
			continue
		}
		if v, err := n.kept(a, q.Unit, name); err != nil || v != was {
			continue
		}
		is, err := n.keptOf(b, q)
		if err != nil {
			return nil, err
		}
		if out != nil {
			return nil, unclear(Reference, "%s stands twice in it", a.raw)
		}
		out, _ = format.Clone(part).(format.Object)
		out["values"].(format.Object)[name] = is
	}
	return out, nil
}

func (n *note) transfer() error {
	if i := n.find(labels, "sold"); i >= 0 {
		d, err := n.dayBehind(i, false)
		if err != nil {
			return err
		}
		if d != "" {
			n.d.Body["sold"] = d
			n.t[i].used = true
		}
	}
	if n.d.Body["sold"] == nil {
		return unclear(DayOf, "sold on which day")
	}
	if err := n.told("told", "told"); err != nil {
		return err
	}
	var marks []string
	for i := range n.t {
		mark, next, ok := n.holderAt(i)
		if !ok {
			continue
		}
		name := map[string]string{"from-holder": "from-holder", "to-holder": "to-holder"}[n.labelled(i, "from-holder", "to-holder")]
		if name != "" {
			n.d.Body[name] = mark
		} else {
			marks = append(marks, mark)
		}
		n.use(i, next)
	}
	if len(marks) == 2 && n.d.Body["from-holder"] == nil {
		n.d.Body["from-holder"], n.d.Body["to-holder"] = marks[0], marks[1]
	} else if len(marks) > 0 {
		return unclear(Who, "from which holder to which")
	}
	return n.odometer()
}

// labelled is the label in front of token i, if it is one of them; it takes it.
func (n *note) labelled(i int, names ...string) string {
	j := n.before(i)
	for _, name := range names {
		if j >= 0 && n.means(j, labels, name) {
			n.t[j].used = true
			return name
		}
	}
	return ""
}

// odometer reads 38,200 km.
func (n *note) odometer() error {
	for i := range n.t {
		t := n.t[i]
		if t.used || t.kind != aNumber || t.unit == "" || unitTable[t.unit].dim != dimRoad {
			continue
		}
		unit := t.unit
		if unit != "km" {
			unit = "mi"
		}
		t.unit = ""
		v, err := n.kept(t, ledger.UnitCount, "odometer")
		if err != nil {
			return err
		}
		n.d.Body["odometer"] = format.Object{"reading": v, "unit": unit}
		n.t[i].used = true
		n.labelBefore(i, "odometer")
	}
	return nil
}

// meanwhileWords say what was done until the shop came.
var meanwhileWords = []string{"tarp", "bucket", "taped", "moved", "nothing"}

func (n *note) claim() error {
	if name, i := n.take("trouble"); i >= 0 {
		n.d.Body["trouble"] = name
	}
	for _, name := range []string{"noticed"} {
		if i := n.find(labels, name); i >= 0 {
			d, err := n.dayBehind(i, false)
			if err != nil {
				return err
			}
			if d != "" {
				n.d.Body[name] = d
				n.t[i].used = true
			}
		}
	}
	if err := n.told("reported", "reported"); err != nil {
		return err
	}
	if err := n.places(); err != nil {
		return err
	}
	n.allPlaces()
	for i := range n.t {
		if n.t[i].kind == aWord && !n.t[i].used && slices.Contains(meanwhileWords, n.t[i].s) && n.d.Private["meanwhile"] == "" {
			n.d.Private["meanwhile"] = n.t[i].s
			n.t[i].used = true
			n.labelBefore(i, "meanwhile")
		}
		if n.t[i].is("shows") || n.t[i].is("show") {
			n.t[i].used = true
		}
	}
	n.takeHolder()
	return nil
}

func (n *note) laterWork() error {
	if err := n.takeKnown(); err != nil {
		return err
	}
	if whose, i := n.take("whose"); i >= 0 {
		n.d.Body["whose"] = format.Object{"whose": whose}
	}
	for i := range n.t {
		d, next, err := n.shop.dayAt(n.t, i)
		if err != nil {
			return err
		}
		if next > i {
			n.labelBefore(i, "done")
			n.use(i, next)
			n.append("done", n.oneDay(d).String())
		}
	}
	what, at := n.foundAt()
	if at < 0 && n.d.Body["found"] != nil {
		return nil
	}
	if at < 0 {
		return unclear(Kind, "later work: what was put on or done")
	}
	if err := n.places(); err != nil {
		return err
	}
	found := format.Object{"what": what}
	if places := n.placesIn(segment{"", 0, len(n.t)}); len(places) > 0 {
		found["places"] = places
	}
	if err := n.countOf(found, at); err != nil {
		return err
	}
	n.append("found", found)
	return nil
}

// foundAt takes the word of what others put on.
func (n *note) foundAt() (string, int) {
	for i := range n.t {
		if name, ok := n.sense(i, "later-work"); ok && !n.t[i].used && name != "rafter" {
			n.t[i].used = true
			return name, i
		}
	}
	return "", -1
}

// countOf reads 2 feet, or a number in front of the word, as how many there are.
func (n *note) countOf(found format.Object, at int) error {
	for i := range n.t {
		if t := &n.t[i]; t.kind == aNumber && !t.used && (t.unit == "feet" || t.unit == "foot") && !t.joined {
			t.unit = ""
			v, err := n.kept(*t, ledger.UnitCount, "count")
			if err != nil {
				return err
			}
			t.used = true
			found["values"] = format.Object{"count": v}
			return nil
		}
	}
	if v, ok := n.bareNumber(at - 1); ok { // 2 antennas
		n.t[at-1].used = true
		found["values"] = format.Object{"count": v}
		return nil
	}
	values, err := n.quantities(0, len(n.t), ledger.Word{}) // by their words alone
	if len(values) > 0 {
		found["values"] = values
	}
	return err
}

func (n *note) upkeep() error {
	for i := range n.t {
		t := n.t[i]
		name, ok := n.sense(i, "done-by")
		if mark, next, is := n.holderAt(i); is && !t.used && i < 8 {
			_ = mark
			name, ok = "holder", true
			n.use(i, next)
		}
		if ok && n.d.Body["done-by"] == nil {
			n.d.Body["done-by"] = name
			n.t[i].used = true
			n.labelBefore(i, "done-by")
			if j := n.before(i); j >= 0 && n.t[j].is("by") {
				n.t[j].used = true
			}
		}
	}
	if err := n.coverRefs("covers"); err != nil {
		return err
	}
	if err := n.places(); err != nil {
		return err
	}
	end := n.checkedFrom("operations")
	if err := n.looked(end); err != nil {
		return err
	}
	n.mergeLike("looked", "did")
	return n.results(end)
}

// looked reads places with what was done there: the word stands behind its
// places, or in front of them all.
func (n *note) looked(end int) error {
	type did struct {
		name string
		at   int
	}
	var all []did
	for i := 0; i < end; i++ {
		if name, ok := n.sense(i, "did"); ok && !n.t[i].used {
			all = append(all, did{name, i})
			n.t[i].used = true
		}
	}
	if len(all) == 0 && n.d.Body["looked"] != nil {
		return nil
	}
	if len(all) == 0 {
		return unclear(Word, "upkeep: done, resealed, left or not reached, at each place")
	}
	front := len(n.at) > 0 && all[0].at < n.at[0].from
	from := 0
	for k, d := range all {
		s := segment{d.name, from, d.at + 1}
		if front {
			s = segment{d.name, d.at, end}
			if k+1 < len(all) {
				s.to = all[k+1].at
			}
		}
		next := end
		if k+1 < len(all) {
			next = all[k+1].at
		}
		o := format.Object{"did": d.name}
		at := n.placesIn(s)
		if len(at) > 0 {
			o["places"] = at
		} else if front && len(all) > 1 {
			return unclear(Place, "%s: at which place? The place stands in front", d.name)
		}
		upTo := s.to
		for upTo < next && !n.hasPlace(upTo, upTo+1) {
			upTo++
		}
		uses, err := n.lots(s.from, upTo)
		if err != nil {
			return err
		}
		for _, u := range uses {
			list, _ := o["uses"].(format.Array)
			o["uses"] = append(list, u)
		}
		values, err := n.quantities(s.from, upTo, ledger.Word{Carries: []ledger.Carry{{Quantity: "length"}}})
		if err != nil {
			return err
		}
		if len(values) > 0 {
			o["values"] = values
		}
		n.append("looked", o)
		from = upTo
	}
	return nil
}
