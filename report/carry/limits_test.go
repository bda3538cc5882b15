package carry

import (
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// packedZeros is zlib data that unpack to start and so many zeros, at least
// 1 MiB of them. The same packed block is repeated: after a flush it stands at
// a byte border (RFC 1951, 3.2.4). The check sum behind the last block is
// missing.
func packedZeros(t testing.TB, start string, zeros int) []byte {
	t.Helper()
	const blockSize = 1 << 20
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	write := func(data []byte) []byte {
		packed.Reset()
		if _, err := w.Write(data); err != nil {
			t.Fatal(err)
		}
		if err := w.Flush(); err != nil {
			t.Fatal(err)
		}
		return bytes.Clone(packed.Bytes())
	}
	first := write(append([]byte(start), make([]byte, blockSize+zeros%blockSize)...))
	block := write(make([]byte, blockSize))
	return slices.Concat([]byte{0x78, 0xda}, first, bytes.Repeat(block, zeros/blockSize-1))
}

// bomb is a PDF of about 1 MiB whose one stream unpacks to start and 1 GiB.
func bomb(t testing.TB, start string) []byte {
	t.Helper()
	return append([]byte("%PDF-1.7\n"), object(packedZeros(t, start, 1<<30))...)
}

// TestWalkRefusesABomb unpacks no more than the limit, and keeps none of it.
func TestWalkRefusesABomb(t *testing.T) {
	tests := map[string]struct {
		pdf  []byte
		want error
	}{
		"like a ledger": {bomb(t, ledgerStart), ErrTooLarge},
		"like slips":    {bomb(t, slipsText), nil},
		"zeros alone":   {bomb(t, ""), nil},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			walked, err := Walk(test.pdf, DefaultLimits())
			runtime.ReadMemStats(&after)
			if !errors.Is(err, test.want) {
				t.Errorf("got error %v, want %v", err, test.want)
			}
			wantLedgers(t, walked)
			if took := after.TotalAlloc - before.TotalAlloc; took > 1<<20 {
				t.Errorf("took %d bytes of memory in all", took)
			}
		})
	}
}

// TestABombIsCountedWhileItUnpacks stops at the limit, not after the last byte.
func TestABombIsCountedWhileItUnpacks(t *testing.T) {
	pdf := bomb(t, ledgerStart)
	limits := Limits{File: len(pdf), Streams: 1, Unpacked: 1 << 20}
	w := walker{pdf: pdf, limits: limits}
	if err := w.take(bytes.Index(pdf, []byte(streamWord))); !errors.Is(err, ErrTooLarge) {
		t.Errorf("got %v, want ErrTooLarge", err)
	}
	if w.unpacked > limits.Unpacked+inflateChunk {
		t.Errorf("%d bytes were unpacked, at most %d are allowed", w.unpacked, limits.Unpacked)
	}
}

// TestWalkLimits holds each limit from both sides.
func TestWalkLimits(t *testing.T) {
	ledger := slices.Concat([]byte(entryText), bytes.Repeat([]byte(entryText), 40))
	packed := object(deflated(t, ledger))
	overlapping := []byte(strings.Repeat("<<>>\nstream\n"+ledgerStart, 40))
	room := func(change func(*Limits)) Limits {
		l := DefaultLimits()
		change(&l)
		return l
	}
	tests := map[string]struct {
		pdf    []byte
		within Limits
		above  Limits
	}{
		"file": {packed, room(func(l *Limits) { l.File = len(packed) }), room(func(l *Limits) { l.File = len(packed) - 1 })},
		"streams": {
			bytes.Repeat(packed, 3), room(func(l *Limits) { l.Streams = 3 }),
			room(func(l *Limits) { l.Streams = 2 }),
		},
		"unpacked": {
			packed, room(func(l *Limits) { l.Unpacked = len(ledger) }),
			room(func(l *Limits) { l.Unpacked = len(ledger) - 1 }),
		},
		"unpacked in all": {
			slices.Concat(packed, packed), room(func(l *Limits) { l.Unpacked = 2 * len(ledger) }),
			room(func(l *Limits) { l.Unpacked = 2*len(ledger) - 1 }),
		},
		"over each other": {overlapping, DefaultLimits(), room(func(l *Limits) { l.File = len(overlapping) })},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			if _, err := Walk(test.pdf, test.within); err != nil {
				t.Errorf("within: %v", err)
			}
			walked, err := Walk(test.pdf, test.above)
			if !errors.Is(err, ErrTooLarge) {
				t.Errorf("above: got %v, want ErrTooLarge", err)
			}
			wantLedgers(t, walked)
		})
	}
}

