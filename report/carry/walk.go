package carry

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
)

// ErrEncrypted says that a PDF is encrypted, with or without a password.
var ErrEncrypted = errors.New("the PDF is encrypted")

// Walked is what stands in the streams of a PDF.
type Walked struct {
	// Ledgers are the texts that begin like a ledger, each once, in order of
	// appearance. The text of a side branch begins like one too.
	Ledgers [][]byte
	// Others are the texts of which every line is base64url and ends with
	// 0x0A, as the lines of words.txt and private.txt do; each once, in order
	// of appearance.
	Others [][]byte
}

const (
	streamWord    = "stream"
	endStreamWord = "endstream"

	// ledgerStart is how the first line of every entry begins.
	ledgerStart = `{"at":"`

	// dictionaryReach is how far before its stream a dictionary is looked for:
	// more than any dictionary of a stream we have seen; common practice, no
	// source.
	dictionaryReach = 4096
)

// Walk looks for a ledger in a PDF that some program saved again. It knows
// nothing of the structure of the file, which may be damaged or lie: it takes
// every stream (ISO 32000-1:2008, 7.3.8), plain or Flate, wherever one begins,
// also inside another. A stream that is cut off, or whose compressed data are
// damaged, counts as far as it goes. What is returned may share the memory of
// the PDF. Errors: ErrEncrypted; ErrTooLarge.
func Walk(pdf []byte, limits Limits) (Walked, error) {
	if err := limits.checkSize(len(pdf)); err != nil {
		return Walked{}, err
	}
	if encryptedTrailer(pdf) {
		return Walked{}, ErrEncrypted
	}
	w := walker{pdf: pdf, limits: limits, seen: make(map[[sha256.Size]byte]bool)}
	for at := 0; ; {
		next := bytes.Index(pdf[at:], []byte(streamWord))
		if next < 0 {
			return w.found, nil
		}
		word := at + next
		at = word + len(streamWord)
		if err := w.take(word); err != nil {
			return Walked{}, err
		}
	}
}

// walker goes through the streams of one PDF.
type walker struct {
	pdf    []byte
	limits Limits
	found  Walked
	seen   map[[sha256.Size]byte]bool

	streams  int // streams so far
	read     int // bytes of the file read from streams so far
	unpacked int // bytes unpacked so far
	lineEnd  int // the newest "endstream" found at the beginning of a line
	inflater inflater
}

// take looks at the stream whose word "stream" stands at this offset, when
// there begins one.
func (w *walker) take(word int) error {
	start, ok := dataStart(w.pdf, word)
	if !ok {
		return nil
	}
	w.streams++
	if w.streams > w.limits.Streams {
		return fmt.Errorf("%w: more than %d streams", ErrTooLarge, w.limits.Streams)
	}
	dictionary := dictionaryBefore(w.pdf[:word])
	if hasName(dictionary, "/XRef") && hasName(dictionary, "/Encrypt") {
		return ErrEncrypted
	}
	end, known := lengthFits(dictionary, w.pdf, start)
	text, err := w.inflate(start, end)
	if err != nil {
		return err
	}
	if text == nil && kindOf(w.pdf[start:]) != nothing {
		if !known {
			end = w.textEnd(start)
		}
		text = w.pdf[start:end:end]
		if err := w.charge(plainReach(text)); err != nil {
			return err
		}
	}
	w.keep(text)
	return nil
}

// charge counts bytes of the file that were read. Streams that do not lie over
// each other never come to more than the file has.
func (w *walker) charge(read int) error {
	w.read += read
	if w.read > w.limits.File {
		return fmt.Errorf("%w: its streams lie over each other", ErrTooLarge)
	}
	return nil
}

// keep puts a text that was not there yet where it belongs.
func (w *walker) keep(text []byte) {
	kind := kindOf(text)
	if kind == nothing || kind == slips && !isSlips(text) {
		return
	}
	sum := sha256.Sum256(text)
	if w.seen[sum] {
		return
	}
	w.seen[sum] = true
	if kind == ledger {
		w.found.Ledgers = append(w.found.Ledgers, text)
	} else {
		w.found.Others = append(w.found.Others, text)
	}
}

// textEnd returns where the plain text at start ends when no Length says so:
// at the next "endstream" that begins a line, which no line of a ledger or of
// slips does, or at the end of the file. The end of line that a writer may put
// before "endstream" is not of the text; that of the last line is.
func (w *walker) textEnd(start int) int {
	if w.lineEnd < start {
		w.lineEnd = nextEndStream(w.pdf, start-1)
	}
	text := w.pdf[start:max(start, w.lineEnd)]
	for _, own := range []string{"\r\n", "\n", "\r"} {
		if without, ok := bytes.CutSuffix(text, []byte(own)); ok && bytes.HasSuffix(without, []byte("\n")) {
			return start + len(without)
		}
	}
	return start + len(text)
}
