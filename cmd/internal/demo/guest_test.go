package demo

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/check"
	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/file"
	"lapmark/ledger/format"
)

const demoPlate = "GZ9TF785XEW004137"

// made is the demo as it stood after a sheet, opened at a moment.
func made(t *testing.T, sheet string, at string) *shop.Shop {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "demo")
	sheets := slices.IndexFunc(inked, func(i struct{ sheet, key, at string }) bool { return i.sheet == sheet }) + 1
	_, err := MakeTo(context.Background(), folder, sheets)
	require.NoError(t, err)
	return opened(t, folder, at)
}

// tried puts notes into pencil and ink, and says what became of the last.
func tried(t *testing.T, s *shop.Shop, by string, text string) shop.Result {
	t.Helper()
	notes, err := s.Reading([]byte("coach "+demoPlate+"\n"+text), "")
	require.NoError(t, err)
	for _, n := range notes {
		require.Empty(t, n.Why, n.Line)
	}
	require.NoError(t, s.Pencil(notes, nil))
	h, err := hand(by)
	require.NoError(t, err)
	in, err := s.InkAs(context.Background(), demoPlate, h, true)
	require.NoError(t, err)
	return in.Results[len(in.Results)-1]
}

func asked(t *testing.T, s *shop.Shop) check.Answer {
	t.Helper()
	text, branches, slips, err := s.Own(demoPlate)
	require.NoError(t, err)
	return check.Verify(check.Input{Name: "ours", File: text, Branches: branches, Slips: slips, Trust: s.Trust, DemoFolder: true})
}

// certificateOf is a certificate for one line.
func certificateOf(tag, holder, line string) string {
	return fmt.Sprintf("on 2023-09-20 zone +02:00\ncertificate %s:\n  holder %s\n  title limited\n  line 1, %s, from 2023-09-20, for 24 months, full 24 months\n"+
		"  numbers report-days 30 d, notice-days 45 d, transfers-most 2, margin 300 mm, tie-in-reach 75 mm, touch 10 mm, declare-days 60 d\n"+
		"  conditions report-within, first-look, tell-of-sale\n  exclusions branch-strike, hail, collision, new-opening, owner-screw\n"+
		"  shop-side bad-weld, poor-preparation\n  rules 1\n  private holder-name \"Piers Okonta\"\n  by lf-foreman\n", tag, holder, line)
}

// A guest puts his name to what he rebuilt and to nothing else: the house's work
// is not his. What he is asked, he is asked in his own voice.
func TestGuestCertifiesHisOwnWorkAlone(t *testing.T) {
	s := made(t, "25", "2023-09-20T17:00:00Z")
	for _, line := range []string{
		"bond, at 3700-7400 aft full width layer deck+core",               // the house's
		"watertight-membrane, at 3700-7400 aft full width layer membrane", // more than his patch
		"watertight-membrane, at 5000-5200 aft 300-500 L layer membrane",  // none of his
	} {
		r := tried(t, s, "LF1", certificateOf("LF-113", "holder-2", line))
		var held *shop.Held
		require.ErrorAs(t, r.Why, &held, line)
		require.Equal(t, "beyond-rebuilt", held.Outcome.Rule, line)
		rubOut(t, s)
	}
	r := tried(t, s, "K1", certificateOf("Q-0030", "holder-2", "watertight-membrane, at 6150-6450 aft 300-700 L layer membrane"))
	require.ErrorContains(t, r.Why, "no closed work of this shop lies under the lines", "nor is the guest's work the house's")
	c, err := s.Coach(demoPlate)
	require.NoError(t, err)
	require.False(t, c.Replay.Act(ledger.No{N: 64}).Counts, "LF-112 binds the guest alone")
	require.Contains(t, asked(t, s).Promised[1].Says, "LF-112 is the promise of SHA256:")
	require.NoError(t, s.Close())
}

