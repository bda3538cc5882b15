package demo

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/check"
	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
	"lapmark/report/say"
)

// opened is a shop folder of the test, at a moment.
func opened(t *testing.T, folder, at string) *shop.Shop {
	t.Helper()
	clock, err := time.Parse(time.RFC3339, at)
	require.NoError(t, err)
	s, err := shop.Open(folder, shop.Options{Now: func() time.Time { return clock }, Random: newStream()})
	require.NoError(t, err)
	return s
}

// sheetOf is a sheet of testdata/kinds; the stand-ins of ledger names are
// replaced in pairs.
func sheetOf(t *testing.T, name string, pairs ...string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("../../../testdata/kinds", name+".txt"))
	require.NoError(t, err)
	return []byte(strings.NewReplacer(pairs...).Replace(string(text)))
}

// inks puts the notes of one coach on a sheet into ink.
func inks(t *testing.T, s *shop.Shop, text []byte, plate string, by shop.Hand) {
	t.Helper()
	notes, err := s.Reading(text, "")
	require.NoError(t, err)
	notes = slices.DeleteFunc(notes, func(n shop.Read) bool { return n.Plate != plate })
	for _, n := range notes {
		require.Equal(t, book.Clear, n.State, n.Why)
	}
	require.NoError(t, s.Pencil(notes, nil))
	in, err := s.InkAs(context.Background(), plate, by, true)
	require.NoError(t, err)
	for _, r := range in.Results {
		require.NoError(t, r.Why, r.Line)
	}
}

// typed is what a value of an entry looks like in the note it was typed in:
// without what the tool filled, pictures by their names.
func typed(t *testing.T, name string, inked, note format.Value) format.Value {
	t.Helper()
	switch inked := inked.(type) {
	case string:
		if said, ok := note.(string); ok && strings.HasSuffix(said, ".jpg") && len(inked) == 12 {
			return said
		}
	case format.Object:
		said, _ := note.(format.Object)
		out := format.Object{}
		for member, v := range inked {
			if _, there := said[member]; there {
				out[member] = typed(t, member, v, said[member])
				continue
			}
			require.True(t, filled(member), "%s in %s", member, name)
		}
		return out
	case format.Array:
		said, _ := note.(format.Array)
		if len(said) != len(inked) {
			return inked
		}
		out := format.Array{}
		for i, v := range inked {
			out = append(out, typed(t, name, v, said[i]))
		}
		return out
	}
	return inked
}

// filled says whether the tool fills a member: by the tables, or the root of a
// head and the name of the shop in an intake.
func filled(member string) bool {
	for _, k := range ledger.Kinds() {
		for _, f := range k.AllFields() {
			if f.Name == member && f.Need == ledger.Filled {
				return true
			}
		}
	}
	return member == "root" || member == "shop"
}

// Every kind of entry goes from a sheet to a draft, into ink by the key that may
// write it, to a sentence, and back to the line it was typed as. The demo has
// nearly all; testdata/kinds has the others, with a side branch and a second
// ledger.
func TestEveryKindThereAndBack(t *testing.T) {
	const plate = "GZ9TF785XEW004137"
	folder, copied := filepath.Join(t.TempDir(), "demo"), filepath.Join(t.TempDir(), "copy")
	_, err := Make(context.Background(), folder)
	require.NoError(t, err)
	pennyDrift := shop.Hand{Key: keyring.DemoSigner("PD1")}
	quillstead := shop.Hand{Key: keyring.DemoSigner("K2")}

	s := opened(t, folder, "2026-10-05T14:00:00Z")
	inks(t, s, sheetOf(t, "standing"), plate, pennyDrift)
	require.NoError(t, s.Close())
	require.NoError(t, os.CopyFS(copied, os.DirFS(folder)))
	lent := opened(t, copied, "2026-10-06T14:00:00Z")
	inks(t, lent, sheetOf(t, "branch"), plate, pennyDrift)
	inks(t, lent, sheetOf(t, "branch-next"), plate, pennyDrift)
	beside, err := lent.Coach(plate)
	require.NoError(t, err)
	require.NoError(t, lent.Close())

	s = opened(t, folder, "2026-10-08T14:00:00Z")
	before, err := s.Coach(plate)
	require.NoError(t, err)
	branch := pennyDrift
	branch.Branch = beside.Text[len(before.Text):]
	inks(t, s, sheetOf(t, "chain"), plate, pennyDrift)
	inks(t, s, sheetOf(t, "take-in"), plate, branch)
	inks(t, s, sheetOf(t, "second"), "TB78-2244", quillstead)
	first, err := s.Coach(plate)
	require.NoError(t, err)
	second, err := s.Coach("TB78-2244")
	require.NoError(t, err)
	same := sheetOf(t, "same-coach", "SECONDLEDGER", second.ID, "FIRST-LEDGER", first.ID)
	inks(t, s, same, plate, pennyDrift)
	inks(t, s, same, "TB78-2244", quillstead)

	notes := inOrder(t, same)
	kinds := map[string]bool{}
	for _, name := range []string{plate, "TB78-2244"} {
		c, err := s.Coach(name)
		require.NoError(t, err)
		require.Equal(t, len(notes[name]), len(c.Ledger.Entries))
		for i, e := range c.Ledger.Entries {
			a, note := c.Replay.Act(e.No), notes[name][i]
			kinds[a.Kind] = true
			require.Empty(t, e.Odd(), "entry %s", e.No)
			d, h, err := shop.DraftOf(c.Replay, a)
			require.NoError(t, err)
			h.Zone = note.Heading.Zone
			d.Body, _ = typed(t, a.Kind, d.Body, note.Draft.Body).(format.Object)
			if a.Kind == "same-coach" {
				d.Body["ledger"] = note.Draft.Body["ledger"]
			}
			erasedFrom(c.Replay, a, note.Draft, &d)
			line, err := sheet.Line(d, h)
			require.NoError(t, err)
			require.Equal(t, note.Line, line, "entry %s", e.No)
			says := say.Entry(c.Replay, a)
			require.True(t, strings.HasSuffix(strings.TrimRight(says, `"`), "."), says)
		}
	}
	for _, k := range ledger.Kinds() {
		require.True(t, kinds[k.Name], k.Name)
	}
	sentences(t, s, plate)
	joined(t, s, plate)
	require.NoError(t, s.Close())
}

