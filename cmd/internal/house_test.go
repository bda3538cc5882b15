package internal

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const root = "../.."

// goFile is one file of the product.
type goFile struct {
	folder  string // from the top of the repository
	path    string
	imports []string
	syntax  *ast.File
}

func productFiles(t *testing.T) []goFile {
	t.Helper()
	var out []goFile
	for _, top := range []string{"cmd", "crypto", "ledger", "report"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			folder, err := filepath.Rel(root, filepath.Dir(path))
			if err != nil {
				return err
			}
			one := goFile{folder: filepath.ToSlash(folder), path: path, syntax: file}
			for _, spec := range file.Imports {
				name, err := strconv.Unquote(spec.Path.Value)
				if err != nil {
					return err
				}
				one.imports = append(one.imports, name)
			}
			out = append(out, one)
			return nil
		})
		require.NoError(t, err)
	}
	require.NotEmpty(t, out)
	return out
}

// rooms says what each room may import of ours. A folder not named here has
// the rule of the longest name that it lies under.
var rooms = map[string][]string{
	"crypto/sshsig":        {},
	"crypto/keyring":       {"crypto/sshsig"},
	"crypto/private":       {},
	"ledger/format":        {},
	"ledger/chain":         {},
	"ledger/day":           {},
	"ledger/place":         {},
	"ledger/trade":         {},
	"ledger/vin":           {},
	"ledger":               {"ledger/format", "ledger/chain", "ledger/day", "ledger/place", "ledger/trade", "ledger/vin"},
	"ledger/sheet":         {"ledger", "ledger/format", "ledger/chain", "ledger/day", "ledger/place", "ledger/trade", "ledger/vin"},
	"ledger/questions":     {"ledger", "ledger/format", "ledger/sheet"},
	"ledger/loose":         {"ledger", "ledger/sheet", "ledger/format", "ledger/day"},
	"ledger/rules":         {"ledger", "ledger/format", "ledger/chain", "ledger/day", "ledger/place", "ledger/trade", "ledger/vin", "ledger/cover"},
	"ledger/may":           {"ledger", "ledger/day", "ledger/format", "ledger/place", "ledger/rules"},
	"ledger/waiting":       {"ledger", "ledger/day", "ledger/format", "ledger/place", "ledger/rules", "ledger/may", "ledger/cover", "ledger/cover/record"},
	"ledger/reckon":        {"ledger", "ledger/day", "ledger/trade", "ledger/vin"},
	"ledger/cover":         {"ledger", "ledger/day"},
	"ledger/cover/record":  {"ledger", "ledger/cover", "ledger/rules", "ledger/day", "ledger/format", "ledger/place"},
	"ledger/file":          {"ledger/file/disk"},
	"ledger/book":          {"ledger/file/disk"},
	"ledger/picture":       {},
	"report":               {"report/plan", "report/english", "ledger"},
	"report/english":       {},
	"report/plan":          {"ledger/place"},
	"report/carry":         {},
	"report/pdf":           {"report", "report/plan"},
	"report/text":          {"report", "report/plan"},
	"report/facts":         {"report", "report/plan", "report/say", "report/english", "ledger"},
	"report/say":           {"report", "report/english", "ledger"},
	"cmd/internal/check":   {"ledger", "crypto", "report"},
	"cmd/internal/shop":    {"ledger", "crypto", "report", "cmd/internal/check"},
	"cmd/internal/cli":     {"ledger", "crypto", "report", "cmd/internal"},
	"cmd/internal/demo":    {"ledger", "crypto", "report", "cmd/internal/shop"},
	"cmd/lapmark":          {"cmd/internal/cli"},
	"cmd/internal/console": {},
}

// open rooms may import everything that lies under what they name.
var open = []string{"report/facts", "report/say", "cmd/internal/check", "cmd/internal/shop", "cmd/internal/cli", "cmd/internal/demo"}

