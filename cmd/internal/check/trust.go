package check

import (
	"strings"
	"sync"

	"lapmark/crypto/keyring"
	"lapmark/ledger"
	"lapmark/ledger/format"
)

// How a key stands with the reader.
type How string

// How a key stands with the reader.
const (
	InTrust     How = "in your trust"
	ByKeyChange How = "by key change"
	Unknown     How = "unknown"
	Retired     How = "retired"
	DemoKey     How = "demo key"
)

// SignedBy is the house at the last entry, and how its key stands with the
// reader.
type SignedBy struct {
	House       string `json:"house"` // as the ledger says
	Fingerprint string `json:"fingerprint"`
	How         How    `json:"how"`
	TrustedAs   string `json:"trusted_as,omitempty"` // the name of the trusted key
	Settled     bool   `json:"settled"`
	Since       int64  `json:"since"`                // the entry that names the key
	TakenOn     int64  `json:"taken_on,omitempty"`   // the take-on between a trusted key and this one
	TakenFrom   string `json:"taken_from,omitempty"` // the name of that trusted key
	Expected    *bool  `json:"expected,omitempty"`   // whether it is the key expected, where one was
}

// ring is the lists of keys of one reader, by the line of each key.
type ring struct {
	names      map[string]string // trusted
	retired    map[string]bool
	demoFolder bool
}

func newRing(in Input) *ring {
	r := &ring{names: map[string]string{}, retired: map[string]bool{}, demoFolder: in.DemoFolder}
	for _, k := range in.Trust.Keys() {
		if line := k.Key.Line(); r.names[line] == "" {
			r.names[line] = k.Name
		}
	}
	for _, k := range in.Retired.Keys() {
		r.retired[k.Key.Line()] = true
	}
	return r
}

// demoKeys are the fingerprints of the demo keys.
var demoKeys = sync.OnceValue(func() map[string]bool {
	prints := map[string]bool{}
	for _, k := range keyring.DemoKeys() {
		prints[k.Fingerprint] = true
	}
	return prints
})

// demo says whether a key is a demo key that settles nothing here.
func (r *ring) demo(key string) bool {
	return !r.demoFolder && demoKeys()[fingerprint(key)]
}

// vouched returns the name of a key that stands in the reader's trust and
// settles something.
func (r *ring) vouched(key string) (name string, ok bool) {
	name = r.names[key]
	if name == "" || r.retired[key] || r.demo(key) {
		return "", false
	}
	return name, true
}

// how says how a key stands by itself.
func (r *ring) how(key string) (how How, name string) {
	if name, ok := r.vouched(key); ok {
		return InTrust, name
	}
	switch {
	case r.retired[key]:
		return Retired, ""
	case r.demo(key):
		return DemoKey, ""
	}
	return Unknown, ""
}

// stage is a time of one house key: the entry that named it.
type stage struct {
	entry int64
	kind  string // intake, key-change or take-on
	house string // public key line
}

// stages are the house keys of a ledger in their order.
func stages(c *ledger.Coach) []stage {
	var out []stage
	for _, e := range c.Entries {
		switch kind := e.Kind(); kind {
		case "intake", "key-change", "take-on":
			out = append(out, stage{e.No.N, kind, e.Text("house")})
		}
	}
	return out
}

// signedBy says how the house key at the last entry stands: in the trust
// itself, or led to by key-changes alone from a key that is. Each of them is
// signed by the recovery key that was named beside the key before it; a
// take-on is not, and stays unsettled until that shop is in the trust.
func (r *ring) signedBy(c *ledger.Coach, house string) *SignedBy {
	all := stages(c)
	last := all[len(all)-1]
	s := &SignedBy{House: house, Fingerprint: fingerprint(c.House), Since: last.entry}
	s.How, s.TrustedAs = r.how(c.House)
	s.Settled = s.How == InTrust
	if s.How != Unknown {
		return s
	}
	for i := len(all) - 1; i > 0; i-- {
		if all[i].kind == "take-on" && s.TakenOn == 0 {
			s.TakenOn = all[i].entry
		}
		name, ok := r.vouched(all[i-1].house)
		if !ok {
			continue
		}
		if s.TakenOn > 0 {
			s.TakenFrom = name
		} else {
			s.How, s.Settled, s.TrustedAs = ByKeyChange, true, name
		}
		return s
	}
	s.TakenOn = 0
	return s
}

// settle puts into the answer what the key leaves open.
func (a *Answer) settle(expect string) {
	s := a.SignedBy
	switch s.How {
	case Unknown:
		a.unsettled(KeyUnknown)
	case Retired:
		a.unsettled(KeyRetired)
	case DemoKey:
		a.unsettled(KeyDemo)
	}
	if expect == "" {
		return
	}
	same := bare(expect) == bare(s.Fingerprint)
	s.Expected = &same
	if !same {
		a.bad(OtherKey)
	}
}

// bare is a fingerprint as it is typed, without what may be left out of it.
func bare(print string) string {
	return strings.TrimRight(strings.TrimPrefix(strings.TrimSpace(print), "SHA256:"), "=")
}

// fingerprint is the fingerprint of a key line; what is none stays.
func fingerprint(key string) string {
	print, err := format.Fingerprint(key)
	if err != nil {
		return key
	}
	return print
}
