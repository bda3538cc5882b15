// Package console is the screen and the keyboard: answers go to Out, talk to
// Err, questions are asked only where somebody can answer.
package console

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode"

	"golang.org/x/term"
)

// ErrNobody says that a question was to be asked and nobody can answer it.
var ErrNobody = errors.New("there is nobody to ask")

// Console is a screen and a keyboard.
type Console struct {
	In      io.Reader
	Out     io.Writer       // the answer
	Err     io.Writer       // talk
	Silent  bool            // never ask
	Sits    bool            // somebody sits there, though lines come from no terminal
	Stopped <-chan struct{} // closed when the person wants to stop
	lines   *bufio.Reader
	hidden  func() ([]byte, error)
	key     func() ([]byte, error)
	restore func() error
}

// Standard is the console of the process.
func Standard() *Console {
	c := &Console{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}
	fd := int(os.Stdin.Fd())
	if state, err := term.GetState(fd); err == nil && term.IsTerminal(fd) {
		c.hidden = func() ([]byte, error) { return term.ReadPassword(fd) }
		c.restore = func() error { return term.Restore(fd, state) }
		c.key = func() ([]byte, error) { return oneKey(fd) }
	}
	return c
}

// Terminal says whether somebody sits at the keyboard.
func (c *Console) Terminal() bool { return (c.hidden != nil || c.Sits) && !c.Silent }

// Say writes one line of talk.
func (c *Console) Say(text string, args ...any) {
	if _, err := fmt.Fprintln(c.Err, Plain(fmt.Sprintf(text, args...))); err != nil {
		return // talk; nothing rests on it
	}
}

// Plain writes out what would move the cursor, ring, or turn the direction of a
// text on a terminal: U+001B for an escape. Line ends stay.
func Plain(text string) string {
	var out strings.Builder
	for _, r := range text {
		switch {
		case r == '\n':
			out.WriteRune(r)
		case r == '\t':
			out.WriteString("  ")
		case unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) || r == unicode.ReplacementChar:
			fmt.Fprintf(&out, "‹U+%04X›", r)
		default:
			out.WriteRune(r)
		}
	}
	return out.String()
}

type answer struct {
	text []byte
	err  error
}

// wait reads in the background, so that who wants to stop need not answer
// first. The error is then context.Canceled.
func (c *Console) wait(read func() ([]byte, error)) ([]byte, error) {
	got := make(chan answer, 1)
	go func() {
		text, err := read()
		got <- answer{text, err}
	}()
	select {
	case a := <-got:
		return a.text, a.err
	case <-c.Stopped:
		if c.restore != nil {
			return nil, errors.Join(context.Canceled, c.restore())
		}
		return nil, context.Canceled
	}
}

// Line reads one line. The error is ErrNobody where nothing may be asked or
// nothing more comes.
func (c *Console) Line() (string, error) {
	if c.Silent {
		return "", ErrNobody
	}
	if c.lines == nil {
		c.lines = bufio.NewReader(c.In)
	}
	text, err := c.wait(func() ([]byte, error) { return c.lines.ReadBytes('\n') })
	if err == io.EOF && len(text) > 0 {
		err = nil
	}
	if err == io.EOF {
		err = ErrNobody
	}
	return strings.TrimRight(string(text), "\r\n"), err
}

// Ask puts a question and reads the answer; an empty one is the usual one.
func (c *Console) Ask(question, usual string) (string, error) {
	if usual != "" {
		question += " [" + usual + "]"
	}
	if _, err := fmt.Fprintf(c.Err, "%s: ", question); err != nil {
		return "", err
	}
	answer, err := c.Line()
	if err != nil {
		return "", fmt.Errorf("%s: %w", question, err)
	}
	if answer = strings.TrimSpace(answer); answer == "" {
		return usual, nil
	}
	return answer, nil
}

// oneKey reads one key as it is struck.
func oneKey(fd int) (key []byte, err error) {
	raw, err := term.MakeRaw(fd)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, term.Restore(fd, raw)) }()
	key = make([]byte, 1)
	_, err = os.Stdin.Read(key)
	return key, err
}

const (
	keyInterrupt = 3  // Ctrl-C
	keyEscape    = 27 // begins arrows and the like, which answer nothing
)

// Choose puts a question that one key answers: the number of a choice, from 1 to
// most, or Enter for none, which is 0. Without a terminal a line answers.
func (c *Console) Choose(question string, most int) (int, error) {
	for {
		if _, err := fmt.Fprintf(c.Err, "%s (1 to %d, Enter for neither): ", question, most); err != nil {
			return 0, err
		}
		text, err := c.struck()
		if err != nil {
			return 0, fmt.Errorf("%s: %w", question, err)
		}
		if text == "" {
			return 0, nil
		}
		if n := int(text[0] - '0'); len(text) == 1 && n >= 1 && n <= most {
			return n, nil
		}
	}
}

// struck is the key struck, shown, or the line where there is no terminal; ""
// is Enter.
func (c *Console) struck() (string, error) {
	if c.key == nil || c.Silent || c.lines != nil && c.lines.Buffered() > 0 {
		text, err := c.Line()
		return strings.TrimSpace(text), err
	}
	key, err := c.wait(c.key)
	if err != nil {
		return "", err
	}
	switch key[0] {
	case keyInterrupt:
		return "", context.Canceled
	case '\r', '\n':
		c.Say("")
		return "", nil
	case keyEscape:
		return "?", nil
	}
	c.Say("%s", key)
	return string(key), nil
}

// Yes asks a question that is answered with yes or no.
func (c *Console) Yes(question string) (bool, error) {
	answer, err := c.Ask(question+" (yes or no)", "no")
	return answer == "yes" || answer == "y", err
}

// Secret asks for a passphrase without showing it. Without a terminal it reads
// a line.
func (c *Console) Secret(question string) ([]byte, error) {
	if c.Silent {
		return nil, fmt.Errorf("%s: %w", question, ErrNobody)
	}
	if _, err := fmt.Fprintf(c.Err, "%s: ", question); err != nil {
		return nil, err
	}
	if c.hidden == nil {
		s, err := c.Line()
		return []byte(s), err
	}
	secret, err := c.wait(c.hidden)
	c.Say("")
	return secret, err
}
