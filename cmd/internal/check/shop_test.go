package check

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"maps"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/private"
	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/chain"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/report/carry"
)

// seed is a signer of its own for each name; the same name gives the same key.
func seed(name string) sshsig.Signer {
	return keyring.FromSeed(sha256.Sum256([]byte("test key " + name)))
}

// writer writes a ledger entry by entry, as a shop does, and can write what no
// shop may.
type writer struct {
	t     testing.TB
	house sshsig.Signer
	edge  chain.Edge
	text  []byte
	at    int64 // seconds of the next entry's clock
	salts uint64
	slips []sealedSlip
}

type sealedSlip struct {
	entry      int64
	kind, name string
	slip       string
}

// firstAt is the clock of entry 1: 2020-03-16T16:40:00Z.
const firstAt = 1584376800

// newWriter begins a ledger with its intake, by the key of that name; the
// recovery key is that of the name and "-recovery".
func newWriter(t testing.TB, house string) *writer {
	t.Helper()
	return newWriterWith(t, seed(house), seed(house+"-recovery"))
}

func newWriterWith(t testing.TB, house, recovery sshsig.Signer) *writer {
	t.Helper()
	w := &writer{t: t, house: house, at: firstAt}
	w.add(house, "intake", intakeBody(house, recovery), map[string]string{
		"holder-name": "Adela Brunskog", "no-photo": "it came in at night",
	})
	return w
}

func intakeBody(house, recovery sshsig.Signer) format.Object {
	return format.Object{
		"builder": "Tarnholt", "holder": "holder-1", "model": "Fellside 78", "year": int64(2014),
		"vin": "GZ9TF785XEW004137", "nonce": "000102030405060708090a0b0c0d0e0f",
		"made-safe": format.Array{"gas-off"}, "papers-shown": format.Array{},
		"deck":  format.Object{"length": int64(7400), "front": int64(2200), "rear": int64(2200)},
		"house": house.Public().Line(), "recovery": recovery.Public().Fingerprint(),
		"shop": format.Object{"name": "Quillstead Roof Works", "place": "Cold Elm"},
	}
}

// add signs one entry. said are the values of private fields and free texts;
// every private field of the kind gets a commitment.
func (w *writer) add(by sshsig.Signer, kind string, body format.Object, said map[string]string) int64 {
	w.t.Helper()
	line := w.line(by, kind, body, said)
	return w.sign(by, line)
}

// line is the line of the next entry, not yet signed.
func (w *writer) line(by sshsig.Signer, kind string, body format.Object, said map[string]string) format.Line {
	w.t.Helper()
	out := format.Object{"by": format.Array{"desk"}, "happened": day.StampAt(w.at).Day().String()}
	maps.Copy(out, body)
	if sealed := w.seal(kind, said); len(sealed) > 0 {
		out["private"] = sealed
	}
	encoded, err := format.Encode(out)
	require.NoError(w.t, err)
	return format.Line{
		At: day.StampAt(w.at).String(), Body: encoded, Key: by.Public().Fingerprint(), Kind: kind,
		Prev: format.Head{Size: w.edge.Size(), Root: w.edge.Root()}, V: 1,
	}
}

// sign signs a line and appends the entry.
func (w *writer) sign(by sshsig.Signer, line format.Line) int64 {
	w.t.Helper()
	l1, err := line.Append(nil)
	require.NoError(w.t, err)
	sig, err := by.Sign(ledger.EntryNamespace, append(bytes.Clone(l1), '\n'))
	require.NoError(w.t, err)
	leaf, err := format.Leaf(l1, sig)
	require.NoError(w.t, err)
	w.append(leaf)
	return w.edge.Size()
}

func (w *writer) append(leaf []byte) {
	w.edge.Append(chain.Leaf(leaf))
	w.text = append(w.text, leaf...)
	w.at += 3600
}

func (w *writer) seal(kind string, said map[string]string) format.Object {
	w.t.Helper()
	out := format.Object{}
	k, _ := ledger.KindNamed(kind)
	for _, p := range k.Privates {
		blank, err := private.Blank(w.random())
		require.NoError(w.t, err)
		out[p.Name] = blank
	}
	for _, name := range slices.Sorted(maps.Keys(said)) {
		salt, err := private.Salt(w.random())
		require.NoError(w.t, err)
		slip, err := private.Make(salt, name, said[name])
		require.NoError(w.t, err)
		out[name] = private.Commit(slip)
		w.slips = append(w.slips, sealedSlip{w.edge.Size() + 1, kind, name, slip})
	}
	return out
}

// random is a source that never gives the same bytes twice in one ledger.
func (w *writer) random() *bytes.Reader {
	w.salts++
	sum := sha256.Sum256(binary.BigEndian.AppendUint64(nil, w.salts))
	return bytes.NewReader(sum[:])
}

