package place

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// fellside is the coach of the shop: 7400 × 2200, rafters every 740.
func fellside() Roof {
	seam := Place{Shape: Run, Aft: At(6660), Off: Over(-1025, -200), Width: 40}
	return Roof{
		Deck:         &Deck{7400, 2200, 2200},
		RaftersEvery: 740,
		Openings: map[string]Opening{
			"R1": {Part: "refrigerator-vent", Aft: 2100, Off: -800, Clear: [2]int64{400, 400}},
			"S1": {Part: "skylight", Aft: 2900, Off: -350, Clear: [2]int64{600, 500}},
			"G1": {Part: "cable-gland", Aft: 4200, Off: -900, Diameter: 40},
			"V2": {Part: "roof-vent", Aft: 4600, Off: 300, Clear: [2]int64{356, 356}},
			"H1": {Part: "hatch", Aft: 5100, Off: -600, Clear: [2]int64{500, 500}},
			"A1": {Part: "air-conditioner", Aft: 5900, Clear: [2]int64{356, 356}},
			"P1": {Part: "plumbing-vent", Aft: 6800, Off: 700, Diameter: 48},
		},
		Names: map[string]Naming{
			"W1": {Places: []Place{seam, {Shape: Run, Aft: Over(6660, 7325), Off: At(-200), Width: 40}}},
		},
	}
}

func field(aft, off *Range) Place { return Place{Shape: Field, Aft: aft, Off: off} }

func bay(n int64, side Side) Place { return Place{Shape: Bay, Bay: n, Side: side} }

func part(name string) Place { return Place{Shape: Part, Part: name} }

func named(name string) Place { return Place{Shape: Named, Name: name} }

func rafter(n, width int64) Place {
	return Place{Shape: Part, Part: "rafter", Number: &n, Width: width}
}

func skirted(name string, mm int64) Place {
	return Place{Shape: Named, Name: name, Skirt: &mm}
}

// Boxes worked by hand from the measures of the coach.
func TestPlacesOfTheCoach(t *testing.T) {
	for name, c := range map[string]struct {
		place Place
		boxes []Rect
	}{
		"bay 9 left":            {bay(9, Left), []Rect{{5920, 6660, -1100, 0}}},
		"bay 6":                 {bay(6, ""), []Rect{{3700, 4440, -1100, 1100}}},
		"bay 6 middle":          {bay(6, Middle), []Rect{{3700, 4440, -550, 550}}},
		"bay 10 right":          {bay(10, Right), []Rect{{6660, 7400, 0, 1100}}},
		"bay 1":                 {bay(1, ""), []Rect{{0, 740, -1100, 1100}}},
		"rafter 8":              {rafter(8, 0), []Rect{{5890, 5950, -1100, 1100}}},
		"rafter 9 width 61":     {rafter(9, 61), []Rect{{6629, 6691, -1100, 1100}}},
		"rafter 0":              {rafter(0, 60), []Rect{{-30, 30, -1100, 1100}}},
		"V2":                    {named("V2"), []Rect{{4347, 4853, 47, 553}}},
		"A1":                    {named("A1"), []Rect{{5647, 6153, -253, 253}}},
		"H1":                    {named("H1"), []Rect{{4775, 5425, -925, -275}}},
		"P1":                    {named("P1"), []Rect{{6701, 6899, 601, 799}}},
		"G1":                    {named("G1"), []Rect{{4105, 4295, -995, -805}}},
		"R1 skirt 0":            {skirted("R1", 0), []Rect{{1900, 2300, -1000, -600}}},
		"S1 skirt 0":            {skirted("S1", 0), []Rect{{2600, 3200, -600, -100}}},
		"V2 skirt 55":           {skirted("V2", 55), []Rect{{4367, 4833, 67, 533}}},
		"W1":                    {named("W1"), []Rect{{6640, 6660, -1025, -200}, {6660, 6680, -1025, -180}, {6680, 7325, -220, -180}}},
		"left-edge":             {part("left-edge"), []Rect{{0, 7400, -1100, -1025}}},
		"right-edge":            {part("right-edge"), []Rect{{0, 7400, 1025, 1100}}},
		"rear-joint":            {part("rear-joint"), []Rect{{7325, 7400, -1100, 1100}}},
		"front-header":          {part("front-header"), []Rect{{0, 75, -1100, 1100}}},
		"gutter-rail":           {part("gutter-rail"), []Rect{{0, 7400, -1100, -1025}, {0, 7400, 1025, 1100}}},
		"gutter-rail left":      {Place{Shape: Part, Part: "gutter-rail", Side: Left}, []Rect{{0, 7400, -1100, -1025}}},
		"rear-header width 60":  {Place{Shape: Part, Part: "rear-header", Width: 60}, []Rect{{7340, 7400, -1100, 1100}}},
		"rear-joint, all of it": {Place{Shape: Part, Part: "rear-joint", Width: 9000}, []Rect{{0, 7400, -1100, 1100}}},
		"rear-joint right":      {Place{Shape: Part, Part: "rear-joint", Side: Right}, []Rect{{7325, 7400, 0, 1100}}},
		"deck-field":            {part("deck-field"), []Rect{{0, 7400, -1100, 1100}}},
		"deck-field middle":     {Place{Shape: Part, Part: "deck-field", Side: Middle}, []Rect{{0, 7400, -550, 550}}},
		"whole roof":            {field(nil, nil), []Rect{{0, 7400, -1100, 1100}}},
		"full width":            {field(Over(3700, 7400), nil), []Rect{{3700, 7400, -1100, 1100}}},
		"full length":           {field(nil, Over(0, 200)), []Rect{{0, 7400, 0, 200}}},
		"50-350 forward":        {field(Over(-350, -50), nil), []Rect{{-350, -50, -1100, 1100}}},
		"over the edge":         {field(Over(100, 200), Over(1025, 1150)), []Rect{{100, 200, 1025, 1100}}},
		"beside the deck":       {field(Over(100, 200), Over(1100, 1150)), nil},
		"spot":                  {Place{Shape: Spot, Aft: At(5750), Off: At(960)}, []Rect{{5725, 5775, 935, 985}}},
		"spot over the edge":    {Place{Shape: Spot, Aft: At(2500), Off: At(-1090), Radius: 60}, []Rect{{2440, 2560, -1150, -1030}}},
		"run along":             {Place{Shape: Run, Aft: Over(3700, 7400), Off: At(580), Width: 40}, []Rect{{3700, 7400, 560, 600}}},
		"run across":            {Place{Shape: Run, Aft: At(6900), Off: Over(-1100, 580), Width: 41}, []Rect{{6879, 6921, -1100, 580}}},
	} {
		r := work(t, fellside(), c.place)
		require.Equal(t, c.boxes, r.Rects(RoofPlane), name)
		for _, on := range r.Planes() {
			require.Equal(t, RoofPlane, on, name)
		}
	}
}

