package carry

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// deflated is text as a Flate stream of a PDF holds it.
func deflated(t testing.TB, text []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zlib.NewWriter(&out)
	if _, err := w.Write(text); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// object is a PDF object with a stream and a true Length.
func object(data []byte) []byte {
	return fmt.Appendf(nil, "8 0 obj\n<</Length %d>>\nstream\n%s\nendstream\nendobj\n", len(data), data)
}

// mustWalk walks within the limits in use.
func mustWalk(t testing.TB, pdf []byte) Walked {
	t.Helper()
	walked, err := Walk(pdf, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	return walked
}

// wantLedgers fails unless these ledgers were found, in this order.
func wantLedgers(t *testing.T, walked Walked, want ...string) {
	t.Helper()
	wantTexts(t, "ledgers", walked.Ledgers, want)
}

func wantTexts(t *testing.T, what string, got [][]byte, want []string) {
	t.Helper()
	if !slices.EqualFunc(got, want, func(g []byte, w string) bool { return string(g) == w }) {
		t.Errorf("%s: got %.200q, want %.200q", what, got, want)
	}
}

const (
	entryText = `{"at":"2020-03-16T16:40:00Z"}` + "\nU1NIU0lH\n"
	otherText = `{"at":"2021-01-01T08:00:00Z"}` + "\nU1NIU0lH\n"
	slipsText = "WyJB\nWyJC-_9\n"
)

func TestWalkFindsStreams(t *testing.T) {
	packed := string(deflated(t, []byte(entryText)))
	tests := map[string]string{
		"plain":                      string(object([]byte(entryText))),
		"packed":                     string(object([]byte(packed))),
		"no Length":                  "<<>>\nstream\n" + entryText + "\nendstream",
		"Length elsewhere":           "8 0 obj\n<</Length 9 0 R>>\nstream\n" + entryText + "\nendstream",
		"Length too short":           "8 0 obj\n<</Length 5>>\nstream\n" + entryText + "\nendstream",
		"Length too long":            "8 0 obj\n<</Length 500000>>\nstream\n" + entryText + "\nendstream",
		"Length of the font":         "8 0 obj\n<</Length1 5/Length " + fmt.Sprint(len(entryText)) + ">>\nstream\n" + entryText + "endstream",
		"CRLF":                       "<<>>\r\nstream\r\n" + entryText + "\r\nendstream",
		"CR before endstream":        "<<>>\nstream\n" + entryText + "\rendstream",
		"lone CR":                    "<<>>\rstream\r" + entryText + "\rendstream",
		"blank after the word":       "<<>>\nstream \n" + entryText + "\nendstream",
		"no line end of its own":     "<<>>\nstream\n" + entryText + "endstream",
		"cut off before endstream":   "<<>>\nstream\n" + entryText,
		"cut off in endstream":       "8 0 obj\n<</Length " + fmt.Sprint(len(entryText)) + ">>\nstream\n" + entryText + "\nendstr",
		"packed, no Length":          "<<>>\nstream\n" + packed + "\nendstream",
		"packed, cut off in its sum": "<<>>\nstream\n" + packed[:len(packed)-2],
		"packed, sum damaged":        "<<>>\nstream\n" + packed[:len(packed)-1] + "X\nendstream",
		"packed, nothing after it":   "<<>>\nstream\n" + packed,
		"inside another stream":      string(object(append([]byte("q\n"), object([]byte(entryText))...))),
		"after a stream with no end": "<<>>\nstream\nBT ET\n" + string(object([]byte(entryText))),
	}
	for name, pdf := range tests {
		t.Run(name, func(t *testing.T) {
			wantLedgers(t, mustWalk(t, []byte("%PDF-1.7\n"+pdf)), entryText)
		})
	}
}

func TestWalkKeepsLinesWithTheWordInside(t *testing.T) {
	text := `{"at":"2020-03-16T16:40:00Z","body":{"name":"endstream stream"}}` + "\nU1NIU0lH\n"
	wantLedgers(t, mustWalk(t, []byte("<<>>\nstream\n"+text+"\nendstream")), text)
}

// TestWalkNamesEveryLedger finds each of two ledgers once, in the order in
// which they first appear.
func TestWalkNamesEveryLedger(t *testing.T) {
	pdf := slices.Concat(object(deflated(t, []byte(otherText))), object([]byte(slipsText)), object([]byte(entryText)),
		object([]byte(otherText)), object(deflated(t, []byte(slipsText))), object(deflated(t, []byte(entryText))))
	walked := mustWalk(t, pdf)
	wantLedgers(t, walked, otherText, entryText)
	wantTexts(t, "others", walked.Others, []string{slipsText})
}

func TestWalkPassesOver(t *testing.T) {
	streams := []string{
		"", "\n", "WyJB", "WyJB\n\nWyJC\n", "\nWyJB\n", "WyJB\nWyJ+\n", "WyJB==\n", "BT /F1 12 Tf ET\n", "q\nBT\nQ \n",
		`{"ta":"2020"}` + "\n", `{"at":2020}` + "\n", ` {"at":"2020"}` + "\n", "\x78\x9cnot packed\n",
	}
	var pdf []byte
	for _, s := range streams {
		pdf = slices.Concat(pdf, object([]byte(s)), object(deflated(t, []byte(s))))
	}
	walked := mustWalk(t, pdf)
	wantLedgers(t, walked)
	wantTexts(t, "others", walked.Others, nil)
}

func TestWalkAPaperThatWasNotSavedAgain(t *testing.T) {
	f := withBranches(t)
	f.Branches[0] = branchOf(otherText)
	f.Branches[1] = branchOf("no ledger\n")
	walked := mustWalk(t, mustPaper(t, example(t, "face.pdf"), f))
	wantLedgers(t, walked, string(f.Ledger), otherText)
	wantTexts(t, "others", walked.Others, []string{string(f.Words), string(f.Private)})
}

// TestWalkOfATruncatedPaper cuts the example at every byte. While the ledger
// is whole in what is left, it is found whole; before that, as far as it goes.
func TestWalkOfATruncatedPaper(t *testing.T) {
	paper, ledger := examplePaper(t), exampleFiles(t).Ledger
	start := bytes.Index(paper, ledger)
	for length := range paper {
		walked := mustWalk(t, paper[:length])
		got := length - start
		switch {
		case got < len(ledgerStart) && len(walked.Ledgers) != 0:
			t.Fatalf("cut at %d: a ledger was found", length)
		case got < len(ledgerStart):
		case len(walked.Ledgers) != 1 || !bytes.Equal(walked.Ledgers[0], ledger[:min(got, len(ledger))]):
			t.Fatalf("cut at %d: %d ledgers, or another text", length, len(walked.Ledgers))
		}
	}
}

// TestWalkOfADamagedPaper changes bytes at random places, from a fixed seed:
// nothing panics, and all that is found begins as it must.
func TestWalkOfADamagedPaper(t *testing.T) {
	paper := slices.Concat(examplePaper(t), object(deflated(t, exampleFiles(t).Ledger)))
	random := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		pdf := slices.Clone(paper)
		for range 1 + random.IntN(20) {
			pdf[random.IntN(len(pdf))] = byte(random.IntN(256))
		}
		walked, err := Walk(pdf, DefaultLimits())
		if err != nil && !errors.Is(err, ErrEncrypted) {
			t.Fatal(err)
		}
		for _, text := range walked.Ledgers {
			if !bytes.HasPrefix(text, []byte(ledgerStart)) {
				t.Fatalf("%.100q", text)
			}
		}
	}
}

func TestWalkRefusesEncrypted(t *testing.T) {
	ledger := string(object([]byte(entryText)))
	for name, test := range map[string]struct {
		pdf       string
		encrypted bool
	}{
		"trailer":             {ledger + "trailer\n<</Size 9/Encrypt 8 0 R/ID[()()]>>\nstartxref\n", true},
		"trailer, inside":     {ledger + "trailer << /Size 9 /Encrypt << /Filter /Standard >> >>\nstartxref\n", true},
		"second trailer":      {ledger + "trailer\n<</Size 9>>\nstartxref\n9\n%%EOF\ntrailer\n<</Encrypt 8 0 R>>", true},
		"table in a stream":   {ledger + "9 0 obj\n<</Type/XRef/Encrypt 8 0 R/Length 0>>\nstream\n\nendstream", true},
		"none":                {ledger + "trailer\n<</Size 9>>\nstartxref\n", false},
		"other name":          {ledger + "trailer\n<</Size 9/EncryptMetadata false>>\nstartxref\n", false},
		"behind the trailer":  {ledger + "trailer\n<</Size 9>>\nstartxref\n9\n/Encrypt ", false},
		"in another stream":   {ledger + "9 0 obj\n<</Encrypt 8 0 R/Length 0>>\nstream\n\nendstream", false},
		"a word of the trade": {ledger + "a travel trailer /Encrypt 8 0 R", false},
	} {
		t.Run(name, func(t *testing.T) {
			walked, err := Walk([]byte(test.pdf), DefaultLimits())
			if errors.Is(err, ErrEncrypted) != test.encrypted {
				t.Errorf("got error %v", err)
			}
			if !test.encrypted {
				wantLedgers(t, walked, entryText)
			}
		})
	}
}
