package cli

import (
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/reckon"
	"lapmark/report/say"
)

var update = flag.Bool("update", false, "write ledger/TABLES.md and the JSON answers of testdata/json anew")

const tablesFile = "../../../ledger/TABLES.md"

// ledger/TABLES.md is made from the declarations, and is never behind them.
func TestTables(t *testing.T) {
	made := tables(t)
	if *update {
		require.NoError(t, os.WriteFile(tablesFile, []byte(made), 0o644))
	}
	kept, err := os.ReadFile(tablesFile)
	require.NoError(t, err)
	require.Equal(t, made, string(kept), "write it anew: go test ./cmd/internal/cli -run TestTables -update")
	for _, k := range ledger.Kinds() {
		require.Contains(t, made, "### "+k.Name+"\n")
	}
	for _, list := range ledger.Lists() {
		require.Contains(t, made, "### "+list+"\n")
	}
}

// doc writes a page of Markdown.
type doc struct{ strings.Builder }

func (d *doc) say(format string, args ...any) { fmt.Fprintf(d, format+"\n\n", args...) }

// table writes rows under a head; a column in which nothing stands is left out.
func (d *doc) table(head []string, rows [][]string) {
	row := func(cells []string) {
		for i, cell := range cells {
			filled := false
			for _, r := range rows {
				filled = filled || r[i] != ""
			}
			if filled {
				d.WriteString("| " + strings.ReplaceAll(cell, "|", `\|`) + " ")
			}
		}
		d.WriteString("|\n")
	}
	row(head)
	line := make([]string, len(head))
	for i := range line {
		line[i] = "--"
	}
	row(line)
	for _, r := range rows {
		row(r)
	}
	d.WriteString("\n")
}

func code(s string) string {
	if s == "" {
		return ""
	}
	return "`" + s + "`"
}

func tables(t *testing.T) string {
	forms, units := commented(t, "fields.go", "Form"), commented(t, "tables.go", "Unit")
	var d doc
	d.say("# Kinds, words, quantities, reckoning, exit codes")
	d.say("Made from the declarations of this package by `go test ./cmd/internal/cli -run TestTables -update`; a test compares. Do not edit it.")
	d.say("A ledger may hold kinds, members and words that are newer than this page. A reader shows them as they stand.")
	d.say("## Kinds of entries")
	for _, k := range ledger.Kinds() {
		d.kind(k)
	}
	d.say("### Members of every kind")
	all := ledger.Kinds()[0]
	d.table(fieldHead, fieldRows(all.AllFields()[len(all.Fields):]))
	d.say("## Shared shapes")
	for _, name := range shapesUsed() {
		s, ok := ledger.ShapeNamed(name)
		require.True(t, ok, name)
		d.say("### shape %s", name)
		d.table(fieldHead, fieldRows(s.Fields))
	}
	d.say("## Forms of values")
	d.say("How a value stands in an entry (JSON), and behind the colon in a sheet.")
	d.table([]string{"form", "JSON: sheet"}, pairs(forms))
	d.say("## Words")
	for _, list := range ledger.Lists() {
		d.words(list)
	}
	d.say("## Quantities")
	d.table([]string{"quantity", "measures", "unit", "numbers"}, quantityRows())
	d.say("### Units")
	d.say("How one number is kept, and how a sheet prints it.")
	d.table([]string{"unit", "kept, and printed"}, pairs(units))
	d.say("## Reckoning")
	d.say("What `lapmark reckon` works out. What stands in brackets may be left out, or has the value that is said. The ranges: `lapmark reckon --about`.")
	var calcs [][]string
	for _, c := range reckon.Calcs() {
		calcs = append(calcs, []string{code(c.Name), c.Means, code(strings.Join(takes(c), " ")), c.Formula, c.Source})
	}
	d.table([]string{"name", "answers", "takes", "formula", "source"}, calcs)
	d.say("## Exit codes")
	var codes [][]string
	for _, m := range exitMeaning {
		codes = append(codes, []string{strconv.Itoa(m.Code), m.Means})
	}
	d.table([]string{"exit", "meaning"}, codes)
	return strings.TrimRight(d.String(), "\n") + "\n"
}

// byWhom are the kinds that another key than the house's, or not every key of
// it, writes; TestRoleOfEachKind of package ledger holds the same.
var byWhom = map[string]string{
	"intake": "The house it names writes it, as entry 1.", "key-change": "The recovery key in force writes it, and nothing else.",
	"take-on": "The key that the newest hand-over names writes it, once.",
}

func (d *doc) kind(k ledger.Kind) {
	d.say("### %s", k.Name)
	says := []string{k.Says + "."}
	if who, special := byWhom[k.Name]; special {
		says = append(says, who)
	} else if k.Guest {
		says = append(says, "The house and guests write it.")
	} else {
		says = append(says, "The house alone writes it.")
	}
	for _, s := range []struct {
		when bool
		says string
	}{
		{k.Cover, "It can change what a certificate still covers."},
		{k.Tag == ledger.Filled, "It has a tag; where none is typed the tool gives one."},
		{ledger.Barred(k.Name), "It is never corrected: a new one is written."},
	} {
		if s.when {
			says = append(says, s.says)
		}
	}
	d.say("%s", strings.ToUpper(says[0][:1])+strings.Join(says, " ")[1:])
	if len(k.Fields) > 0 {
		d.table(fieldHead, fieldRows(k.Fields))
	}
	if len(k.Privates) > 0 {
		var rows [][]string
		for _, p := range k.Privates {
			sees := map[ledger.Sight]string{
				ledger.SightHolder: "the holder of that time and the shop", ledger.SightShop: "the shop alone",
				ledger.SightPaper: "who holds the paper it belongs to",
			}[p.Sight]
			rows = append(rows, []string{code(p.Name), sees, map[bool]string{true: "3940.00 EUR"}[p.Money]})
		}
		d.table([]string{"private value", "who sees it", "written as"}, rows)
	}
}

