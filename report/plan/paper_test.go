package plan

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"reflect"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

// Widths against the text drawer of golang.org/x/image/font/opentype.
func TestWidthsAgainstOpentype(t *testing.T) {
	face := newTypeface()
	for bold, ttf := range map[bool][]byte{false: goregular.TTF, true: gobold.TTF} {
		f, err := opentype.Parse(ttf)
		if err != nil {
			t.Fatal(err)
		}
		// One pixel is a thousandth of the size.
		drawn, err := opentype.NewFace(f, &opentype.FaceOptions{Size: 1000, DPI: 72, Hinting: font.HintingNone})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []string{"R1 refrigerator vent, left", "7400", "closed at 16.2\u00a0%", "½ ≤ Größe", "1\u00a0:\u00a050"} {
			want := float64(font.MeasureString(drawn, s)) / 64 * 0.335
			if got := float64(face.width(s, 335, bold)); math.Abs(got-want) > 1.5 {
				t.Errorf("%q: %.1f, opentype says %.1f hundredths", s, got, want)
			}
		}
	}
}

func TestRows(t *testing.T) {
	face := newTypeface()
	for _, c := range []struct {
		text string
		most Unit
		want []string
	}{
		{"Not in this warranty", 3000, []string{"Not in this", "warranty"}},
		{"not opened, not looked at", 3000, []string{"not opened,", "not looked at"}},
		{"H1 hatch", 3000, []string{"H1 hatch"}},
		{"closed at 16.2\u00a0%, see page\u00a02", 2950, []string{"closed at 16.2\u00a0%,", "see page\u00a02"}},
		{"refrigerator", 100, []string{"refrigerator"}},
		{"  ", 100, nil},
	} {
		if got := face.rows(c.text, textSize, c.text == "Not in this warranty", c.most); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%q: %q, not %q", c.text, got, c.want)
		}
	}
}

func TestLegendHasWhatOccurs(t *testing.T) {
	_, l := Certificate(q7())
	want := []string{"empty:", "crossed:", "long dashes: 300 mm", "dotted:", "black:", "thin dashes:"}
	for i, s := range l.Samples {
		if i >= len(want) || !strings.HasPrefix(s.Says, want[i]) {
			t.Errorf("sample %d says %q", i, s.Says)
		}
		if s.Drawing.Width != 900 || s.Drawing.Height != 440 {
			t.Errorf("%q is %s × %s", s.Says, s.Drawing.Width, s.Drawing.Height)
		}
		allInside(t, s.Drawing)
	}
	if len(l.Samples) != len(want) {
		t.Errorf("%d samples, not 6", len(l.Samples))
	}
	in := q7()
	in.Left, in.Margins, in.Reasons, in.Empty, in.Roof.Seams, in.Roof.Rafters = nil, nil, nil, nil, nil, nil
	if _, l := Certificate(in); len(l.Samples) != 0 {
		t.Errorf("of a whole and plain deck the legend explains %d things", len(l.Samples))
	}
}

// The bare plan of the demo is 1:100 = 74 × 22 mm.
func TestSmall(t *testing.T) {
	d := Small(fellside(), 8200)
	c := deckOf(t, d)
	if w, h := c[1].X-c[0].X, c[2].Y-c[1].Y; w != 2200 || h != 7400 {
		t.Errorf("deck is %s × %s mm", w, h)
	}
	if d.Height > 8200 || d.Width != 2800 || !has(d, "front") || !has(d, "1\u00a0:\u00a0100") {
		t.Errorf("bare plan is %s × %s mm", d.Width, d.Height)
	}
}

// Every opening is named once, and no name stands on another or on an opening.
func TestSmallNames(t *testing.T) {
	face := newTypeface()
	for _, roof := range []Roof{fellside(), trailer().Roof, longCoach().Roof} {
		d := Small(roof, 8200)
		allInside(t, d)
		p := onPaper(t, d, scaleOf(roof, smallScales[:], 8200-smallTop-smallFoot, smallWide-60))
		var names []box
		for _, m := range d.Marks {
			w, ok := m.(Words)
			if !ok || !roof.opening(w.Text) {
				continue
			}
			b := box{w.At.X, w.At.Y - 241, w.At.X + face.width(w.Text, w.Size, false), w.At.Y}
			if meetsAny(b, names) {
				t.Errorf("%s stands on another name", w.Text)
			}
			for _, o := range roof.Openings {
				if r := p.rect(o.Clear); float64(b.left) < r[2] && float64(b.right) > r[0] && float64(b.top) < r[3] && float64(b.bottom) > r[1] {
					t.Errorf("%s stands on %s", w.Text, o.Name)
				}
			}
			names = append(names, b)
		}
		if len(names) != len(roof.Openings) {
			t.Errorf("%d names for %d openings", len(names), len(roof.Openings))
		}
	}
}

