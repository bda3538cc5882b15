package check

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/format"
	"lapmark/report/carry"
	"lapmark/testdata"
)

// coachOf3 is a ledger of three entries of the house: intake, finding, a place
// nobody looked at.
func coachOf3(t testing.TB) *writer {
	t.Helper()
	w := newWriter(t, "quillstead")
	w.add(w.house, "finding", findingBody("F1"), map[string]string{"no-photo": "too dark"})
	w.add(w.house, "not-looked-at", format.Object{"places": format.Array{field(0, 3700)}}, map[string]string{"why": "the holder’s wish"})
	return w
}

func field(front, rear int64) format.Object {
	return format.Object{"shape": "field", "aft": format.Array{front, rear}}
}

func findingBody(tag string) format.Object {
	return format.Object{
		"tag": tag, "defect": "standing-water", "deep": "in-the-core", "soon": "before-rain", "sure": "measured",
		"places": format.Array{field(5550, 6450)}, "values": format.Object{"depth": int64(14)},
		"whose": format.Object{"whose": "factory"},
	}
}

// again takes a paper apart, lets a hand change its parts and builds the tail
// again, as somebody would who knows the format.
func again(t *testing.T, paper []byte, change func(face *[]byte, f *carry.Files)) []byte {
	t.Helper()
	taken, err := carry.TakePaper(paper)
	require.NoError(t, err)
	face, files := bytes.Clone(taken.Face), taken.Files
	change(&face, &files)
	return mustPaper(t, face, files)
}

