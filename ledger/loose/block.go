package loose

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// measure reads the roof as measured.
func (n *note) measure() error {
	if err := n.roof(); err != nil {
		return err
	}
	if i := n.find(labels, "crown"); i >= 0 {
		v, ok, err := n.millimetres(n.behind(i))
		if err != nil || !ok {
			return orNumber(err, "crown: how high")
		}
		n.d.Body["crown"] = v
		n.t[i].used, n.t[n.behind(i)].used = true, true
	}
	if nose, i := n.take("nose"); i >= 0 {
		o := format.Object{"nose": nose}
		j := n.behind(i)
		if n.means(j, quantities, "slope") {
			n.t[j].used = true
			j = n.behind(j)
		}
		if n.isRatio(j) {
			o["slope"] = n.t[j+2].num.Num().Int64()
			n.use(j, j+3)
		}
		n.d.Body["parked"] = o
		n.labelBefore(i, "parked")
		n.takeWord(labels, "parked")
		n.takeWord(grammar, "parked")
	}
	return nil
}

func orNumber(err error, what string) error {
	if err != nil {
		return err
	}
	return unclear(Number, "%s", what)
}

// roof reads what intake and measure share.
func (n *note) roof() error {
	for _, step := range []func() error{n.deck, n.rafterList, n.openings, n.build} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// deck reads deck 7400 x 2200, and length x front x rear.
func (n *note) deck() error {
	i := n.find("layers", "deck")
	for i >= 0 && !n.numberNear(i) {
		next := slices.IndexFunc(n.t[i+1:], func(t token) bool { return t.is("deck") })
		if next < 0 {
			return nil
		}
		i += 1 + next
	}
	if i < 0 {
		return nil
	}
	n.t[i].used = true
	var v []int64
	at := i + 1
	for at < len(n.t) && len(v) < 3 {
		if n.t[at].kind == aSign || n.t[at].kind == aStop && n.t[at].s == "," || slices.Contains([]string{"by", "length", "front", "rear", "long", "wide"}, n.t[at].s) {
			n.t[at].used = true
			at++
			continue
		}
		mm, ok, err := n.millimetres(at)
		if err != nil {
			return err
		}
		if !ok {
			break
		}
		v = append(v, mm)
		n.t[at].used = true
		at++
	}
	if len(v) < 2 {
		return unclear(Number, "deck: length x width, or length x front x rear")
	}
	n.d.Body["deck"] = format.Object{"length": v[0], "front": v[1], "rear": v[len(v)-1]}
	return nil
}

func (n *note) numberNear(i int) bool {
	for j := i + 1; j < min(i+3, len(n.t)); j++ {
		if n.t[j].kind == aNumber {
			return true
		}
	}
	return false
}

// rafterList reads rafters every 740, rafters at 738 1480 2220.
func (n *note) rafterList() error {
	if i := n.find(labels, "rafters-every"); i >= 0 {
		v, ok, err := n.millimetres(n.behind(i))
		if err != nil || !ok {
			return orNumber(err, "rafters every how many mm")
		}
		n.d.Body["rafters-every"] = v
		n.t[i].used, n.t[n.behind(i)].used = true, true
	}
	i := n.find(labels, "rafters-at")
	if i < 0 {
		return nil
	}
	var list format.Array
	at := i + 1
	last := int64(0)
	for at < len(n.t) {
		if n.t[at].s == "/" || n.t[at].is("and") || n.t[at].kind == aStop && n.t[at].s == "," {
			at++
			continue
		}
		v, ok, err := n.millimetres(at)
		if err != nil {
			return err
		}
		if !ok || n.t[at].kind == aNumber && at+1 < len(n.t) && n.t[at+1].s == "x" {
			break
		}
		if v <= last {
			return unclear(Number, "rafters at: %d is not behind %d", v, last)
		}
		list, last = append(list, v), v
		n.t[at].used = true
		at++
	}
	if len(list) == 0 {
		return unclear(Number, "rafters at: where")
	}
	n.use(i, at)
	n.d.Body["rafters-at"] = list
	return nil
}

// openingAt says whether an opening is said at token i: its name and what it is.
func (n *note) openingAt(i int) (part string, next int, ok bool) {
	if i >= len(n.t) || n.t[i].used || n.t[i].kind != aTag {
		return "", i, false
	}
	at := n.comma(i + 1)
	part, ok = n.sense(at, "elements")
	return part, at + 1, ok
}

// openings reads one opening after the other: A1 ac 3050 centre 356x356 41 kg.
func (n *note) openings() error {
	for i := 0; i < len(n.t); i++ {
		part, at, ok := n.openingAt(i)
		if !ok {
			continue
		}
		o := format.Object{"name": n.t[i].s, "part": part}
		end := at
		for end < len(n.t) && n.t[end].kind != aNewline && !n.endsOpening(end) {
			if _, _, next := n.openingAt(end); next {
				break
			}
			end++
		}
		n.labelBefore(i, "opening")
		n.use(i, at)
		if err := n.centre(o, at, end); err != nil {
			return err
		}
		values, err := n.quantities(at, end, ledger.Word{Carries: []ledger.Carry{
			{Quantity: "clear"}, {Quantity: "diameter"}, {Quantity: "mass"},
		}})
		if err != nil {
			return err
		}
		if len(values) > 0 {
			o["values"] = values
		}
		n.append("openings", o)
		i = end - 1
	}
	return nil
}

func (n *note) endsOpening(i int) bool {
	for _, label := range []string{"rafters-every", "rafters-at", "crown", "parked", "deck", "holder", "complaint"} {
		if n.means(i, labels, label) {
			return true
		}
	}
	return n.t[i].kind == aStop && n.t[i].s == ";"
}

// centre reads the middle of an opening: 3050 centre, 1500/300L, 3300 aft 400 R.
func (n *note) centre(o format.Object, from, to int) error {
	name, _ := o["name"].(string)
	at := from
	for at < to && n.t[at].kind != aNumber {
		at++
	}
	aft, ok, err := n.millimetres(at)
	if err != nil || !ok || at >= to {
		return orPlace(err, name+": how far aft")
	}
	first := at
	at++
	if n.side(at, "forward") {
		aft = -aft
		at++
	} else if n.side(at, "aft") {
		at++
	}
	for at < to && (n.t[at].s == "/" || n.t[at].is("off") || n.t[at].kind == aStop && n.t[at].s == "," || n.t[at].is("on")) {
		at++
	}
	off := int64(0)
	if at < to && (n.means(at, labels, "centre") || n.means(at, "side", "middle")) {
		at++
	} else {
		v, side, next, err := n.point(at, "l", "r")
		if err != nil || next == at || side == "" && v != 0 {
			return orPlace(err, name+": how far left or right of the middle")
		}
		off, at = v, next
	}
	for j := from; j < first; j++ {
		if n.means(j, labels, "centre") {
			n.t[j].used = true
		}
	}
	n.use(first, at)
	o["aft"], o["off"] = aft, off
	return nil
}

func orPlace(err error, what string) error {
	if err != nil {
		return err
	}
	return unclear(Place, "%s", what)
}

// build reads the layers a roof is made of: skin aluminium.
func (n *note) build() error {
	for i := range n.t {
		layer, ok := n.sense(i, "layers")
		opens := i == 0 || n.t[i-1].kind == aNewline || n.t[i-1].kind == aStop || n.means(i-1, labels, "build") || n.t[i-1].used
		if !ok || n.t[i].used || !opens {
			continue
		}
		end := i + 1
		for end < len(n.t) && n.t[end].kind == aWord && !n.endsOpening(end) {
			end++
		}
		o := format.Object{"layer": layer}
		if end > i+1 {
			o["what"] = n.rawFrom(i+1, end)
		} else if end < len(n.t) && n.t[end].kind == aText {
			o["what"] = n.t[end].s
			end++
		}
		n.labelBefore(i, "build")
		n.use(i, end)
		if end < len(n.t) && n.t[end].kind == aNumber {
			q, _ := ledger.QuantityNamed("thickness")
			v, err := n.keptOf(n.t[end], q)
			if err != nil {
				return err
			}
			o["values"] = format.Object{"thickness": v}
			n.t[end].used = true
		}
		n.append("build", o)
	}
	return nil
}

func (n *note) intake() error {
	n.plates()
	n.modelAndYear()
	if err := n.odometer(); err != nil {
		return err
	}
	if err := n.roof(); err != nil {
		return err
	}
	for i := range n.t {
		if mark, next, ok := n.holderAt(i); ok {
			n.d.Body["holder"] = mark
			n.use(i, next)
			continue
		}
		if n.t[i].kind != aMark && (n.means(i, labels, "holder") || n.means(i, "reader", "holder")) {
			n.t[i].used = true
		}
	}
	if err := n.months("owned-months", "owned"); err != nil {
		return err
	}
	n.rain()
	n.nothingShown()
	for {
		word, i := n.take("madesafe")
		if i < 0 {
			break
		}
		n.append("made-safe", word)
	}
	n.takeWord(labels, "made-safe")
	return nil
}

// rain reads rain 2 days ago.
func (n *note) rain() {
	i := max(n.find(grammar, "rain"), n.find(labels, "rain-days"))
	if i < 0 {
		return
	}
	j := n.behind(i)
	if j >= len(n.t) || n.t[j].kind != aNumber || n.t[j].unit != "" && unitTable[n.t[j].unit].dim != dimDays || !n.t[j].num.IsInt() {
		return
	}
	n.d.Body["rain-days"] = n.t[j].num.Num().Int64()
	n.t[i].used, n.t[j].used = true, true
	if k := j + 1; k < len(n.t) && n.t[k].is("ago") {
		n.t[k].used = true
	}
}

// nothingShown reads papers none, made safe none.
func (n *note) nothingShown() {
	for member, at := range map[string]int{
		"papers-shown": max(n.find(labels, "papers-shown"), n.find(grammar, "papers")), "made-safe": n.find(labels, "made-safe"),
	} {
		if at < 0 {
			continue
		}
		if j := n.behind(at); j < len(n.t) && (n.t[j].is("none") || n.t[j].is("no")) {
			n.d.Body[member] = format.Array{}
			n.t[at].used, n.t[j].used = true, true
		}
	}
}

// months reads a number of months or years behind a label.
func (n *note) months(member, label string) error {
	i := n.find(labels, label)
	if i < 0 {
		return nil
	}
	j := n.behind(i)
	if j >= len(n.t) || n.t[j].kind != aNumber || !fits(n.t[j], ledger.UnitMonths) {
		return unclear(Number, "%s: how many months", label)
	}
	v, err := n.kept(n.t[j], ledger.UnitMonths, label)
	if err != nil {
		return err
	}
	n.d.Body[member] = v
	n.t[i].used, n.t[j].used = true, true
	return nil
}

// plates reads vin and serial, as typed with or without spaces.
func (n *note) plates() {
	for _, member := range []string{"vin", "serial"} {
		i := n.find(labels, member)
		if i < 0 || i+1 >= len(n.t) {
			continue
		}
		rest, _, _ := strings.Cut(n.line[n.t[i].from+len(n.t[i].raw):], "\n")
		lead := len(rest) - len(strings.TrimLeft(rest, " :"))
		plate, size := "", lead
		for size < len(rest) && len(plate) < 17 {
			chunk, _, _ := strings.Cut(rest[size:], " ")
			bare := strings.Trim(chunk, ",;")
			if !sheet.IsPlate(strings.ToUpper(bare)) || plate != "" && strings.ToLower(bare) == bare && strings.Trim(bare, "0123456789") != "" {
				break
			}
			plate += strings.ToUpper(bare)
			size += len(chunk)
			for size < len(rest) && rest[size] == ' ' {
				size++
			}
			if bare != chunk || len(plate) >= 11 && member == "serial" {
				break
			}
		}
		if plate == "" {
			continue
		}
		n.d.Body[member] = plate
		end := n.t[i].from + len(n.t[i].raw) + size
		for j := i; j < len(n.t) && n.t[j].from < end; j++ {
			n.t[j].used = true
		}
	}
}

// modelAndYear reads builder … model … YEAR: words up to the next known one; the
// last number of four figures is the year.
func (n *note) modelAndYear() {
	for _, member := range []string{"builder", "model"} {
		i := n.find(labels, member)
		if i < 0 {
			continue
		}
		at := i + 1
		end := at
		for end < len(n.t) && n.t[end].kind != aNewline && n.t[end].kind != aStop && !n.labelOf(end, "builder", "model", "year", "vin", "serial") {
			end++
		}
		if end < len(n.t) && end == at && n.t[end].kind == aText {
			end++
		}
		value := end
		if year := n.yearAt(end - 1); year > 0 && end-1 > at {
			n.d.Body["year"] = year
			value = end - 1
		}
		if at < value {
			text := n.rawFrom(at, value)
			if n.t[at].kind == aText && value == at+1 {
				text = n.t[at].s
			}
			n.d.Body[member] = text
		}
		n.use(i, end)
	}
	for i := range n.t { // a year alone on its line
		alone := (i == 0 || n.t[i-1].kind == aNewline) && (i+1 == len(n.t) || n.t[i+1].kind == aNewline)
		if year := n.yearAt(i); alone && year > 0 && !n.t[i].used && n.d.Body["year"] == nil {
			n.d.Body["year"] = year
			n.t[i].used = true
		}
	}
	if i := n.find(labels, "year"); i >= 0 {
		if year := n.yearAt(n.behind(i)); year > 0 {
			n.d.Body["year"] = year
			n.t[i].used, n.t[n.behind(i)].used = true, true
		}
	}
}

func (n *note) yearAt(i int) int64 {
	if i < 0 || i >= len(n.t) || n.t[i].kind != aNumber || !n.t[i].whole || len(n.t[i].raw) != 4 || n.t[i].unit != "" {
		return 0
	}
	year := n.t[i].num.Num().Int64()
	if year < 1900 || year > 2099 {
		return 0
	}
	return year
}

func (n *note) labelOf(i int, names ...string) bool {
	return slices.ContainsFunc(names, func(name string) bool { return n.means(i, labels, name) })
}

// lotLabels end the words of a maker or product.
var lotLabels = []string{
	"lot", "maker", "product", "maker-lot", "made", "use-by", "amount", "packs", "opened", "stage", "fits", "what",
}

func (n *note) delivery() error {
	var starts []int
	for i := range n.t {
		if n.t[i].is("lot") {
			starts = append(starts, i)
		}
	}
	if len(starts) == 0 && n.d.Body["lots"] == nil {
		return unclear(Reference, "which lot: lot ID, and what it is")
	}
	for k, from := range starts {
		to := len(n.t)
		if k+1 < len(starts) {
			to = starts[k+1]
		}
		o, err := n.lot(from, to)
		if err != nil {
			return err
		}
		n.append("lots", o)
	}
	return nil
}

// chunkAt is what stands between the spaces at token i, and the token behind it.
func (n *note) chunkAt(i int) (string, int) {
	if i >= len(n.t) {
		return "", i
	}
	rest := n.line[n.t[i].from:]
	if at := strings.IndexAny(rest, " ,;\n"); at >= 0 {
		rest = rest[:at]
	}
	end := n.t[i].from + len(rest)
	next := i
	for next < len(n.t) && n.t[next].from < end {
		next++
	}
	return strings.TrimRight(rest, ".:"), next
}

func (n *note) lot(from, to int) (format.Object, error) {
	id, next := n.chunkAt(from + 1)
	id = strings.ToUpper(id)
	if !sheet.IsTag(id) {
		return nil, unclear(Reference, "lot %s: an id has capitals, hyphens and a digit", clip(id))
	}
	if _, twice := n.coach.Lots[id]; twice {
		return nil, unclear(Reference, "lot %s is there already", id)
	}
	n.use(from, next)
	o := format.Object{"lot": id}
	n.lotTexts(o, next, to)
	s := segment{"", next, to}
	if err := n.lotDays(o, s); err != nil {
		return nil, err
	}
	for i := next; i < to; i++ {
		word, ok := n.sense(i, "material")
		switch {
		case !ok || n.t[i].used:
		case n.labelled(i, "fits") != "":
			list, _ := o["fits"].(format.Array)
			o["fits"] = append(list, word)
			n.t[i].used = true
		case o["material"] == nil:
			o["material"] = word
			n.t[i].used = true
		}
	}
	if err := n.lotStages(o, s); err != nil {
		return nil, err
	}
	if err := n.lotAmount(o, s); err != nil {
		return nil, err
	}
	values, err := n.quantities(next, to, sheetWord(o["material"]))
	if err != nil {
		return nil, err
	}
	if len(values) > 0 {
		o["values"] = values
	}
	return o, nil
}

// sheetWord is what a lot of a material carries.
func sheetWord(material format.Value) ledger.Word {
	if material == "fasteners" {
		return ledger.Word{Name: "fasteners", Carries: []ledger.Carry{{Quantity: "length"}, {Quantity: "diameter"}}}
	}
	return ledger.Word{Carries: []ledger.Carry{
		{Quantity: "thickness"}, {Quantity: "width"}, {Quantity: "ref-temp"}, {Quantity: "density"}, {Quantity: "size"},
	}}
}

func (n *note) lotTexts(o format.Object, from, to int) {
	for i := from; i < to; i++ {
		for _, member := range []string{"maker", "product", "maker-lot", "what"} {
			if !n.means(i, labels, member) || o[member] != nil {
				continue
			}
			at, end := i+1, i+1
			for end < to && n.t[end].kind != aNewline && n.t[end].kind != aStop && !n.labelOf(end, lotLabels...) && (end == at || n.t[end].kind != aText && !n.valueAt(end)) {
				end++
			}
			if end == at {
				continue
			}
			text := n.rawFrom(at, end)
			if n.t[at].kind == aText {
				text = n.t[at].s
			}
			o[member] = text
			n.use(i, end)
		}
	}
}

// valueAt says whether a value of a sheet begins at token i: 1.5 mm, 12 x 300 ml,
// thickness 38.
func (n *note) valueAt(i int) bool {
	if n.t[i].kind == aNumber {
		return n.t[i].unit != "" || n.eachAt(i) > i
	}
	_, ok := n.sense(i, quantities)
	return ok && n.behind(i) < len(n.t) && n.t[n.behind(i)].kind == aNumber
}

func (n *note) lotDays(o format.Object, s segment) error {
	for i := s.from; i < s.to; i++ {
		for _, member := range []string{"use-by", "made", "opened"} {
			if !n.means(i, labels, member) {
				continue
			}
			d, err := n.dayBehind(i, member == "use-by")
			if err != nil {
				return err
			}
			if d != "" {
				o[member] = d
				n.t[i].used = true
			}
		}
	}
	return nil
}

// lotStages reads press off 12 h, load 72 h at 20 C.
func (n *note) lotStages(o format.Object, s segment) error {
	for i := s.from; i < s.to; i++ {
		name, ok := n.sense(i, "stages")
		j := n.behind(i)
		if !ok || n.t[i].used || j >= s.to || n.t[j].kind != aNumber || n.t[j].unit == "" || !fits(n.t[j], ledger.UnitMin) {
			continue
		}
		need, err := n.kept(n.t[j], ledger.UnitMin, name)
		if err != nil {
			return err
		}
		list, _ := o["stages"].(format.Array)
		o["stages"] = append(list, format.Object{"name": name, "need": need})
		n.t[i].used, n.t[j].used = true, true
		n.labelBefore(i, "stage")
	}
	return nil
}

// lotAmount reads 12 x 300 ml as packs and amount, 6 kg, and packs 4.
func (n *note) lotAmount(o format.Object, s segment) error {
	for i := s.from; i < s.to; i++ {
		t := n.t[i]
		if t.used || t.kind != aNumber {
			continue
		}
		if n.labelled(i, "packs") != "" {
			v, err := n.kept(t, ledger.UnitCount, "packs")
			if err != nil {
				return err
			}
			o["packs"], n.t[i].used = v, true
			continue
		}
		if o["amount"] != nil {
			continue
		}
		packs := int64(1)
		j := n.eachAt(i)
		if j > i {
			packs = t.num.Num().Int64()
		}
		n.litre(j)
		unit, ok := amountUnit(n.t[j])
		if !ok || unit == "mm" && j == i && !n.longLength(i) && n.labelled(i, "amount") == "" {
			continue
		}
		each, err := n.amountOf(n.t[j], unit)
		if err != nil {
			return err
		}
		o["amount"], o["unit"] = each*packs, unit
		if j > i {
			o["packs"] = packs
		}
		n.use(i, j+1)
		n.labelBefore(i, "amount")
	}
	return nil
}

// eachAt is the token of what one pack holds: 12 x 300 ml, 3 rolls of 10 m; i
// where no packs are said.
func (n *note) eachAt(i int) int {
	if n.t[i].unit != "" || !n.t[i].whole {
		return i
	}
	if n.isPair(i) {
		return i + 2
	}
	if i+3 < len(n.t) && isPack(n.t[i+1].s) && n.t[i+2].is("of") && n.t[i+3].kind == aNumber && n.t[i+3].unit != "" {
		return i + 3
	}
	return i
}

// litre gives a number the l behind it, which is no side in a delivery.
func (n *note) litre(i int) {
	if n.t[i].unit == "" && i+1 < len(n.t) && n.t[i+1].is("l") {
		n.t[i].unit = "litre"
		n.t[i+1].used = true
	}
}

// longLength says whether token i is a length as rolls and boards have it, in
// metres or feet, and no width or thickness.
func (n *note) longLength(i int) bool {
	if !slices.Contains([]string{"m", "metre", "metres", "meters", "ft", "foot", "feet"}, n.t[i].unit) {
		return false
	}
	_, labelled := n.sense(n.before(i), quantities)
	j := n.behind(i)
	return !labelled && (j >= len(n.t) || !slices.Contains(adjectives, n.t[j].s))
}

func amountUnit(t token) (string, bool) {
	switch unitTable[t.unit].dim {
	case dimMass:
		return "g", true
	case dimVolume:
		return "ml", true
	case dimArea:
		return "mm2", true
	case dimLength:
		return "mm", t.unit != ""
	case dimPiece:
		return "piece", true
	}
	return "", false
}

func (n *note) amountOf(t token, unit string) (int64, error) {
	switch unit {
	case "ml":
		return n.millilitres(t)
	case "piece":
		return n.kept(t, ledger.UnitCount, "amount")
	}
	return n.kept(t, lotUnits[unit], "amount")
}

func (n *note) certificate() error {
	first := len(n.t)
	var starts []int
	for i := range n.t {
		if n.t[i].is("line") {
			starts = append(starts, i)
			first = min(first, i)
		}
	}
	for i := 0; i < first; i++ {
		if mark, next, ok := n.holderAt(i); ok {
			n.d.Body["holder"] = mark
			n.labelBefore(i, "holder")
			n.use(i, next)
			continue
		}
		if title, ok := n.sense(i, "title"); ok && !n.t[i].used {
			n.d.Body["title"] = title
			n.t[i].used = true
			n.labelBefore(i, "title")
		}
	}
	if err := n.numbers(); err != nil {
		return err
	}
	if err := n.places(); err != nil {
		return err
	}
	for k, from := range starts {
		to := len(n.t)
		if k+1 < len(starts) {
			to = starts[k+1]
		}
		o, err := n.coverLine(from, to)
		if err != nil {
			return err
		}
		n.append("lines", o)
	}
	n.certificateWords()
	return nil
}

// numbers reads report within 30 days, tell of sale 45 days, 2 transfers at most.
func (n *note) numbers() error {
	values := format.Object{}
	for phrase, name := range map[string]string{"within": "report-days", "tell of sale": "notice-days", "transfers": "transfers-most"} {
		i := n.find(grammar, phrase)
		if i < 0 {
			continue
		}
		q, _ := ledger.QuantityNamed(name)
		for _, j := range []int{n.behind(i), n.before(i)} {
			if j < 0 || j >= len(n.t) || n.t[j].kind != aNumber || n.t[j].used || !fits(n.t[j], q.Unit) {
				continue
			}
			v, err := n.keptOf(n.t[j], q)
			if err != nil {
				return err
			}
			values[name] = v
			n.t[i].used, n.t[j].used = true, true
			n.takeWord(grammar, "at most")
			break
		}
	}
	n.takeWord(labels, "numbers")
	if len(values) > 0 {
		n.d.Body["numbers"] = values
	}
	return nil
}

func (n *note) coverLine(from, to int) (format.Object, error) {
	no, ok := n.bareNumber(from + 1)
	if !ok {
		return nil, unclear(Number, "line: which number")
	}
	n.use(from, from+2)
	o := format.Object{"line": no, "upkeep": false}
	if at := n.placesIn(segment{"", from, to}); len(at) > 0 {
		o["places"] = at
	}
	for i := from; i < to; i++ {
		if n.t[i].used {
			continue
		}
		if promise, ok := n.sense(i, "promise"); ok && o["promise"] == nil {
			o["promise"] = promise
			n.t[i].used = true
		}
		if n.t[i].is("from") {
			d, err := n.dayBehind(i, true)
			if err != nil {
				return nil, err
			}
			if d != "" {
				o["first-day"] = d
			}
		}
		if n.t[i].is("upkeep") {
			o["upkeep"] = true
			n.t[i].used = true
		}
	}
	return o, n.terms(o, from, to)
}

// terms reads 10 years, full 60 months, floor 10 %.
func (n *note) terms(o format.Object, from, to int) error {
	for i := from; i < to; i++ {
		t := n.t[i]
		if t.used || t.kind != aNumber || t.unit == "" && !n.means(n.before(i), labels, "floor") {
			continue
		}
		switch {
		case t.unit != "" && fits(t, ledger.UnitMonths):
			member := "months"
			if n.labelled(i, "full") != "" {
				member = "full-months"
			} else {
				n.labelled(i, "for")
			}
			v, err := n.kept(t, ledger.UnitMonths, member)
			if err != nil || o[member] != nil {
				return orNumber(err, member+" is said twice")
			}
			o[member], n.t[i].used = v, true
		case fits(t, ledger.UnitPerMille) && n.labelled(i, "floor") != "":
			v, err := n.kept(t, ledger.UnitPerMille, "floor")
			if err != nil {
				return err
			}
			o["floor"], n.t[i].used = v, true
		}
	}
	return nil
}

func (n *note) certificateWords() {
	for i := range n.t {
		if n.t[i].used {
			continue
		}
		for _, member := range [][2]string{{"conditions", "condition"}, {"exclusions", "exclusion"}, {"shop-side", "shop-side"}} {
			if word, ok := n.sense(i, member[1]); ok && !n.t[i].used {
				n.append(member[0], word)
				n.t[i].used = true
			}
		}
		if i+1 < len(n.t) && n.means(i, labels, "beside") && n.t[i+1].kind == aTag {
			n.append("beside", n.t[i+1].s)
			n.use(i, i+2)
		}
		if n.means(i, labels, "instead-of") {
			n.t[i].used = true
			_ = n.coverRefs("instead-of")
		}
	}
	for _, label := range []string{"conditions", "exclusions", "shop-side"} {
		n.takeWord(labels, label)
	}
}
