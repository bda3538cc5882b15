package cli

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"io"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"lapmark/cmd/internal/console"
)

// The scripts in testdata/scripts are jobs of a person, each walked at the
// command line. The clock is the variable NOW, the passphrase the variable
// PASS; no script waits for either.
//
//	lapmark ARGS...       runs a command; it must exit 0 (with ! it must not)
//	exits CODE ARGS...    runs a command; it must exit with this code
//	begin FOLDER NAME     makes a shop, typing its recovery sheet back
//	typed begin ARGS...   the same with arguments of one's own
//	answers FILE ARGS...  runs a command that is answered by the lines of a file
//	sits FILE ARGS...     the same, as at a terminal: the passphrase is asked for too
//	flip FILE OFFSET      changes one byte of a file (negative: from its end)
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "../../../testdata/scripts",
		Setup: func(e *testscript.Env) error {
			e.Setenv("NOW", "2026-11-25T09:00:00Z")
			e.Setenv("PASS", "a long passphrase")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"lapmark": func(ts *testscript.TestScript, neg bool, args []string) {
				code := runScript(ts, "", args)
				if (code == 0) == neg {
					ts.Fatalf("lapmark %s: exit %d", strings.Join(args, " "), code)
				}
			},
			"exits": func(ts *testscript.TestScript, _ bool, args []string) {
				want, err := strconv.Atoi(args[0])
				ts.Check(err)
				if code := runScript(ts, "", args[1:]); code != want {
					ts.Fatalf("lapmark %s: exit %d, not %d", strings.Join(args[1:], " "), code, want)
				}
			},
			"begin": beginScript,
			"typed": func(ts *testscript.TestScript, _ bool, args []string) { typedScript(ts, args) },
			"answers": func(ts *testscript.TestScript, neg bool, args []string) {
				code := runScript(ts, ts.ReadFile(args[0]), args[1:])
				if (code == 0) == neg {
					ts.Fatalf("lapmark %s: exit %d", strings.Join(args[1:], " "), code)
				}
			},
			"sits": sitsScript,
			"flip": flipScript,
		},
	})
}

// counted is a source of bytes that is the same in every run.
type counted struct {
	n    uint64
	left []byte
}

func (c *counted) Read(p []byte) (int, error) {
	for i := range p {
		if len(c.left) == 0 {
			sum := sha256.Sum256(binary.BigEndian.AppendUint64([]byte("scripts"), c.n))
			c.left, c.n = sum[:], c.n+1
		}
		p[i], c.left = c.left[0], c.left[1:]
	}
	return len(p), nil
}

func scriptEnv(ts *testscript.TestScript, in io.Reader) *env {
	now, err := time.Parse(time.RFC3339, ts.Getenv("NOW"))
	ts.Check(err)
	return &env{
		console: &console.Console{In: in, Out: ts.Stdout(), Err: ts.Stderr()},
		now:     func() time.Time { return now },
		here:    ts.MkAbs("."),
		getenv:  func(name string) string { return map[string]string{"LAPMARK_SHOP": ts.Getenv("LAPMARK_SHOP")}[name] },
		random:  nil,
	}
}

func runScript(ts *testscript.TestScript, stdin string, args []string) int {
	in := io.Reader(strings.NewReader(stdin))
	if stdin == "" {
		in = strings.NewReader(ts.Getenv("PASS") + "\n")
	}
	return scriptEnv(ts, in).run(context.Background(), args)
}

// lines hands out what it is given one after the other; a row of the recovery
// sheet is read off the screen.
type rows struct {
	screen *bytes.Buffer
	first  []string
	at     int
}

var printedRow = regexp.MustCompile(`(?m)^row \d: (.*)$`)

func (r *rows) Read(p []byte) (int, error) {
	if r.at < len(r.first) {
		r.at++
		return copy(p, r.first[r.at-1]+"\n"), nil
	}
	printed := printedRow.FindAllStringSubmatch(r.screen.String(), -1)
	if i := r.at - len(r.first); i < len(printed) {
		r.at++
		return copy(p, printed[i][1]+"\n"), nil
	}
	return 0, io.EOF
}

func beginScript(ts *testscript.TestScript, _ bool, args []string) {
	typedScript(ts, []string{
		"begin", args[0], "--name", args[1], "--address", "9 Weir Row, Eel Pie", "--telephone", "555 0163", "--law", "us",
		"--zone", "Europe/Oslo",
	})
}

// typedScript runs a command that asks for a passphrase and a recovery sheet.
func typedScript(ts *testscript.TestScript, args []string) {
	var screen bytes.Buffer
	e := scriptEnv(ts, &rows{screen: &screen, first: []string{ts.Getenv("PASS")}})
	e.console.Out = &screen
	e.random = &counted{}
	if code := e.run(context.Background(), args); code != 0 {
		ts.Fatalf("%s: exit %d", strings.Join(args, " "), code)
	}
}

// sitsScript runs a command that a person answers at a terminal.
func sitsScript(ts *testscript.TestScript, neg bool, args []string) {
	e := scriptEnv(ts, strings.NewReader(ts.ReadFile(args[0])))
	e.console.Sits = true
	if code := e.run(context.Background(), args[1:]); (code == 0) == neg {
		ts.Fatalf("lapmark %s: exit %d", strings.Join(args[1:], " "), code)
	}
}

func flipScript(ts *testscript.TestScript, _ bool, args []string) {
	path := ts.MkAbs(args[0])
	data, err := os.ReadFile(path)
	ts.Check(err)
	at, err := strconv.Atoi(args[1])
	ts.Check(err)
	if at < 0 {
		at += len(data)
	}
	data[at] ^= 1
	ts.Check(os.WriteFile(path, data, 0o644))
}