// rubOut drops what stayed in pencil.
func rubOut(t *testing.T, s *shop.Shop) {
	t.Helper()
	notes, err := s.Book.Notes(demoPlate)
	require.NoError(t, err)
	for _, n := range notes {
		if n.State != book.Dropped {
			require.NoError(t, s.Book.DropNote(n.ID))
		}
	}
}

// What a guest may not do has no effect and is remarked; what he may not write
// is not written.
func TestGuestDoesNotSpeakForTheHouse(t *testing.T) {
	s := made(t, "25", "2023-09-21T17:00:00Z")
	require.NoError(t, tried(t, s, "LF1", "on 2023-09-21 zone +02:00\nremark: adopts #61, F9; by lf-foreman\n").Why)
	require.NoError(t, tried(t, s, "LF1", "on 2023-09-21 zone +02:00\ncorrection: answers #59; not-this-coach; why \"not ours\"; found \"read\"; by lf-foreman\n").Why)
	for _, line := range []string{
		"standing: withdrawn; lines Q-0007; from 2023-09-21; why \"ours now\"; told phone, on 2023-09-21; by lf-foreman",
		"transfer: sold 2023-09-21; from-holder holder-2; to-holder holder-3; by lf-foreman",
		"erased: answers #1; names holder-name; asked; by lf-foreman",
	} {
		r := tried(t, s, "LF1", "on 2023-09-21 zone +02:00\n"+line+"\n")
		require.ErrorIs(t, r.Why, ledger.ErrRole, line)
		rubOut(t, s)
	}
	c, err := s.Coach(demoPlate)
	require.NoError(t, err)
	require.Len(t, c.Ledger.Entries, 66)
	require.False(t, c.Replay.Act(ledger.No{N: 62}).Counts)
	require.True(t, c.Replay.Act(ledger.No{N: 59}).Counts)
	require.Equal(t, []check.Remark{
		{Entry: "65", Says: "a guest adopts nothing for the house: this has no effect"},
		{Entry: "66", Says: "its correction of entry 59 has no effect"},
	}, asked(t, s).Remarks)
	require.Equal(t, []string{
		"Entries 61 to 66 by a guest, low-ferry, " + keyring.DemoSigner("LF1").Public().Fingerprint() +
			". They change no line of Quillstead Roof Works.",
	}, guestSentences(asked(t, s)))
	require.NoError(t, s.Close())
}

func guestSentences(a check.Answer) []string {
	var out []string
	for _, p := range a.Parts() {
		for _, says := range p.Says {
			if len(says) > 5 && p.Head == "By whom" && says[:5] == "Entri" {
				out = append(out, says)
			}
		}
	}
	return out
}

// inkedRaw appends an entry that this program would not write.
func inkedRaw(t *testing.T, s *shop.Shop, by sshsig.Signer, kind string, body format.Object) {
	t.Helper()
	c, err := s.Coach(demoPlate)
	require.NoError(t, err)
	text, err := format.Encode(body)
	require.NoError(t, err)
	line := format.Line{
		At: s.Now().UTC().Format("2006-01-02T15:04:05Z"), Body: text, Key: by.Public().Fingerprint(), Kind: kind, Prev: c.Ledger.Newest(), V: 1,
	}
	l1, err := line.Append(nil)
	require.NoError(t, err)
	blob, err := by.Sign(ledger.EntryNamespace, append(l1[:len(l1):len(l1)], '\n'))
	require.NoError(t, err)
	leaf, err := format.Leaf(l1, blob)
	require.NoError(t, err)
	f, err := file.Open(filepath.Join(s.Folder, "coaches", c.ID+".coach"))
	require.NoError(t, err)
	require.NoError(t, f.Ink(context.Background(), func([]byte) (file.Inking, error) {
		return file.Inking{Leaves: [][]byte{leaf}}, nil
	}))
	require.NoError(t, f.Close())
}

