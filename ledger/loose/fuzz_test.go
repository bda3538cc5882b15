package loose

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// Whatever is typed: nothing panics, no line is lost, and what is read is
// canonical text.
func FuzzRead(f *testing.F) {
	for _, file := range []string{"loose.tsv", "sloppy.tsv", "dictated.tsv"} {
		text, err := os.ReadFile("../../testdata/sheet/" + file)
		require.NoError(f, err)
		for row := range strings.Lines(string(text)) {
			in, _, _ := strings.Cut(row, "\t")
			f.Add(strings.ReplaceAll(in, `\n`, "\n"))
		}
	}
	f.Add("!")
	shop, coach := demoShop(f), demoCoach(f)
	f.Fuzz(func(t *testing.T, text string) {
		text, err := Decode([]byte(text))
		if err != nil || len(text) > 2000 {
			return
		}
		notes := Split(text, demoHeading, []string{"hand-1"}, shop)
		requireAllLines(t, text, notes)
		for _, n := range notes {
			n.Read(shop, coach)
			require.True(t, n.Err == nil || n.Line == "")
			if n.Err != nil || n.Heads != NoHeading {
				continue
			}
			d, err := sheet.ReadLine(n.Line, n.Heading)
			require.NoError(t, err, n.Words)
			again, err := sheet.Line(d, n.Heading)
			require.NoError(t, err)
			require.Equal(t, n.Line, again)
		}
	})
}

// requireAllLines looks for every line in the notes, in order; end of a block
// alone says nothing of its own.
func requireAllLines(t *testing.T, text string, notes []Note) {
	t.Helper()
	var kept []string
	for _, n := range notes {
		kept = append(kept, strings.Split(n.Words, "\n")...)
	}
	for _, line := range strings.Split(text, "\n") {
		said := clean(line)
		switch {
		case len(kept) > 0 && kept[0] == line:
			kept = kept[1:]
		case said != "" && !strings.EqualFold(said, "end"):
			t.Fatalf("%q is lost", line)
		}
	}
	require.Empty(t, kept)
}

// A canonical line of a random draft is read as itself; and where it is read
// loosely in spite of that, it gives itself or is unclear.
func TestRandomDraftsReadThemselves(t *testing.T) {
	shop, coach := demoShop(t), demoCoach(t)
	itself, loosely := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		d := randomDraft(t)
		line, err := sheet.Line(d, demoHeading)
		if err != nil {
			t.Fatal(err)
		}
		n := Note{Note: sheet.Note{Heading: demoHeading, Words: line}}
		n.Read(shop, coach)
		if n.Err != nil || n.Line != line {
			t.Fatalf("%s\n%s\n%v", line, n.Line, n.Err)
		}
		itself++
		kind, rest, _ := strings.Cut(line, ": ")
		r, err := readLoose(kind+" "+rest, demoHeading, nil, shop, coach) // without the colon no part is canonical
		if err == nil && r.line != line {
			t.Fatalf("read loosely\n%s\nis\n%s", line, r.line)
		}
		if err == nil {
			loosely++
		}
	})
	t.Logf("%d lines, %d of them read loosely too", itself, loosely)
	require.Positive(t, loosely)
}

// randomDraft is a finding, a check or a work note at random places with random
// quantities.
func randomDraft(t *rapid.T) ledger.Draft {
	kind := rapid.SampledFrom([]string{"finding", "check", "work"}).Draw(t, "kind")
	list := map[string]string{"finding": "defects", "check": "checks", "work": "operations"}[kind]
	w := rapid.SampledFrom(ledger.WordsOf(list)).Draw(t, "word")
	values := randomValues(t, w)
	places := format.Array{}
	for range rapid.IntRange(1, 2).Draw(t, "places") {
		places = append(places, randomPlace(t))
	}
	d := ledger.Draft{Kind: kind, Private: map[string]string{}, Body: format.Object{
		"happened": demoHeading.Day, "by": format.Array{"hand-1"},
	}}
	part := format.Object{"places": places}
	if len(values) > 0 {
		part["values"] = values
	}
	switch kind {
	case "finding":
		part["defect"] = w.Name
		for name, v := range part {
			d.Body[name] = v
		}
		d.Body["deep"] = rapid.SampledFrom(ledger.WordsOf("deep")).Draw(t, "deep").Name
		d.Body["soon"] = rapid.SampledFrom(ledger.WordsOf("soon")).Draw(t, "soon").Name
	case "check":
		part["check"] = w.Name
		d.Body["results"] = format.Array{part}
	case "work":
		part["op"] = w.Name
		d.Body["ops"] = format.Array{part}
	}
	return d
}

func randomValues(t *rapid.T, w ledger.Word) format.Object {
	out := format.Object{}
	for _, c := range w.Carries {
		q, _ := ledger.QuantityNamed(c.Quantity)
		if !c.Must && rapid.Bool().Draw(t, "left out") {
			continue
		}
		r, ok := rangeOf(q)
		if !ok {
			r = span{1, 500}
		}
		one := func() int64 { return rapid.Int64Range(max(r.least, 1), min(r.most, r.least+2000)).Draw(t, q.Name) }
		switch q.Many {
		case ledger.OneNumber:
			out[q.Name] = one()
		case ledger.PairOfNumbers:
			out[q.Name] = format.Array{one(), one()}
		case ledger.ListOfNumbers:
			out[q.Name] = format.Array{one(), one(), one()}
		}
	}
	return out
}

func randomPlace(t *rapid.T) format.Object {
	switch rapid.IntRange(0, 4).Draw(t, "shape") {
	case 0:
		return format.Object{
			"shape": "bay", "bay": rapid.Int64Range(1, 10).Draw(t, "bay"),
			"side": rapid.SampledFrom([]string{"left", "middle", "right"}).Draw(t, "side"),
		}
	case 1:
		return format.Object{"shape": "named", "name": rapid.SampledFrom([]string{"A1", "V2", "W1", "P1"}).Draw(t, "name")}
	case 2:
		from := rapid.Int64Range(0, 7000).Draw(t, "from")
		return format.Object{"shape": "field", "aft": format.Array{from, from + 100}, "off": format.Array{int64(-300), int64(250)}}
	case 3:
		return format.Object{
			"shape": "spot", "aft": rapid.Int64Range(0, 7400).Draw(t, "aft"), "radius": int64(25),
			"off": rapid.Int64Range(-1100, 1100).Draw(t, "off"),
		}
	}
	return format.Object{"shape": "part", "part": "rafter", "number": rapid.Int64Range(1, 9).Draw(t, "rafter")}
}