// side is a copy that goes on by itself from here.
func (w *writer) side() *writer {
	out := *w
	out.edge, out.text, out.slips = w.edge.Clone(), bytes.Clone(w.text), slices.Clone(w.slips)
	return &out
}

// texts are the slips of one file, in their order: want says which names.
func (w *writer) texts(want func(s sealedSlip) bool) []byte {
	slips := slices.Clone(w.slips)
	slices.SortStableFunc(slips, func(a, b sealedSlip) int {
		return cmp.Or(cmp.Compare(a.entry, b.entry), cmp.Compare(a.name, b.name))
	})
	var out []string
	for _, s := range slips {
		if want(s) {
			out = append(out, s.slip)
		}
	}
	return private.Text(out)
}

func (s sealedSlip) free() bool {
	k, _ := ledger.KindNamed(s.kind)
	return slices.Contains(k.FreeTexts(), s.name)
}

// howToCheck is a stand-in for the file of that name.
const howToCheck = "Check each entry with ssh-keygen. (stand-in text)\n"

// files are the files of a paper for a reader who sees those private values.
func (w *writer) files(sees ...string) carry.Files {
	last := w.edge.Size()
	return carry.Files{
		Ledger: w.text,
		Words:  w.texts(func(s sealedSlip) bool { return s.free() }),
		Private: w.texts(func(s sealedSlip) bool {
			face := s.name == faceName || s.name == passOnName
			return slices.Contains(sees, s.name) && (!face || s.entry == last)
		}),
		HowToCheck: []byte(howToCheck),
	}
}

// giveOut adds the given-out of a paper with these pages.
func (w *writer) giveOut(by sshsig.Signer, more format.Object, pages map[string]string) int64 {
	w.t.Helper()
	body := format.Object{
		"as-of": day.StampAt(w.at).Day().String(), "how-to-check": hexOf([]byte(howToCheck)), "on": "print",
		"paper": "history", "reader": "buyer", "to": "buyer-1",
	}
	maps.Copy(body, more)
	return w.add(by, givenOut, body, pages)
}

// history gives out a history for a buyer and returns the paper.
func (w *writer) history(by sshsig.Signer) []byte {
	w.t.Helper()
	face := w.face()
	w.giveOut(by, nil, map[string]string{faceName: hexOf(face)})
	return mustPaper(w.t, face, w.files(faceName))
}

// bundle gives out a bundle and returns it.
func (w *writer) bundle(by sshsig.Signer, pictures ...carry.Picture) []byte {
	w.t.Helper()
	w.giveOut(by, format.Object{"paper": "bundle", "on": "stick"}, nil)
	files := w.files()
	files.Pictures = pictures
	return mustBundle(w.t, files)
}

// face is a page that prints the head it shows: the face of the worked
// example, with another number and code of the same length.
func (w *writer) face() []byte {
	w.t.Helper()
	face, err := os.ReadFile("../../../report/carry/testdata/example/face.pdf")
	require.NoError(w.t, err)
	id := chain.Hash{}
	l1, _, leaf, err := format.ReadLeaf(w.text)
	require.NoError(w.t, err)
	require.NotEmpty(w.t, l1)
	id = chain.Leaf(leaf)
	code := chain.HeadCode(id, w.edge.Size(), w.edge.Root())
	face = bytes.Replace(face, []byte("entry 2"), fmt.Appendf(nil, "entry %d", w.edge.Size()%10), 1)
	return bytes.Replace(face, []byte("XT7Y BH3B YFSN CDHF V6HR"), []byte(code), 1)
}

func mustPaper(t testing.TB, face []byte, f carry.Files) []byte {
	t.Helper()
	paper, err := carry.Paper(face, f)
	require.NoError(t, err)
	return paper
}

func mustBundle(t testing.TB, f carry.Files) []byte {
	t.Helper()
	zip, err := carry.Bundle(f)
	require.NoError(t, err)
	return zip
}

// trusting is a list of keys under the names given.
func trusting(t testing.TB, keys map[string]sshsig.Signer) keyring.Trust {
	t.Helper()
	var text []byte
	for _, name := range slices.Sorted(maps.Keys(keys)) {
		text = fmt.Appendf(text, "%s namespaces=\"entry.v1@lapmark,accept.v1@lapmark\" %s a test key\n",
			name, keys[name].Public().Line())
	}
	list, err := keyring.ParseTrust(text)
	require.NoError(t, err)
	return list
}

// input asks about a file with the key of quillstead in the trust, on
// 2026-11-25.
func input(t testing.TB, file []byte) Input {
	t.Helper()
	today, err := day.Parse("2026-11-25")
	require.NoError(t, err)
	return Input{
		Name: "file", File: file, Today: today, Now: 1795600800, // 2026-11-25T10:00:00Z
		Trust: trusting(t, map[string]sshsig.Signer{"quillstead": seed("quillstead")}),
	}
}
