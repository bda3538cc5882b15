package check

import (
	"bytes"
	"testing"
)

// Whatever bytes come: an answer, and never that they left the house, unless
// they are the ones that did.
func FuzzVerify(f *testing.F) {
	w := newWriter(f, "quillstead")
	paper, zip := w.side().history(w.house), w.side().bundle(w.house)
	for _, seed := range [][]byte{paper, zip, w.text, nil, []byte("%PDF-1.4\nstream\n{\"at\":\"\nendstream\n")} {
		f.Add(seed)
	}
	in := input(f, nil)
	f.Fuzz(func(t *testing.T, file []byte) {
		in := in
		in.File = file
		a := Verify(in)
		if a.Text() == "" {
			t.Error("no answer")
		}
		if a.Paper == LeftTheHouse && !bytes.Equal(file, paper) || a.Bundle == BundleLeft && !bytes.Equal(file, zip) {
			t.Errorf("another file is said to have left the house: %q", file)
		}
	})
}
