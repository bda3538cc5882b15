package shop_test

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/demo"
	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/crypto/private"
	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/testdata"
)

var made struct {
	once   sync.Once
	folder string
	err    error
}

// demoShop is a copy of the demo, which is made once.
func demoShop(t *testing.T) string {
	t.Helper()
	made.once.Do(func() {
		temp, err := os.MkdirTemp("", "lapmark-demo-")
		made.folder, made.err = filepath.Join(temp, "demo"), err
		if err == nil {
			_, made.err = demo.MakeTo(context.Background(), made.folder, demo.ToCertificate)
		}
	})
	require.NoError(t, made.err)
	folder := filepath.Join(t.TempDir(), "demo")
	require.NoError(t, os.CopyFS(folder, os.DirFS(made.folder)))
	return folder
}

func TestMain(m *testing.M) {
	code := m.Run()
	if made.folder != "" {
		if err := os.RemoveAll(filepath.Dir(made.folder)); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
	}
	os.Exit(code)
}

func open(t *testing.T, folder string) *shop.Shop {
	t.Helper()
	s, err := shop.Open(folder, shop.Options{})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	return s
}

// Everything private that the demo's sheets hold.
var planted = []string{"Adela Brunskog", "0555 0137", "CE 40 LM", "stain in the rear lounge", "3940.00", "picture signed-17"}

// Nothing private stands in a ledger, in a coach file, or in the paper that is
// passed on; the holder's own paper has his values and nobody's else.
func TestNothingPrivateLeavesTheBook(t *testing.T) {
	folder := demoShop(t)
	holds := func(path, what string) bool {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		return strings.Contains(string(data), what) || strings.Contains(string(data), base64.RawURLEncoding.EncodeToString([]byte(what)))
	}
	files, err := filepath.Glob(filepath.Join(folder, "coaches", "*.coach"))
	require.NoError(t, err)
	require.Len(t, files, 1)
	for _, what := range planted {
		require.False(t, holds(files[0], what), "%q stands in the coach file", what)
		for _, paper := range []string{"Q-0007-pass-on.pdf", "findings-004137-2020-03-20-pass-on.pdf"} {
			require.False(t, holds(filepath.Join(folder, paper), what), "%q stands in %s", what, paper)
			values := slipValues(t, filepath.Join(folder, paper))
			require.NotContains(t, values, what)
		}
	}
	own := slipValues(t, filepath.Join(folder, "Q-0007.pdf"))
	for _, what := range []string{"Adela Brunskog", "0555 0137", "CE 40 LM", "3940.00 EUR", "picture signed-17"} {
		require.Contains(t, own, what, "the holder's own paper opens what is his")
	}
}

// slipValues are the values that the slips in a paper open.
func slipValues(t *testing.T, path string) []string {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	var out []string
	for line := range strings.Lines(string(data)) {
		if slip, err := private.Parse(strings.TrimSuffix(line, "\n")); err == nil {
			out = append(out, slip.Value)
		}
	}
	require.NotEmpty(t, out)
	return out
}

// Who knows everything public, and every private value but one, tries 10,000
// candidates for that one and cannot tell which is right: no candidate fits
// better than another.
func TestTenThousandGuessesTellNothing(t *testing.T) {
	s := open(t, demoShop(t))
	c, err := s.Coach("4137")
	require.NoError(t, err)
	public := string(c.Text)
	intake := c.Ledger.Entry(ledger.No{N: 1})
	commitment := intake.Commitments()["holder-phone"]
	require.NotEmpty(t, commitment)
	known := map[string]string{} // the salts of all other slips
	for _, slip := range c.Slips {
		p, err := private.Parse(slip.Slip)
		require.NoError(t, err)
		if slip.Name != "holder-phone" {
			known[string(p.Salt[:])] = slip.Name
		}
	}
	salts := [][16]byte{{}}
	for salt := range known {
		salts = append(salts, [16]byte([]byte(salt)))
	}
	nonce, err := hex.DecodeString(intake.Text("nonce"))
	require.NoError(t, err)
	salts = append(salts, [16]byte(nonce))
	right := 0
	for n := range 10_000 {
		candidate := fmt.Sprintf("0555 %04d", n)
		if candidate == "0555 0137" {
			right++
		}
		for _, salt := range salts {
			slip, err := private.Make(salt, "holder-phone", candidate)
			require.NoError(t, err)
			require.NotEqual(t, commitment, private.Commit(slip))
		}
		sum := sha256.Sum256([]byte(candidate))
		for _, form := range []string{
			hex.EncodeToString(sum[:]), base64.StdEncoding.EncodeToString(sum[:]), base64.RawURLEncoding.EncodeToString(sum[:]),
		} {
			require.NotContains(t, public, form)
		}
	}
	require.Equal(t, 1, right, "the right one was among them")
}

