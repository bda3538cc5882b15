package rules

import (
	"cmp"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

const (
	keyUseBy      = "past-use-by"
	keyOverdrawn  = "lot-overdrawn"
	keyNoDelivery = "lot-no-delivery"
	keyNotice     = "lot-under-notice"

	saysUseBy      = "Lot {lot}, {kind}, was good until {day}; used {day}."
	saysUseByBond  = "It also needs a bond-coupon passed within {h} h."
	saysOverdrawn  = "Lot {lot}: {used} used of {received} received."
	saysNoDelivery = "Lot {lot} has no delivery in this ledger: its amount and sheet values are not known here."
	saysNotice     = "Lot {lot} is under a maker's notice since {day}: {what}."
)

// forLots are the kinds that use lots.
var forLots = []string{"work", "upkeep"}

var lotRules = []Rule{
	{
		Key: keyUseBy, Degree: Stopped, Kinds: forLots, Sentences: []string{saysUseBy, saysUseByBond},
		Plain: "a lot was used past its day", Look: known(pastUseBy),
	},
	{
		Key: keyOverdrawn, Degree: Stopped, Kinds: forLots, Sentences: []string{saysOverdrawn},
		Plain: "more of a lot was used than was received", Look: known(lotOverdrawn),
	},
	{Key: keyNoDelivery, Degree: Noted, Kinds: forLots, Sentences: []string{saysNoDelivery}, Look: known(lotNoDelivery)},
	{
		Key: keyNotice, Degree: Stopped, Kinds: forLots, Sentences: []string{saysNotice},
		Plain: "a lot under a maker's notice was used", Look: known(lotUnderNotice),
	},
}

// BookLot is what one coach has of a lot, or several together.
type BookLot struct {
	Shape          format.Object // as its delivery there says; nil where there is none
	Unit           string        // of the amounts
	Received, Used int64
}

// Use is one lot that an act uses.
type Use struct {
	Lot    string
	Op     string // the operation, or what was done in an upkeep
	Amount int64
	Unit   string
	Places []place.Place
}

// Uses returns the lots that a work or an upkeep uses, in their order.
func Uses(a *ledger.Act) []Use {
	var out []Use
	for _, list := range []string{"ops", "looked"} {
		for _, o := range ledger.Objects(a.Body[list]) {
			for _, u := range ledger.Objects(o["uses"]) {
				out = append(out, Use{
					Lot: text(u, "lot"), Op: text(o, "op") + text(o, "did"), Amount: ledger.Int(u, "amount"), Unit: text(u, "unit"),
					Places: ledger.PlacesOf(o["places"]),
				})
			}
		}
	}
	return out
}

// lotsOf are the lots that an act uses, each once.
func lotsOf(a *ledger.Act) []string {
	var out []string
	for _, u := range Uses(a) {
		if !slices.Contains(out, u.Lot) {
			out = append(out, u.Lot)
		}
	}
	return out
}

// lot is what is known of a lot: by a delivery into this coach before the note,
// else by the shop's book; nil where nothing is.
func (c Case) lot(id string) format.Object {
	if lot, ok := c.Replay.Lots[id]; ok && c.delivered(id) {
		return lot.Shape
	}
	if c.Lot == nil {
		return nil
	}
	return c.Lot(id).Shape
}

// delivered says whether a lot was delivered into this coach before the note.
func (c Case) delivered(id string) bool {
	lot, ok := c.Replay.Lots[id]
	return ok && (c.Act.Entry == nil || lot.By.N < c.Act.No.N)
}

func (c Case) material(id string) string { return text(c.lot(id), "material") }

// pastUseBy looks at the use-by of a lot and, once it was opened, at its open
// life.
func pastUseBy(c Case) []Outcome {
	var out []Outcome
	for _, id := range lotsOf(c.Act) {
		until, past := c.goodUntil(id)
		if !past {
			continue
		}
		out = append(out, stopped(keyUseBy, "", saysUseBy, id, ledger.Said("material", c.material(id)), until.String(), c.Act.Day().String()))
		within := c.Limits.numbers(keyUseBy)[0]
		glued := func(u Use) bool { return u.Lot == id && u.Op == "laminate" }
		if slices.ContainsFunc(Uses(c.Act), glued) && !couponWithin(c, id, within) {
			out = append(out, stopped(keyUseBy, keyUseBy, saysUseByBond, sayHours(within)))
		}
	}
	return out
}

// goodUntil is the last day of a lot, and whether the note lies past it.
func (c Case) goodUntil(id string) (until day.Day, past bool) {
	lot := c.lot(id)
	if useBy := dayOf(text(lot, "use-by")); !useBy.IsZero() && useBy.Before(c.Act.Day()) {
		return useBy, true
	}
	life, limited := object(lot["values"])["open-life"].(int64)
	opened := c.opened(id, lot)
	if !limited || opened == nil || minutesBetween(opened, c.Act) <= life {
		return day.Day{}, false
	}
	from := momentOf(opened)
	if from.IsZero() {
		from = noon(opened.Day(), momentOf(c.Act).Offset())
	}
	return day.MomentAt(from.UTC()+life, from.Offset()).Day(), true
}

// opened is when a lot was opened: the day its delivery says, else its first use
// here; nil where it was not opened before.
func (c Case) opened(id string, lot format.Object) *ledger.Act {
	if said := text(lot, "opened"); said != "" {
		return &ledger.Act{Body: format.Object{"happened": said}}
	}
	for _, a := range c.before(forLots...) {
		if slices.Contains(lotsOf(a), id) {
			return a
		}
	}
	return nil
}

// couponWithin says whether a bond coupon on a lot passed in the minutes before
// the note, or in it.
func couponWithin(c Case, id string, minutes int64) bool {
	for _, a := range c.andItself(withResults...) {
		for _, o := range results(a, "bond-coupon") {
			if o["pass"] == true && slices.Contains(ledger.Texts(o["lots"]), id) && minutesBetween(a, c.Act) <= minutes {
				return true
			}
		}
	}
	return false
}

// lotOverdrawn adds up what was used of a lot: here, and in the shop's book over
// all coaches.
func lotOverdrawn(c Case) []Outcome {
	over := c.Limits.numbers(keyOverdrawn)[0]
	var out []Outcome
	for _, id := range lotsOf(c.Act) {
		lot := c.lot(id)
		used, received := usedOf(append(c.Replay.Earlier(c.Act, forLots...), c.Act), id), c.received(id)
		says := func(used, received int64) []string {
			unit := text(lot, "unit")
			return []string{id, sayAmount(used, unit), sayAmount(received, unit)}
		}
		if c.delivered(id) && tooMuch(used, received, over) {
			out = append(out, stopped(keyOverdrawn, keyOverdrawn, saysOverdrawn, says(used, received)...))
			continue
		}
		if c.Lot == nil {
			continue
		}
		others := c.Lot(id)
		if others.Unit != text(lot, "unit") {
			continue
		}
		used, received = used+others.Used, received+others.Received
		if received > 0 && tooMuch(used, received, over) {
			out = append(out, noted(keyOverdrawn, keyOverdrawn, saysOverdrawn, says(used, received)...))
		}
	}
	return out
}

// tooMuch says whether more was used than received, so many tenths of a percent
// granted.
func tooMuch(used, received, granted int64) bool {
	return used > received && (used-received)*1000 > received*granted
}

func usedOf(acts []*ledger.Act, id string) int64 {
	sum := int64(0)
	for _, a := range acts {
		for _, u := range Uses(a) {
			if u.Lot == id {
				sum += u.Amount
			}
		}
	}
	return sum
}

// received is what was delivered of a lot into this coach before the note.
func (c Case) received(id string) int64 { return receivedOf(c.Replay.Earlier(c.Act, "delivery"), id) }

func receivedOf(deliveries []*ledger.Act, id string) int64 {
	sum := int64(0)
	for _, a := range deliveries {
		for _, o := range ledger.Objects(a.Body["lots"]) {
			if text(o, "lot") == id {
				sum += ledger.Int(o, "amount")
			}
		}
	}
	return sum
}

// LotsIn is what a coach has of each lot that it received or used.
func LotsIn(r *ledger.Replay) map[string]BookLot {
	out := map[string]BookLot{}
	all := &ledger.Act{}
	for _, a := range r.Earlier(all, "delivery") {
		for _, o := range ledger.Objects(a.Body["lots"]) {
			id := text(o, "lot")
			l := out[id]
			l.Shape, l.Unit = r.Lots[id].Shape, text(o, "unit")
			l.Received += ledger.Int(o, "amount")
			out[id] = l
		}
	}
	for _, a := range r.Earlier(all, forLots...) {
		for _, u := range Uses(a) {
			l := out[u.Lot]
			l.Unit = cmp.Or(l.Unit, u.Unit)
			l.Used += u.Amount
			out[u.Lot] = l
		}
	}
	return out
}

func lotNoDelivery(c Case) []Outcome {
	var out []Outcome
	for _, id := range lotsOf(c.Act) {
		if !c.delivered(id) {
			out = append(out, noted(keyNoDelivery, "", saysNoDelivery, id))
		}
	}
	return out
}

// lotUnderNotice stops the use of a lot from the day that its notice says.
func lotUnderNotice(c Case) []Outcome {
	var out []Outcome
	used := lotsOf(c.Act)
	for _, a := range c.Replay.Earlier(c.Act, "lot-notice") {
		id, from := a.Text("lot"), dayOf(a.Text("stop-use"))
		if !slices.Contains(used, id) || c.Act.Day().Before(from) {
			continue
		}
		what, known := c.Replay.Opened[a.No]["wrong"]
		if !known {
			what = "what is wrong stands in the words of entry " + a.No.String()
		}
		out = append(out, stopped(keyNotice, "", saysNotice, id, from.Long(), strings.TrimSuffix(what, ".")))
	}
	return out
}

// sayAmount says an amount in the unit of a lot.
func sayAmount(n int64, unit string) string {
	switch unit {
	case "g":
		if n < 1000 {
			return ledger.Decimal(n) + " g"
		}
		return trimZeros(n, 3) + " kg"
	case "mm2":
		return trimZeros(n, 6) + " m²"
	case "mm":
		return trimZeros(n, 3) + " m"
	case "ml":
		return ledger.Decimal(n) + " mL"
	}
	return ledger.Decimal(n)
}
