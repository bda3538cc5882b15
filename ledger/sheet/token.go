package sheet

import (
	"strings"
)

// token is one word, number, tag, day, time or unit of a line, or a whole text
// between quotes.
type token struct {
	s    string
	text bool
}

type item []token

type part []item

func bare(words ...string) item {
	out := make(item, len(words))
	for i, w := range words {
		out[i] = token{s: w}
	}
	return out
}

func quoted(s string) token { return token{s: s, text: true} }

func (t token) String() string {
	if t.text {
		return `"` + strings.ReplaceAll(t.s, `"`, `""`) + `"`
	}
	return t.s
}

func (i item) String() string {
	words := make([]string, len(i))
	for n, t := range i {
		words[n] = t.String()
	}
	return strings.Join(words, " ")
}

func (p part) String() string {
	items := make([]string, len(p))
	for n, i := range p {
		items[n] = i.String()
	}
	return strings.Join(items, ", ")
}

// first returns the first word of an item, "" where a text comes first.
func (i item) first() string {
	if len(i) == 0 || i[0].text {
		return ""
	}
	return i[0].s
}

// label puts a word before the first item.
func (p part) label(word string) part {
	if word == "" || len(p) == 0 {
		return p
	}
	out := append(part{}, p...)
	out[0] = append(bare(word), out[0]...)
	return out
}

// unlabel takes the first word off the first item.
func (p part) unlabel() part {
	out := append(part{}, p...)
	out[0] = out[0][1:]
	if len(out[0]) == 0 {
		return out[1:]
	}
	return out
}

// split takes a canonical line, behind its head, apart.
func split(line string) ([]part, error) {
	var parts []part
	var p part
	var i item
	rest := line
	for {
		t, after, err := nextToken(rest)
		if err != nil {
			return nil, err
		}
		i = append(i, t)
		switch {
		case after == "":
			return append(parts, append(p, i)), nil
		case strings.HasPrefix(after, "; "):
			parts, p, i = append(parts, append(p, i)), nil, nil
			rest = after[2:]
		case strings.HasPrefix(after, ", "):
			p, i = append(p, i), nil
			rest = after[2:]
		case after[0] == ' ':
			rest = after[1:]
		default:
			return nil, unclear(ReasonWord, "%q stands right behind %s: a comma or semicolon has a space behind it", after[:1], t)
		}
	}
}

func nextToken(s string) (token, string, error) {
	if strings.HasPrefix(s, `"`) {
		return nextText(s)
	}
	end := strings.IndexAny(s, " ,;\"")
	if end < 0 {
		end = len(s)
	}
	if end == 0 {
		return token{}, "", unclear(ReasonWord, "a space, comma or semicolon too many before %q", clip(s))
	}
	return token{s: s[:end]}, s[end:], nil
}

func nextText(s string) (token, string, error) {
	var out strings.Builder
	for at := 1; at < len(s); at++ {
		if s[at] != '"' {
			out.WriteByte(s[at])
			continue
		}
		if at+1 < len(s) && s[at+1] == '"' {
			out.WriteByte('"')
			at++
			continue
		}
		return quoted(out.String()), s[at+1:], nil
	}
	return token{}, "", unclear(ReasonWord, "the text %s has no closing quote", clip(s))
}

func clip(s string) string {
	if r := []rune(s); len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return s
}

// cursor walks the tokens of one item.
type cursor struct {
	toks item
	at   int
}

func (c *cursor) done() bool { return c.at >= len(c.toks) }

func (c *cursor) peek() string {
	if c.done() || c.toks[c.at].text {
		return ""
	}
	return c.toks[c.at].s
}

func (c *cursor) next() string {
	w := c.peek()
	if w != "" {
		c.at++
	}
	return w
}

// take passes over a word if it is the next one.
func (c *cursor) take(word string) bool {
	if c.peek() == word && word != "" {
		c.at++
		return true
	}
	return false
}

func (c *cursor) text() (string, bool) {
	if c.done() || !c.toks[c.at].text {
		return "", false
	}
	c.at++
	return c.toks[c.at-1].s, true
}

func (c *cursor) rest() string { return c.toks[min(c.at, len(c.toks)):].String() }
