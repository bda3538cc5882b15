package say_test

import (
	"encoding/base64"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lapmark/crypto/keyring"
	"lapmark/ledger"
	"lapmark/ledger/chain"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
	"lapmark/report/say"
)

var evening = sheet.Heading{Day: "2020-03-17", Zone: "+01:00"}

// drafts are notes of a kind, any that the tables allow.
func drafts(kind ledger.Kind) *rapid.Generator[ledger.Draft] {
	return rapid.Custom(func(t *rapid.T) ledger.Draft {
		d := ledger.Draft{Kind: kind.Name, Private: map[string]string{}}
		d.Body = members(t, kind.AllFields(), d.Private)
		d.Body["happened"] = rapid.SampledFrom([]string{evening.Day, evening.Day + "T09:05+01:00", evening.Day + "T21:40-05:00"}).Draw(t, "happened")
		if rapid.Bool().Draw(t, "tagged") {
			d.Body["tag"] = tags.Draw(t, "tag")
		}
		for _, p := range kind.Privates {
			switch {
			case !rapid.Bool().Draw(t, p.Name):
			case p.Money:
				d.Private[p.Name] = "3940.00 EUR"
			default:
				d.Private[p.Name] = texts.Draw(t, "value")
			}
		}
		return d
	})
}

// members are fields of a table with values, each there or not; what must be
// there is.
func members(t *rapid.T, list []ledger.Field, private map[string]string) format.Object {
	o := format.Object{}
	for _, f := range list {
		if f.Default != nil {
			o[f.Name] = format.Clone(f.Default)
		}
		if f.Name == "private" || f.Name == "happened" || f.Need != ledger.Must && rapid.Bool().Draw(t, "no "+f.Name) {
			continue
		}
		switch f.Form {
		case ledger.FormFree:
			private[f.Name] = texts.Draw(t, f.Name)
		case ledger.FormChange:
			// was and is quote an entry: the tests of corrections have them
		case ledger.FormAmount:
			o["amount"], o["unit"] = natural.Draw(t, "amount"), amountUnits.Draw(t, "unit")
		default:
			o[f.Name] = value(t, f)
		}
	}
	return o
}

func value(t *rapid.T, f ledger.Field) format.Value {
	if !f.Many {
		return one(t, f)
	}
	least := 1
	if f.Empty != "" {
		least = 0
	}
	out := format.Array{}
	for range rapid.IntRange(least, 3).Draw(t, "how many "+f.Name) {
		out = append(out, one(t, f))
	}
	return out
}

var (
	natural     = rapid.Int64Range(0, 99_999_999)
	small       = rapid.Int64Range(1, 9_999)
	tags        = rapid.StringMatching(`[A-Z]{1,2}-?[0-9]{1,4}`)
	marks       = rapid.SampledFrom([]string{"hand-1", "desk", "foreman", "pd-foreman", "holder-12"})
	tokens      = rapid.StringMatching(`[A-Za-z][A-Za-z0-9/+=-]{0,30}`)
	days        = rapid.SampledFrom([]string{"2020-03-17", "1999-12-31", "2024-02-29", "2031-01-01"})
	moments     = rapid.SampledFrom([]string{"2020-03-17T16:30+01:00", "2020-03-18T00:00+01:00", "2020-10-25T02:30-05:30"})
	amountUnits = rapid.SampledFrom([]string{"g", "ml", "mm", "mm2", "piece"})
	texts       = rapid.StringOfN(rapid.SampledFrom([]rune(`ab Z9.,;:"'#-–°é½→`)), 1, 40, -1)
	photos      = rapid.StringMatching(`[0-9a-f]{12}`)
	digests     = rapid.SliceOfN(rapid.Byte(), 32, 32)
)

