package keyring

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"lapmark/crypto/sshsig"
)

// What a list of keys does not take in or does not have.
var (
	ErrDemoKey   = errors.New("a demo key, its secret is known to everybody")
	ErrNameTaken = errors.New("the name is in the list already")
	ErrKeyListed = errors.New("the key is in the list already")
	ErrNotListed = errors.New("the name is not in the list")
)

// namespaces is the one option of a line; ssh-keygen -Y verify keeps to it too.
const namespaces = `namespaces="` + sshsig.EntryNamespace + "," + sshsig.AcceptNamespace + `"`

// Named is a key under the name by which a list knows it.
type Named struct {
	Name    string // [a-z0-9][a-z0-9.-]*
	Key     sshsig.PublicKey
	Comment string // for people: printable, words parted by one space, not empty
}

// Trust is a list of keys, the content of a file trust or trust-retired: a
// narrow form of OpenSSH's allowed signers (ssh-keygen(1)). It is UTF-8, each
// line ends with 0x0A. Empty lines and lines that begin with # are kept as
// they are; every other line is exactly
//
//	NAME namespaces="entry.v1@lapmark,accept.v1@lapmark" ssh-ed25519 KEY COMMENT
//
// with single spaces and each name once. The zero value is the empty list.
type Trust struct {
	lines []trustLine
}

// trustLine is a line as it stands; named is nil where it holds no key.
type trustLine struct {
	text  string
	named *Named
}

// TrustError says which line of a list, from 1, is not in its form. Err may
// wrap sshsig.ErrWeakKey, sshsig.ErrMalformed or ErrNameTaken.
type TrustError struct {
	Line int
	Err  error
}

func (e *TrustError) Error() string { return fmt.Sprintf("line %d: %v", e.Line, e.Err) }

// Unwrap returns what is wrong with the line.
func (e *TrustError) Unwrap() error { return e.Err }

// ParseTrust reads a list. The error is a *TrustError. Demo keys are read: that
// they settle nothing is the reader's to say, see IsDemo.
func ParseTrust(text []byte) (Trust, error) {
	var list Trust
	rest := string(text)
	for number := 1; rest != ""; number++ {
		line, after, ended := strings.Cut(rest, "\n")
		if !ended {
			return Trust{}, &TrustError{Line: number, Err: errors.New("the line has no line end")}
		}
		if err := list.take(line); err != nil {
			return Trust{}, &TrustError{Line: number, Err: err}
		}
		rest = after
	}
	return list, nil
}

// take reads one line into the list.
func (t *Trust) take(line string) error {
	if !utf8.ValidString(line) {
		return errors.New("not UTF-8")
	}
	if line == "" || line[0] == '#' {
		t.lines = append(t.lines, trustLine{text: line})
		return nil
	}
	named, err := parseNamed(line)
	if err != nil {
		return err
	}
	if t.at(named.Name) >= 0 {
		return fmt.Errorf("%w: %s", ErrNameTaken, named.Name)
	}
	t.lines = append(t.lines, trustLine{text: line, named: &named})
	return nil
}

// Text returns the list as it was read, with what was added and without what
// was removed.
func (t *Trust) Text() []byte {
	var text []byte
	for _, line := range t.lines {
		text = append(append(text, line.text...), '\n')
	}
	return text
}

// Keys returns the keys in the order of the list.
func (t *Trust) Keys() []Named {
	var keys []Named
	for _, line := range t.lines {
		if line.named != nil {
			keys = append(keys, *line.named)
		}
	}
	return keys
}

// ByFingerprint returns the first key of the list with this fingerprint.
func (t *Trust) ByFingerprint(fingerprint string) (Named, bool) {
	return t.first(func(key sshsig.PublicKey) bool { return key.Fingerprint() == fingerprint })
}

// ByLine returns the first key of the list with this line
// (sshsig.PublicKey.Line), as sshsig.Verify returns it.
func (t *Trust) ByLine(keyLine string) (Named, bool) {
	return t.first(func(key sshsig.PublicKey) bool { return key.Line() == keyLine })
}

func (t *Trust) first(is func(sshsig.PublicKey) bool) (Named, bool) {
	for _, named := range t.Keys() {
		if is(named.Key) {
			return named, true
		}
	}
	return Named{}, false
}

// Add puts a key at the end of the list. The error wraps ErrDemoKey,
// ErrNameTaken, ErrKeyListed or sshsig.ErrWeakKey, or says what is wrong with
// the name or the comment.
func (t *Trust) Add(named Named) error {
	if IsDemo(named.Key) {
		return fmt.Errorf("%w: %s", ErrDemoKey, named.Key.Fingerprint())
	}
	return t.add(named)
}

// AddDemo is Add for the list of a demo: it takes demo keys and no others.
func (t *Trust) AddDemo(named Named) error {
	if !IsDemo(named.Key) {
		return fmt.Errorf("%s is no demo key", named.Key.Fingerprint())
	}
	return t.add(named)
}

func (t *Trust) add(named Named) error {
	if there, ok := t.ByLine(named.Key.Line()); ok {
		return fmt.Errorf("%w: %s", ErrKeyListed, there.Name)
	}
	if err := named.check(); err != nil {
		return err
	}
	return t.take(named.line())
}

// Remove takes the line of a name out of the list; comment lines stay. The
// error wraps ErrNotListed.
func (t *Trust) Remove(name string) error {
	at := t.at(name)
	if at < 0 {
		return fmt.Errorf("%w: %s", ErrNotListed, name)
	}
	t.lines = slices.Concat(t.lines[:at], t.lines[at+1:])
	return nil
}

// at returns the index of the line of a name, -1 if there is none.
func (t *Trust) at(name string) int {
	return slices.IndexFunc(t.lines, func(line trustLine) bool {
		return line.named != nil && line.named.Name == name
	})
}

func (n Named) line() string {
	return n.Name + " " + namespaces + " " + n.Key.Line() + " " + n.Comment
}

func (n Named) check() error {
	if n.Name == "" || strings.Trim(n.Name, "abcdefghijklmnopqrstuvwxyz0123456789.-") != "" || strings.ContainsRune(".-", rune(n.Name[0])) {
		return fmt.Errorf("%q is no name: small letters, digits, dots and hyphens, first a letter or a digit", n.Name)
	}
	if n.Comment == "" || strings.Join(strings.Fields(n.Comment), " ") != n.Comment {
		return errors.New("the comment must be there, its words parted by single spaces")
	}
	if odd := strings.IndexFunc(n.Comment, func(r rune) bool { return !unicode.IsPrint(r) }); odd >= 0 {
		return fmt.Errorf("the comment has a character that does not print, at its byte %d", odd+1)
	}
	return n.Key.Check()
}

// parseNamed reads what Named.line writes and nothing else.
func parseNamed(line string) (Named, error) {
	name, rest, _ := strings.Cut(line, " ")
	rest, ok := strings.CutPrefix(rest, namespaces+" ")
	if !ok {
		return Named{}, fmt.Errorf("%s does not follow the name", namespaces)
	}
	parts := strings.SplitN(rest, " ", 3)
	if len(parts) < 3 {
		return Named{}, errors.New("key type, key and comment do not follow the namespaces")
	}
	key, err := sshsig.ParseLine(parts[0] + " " + parts[1])
	if err != nil {
		return Named{}, err
	}
	named := Named{Name: name, Key: key, Comment: parts[2]}
	return named, named.check()
}
