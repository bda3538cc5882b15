package format

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"strconv"
	"strings"
	"time"
)

// Limits of the format.
const (
	MaxLeaf   = 65_535  // bytes of one leaf, both line ends included
	MaxLeaves = 100_000 // entries of one ledger
	SigSize   = 186     // bytes of the signature blob
	sigLine   = 248     // characters of line 2
	stampForm = "2006-01-02T15:04:05Z"
)

// Head is the state of a ledger at one moment: how many entries, and the
// RFC 6962 root over their leaves.
type Head struct {
	Size int64
	Root [sha256.Size]byte
}

// Line is line 1 of an entry, taken apart.
type Line struct {
	At   string // the writer's clock, UTC, 20 characters
	Body []byte // the canonical object of the body
	Key  string // fingerprint of the key that signed
	Kind string
	Prev Head
	V    int64
}

// Append writes the canonical line without its line end.
func (l Line) Append(dst []byte) ([]byte, error) {
	dst = append(dst, `{"at":`...)
	dst, err := appendText(dst, l.At)
	if err != nil {
		return nil, err
	}
	dst = append(dst, `,"body":`...)
	dst = append(dst, l.Body...)
	dst = append(dst, `,"key":`...)
	if dst, err = appendText(dst, l.Key); err != nil {
		return nil, err
	}
	dst = append(dst, `,"kind":`...)
	if dst, err = appendText(dst, l.Kind); err != nil {
		return nil, err
	}
	dst = append(dst, `,"prev":{"root":"`...)
	dst = base64.StdEncoding.AppendEncode(dst, l.Prev.Root[:])
	dst = append(dst, `","size":`...)
	dst = strconv.AppendInt(dst, l.Prev.Size, 10)
	dst = append(dst, `},"v":`...)
	dst = strconv.AppendInt(dst, l.V, 10)
	dst = append(dst, '}')
	_, err = ParseLine(dst)
	return dst, err
}

// ParseLine reads line 1 without its line end. The error is ErrShape.
func ParseLine(b []byte) (Line, error) {
	var l Line
	s := scanner{in: b}
	steps := []struct {
		before string
		read   func() error
	}{
		{`{"at":`, func() error { return s.plain(&l.At) }},
		{`,"body":`, func() error { return s.body(&l.Body) }},
		{`,"key":`, func() error { return s.plain(&l.Key) }},
		{`,"kind":`, func() error { return s.plain(&l.Kind) }},
		{`,"prev":{"root":`, func() error { return s.root(&l.Prev.Root) }},
		{`,"size":`, func() error { return s.count(&l.Prev.Size) }},
		{`},"v":`, func() error { return s.count(&l.V) }},
		{`}`, func() error { return nil }},
	}
	for _, step := range steps {
		if err := s.literal(step.before); err != nil {
			return Line{}, shapef("the six members are not as they must be at byte %d", s.at)
		}
		if err := step.read(); err != nil {
			return Line{}, err
		}
	}
	if s.at != len(b) {
		return Line{}, shapef("more follows the line at byte %d", s.at)
	}
	return l, l.check()
}

func (l Line) check() error {
	if !IsStamp(l.At) {
		return shapef("at %q is no date and time", l.At)
	}
	if !IsWord(l.Kind) {
		return shapef("kind %q is no word", l.Kind)
	}
	if l.V < 1 {
		return shapef("v is %d", l.V)
	}
	return nil
}

// IsStamp says whether s is a real UTC date and time of 20 characters,
// 2026-05-04T13:22:11Z, seconds 00 to 59.
func IsStamp(s string) bool {
	if len(s) != len(stampForm) || s[10] != 'T' {
		return false
	}
	_, err := time.Parse(stampForm, s)
	return err == nil
}

func (s *scanner) plain(out *string) error {
	raw, err := s.text()
	if err == nil {
		*out = unescape(raw)
	}
	return err
}

func (s *scanner) body(out *[]byte) error {
	start := s.at
	if s.peek() != '{' {
		return shapef("body is no object at byte %d", start)
	}
	if _, err := s.object(2); err != nil {
		return err
	}
	*out = s.in[start:s.at:s.at]
	return nil
}

func (s *scanner) count(out *int64) error {
	start := s.at
	v, err := s.integer()
	if err != nil {
		return err
	}
	n, ok := v.(int64)
	if !ok || n < 0 {
		return shapef("a count below 0 at byte %d", start)
	}
	*out = n
	return nil
}

func (s *scanner) root(out *[sha256.Size]byte) error {
	var text string
	if err := s.plain(&text); err != nil {
		return err
	}
	b, err := DecodeBase64(text)
	if err != nil || len(b) != sha256.Size {
		return shapef("root %q is no hash in base64", text)
	}
	copy(out[:], b)
	return nil
}

// DecodeBase64 reads standard base64 with padding (RFC 4648 section 4) and
// refuses all that its encoder would not write: other characters, line ends,
// bits set that carry nothing. The error is ErrShape.
func DecodeBase64(s string) ([]byte, error) {
	b, err := strict.DecodeString(s)
	if err != nil || strings.ContainsAny(s, "\r\n") {
		return nil, shapef("no base64")
	}
	return b, nil
}

var strict = base64.StdEncoding.Strict()

// EncodeBase64 writes standard base64 with padding.
func EncodeBase64(b []byte) string { return base64.StdEncoding.EncodeToString(b) }

// Fingerprint returns the fingerprint of a public key line
// "ssh-ed25519 AAAA…": SHA256: and the base64 of the SHA-256 of the key blob
// without padding, as ssh-keygen -l prints it. The error is ErrShape.
func Fingerprint(keyLine string) (string, error) {
	text, ok := strings.CutPrefix(keyLine, "ssh-ed25519 ")
	if !ok {
		return "", shapef("no ssh-ed25519 key line")
	}
	blob, err := DecodeBase64(text)
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(blob)
	return "SHA256:" + base64.RawStdEncoding.EncodeToString(sum[:]), nil
}

// Leaf returns the two lines of an entry: line 1, its signature blob in
// base64, a line end after each.
func Leaf(line, sig []byte) ([]byte, error) {
	if len(sig) != SigSize {
		return nil, shapef("a signature of %d bytes", len(sig))
	}
	leaf := make([]byte, 0, len(line)+sigLine+2)
	leaf = append(append(leaf, line...), '\n')
	leaf = append(base64.StdEncoding.AppendEncode(leaf, sig), '\n')
	if len(leaf) > MaxLeaf {
		return nil, shapef("%d bytes, %d at most", len(leaf), MaxLeaf)
	}
	return leaf, nil
}

// ReadLeaf takes the first leaf off text: line 1 and the signature blob, and
// the bytes of the whole leaf. The error is ErrShape.
func ReadLeaf(text []byte) (line, sig, leaf []byte, err error) {
	window := text[:min(len(text), MaxLeaf)]
	first := bytes.IndexByte(window, '\n')
	if first < 0 {
		return nil, nil, nil, shapef("a line without an end, or over %d bytes", MaxLeaf)
	}
	second := bytes.IndexByte(window[first+1:], '\n')
	if second < 0 {
		return nil, nil, nil, shapef("an entry without its signature line, or over %d bytes", MaxLeaf)
	}
	end := first + 1 + second
	sig, err = DecodeBase64(string(text[first+1 : end]))
	if err != nil || len(sig) != SigSize {
		return nil, nil, nil, shapef("the signature line is not %d bytes in base64", SigSize)
	}
	return text[:first:first], sig, text[: end+1 : end+1], nil
}
