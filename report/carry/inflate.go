package carry

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
)

// inflateChunk is how much is unpacked at a time.
const inflateChunk = 32 << 10

// inflater unpacks zlib data (RFC 1950) and keeps its memory from one stream
// to the next.
type inflater struct {
	reader io.Reader
	chunk  []byte
}

// open begins to unpack data.
func (z *inflater) open(data io.Reader) error {
	if resetter, ok := z.reader.(zlib.Resetter); ok {
		return resetter.Reset(data, nil)
	}
	reader, err := zlib.NewReader(data)
	if err != nil {
		return err
	}
	z.reader = reader
	z.chunk = make([]byte, inflateChunk)
	return nil
}

// looksPacked says whether data begin with the two bytes of a zlib header
// (RFC 1950, section 2.2).
func looksPacked(data []byte) bool {
	return len(data) >= 2 && data[0]&0x0f == 8 && data[0]>>4 <= 7 &&
		(int(data[0])<<8|int(data[1]))%31 == 0
}

// inflate unpacks the stream from start to end: nil when it is not packed or
// holds nothing of interest. It unpacks twice, first to count, so that a text
// above the limits takes no memory.
func (w *walker) inflate(start, end int) ([]byte, error) {
	data := w.pdf[start:end]
	if !looksPacked(data) {
		return nil, nil
	}
	size, err := w.measure(data)
	if err != nil || size == 0 {
		return nil, err
	}
	if err := w.inflater.open(bytes.NewReader(data)); err != nil {
		return nil, fmt.Errorf("unpack again: %w", err)
	}
	text := make([]byte, size)
	if _, err := io.ReadFull(w.inflater.reader, text); err != nil {
		return nil, fmt.Errorf("unpack again: %w", err)
	}
	return text, nil
}

// measure unpacks data without keeping them and returns their length, 0 when
// they are of no interest. An error in the data ends them.
func (w *walker) measure(data []byte) (int, error) {
	source := bytes.NewReader(data)
	if err := w.inflater.open(source); err != nil {
		return 0, nil
	}
	chunk := w.inflater.chunk
	size, err := io.ReadFull(w.inflater.reader, chunk[:len(ledgerStart)])
	kind := kindOf(chunk[:size])
	total := size
	for err == nil && kind != nothing && w.unpacked+total <= w.limits.Unpacked {
		var n int
		n, err = w.inflater.reader.Read(chunk)
		total += n
		if kind == slips && slipReach(chunk[:n]) < n {
			kind = nothing
		}
	}
	w.unpacked += total
	if w.unpacked > w.limits.Unpacked {
		return 0, fmt.Errorf("%w: its streams unpack to more than %d bytes", ErrTooLarge, w.limits.Unpacked)
	}
	if err := w.charge(len(data) - source.Len()); err != nil || kind == nothing {
		return 0, err
	}
	return total, nil
}
