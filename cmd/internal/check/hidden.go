package check

import (
	"maps"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report"
)

// Missing is a free text of which the slip is not here.
type Missing struct {
	Entry string `json:"entry"`
	Name  string `json:"name"`
	Says  string `json:"says"`
}

// Erased is an entry that says private values or texts are gone.
type Erased struct {
	Entry  string   `json:"entry"`
	Day    string   `json:"day"`
	Ground string   `json:"ground"`
	Of     string   `json:"of"`    // the entries they stood in
	Names  []string `json:"names"` //
	Says   string   `json:"says"`
}

// LeftOut is an entry that the pages do not print, as their given-out says.
type LeftOut struct {
	Entry string `json:"entry"`
	Kind  string `json:"kind"`
	Day   string `json:"day"`
}

// Pictures says which of the pictures that entries name are in the file. Only
// a bundle carries any.
type Pictures struct {
	Named   int       `json:"named"`
	Here    int       `json:"here"`
	Missing []Picture `json:"missing"` // of a bundle
}

// Picture is one picture that an entry names.
type Picture struct {
	Entry string `json:"entry"`
	Hex   string `json:"hex"`
	Says  string `json:"says"`
}

// hidden puts into the answer what the reader does not see: private values
// without a slip, missing texts, what was erased.
func (a *Answer) hidden(f *file) {
	gone := a.erased(f.coach)
	last := f.coach.Last().No
	shut := map[string]bool{}
	for _, c := range append(f.sealed.shut(privateField), f.sealed.shut(unknownField)...) {
		if c.no != last || c.name != faceName && c.name != passOnName {
			shut[c.name] = true
		}
	}
	a.NotShown = slices.AppendSeq(a.NotShown, maps.Keys(shut))
	slices.Sort(a.NotShown)
	a.WordsHere = f.words
	if !f.words {
		return
	}
	for _, c := range f.sealed.shut(freeField) {
		if slices.ContainsFunc(gone[c.no], func(names map[string]bool) bool { return names[c.name] }) {
			continue
		}
		no := c.no.String()
		a.WordsMissing = append(a.WordsMissing, Missing{no, c.name, report.Fill(saysWordsMissing, "name", c.name, "n", no)})
		a.unsettled(WordsMissing)
	}
}

// erased lists what the house erased, and returns the names by entry. What a
// doubtful entry says is gone counts as missing.
func (a *Answer) erased(c *ledger.Coach) map[ledger.No][]map[string]bool {
	gone := map[ledger.No][]map[string]bool{}
	for _, e := range c.Entries {
		if _, doubtful := c.Doubtful(e.No); e.Kind() != "erased" || e.Role != ledger.House || doubtful {
			continue
		}
		out := Erased{
			Entry: e.No.String(), Day: e.Day(), Ground: e.Text("ground"), Of: runs(e.Refs("answers")),
			Names: append([]string{}, ledger.Texts(e.Body()["names"])...),
		}
		out.Says = report.Fill(saysErased, "day", longDay(out.Day), "ground", ledger.Said("ground", out.Ground))
		names := map[string]bool{}
		for _, name := range out.Names {
			names[name] = true
		}
		for _, no := range e.Refs("answers") {
			gone[no] = append(gone[no], names)
		}
		a.Erased = append(a.Erased, out)
	}
	return gone
}

// leftOut lists the entries that these pages do not print.
func (a *Answer) leftOut(c *ledger.Coach) {
	for _, no := range c.Last().Refs("left-out") {
		if e := c.Entry(no); e != nil {
			a.LeftOut = append(a.LeftOut, LeftOut{no.String(), e.Kind(), e.Day()})
		}
	}
}

// pictures counts the pictures that entries name, and lists those that a
// bundle lacks.
func (a *Answer) pictures(f *file) {
	here := map[string]bool{}
	for _, p := range f.files.Pictures {
		here[p.Hex] = true
	}
	told := map[string]bool{}
	for _, e := range f.sealed.entries {
		for _, hex := range photos(e) {
			if told[hex] {
				continue
			}
			told[hex] = true
			a.Pictures.Named++
			if here[hex] {
				a.Pictures.Here++
			} else if f.form == FormBundle {
				a.Pictures.Missing = append(a.Pictures.Missing, Picture{e.No.String(), hex, pictureSays(e)})
			}
		}
	}
}

// pictureSays says of which place and day a picture is that is not here.
func pictureSays(e *ledger.Entry) string {
	where := placesSaid(e.Body()["places"])
	if where == "" {
		where = "entry " + e.No.String()
	}
	return report.Fill(report.FixedSays("no-picture"), "place", where, "day", longDay(e.Day()))
}

// photos are the hashes of pictures in an entry, by the fields that hold them.
func photos(e *ledger.Entry) []string {
	out := ledger.Texts(e.Body()["photos"])
	for _, o := range ledger.Objects(e.Body()["looked"]) {
		out = append(out, ledger.Texts(o["photos"])...)
	}
	if file := e.Text("file"); e.Kind() == "cure" && file != "" {
		out = append(out, file)
	}
	return slices.DeleteFunc(out, func(s string) bool { return !isHex(s) })
}

// namedPictures are all hashes that stand anywhere in the entries, in members
// that this program does not know too.
func namedPictures(c *ledger.Coach) map[string]bool {
	out := map[string]bool{}
	var walk func(v format.Value)
	walk = func(v format.Value) {
		switch v := v.(type) {
		case string:
			if isHex(v) {
				out[v] = true
			}
		case format.Array:
			for _, one := range v {
				walk(one)
			}
		case format.Object:
			for _, one := range v {
				walk(one)
			}
		}
	}
	for _, e := range entriesOf(c) {
		walk(e.Body())
	}
	return out
}

// isHex says whether a text is a SHA-256 in small hex digits.
func isHex(s string) bool { return len(s) == 64 && strings.Trim(s, "0123456789abcdef") == "" }