func TestWallsAndSlides(t *testing.T) {
	for plane, c := range map[Plane]struct {
		place Place
		box   Rect
	}{
		"wall-left":  {Place{Shape: Wall, Wall: Left, Along: Over(6000, 6400), Down: Over(0, 300)}, Rect{6000, 6400, 0, 300}},
		"wall-front": {Place{Shape: Wall, Wall: Front, Along: Over(0, 400), Down: Over(50, 200)}, Rect{50, 200, 0, 400}},
		"wall-rear":  {Place{Shape: Wall, Wall: Rear, Along: Over(-400, 0), Down: Over(0, 200)}, Rect{0, 200, -400, 0}},
		"slide-S1":   {Place{Shape: Slide, Slide: "S1", Aft: Over(0, 600), Out: Over(0, 400)}, Rect{0, 600, 0, 400}},
	} {
		r := work(t, Roof{}, c.place)
		require.Equal(t, []Plane{plane}, r.Planes())
		box, ok := r.Bounds(plane)
		require.True(t, ok)
		require.Equal(t, c.box, box)
		require.Empty(t, r.Rects(RoofPlane))
	}
}

// Areas in mm², by hand.
func TestAreasOfTheCoach(t *testing.T) {
	for _, c := range []struct {
		place Place
		area  int64
	}{
		{field(Over(3700, 7400), nil), 8_140_000},
		{field(Over(5000, 7400), nil), 5_280_000},
		{field(Over(6660, 7325), Over(-1025, -200)), 548_625},
		{field(Over(0, 3700), nil), 8_140_000},
		{field(Over(5550, 6450), Over(-350, 350)), 630_000},
		{field(Over(6150, 6450), Over(-700, -300)), 120_000},
	} {
		require.Equal(t, c.area, work(t, fellside(), c.place).Area())
	}
	drawn := work(t, fellside(), field(Over(3400, 7400), nil))
	rebuilt := work(t, fellside(), field(Over(3700, 7400), nil))
	beyond := drawn.Minus(rebuilt)
	require.Equal(t, int64(660_000), beyond.Area())
	require.Equal(t, []Rect{{3400, 3700, -1100, 1100}}, beyond.Rects(RoofPlane))
	require.False(t, rebuilt.Holds(drawn, 10))
	require.True(t, drawn.Holds(rebuilt, 0))
}

