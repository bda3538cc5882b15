package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/check"
	"lapmark/cmd/internal/console"
	"lapmark/cmd/internal/demo"
)

const answersFolder = "../../../testdata/json/"

// answers are all answers in JSON, by the verb that gives them; "done" is that
// of any verb that did what it was asked.
var answers = map[string]any{
	"begin": beginAnswer{}, "certify": inkAnswer{}, "demo": demoAnswer{}, "done": doneAnswer{}, "give": inkAnswer{},
	"head": headAnswer{}, "ink": inkAnswer{}, "look-up": lookUpAnswer{}, "papers": papersAnswer{}, "pencil": pencilAnswer{},
	"may": mayAnswer{}, "waiting": waitingAnswer{}, "reckon": reckonAnswer{}, "reckon-list": reckonListAnswer{},
	"sheet": sheetAnswer{}, "show": showAnswer{}, "trust": trustAnswer{}, "verify": check.Answer{}, "version": versionAnswer{},
	"words": wordsAnswer{}, "ask": check.Cover{},
}

// asks runs one command in JSON on a shop, or on none, at noon of a day.
func asks(t *testing.T, shop, day, stdin string, exit int, args ...string) []byte {
	t.Helper()
	now, err := time.Parse(time.RFC3339, day+"T11:00:00Z")
	require.NoError(t, err)
	var out, talk bytes.Buffer
	e := &env{
		console: &console.Console{In: strings.NewReader(stdin), Out: &out, Err: &talk}, now: func() time.Time { return now },
		here: t.TempDir(), getenv: func(string) string { return "" },
	}
	if shop != "" {
		args = append(args, "--shop", shop)
	}
	require.Equal(t, exit, e.run(context.Background(), append(args, "--json")), "%s\n%s", args, &talk)
	return out.Bytes()
}

// madeAnswers runs each verb on the demo: as it stands at its end, and as it
// stood before its certificate. Where a folder of this machine stands in an
// answer, it is called FOLDER.
func madeAnswers(t *testing.T) map[string][]byte {
	t.Helper()
	folder := t.TempDir()
	whole, early := filepath.Join(folder, "demo"), filepath.Join(folder, "early")
	made := map[string][]byte{"demo": asks(t, "", "2026-11-25", "", 0, "demo", whole)}
	_, err := demo.MakeTo(context.Background(), early, demo.ToCertificate-1)
	require.NoError(t, err)

	ask := func(verb string, args ...string) { made[verb] = asks(t, whole, "2026-11-25", "", 0, args...) }
	ask("show", "show", "4137", "1", "6", "35", "62", "--at", "whole roof")
	ask("verify", "verify", filepath.Join(whole, "Q-0007.pdf"), "--with", filepath.Join(whole, "findings-004137-2020-03-20.pdf"))
	ask("look-up", "look-up", "tarnholt", "004137")
	ask("papers", "papers", "4137")
	ask("trust", "trust")
	ask("version", "version")
	ask("reckon", "reckon", "days-to-limit", "first=31", "then=21.5", "days=11", "air=24C", "rh=38")
	ask("reckon-list", "reckon")
	ask("words", "words", "soft-deck")
	ask("ask", "ask", "4137", "--claim", "C1")
	var papers papersAnswer
	require.NoError(t, json.Unmarshal(made["papers"], &papers))
	require.Equal(t, "Q-0007", papers.Papers[2].Certificate)
	ask("head", "head", papers.Papers[2].HeadCode)
	ask("done", "export", "4137", "--out", filepath.Join(folder, "ledger.txt"))

	sheet := filepath.Join(folder, "day.txt")
	text := "coach GZ9TF785XEW004137\non 2020-04-23 zone +02:00\ncheck: hall-air, air-temp 16.0 C, humidity 64.0 %; by hand-1\nthis is no note\n"
	require.NoError(t, os.WriteFile(sheet, []byte(text), 0o644))
	write := func(verb, pass string, exit int, args ...string) {
		made[verb] = asks(t, early, "2020-04-24", pass, exit, args...)
	}
	write("may", "", exitDone, "may", "4137", "close", "--at", "bay 1 left")
	write("sheet", "", 0, "sheet", sheet)
	write("pencil", "", 0, "pencil")
	write("waiting", "", 0, "waiting")
	write("ink", demo.Passphrase+"\n", exitBad, "ink", "--out", folder)
	write("certify", demo.Passphrase+"\n", 0, "certify", "4137", "--number", "Q-0007")
	write("give", demo.Passphrase+"\n", 0, "give", "certificate", "Q-0007", "--out", folder)

	made["begin"] = begunAnswer(t, filepath.Join(folder, "new"))
	for verb, text := range made {
		made[verb] = bytes.ReplaceAll(text, []byte(folder), []byte("FOLDER"))
	}
	return made
}