// Over what is newer than this tool and can change cover nothing is judged:
// no certificate, no standing, no work that hides. Findings, checks, remarks and
// work in the open go in (ENTRIES 8).
func TestNothingIsJudgedOverWhatIsNewer(t *testing.T) {
	s := made(t, "19", "2020-04-24T10:00:00Z")
	c, err := s.Coach(demoPlate)
	require.NoError(t, err)
	_, err = s.Propose(c, shop.Wish{By: "foreman"})
	require.NoError(t, err)
	newer := format.Object{"by": format.Array{"hand-1"}, "happened": "2020-04-24"}
	inkedRaw(t, s, keyring.DemoSigner("LF1"), "drone-look", newer)
	c, err = s.Coach(demoPlate)
	require.NoError(t, err)
	_, err = s.Propose(c, shop.Wish{By: "foreman"})
	require.NoError(t, err, "a guest's unknown thing changes no answer")
	require.Equal(t, 0, asked(t, s).Exit())

	require.NoError(t, tried(t, s, "K1", "on 2020-04-24 zone +02:00\nremark: adopts #53; by foreman\n").Why)
	a := asked(t, s)
	require.Equal(t, 7, a.Exit(), a.Text())
	require.Equal(t, []check.Ground{check.NewerThanThis}, a.Unsettled)
	c, err = s.Coach(demoPlate)
	require.NoError(t, err)
	_, err = s.Propose(c, shop.Wish{By: "foreman"})
	require.ErrorIs(t, err, shop.ErrCannotSay)
	require.ErrorContains(t, err, `entry 53 says "drone-look", which is newer than this tool`)

	text, err := os.ReadFile("sheets/20.txt")
	require.NoError(t, err)
	notes, err := s.Reading(text, "")
	require.NoError(t, err)
	certificate := notes[0].Line
	day := "on 2020-04-24 zone +02:00\n"
	for _, line := range []string{
		certificate,
		"standing: withdrawn; lines Q-0007; from 2020-04-24; why \"wrong\"; told phone, on 2020-04-24; by desk",
		"work: patch at 4000-4100 aft 0-100 R layer membrane; hides; override closing-no-photo, reason \"camera left at home\", by foreman; by hand-1",
	} {
		r := tried(t, s, "K1", day+line+"\n")
		var held *shop.Held
		require.ErrorAs(t, r.Why, &held, line)
		require.Equal(t, "newer", held.Outcome.Rule, line)
		require.ErrorContains(t, r.Why, "cannot say")
		rubOut(t, s)
	}
	for _, line := range []string{
		"check: pins at spot 4000 aft 100 R, moisture 11.0 %; by hand-1",
		"remark: note \"rain\"; by hand-1",
		"work: patch at 4000-4100 aft 0-100 R layer membrane, overlap 40 mm; open; by hand-1",
		"finding: split-sealant; at P1; with length 30 mm; on-the-face; next-upkeep; no-photo \"rain\"; by hand-1",
	} {
		require.NoError(t, tried(t, s, "K1", day+line+"\n").Why, line)
	}
	require.NoError(t, s.Close())
}

// The key that a key-change took the house from signs nothing more, neither as
// the house nor as a guest.
func TestOldKeySignsNothing(t *testing.T) {
	s := made(t, "26", "2024-03-12T09:00:00Z")
	notes, err := s.Reading([]byte("coach "+demoPlate+"\non 2024-03-12 zone +01:00\nremark: note \"x\"; by desk\n"), "")
	require.NoError(t, err)
	require.NoError(t, s.Pencil(notes, nil))
	old := keyring.DemoSigner("K1")
	const says = "This key was replaced by entry 65 on 11 March 2024. Sign with "
	_, err = s.Ink(context.Background(), demoPlate, old, true)
	require.ErrorIs(t, err, shop.ErrNotOurKey)
	require.ErrorContains(t, err, says+keyring.DemoSigner("K2").Public().Fingerprint())
	_, err = s.InkAs(context.Background(), demoPlate, shop.Hand{Key: old}, true)
	require.ErrorContains(t, err, says)
	_, err = s.InkAs(context.Background(), demoPlate, shop.Hand{Key: keyring.DemoSigner("IN1")}, true)
	require.NoError(t, err, "a guest was never the house")
	require.NoError(t, s.Close())
}