// TestPages makes a file for each answer about pages.
func TestPages(t *testing.T) {
	house, guest := seed("quillstead"), seed("low ferry")
	tests := map[string]struct {
		make  func(t *testing.T) []byte
		paper Pages
		whole bool
		exit  int
		why   string
	}{
		"as it left": {
			func(t *testing.T) []byte { return coachOf3(t).history(house) }, LeftTheHouse, true, 0, "",
		},
		"the copy to pass on": {func(t *testing.T) []byte {
			w := coachOf3(t)
			own, passOn := w.face(), bytes.Replace(w.face(), []byte("Coach history"), []byte("Passed-on one"), 1)
			w.giveOut(house, format.Object{"reader": "holder", "to": "holder-1"},
				map[string]string{faceName: hexOf(own), passOnName: hexOf(passOn)})
			return mustPaper(t, passOn, w.files(passOnName))
		}, LeftTheHouse, true, 0, ""},
		"the slip of the face taken out": {func(t *testing.T) []byte {
			return again(t, coachOf3(t).history(house), func(_ *[]byte, f *carry.Files) { f.Private = nil })
		}, PagesDiffer, true, 3, "exactly one slip"},
		"both slips of one act": {func(t *testing.T) []byte {
			w := coachOf3(t)
			own, passOn := w.face(), bytes.Replace(w.face(), []byte("Coach history"), []byte("Passed-on one"), 1)
			w.giveOut(house, nil, map[string]string{faceName: hexOf(own), passOnName: hexOf(passOn)})
			return mustPaper(t, own, w.files(faceName, passOnName))
		}, PagesDiffer, true, 3, "exactly one slip"},
		"another face": {func(t *testing.T) []byte {
			return again(t, coachOf3(t).history(house), func(face *[]byte, _ *carry.Files) {
				*face = bytes.Replace(*face, []byte("Coach history"), []byte("Coach History"), 1)
			})
		}, PagesDiffer, true, 3, "for other pages"},
		"another how-to-check": {func(t *testing.T) []byte {
			return again(t, coachOf3(t).history(house), func(_ *[]byte, f *carry.Files) { f.HowToCheck = []byte("Trust us.\n") })
		}, PagesDiffer, true, 3, "how-to-check"},
		"bytes behind the tail": {
			func(t *testing.T) []byte { return append(coachOf3(t).history(house), "\n% more"...) }, PagesDiffer, true, 3, saysTail,
		},
		"an update behind the tail": {func(t *testing.T) []byte {
			return append(coachOf3(t).history(house), "5 0 obj\n<<>>\nendobj\n%%EOF\n"...)
		}, PagesDiffer, true, 3, saysTail},
		"a stranger's given-out appended": {func(t *testing.T) []byte {
			w := coachOf3(t)
			first := w.history(house)
			taken, err := carry.TakePaper(first)
			require.NoError(t, err)
			face := bytes.Replace(taken.Face, []byte("Coach history"), []byte("Coach History"), 1)
			w.giveOut(guest, nil, map[string]string{faceName: hexOf(face)})
			return mustPaper(t, face, w.files(faceName))
		}, GuestPaper, true, 7, ""},
		"a guest's paper with another face": {func(t *testing.T) []byte {
			return again(t, coachOf3(t).history(guest), func(face *[]byte, _ *carry.Files) {
				*face = bytes.Replace(*face, []byte("Coach history"), []byte("Coach History"), 1)
			})
		}, PagesDiffer, true, 3, "for other pages"},
		"last entry no given-out": {func(t *testing.T) []byte {
			w := coachOf3(t)
			face := w.face()
			w.giveOut(house, nil, map[string]string{faceName: hexOf(face)})
			w.add(house, "remark", format.Object{"places": format.Array{field(0, 100)}}, map[string]string{"note": "later"})
			return mustPaper(t, face, w.files())
		}, PagesDiffer, true, 3, "is no given-out"},
		"the last entry cut off": {func(t *testing.T) []byte {
			return again(t, coachOf3(t).history(house), func(_ *[]byte, f *carry.Files) {
				f.Ledger, f.Private = coachOf3(t).text, nil
			})
		}, PagesDiffer, true, 3, "is no given-out"},
		"a ledger edited by hand": {func(t *testing.T) []byte {
			return again(t, coachOf3(t).history(house), func(_ *[]byte, f *carry.Files) {
				f.Ledger = bytes.Replace(f.Ledger, []byte(`"depth":14`), []byte(`"depth":41`), 1)
			})
		}, PagesDiffer, false, 3, saysLedgerBroken},
		"a paper that says it is a bundle": {func(t *testing.T) []byte {
			w := coachOf3(t)
			face := w.face()
			w.giveOut(house, format.Object{"paper": "bundle"}, map[string]string{faceName: hexOf(face)})
			return mustPaper(t, face, w.files(faceName))
		}, PagesDiffer, true, 3, "for a bundle"},
		"no ledger in it": {func(t *testing.T) []byte {
			return again(t, coachOf3(t).history(house), func(_ *[]byte, f *carry.Files) { f.Ledger = nil })
		}, PagesDiffer, false, 3, saysLedgerBroken},
		"cut off in the tail": {func(t *testing.T) []byte {
			p := coachOf3(t).history(house)
			return p[:len(p)-200]
		}, SavedAgain, true, 7, ""},
		"the marker twice": {func(t *testing.T) []byte {
			p := coachOf3(t).history(house)
			return append(p, "%%EOF\n%lapmark-tail 1\n"...)
		}, SavedAgain, true, 7, ""},
		"saved again, and edited": {func(t *testing.T) []byte {
			p := bytes.Replace(coachOf3(t).history(house), []byte(`"depth":14`), []byte(`"depth":41`), 1)
			return bytes.Replace(p, []byte("%lapmark-tail 1"), []byte("% another line "), 1)
		}, SavedAgain, false, 3, ""},
		"pages alone": {
			func(t *testing.T) []byte { return examplePart(t, "face.pdf") }, NoFacts, false, 2, "",
		},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			a := Verify(input(t, test.make(t)))
			require.Equal(t, test.paper, a.Paper, a.Text())
			require.Equal(t, test.whole, a.Whole, a.Text())
			require.Equal(t, test.exit, a.Exit(), a.Text())
			require.Contains(t, a.PagesWhy, test.why)
			if test.why == "" {
				require.Empty(t, a.PagesWhy)
			}
		})
	}
}

