package ledger

import (
	"errors"
	"slices"

	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

// ErrPlace is an object that is no place this program knows.
var ErrPlace = errors.New("no place this program knows")

// shapeMembers are the members of one shape; those in may can be absent.
type shapeMembers struct{ must, may []string }

// anyShape are the members that a place of any shape may have.
var anyShape = []string{"shape", "part", "layers"}

var placeMembers = map[place.Shape]shapeMembers{
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
	members, known := placeMembers[place.Shape(text)]
	if !ok || !known || !members.fit(o) {
		return place.Place{}, ErrPlace
	}
	r := placeReader{o: o}
	p := place.Place{
		Shape: place.Shape(text), Part: r.word("part", "elements"), Layers: r.layers(),
		Aft: r.extent("aft"), Off: r.extent("off"), Along: r.extent("along"), Down: r.extent("down"), Out: r.extent("out"),
		Radius: r.integer("radius"), Width: r.integer("width"), Bay: r.integer("bay"),
		Number: r.whereSaid("number"), Skirt: r.whereSaid("skirt"),
		Side: place.Side(r.word("side", "side")), Wall: place.Side(r.word("wall", "wall")),
		Name: r.text("name"), Slide: r.text("slide"),
	}
	if r.bad || p.Check() != nil {
		return place.Place{}, ErrPlace
	}
	return p, nil
}

// fit says whether an object has the members of a shape, and no other.
func (m shapeMembers) fit(o format.Object) bool {
	for _, name := range m.must {
		if o[name] == nil {
			return false
		}
	}
	for name := range o {
		if !slices.Contains(m.must, name) && !slices.Contains(m.may, name) && !slices.Contains(anyShape, name) {
			return false
		}
	}
	return true
}

// placeReader reads members of a place; one that is absent is its zero value.
type placeReader struct {
	o   format.Object
	bad bool
}

func member[T any](r *placeReader, name string) T {
	v, there := r.o[name]
	out, ok := v.(T)
	r.bad = r.bad || there && !ok
	return out
}

func (r *placeReader) text(name string) string { return member[string](r, name) }

func (r *placeReader) integer(name string) int64 { return member[int64](r, name) }

func (r *placeReader) whereSaid(name string) *int64 {
	if _, there := r.o[name]; !there {
		return nil
	}
	n := r.integer(name)
	return &n
}

func (r *placeReader) word(name, list string) string {
	s := r.text(name)
	if _, there := r.o[name]; there {
		_, ok := WordIn(list, s)
		r.bad = r.bad || !ok
	}
	return s
}

// extent reads one number, or a range of two.
func (r *placeReader) extent(name string) *place.Range {
	v, there := r.o[name]
	if !there {
		return nil
	}
	if n, ok := v.(int64); ok {
		return place.At(n)
	}
	list := member[format.Array](r, name)
	ends := Ints(list)
	if len(list) != 2 || len(ends) != 2 || ends[0] >= ends[1] {
		r.bad = true
		return nil
	}
	return place.Over(ends[0], ends[1])
}

func (r *placeReader) layers() []string {
	list := member[format.Array](r, "layers")
	names := Texts(list)
	_, there := r.o["layers"]
	r.bad = r.bad || there && len(list) == 0 || len(names) < len(list)
	for i, name := range names {
		_, ok := WordIn("layers", name)
		r.bad = r.bad || !ok || slices.Contains(names[:i], name)
	}
	return names
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
	Draft{Kind: kind, Body: body}.see(func(f Field, v format.Value) {
		if f.Form != FormPlace {
			return
		}
		if p, err := PlaceOf(v); err == nil {
			out = append(out, p)
		}
	})
	return out
}