func allowed(folder string) (list []string, under bool) {
	best := ""
	for room := range rooms {
		if (folder == room || strings.HasPrefix(folder, room+"/")) && len(room) > len(best) {
			best = room
		}
	}
	for _, o := range open {
		under = under || best == o
	}
	return rooms[best], under
}

// The arrows of the house: each room imports only the rooms above it.
func TestArrows(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range productFiles(t) {
		list, under := allowed(f.folder)
		seen[f.folder] = true
		for _, name := range f.imports {
			ours, ok := strings.CutPrefix(name, "lapmark/")
			if !ok {
				continue
			}
			fine := ours == f.folder || strings.HasPrefix(ours, f.folder+"/disk")
			for _, may := range list {
				fine = fine || ours == may || under && strings.HasPrefix(ours, may+"/")
			}
			require.True(t, fine, "%s imports %s", f.path, name)
		}
	}
	for room := range rooms {
		require.True(t, seen[room], "no room %s any more: take it out of the list", room)
	}
}

// pure rooms take all they need as values.
var pure = []string{
	"ledger", "ledger/format", "ledger/chain", "ledger/day", "ledger/place", "ledger/trade", "ledger/vin",
	"ledger/sheet", "ledger/questions", "ledger/loose", "ledger/rules", "ledger/reckon", "ledger/may", "ledger/waiting", "ledger/cover", "ledger/cover/record",
	"report", "report/plan", "report/carry", "report/facts", "report/say", "report/english",
}

// The guide's table of the house says the same as the lists above: which rooms
// import nothing of ours, and which are pure.
func TestGuideHouse(t *testing.T) {
	text, err := os.ReadFile(root + "/DEVELOPERS.md")
	require.NoError(t, err)
	_, table, _ := strings.Cut(string(text), "## The house\n\n```\n")
	table, _, found := strings.Cut(table, "```")
	require.True(t, found)
	var told []string
	for _, row := range strings.Split(strings.TrimSpace(table), "\n") {
		folders, says, _ := strings.Cut(row, "  ")
		for i, name := range strings.Fields(folders) {
			name = strings.TrimSuffix(name, "/")
			if i > 0 {
				name = filepath.ToSlash(filepath.Dir(strings.Fields(folders)[0])) + "/" + name
			}
			list, listed := rooms[name]
			require.True(t, listed, "%s is no room", name)
			if strings.Contains(says, "nothing of ours") {
				require.Empty(t, list, name)
			}
			if strings.HasSuffix(says, " pure") {
				told = append(told, name)
			}
		}
	}
	require.ElementsMatch(t, pure, told)
}

// impure are imports that reach out of a program, or differ from run to run.
var impure = []string{"os", "net", "database", "crypto/rand", "math/rand", "io/ioutil", "syscall", "os/exec", "embed", "path/filepath", "log"}

func isPure(folder string) bool {
	for _, p := range pure {
		if p == folder {
			return true
		}
	}
	return false
}

func TestPureRoomsImportNothingImpure(t *testing.T) {
	for _, f := range productFiles(t) {
		if !isPure(f.folder) {
			continue
		}
		for _, name := range f.imports {
			for _, bad := range impure {
				require.False(t, name == bad || strings.HasPrefix(name, bad+"/"), "%s imports %s", f.path, name)
			}
		}
	}
}

// A pure room asks no clock and changes no package variable.
func TestPureRoomsHaveNoClockAndNoState(t *testing.T) {
	byFolder := map[string][]goFile{}
	for _, f := range productFiles(t) {
		if isPure(f.folder) {
			byFolder[f.folder] = append(byFolder[f.folder], f)
		}
	}
	require.Equal(t, len(pure), len(byFolder), "every pure room is there")
	for folder, files := range byFolder {
		globals := map[string]bool{}
		for _, f := range files {
			for _, name := range packageVars(f.syntax) {
				globals[name] = true
			}
		}
		for _, f := range files {
			for _, complaint := range changes(f.syntax, globals) {
				t.Errorf("%s: %s", f.path, complaint)
			}
		}
		_ = folder
	}
}