// A guest's paper is settled only where his key stands in the trust too, and
// never under a key that the house gave up.
func TestGuestPaperWithTrust(t *testing.T) {
	w := coachOf3(t)
	in := input(t, w.history(seed("low ferry")))
	in.Trust = trusting(t, keysOf("quillstead", "low ferry"))
	a := Verify(in)
	require.Equal(t, GuestPaper, a.Paper)
	require.Equal(t, 0, a.Exit(), a.Text())
	require.Equal(t, "These pages are the word of "+seed("low ferry").Public().Fingerprint()+", a guest, not of Quillstead Roof Works.",
		a.Parts()[1].Says[0])

	in.Trust = trusting(t, keysOf("low ferry"))
	require.Equal(t, 7, Verify(in).Exit(), "the house key is not in the trust")

	in.Trust, in.Retired = trusting(t, keysOf("quillstead", "low ferry")), trusting(t, keysOf("low ferry"))
	require.Equal(t, 7, Verify(in).Exit(), "the guest's key is retired")

	old := coachOf3(t)
	old.keyChange("quillstead", "quillstead 2", nil)
	in = input(t, old.history(seed("quillstead")))
	a = Verify(in)
	require.Equal(t, GuestPaper, a.Paper)
	require.Contains(t, a.Unsettled, GuestUnvouched, "a key the house gave up may be the stolen one")
	require.Equal(t, 7, a.Exit())
}

func TestTwoLedgersInOneFile(t *testing.T) {
	one, other := coachOf3(t).history(seed("quillstead")), newWriter(t, "penny drift").history(seed("penny drift"))
	a := Verify(input(t, append(one, other...)))
	require.Equal(t, SavedAgain, a.Paper)
	require.Equal(t, 3, a.Exit())
	require.False(t, a.Whole)
	require.Contains(t, a.Bad, SeveralLedgers)
	require.Len(t, a.Ledgers, 2)
	require.EqualValues(t, 4, a.Ledgers[0].Entries)
	require.EqualValues(t, 2, a.Ledgers[1].Entries)
	require.NotEqual(t, a.Ledgers[0].ID, a.Ledgers[1].ID)
	require.Nil(t, a.SignedBy, "none is chosen")
}

// qpdf is a PDF program from other hands: it writes the whole file anew.
func TestSavedAgainByQPDF(t *testing.T) {
	qpdf := testdata.Program(t, "qpdf")
	dir := t.TempDir()
	in := filepath.Join(dir, "paper.pdf")
	require.NoError(t, os.WriteFile(in, coachOf3(t).history(seed("quillstead")), 0o600))
	tests := map[string]struct {
		args  []string
		paper Pages
		exit  int
	}{
		"streams packed": {[]string{"--object-streams=generate", "--stream-data=compress", "--recompress-flate"}, SavedAgain, 7},
		"streams plain":  {[]string{"--stream-data=uncompress"}, SavedAgain, 7},
		"linearized":     {[]string{"--linearize"}, SavedAgain, 7},
		"protected":      {[]string{"--encrypt", "", "owner", "256", "--"}, NoPDF, 2},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			out := filepath.Join(dir, name+".pdf")
			said, err := exec.Command(qpdf, append(append([]string{in}, test.args...), out)...).CombinedOutput()
			require.NoError(t, err, string(said))
			saved, err := os.ReadFile(out)
			require.NoError(t, err)
			a := Verify(input(t, saved))
			require.Equal(t, test.paper, a.Paper, a.Text())
			require.Equal(t, test.exit, a.Exit(), a.Text())
			if test.paper == SavedAgain {
				require.True(t, a.Whole)
				require.EqualValues(t, 4, a.Entries)
				require.EqualValues(t, 3, a.UpTo.Entry, "it stands on the head of its given-out")
				require.Empty(t, a.WordsMissing)
			} else {
				require.Equal(t, saysEncrypted, a.NotChecked)
			}
		})
	}
}