func TestRaftersAt(t *testing.T) {
	roof := Roof{Deck: &Deck{3000, 2201, 2201}, RaftersAt: []int64{738, 1480, 2220}, RaftersEvery: 500}
	for n, want := range map[int64]Rect{
		1: {0, 738, -1101, 1101}, 2: {738, 1480, -1101, 1101}, 3: {1480, 2220, -1101, 1101}, 4: {2220, 3000, -1101, 1101},
	} {
		require.Equal(t, []Rect{want}, work(t, roof, bay(n, "")).Rects(RoofPlane))
	}
	require.Equal(t, []Rect{{2220, 3000, -551, 551}}, work(t, roof, bay(4, Middle)).Rects(RoofPlane))
	_, err := roof.Work(bay(5, ""))
	require.Equal(t, ErrNoSuch{"bay", 5, 4}, err)
	_, err = roof.Work(rafter(4, 0))
	require.Equal(t, ErrNoSuch{"rafter", 4, 3}, err)

	roof.RaftersAt = []int64{738, 1480, 3000} // the last one at the deck's end
	require.Equal(t, []Rect{{1480, 3000, -1101, 1101}}, work(t, roof, bay(3, "")).Rects(RoofPlane))
	_, err = roof.Work(bay(4, ""))
	require.Equal(t, ErrNoSuch{"bay", 4, 3}, err)

	every := Roof{Deck: &Deck{7500, 2200, 2200}, RaftersEvery: 740} // 100 mm left over behind rafter 10
	require.Equal(t, []Rect{{7400, 7500, -1100, 1100}}, work(t, every, bay(11, "")).Rects(RoofPlane))
	_, err = every.Work(bay(12, ""))
	require.Equal(t, ErrNoSuch{"bay", 12, 11}, err)
	_, err = fellside().Work(bay(11, ""))
	require.Equal(t, ErrNoSuch{"bay", 11, 10}, err)
	_, err = fellside().Work(bay(math.MaxInt64, ""))
	require.Error(t, err)

	for _, c := range []struct {
		at  []int64
		bay int64
	}{{[]int64{1480, 738}, 2}, {[]int64{738, 738}, 2}, {[]int64{-5, 738}, 2}, {[]int64{-5, 738}, 1}, {[]int64{0, 738}, 1}, {[]int64{4000, 738}, 1}} {
		roof.RaftersAt = c.at
		_, err := roof.Work(bay(c.bay, ""))
		require.Equal(t, ErrMalformed{"rafter stations out of order"}, err, "%v", c)
	}
}

func TestNotMeasuredYet(t *testing.T) {
	var none Roof
	deckOnly := Roof{Deck: &Deck{7400, 2200, 2200}}
	raftersOnly := Roof{RaftersEvery: 740}
	for _, c := range []struct {
		roof  Roof
		place Place
		want  error
	}{
		{none, bay(9, ""), ErrNoRafters},
		{deckOnly, bay(9, ""), ErrNoRafters},
		{deckOnly, rafter(8, 0), ErrNoRafters},
		{raftersOnly, bay(9, ""), ErrNoDeck},
		{raftersOnly, rafter(8, 0), ErrNoDeck},
		{none, part("left-edge"), ErrNoDeck},
		{none, part("deck-field"), ErrNoDeck},
		{none, field(Over(0, 10), nil), ErrNoDeck},
		{none, field(nil, Over(0, 10)), ErrNoDeck},
		{none, field(nil, nil), ErrNoDeck},
		{fellside(), named("A2"), ErrNoName{"A2"}},
	} {
		_, err := c.roof.Work(c.place)
		require.Equal(t, c.want, err)
	}
	_, err := none.Outline()
	require.ErrorIs(t, err, ErrNoDeck)

	// places in mm need no measure
	require.Equal(t, []Rect{{0, 10, 0, 9000}}, work(t, none, field(Over(0, 10), Over(0, 9000))).Rects(RoofPlane))
	require.Equal(t, int64(2500), work(t, none, Place{Shape: Spot, Aft: At(0), Off: At(0)}).Area())
	bad := Roof{Deck: &Deck{7400, -1, 2200}}
	require.Equal(t, int64(2500), work(t, bad, Place{Shape: Spot, Aft: At(0), Off: At(0)}).Area())
	_, err = bad.Work(field(nil, nil))
	require.Equal(t, ErrMalformed{"front width -1"}, err)
}