// Every private field of each kind is declared once; each stands as a
// commitment in every entry of the kind, whether it was said or not.
func TestEveryPrivateFieldIsAlwaysThere(t *testing.T) {
	s := open(t, demoShop(t))
	c, err := s.Coach("4137")
	require.NoError(t, err)
	kinds := 0
	for _, e := range c.Ledger.Entries {
		kind, ok := ledger.KindNamed(e.Kind())
		require.True(t, ok)
		commitments := e.Commitments()
		for _, p := range kind.Privates {
			b, err := base64.RawURLEncoding.Strict().DecodeString(commitments[p.Name])
			require.NoError(t, err)
			require.Len(t, b, 32, "entry %s, %s", e.No, p.Name)
			require.NotContains(t, e.Body(), p.Name, "entry %s", e.No)
			kinds++
		}
		for _, name := range kind.FreeTexts() {
			require.NotContains(t, e.Body(), name, "entry %s", e.No)
		}
	}
	require.Greater(t, kinds, 40)
}

// ssh-keygen 8.2 or newer checks any entry of the whole demo, under each of the
// six keys that sign in it; the trust file is a real allowed_signers file.
func TestSSHKeygenOnEveryEntry(t *testing.T) {
	keygen := testdata.Program(t, "ssh-keygen")
	folder := filepath.Join(t.TempDir(), "demo")
	_, err := demo.Make(t.Context(), folder)
	require.NoError(t, err)
	s := open(t, folder)
	text, err := s.Export("4137")
	require.NoError(t, err)
	work := t.TempDir()
	names, allowed := map[string]string{}, ""
	for _, name := range []string{"K1", "R", "K2", "LF1", "IN1", "PD1"} {
		key := keyring.DemoSigner(name).Public()
		names[key.Fingerprint()] = name
		allowed += name + ` namespaces="entry.v1@lapmark,accept.v1@lapmark" ` + key.Line() + "\n"
	}
	signers := filepath.Join(work, "allowed")
	require.NoError(t, os.WriteFile(signers, []byte(allowed), 0o600))
	signed := map[string]int{}
	n := 0
	for ; len(text) > 0; n++ {
		l1, _, leaf, err := format.ReadLeaf(text)
		require.NoError(t, err)
		line, err := format.ParseLine(l1)
		require.NoError(t, err)
		by := names[line.Key]
		signed[by]++
		l2 := strings.Split(string(leaf), "\n")[1]
		sig := filepath.Join(work, "sig")
		armour := "-----BEGIN SSH SIGNATURE-----\n" + l2 + "\n-----END SSH SIGNATURE-----\n"
		require.NoError(t, os.WriteFile(sig, []byte(armour), 0o600))
		for _, c := range []struct {
			name, message, by string
			good              bool
		}{
			{"as signed", string(l1) + "\n", by, true},
			{"a line more", string(l1) + "\n\n", by, false},
			{"by another", string(l1) + "\n", map[bool]string{true: "K2", false: "K1"}[by == "K1"], false},
		} {
			if signed[by] > 2 && !c.good {
				continue
			}
			cmd := exec.Command(keygen, "-Y", "verify", "-f", signers, "-I", c.by, "-n", "entry.v1@lapmark", "-s", sig)
			cmd.Stdin = strings.NewReader(c.message)
			out, err := cmd.CombinedOutput()
			require.Equal(t, c.good, err == nil, "entry %d, %s: %s", n+1, c.name, out)
		}
		text = text[len(leaf):]
	}
	require.Equal(t, 87, n)
	require.Equal(t, map[string]int{"K1": 60, "LF1": 4, "R": 1, "K2": 20, "IN1": 1, "PD1": 1}, signed)
}

