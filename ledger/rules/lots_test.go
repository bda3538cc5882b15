package rules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

// asked are what some rules say of a note of a day.
func (w *written) asked(keys, day, note string) []string {
	w.t.Helper()
	return only(w.says(on(day, note)), strings.Fields(keys)...)
}

// Last year's sealant (TRIALS 8): good until 2020-01-31, used on 2020-04-16.
func TestPastUseBy(t *testing.T) {
	w := demoUpTo(t, "16.txt")
	w.sheets(on("2020-03-30", `delivery: lot 19-0702, lap-sealant, maker-lot "19-0702", use-by 2020-01-31, amount 300 ml, fits membrane-pvc`))
	const seal = "work: cap-seal at V2, uses 19-0702 40 ml, bead 6 mm"
	require.Equal(t, []string{"past-use-by stopped: Lot 19-0702, lap sealant, was good until 2020-01-31; used 2020-04-16."},
		w.asked("past-use-by", "2020-04-16", seal))
	require.Empty(t, w.asked("past-use-by", "2020-04-16", seal+`; override past-use-by, reason "cut open and still soft", by foreman`))
	require.Empty(t, w.asked("past-use-by", "2020-01-31", seal), "its last day")
	require.Len(t, w.asked("past-use-by", "2020-02-01", seal), 1)
}

// A glue past its day also needs a bond coupon of the last 24 h.
func TestGluePastUseBy(t *testing.T) {
	w := demoUpTo(t, "09.txt")
	const glue = "work: laminate at 3700-7400 aft full width layer deck+core, uses L-20-031 3.6 kg, uses P-20-02 8.14 m2, area 13.42 m2; time 09:00"
	const past = "past-use-by stopped: Lot L-20-031, two-part PU glue, was good until 2020-11-10; used 2020-11-11."
	const bond = "past-use-by stopped: It also needs a bond-coupon passed within 24 h."
	require.Empty(t, w.asked("past-use-by", "2020-11-10", glue))
	require.Equal(t, []string{past, bond}, w.asked("past-use-by", "2020-11-11", glue))
	const coupon = "check: bond-coupon, lot L-20-031, lot P-20-02, material glue-pu-two-part, onto plywood, wood-fails; time "
	w.sheets(on("2020-11-10", coupon+"08:59"))
	require.Equal(t, []string{past, bond}, w.asked("past-use-by", "2020-11-11", glue))
	w.sheets(on("2020-11-10", coupon+"09:00"))
	require.Equal(t, []string{past}, w.asked("past-use-by", "2020-11-11", glue))
	require.Empty(t, w.asked("past-use-by", "2020-11-11", "work: bed at V2, uses L-20-031 3.6 kg")[1:], "it is no glue line")
}

// Open life runs from the day it was opened, else from its first use.
func TestOpenLife(t *testing.T) {
	w := demoUpTo(t, "09.txt")
	w.sheets(on("2020-04-01", `delivery: lot G-1, glue-pu-two-part, maker-lot "1", use-by 2021-01-31, amount 3 kg, spread-range 100/200 g/m2, open-life 48 h`))
	const glue = "work: laminate at 4000-4300 aft 0-300 R layer deck, uses G-1 15 g, uses P-20-02 0.1 m2, area 0.1 m2; time "
	require.Empty(t, w.asked("past-use-by", "2020-05-01", glue+"09:00"), "not opened yet")
	w.sheets(on("2020-04-02", glue+"09:00"))
	require.Empty(t, w.asked("past-use-by", "2020-04-04", glue+"09:00"))
	require.Equal(t, "past-use-by stopped: Lot G-1, two-part PU glue, was good until 2020-04-04; used 2020-04-04.",
		w.asked("past-use-by", "2020-04-04", glue+"09:01")[0])
}

// 2 % more than was received are granted, and not a gram more.
func TestLotOverdrawn(t *testing.T) {
	w := demoUpTo(t, "12.txt") // 6000 g received, 3600 g used
	const glue = "work: bed at V2, uses L-20-031 "
	require.Empty(t, w.asked("lot-overdrawn", "2020-04-20", glue+"2.52 kg"), "6120 g are 102 %")
	require.Equal(t, []string{"lot-overdrawn stopped: Lot L-20-031: 6.121 kg used of 6 kg received."},
		w.asked("lot-overdrawn", "2020-04-20", glue+"2.521 kg"))
	w.sheets(on("2020-04-19", `delivery: lot L-20-031, glue-pu-two-part, maker-lot "KV 7731", use-by 2020-11-10, amount 1 kg, spread-range 220/300 g/m2`))
	require.Empty(t, w.asked("lot-overdrawn", "2020-04-20", glue+"2.521 kg"), "more came in")
}

