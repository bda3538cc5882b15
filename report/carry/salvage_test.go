package carry

import (
	"bytes"
	"strings"
	"testing"
	"time"
)

// One byte changed in the frame of a bundle leaves its texts as they are; one
// changed in a text leaves the text there to be looked at, changed.
func TestSalvageAfterOneByte(t *testing.T) {
	f := sorted(withBranches(t))
	zip := mustBundle(t, f)
	where := bytes.Index(zip, f.Ledger)
	for at := range zip {
		for _, way := range []byte{0x01, 0x20, 0x80} {
			damaged := bytes.Clone(zip)
			damaged[at] ^= way
			want := f.Ledger
			if at >= where && at < where+len(f.Ledger) {
				want = damaged[where : where+len(f.Ledger)]
			}
			got := Salvage(damaged)
			if !bytes.Equal(got.Ledger, want) {
				t.Fatalf("byte %d, %#02x: another ledger, %d bytes", at, way, len(got.Ledger))
			}
			if len(got.Branches) < len(f.Branches) || len(got.Words) != len(f.Words) {
				t.Fatalf("byte %d, %#02x: %d branches, %d bytes of words", at, way, len(got.Branches), len(got.Words))
			}
		}
	}
}

// Of two ledgers in one bundle none is chosen; without one there is none.
func TestSalvageChoosesNone(t *testing.T) {
	one, two := mustBundle(t, Files{Ledger: []byte("one\n")}), mustBundle(t, Files{Ledger: []byte("two\n")})
	if got := Salvage(bytes.Join([][]byte{one, two}, nil)); got.Ledger != nil {
		t.Errorf("%q was chosen", got.Ledger)
	}
	for _, none := range []string{"", "PK", "PK\x03\x04", "PK\x01\x02" + strings.Repeat("\xff", 60), "PK\x03\x04" + strings.Repeat("\xff", 60)} {
		if got := Salvage([]byte(none)); got.Ledger != nil {
			t.Errorf("%q has a ledger", none)
		}
	}
}

// A bundle that announces the same bytes again and again asks for no more work
// than a few readings of itself.
func TestSalvageHasABound(t *testing.T) {
	var z zipWriter
	filler := member{ledgerName, bytes.Repeat([]byte("x"), 20<<20)}
	z.local(filler)
	z.out = append(z.out, filler.data...)
	for i := range 500_000 {
		z.listed(member{ledgerName, nil}, i)
		at := len(z.out) - len(ledgerName) - directorySize
		copy(z.out[at+24:], []byte{0, 0, 0x30, 1}) // 19 MiB
	}
	began := time.Now()
	if got := Salvage(z.out); got.Ledger != nil {
		t.Error("one of many was chosen")
	}
	if took := time.Since(began); took > 2*time.Second {
		t.Errorf("it took %v", took)
	}
}
