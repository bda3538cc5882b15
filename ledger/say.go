package ledger

import (
	"strings"

	"lapmark/ledger/place"
)

// Said returns a word as a sentence says it: its own wording, or hyphens as
// spaces.
func Said(list, name string) string {
	if w, ok := WordIn(list, name); ok && w.Says != "" {
		return w.Says
	}
	return strings.ReplaceAll(name, "-", " ")
}

// SayPlace says a place in words for people: "5550–6450 aft, 350 L–350 R,
// skin". Lengths are mm.
func SayPlace(p place.Place) string {
	var out []string
	if p.Part != "" && p.Shape != place.Part {
		out = append(out, Said("elements", p.Part))
	}
	out = append(out, sayShape(p))
	if len(p.Layers) > 0 {
		out = append(out, strings.Join(p.Layers, " + "))
	}
	return strings.Join(out, ", ")
}

func sayShape(p place.Place) string {
	switch p.Shape {
	case place.Spot:
		return "spot " + sayAft(p.Aft) + ", " + sayOff(p.Off)
	case place.Run:
		return "run " + sayAft(p.Aft) + ", " + sayOff(p.Off) + ", " + Decimal(p.Width) + " wide"
	case place.Field:
		return sayField(p)
	case place.Bay:
		return strings.TrimSpace("bay " + Decimal(p.Bay) + " " + string(p.Side))
	case place.Named:
		return p.Name
	case place.Part:
		return sayPart(p)
	case place.Wall:
		return string(p.Wall) + " wall, " + sayAlong(p) + ", " + span(p.Down) + " down"
	case place.Slide:
		return "slide " + p.Slide + ", " + sayAft(p.Aft) + ", " + span(p.Out) + " out"
	}
	return "a place newer than this tool"
}

func sayAlong(p place.Place) string {
	if p.Wall == place.Front || p.Wall == place.Rear {
		return sayOff(p.Along)
	}
	return sayAft(p.Along)
}

func sayField(p place.Place) string {
	switch {
	case p.Aft == nil && p.Off == nil:
		return "the whole roof"
	case p.Aft == nil:
		return "full length, " + sayOff(p.Off)
	case p.Off == nil:
		return sayAft(p.Aft) + ", full width"
	}
	return sayAft(p.Aft) + ", " + sayOff(p.Off)
}

func sayPart(p place.Place) string {
	out := Said("elements", p.Part)
	if p.Number != nil {
		out += " " + Decimal(*p.Number)
	}
	if p.Side != "" {
		out += " " + string(p.Side)
	}
	return out
}

func span(r *place.Range) string {
	if r == nil {
		return "?"
	}
	return Decimal(r.From) + "–" + Decimal(r.To)
}

func sayAft(r *place.Range) string { return sayRange(r, "forward", "aft") }
func sayOff(r *place.Range) string { return sayRange(r, "L", "R") }

func sayRange(r *place.Range, minus, plus string) string {
	switch {
	case r == nil:
		return "?"
	case r.From == r.To && r.From == 0 && plus == "R":
		return "on the centreline"
	case r.From == r.To:
		return sayPoint(r.From, minus, plus)
	case r.From >= 0:
		return span(r) + " " + plus
	case r.To <= 0:
		return Decimal(-r.To) + "–" + Decimal(-r.From) + " " + minus
	}
	return Decimal(-r.From) + " " + minus + "–" + Decimal(r.To) + " " + plus
}

func sayPoint(n int64, minus, plus string) string {
	if n < 0 {
		return Decimal(-n) + " " + minus
	}
	return Decimal(n) + " " + plus
}

// SayRect says a rectangle of the roof as a field; one that reaches over the
// deck's whole width or length says so.
func SayRect(r place.Rect, deck *place.Deck) string {
	p := place.Place{Shape: place.Field, Aft: place.Over(r.Front, r.Rear), Off: place.Over(r.Left, r.Right)}
	if deck != nil {
		half := (max(deck.Front, deck.Rear) + 1) / 2
		if r.Left <= -half && r.Right >= half {
			p.Off = nil
		}
	}
	return sayField(p)
}

// SayArea says an area in m² to 0.01, rounded half up.
func SayArea(mm2 int64) string {
	hundredths := (mm2 + 5_000) / 10_000
	whole, part := hundredths/100, hundredths%100
	out := Decimal(whole) + "."
	if part < 10 {
		out += "0"
	}
	return out + Decimal(part) + " m²"
}
