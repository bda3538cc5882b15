// Package testdata is what the tests of all packages share: the tables of
// published values in reference/, and the programs of other hands that check
// ours.
package testdata

import (
	"bytes"
	"embed"
	"encoding/csv"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

//go:embed reference/*.csv
var tables embed.FS

// Row is one line of a reference table. Source and Locator name where the value
// was published; Inputs is "name=value; name=value" or one text.
type Row struct {
	ID, Quantity, Inputs, Value, Unit, Tolerance, Source, Locator, Status string
}

// Named are the inputs by their names.
func (r Row) Named() map[string]string {
	named := map[string]string{}
	for pair := range strings.SplitSeq(r.Inputs, "; ") {
		if name, value, ok := strings.Cut(pair, "="); ok {
			named[name] = value
		}
	}
	return named
}

// Reference reads a table of reference/ by its file name. Where the environment
// names a further folder in REFERENCE, the rows of its file of that name follow.
func Reference(t testing.TB, name string) []Row {
	t.Helper()
	rows := ownRows(t, name)
	folder := os.Getenv("REFERENCE")
	if folder == "" {
		return rows
	}
	if _, err := os.Stat(folder); err != nil {
		t.Fatalf("REFERENCE: %v", err)
	}
	more, err := os.ReadFile(filepath.Join(folder, name))
	if errors.Is(err, fs.ErrNotExist) {
		return rows
	}
	if err != nil {
		t.Fatal(err)
	}
	return append(rows, readRows(t, filepath.Join(folder, name), more)...)
}

func ownRows(t testing.TB, name string) []Row {
	t.Helper()
	table, err := tables.ReadFile("reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return readRows(t, name, table)
}

func readRows(t testing.TB, name string, table []byte) []Row {
	t.Helper()
	lines, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	if err != nil || len(lines) == 0 {
		t.Fatalf("%s: no table: %v", name, err)
	}
	if head := "id,quantity,inputs,value,unit,tolerance,source,locator,status"; strings.Join(lines[0], ",") != head {
		t.Fatalf("%s has other columns than %s", name, head)
	}
	var rows []Row
	for _, l := range lines[1:] {
		rows = append(rows, Row{l[0], l[1], l[2], l[3], l[4], l[5], l[6], l[7], l[8]})
	}
	return rows
}

// Try is one row under test: it remembers which inputs were asked for.
type Try struct {
	Row
	T     *testing.T
	named map[string]string
	asked map[string]bool
}

// EachRow tries every row of a table with the test of its quantity. A quantity
// without a test, and an input that its test did not ask for, fail by name, so
// that no row is passed over in silence.
func EachRow(t *testing.T, name string, tests map[string]func(*Try)) {
	t.Helper()
	for _, row := range Reference(t, name) {
		t.Run(row.ID, func(t *testing.T) {
			test, known := tests[row.Quantity]
			if !known {
				t.Fatalf("%s %s: no test for %q", name, row.ID, row.Quantity)
			}
			r := &Try{Row: row, T: t, named: row.Named(), asked: map[string]bool{}}
			test(r)
			for input := range r.named {
				if !r.asked[input] {
					t.Errorf("%s %s: %q has an input %q that its test does not know", name, row.ID, row.Quantity, input)
				}
			}
		})
	}
}

// Read is the test of a row that holds a text to read, not a value to work out.
func Read(r *Try) {
	for input := range r.named {
		r.asked[input] = true
	}
	if r.Value == "" {
		r.T.Fatal("nothing to read")
	}
}

// Texts are the tests of a table of texts: every quantity that our own copy
// holds is one to read. Another one has no test.
func Texts(t testing.TB, name string) map[string]func(*Try) {
	t.Helper()
	tests := map[string]func(*Try){}
	for _, row := range ownRows(t, name) {
		tests[row.Quantity] = Read
	}
	return tests
}

// Has says whether the row has an input.
func (r *Try) Has(name string) bool {
	_, ok := r.named[name]
	return ok
}

// Text is an input of the row.
func (r *Try) Text(name string) string {
	r.T.Helper()
	text, ok := r.named[name]
	if !ok {
		r.T.Fatalf("%q has no input %q: %s", r.Quantity, name, r.Inputs)
	}
	r.asked[name] = true
	return text
}

// Number is an input of the row as a number.
func (r *Try) Number(name string) float64 {
	r.T.Helper()
	return r.parse(r.Text(name))
}

// Numbers are an input of the row with a comma between them.
func (r *Try) Numbers(name string) []float64 {
	r.T.Helper()
	var out []float64
	for one := range strings.SplitSeq(r.Text(name), ",") {
		out = append(out, r.parse(one))
	}
	return out
}

// In is an input whose unit is the end of its name: In("bite", "_mm", 1, "_in",
// 25.4) is in millimetres. Unit and factor follow one another.
func (r *Try) In(name string, units ...any) float64 {
	r.T.Helper()
	for i := 0; i+1 < len(units); i += 2 {
		if unit, factor := units[i].(string), units[i+1].(float64); r.Has(name + unit) {
			return r.Number(name+unit) * factor
		}
	}
	r.T.Fatalf("%q has no %s in a unit that its test knows: %s", r.Quantity, name, r.Inputs)
	return 0
}

// Celsius is an input that is a temperature in _c or _f.
func (r *Try) Celsius(name string) float64 {
	r.T.Helper()
	if r.Has(name + "_f") {
		return (r.Number(name+"_f") - 32) * 5 / 9
	}
	return r.Number(name + "_c")
}

func (r *Try) parse(s string) float64 {
	r.T.Helper()
	n, err := strconv.ParseFloat(s, 64)
	if err != nil {
		r.T.Fatalf("%q: %v", r.Quantity, err)
	}
	return n
}

// Is fails unless the row's value is that text.
func (r *Try) Is(got string) {
	r.T.Helper()
	if got != r.Value {
		r.T.Errorf("%s %s is %s, not %s (%s)", r.Quantity, r.Inputs, r.Value, got, r.Source)
	}
}

// Near fails unless a result is the row's value within its tolerance: an
// absolute difference, "rel" and a share, or "exact", which leaves only what
// floating point loses.
func (r *Try) Near(got float64) {
	r.T.Helper()
	want := r.parse(r.Value)
	share, relative := strings.CutPrefix(r.Tolerance, "rel ")
	var most float64
	switch {
	case r.Tolerance == "exact":
		most = 1e-12 * math.Max(1, math.Abs(want))
	case relative:
		most = r.parse(share) * math.Abs(want)
	default:
		most = r.parse(r.Tolerance)
	}
	most += 1e-12 * math.Abs(want) // a result on the edge of it
	if !(math.Abs(got-want) <= most) {
		r.T.Errorf("%s %s is %s %s within %s, not %v (%s)", r.Quantity, r.Inputs, r.Value, r.Unit, r.Tolerance, got, r.Source)
	}
}

// NearIn is Near for a result in another unit than the row's: units are the
// row's unit and how many of it one of the result's is.
func (r *Try) NearIn(got float64, units map[string]float64) {
	r.T.Helper()
	factor, known := units[r.Unit]
	if !known {
		r.T.Fatalf("%q is in %q, which its test does not know", r.Quantity, r.Unit)
	}
	r.Near(got * factor)
}