func TestBundle(t *testing.T) {
	house := seed("quillstead")
	picture := carry.Picture{Hex: hexOf([]byte("a picture")), JPEG: []byte("a picture")}
	make3 := func(t *testing.T) *writer {
		w := newWriter(t, "quillstead")
		body := findingBody("F1")
		body["photos"] = format.Array{picture.Hex, hexOf([]byte("another"))}
		w.add(house, "finding", body, nil)
		return w
	}
	a := Verify(input(t, make3(t).bundle(house, picture)))
	require.Equal(t, 0, a.Exit(), a.Text())
	require.Equal(t, NoPDF, a.Paper)
	require.Equal(t, FormBundle, a.File)
	require.Equal(t, BundleLeft, a.Bundle)
	require.EqualValues(t, 2, a.UpTo.Entry)
	require.Equal(t, 2, a.Pictures.Named)
	require.Equal(t, 1, a.Pictures.Here)
	require.Len(t, a.Pictures.Missing, 1)

	guest := Verify(input(t, make3(t).bundle(seed("low ferry"))))
	require.Equal(t, GuestBundle, guest.Bundle)
	require.Equal(t, 7, guest.Exit())

	stray := Verify(input(t, make3(t).bundle(house, carry.Picture{Hex: hexOf([]byte("stray")), JPEG: []byte("stray")})))
	require.Equal(t, BundleDiffers, stray.Bundle)
	require.Equal(t, 3, stray.Exit())

	renamed := Verify(input(t, make3(t).bundle(house, carry.Picture{Hex: picture.Hex, JPEG: []byte("another one")})))
	require.Equal(t, BundleDiffers, renamed.Bundle)
	require.Equal(t, 3, renamed.Exit())

	withFace := make3(t)
	withFace.giveOut(house, format.Object{"paper": "bundle"}, map[string]string{faceName: hexOf([]byte("pages"))})
	faced := Verify(input(t, mustBundle(t, withFace.files(faceName))))
	require.Equal(t, BundleDiffers, faced.Bundle, "a bundle has no pages")

	w := make3(t)
	w.history(house)
	asPaper := Verify(input(t, mustBundle(t, w.files())))
	require.Equal(t, BundleDiffers, asPaper.Bundle, "its last entry was written for a paper")
	require.True(t, asPaper.Whole)
	require.Equal(t, 3, asPaper.Exit())

	zip := make3(t).bundle(house)
	zip[8] = 8 // one of two places says that the first member is compressed
	framed := Verify(input(t, zip))
	require.Equal(t, 3, framed.Exit())
	require.True(t, framed.Whole, "the ledger is")
	require.Contains(t, framed.Text(), saysBundleDiffer)
	require.Empty(t, framed.WordsMissing, framed.Text())

	zip[bytes.Index(zip, []byte("PK\x01\x02"))+10] = 8
	unread := Verify(input(t, zip))
	require.Equal(t, BundleDiffers, unread.Bundle)
	require.Equal(t, 3, unread.Exit())
	require.False(t, unread.Whole)
	require.Contains(t, unread.Text(), saysBundleUnread)
}

// A ledger that went through a program that changes line ends is broken, and
// the answer says what may have happened to it.
func TestMangledOnTheWay(t *testing.T) {
	text := coachOf3(t).text
	for name, mangled := range map[string][]byte{
		"line ends": bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n")), "first bytes": append([]byte("\xef\xbb\xbf"), text...),
	} {
		a := Verify(input(t, mangled))
		require.Equal(t, 3, a.Exit(), name)
		require.EqualValues(t, 1, a.FirstBad)
		require.Contains(t, a.FirstBadSays, saysMangled)
	}
	require.NotContains(t, Verify(input(t, flipped(text, 300))).FirstBadSays, saysMangled)
}

// What is no paper, bundle or ledger at all: nothing was checked.
func TestNothingChecked(t *testing.T) {
	tests := map[string]struct {
		file []byte
		says string
	}{
		"empty":          {nil, saysEmptyFile},
		"a picture":      {[]byte("\xff\xd8\xff\xe0 jfif"), saysNoForm},
		"a text":         {[]byte("Dear holder,\n"), saysNoForm},
		"other JSON":     {[]byte(`{"answer":"verify"}` + "\n"), saysNoForm},
		"a coach file":   {[]byte("SQLite format 3\x00 and more"), saysSQLite},
		"over the limit": {make([]byte, carry.DefaultLimits().File+1), "at most 67108864 are read"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			a := Verify(input(t, test.file))
			require.Equal(t, 2, a.Exit())
			require.Contains(t, a.NotChecked, test.says)
			require.False(t, a.Whole)
			require.Contains(t, a.Text(), a.NotChecked[:20], "people read it too")
		})
	}
}

// Of a PDF that was cut off before its ledger it is said that it was.
func TestCutOffPDF(t *testing.T) {
	paper := coachOf3(t).history(seed("quillstead"))
	a := Verify(input(t, paper[:400]))
	require.Equal(t, NoFacts, a.Paper)
	require.Equal(t, 2, a.Exit())
	require.Equal(t, saysNoFacts+" "+saysCutOff, a.NotChecked)
	require.Equal(t, saysNoFacts, Verify(input(t, examplePart(t, "face.pdf"))).NotChecked)
}
