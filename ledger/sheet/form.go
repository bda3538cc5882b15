package sheet

import (
	"strconv"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// form writes and reads the value of one form, as the tokens of one item.
// Forms that are more than one item (values, shapes) are in part.go.
type form struct {
	write func(f ledger.Field, h Heading, v format.Value) (item, bool)
	read  func(f ledger.Field, h Heading, c *cursor) (format.Value, error)
}

var forms = map[ledger.Form]form{
	ledger.FormWord:        {writeWord, readWord},
	ledger.FormMark:        {writeBare, readMark},
	ledger.FormTag:         {writeBare, readTag},
	ledger.FormToken:       {writeBare, readBare},
	ledger.FormPhoto:       {writeBare, readBare},
	ledger.FormRef:         {writeBare, readRef},
	ledger.FormKeyLine:     {writeKeyLine, readKeyLine},
	ledger.FormText:        {writeText, readText},
	ledger.FormFree:        {writeText, readText},
	ledger.FormInteger:     {writeUnit(ledger.UnitCount), readUnit(ledger.UnitCount)},
	ledger.FormMm:          {writeUnit(ledger.UnitMm), readUnit(ledger.UnitMm)},
	ledger.FormSlope:       {writeUnit(ledger.UnitSlope), readUnit(ledger.UnitSlope)},
	ledger.FormMonths:      {writeUnit(ledger.UnitMonths), readUnit(ledger.UnitMonths)},
	ledger.FormPerMille:    {writeUnit(ledger.UnitPerMille), readUnit(ledger.UnitPerMille)},
	ledger.FormDose:        {writeDose, readDose},
	ledger.FormDay:         {writeDay, readDay},
	ledger.FormMoment:      {writeWhen, readMoment},
	ledger.FormDayOrMoment: {writeWhen, readWhen},
	ledger.FormAft:         {writePoint(aftPoint), readPoint("forward", "aft")},
	ledger.FormOff:         {writePoint(offPoint), readPoint("L", "R")},
	ledger.FormMmList:      {writeMmList, readMmList},
	ledger.FormPlace:       {writePlace, readPlace},
	ledger.FormOdometer:    {writeOdometer, readOdometer},
	ledger.FormLotUse:      {writeLotUse, readLotUse},
	ledger.FormCoverRef:    {writeCoverRef, readCoverRef},
	ledger.FormLimit:       {writeLimit, readLimit},
	ledger.FormStage:       {writeStage, readStage},
	ledger.FormPass:        {writePass, readPass},
	ledger.FormHead:        {writeHead, readHead},
	ledger.FormLedger:      {writeLedger, readBare},
}

func writeBare(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	s, ok := v.(string)
	return bare(s), ok && s != "" && !strings.ContainsAny(s, " ,;\"")
}

func readBare(f ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	if s := c.next(); s != "" {
		return s, nil
	}
	return nil, unclear(ReasonWord, "%s: nothing follows", f.Label)
}

func writeWord(f ledger.Field, h Heading, v format.Value) (item, bool) {
	s, ok := v.(string)
	if _, known := ledger.WordIn(f.List, s); !known {
		return nil, false
	}
	return bare(s), ok
}

func readWord(f ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	s := c.next()
	if _, ok := ledger.WordIn(f.List, s); !ok {
		return nil, unclear(ReasonWord, "%q is no word of %s", s, f.List)
	}
	return s, nil
}

func readMark(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	s := c.next()
	if !ledger.IsMark(s) {
		return nil, unclear(ReasonWho, "%q is no mark: small letters, hyphens, a number at the end", s)
	}
	return s, nil
}

func readTag(f ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	s := c.next()
	if !IsTag(s) {
		return nil, unclear(ReasonReference, "%q is no tag: capitals, digits and hyphens, with a digit", s)
	}
	return s, nil
}

func readRef(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	s := c.next()
	if _, numbered := ledger.ParseNo(strings.TrimPrefix(s, "#")); numbered && strings.HasPrefix(s, "#") || IsTag(s) {
		return s, nil
	}
	return nil, unclear(ReasonReference, "%q is no entry: write #34 or a tag", s)
}

func writeKeyLine(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	s, ok := v.(string)
	algorithm, key, both := strings.Cut(s, " ")
	return bare(algorithm, key), ok && both && !strings.ContainsAny(key, " ,;\"")
}

func readKeyLine(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	algorithm, key := c.next(), c.next()
	if _, err := format.Fingerprint(algorithm + " " + key); err != nil {
		return nil, unclear(ReasonWord, "%q is no ssh-ed25519 key line", clip(algorithm+" "+key))
	}
	return algorithm + " " + key, nil
}

func writeText(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	s, ok := v.(string)
	return item{quoted(s)}, ok
}

func readText(f ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	s, ok := c.text()
	if !ok || s == "" {
		return nil, unclear(ReasonWord, "%s: a text in quotes follows", orName(f))
	}
	return s, nil
}

func orName(f ledger.Field) string {
	if f.Label != "" {
		return f.Label
	}
	return f.Name
}

func writeUnit(u ledger.Unit) func(ledger.Field, Heading, format.Value) (item, bool) {
	return func(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
		n, ok := v.(int64)
		return oneNumber(n, u), ok
	}
}

func readUnit(u ledger.Unit) func(ledger.Field, Heading, *cursor) (format.Value, error) {
	return func(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) { return c.oneNumber(u) }
}

func writeDose(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	n, ok := v.(int64)
	return bare(decimal(n, dose), dose.word), ok
}

func readDose(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	n, ok := undecimal(c.next(), dose)
	if !ok || !c.take(dose.word) {
		return nil, unclear(ReasonNumber, "a dose is written 12.17 h")
	}
	return n, nil
}

func writePoint(words func(int64) []string) func(ledger.Field, Heading, format.Value) (item, bool) {
	return func(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
		n, ok := v.(int64)
		return bare(words(n)...), ok
	}
}

func readPoint(minus, plus string) func(ledger.Field, Heading, *cursor) (format.Value, error) {
	return func(f ledger.Field, _ Heading, c *cursor) (format.Value, error) {
		o := format.Object{}
		err := c.pointOf(o, f.Name, minus, plus)
		return o[f.Name], err
	}
}

func writeMmList(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	numbers, ok := integers(v)
	return several(numbers, ledger.UnitMm, "/"), ok && len(numbers) > 0
}

func readMmList(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	numbers, err := c.several(ledger.UnitMm, "/")
	return array(numbers), err
}

func writePlace(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	it, err := placeItem(v)
	return it, err == nil
}

func readPlace(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) { return c.place() }

func writeOdometer(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	o, _ := v.(format.Object)
	n, ok := o["reading"].(int64)
	unit, fine := o["unit"].(string)
	return bare(strconv.FormatInt(n, 10), unit), ok && fine
}

func readOdometer(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	n, ok := undecimal(c.next(), scale{})
	unit := c.next()
	if _, known := ledger.WordIn("odometer-unit", unit); !ok || !known {
		return nil, unclear(ReasonUnit, "the odometer is written 61240 km, or mi")
	}
	return format.Object{"reading": n, "unit": unit}, nil
}

func (c *cursor) amount() (int64, string, error) {
	if c.at+1 >= len(c.toks) {
		return 0, "", unclear(ReasonUnit, "an amount has a unit: g, kg, ml, mm, m2, piece")
	}
	switch word := c.toks[c.at+1].s; word {
	case "g", "kg":
		n, err := c.oneNumber(ledger.UnitG)
		return n, "g", err
	case "mm":
		n, err := c.oneNumber(ledger.UnitMm)
		return n, "mm", err
	case "m2":
		n, err := c.oneNumber(ledger.UnitMm2)
		return n, "mm2", err
	case "ml", "piece":
		n, err := c.oneNumber(ledger.UnitCount)
		c.take(word)
		return n, word, err
	default:
		return 0, "", unclear(ReasonUnit, "%q is no unit of an amount: g, kg, ml, mm, m2, piece", word)
	}
}

func writePass(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	passed, ok := v.(bool)
	if passed {
		return bare("pass"), ok
	}
	return bare("not-pass"), ok
}

func readPass(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	return c.next() == "pass", nil
}

// ReadPlace reads a place by itself: "bay 9 left". The error is [Unclear].
func ReadPlace(text string) (format.Object, error) {
	parts, err := split(text)
	if err != nil {
		return nil, err
	}
	if len(parts) != 1 || len(parts[0]) != 1 {
		return nil, unclear(ReasonPlace, "%q is no one place", clip(text))
	}
	c := cursor{toks: parts[0][0]}
	o, err := c.place()
	if err == nil && !c.done() {
		err = unclear(ReasonPlace, "%q is left over", c.rest())
	}
	return o, err
}