// TestLimitsInUse holds the numbers of DefaultLimits from both sides. That
// they are 64 MiB, 20,000 and 64 MiB is common practice, no source.
func TestLimitsInUse(t *testing.T) {
	const most, rest = 64 << 20, 64<<20 - len(ledgerStart)
	stream := []byte("stream\n%")
	for name, test := range map[string]struct{ within, above []byte }{
		"file":     {make([]byte, most), make([]byte, most+1)},
		"streams":  {bytes.Repeat(stream, 20_000), bytes.Repeat(stream, 20_001)},
		"unpacked": {object(packedZeros(t, ledgerStart, rest)), object(packedZeros(t, ledgerStart, rest+1))},
	} {
		t.Run(name, func(t *testing.T) {
			if _, err := Walk(test.within, DefaultLimits()); err != nil {
				t.Errorf("within: %v", err)
			}
			if _, err := Walk(test.above, DefaultLimits()); !errors.Is(err, ErrTooLarge) {
				t.Errorf("above: got %v, want ErrTooLarge", err)
			}
		})
	}
}

// TestFileSizeInUse holds the 64 MiB of a paper and a bundle from both sides.
func TestFileSizeInUse(t *testing.T) {
	const most = 64 << 20
	face := example(t, "face.pdf")
	sized := func(make func(Files) ([]byte, error), size int) error {
		const some = most - 10_000 // a Length of as many digits as in the end
		out, err := make(Files{Ledger: bytes.Repeat([]byte("x"), some)})
		if err != nil {
			return err
		}
		out, err = make(Files{Ledger: bytes.Repeat([]byte("x"), size-len(out)+some)})
		if err == nil && len(out) != size {
			return fmt.Errorf("%d bytes, want %d", len(out), size)
		}
		return err
	}
	paper := func(f Files) ([]byte, error) { return Paper(face, f) }
	for name, maker := range map[string]func(Files) ([]byte, error){"paper": paper, "bundle": Bundle} {
		if err := sized(maker, most); err != nil {
			t.Errorf("%s within: %v", name, err)
		}
		if err := sized(maker, most+1); !errors.Is(err, ErrTooLarge) {
			t.Errorf("%s above: got %v, want ErrTooLarge", name, err)
		}
	}
	for _, test := range []struct {
		size int
		tail error
		zip  error
	}{{most, ErrNoTail, ErrBundle}, {most + 1, ErrTooLarge, ErrTooLarge}} {
		if _, err := TakePaper(make([]byte, test.size)); !errors.Is(err, test.tail) {
			t.Errorf("TakePaper of %d bytes: got %v, want %v", test.size, err, test.tail)
		}
		if _, err := TakeBundle(make([]byte, test.size)); !errors.Is(err, test.zip) {
			t.Errorf("TakeBundle of %d bytes: got %v, want %v", test.size, err, test.zip)
		}
	}
}

// TestBundleHoldsAtMostSoManyMembers holds the bound of a ZIP without ZIP64
// (PKWARE APPNOTE.TXT 4.4.1.4) from both sides.
func TestBundleHoldsAtMostSoManyMembers(t *testing.T) {
	var f Files
	for i := range 65_534 - 4 {
		f.Pictures = append(f.Pictures, Picture{Hex: fmt.Sprintf("%064x", i)})
	}
	taken, err := TakeBundle(mustBundle(t, f))
	if err != nil || len(taken.Pictures) != len(f.Pictures) {
		t.Errorf("%d pictures, error %v", len(taken.Pictures), err)
	}
	f.Pictures = append(f.Pictures, Picture{Hex: strings.Repeat("f", 64)})
	if _, err := Bundle(f); !errors.Is(err, ErrTooLarge) {
		t.Errorf("got %v, want ErrTooLarge", err)
	}
}
