package ledger

import (
	"errors"
	"slices"

	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

// ErrPlace is an object that is no place this program knows.
var ErrPlace = errors.New("no place this program knows")

// placeMembers are the members of each shape, beside shape, part and layers;
// those in may can be absent.
var placeMembers = map[place.Shape]struct{ must, may []string }{
	place.Spot:  {[]string{"aft", "off", "radius"}, nil},
	place.Run:   {[]string{"aft", "off", "width"}, nil},
	place.Field: {nil, []string{"aft", "off"}},
	place.Bay:   {[]string{"bay"}, []string{"side"}},
	place.Named: {[]string{"name"}, []string{"skirt"}},
	place.Part:  {[]string{"part"}, []string{"number", "side", "width"}},
	place.Wall:  {[]string{"wall", "along", "down"}, nil},
	place.Slide: {[]string{"slide", "aft", "out"}, nil},
}

// PlaceOf reads a place as a body holds it. The error is ErrPlace.
func PlaceOf(v format.Value) (place.Place, error) {
	o, ok := v.(format.Object)
	text, _ := o["shape"].(string)
	shape := place.Shape(text)
	members, known := placeMembers[shape]
	if !ok || !known {
		return place.Place{}, ErrPlace
	}
	r := placeReader{o: o, p: place.Place{Shape: shape}}
	for _, name := range members.must {
		r.bad = r.bad || o[name] == nil
	}
	for name, v := range o {
		if name != "shape" && name != "part" && name != "layers" &&
			!slices.Contains(members.must, name) && !slices.Contains(members.may, name) {
			return place.Place{}, ErrPlace
		}
		r.member(name, v)
	}
	if r.bad || r.p.Check() != nil {
		return place.Place{}, ErrPlace
	}
	return r.p, nil
}

type placeReader struct {
	o   format.Object
	p   place.Place
	bad bool
}

func (r *placeReader) member(name string, v format.Value) {
	switch name {
	case "part":
		r.p.Part = r.word(v, "elements")
	case "layers":
		r.layers(v)
	case "aft":
		r.p.Aft = r.extent(v)
	case "off":
		r.p.Off = r.extent(v)
	case "along":
		r.p.Along = r.extent(v)
	case "down":
		r.p.Down = r.extent(v)
	case "out":
		r.p.Out = r.extent(v)
	case "radius":
		r.p.Radius = r.integer(v)
	case "width":
		r.p.Width = r.integer(v)
	case "bay":
		r.p.Bay = r.integer(v)
	case "number":
		n := r.integer(v)
		r.p.Number = &n
	case "skirt":
		n := r.integer(v)
		r.p.Skirt = &n
	case "side":
		r.p.Side = place.Side(r.word(v, "side"))
	case "wall":
		r.p.Wall = place.Side(r.word(v, "wall"))
	case "name":
		r.p.Name = r.text(v)
	case "slide":
		r.p.Slide = r.text(v)
	}
}

func (r *placeReader) text(v format.Value) string {
	s, ok := v.(string)
	r.bad = r.bad || !ok
	return s
}

func (r *placeReader) word(v format.Value, list string) string {
	s, _ := v.(string)
	_, ok := WordIn(list, s)
	r.bad = r.bad || !ok
	return s
}

func (r *placeReader) integer(v format.Value) int64 {
	n, ok := v.(int64)
	r.bad = r.bad || !ok
	return n
}

// extent reads one number, or a range of two.
func (r *placeReader) extent(v format.Value) *place.Range {
	if n, ok := v.(int64); ok {
		return place.At(n)
	}
	list, _ := v.(format.Array)
	if len(list) != 2 {
		r.bad = true
		return nil
	}
	from, to := r.integer(list[0]), r.integer(list[1])
	r.bad = r.bad || from >= to
	return place.Over(from, to)
}

func (r *placeReader) layers(v format.Value) {
	list, ok := v.(format.Array)
	r.bad = r.bad || !ok || len(list) == 0
	for _, one := range list {
		name := r.word(one, "layers")
		r.bad = r.bad || slices.Contains(r.p.Layers, name)
		r.p.Layers = append(r.p.Layers, name)
	}
}

// PlacesOf reads a list of places; those this program does not know are left
// out.
func PlacesOf(v format.Value) []place.Place {
	list, _ := v.(format.Array)
	var out []place.Place
	for _, one := range list {
		if p, err := PlaceOf(one); err == nil {
			out = append(out, p)
		}
	}
	return out
}

// PlacesIn returns every place a body speaks of, in results, operations and
// causes too.
func PlacesIn(kind string, body format.Object) []place.Place {
	var out []place.Place
	_, err := Draft{Kind: kind, Body: body}.walk(func(f Field, v format.Value) (format.Value, error) {
		if p, err := PlaceOf(v); f.Form == FormPlace && err == nil {
			out = append(out, p)
		}
		return v, nil
	})
	if err != nil {
		return nil
	}
	return out
}
