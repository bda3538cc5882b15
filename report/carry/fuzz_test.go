package carry

import (
	"bytes"
	"slices"
	"testing"
)

// FuzzTakePaper: what is taken exactly is made again to the same bytes, and
// what is not exact is not.
func FuzzTakePaper(f *testing.F) {
	f.Add(examplePaper(f))
	f.Add(mustPaper(f, example(f, "face.pdf"), withBranches(f)))
	f.Add(append(examplePaper(f), "more"...))
	f.Add(example(f, "face.pdf"))
	f.Add([]byte(marker + "1 0 obj\n<</Type/Filespec/F(ledger.txt)"))
	f.Fuzz(func(t *testing.T, pdf []byte) {
		taken, err := TakePaper(pdf)
		if err != nil {
			return
		}
		if !bytes.HasPrefix(pdf, taken.Face) {
			t.Fatal("the face is not the beginning of the paper")
		}
		paper, err := Paper(taken.Face, taken.Files)
		if same := err == nil && bytes.Equal(paper, pdf); same != taken.Exact {
			t.Fatalf("exact %v, made again the same %v, error %v", taken.Exact, same, err)
		}
	})
}

// FuzzTakeBundle: what is taken is made again to the same bytes.
func FuzzTakeBundle(f *testing.F) {
	f.Add(mustBundle(f, smallBundle()))
	f.Add(mustBundle(f, exampleFiles(f)))
	f.Add(mustBundle(f, Files{}))
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, zip []byte) {
		files, err := TakeBundle(zip)
		if err != nil {
			return
		}
		if !bytes.Equal(mustBundle(t, files), zip) {
			t.Fatal("another bundle was taken than is made")
		}
	})
}

// FuzzWalk: nothing panics or runs away, and what is found is what it is said
// to be, each once.
func FuzzWalk(f *testing.F) {
	f.Add(examplePaper(f))
	f.Add(object(deflated(f, exampleFiles(f).Ledger)))
	f.Add(slices.Concat(object([]byte(entryText)), object(deflated(f, []byte(slipsText)))))
	f.Add([]byte("<<>>\nstream\n" + entryText + "\nendstream\ntrailer<</Encrypt 1 0 R>>startxref"))
	f.Add([]byte("9 0 obj<</Type/XRef/Encrypt 8 0 R/Length 9999999999999>>stream\r\n"))
	limits := Limits{File: 1 << 20, Streams: 100, Unpacked: 1 << 20}
	f.Fuzz(func(t *testing.T, pdf []byte) {
		walked, err := Walk(pdf, limits)
		if err != nil && (walked.Ledgers != nil || walked.Others != nil) {
			t.Fatal("texts beside an error")
		}
		total := 0
		seen := map[string]bool{}
		for _, text := range walked.Ledgers {
			if !bytes.HasPrefix(text, []byte(ledgerStart)) {
				t.Fatalf("%.100q does not begin like a ledger", text)
			}
			total += len(text)
			seen[string(text)] = true
		}
		for _, text := range walked.Others {
			if kindOf(text) != slips || !isSlips(text) {
				t.Fatalf("%.100q is not slips", text)
			}
			total += len(text)
			seen[string(text)] = true
		}
		if total > limits.File+limits.Unpacked || len(seen) != len(walked.Ledgers)+len(walked.Others) {
			t.Fatalf("%d bytes, %d texts of which %d differ", total, len(walked.Ledgers)+len(walked.Others), len(seen))
		}
	})
}
