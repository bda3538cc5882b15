package format

import (
	"bytes"
	"strconv"
)

// Parse reads one value and refuses every line that [Append] would not write
// byte for byte. The error is ErrShape.
func Parse(b []byte) (Value, error) {
	s := scanner{in: b, build: true}
	v, err := s.value(1)
	if err != nil {
		return nil, err
	}
	if s.at != len(b) {
		return nil, shapef("more follows the value at byte %d", s.at)
	}
	return v, nil
}

// scanner walks canonical JSON. Without build it only checks.
type scanner struct {
	in    []byte
	at    int
	build bool
}

func (s *scanner) peek() byte {
	if s.at < len(s.in) {
		return s.in[s.at]
	}
	return 0
}

func (s *scanner) take(c byte) error {
	if s.at >= len(s.in) || s.in[s.at] != c {
		return shapef("%q expected at byte %d", c, s.at)
	}
	s.at++
	return nil
}

func (s *scanner) value(depth int) (Value, error) {
	switch c := s.peek(); {
	case c == '"':
		raw, err := s.text()
		if err != nil || !s.build {
			return nil, err
		}
		return unescape(raw), nil
	case c == '{':
		return s.object(depth)
	case c == '[':
		return s.array(depth)
	case c == '-' || c >= '0' && c <= '9':
		return s.integer()
	case c == 't':
		return true, s.literal("true")
	case c == 'f':
		return false, s.literal("false")
	}
	return nil, shapef("no value at byte %d", s.at)
}

func (s *scanner) literal(word string) error {
	if len(s.in)-s.at < len(word) || string(s.in[s.at:s.at+len(word)]) != word {
		return shapef("no value at byte %d", s.at)
	}
	s.at += len(word)
	return nil
}

func (s *scanner) integer() (Value, error) {
	start := s.at
	if s.peek() == '-' {
		s.at++
	}
	digits := s.at
	for c := s.peek(); c >= '0' && c <= '9'; c = s.peek() {
		s.at++
	}
	text := s.in[start:s.at]
	bad := s.at == digits || s.at-digits > 16 ||
		s.in[digits] == '0' && (s.at-digits > 1 || digits > start)
	if bad {
		return nil, shapef("no integer at byte %d", start)
	}
	n, err := strconv.ParseInt(string(text), 10, 64)
	if err != nil || n > MaxInteger || n < -MaxInteger {
		return nil, shapef("integer out of range at byte %d", start)
	}
	return n, nil
}

// text reads a quoted text and returns what stands between the quotes.
func (s *scanner) text() ([]byte, error) {
	if err := s.take('"'); err != nil {
		return nil, err
	}
	start := s.at
	for s.at < len(s.in) && s.in[s.at] != '"' {
		if s.in[s.at] == '\\' {
			s.at++
			if c := s.peek(); c != '"' && c != '\\' {
				return nil, shapef("an escape that is not needed at byte %d", s.at)
			}
		}
		s.at++
	}
	raw := s.in[start:s.at]
	if i := badText(raw); i >= 0 {
		return nil, shapef("a character that is not allowed at byte %d", start+i)
	}
	return raw, s.take('"')
}

func unescape(raw []byte) string {
	if bytes.IndexByte(raw, '\\') < 0 {
		return string(raw)
	}
	out := make([]byte, 0, len(raw))
	for i := 0; i < len(raw); i++ {
		if raw[i] == '\\' {
			i++
		}
		out = append(out, raw[i])
	}
	return string(out)
}

func (s *scanner) array(depth int) (Value, error) {
	if depth > MaxDepth {
		return nil, shapef("deeper than %d at byte %d", MaxDepth, s.at)
	}
	s.at++
	out := Array{}
	for first := true; s.peek() != ']'; first = false {
		if !first {
			if err := s.take(','); err != nil {
				return nil, err
			}
		}
		v, err := s.value(depth + 1)
		if err != nil {
			return nil, err
		}
		if s.build {
			out = append(out, v)
		}
	}
	s.at++
	return out, nil
}

func (s *scanner) object(depth int) (Value, error) {
	if depth > MaxDepth {
		return nil, shapef("deeper than %d at byte %d", MaxDepth, s.at)
	}
	s.at++
	var out Object
	if s.build {
		out = Object{}
	}
	last := ""
	for s.peek() != '}' {
		if last != "" {
			if err := s.take(','); err != nil {
				return nil, err
			}
		}
		name, err := s.name(last)
		if err != nil {
			return nil, err
		}
		v, err := s.value(depth + 1)
		if err != nil {
			return nil, err
		}
		if s.build {
			out[name] = v
		}
		last = name
	}
	s.at++
	return out, nil
}

// name reads a member name and its colon; it must come after last.
func (s *scanner) name(last string) (string, error) {
	start := s.at
	raw, err := s.text()
	if err != nil {
		return "", err
	}
	name := string(raw)
	if !IsWord(name) {
		return "", shapef("member name at byte %d is no word", start)
	}
	if name <= last {
		return "", shapef("member names out of order or twice at byte %d", start)
	}
	return name, s.take(':')
}
