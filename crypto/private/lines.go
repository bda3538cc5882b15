package private

import (
	"fmt"
	"strings"
)

// Lines reads a text of slips, one a line, each line ended with 0x0A; it may be
// empty. A line that is no slip, or that comes twice, is refused: the error
// names its number, from 1, and wraps ErrMalformed. Text writes back the same
// bytes.
func Lines(text []byte) ([]string, error) {
	var slips []string
	first := make(map[string]int)
	rest := string(text)
	for number := 1; rest != ""; number++ {
		line, after, ended := strings.Cut(rest, "\n")
		if !ended {
			return nil, fmt.Errorf("line %d: %w: no line end", number, ErrMalformed)
		}
		if _, err := Parse(line); err != nil {
			return nil, fmt.Errorf("line %d: %w", number, err)
		}
		if first[line] != 0 {
			return nil, fmt.Errorf("line %d: %w: the same as line %d", number, ErrMalformed, first[line])
		}
		first[line] = number
		slips = append(slips, line)
		rest = after
	}
	return slips, nil
}

// Text returns slips as a text, one a line, in the order given.
func Text(slips []string) []byte {
	var text []byte
	for _, slip := range slips {
		text = append(append(text, slip...), '\n')
	}
	return text
}
