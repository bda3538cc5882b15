package plan

import "lapmark/ledger/place"

// about returns the rectangle of an opening from its middle and clear size.
func about(aft, off, along, across int64) place.Rect {
	return place.Rect{Front: aft - along/2, Rear: aft - along/2 + along, Left: off - across/2, Right: off - across/2 + across}
}

func grown(r place.Rect, mm int64) place.Rect {
	return place.Rect{Front: r.Front - mm, Rear: r.Rear + mm, Left: r.Left - mm, Right: r.Right + mm}
}

// fellside is the roof of the Tarnholt Fellside 78.
func fellside() Roof {
	r := Roof{Length: 7400, Front: 2200, Rear: 2200}
	for a := int64(740); a < 7400; a += 740 {
		r.Rafters = append(r.Rafters, a)
	}
	r.Openings = []Opening{
		{Name: "R1", Says: "refrigerator vent, left", Clear: about(2100, -800, 400, 400)},
		{Name: "S1", Says: "skylight, left", Clear: about(2900, -350, 600, 500)},
		{Name: "G1", Says: "cable gland", Clear: about(4200, -900, 40, 40), Round: true},
		{Name: "V2", Says: "roof vent", Clear: about(4600, 300, 356, 356)},
		{Name: "H1", Says: "hatch", Clear: about(5100, -600, 500, 500)},
		{Name: "A1", Says: "air conditioner", Clear: about(5900, 0, 356, 356)},
		{Name: "P1", Says: "plumbing vent", Clear: about(6800, 700, 48, 48), Round: true},
	}
	r.Seams = []Seam{
		{Name: "W1", Says: "weld", Rect: place.Rect{Front: 3700, Rear: 7400, Left: 560, Right: 600}},
		{Name: "W2", Says: "weld", Rect: place.Rect{Front: 6880, Rear: 6920, Left: -1100, Right: 580}},
	}
	return r
}

// q7 is what the plan of certificate Q-0007 shows.
func q7() Input {
	roof := fellside()
	clear := map[string]place.Rect{}
	for _, o := range roof.Openings {
		clear[o.Name] = o.Clear
	}
	field := place.Rect{Front: 3700, Rear: 7400, Left: -1100, Right: 1100}
	in := Input{Roof: roof, Borders: []int64{3700}, Margin: 300}
	in.Covers = []Cover{
		{Line: 1, Hatch: Skin, Regions: []place.Rect{field}},
		{Line: 2, Hatch: Bond, Regions: []place.Rect{field}},
		{Line: 3, Hatch: Frame, Members: true, Regions: []place.Rect{
			{Front: 5890, Rear: 5950, Left: -1100, Right: 1100},
			{Front: 6630, Rear: 6690, Left: -1100, Right: 1100},
			{Front: 7340, Rear: 7400, Left: -1100, Right: 1100},
		}},
		{Line: 4, Hatch: SkinNarrow},
		{Line: 5, Hatch: SkinNarrow, Regions: []place.Rect{
			{Front: 3775, Rear: 7325, Left: -1100, Right: -1025},
			{Front: 3775, Rear: 7325, Left: 1025, Right: 1100},
			{Front: 7325, Rear: 7400, Left: -1100, Right: 1100},
		}},
		{Line: 6, Hatch: SkinNarrow, Regions: []place.Rect{{Front: 3625, Rear: 3775, Left: -1100, Right: 1100}}},
	}
	for _, name := range []string{"V2", "A1", "H1", "P1", "G1"} {
		in.Covers[3].Regions = append(in.Covers[3].Regions, grown(clear[name], 75))
	}
	for _, name := range []string{"R1", "S1"} {
		in.Left = append(in.Left, Trouble{Name: name, Rect: clear[name]})
		in.Margins = append(in.Margins, clear[name])
	}
	in.Reasons = []Spot{{Rect: place.Rect{Front: 7340, Rear: 7400, Left: 1000, Right: 1100}, Says: "closed at 16.2\u00a0%, see page\u00a02"}}
	in.Notes = []Spot{{Rect: place.Rect{Front: 3625, Rear: 3775, Left: -1100, Right: 1100}, Says: "tie-in"}}
	in.Empty = []Statement{{
		Rect: place.Rect{Front: 0, Rear: 3625, Left: -1100, Right: 1100},
		Bold: []string{"Not in this warranty"}, Plain: []string{"not opened, not looked at"},
	}}
	return in
}
