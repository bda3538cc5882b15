package facts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/report"
)

// What the holder left, gave to another shop or keeps for himself is named
// place by place, with what he was told.
func TestOutOfTheWarranty(t *testing.T) {
	f := factsOf(t, frontHalf+`finding F1: cracked-skin; at 3000-3200 aft 0-200 R layer skin; at left-edge; with length 80 mm; in-the-skin; before-rain; photo f.jpg; by foreman
finding F2: open-seam; at spot 3300 aft 300 L; with length 120 mm; in-the-skin; before-rain; photo f.jpg; by foreman
decision: leave; answers F1; at 3000-3200 aft 0-200 R; given phone, on 2021-05-10; warned "It may tear on."; holder holder-1; by desk
decision: another-shop; answers F2; at spot 3300 aft 300 L; at V1; given phone, on 2021-05-10; warned "w"; holder holder-1; by desk
decision: refuse-opening; at 2100-4200 aft full width layer deck+core; given phone, on 2021-05-10; warned "Nobody knows."; holder holder-1; by desk
decision: holder-does; at 0-2100 aft full width layer lining; at V1; given phone, on 2021-05-10; warned "w"; holder holder-1; by desk
`)
	on := reportDay(t, "2021-05-10")
	require.Equal(t, []report.LeftTrouble{
		{Place: "3000–3200 aft, 0–200 R", What: "cracked skin, 80 mm long", Day: on, Consequence: "It may tear on."},
		{Place: "Left edge", What: "cracked skin, 80 mm long", Day: on, Consequence: "It may tear on."},
		{Place: "Deck and core 2100–4200 mm", What: "not opened", Day: on, Consequence: "Nobody knows."},
	}, f.Left)
	require.Equal(t, []report.AnotherShop{{Place: "Spot 3300 aft, 300 L and V1", Day: on}}, f.AnotherShop)
	require.Equal(t, []string{"Lining 0–2100 mm and V1"}, f.OwnWork)
}

// A place that was left and closed over later is in the lines, and so it is
// neither named as left nor crossed on the plan; one that was closed over in
// part, or in another layer, is still named and in no line of its layer.
func TestLeftAndMendedLater(t *testing.T) {
	const left = `finding F1: cracked-skin; at 300-700 aft 0-200 R layer skin; with length 80 mm; in-the-skin; before-rain; photo f.jpg; by foreman
finding F2: soft-deck; at 300-700 aft 400-600 R layer deck; with length 80 mm; in-the-deck; before-rain; photo f.jpg; by foreman
decision: leave; answers F1, F2; at 300-700 aft 0-600 R; at V1; given phone, on 2021-05-10; warned "w"; holder holder-1; by desk
decision: another-shop; at V1; given phone, on 2021-05-10; warned "w"; holder holder-1; by desk
decision: holder-does; at 450-600 aft 0-200 L layer skin; given phone, on 2021-05-10; warned "w"; holder holder-1; by desk
`
	reskin := func(reach string) string {
		return "work: reskin at " + reach + " aft full width, uses E-1 4.2 m2; photo d-1.jpg; by hand-1\n"
	}
	on := reportDay(t, "2021-05-10")
	soft := report.LeftTrouble{Place: "300–700 aft, 400–600 R", What: "soft deck, 80 mm long", Day: on, Consequence: "w"}
	cracked := report.LeftTrouble{Place: "300–700 aft, 0–200 R", What: "cracked skin, 80 mm long", Day: on, Consequence: "w"}

	f := factsOf(t, left+reskin("0-2100"))
	require.Equal(t, "the field forward of 2100 mm", f.Lines[0].Places)
	require.Equal(t, []report.LeftTrouble{soft}, f.Left)
	require.Empty(t, f.AnotherShop)
	require.Empty(t, f.OwnWork)
	crossed := strings.Join(f.PlanList, "; ")
	require.NotContains(t, crossed, "cracked skin")
	require.Contains(t, crossed, "soft deck")

	f = factsOf(t, left+reskin("0-500"))
	require.Contains(t, f.Lines[0].Places, "less ")
	require.Equal(t, []report.LeftTrouble{cracked, soft}, f.Left)
	require.Equal(t, []report.AnotherShop{{Place: "V1", Day: on}}, f.AnotherShop)
}

// What nobody looked at shrinks by what was opened since, in one of its layers.
func TestNotLookedAt(t *testing.T) {
	const unseen = `not-looked-at: at 2100-4200 aft full width layer deck+core; why "not opened"; by foreman
`
	f := factsOf(t, unseen+frontHalf)
	require.Equal(t, []report.NotLooked{{Area: 2100 * 2000, Where: "under the skin there"}}, f.NotLooked)

	f = factsOf(t, unseen+frontHalf+`work: open-up at 2100-3100 aft full width layer deck; photo o.jpg; by hand-1
work: cap-seal at rear-joint, uses S-1 100 ml, bead 3 mm; photo o.jpg; by hand-1
`)
	require.Equal(t, []report.NotLooked{{Area: 1100 * 2000, Where: "under the skin behind 3100 mm"}}, f.NotLooked)

	f = factsOf(t, unseen+frontHalf+`decision: refuse-opening; at 3000-3500 aft full width; given phone, on 2021-05-10; warned "w"; holder holder-1; by desk
`)
	require.True(t, f.NotLooked[0].AtHolderWish)

	f = factsOf(t, `not-looked-at: at 300-500 aft 0-200 R layer lining; why "behind a cupboard"; by foreman
`+frontHalf)
	require.Equal(t, []report.NotLooked{{Area: 200 * 200, Where: "of lining at 300–500 × 0–200 R"}}, f.NotLooked)
}

// Nothing left, nothing kept up: the lists are empty and say nothing.
func TestNothingLeft(t *testing.T) {
	f := factsOf(t, frontHalf)
	require.Empty(t, f.Left)
	require.Empty(t, f.OwnWork)
	require.Empty(t, f.NotLooked)
	require.Empty(t, f.Overrides)
	require.Empty(t, f.Cures)
	require.Nil(t, f.Upkeep)
	require.Equal(t, "work", f.Ended)
	require.Equal(t, reportDay(t, "2021-05-10"), f.EndedDay)
	require.Equal(t, "EPDM 1.1 mm, lot E-1", f.Next.Membrane)
	require.Empty(t, f.Next.Glue+f.Next.Weld+f.Next.CoreDeck+f.Next.Sealant+f.Next.UnderIt)
	// EPDM is never welded, and no sheet bonds to it (fit table, common practice).
	require.Equal(t, []string{"An unlike sheet: no bond on the EPDM membrane", "Silicone: nothing bonds over it"}, f.Next.KeepAway)
}
