// Package testdata is what the tests of all packages share: the tables of
// published values in reference/, and the programs of other hands that check
// ours.
package testdata

import (
	"embed"
	"encoding/csv"
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
		name, value, _ := strings.Cut(pair, "=")
		named[name] = value
	}
	return named
}

// Reference reads a table of reference/ by its file name.
func Reference(t testing.TB, name string) []Row {
	t.Helper()
	f, err := tables.Open("reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
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
