package check

import (
	"testing"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
)

// BenchmarkVerify asks the whole answer of 1,000 entries, as a ledger and as a
// paper; BenchmarkCheck is the check of the ledger alone beside it.
func BenchmarkVerify(b *testing.B) {
	w := thousand(b)
	files := map[string][]byte{"ledger": w.text}
	files["paper"] = w.history(w.house)
	for _, name := range []string{"ledger", "paper"} {
		b.Run(name, func(b *testing.B) {
			in := input(b, files[name])
			for b.Loop() {
				if a := Verify(in); a.Exit() != 0 {
					b.Fatal(a.Text())
				}
			}
		})
	}
}

func BenchmarkCheck(b *testing.B) {
	text := thousand(b).text
	for b.Loop() {
		if _, err := ledger.Check(text, new(sshsig.Verifier).Verify); err != nil {
			b.Fatal(err)
		}
	}
}

func thousand(b *testing.B) *writer {
	b.Helper()
	w := newWriter(b, "quillstead")
	for w.edge.Size() < 1000 {
		w.add(w.house, "finding", findingBody("F1"), map[string]string{"no-photo": "dark"})
	}
	return w
}
