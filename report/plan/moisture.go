package plan

import (
	"fmt"
	"strings"

	"lapmark/ledger/place"
)

// Wet is how far a reading lies over its limit: the pitch of the dots.
type Wet int

// Not over; over the limit; over 20 %, from where decay can live; over 28 %,
// from where the wood is full of water.
const (
	NotOver Wet = iota
	OverLimit
	OverTwenty
	OverFull
)

// wetPitch are the distances of the dots.
var wetPitch = [...]Unit{0, 140, 100, 70}

// Reading is the newest reading of a place: what it reads and, where there was
// one before it, what the first one was.
type Reading struct {
	Rect       place.Rect
	Place      string
	Reads, Was string
	Wet        Wet
	// Boxed puts it in a box: it is over its limit.
	Boxed bool
}

// Moisture draws the moisture map: each newest reading at its place, dots only
// where it is over, empty where nothing was read. A reading that finds no room
// is not written, only drawn. A deck without a length and widths of 1 mm to
// 100 m is not drawn.
func Moisture(roof Roof, readings []Reading) Drawing {
	if !roof.sound() {
		return Drawing{}
	}
	d := newDraught(Input{Roof: roof})
	d.ground()
	leave := d.clear()
	for _, r := range readings {
		b := d.s.spot(r.Rect, leastRun)
		if b.empty() {
			continue
		}
		if r.Wet != NotOver {
			d.draw(dots(wetPitch[r.Wet], d.s.datum, []box{b}, d.s.halves(), leave)...)
		}
		d.outlineOf([]box{b}, finePen)
	}
	for _, a := range d.apertures {
		d.draw(a.mark())
	}
	d.deckOutline(axisOver)
	d.words()
	d.read(readings)
	drawing := d.drawing()
	drawing.Title, drawing.Says = "Moisture map, front up", moistureSays(roof, readings)
	return drawing
}

// read writes the readings, each in the middle of its place, where it hides no
// other one.
func (d *draught) read(readings []Reading) {
	var taken []box
	for _, r := range readings {
		b := d.s.spot(r.Rect, leastRun)
		if b.empty() {
			continue
		}
		rows := []Words{{Text: r.Reads, Size: boldSize, Bold: true}}
		if r.Was != "" {
			rows = append(rows, Words{Text: "was " + r.Was, Size: textSize})
		}
		var wide, tall Unit
		for _, w := range rows {
			wide = max(wide, d.face.width(w.Text, w.Size, w.Bold))
			tall += w.Size*capHeight/100 + 120
		}
		at := box{0, 0, wide + 160, tall + 60}
		at = at.moved(b.middle().X-at.width()/2, b.middle().Y-at.height()/2).within(d.s.deck().grown(-40))
		if meetsAny(at, taken) {
			continue
		}
		taken = append(taken, at)
		pen := Pen{}
		if r.Boxed {
			pen = soonPen[BeforeRain]
		}
		d.draw(at.mark(pen, White))
		y := at.top + 30
		for _, w := range rows {
			y += w.Size*capHeight/100 + 90
			w.At, w.Anchor = Point{at.middle().X, y}, AtMiddle
			d.draw(w)
			y += 30
		}
	}
}

// moistureSays tells in words what the map shows.
func moistureSays(roof Roof, readings []Reading) string {
	var over []string
	for _, r := range readings {
		if r.Boxed {
			over = append(over, r.Place)
		}
	}
	says := fmt.Sprintf("Deck %s. %d places were read", roof.size(), len(readings))
	if len(readings) == 1 {
		says = "Deck " + roof.size() + ". One place was read"
	}
	if len(over) == 0 {
		return says + "; none is over its limit."
	}
	return says + "; over the limit: " + strings.Join(over, ", ") + "."
}