func begunAnswer(t *testing.T, shop string) []byte {
	t.Helper()
	var out, screen bytes.Buffer
	e := &env{
		console: &console.Console{In: &rows{screen: &screen, first: []string{"a long passphrase"}}, Out: &out, Err: &screen},
		now:     time.Now, here: t.TempDir(), getenv: func(string) string { return "" }, random: &counted{},
	}
	code := e.run(context.Background(), []string{
		"begin", shop, "--name", "Thornwick Roofs", "--address", "9 Weir Row, Eel Pie", "--telephone", "555 0163", "--law", "us", "--json",
	})
	require.Equal(t, exitDone, code, "%s", &screen)
	return out.Bytes()
}

// Each answer keeps the members and types of its example in testdata/json:
// members are added there, never changed. What stands in them is compared with
// the demo's sheets, below, and not with the examples.
func TestAnswersKeepTheirShape(t *testing.T) {
	made := madeAnswers(t)
	require.ElementsMatch(t, slices.Collect(maps.Keys(answers)), slices.Collect(maps.Keys(made)))
	for verb, text := range made {
		if *update {
			var nice bytes.Buffer
			require.NoError(t, json.Indent(&nice, bytes.TrimSpace(text), "", "  "))
			require.NoError(t, os.WriteFile(answersFolder+verb+".json", append(nice.Bytes(), '\n'), 0o644))
		}
		kept, err := os.ReadFile(answersFolder + verb + ".json")
		require.NoError(t, err)
		require.Equal(t, shapeOf(t, kept), shapeOf(t, text), verb)
		name := map[string]string{"done": "export", "reckon-list": "reckon"}[verb]
		require.True(t, bytes.HasPrefix(text, fmt.Appendf(nil, `{"answer":"%s","v":1,`, or(name, verb))), "%s: %.60s", verb, text)
	}
	demoSays(t, made)
}

// free are members whose own members are not fixed: the body of an entry, and
// values by name.
var free = map[string]bool{"body": true, "corrected": true, "private": true}

// shapeOf are the members of an answer with their types, those of all elements
// of a list together.
func shapeOf(t *testing.T, text []byte) []string {
	t.Helper()
	var v any
	require.NoError(t, json.Unmarshal(text, &v))
	found := map[string]bool{}
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case map[string]any:
			found[path+" object"] = true
			for name, one := range v {
				if free[name] {
					found[path+"."+name+" free"] = true
					continue
				}
				walk(path+"."+name, one)
			}
		case []any:
			found[path+" list"] = true
			for _, one := range v {
				walk(path+"[]", one)
			}
		default:
			found[fmt.Sprintf("%s %T", path, v)] = true
		}
	}
	walk("", v)
	return slices.Sorted(maps.Keys(found))
}

// members are the members an answer may have, by their names.
func members(of reflect.Type, into map[string]bool) {
	switch of.Kind() {
	case reflect.Pointer, reflect.Slice:
		members(of.Elem(), into)
	case reflect.Struct:
		for i := range of.NumField() {
			if !of.Field(i).IsExported() {
				continue
			}
			name, _, _ := strings.Cut(of.Field(i).Tag.Get("json"), ",")
			into[name] = true
			if of.Field(i).Type != reflect.TypeFor[json.RawMessage]() {
				members(of.Field(i).Type, into)
			}
		}
	}
}

