package ledger

import (
	"encoding/hex"
	"slices"
	"strings"

	"lapmark/ledger/chain"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
)

// Odd is one thing in an entry that this program does not know: a kind, a
// member, a word, a type. It is shown as it stands and is never broken.
type Odd struct {
	Entry No
	What  string // the member, or the word
}

// version is the format this program writes.
const version = 1

// Odd lists what this program does not know in the entry.
func (e *Entry) Odd() []Odd {
	var out []Odd
	note := func(what string) { out = append(out, Odd{Entry: e.No, What: what}) }
	kind, ok := KindNamed(e.Kind())
	if e.Line.V > version {
		note("v " + Decimal(e.Line.V))
	}
	if !ok {
		note(e.Kind())
		return out
	}
	body, _ := format.Clone(e.Body()).(format.Object)
	if sealed, there := body["private"]; there && !isCommitments(sealed) {
		note("private")
	}
	delete(body, "private")
	if tag, there := body["tag"]; there {
		if _, isText := tag.(string); !isText {
			note("tag")
		}
		delete(body, "tag")
	}
	var list []Field
	for _, f := range kind.AllFields() {
		if f.Form != FormFree && f.Name != "private" {
			list = append(list, f)
		}
	}
	for _, what := range oddMembers(list, body) {
		note(what)
	}
	return out
}

func isCommitments(v format.Value) bool {
	o, ok := v.(format.Object)
	for _, digest := range o {
		ok = ok && isA[string](digest)
	}
	return ok
}

// changesCover says whether what stands in the entry can change what a
// certificate covers.
func (e *Entry) changesCover() bool {
	kind, ok := KindNamed(e.Kind())
	return !ok || kind.Cover || e.Body()["adopts"] != nil
}

// Newer lists what this program does not know and what can change cover, of the
// acts that count: nothing is judged over it, questions that may depend on it
// are answered "cannot say".
func (r *Replay) Newer() []Odd {
	var out []Odd
	for _, a := range r.Acts {
		if a.Counts && a.Entry.changesCover() {
			out = append(out, a.Entry.Odd()...)
		}
	}
	return out
}

func oddMembers(list []Field, o format.Object) []string {
	var out []string
	left := map[string]bool{}
	for name := range o {
		left[name] = true
	}
	for _, f := range list {
		delete(left, f.Name)
		if f.Form == FormAmount {
			delete(left, "unit")
			if _, there := o[f.Name]; there && !isAmountUnit(o["unit"]) {
				out = append(out, "unit")
			}
		}
		v, ok := o[f.Name]
		if !ok {
			continue
		}
		if !f.Many {
			out = append(out, oddValue(f, v)...)
			continue
		}
		members, ok := v.(format.Array)
		if !ok {
			out = append(out, f.Name)
		}
		for _, one := range members {
			out = append(out, oddValue(f, one)...)
		}
	}
	for _, name := range format.Names(o) {
		if left[name] {
			out = append(out, name)
		}
	}
	return out
}

func oddValue(f Field, v format.Value) []string {
	switch f.Form {
	case FormShape:
		o, ok := v.(format.Object)
		s, known := ShapeNamed(f.Shape)
		if !ok || !known {
			return []string{f.Name}
		}
		return oddMembers(s.Fields, o)
	case FormValues:
		return oddQuantities(f, v)
	case FormWord:
		s, _ := v.(string)
		if _, ok := WordIn(f.List, s); !ok {
			return []string{strings.TrimSpace(f.Name + " " + s)}
		}
		return nil
	}
	if !fits(f.Form, v) {
		return []string{f.Name}
	}
	return nil
}

func oddQuantities(f Field, v format.Value) []string {
	o, ok := v.(format.Object)
	if !ok {
		return []string{f.Name}
	}
	var out []string
	for _, name := range format.Names(o) {
		q, known := QuantityNamed(name)
		_, one := o[name].(int64)
		if !known || one != (q.Many == OneNumber) || !one && !isIntegers(o[name]) {
			out = append(out, name)
		}
	}
	return out
}

func isIntegers(v format.Value) bool {
	list, ok := v.(format.Array)
	for _, one := range list {
		if _, integer := one.(int64); !integer {
			return false
		}
	}
	return ok
}

// fits says whether v has the type that a form keeps.
func fits(form Form, v format.Value) bool {
	s, isText := v.(string)
	_, isInteger := v.(int64)
	_, isBool := v.(bool)
	o, isObject := v.(format.Object)
	switch form {
	case FormFlag, FormPass:
		return isBool
	case FormInteger, FormMm, FormMonths, FormSlope, FormPerMille, FormDose, FormAft, FormOff, FormAmount:
		return isInteger
	case FormMark:
		return IsMark(s)
	case FormDay:
		return isDay(s)
	case FormMoment:
		return isMoment(s)
	case FormDayOrMoment:
		return isDay(s) || isMoment(s)
	case FormRef:
		_, ok := NoOf(v)
		return ok
	case FormPhoto:
		b, err := hex.DecodeString(s)
		return err == nil && len(b) == 32 && s == strings.ToLower(s)
	case FormKeyLine:
		_, err := format.Fingerprint(s)
		return err == nil
	case FormMmList:
		return isIntegers(v)
	case FormPlace:
		_, err := PlaceOf(v)
		return err == nil
	case FormLotUse:
		return isObject && len(o) == 3 && isA[string](o["lot"]) && isA[int64](o["amount"]) && isAmountUnit(o["unit"])
	case FormCoverRef:
		return isObject && isA[string](o["cert"]) && (len(o) == 1 || len(o) == 2 && isIntegers(o["lines"]))
	case FormOdometer:
		return isObject && len(o) == 2 && isA[int64](o["reading"]) && isWord("odometer-unit", o["unit"])
	case FormStage:
		return isObject && len(o) == 2 && isWord("stages", o["name"]) && isA[int64](o["need"])
	case FormHead:
		_, ok := headOf(v)
		return ok
	case FormLedger:
		b, err := format.DecodeBase64(s)
		return err == nil && len(b) == len(chain.Hash{})
	case FormLimit:
		return isLimit(o)
	case FormChange:
		_, old := o["old"]
		_, now := o["new"]
		return isA[string](o["at"]) && (old || now) && len(o) == 1+bit(old)+bit(now)
	}
	return isText
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// isLimit says whether o is a limit: a number that is the most or the least of
// a quantity, and whose it is.
func isLimit(o format.Object) bool {
	name, _ := o["quantity"].(string)
	_, known := QuantityNamed(name)
	return len(o) == 3 && known && isA[string](o["source"]) && isA[int64](o["at-most"]) != isA[int64](o["at-least"])
}

// amountUnits are the units of the amount of a lot.
var amountUnits = []string{"g", "ml", "mm", "mm2", "piece"}

func isAmountUnit(v format.Value) bool {
	s, _ := v.(string)
	return slices.Contains(amountUnits, s)
}

func isWord(list string, v format.Value) bool {
	s, _ := v.(string)
	_, ok := WordIn(list, s)
	return ok
}

func isA[T any](v format.Value) bool {
	_, ok := v.(T)
	return ok
}

func isDay(s string) bool {
	_, err := day.Parse(s)
	return err == nil
}

func isMoment(s string) bool {
	_, err := day.ParseMoment(s)
	return err == nil
}