// Over all coaches of the shop it is only noted, and asked at inking alone.
func TestLotOverdrawnInTheBook(t *testing.T) {
	w := demoUpTo(t, "12.txt")
	says := func(others rules.BookLot) []string {
		c, err := w.draft(sheet.Read(on("2020-04-20", "work: bed at V2, uses L-20-031 1 kg"), sheet.Heading{})[0])
		require.NoError(t, err)
		c.Lot = func(lot string) rules.BookLot {
			require.Equal(t, "L-20-031", lot)
			return others
		}
		var out []string
		for _, o := range rules.Ask(c) {
			if o.Rule == "lot-overdrawn" {
				out = append(out, o.Degree.String()+": "+o.Sentence)
			}
		}
		return out
	}
	require.Empty(t, says(rules.BookLot{Unit: "g", Received: 4000, Used: 5600}), "10.2 kg of 10 kg are 102 %")
	require.Equal(t, []string{"noted: Lot L-20-031: 10.201 kg used of 10 kg received."}, says(rules.BookLot{Unit: "g", Received: 4000, Used: 5601}))
	require.Empty(t, says(rules.BookLot{}))
	require.Empty(t, says(rules.BookLot{Unit: "ml", Received: 4000, Used: 5601}), "in another unit")
}

// A lot without a delivery is noted, in work and in upkeep (DEMO entries 56 and
// 63); what the book has of it is still asked.
func TestLotWithoutDelivery(t *testing.T) {
	w := demoUpTo(t, "20.txt")
	const says = "lot-no-delivery noted: Lot 22-0093 has no delivery in this ledger: its amount and sheet values are not known here."
	for _, note := range []string{
		"work: cap-seal at P1, uses 22-0093 40 ml, bead 6 mm",
		"upkeep: done-by our-shop; lines Q-0007 L4; resealed at P1, uses 22-0093 40 ml; photo u.jpg",
	} {
		require.Equal(t, []string{says}, w.asked("lot-no-delivery past-use-by lot-overdrawn", "2022-10-03", note))
	}
	require.Empty(t, w.asked("lot-no-delivery", "2020-05-03", "work: cap-seal at P1, uses 20-0417 40 ml, bead 6 mm"))
	c, err := w.draft(sheet.Read(on("2022-10-03", "work: cap-seal at P1, uses 22-0093 40 ml, bead 6 mm"), sheet.Heading{})[0])
	require.NoError(t, err)
	c.Lot = func(string) rules.BookLot {
		return rules.BookLot{Unit: "ml", Shape: format.Object{"material": "lap-sealant", "use-by": "2022-09-30", "unit": "ml"}}
	}
	var keys []string
	for _, o := range rules.Ask(c) {
		keys = append(keys, o.Rule)
	}
	require.Subset(t, keys, []string{"past-use-by", "lot-no-delivery"})
}

// From the day that the notice says, not before (DEMO entry 84).
func TestLotUnderNotice(t *testing.T) {
	w := demoUpTo(t, "20.txt")
	w.sheets(on("2026-08-11", `lot-notice: lot 20-0417; from "the maker, by letter"; told 2026-08-10; wrong "skins over and crazes after five years"; stop-use 2026-08-11`))
	const seal = "work: cap-seal at V2, uses 20-0417 40 ml, bead 6 mm"
	require.Empty(t, w.asked("lot-under-notice", "2026-08-10", seal))
	w.replay.Opened = map[ledger.No]map[string]string{{N: w.replay.Acts[len(w.replay.Acts)-1].No.N}: {"wrong": "skins over and crazes after five years"}}
	require.Equal(t, []string{"lot-under-notice stopped: Lot 20-0417 is under a maker's notice since 11 August 2026: skins over and crazes after five years."},
		w.asked("lot-under-notice", "2026-08-11", seal))
	require.Empty(t, w.asked("lot-under-notice", "2026-08-11", strings.Replace(seal, "20-0417", "B-20-03", 1)))
}