// Every member that an answer may have stands in the table with its meaning,
// under its own name or under that of its answer; and the table has no other.
func TestMembersAreDocumented(t *testing.T) {
	text, err := os.ReadFile(answersFolder + "MEMBERS.md")
	require.NoError(t, err)
	rows := map[string]bool{}
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z-]+ )?([a-z_0-9]+)` \\| \\S.* \\|$").FindAllStringSubmatch(string(text), -1) {
		require.False(t, rows[m[1]+m[2]], "%s stands twice", m[1]+m[2])
		rows[m[1]+m[2]] = true
	}
	used := map[string]bool{}
	for verb, answer := range answers {
		all := map[string]bool{}
		members(reflect.TypeOf(answer), all)
		for name := range all {
			row := name
			if rows[verb+" "+name] {
				row = verb + " " + name
			}
			used[row] = true
			require.True(t, rows[row], "%s of %s has no meaning in MEMBERS.md", name, verb)
		}
	}
	for row := range rows {
		require.True(t, used[row], "no answer has %s any more", row)
	}
}

func read[T any](t *testing.T, text []byte) (v T) {
	t.Helper()
	require.NoError(t, json.Unmarshal(text, &v))
	return v
}

// demoSays compares the answers with what DEMO.md, the sheets of the demo, says.
func demoSays(t *testing.T, made map[string][]byte) {
	t.Helper()
	shown := read[showAnswer](t, made["show"])
	require.Equal(t, "GZ9TF785XEW004137", shown.Coach)
	require.Len(t, shown.Entries, 4)
	intake, pins, cure, torn := shown.Entries[0], shown.Entries[1], shown.Entries[2], shown.Entries[3]
	require.Contains(t, intake.Erased, showErased{"complaint", 85.0}, "sheet 42: asked for, gone")
	require.Equal(t, []any{14.0}, pins.CorrectedBy, "sheet 4")
	require.Contains(t, string(pins.Body), `"moisture":81`)
	require.Contains(t, string(pins.Corrected), `"moisture":281`)
	require.Contains(t, pins.Sentence, "bay 10 left: 28.1 %")
	require.Contains(t, pins.Line, "pins at bay 10 left, moisture 8.1 %")
	require.Equal(t, 34.0, cure.Answers, "sheet 12: the cure of the work D1")
	require.Equal(t, "guest", torn.Role)
	require.Equal(t, 66.0, torn.AdoptedBy, "sheet 27")
	require.Equal(t, "2023-09-18", torn.Day)

	verified := read[check.Answer](t, made["verify"])
	require.True(t, verified.Whole)
	require.Equal(t, check.LeftTheHouse, verified.Paper)
	require.Equal(t, int64(54), verified.Entries)
	require.Equal(t, int64(53), verified.UpTo.Entry)
	require.Equal(t, "2020-04-24", verified.UpTo.Day)
	require.Len(t, verified.Found, 8)
	var last []string
	for _, line := range verified.Promised[0].Lines {
		last = append(last, line.LastDay)
	}
	require.Equal(t, []string{"2030-04-23", "2030-04-23", "2030-04-23", "2026-04-23", "2025-04-23", "2022-04-23"}, last, "Areas and last days")
	require.Equal(t, check.OneChain, verified.With[0].Relation)

	found := read[lookUpAnswer](t, made["look-up"]).Coaches[0]
	require.Equal(t, []any{"Tarnholt", "Fellside 78", 2014, 87}, []any{found.Builder, found.Model, found.Year, found.Entries})
	var given []int
	for _, p := range read[papersAnswer](t, made["papers"]).Papers {
		given = append(given, p.Entry)
	}
	require.Equal(t, []int{16, 16, 54, 54, 60, 60, 68}, given, "sheets 5, 20, 23, 29")
	head := read[headAnswer](t, made["head"])
	require.Equal(t, []any{"older", int64(53), int64(34)}, []any{head.Found, head.Entry, head.Later}, "53 of 87")
	require.Equal(t, int64(87), read[demoAnswer](t, made["demo"]).Entries)
	require.Equal(t, "quillstead", read[trustAnswer](t, made["trust"]).Keys[0].Name)

	asked := read[mayAnswer](t, made["may"])
	require.Equal(t, []any{false, "close", []string{"bay 1 left"}}, []any{asked.May, asked.Asked, asked.At})
	var groups []string
	for _, l := range read[waitingAnswer](t, made["waiting"]).Lines {
		groups = append(groups, l.Group)
	}
	require.Contains(t, groups, "pencil", "a note is unclear")

	notes := read[sheetAnswer](t, made["sheet"]).Notes
	require.Equal(t, []string{"clear", "unclear"}, []string{notes[0].State, notes[1].State})
	require.Equal(t, "this is no note", notes[1].Words)
	require.Equal(t, int64(53), read[inkAnswer](t, made["ink"]).Entries)
	certified := read[inkAnswer](t, made["certify"])
	require.Equal(t, int64(54), certified.Notes[0].Entry)
	require.Contains(t, certified.Notes[0].Line, "certificate Q-0007: ")
	require.Len(t, read[inkAnswer](t, made["give"]).Papers, 2, "the holder's own, and one to pass on")
}
