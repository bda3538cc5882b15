package carry

import (
	"bytes"
	"errors"
	"testing"
)

// megabyteLedger is a text of 1 MiB made of the example's leaves.
func megabyteLedger(b *testing.B) []byte {
	b.Helper()
	ledger := exampleFiles(b).Ledger
	return bytes.Repeat(ledger, 1+(1<<20)/len(ledger))[:1<<20]
}

func BenchmarkTakePaper(b *testing.B) {
	files := exampleFiles(b)
	files.Ledger = megabyteLedger(b)
	paper := mustPaper(b, example(b, "face.pdf"), files)
	b.SetBytes(int64(len(paper)))
	b.ReportAllocs()
	for b.Loop() {
		taken, err := TakePaper(paper)
		if err != nil || !taken.Exact {
			b.Fatal(taken.Exact, err)
		}
	}
}

func BenchmarkTakeBundle(b *testing.B) {
	files := exampleFiles(b)
	files.Ledger = megabyteLedger(b)
	zip := mustBundle(b, files)
	b.SetBytes(int64(len(zip)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := TakeBundle(zip); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkWalkPacked walks a PDF with a packed ledger of 1 MiB.
func BenchmarkWalkPacked(b *testing.B) {
	pdf := object(deflated(b, megabyteLedger(b)))
	b.ReportAllocs()
	for b.Loop() {
		if walked := mustWalk(b, pdf); len(walked.Ledgers) != 1 {
			b.Fatal("no ledger")
		}
	}
}

// BenchmarkWalkBomb walks files of 1 MiB that ask for much work: one stream
// that unpacks to 1 GiB, like a ledger and as zeros; streams that unpack to
// 32 KiB of nothing each; packed blocks that each bring tables and hold
// nothing. The goal is 1 s and 128 MB.
func BenchmarkWalkBomb(b *testing.B) {
	small := append(append([]byte("stream\n"), deflated(b, make([]byte, 32<<10))...), '\n')
	for name, pdf := range map[string][]byte{
		"ledger":  bomb(b, ledgerStart),
		"zeros":   bomb(b, ""),
		"streams": bytes.Repeat(small, min(20_000, (1<<20)/len(small))),
		"blocks":  object(emptyBlocks(1 << 20)),
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Walk(pdf, DefaultLimits()); err != nil && !errors.Is(err, ErrTooLarge) {
					b.Fatal(err)
				}
			}
		})
	}
}

// emptyBlocks is zlib data of about so many bytes: blocks with tables of their
// own and no content (RFC 1951, 3.2.7), 90 bits each.
func emptyBlocks(size int) []byte {
	var bits []byte
	put := func(value, count int) {
		for i := range count {
			bits = append(bits, byte(value>>i&1))
		}
	}
	for range 8 {
		put(0, 1)    // not the last block
		put(2, 2)    // tables of its own
		put(0, 5)    // 257 literal codes
		put(0, 5)    // 1 distance code
		put(18-4, 4) // 18 lengths of the code for lengths follow, in this order
		for _, symbol := range []int{16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1} {
			if symbol == 1 || symbol == 18 {
				put(1, 3) // codes of one bit: 1 is 0, 18 is 1
			} else {
				put(0, 3)
			}
		}
		put(1, 1)
		put(138-11, 7) // 138 literals without a code
		put(1, 1)
		put(118-11, 7) // 118 more
		put(0, 1)      // the end of the block: one bit
		put(0, 1)      // the distance: one bit
		put(0, 1)      // the end of the block
	}
	block := make([]byte, len(bits)/8)
	for i, bit := range bits {
		block[i/8] |= bit << (i % 8)
	}
	return append([]byte{0x78, 0x01}, bytes.Repeat(block, size/len(block))...)
}