var fieldHead = []string{"member", "in a sheet", "form", "of", "needed"}

func fieldRows(list []ledger.Field) [][]string {
	var rows [][]string
	for _, f := range list {
		if f.Name == "private" {
			continue
		}
		of := f.Shape
		if f.List != "" {
			of = f.List
		}
		if f.Many {
			of = strings.TrimSpace(of + " (several)")
		}
		need := map[ledger.Need]string{ledger.Must: "yes", ledger.Filled: "filled by the tool"}[f.Need]
		if f.Default != nil {
			usual, err := format.Encode(f.Default)
			if err != nil {
				panic(err) // the tables hold only values of the format
			}
			need = "else " + strings.Trim(string(usual), `"`)
		}
		if f.Empty != "" {
			need += ", or " + f.Empty
		}
		rows = append(rows, []string{code(f.Name), code(f.Label), formName(f.Form), of, need})
	}
	return rows
}

// formName is a form as the table of forms names it.
func formName(f ledger.Form) string { return formNames[f] }

var formNames = func() []string {
	names, _, err := constants("fields.go", "Form")
	if err != nil {
		panic(err)
	}
	return names
}()

// constants are the constants of a type in a file of package ledger, in their
// order, and the comment beside each: that is where they are declared.
func constants(file, typed string) (names, says []string, err error) {
	f, err := parser.ParseFile(token.NewFileSet(), "../../../ledger/"+file, nil, parser.ParseComments)
	if err != nil {
		return nil, nil, err
	}
	for _, decl := range f.Decls {
		g, ok := decl.(*ast.GenDecl)
		if !ok || g.Tok != token.CONST {
			continue
		}
		of := ""
		for _, spec := range g.Specs {
			v := spec.(*ast.ValueSpec)
			if name, ok := v.Type.(*ast.Ident); ok {
				of = name.Name
			}
			if of != typed {
				continue
			}
			name := inWords(strings.TrimPrefix(v.Names[0].Name, typed))
			if len(v.Values) == 1 {
				if s, ok := v.Values[0].(*ast.BasicLit); ok {
					name = strings.Trim(s.Value, `"`)
				}
			}
			names, says = append(names, name), append(says, strings.TrimSpace(v.Comment.Text()))
		}
	}
	return names, says, nil
}

// inWords is the name of a constant in small words: "day or moment".
func inWords(name string) string {
	return strings.ToLower(regexp.MustCompile(`([a-z])([A-Z])`).ReplaceAllString(name, "$1 $2"))
}

func commented(t *testing.T, file, typed string) [][2]string {
	t.Helper()
	names, says, err := constants(file, typed)
	require.NoError(t, err)
	var out [][2]string
	for i, name := range names {
		require.NotEmpty(t, says[i], "%s %s says nothing", typed, name)
		out = append(out, [2]string{name, says[i]})
	}
	return out
}

func pairs(list [][2]string) [][]string {
	var out [][]string
	for _, p := range list {
		out = append(out, []string{p[0], p[1]})
	}
	return out
}

// shapesUsed are the shapes in the order in which the kinds use them.
func shapesUsed() []string {
	var out []string
	seen := map[string]bool{}
	var walk func([]ledger.Field)
	walk = func(list []ledger.Field) {
		for _, f := range list {
			if f.Shape == "" || seen[f.Shape] {
				continue
			}
			seen[f.Shape] = true
			out = append(out, f.Shape)
			s, _ := ledger.ShapeNamed(f.Shape)
			walk(s.Fields)
		}
	}
	for _, k := range ledger.Kinds() {
		walk(k.AllFields())
	}
	return out
}

func (d *doc) words(list string) {
	d.say("### %s", list)
	var rows [][]string
	for _, w := range ledger.WordsOf(list) {
		from := ""
		if w.List != list {
			from = w.List
		}
		rows = append(rows, []string{
			code(w.Name), w.Means, w.Says, carried(w, true), carried(w, false), strings.Join(w.Layers, ", "), passing(w.Passes), from, w.Source,
		})
	}
	d.table([]string{"word", "means", "said as", "must carry", "may carry", "layers", "passes", "borrowed from", "source"}, rows)
}

func carried(w ledger.Word, must bool) string {
	var out []string
	for _, c := range w.Carries {
		if c.Must == must {
			out = append(out, c.Quantity)
		}
	}
	return strings.Join(out, ", ")
}

func passing(p *ledger.Passes) string {
	if p == nil {
		return ""
	}
	limit := format.Object{"quantity": p.Quantity}
	if p.AtMost != nil {
		limit["at-most"] = *p.AtMost
	}
	if p.AtLeast != nil {
		limit["at-least"] = *p.AtLeast
	}
	out := p.Quantity + " " + say.Limit(limit)
	for _, also := range p.Also {
		out += "; " + passing(&also)
	}
	return out
}

func quantityRows() [][]string {
	many := map[ledger.Many]string{
		ledger.OneNumber: "one", ledger.PairOfNumbers: "a pair", ledger.ListOfNumbers: "a list", ledger.LowHigh: "low and high",
	}
	var rows [][]string
	for _, q := range ledger.Quantities() {
		rows = append(rows, []string{code(q.Name), q.Means, string(q.Unit), many[q.Many]})
	}
	return rows
}