// The sceptic's steps, run exactly as they are attached to a paper.
func TestHowToCheckRunsAsAttached(t *testing.T) {
	detach := testdata.Program(t, "pdfdetach")
	testdata.Program(t, "ssh-keygen")
	bash := testdata.Program(t, "bash")
	folder := demoShop(t)
	run := func(work string) (string, error) {
		cmd := exec.Command(bash, "how-to-check.txt", "paper.pdf")
		cmd.Dir = work
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	take := func(name string) string {
		work := t.TempDir()
		data, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(work, "paper.pdf"), data, 0o600))
		cmd := exec.Command(detach, "-saveall", "paper.pdf")
		cmd.Dir = work
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, "%s", out)
		return work
	}
	s := open(t, folder)
	c, err := s.Coach("4137")
	require.NoError(t, err)
	for name, n := range map[string]int64{"findings-004137-2020-03-20.pdf": 15, "findings-004137-2020-03-20-pass-on.pdf": 15} {
		out, err := run(take(name))
		require.NoError(t, err, out)
		require.Contains(t, out, "Whole: 16 entries")
		require.Contains(t, out, "head code "+string(c.Ledger.Code(n)))
		require.Contains(t, out, keyring.DemoSigner("K1").Public().Fingerprint())
		require.Contains(t, out, "These pages are the ones that the last entry names, and nothing is added to them.")
	}
	says := map[string]string{
		"an unfinished line":  "something that is no entry",
		"a later update":      "added or changed behind these pages",
		"a second tail":       "more than one tail",
		"the last entry away": "gives no paper out",
		"a stranger's paper":  "given out by the guest " + keyring.DemoSigner("LF1").Public().Fingerprint(),
	}
	for what, change := range map[string]func(work string){
		"a word of an entry": func(work string) { replaceIn(t, work, "ledger.txt", "Tarnholt", "Tarnhold") },
		"an entry taken out": func(work string) { dropLines(t, work, "ledger.txt", 4, 2) },
		"a page":             func(work string) { replaceIn(t, work, "paper.pdf", "/Count", "/Cound") },
		"a slip":             func(work string) { replaceIn(t, work, "words.txt", "WyJ", "WyK") },
		"this text":          func(work string) { replaceIn(t, work, "how-to-check.txt", "HOW TO CHECK", "HOW TO TRUST") },
		"an unfinished line": func(work string) { appendTo(t, work, "ledger.txt", "{\"at\":") },
		"an odd line":        func(work string) { appendTo(t, work, "ledger.txt", "{}\n") },
		"a later update":     func(work string) { appendTo(t, work, "paper.pdf", "1 0 obj\n<<>>\nendobj\n%%EOF\n") },
		"a second tail":      func(work string) { appendTo(t, work, "paper.pdf", "%lapmark-tail 1\n") },
		"a file in the tail": func(work string) { appendTo(t, work, "words.txt", "\n") },
		"the last entry away": func(work string) {
			data, err := os.ReadFile(filepath.Join(work, "ledger.txt"))
			require.NoError(t, err)
			dropLines(t, work, "ledger.txt", strings.Count(string(data), "\n")-2, 2)
		},
		"a stranger's paper": func(work string) { giveOutAs(t, work, keyring.DemoSigner("LF1")) },
	} {
		work := take("findings-004137-2020-03-20.pdf")
		change(work)
		out, err := run(work)
		require.Error(t, err, "%s: %s", what, out)
		require.Contains(t, out, "NOT WHOLE", what)
		if says[what] != "" {
			require.Contains(t, out, says[what], what)
		}
	}
}

