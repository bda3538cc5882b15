package ledger

import (
	"lapmark/ledger/chain"
	"lapmark/ledger/format"
)

// Role is in what right a key wrote an entry.
type Role int

// The three roles.
const (
	House Role = iota
	Recovery
	Guest
)

// String is the word for the role.
func (r Role) String() string { return [...]string{"house", "recovery", "guest"}[r] }

// Entry is one checked entry of a ledger.
type Entry struct {
	No   No
	Line format.Line
	L1   []byte     // line 1 without its line end
	Sig  []byte     // the signature blob
	Hash chain.Hash // leaf hash
	Key  string     // the public key line of the key that signed
	Role Role
	body format.Object
}

// Kind is the kind of the entry.
func (e *Entry) Kind() string { return e.Line.Kind }

// Body returns the body as signed. It is decoded once; nobody may change it.
func (e *Entry) Body() format.Object {
	if e.body == nil {
		v, err := format.Parse(e.Line.Body)
		o, ok := v.(format.Object)
		if err != nil || !ok {
			o = format.Object{}
		}
		e.body = o
	}
	return e.body
}

// Commitments returns the commitments of the entry by name.
func (e *Entry) Commitments() map[string]string {
	o, _ := e.Body()["private"].(format.Object)
	out := make(map[string]string, len(o))
	for name, v := range o {
		if s, ok := v.(string); ok {
			out[name] = s
		}
	}
	return out
}

// Happened is the day or moment the entry says it happened; Day its first ten
// characters.
func (e *Entry) Happened() string {
	s, _ := e.Body()["happened"].(string)
	return s
}

// Day is the calendar day of Happened, "" where it says none.
func (e *Entry) Day() string {
	if s := e.Happened(); len(s) >= 10 {
		return s[:10]
	}
	return ""
}

// Text returns a member of the body that is a text.
func (e *Entry) Text(name string) string {
	s, _ := e.Body()[name].(string)
	return s
}

// Refs returns the entry numbers in a member of the body.
func (e *Entry) Refs(name string) []No { return refs(e.Body()[name]) }

func refs(v format.Value) []No {
	list, _ := v.(format.Array)
	var out []No
	for _, one := range list {
		if no, ok := NoOf(one); ok {
			out = append(out, no)
		}
	}
	return out
}
