package facts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/place"
	"lapmark/report"
	"lapmark/report/plan"
)

// round is the clear rectangle of an opening about its middle.
func round(aft, off, along, across int64) place.Rect {
	return place.Rect{Front: aft - along/2, Rear: aft + along/2, Left: off - across/2, Right: off + across/2}
}

func grown(r place.Rect, mm int64) place.Rect {
	return place.Rect{Front: r.Front - mm, Rear: r.Rear + mm, Left: r.Left - mm, Right: r.Right + mm}
}

// planByHand is the plan of Q-0007 put together by hand from the measures of
// the demo.
func planByHand() plan.Input {
	const left, right = -1100, 1100
	in := plan.Input{
		Roof: plan.Roof{
			Length: 7400, Front: 2200, Rear: 2200, Rafters: []int64{740, 1480, 2220, 2960, 3700, 4440, 5180, 5920, 6660},
			Openings: []plan.Opening{
				{Name: "R1", Says: "refrigerator vent, left", Clear: round(2100, -800, 400, 400)},
				{Name: "S1", Says: "skylight, left", Clear: round(2900, -350, 600, 500)},
				{Name: "G1", Says: "cable gland", Clear: round(4200, -900, 40, 40), Round: true},
				{Name: "V2", Says: "roof vent", Clear: round(4600, 300, 356, 356)},
				{Name: "H1", Says: "hatch", Clear: round(5100, -600, 500, 500)},
				{Name: "A1", Says: "air conditioner", Clear: round(5900, 0, 356, 356)},
				{Name: "P1", Says: "plumbing vent", Clear: round(6800, 700, 48, 48), Round: true},
			},
			Seams: []plan.Seam{
				{Name: "W1", Says: "weld", Rect: place.Rect{Front: 3700, Rear: 7400, Left: 560, Right: 600}},
				{Name: "W2", Says: "weld", Rect: place.Rect{Front: 6880, Rear: 6920, Left: left, Right: 580}},
			},
		},
		Borders: []int64{3700}, Margin: 300,
		Reasons: []plan.Spot{{Rect: place.Rect{Front: 7340, Rear: 7400, Left: 1000, Right: right}, Says: "closed at 16.2\u00a0%, see page\u00a02"}},
		Notes:   []plan.Spot{{Rect: place.Rect{Front: 3625, Rear: 3775, Left: left, Right: right}, Says: "tie-in"}},
		Empty: []plan.Statement{{
			Rect: place.Rect{Front: 0, Rear: 3625, Left: left, Right: right}, Bold: []string{"Not in this warranty"},
			Plain: []string{"not opened, not looked at"},
		}},
	}
	field := []place.Rect{{Front: 3700, Rear: 7400, Left: left, Right: right}}
	bar := func(front, rear int64) place.Rect {
		return place.Rect{Front: front, Rear: rear, Left: left, Right: right}
	}
	var skirts []place.Rect
	for _, o := range in.Roof.Openings[2:] {
		skirts = append(skirts, grown(o.Clear, 75))
	}
	in.Covers = []plan.Cover{
		{Line: 1, Hatch: plan.Skin, Regions: field},
		{Line: 2, Hatch: plan.Bond, Regions: field},
		{Line: 3, Hatch: plan.Frame, Members: true, Regions: []place.Rect{bar(5890, 5950), bar(6630, 6690), bar(7340, 7400)}},
		{Line: 4, Hatch: plan.SkinNarrow, Regions: skirts},
		{Line: 5, Hatch: plan.SkinNarrow, Regions: []place.Rect{
			{Front: 3775, Rear: 7325, Left: left, Right: -1025}, {Front: 3775, Rear: 7325, Left: 1025, Right: right}, bar(7325, 7400),
		}},
		{Line: 6, Hatch: plan.SkinNarrow, Regions: []place.Rect{bar(3625, 3775)}},
	}
	for _, o := range in.Roof.Openings[:2] {
		in.Left = append(in.Left, plan.Trouble{Name: o.Name, Rect: o.Clear})
		in.Margins = append(in.Margins, o.Clear)
	}
	return in
}

// The plan that comes out of the ledger is, mark for mark, the one put together
// by hand.
func TestPlanOfTheDemo(t *testing.T) {
	_, f := q7(t, report.PassOnCopy)
	want, legend := plan.Certificate(planByHand())
	require.Equal(t, string(plan.SVG(want)), string(plan.SVG(f.RoofPlan)))
	require.Equal(t, legend.Names, f.PlanNames)
	require.Len(t, f.Legend, len(legend.Samples))
	for i, s := range legend.Samples {
		require.Equal(t, s.Says, f.Legend[i].Says)
	}
	require.Equal(t, plan.SVG(plan.Small(planByHand().Roof, 8200)), plan.SVG(f.Next.Bare))
}

// The list beside the plan says what the drawing says.
func TestPlanListOfTheDemo(t *testing.T) {
	_, f := q7(t, report.PassOnCopy)
	all := strings.Join(f.PlanList, "\n")
	for _, says := range []string{
		"Line 4, hatched: V2, A1, H1, P1, G1, flange and 75 mm around", "Not in this warranty, not opened, not looked at: 0–3625 mm",
		"R1 refrigerator vent, left: 1900–2300 × 600–1000 L, crossed", "G1 cable gland: 4180–4220 × 880–920 L",
		"A1 air conditioner: 5722–6078 × 178 L–178 R", "7340–7400 × 1000–1100 R", "Tie-in: 3625–3775 mm",
		"W2 weld: 6880–6920 × 1100 L–580 R, dotted",
	} {
		require.Contains(t, all, says)
	}
	require.Len(t, f.PlanList, 6+1+7+2+2)
}

// An opening that was taken off and laid over is no longer on the plan; one
// that was set back is.
func TestOpeningsThatAreGone(t *testing.T) {
	names := func(notes string) string {
		f := factsOf(t, notes)
		return strings.Join(f.PlanList, "\n")
	}
	const off = "work: take-off-fitting at V1; by hand-1\n"
	require.Contains(t, names(frontHalf), "V1 roof vent")
	require.NotContains(t, names(off+frontHalf), "V1 roof vent")
	const back = "work: refit-fitting at V1; by hand-1\n"
	require.Contains(t, names(off+frontHalf+back), "V1 roof vent")
	require.Contains(t, names(off+frontHalf+back+frontHalf), "V1 roof vent")
}