func TestSmallScale(t *testing.T) {
	for _, c := range []struct {
		roof  Roof
		high  Unit
		scale string
	}{
		{Roof{Length: 7400, Front: 2200, Rear: 2200}, 8180, "100"}, // 74 + 7.8 mm of words
		{Roof{Length: 7400, Front: 2200, Rear: 2200}, 8179, "125"},
		{Roof{Length: 11800, Front: 2500, Rear: 2500}, 8200, "200"}, // at 150 it is 78.7 + 7.8
		{Roof{Length: 4000, Front: 2900, Rear: 2900}, 8200, "125"},  // 29 mm do not go on 28
		{Roof{Length: 90000, Front: 2500, Rear: 2500}, 8200, "2000"},
	} {
		d := Small(c.roof, c.high)
		if !has(d, "1\u00a0:\u00a0"+c.scale) || d.Height > c.high {
			t.Errorf("%v in %s mm is not drawn at 1:%s", c.roof, c.high, c.scale)
		}
	}
	if d := Small(fellside(), 500); len(d.Marks) != 0 {
		t.Error("a plan is drawn where there is no room")
	}
}

// The SVG is well formed by the reader of encoding/xml, says its two sentences
// first, and has one element for each mark.
func TestSVG(t *testing.T) {
	in := q7()
	in.Roof.Openings[0].Says = `vent </text><script>alert("1")</script> & more`
	d, _ := Certificate(in)
	svg := SVG(d)
	dec := xml.NewDecoder(bytes.NewReader(svg))
	count := map[string]int{}
	var order, texts []string
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			count[tok.Name.Local]++
			order = append(order, tok.Name.Local)
		case xml.CharData:
			if s := strings.TrimSpace(string(tok)); s != "" {
				texts = append(texts, s)
			}
		}
	}
	if order[0] != "svg" || order[1] != "title" || order[2] != "desc" || texts[0] != d.Title || texts[1] != d.Says {
		t.Errorf("the picture begins with %q and says %q", order[:3], texts[:2])
	}
	if n := len(order) - 3; n != len(d.Marks) || count["script"] != 0 {
		t.Errorf("%d elements for %d marks: %v", n, len(d.Marks), count)
	}
	if !bytes.Contains(svg, []byte(`width="`+d.Width.String()+`mm"`)) {
		t.Error("the picture has no size in millimetres")
	}
}

func TestSVGMarks(t *testing.T) {
	d := Drawing{Width: 1000, Height: 505, Title: "t", Says: "s", Marks: []Mark{
		Line{Point{-5, 0}, Point{100, 250}, Pen{Width: 12, Dash: []Unit{300, 70}}},
		Polyline{Points: []Point{{0, 0}, {100, 0}, {100, 100}}, Closed: true, Fill: Black},
		Box{At: Point{1, 2}, Width: 3, Height: 4, Fill: White},
		Circle{Middle: Point{10, 10}, Radius: 55, Pen: Pen{Width: 35}},
		Words{At: Point{10, 20}, Text: "a < b", Size: 335, Anchor: AtRight, Bold: true, Mono: true},
	}}
	got := string(SVG(d))
	for _, want := range []string{
		`viewBox="0 0 10.00 5.05" width="10.00mm" height="5.05mm"`,
		`<path d="M-0.05 0.00L1.00 2.50" stroke="#000" stroke-width="0.12" stroke-dasharray="3.00 0.70"/>`,
		`<path d="M0.00 0.00L1.00 0.00L1.00 1.00Z" fill="#000"/>`,
		`<rect x="0.01" y="0.02" width="0.03" height="0.04" fill="#fff"/>`,
		`<circle cx="0.10" cy="0.10" r="0.55" stroke="#000" stroke-width="0.35"/>`,
		`<text x="0.10" y="0.20" font-size="3.35" fill="#000" text-anchor="end" font-weight="700" font-family="'Go Mono', 'Liberation Mono', monospace">a &lt; b</text>`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("missing %s\nin %s", want, got)
		}
	}
}

func TestSays(t *testing.T) {
	d, _ := Certificate(q7())
	want := "Deck 7400 by 2200 mm. Hatched, and so in this warranty: places from 3625 to 7400 mm aft, by lines 1, 2, 3, 4, 5, 6; empty is not in it. Crossed, trouble that was left: R1, S1."
	if d.Says != want {
		t.Errorf("%q", d.Says)
	}
	d, _ = Certificate(Input{Roof: Roof{Length: 4000, Front: 2000, Rear: 1800}})
	if want := "Deck 4000 by 2000 mm, 1800 mm wide at the rear. Nothing is hatched: no place is in this warranty."; d.Says != want {
		t.Errorf("%q", d.Says)
	}
}