func replaceIn(t *testing.T, work, name, old, with string) {
	t.Helper()
	path := filepath.Join(work, name)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	changed := strings.Replace(string(data), old, with, 1)
	require.NotEqual(t, string(data), changed)
	require.NoError(t, os.WriteFile(path, []byte(changed), 0o600))
}

// giveOutAs signs the last entry, which gives the paper out, by another key.
func giveOutAs(t *testing.T, work string, stranger sshsig.Signer) {
	t.Helper()
	path := filepath.Join(work, "ledger.txt")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	lines := strings.SplitAfter(string(data), "\n")
	last := len(lines) - 3
	lines[last] = strings.Replace(lines[last], keyring.DemoSigner("K1").Public().Fingerprint(), stranger.Public().Fingerprint(), 1)
	blob, err := stranger.Sign("entry.v1@lapmark", []byte(lines[last]))
	require.NoError(t, err)
	lines[last+1] = base64.StdEncoding.EncodeToString(blob) + "\n"
	require.NoError(t, os.WriteFile(path, []byte(strings.Join(lines, "")), 0o600))
}

func appendTo(t *testing.T, work, name, text string) {
	t.Helper()
	path := filepath.Join(work, name)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, append(data, text...), 0o600))
}

func dropLines(t *testing.T, work, name string, from, count int) {
	t.Helper()
	path := filepath.Join(work, name)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	lines := strings.SplitAfter(string(data), "\n")
	lines = append(lines[:from:from], lines[from+count:]...)
	require.NoError(t, os.WriteFile(path, []byte(strings.Join(lines, "")), 0o600))
}

// An inking whose end was cut off is finished at the next start: the notes
// leave pencil, the papers are entered.
func TestInterruptedInkingIsFinished(t *testing.T) {
	folder := demoShop(t)
	s := open(t, folder)
	c, err := s.Coach("4137")
	require.NoError(t, err)
	before := c.Ledger.Newest()
	text := "coach GZ9TF785XEW004137\non 2020-04-25 zone +02:00\nremark: note \"looked at again\"; by hand-1\n"
	notes, err := s.Reading([]byte(text), "")
	require.NoError(t, err)
	require.NoError(t, s.Pencil(notes, nil))
	pencil, err := s.Book.Notes(c.Plate)
	require.NoError(t, err)
	require.Len(t, pencil, 1)

	// As it stands right after a commit that nothing followed: the entry is in
	// the file, the note in pencil, and the book says what was meant.
	saved := bookNote(t, s)
	_, err = s.Ink(context.Background(), c.Plate, keyring.DemoSigner("K1"), true)
	require.NoError(t, err)
	require.NoError(t, s.Pencil(notes, nil))
	again, err := s.Book.Notes(c.Plate)
	require.NoError(t, err)
	require.Len(t, again, 1)
	now, err := s.Coach("4137")
	require.NoError(t, err)
	head := now.Ledger.Newest()
	require.Equal(t, before.Size+1, head.Size)
	key := "inking " + now.ID + " 55"
	intent := `{"Coach":"` + now.ID + `","Plate":"` + now.Plate + `","Size":` + strconv.FormatInt(head.Size, 10) + `,"Root":"` +
		format.EncodeBase64(head.Root[:]) + `","Notes":{"` + strconv.FormatInt(again[0].ID, 10) + `":55},"Papers":null}`
	require.NoError(t, s.Book.SetSetting(key, intent))
	require.Empty(t, saved)

	next := open(t, folder)
	left, err := next.Book.Notes(c.Plate)
	require.NoError(t, err)
	require.Empty(t, left, "the note has left pencil")
	require.Empty(t, bookNote(t, next))

	// The same note of an inking that never came about stays in pencil; it may
	// still be under way, so that only the next writer of the coach forgets it.
	require.NoError(t, next.Pencil(notes, nil))
	stale := strings.Replace(intent, `"Size":55`, `"Size":56`, 1)
	require.NoError(t, next.Book.SetSetting("inking "+now.ID+" 56", stale))
	third := open(t, folder)
	left, err = third.Book.Notes(c.Plate)
	require.NoError(t, err)
	require.Len(t, left, 1)
	require.NotEmpty(t, bookNote(t, third))
	_, err = third.Ink(context.Background(), c.Plate, keyring.DemoSigner("K1"), true)
	require.NoError(t, err)
	require.Empty(t, bookNote(t, third))
}

