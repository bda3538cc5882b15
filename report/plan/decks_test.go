package plan

import "lapmark/ledger/place"

func field(front, rear, left, right int64) place.Rect {
	return place.Rect{Front: front, Rear: rear, Left: left, Right: right}
}

// tapered is the demo coach with another width in front and behind.
func tapered(front, rear int64) Input {
	in := q7()
	in.Roof.Front, in.Roof.Rear = front, rear
	return in
}

// trailer is a short deck with two vents abreast, a place left that is no
// opening, a lining, and members along and across.
func trailer() Input {
	r := Roof{Length: 4200, Front: 2000, Rear: 2000, Rafters: []int64{600, 1200, 1800, 2400, 3000, 3600}}
	r.Openings = []Opening{
		{"V1", "roof vent", about(900, -500, 400, 400), false},
		{"V2", "roof vent", about(900, 500, 400, 400), false},
		{"A1", "air conditioner", about(2100, 0, 356, 356), false},
		{"R1", "refrigerator vent, right", about(3000, 700, 200, 400), false},
		{"P1", "plumbing vent", about(3600, -700, 60, 60), true},
		{"C1", "cable gland", about(3650, -500, 40, 40), true},
		{"N1", "antenna", about(3700, 200, 90, 90), true},
	}
	r.Seams = []Seam{{"W1", "weld", field(0, 4200, -20, 20)}}
	in := Input{Roof: r, Borders: []int64{3000}, Margin: 300}
	soft := field(3300, 3600, 300, 700)
	in.Covers = []Cover{
		{Line: 1, Hatch: Skin, Regions: []place.Rect{field(0, 3000, -1000, 1000)}},
		{Line: 2, Hatch: Bond, Regions: []place.Rect{field(0, 3000, -1000, 1000)}},
		{Line: 3, Hatch: SkinNarrow, Regions: []place.Rect{grown(r.Openings[0].Clear, 75), grown(r.Openings[1].Clear, 75), grown(r.Openings[2].Clear, 75)}},
		{Line: 4, Hatch: SkinNarrow, Regions: []place.Rect{field(0, 75, -1000, 1000), field(75, 3000, -1000, -925), field(75, 3000, 925, 1000)}},
		{Line: 5, Hatch: Lining, Regions: []place.Rect{field(1200, 4200, -1000, 1000)}},
		{Line: 6, Hatch: Frame, Members: true, Regions: []place.Rect{field(0, 40, -1000, 1000), field(40, 4200, -1000, -960)}},
	}
	in.Left = []Trouble{{"P1", r.Openings[4].Clear}, {"soft deck", soft}}
	in.Margins = []place.Rect{r.Openings[4].Clear, soft}
	in.Empty = []Statement{{Rect: field(3000, 4200, -1000, 1000), Bold: []string{"Not in this warranty"}, Plain: []string{"not opened, not looked at"}}}
	return in
}

// longCoach is a long deck with eighteen openings and narrow bays.
func longCoach() Input {
	r := Roof{Length: 11800, Front: 2500, Rear: 2500}
	for a := int64(400); a < 11800; a += 400 {
		r.Rafters = append(r.Rafters, a)
	}
	words := []string{"roof vent", "refrigerator vent, left", "air conditioner, front", "skylight over the shower", "plumbing vent", "hatch"}
	in := Input{Borders: []int64{6000, 6200}, Margin: 300}
	fittings := Cover{Line: 13, Hatch: SkinNarrow}
	for i := range int64(18) {
		o := Opening{
			Name: "O" + number(i+1), Says: words[i%6], Round: i%5 == 4,
			Clear: about(500+i*620, -900+(i*731)%1800, 300+(i*97)%200, 300+(i*57)%200),
		}
		r.Openings = append(r.Openings, o)
		if o.Clear.Front > 6000 {
			fittings.Regions = append(fittings.Regions, grown(o.Clear, 75))
		}
	}
	in.Roof = r
	half := []place.Rect{field(6000, 11800, -1250, 1250)}
	in.Covers = []Cover{{Line: 11, Hatch: Skin, Regions: half}, {Line: 12, Hatch: Bond, Regions: half}, fittings}
	in.Empty = []Statement{{Rect: field(0, 6000, -1250, 1250), Bold: []string{"Not in this warranty"}, Plain: []string{"not opened, not looked at"}}}
	return in
}
