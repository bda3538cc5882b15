package check

import (
	"bytes"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/format"
	"lapmark/report/carry"
)

// ledgerOf10 is a ledger of ten entries: the house's, a guest's, a key-change,
// a correction, a given-out.
func ledgerOf10(t testing.TB) *writer {
	t.Helper()
	w := coachOf3(t)
	w.add(seed("low ferry"), "remark", format.Object{"shop": signerBody("Low Ferry Coachworks")}, map[string]string{"note": "seen"})
	w.add(w.house, "remark", format.Object{"adopts": format.Array{int64(4)}}, nil)
	w.giveOut(w.house, nil, nil)
	w.keyChange("quillstead", "quillstead 2", nil)
	w.add(w.house, "finding", findingBody("F2"), map[string]string{"no-photo": "dark"})
	w.add(w.house, "correction", format.Object{
		"answers": format.Array{int64(8)},
		"changes": format.Array{format.Object{"at": "/soon", "old": "before-rain", "new": "no-need"}},
	}, map[string]string{"why": "dry", "found": "at the desk"})
	w.giveOut(w.house, nil, nil)
	require.EqualValues(t, 10, w.edge.Size())
	return w
}

// eachByte changes each byte of a file, by its lowest, a middle or its highest
// bit in turn, every 23rd byte by each of them, and asks every answer.
func eachByte(t *testing.T, file []byte, wrong func(at int, a Answer) bool) {
	t.Helper()
	all := []byte{0x01, 0x20, 0x80}
	workers := runtime.NumCPU()
	var wait sync.WaitGroup
	for worker := range workers {
		wait.Add(1)
		go func() {
			defer wait.Done()
			in := input(t, bytes.Clone(file))
			in.DemoFolder = true // so that no demo keys are made on the way
			for at := worker; at < len(file); at += workers {
				ways := all[at%len(all):][:1]
				if at%23 == 0 {
					ways = all
				}
				for _, way := range ways {
					in.File[at] = file[at] ^ way
					if a := Verify(in); wrong(at, a) {
						t.Errorf("byte %d, %#02x to %#02x: exit %d, whole %v, paper %s", at, file[at], in.File[at], a.Exit(), a.Whole, a.Paper)
					}
				}
				in.File[at] = file[at]
			}
		}()
	}
	wait.Wait()
}

func TestOneByteOfALedgerChanged(t *testing.T) {
	w := ledgerOf10(t)
	in := input(t, w.text)
	a := Verify(in)
	require.True(t, a.Whole, a.Text())
	require.Empty(t, a.Unsettled)
	eachByte(t, w.text, func(_ int, a Answer) bool { return a.Exit() == 0 || a.Exit() == 7 || a.Whole })
}

func TestOneByteOfAPaperChanged(t *testing.T) {
	w := newWriter(t, "quillstead")
	w.add(w.house, "not-looked-at", format.Object{"places": format.Array{field(0, 3700)}}, map[string]string{"why": "the holder’s wish"})
	paper := w.history(w.house)
	require.Equal(t, 0, Verify(input(t, paper)).Exit())
	eachByte(t, paper, func(_ int, a Answer) bool { return a.Exit() == 0 || a.Paper == LeftTheHouse })
}

func TestOneByteOfABundleChanged(t *testing.T) {
	w := newWriter(t, "quillstead")
	w.add(w.house, "not-looked-at", format.Object{"places": format.Array{field(0, 3700)}}, map[string]string{"why": "the holder’s wish"})
	zip := w.bundle(w.house)
	require.Equal(t, 0, Verify(input(t, zip)).Exit())
	from := bytes.Index(zip, w.text)
	to := from + len(w.text)
	eachByte(t, zip, func(at int, a Answer) bool {
		touched := at >= from && at < to // the ledger; elsewhere the frame or another file
		return a.Exit() == 0 || a.Exit() == 7 || a.Bundle == BundleLeft || a.Paper == LeftTheHouse ||
			a.Whole == touched || touched == (a.FirstBad == 0)
	})
}

// A file cut off at any byte is never settled; a ledger cut off between two
// entries is whole alone, and says what it is complete up to.
func TestCutOffAnywhere(t *testing.T) {
	w := ledgerOf10(t)
	ends := map[int]bool{}
	for text := w.text; len(text) > 0; {
		_, _, leaf, err := format.ReadLeaf(text)
		require.NoError(t, err)
		text = text[len(leaf):]
		ends[len(w.text)-len(text)] = true
	}
	require.Len(t, ends, 10)
	for at := 0; at < len(w.text); at += 29 {
		if ends[at] {
			continue
		}
		a := Verify(input(t, w.text[:at]))
		require.NotEqual(t, 0, a.Exit())
		require.False(t, a.Whole)
	}
	for at := range ends {
		require.True(t, Verify(input(t, w.text[:at])).Whole)
	}
	paper := newWriter(t, "quillstead").history(seed("quillstead"))
	for at := 0; at < len(paper); at += 19 {
		a := Verify(input(t, paper[:at]))
		require.NotEqual(t, 0, a.Exit())
		require.NotEqual(t, LeftTheHouse, a.Paper)
	}
}

// The same by a hand that knows the format: a byte of a carried file changed,
// then the paper and the bundle built again around it.
func TestOneByteOfACarriedFileChanged(t *testing.T) {
	w := newWriter(t, "quillstead")
	w.add(w.house, "not-looked-at", format.Object{"places": format.Array{field(0, 3700)}}, map[string]string{"why": "the holder’s wish"})
	zipped := w.side()
	zipped.bundle(w.house)
	face := w.face()
	w.giveOut(w.house, nil, map[string]string{faceName: hexOf(face)})
	parts := map[string]func(f *carry.Files) *[]byte{
		"ledger.txt":       func(f *carry.Files) *[]byte { return &f.Ledger },
		"words.txt":        func(f *carry.Files) *[]byte { return &f.Words },
		"private.txt":      func(f *carry.Files) *[]byte { return &f.Private },
		"how-to-check.txt": func(f *carry.Files) *[]byte { return &f.HowToCheck },
	}
	for name, part := range parts {
		files, zipFiles := w.files(faceName, "holder-name"), zipped.files("holder-name")
		kept, zipKept := *part(&files), *part(&zipFiles)
		for at := 0; at < len(kept); at += 9 {
			*part(&files) = flipped(kept, at)
			a := Verify(input(t, mustPaper(t, face, files)))
			require.Equal(t, PagesDiffer, a.Paper, "%s, byte %d", name, at)
			require.Equal(t, 3, a.Exit())
		}
		for at := 0; at < len(zipKept); at += 9 {
			*part(&zipFiles) = flipped(zipKept, at)
			a := Verify(input(t, mustBundle(t, zipFiles)))
			require.Equal(t, BundleDiffers, a.Bundle, "%s, byte %d", name, at)
			require.Equal(t, 3, a.Exit())
		}
	}
}

func flipped(text []byte, at int) []byte {
	out := bytes.Clone(text)
	out[at] ^= 1
	return out
}