// erasedFrom gives a draft back what was erased since: nobody has it any more.
// The face of a paper is no note's.
func erasedFrom(r *ledger.Replay, a *ledger.Act, note ledger.Draft, d *ledger.Draft) {
	private := map[string]string{}
	for name, value := range d.Private {
		if name != "face" && name != "face-pass-on" {
			private[name] = value
		}
	}
	for _, e := range r.Acts {
		for _, no := range e.Refs("answers") {
			for _, name := range ledger.Texts(e.Body["names"]) {
				if value, said := note.Private[name]; e.Kind == "erased" && no == a.No && said && private[name] == "" {
					private[name] = value
				}
			}
		}
	}
	d.Private = private
}

// inOrder are the notes of all sheets as they were inked on the chain, by
// coach.
func inOrder(t *testing.T, same []byte) map[string][]sheet.Note {
	t.Helper()
	out := map[string][]sheet.Note{}
	take := func(text []byte) {
		for _, n := range sheet.Read(string(text), sheet.Heading{}) {
			require.NoError(t, n.Err)
			out[n.Heading.Coach] = append(out[n.Heading.Coach], n)
		}
	}
	names, err := filepath.Glob("sheets/*.txt")
	require.NoError(t, err)
	slices.Sort(names)
	for _, name := range names {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		take(text)
	}
	for _, name := range []string{"standing", "chain", "take-in", "second"} {
		take(sheetOf(t, name))
	}
	take(same)
	return out
}

// sentences reads aloud what the demo does not have.
func sentences(t *testing.T, s *shop.Shop, plate string) {
	t.Helper()
	c, err := s.Coach(plate)
	require.NoError(t, err)
	for no, want := range map[ledger.No]string{
		{N: 88}:            "Q-0007, line 3: ended from 5 October 2026 on, the holder let it go.",
		{N: 89}:            "Q-0031: withdrawn from 5 October 2026 on.",
		{N: 90}:            "Q-0007, line 1: taken into the warranty again at spot 5100 aft, 560 R from 5 October 2026 on.",
		{N: 90, Branch: 1}: "12.1 % (corrected by entry 90/2)",
		{N: 90, Branch: 2}: "Entry 90/1 corrected:",
		{N: 92}:            "two entries that parted after entry 90, up to 92",
		{N: 93}:            "entries 90/1 and 90/2",
		{N: 94}:            "is of this coach too, up to its entry 2; new entries go into this one",
	} {
		require.Contains(t, say.Entry(c.Replay, c.Replay.Act(no)), want, "entry %s", no)
	}
}

// joined asks about the first ledger beside the second: each quotes the other.
// The words of the side branch lie in the book of the copy, and are missed.
func joined(t *testing.T, s *shop.Shop, plate string) {
	t.Helper()
	text, branches, slips, err := s.Own(plate)
	require.NoError(t, err)
	other, err := s.Export("TB78-2244")
	require.NoError(t, err)
	a := check.Verify(check.Input{
		Name: plate, File: text, Branches: branches, Slips: slips, Trust: s.Trust, DemoFolder: true,
		With: []check.Paper{{Name: "TB78-2244", File: other}},
	})
	require.Equal(t, check.Joined, a.With[0].Relation, a.Text())
	require.True(t, a.Branches[0].Read, a.Text())
	byWhom(t, a)
	require.Empty(t, a.Bad, a.Text())
	require.Equal(t, []check.Ground{check.WordsMissing}, a.Unsettled, a.Text())
	for _, m := range a.WordsMissing {
		require.Equal(t, "90/2", m.Entry)
	}
}

// byWhom reads who wrote the demo: guests by the house of their time, and who
// hands over to whom.
func byWhom(t *testing.T, a check.Answer) {
	t.Helper()
	print := func(key string) string { return keyring.DemoSigner(key).Public().Fingerprint() }
	var says []string
	for _, p := range a.Parts() {
		if p.Head == "By whom" {
			says = p.Says
		}
	}
	for _, want := range []string{
		"Entries 61 to 64 by a guest, low-ferry, " + print("LF1") + ". Adopted by Quillstead Roof Works in entry 66.",
		"Entry 69 by a guest, a key not in your trust, " + print("IN1") + ". It changes no line of Quillstead Roof Works.",
		"Entry 86: Quillstead Roof Works closes and hands over to Penny Drift Bodyworks: Q-0007 lines 1 to 3; Q-0031. " +
			"Any other line is taken over by nobody.",
		"Entries 90/1 to 90/2 were written beside this chain from entry 90 on, and taken in by entry 92.",
	} {
		require.Contains(t, says, want)
	}
}