func packageVars(f *ast.File) []string {
	var out []string
	for _, decl := range f.Decls {
		g, ok := decl.(*ast.GenDecl)
		if !ok || g.Tok != token.VAR {
			continue
		}
		for _, spec := range g.Specs {
			for _, name := range spec.(*ast.ValueSpec).Names {
				out = append(out, name.Name)
			}
		}
	}
	return out
}

// changes finds calls of the clock, init functions, and assignments to package
// variables or to their members.
func changes(f *ast.File, globals map[string]bool) []string {
	var out []string
	for _, decl := range f.Decls {
		fn, ok := decl.(*ast.FuncDecl)
		if !ok || fn.Body == nil {
			continue
		}
		if fn.Name.Name == "init" && fn.Recv == nil {
			out = append(out, "has an init function")
		}
		local := localNames(fn)
		ast.Inspect(fn.Body, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.SelectorExpr:
				if x, ok := n.X.(*ast.Ident); ok && x.Name == "time" && (n.Sel.Name == "Now" || n.Sel.Name == "Since" || n.Sel.Name == "Until") {
					out = append(out, "asks the clock")
				}
			case *ast.AssignStmt:
				for _, left := range n.Lhs {
					if name := base(left); n.Tok != token.DEFINE && globals[name] && !local[name] {
						out = append(out, "changes "+name)
					}
				}
			case *ast.IncDecStmt:
				if name := base(n.X); globals[name] && !local[name] {
					out = append(out, "changes "+name)
				}
			}
			return true
		})
	}
	return out
}

func base(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.IndexExpr:
		return base(e.X)
	case *ast.SelectorExpr:
		return base(e.X)
	case *ast.StarExpr:
		return base(e.X)
	case *ast.ParenExpr:
		return base(e.X)
	}
	return ""
}

// localNames are the names a function declares itself, which hide package
// variables.
func localNames(fn *ast.FuncDecl) map[string]bool {
	out := map[string]bool{}
	add := func(list *ast.FieldList) {
		if list == nil {
			return
		}
		for _, f := range list.List {
			for _, n := range f.Names {
				out[n.Name] = true
			}
		}
	}
	add(fn.Recv)
	add(fn.Type.Params)
	add(fn.Type.Results)
	ast.Inspect(fn.Body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			if n.Tok == token.DEFINE {
				for _, left := range n.Lhs {
					out[base(left)] = true
				}
			}
		case *ast.ValueSpec:
			for _, name := range n.Names {
				out[name.Name] = true
			}
		case *ast.RangeStmt:
			out[base(n.Key)] = true
			if n.Value != nil {
				out[base(n.Value)] = true
			}
		case *ast.FuncLit:
			add(n.Type.Params)
		}
		return true
	})
	return out
}

// The top level of the repository is fixed.
func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir(root)
	require.NoError(t, err)
	fixed := map[string]bool{
		"cmd": true, "ledger": true, "report": true, "crypto": true, "testdata": true, "README.md": true,
		"DEVELOPERS.md": true, "go.mod": true, "go.sum": true,
	}
	for _, e := range entries {
		require.True(t, fixed[e.Name()] || strings.HasPrefix(e.Name(), ".") || e.Name() == "demo-shop",
			"%s does not belong at the top level", e.Name())
	}
}

// main is at most 15 lines and ends the program once.
func TestMainIsShort(t *testing.T) {
	text, err := os.ReadFile(root + "/cmd/lapmark/main.go")
	require.NoError(t, err)
	require.LessOrEqual(t, strings.Count(string(text), "\n"), 15)
	for _, f := range productFiles(t) {
		body, err := os.ReadFile(f.path)
		require.NoError(t, err)
		require.Equal(t, f.folder == "cmd/lapmark", strings.Contains(string(body), "os.Exit("), f.path)
	}
}