// A name keeps to what was measured when it was given, may rest on another
// name, and never on itself.
func TestNames(t *testing.T) {
	before := fellside()
	after := fellside()
	after.Deck = &Deck{7400, 2000, 2000}
	after.Names["rear"] = Naming{Places: []Place{part("rear-joint")}, Then: &before}
	after.Names["now"] = Naming{Places: []Place{part("rear-joint")}}
	after.Names["twice"] = Naming{Places: []Place{named("rear")}}
	after.Names["thrice"] = Naming{Places: []Place{named("twice")}}
	after.Names["itself"] = Naming{Places: []Place{named("itself")}}
	before.Names["rear"] = after.Names["now"]
	require.Equal(t, []Rect{{7325, 7400, -1100, 1100}}, work(t, after, named("rear")).Rects(RoofPlane))
	require.Equal(t, []Rect{{7325, 7400, -1000, 1000}}, work(t, after, named("now")).Rects(RoofPlane))
	require.Equal(t, []Rect{{7325, 7400, -1100, 1100}}, work(t, after, named("twice")).Rects(RoofPlane))
	require.Equal(t, []Rect{{7305, 7420, -1020, 1020}}, work(t, after, skirted("now", 20)).Rects(RoofPlane))
	for _, name := range []string{"thrice", "itself"} {
		_, err := after.Work(named(name))
		require.ErrorAs(t, err, new(ErrNoName), name)
	}
	after.Names["later"] = Naming{Places: []Place{field(nil, nil)}, Then: &Roof{}}
	_, err := after.Work(named("later"))
	require.ErrorIs(t, err, ErrNoDeck)
}

func TestMalformed(t *testing.T) {
	low, far := int64(-1), Farthest+1
	for _, p := range []Place{
		{},
		{Shape: "circle"},
		{Shape: Spot, Aft: At(1)},
		{Shape: Spot, Aft: At(1), Off: Over(1, 2)},
		{Shape: Spot, Aft: At(1), Off: At(far)},
		{Shape: Spot, Aft: At(1), Off: At(1), Radius: -1},
		{Shape: Run, Aft: Over(1, 2), Off: At(1)},
		{Shape: Run, Aft: Over(1, 2), Off: Over(1, 2), Width: 4},
		{Shape: Run, Aft: At(1), Off: At(1), Width: 4},
		{Shape: Run, Width: 4},
		field(Over(2, 1), nil),
		field(At(2), nil),
		field(nil, Over(0, far)),
		field(nil, Over(math.MinInt64, math.MaxInt64)),
		bay(0, ""),
		bay(-1, ""),
		bay(1, Front),
		named(""),
		{Shape: Named, Name: "A1", Skirt: &low},
		{Shape: Named, Name: "A1", Skirt: &far},
		part(""),
		{Shape: Part, Part: "rafter", Number: &low},
		{Shape: Part, Part: "left-edge", Number: new(int64)},
		{Shape: Part, Part: "left-edge", Side: Rear},
		{Shape: Part, Part: "left-edge", Width: -1},
		{Shape: Wall, Along: Over(0, 1), Down: Over(0, 1)},
		{Shape: Wall, Wall: Middle, Along: Over(0, 1), Down: Over(0, 1)},
		{Shape: Wall, Wall: Left, Along: Over(0, 1), Down: Over(-1, 1)},
		{Shape: Wall, Wall: Left, Along: Over(0, 1)},
		{Shape: Slide, Aft: Over(0, 1), Out: Over(0, 1)},
		{Shape: Slide, Slide: "S1", Aft: Over(0, 1), Out: Over(-1, 1)},
	} {
		_, err := fellside().Work(p)
		require.ErrorAs(t, err, new(ErrMalformed), "%+v", p)
		require.NotEmpty(t, err.Error())
	}
	for _, o := range []Opening{{Clear: [2]int64{-1, 2}}, {Clear: [2]int64{1, far}}, {Diameter: -3}, {Aft: far}, {Off: -far}} {
		_, err := Roof{Openings: map[string]Opening{"A1": o}}.Work(named("A1"))
		require.ErrorAs(t, err, new(ErrMalformed), "%+v", o)
	}
	for _, d := range []Deck{{}, {0, 1, 1}, {1, 0, 1}, {1, 1, 0}, {far, 1, 1}} {
		_, err := Roof{Deck: &d}.Work(field(nil, nil))
		require.ErrorAs(t, err, new(ErrMalformed), "%+v", d)
	}
	_, err := Roof{Deck: &Deck{10, 10, 10}, RaftersAt: []int64{far}}.Work(rafter(1, 0))
	require.ErrorAs(t, err, new(ErrMalformed))
}

func TestSentences(t *testing.T) {
	require.Equal(t, "nothing is called A1", ErrNoName{"A1"}.Error())
	require.Equal(t, "no bay 12: the last is 10", ErrNoSuch{"bay", 12, 10}.Error())
}
