package say

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/report/english"
)

// deck says the measures of the deck.
func deck(o format.Object) string {
	says := "the deck is " + mm(o, "length") + " long, " + mm(o, "front") + " wide"
	if ledger.Int(o, "front") != ledger.Int(o, "rear") {
		says += " in front and " + mm(o, "rear") + " at the rear"
	}
	return says
}

func mm(o format.Object, name string) string { return ledger.Decimal(ledger.Int(o, name)) + " mm" }

func numbers(v format.Value) string {
	var out []string
	for _, n := range ledger.Ints(v) {
		out = append(out, ledger.Decimal(n))
	}
	return english.List(out)
}

// layer says one layer of the build.
func layer(o format.Object) string {
	says := joined(word(o["what"]), Values(object(o["values"])))
	return strings.TrimSpace(says + " as " + ledger.Said("layers", word(o["layer"])))
}

// opening says where an opening is and how large.
func opening(o format.Object) string {
	spot := place.Place{
		Shape: place.Field, Aft: place.At(ledger.Int(o, "aft")), Off: place.At(ledger.Int(o, "off")),
	}
	name := word(o["name"]) + " " + ledger.Said("elements", word(o["part"]))
	return joined(name+" at "+ledger.SayPlace(spot), strings.TrimPrefix(Values(object(o["values"])), "clear "))
}

func parked(o format.Object) string {
	slope := ""
	if n, ok := o["slope"].(int64); ok {
		slope = "1:" + ledger.Decimal(n)
	}
	return joined(ledger.Said("nose", word(o["nose"])), slope)
}
