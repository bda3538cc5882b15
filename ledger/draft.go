package ledger

import (
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"lapmark/ledger/format"
)

// Draft is a note before it is inked, or an entry set in a note's form again:
// the body without its commitments, with references and pictures by the names
// that people use, and the private values and free texts in the clear.
type Draft struct {
	Kind    string
	Body    format.Object
	Private map[string]string
}

// ErrSaidTwice is a private value or text that stands twice in one note.
var ErrSaidTwice = errors.New("said twice")

// Say sets a private value or a free text.
func (d *Draft) Say(name, value string) error {
	if _, twice := d.Private[name]; twice {
		return ErrSaidTwice
	}
	if d.Private == nil {
		d.Private = map[string]string{}
	}
	d.Private[name] = value
	return nil
}

// Clone returns a copy that shares nothing with d.
func (d Draft) Clone() Draft {
	body, _ := format.Clone(d.Body).(format.Object)
	private := make(map[string]string, len(d.Private))
	for name, value := range d.Private {
		private[name] = value
	}
	return Draft{Kind: d.Kind, Body: body, Private: private}
}

func sortedNames(m map[string]string) []string { return slices.Sorted(maps.Keys(m)) }

// Text returns a member of the body that is a text, "" where there is none.
func (d Draft) Text(name string) string {
	s, _ := d.Body[name].(string)
	return s
}

// No is the number of an entry: N, or N/Branch for an entry of a side branch
// that parted after entry N.
type No struct{ N, Branch int64 }

// String is "60", or "60/1" for an entry of a side branch.
func (n No) String() string {
	if n.Branch == 0 {
		return Decimal(n.N)
	}
	return Decimal(n.N) + "/" + Decimal(n.Branch)
}

// Value is the number as a body holds it: an integer, or the text "60/1".
func (n No) Value() format.Value {
	if n.Branch == 0 {
		return n.N
	}
	return n.String()
}

// ParseNo reads "60" or "60/1".
func ParseNo(s string) (n No, ok bool) {
	main, branch, sided := strings.Cut(s, "/")
	n.N, ok = natural(main)
	if sided && ok {
		n.Branch, ok = natural(branch)
	}
	return n, ok
}

// NoOf reads a number as a body holds it.
func NoOf(v format.Value) (n No, ok bool) {
	switch v := v.(type) {
	case int64:
		return No{N: v}, v > 0
	case string:
		n, ok = ParseNo(v)
		return n, ok && n.Branch > 0
	}
	return No{}, false
}

func natural(s string) (int64, bool) {
	n, err := strconv.ParseInt(s, 10, 64)
	return n, err == nil && n > 0 && n <= format.MaxInteger && s == Decimal(n)
}

// Decimal writes n in decimal.
func Decimal(n int64) string { return strconv.FormatInt(n, 10) }

// IsMark says whether s is the mark of a person: small letters and hyphens,
// with an optional number at the end (hand-1).
func IsMark(s string) bool {
	name := strings.TrimRight(s, "0123456789")
	number := s[len(name):]
	if number != "" {
		if _, ok := natural(number); !ok || !strings.HasSuffix(name, "-") {
			return false
		}
		name = strings.TrimSuffix(name, "-")
	}
	return name != "" && len(s) <= 40 && name[0] != '-' && name[len(name)-1] != '-' &&
		strings.Trim(name, "abcdefghijklmnopqrstuvwxyz-") == ""
}