// Two windows ink the same evening at once: every note goes in once. Two take
// the same coach in at once: it has one ledger.
func TestTwoWindowsAtOnce(t *testing.T) {
	folder := demoShop(t)
	s := open(t, folder)
	var text strings.Builder
	text.WriteString("coach GZ9TF785XEW004137\non 2020-04-25 zone +02:00\n")
	for n := range 10 {
		fmt.Fprintf(&text, "remark: note \"note %d\"; by hand-1\n", n)
	}
	text.WriteString("coach TB78-1133\non 2020-04-25 zone +02:00\nintake:\n  serial TB78-1133\n  builder \"Wendle\"\n  model \"Otter 4\"\n" +
		"  year 1974\n  holder holder-1\n  papers-shown none\n  made-safe none\n  no-photo \"came in at night\"\n  by desk\n")
	notes, err := s.Reading([]byte(text.String()), "")
	require.NoError(t, err)
	require.NoError(t, s.Pencil(notes, nil))
	var all sync.WaitGroup
	for range 4 {
		window, err := shop.Open(folder, shop.Options{})
		require.NoError(t, err)
		for _, plate := range []string{"GZ9TF785XEW004137", "TB78-1133"} {
			all.Go(func() {
				_, err := window.Ink(context.Background(), plate, keyring.DemoSigner("K1"), true)
				if err != nil && !errors.Is(err, shop.ErrNothing) {
					t.Error(err)
				}
			})
		}
		t.Cleanup(func() { require.NoError(t, window.Close()) })
	}
	all.Wait()
	c, err := s.Coach("4137")
	require.NoError(t, err)
	require.Len(t, c.Ledger.Entries, 64)
	files, err := filepath.Glob(filepath.Join(folder, "coaches", "*.coach"))
	require.NoError(t, err)
	require.Len(t, files, 2)
	other, err := s.Coach("1133")
	require.NoError(t, err)
	require.Len(t, other.Ledger.Entries, 1)
	left, err := s.Waiting("GZ9TF785XEW004137")
	require.NoError(t, err)
	require.Zero(t, left)
}

func bookNote(t *testing.T, s *shop.Shop) string {
	t.Helper()
	rows, err := s.Book.SettingsUnder("inking ")
	require.NoError(t, err)
	var out strings.Builder
	for _, row := range rows {
		out.WriteString(row.Value)
	}
	return out.String()
}

// A beginning that breaks off leaves no shop and none of its files.
func TestBrokenOffBeginningLeavesNothing(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "trust-retired"), []byte("somebody's\n"), 0o644))
	err := shop.Begin(folder, shop.Beginning{Terms: demoTerms(t), Name: "x", Passphrase: []byte("long enough")})
	require.ErrorIs(t, err, fs.ErrExist)
	for _, name := range []string{"house", "house.pub", "book.db", "terms", "trust"} {
		_, err := os.Stat(filepath.Join(folder, name))
		require.ErrorIs(t, err, fs.ErrNotExist, name)
	}
	_, err = shop.Find(folder, "", folder)
	require.ErrorIs(t, err, shop.ErrNoShop)
	kept, err := os.ReadFile(filepath.Join(folder, "trust-retired"))
	require.NoError(t, err)
	require.Equal(t, "somebody's\n", string(kept))
}
