package facts

import (
	"slices"
	"strconv"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/plan"
	"lapmark/report/say"
)

// moist are the checks that read moisture.
var moist = []string{"pins", "pinless", "core-sample"}

// taken is one reading of moisture at one place.
type taken struct {
	act    *ledger.Act
	check  string
	place  place.Place
	values format.Object
	by     string // the correction that changed it, "" if none
}

// says is the reading as it stands in a table; a pinless one is never a share.
func (t taken) says() string {
	switch t.check {
	case "pinless":
		return number(t)
	case "core-sample":
		return strings.TrimSuffix(reading(t.check, t.values), " water by mass")
	}
	return say.Quantity("moisture", t.values["moisture"])
}

// reading is what a check read; of a core sample the water alone, without the
// two masses.
func reading(check string, values format.Object) string {
	says := say.Reading(check, values)
	if check == "core-sample" {
		says, _, _ = strings.Cut(says, ",")
	}
	return says
}

// permille is the reading in tenths of a per cent, false where it is none.
func (t taken) permille() (int64, bool) {
	return rules.Moisture(format.Object{"check": t.check, "values": t.values})
}

// readings are all readings that count, by the day they were taken.
func (s *survey) readings() []taken {
	acts := slices.Clone(s.r.Acts)
	slices.SortStableFunc(acts, func(a, b *ledger.Act) int {
		switch {
		case a.Before(b):
			return -1
		case b.Before(a):
			return 1
		}
		return 0
	})
	var out []taken
	for _, a := range acts {
		if !a.Counts {
			continue
		}
		for _, o := range ledger.Objects(a.Body["results"]) {
			if check := text(o, "check"); slices.Contains(moist, check) {
				for _, p := range ledger.PlacesOf(o["places"]) {
					out = append(out, taken{act: a, check: check, place: p, values: object(o["values"]), by: correctedBy(a, o)})
				}
			}
		}
	}
	return out
}

// correctedBy names the entry that made a part of an act what it is.
func correctedBy(a *ledger.Act, o format.Object) string {
	for _, c := range a.Corrected {
		if c.New != nil && format.Same(c.New, o) {
			return c.By.String()
		}
	}
	return ""
}

// moisture is the newest reading of each place, the places from the front.
func (s *survey) moisture() report.Moisture {
	first, newest := map[string]taken{}, map[string]taken{}
	var order []string
	for _, t := range s.readings() {
		key := t.check + " " + ledger.SayPlace(t.place)
		if _, known := first[key]; !known {
			first[key] = t
			order = append(order, key)
		}
		newest[key] = t
	}
	front := func(key string) int64 {
		t := newest[key]
		at, _ := s.r.Region(t.act, []place.Place{t.place})
		if box, ok := at.Bounds(place.RoofPlane); ok {
			return box.Front
		}
		return place.Farthest
	}
	slices.SortStableFunc(order, func(a, b string) int { return int(front(a) - front(b)) })
	m := report.Moisture{Scale: s.scale(), Air: s.air()}
	limits := s.wetLimits()
	m.Limit = say.Quantity("moisture", limits["pins"])
	var onMap []plan.Reading
	for _, key := range order {
		t := newest[key]
		n, known := t.permille()
		one := report.MoistureReading{
			Place: say.Place(t.place), Newest: t.says(), Day: dayOf(t.act.Day()), Entry: t.act.No.String(),
			Over: known && n > limits[t.check], Corrected: t.by,
		}
		if was := first[key]; was.act != t.act {
			one.First, one.FirstDay = was.says(), dayOf(was.act.Day())
		}
		if t.check != "pins" {
			one.Place += ", " + ledger.Said("checks", t.check) + map[string]string{"core-sample": ", water by mass", "pinless": ", relative, no share"}[t.check]
		}
		m.Readings = append(m.Readings, one)
		if drawn, ok := s.onMap(t, one, first[key]); ok {
			onMap = append(onMap, drawn)
			m.MapList = append(m.MapList, one.Place+": "+one.Newest)
		}
	}
	if len(onMap) > 0 {
		drawing := plan.Moisture(s.planRoof(), onMap)
		m.Map = &drawing
	}
	return m
}

// onMap is a reading as the map shows it. Core samples are no moisture of wood:
// the table alone has them.
func (s *survey) onMap(t taken, one report.MoistureReading, first taken) (plan.Reading, bool) {
	at, err := s.r.Region(t.act, []place.Place{t.place})
	box, ok := s.deck.Intersect(at).Bounds(place.RoofPlane)
	if err != nil || !ok || t.check == "core-sample" {
		return plan.Reading{}, false
	}
	out := plan.Reading{Rect: box, Place: one.Place, Boxed: one.Over, Reads: number(t)}
	if one.First != "" {
		out.Was = number(first)
	}
	if n, known := t.permille(); known && one.Over {
		switch {
		case n > 280:
			out.Wet = plan.OverFull
		case n > 200:
			out.Wet = plan.OverTwenty
		default:
			out.Wet = plan.OverLimit
		}
	}
	return out, true
}

// number is a reading as a number: "31.0", of a pinless meter "rel. 45".
func number(t taken) string {
	if t.check == "pinless" {
		return "rel. " + ledger.Decimal(ledger.Int(t.values, "number"))
	}
	return strings.TrimSuffix(say.Quantity("moisture", t.values["moisture"]), " %")
}

// wetLimits are the readings over which nothing is closed, in tenths of a per
// cent: of wood and of a core.
func (s *survey) wetLimits() map[string]int64 {
	says, _ := s.o.Terms.LimitSays("closing-too-wet")
	out := map[string]int64{}
	fields := strings.Fields(strings.ReplaceAll(says, "%", ""))
	for i, check := range []string{"pins", "core-sample"} {
		if i < len(fields) {
			if n, err := strconv.ParseFloat(fields[i], 64); err == nil {
				out[check] = int64(n*10 + 0.5)
			}
		}
	}
	return out
}

// scale is the scale that the newest pins were read on.
func (s *survey) scale() string {
	says := ""
	for _, t := range s.readings() {
		if scale := t.act.Text("scale"); t.check == "pins" && scale != "" {
			says = ledger.Said("scale", scale)
		}
	}
	return says
}

// air is the newest air of the hall.
func (s *survey) air() string {
	says := ""
	for _, a := range s.r.Acts {
		for _, o := range ledger.Objects(a.Body["results"]) {
			if a.Counts && text(o, "check") == "hall-air" {
				says = say.Values(object(o["values"])) + " on " + a.Day().Long()
			}
		}
	}
	return says
}