func one(t *rapid.T, f ledger.Field) format.Value {
	switch f.Form {
	case ledger.FormWord:
		return rapid.SampledFrom(wordsOf(f.List)).Draw(t, f.List)
	case ledger.FormFlag:
		return true
	case ledger.FormPass:
		return rapid.Bool().Draw(t, "pass")
	case ledger.FormMark:
		return marks.Draw(t, "mark")
	case ledger.FormTag:
		return tags.Draw(t, "tag")
	case ledger.FormToken:
		return tokens.Draw(t, "token")
	case ledger.FormKeyLine:
		return keyring.DemoSigner("K1").Public().Line()
	case ledger.FormText:
		return texts.Draw(t, f.Name)
	case ledger.FormInteger, ledger.FormMm, ledger.FormMonths, ledger.FormSlope, ledger.FormPerMille, ledger.FormDose:
		return natural.Draw(t, f.Name)
	case ledger.FormAft, ledger.FormOff:
		return rapid.Int64Range(-9_999, 9_999).Draw(t, f.Name)
	case ledger.FormDay:
		return days.Draw(t, f.Name)
	case ledger.FormMoment:
		return moments.Draw(t, f.Name)
	case ledger.FormDayOrMoment:
		return rapid.OneOf(days, moments).Draw(t, f.Name)
	case ledger.FormMmList:
		return integers(rapid.SliceOfN(natural, 1, 4).Draw(t, f.Name))
	case ledger.FormRef:
		if n := small.Draw(t, "entry"); !rapid.Bool().Draw(t, "of a branch") {
			return fmt.Sprintf("#%d", n)
		}
		return fmt.Sprintf("#%d/%d", small.Draw(t, "parting"), small.Draw(t, "nth"))
	case ledger.FormPhoto:
		return photos.Draw(t, "photo")
	case ledger.FormPlace:
		return places(t)
	case ledger.FormValues:
		return quantities(t)
	case ledger.FormOdometer:
		unit := rapid.SampledFrom(wordsOf("odometer-unit")).Draw(t, "unit")
		return format.Object{"reading": natural.Draw(t, "reading"), "unit": unit}
	case ledger.FormLotUse:
		return format.Object{"lot": tags.Draw(t, "lot"), "amount": natural.Draw(t, "amount"), "unit": amountUnits.Draw(t, "unit")}
	case ledger.FormCoverRef:
		o := format.Object{"cert": tags.Draw(t, "certificate")}
		if lines := rapid.SliceOfN(rapid.Int64Range(1, 40), 0, 3).Draw(t, "lines"); len(lines) > 0 {
			o["lines"] = integers(lines)
		}
		return o
	case ledger.FormLimit:
		q := rapid.SampledFrom(ledger.Quantities()).Draw(t, "quantity")
		side := rapid.SampledFrom([]string{"at-most", "at-least"}).Draw(t, "side")
		return format.Object{side: natural.Draw(t, "limit"), "quantity": q.Name, "source": texts.Draw(t, "source")}
	case ledger.FormStage:
		return format.Object{"name": rapid.SampledFrom(wordsOf("stages")).Draw(t, "stage"), "need": natural.Draw(t, "need")}
	case ledger.FormHead:
		return format.Object{"size": natural.Draw(t, "size")}
	case ledger.FormLedger:
		return chain.ID(chain.Hash(digests.Draw(t, "ledger")))
	case ledger.FormShape:
		s, ok := ledger.ShapeNamed(f.Shape)
		if !ok {
			t.Fatalf("there is no shape %s", f.Shape)
		}
		return members(t, s.Fields, nil)
	}
	t.Fatalf("no value is made of form %d, of %s", f.Form, f.Name)
	return nil
}

func wordsOf(list string) []string {
	var out []string
	for _, w := range ledger.WordsOf(list) {
		out = append(out, w.Name)
	}
	return out
}

func integers(list []int64) format.Array {
	out := format.Array{}
	for _, n := range list {
		out = append(out, n)
	}
	return out
}

func quantities(t *rapid.T) format.Object {
	o := format.Object{}
	for _, q := range rapid.SliceOfN(rapid.SampledFrom(ledger.Quantities()), 1, 4).Draw(t, "quantities") {
		number := natural
		if q.Unit == ledger.UnitDeciC || q.Unit == ledger.UnitDeciK {
			number = rapid.Int64Range(-500, 900)
		}
		switch q.Many {
		case ledger.OneNumber:
			o[q.Name] = number.Draw(t, q.Name)
		case ledger.ListOfNumbers:
			o[q.Name] = integers(rapid.SliceOfN(number, 0, 3).Draw(t, q.Name))
		default:
			o[q.Name] = integers(rapid.SliceOfN(number, 2, 2).Draw(t, q.Name))
		}
	}
	return o
}

// places are places of every shape (ENTRIES 3).
func places(t *rapid.T) format.Object {
	at := rapid.Int64Range(-9_999, 9_999)
	single := func() format.Value { return at.Draw(t, "at") }
	stretch := func(from, to int64) format.Value {
		a := rapid.Int64Range(from, to-1).Draw(t, "from")
		return format.Array{a, rapid.Int64Range(a+1, to).Draw(t, "to")}
	}
	wide := func() format.Value { return stretch(-9_999, 9_999) }
	down := func() format.Value { return stretch(0, 9_999) }
	side := rapid.SampledFrom(wordsOf("side"))
	third := rapid.SampledFrom([]string{"left", "middle", "right"})
	element := rapid.SampledFrom(wordsOf("elements"))
	maybe := func(o format.Object, name string, v format.Value) {
		if rapid.Bool().Draw(t, "with "+name) {
			o[name] = v
		}
	}
	o := format.Object{"shape": rapid.SampledFrom([]string{"spot", "run", "across", "field", "bay", "named", "part", "wall", "slide"}).Draw(t, "shape")}
	switch o["shape"] {
	case "spot":
		o["aft"], o["off"], o["radius"] = single(), single(), small.Draw(t, "radius")
	case "run":
		o["aft"], o["off"], o["width"] = wide(), single(), small.Draw(t, "width")
	case "across":
		o["shape"], o["aft"], o["off"], o["width"] = "run", single(), wide(), small.Draw(t, "width")
	case "field":
		maybe(o, "aft", wide())
		maybe(o, "off", wide())
	case "bay":
		o["bay"] = small.Draw(t, "bay")
		maybe(o, "side", third.Draw(t, "third"))
	case "named":
		o["name"] = tags.Draw(t, "name")
		maybe(o, "skirt", natural.Filter(func(n int64) bool { return n < 1_000_000 }).Draw(t, "skirt"))
	case "part":
		o["part"] = element.Draw(t, "part")
		maybe(o, "side", third.Draw(t, "third"))
		maybe(o, "width", small.Draw(t, "width"))
		if o["part"] == "rafter" {
			maybe(o, "number", rapid.Int64Range(0, 40).Draw(t, "number"))
		}
	case "wall":
		o["wall"] = side.Filter(func(s string) bool { return s != "middle" }).Draw(t, "wall")
		o["along"], o["down"] = wide(), down()
	case "slide":
		o["slide"], o["aft"], o["out"] = tags.Draw(t, "slide"), wide(), down()
	}
	if o["part"] == nil {
		maybe(o, "part", element.Draw(t, "part"))
	}
	if layers := rapid.SliceOfNDistinct(rapid.SampledFrom(wordsOf("layers")), 0, 3, rapid.ID[string]).Draw(t, "layers"); len(layers) > 0 {
		list := format.Array{}
		for _, l := range layers {
			list = append(list, l)
		}
		o["layers"] = list
	}
	return o
}

// filled sets what only the tool fills: the root of a head, the id of a ledger.
func filled(kind ledger.Kind, body format.Object) {
	for _, f := range kind.Fields {
		switch v := body[f.Name].(type) {
		case format.Object:
			if f.Form == ledger.FormHead {
				v["root"] = base64.StdEncoding.EncodeToString(make([]byte, 32))
			}
		case string:
			if f.Form == ledger.FormLedger {
				body[f.Name] = base64.StdEncoding.EncodeToString(make([]byte, 32))
			}
		}
	}
}

func encoded(t require.TestingT, v format.Value) string {
	out, err := format.Encode(v)
	require.NoError(t, err)
	return string(out)
}

// Any note of any kind goes from draft to line and back, from draft to body and
// back, from body to the line of an entry and back; nothing in it is newer than
// this tool; and its sentence ends. The notes are made from the tables alone.
func TestAnyNoteOfAnyKind(t *testing.T) {
	names := ledger.Names{
		Last:  9_999,
		No:    func(string) (ledger.No, bool) { return ledger.No{}, false },
		Tag:   func(ledger.No) string { return "" },
		Photo: func(name string) (string, bool) { return name + strings.Repeat("0", 52), true },
	}
	for _, kind := range ledger.Kinds() {
		t.Run(kind.Name, rapid.MakeCheck(func(t *rapid.T) {
			d := drafts(kind).Draw(t, kind.Name)
			line, err := sheet.Line(d, evening)
			require.NoError(t, err)
			back, err := sheet.ReadLine(line, evening)
			require.NoError(t, err, line)
			require.Equal(t, encoded(t, d.Body), encoded(t, back.Body))
			require.Equal(t, d.Private, back.Private)

			body, err := d.Resolve(names)
			require.NoError(t, err)
			again := ledger.Unresolve(d.Kind, body, d.Private, names)
			require.Equal(t, encoded(t, d.Body), encoded(t, again.Body))

			filled(kind, body)
			text := encoded(t, body)
			l1, err := (format.Line{At: "2020-03-17T16:40:00Z", Body: []byte(text), Key: "SHA256:" + strings.Repeat("A", 43), Kind: kind.Name, V: 1}).Append(nil)
			require.NoError(t, err)
			read, err := format.ParseLine(l1)
			require.NoError(t, err)
			e := &ledger.Entry{No: ledger.No{N: 1}, Line: read}
			require.Equal(t, text, encoded(t, e.Body()))
			require.Empty(t, e.Odd(), line)
			inked, err := sheet.Line(ledger.Unresolve(kind.Name, e.Body(), d.Private, names), evening)
			require.NoError(t, err)
			if body["ledger"] == nil {
				require.Equal(t, line, inked)
			}

			a := &ledger.Act{No: e.No, Entry: e, Kind: kind.Name, Body: e.Body()}
			r := ledger.NewReplay(&ledger.Coach{}, map[ledger.No]map[string]string{a.No: d.Private})
			says := say.Entry(r, a)
			require.True(t, strings.HasSuffix(strings.TrimRight(says, `"`), "."), says)
			require.NotContains(t, says, "newer than this tool")
		}))
	}
}
