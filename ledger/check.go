package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"slices"

	"lapmark/ledger/chain"
	"lapmark/ledger/format"
)

// The namespaces of the two signatures of the format.
const (
	EntryNamespace  = "entry.v1@lapmark"
	AcceptNamespace = "accept.v1@lapmark"
)

// Verify checks a signature blob over a message in a namespace and returns the
// public key line of the key that made it. Check calls it from several
// goroutines at the same time.
type Verify func(namespace string, message, sig []byte) (key string, err error)

// Broken says which entry is not what was signed, or not allowed, and why.
// The entries before it hold.
type Broken struct {
	Entry int64
	Why   error
}

// Error is one sentence without an end.
func (b *Broken) Error() string { return fmt.Sprintf("entry %d: %v", b.Entry, b.Why) }

// Unwrap gives the cause.
func (b *Broken) Unwrap() error { return b.Why }

// Causes of a broken ledger, beside format.ErrShape.
var (
	ErrEmpty     = errors.New("an empty ledger")
	ErrChain     = errors.New("does not follow from the entries before it")
	ErrSignature = errors.New("is not what was signed")
	ErrKey       = errors.New("names another key than the one that signed")
	ErrRole      = errors.New("may not be written by this key")
	ErrTooMany   = errors.New("more entries than a ledger holds")
)

// Coach is a checked ledger: the entries that hold, and who the house is.
type Coach struct {
	Ledger   chain.Hash // the ledger id
	Entries  []*Entry   // main chain, numbers from 1
	Branches []*Branch  // taken in, in the order of their take-in
	House    string     // public key line of the house at the last entry
	Recovery string     // fingerprint of the recovery key in force
	edge     chain.Edge
	doubtful map[int64]Doubt
	roles    *roles
	prints   map[string]string // fingerprints by key line
}

// Doubt is why a house entry is doubtful: it lies between the last head the
// shop vouches for and the key-change of a stolen key.
type Doubt struct{ Firm, Change int64 }

// Branch is a side branch that the house took in.
type Branch struct {
	TakeIn int64 // the number of the take-in
	From   int64 // the last common entry
	Nth    int64 // its entries are From/Nth, From/Nth+1, …
	Hex    string
	Text   []byte   // nil where the text is not in this file
	Items  []*Entry // its entries, nil where the text is not at hand or does not hold
	Why    error    // why the text does not hold
}

// Check reads a ledger and recomputes everything, entry by entry, in the order
// of the specification (package format, "Order of checking"). branches are
// texts of side branches, found by their hash. The error is nil, or a *Broken
// that names the first bad entry; the Coach then holds the entries before it.
func Check(text []byte, verify Verify, branches ...[]byte) (*Coach, error) {
	c := NewCoach()
	if len(text) == 0 {
		return c, &Broken{Entry: 1, Why: ErrEmpty}
	}
	for l := range leaves(text, verify) {
		if err := c.extend(l, verify); err != nil {
			return c, &Broken{Entry: c.edge.Size() + 1, Why: err}
		}
	}
	c.takeIn(verify, branches, c.roles)
	c.settle()
	return c, nil
}

// NewCoach is the ledger without an entry, to be extended by its intake.
func NewCoach() *Coach {
	return &Coach{doubtful: map[int64]Doubt{}, roles: newRoles(), prints: map[string]string{}}
}

// Extend checks one more leaf and adds it. The error is a *Broken; the coach
// then stays as it was.
func (c *Coach) Extend(text []byte, verify Verify) error {
	l := readLeaf(text)
	if l.misread == nil && len(l.all) != len(text) {
		l.misread = fmt.Errorf("%w: more than one leaf", format.ErrShape)
	}
	l.verify(verify)
	if err := c.extend(l, verify); err != nil {
		return &Broken{Entry: int64(len(c.Entries)) + 1, Why: err}
	}
	if speaksOfDoubt(c.Last()) {
		c.settle()
	}
	return nil
}

// speaksOfDoubt says whether an entry may change what is doubtful.
func speaksOfDoubt(e *Entry) bool {
	return e.Kind() == "key-change" || bytes.Contains(e.Line.Body, []byte(`"adopts"`)) && e.Body()["adopts"] != nil
}

func (c *Coach) extend(l leaf, verify Verify) error {
	e, err := c.next(l, verify, c.prints, c.roles)
	if err != nil {
		return err
	}
	if e.No.N == 1 {
		c.Ledger = e.Hash
	}
	c.append(e)
	c.roles.follow(c, e)
	return nil
}

func (c *Coach) append(e *Entry) {
	c.edge.Append(e.Hash)
	c.Entries = append(c.Entries, e)
}

// next checks a leaf as the next entry of c. The role comes last: it may be
// said of a key only what the key signed.
func (c *Coach) next(l leaf, verify Verify, prints map[string]string, r *roles) (*Entry, error) {
	if len(c.Entries) >= format.MaxLeaves {
		return nil, ErrTooMany
	}
	if l.misread != nil {
		return nil, l.misread
	}
	line, err := format.ParseLine(l.l1)
	if err != nil {
		return nil, err
	}
	size := c.edge.Size()
	if line.Prev.Size != size || line.Prev.Root != c.edge.Root() {
		return nil, ErrChain
	}
	if l.unsigned != nil {
		return nil, fmt.Errorf("%w: %w", ErrSignature, l.unsigned)
	}
	print, ok := prints[l.key]
	if !ok {
		if print, err = format.Fingerprint(l.key); err != nil {
			return nil, err
		}
		prints[l.key] = print
	}
	if print != line.Key {
		return nil, ErrKey
	}
	e := &Entry{No: No{N: size + 1}, Line: line, L1: l.l1, Sig: l.sig, Hash: chain.Leaf(l.all), Key: l.key}
	e.Role, err = r.judge(c, e, verify)
	return e, err
}

// Head returns the head after entry n, 0 to the newest.
func (c *Coach) Head(n int64) format.Head {
	if n < int64(len(c.Entries)) {
		return c.Entries[n].Line.Prev
	}
	return format.Head{Size: c.edge.Size(), Root: c.edge.Root()}
}

// Newest is the head after the last entry.
func (c *Coach) Newest() format.Head { return c.Head(int64(len(c.Entries))) }

// Code is the head code after entry n.
func (c *Coach) Code(n int64) chain.Code {
	h := c.Head(n)
	return chain.HeadCode(c.Ledger, h.Size, h.Root)
}

// ID is the name of the coach's file.
func (c *Coach) ID() string { return chain.ID(c.Ledger) }

// Entry returns an entry by its number, of the main chain or of a branch that
// was taken in; nil where there is none.
func (c *Coach) Entry(no No) *Entry {
	if no.Branch == 0 {
		if no.N < 1 || no.N > int64(len(c.Entries)) {
			return nil
		}
		return c.Entries[no.N-1]
	}
	for _, b := range c.Branches {
		if i := no.Branch - b.Nth; b.From == no.N && i >= 0 && i < int64(len(b.Items)) {
			return b.Items[i]
		}
	}
	return nil
}

// Last returns the newest entry, nil of an empty ledger.
func (c *Coach) Last() *Entry { return c.Entry(No{N: int64(len(c.Entries))}) }

// Doubtful says whether a house entry lies between the last head the shop
// vouches for and its report of a stolen key, and was not adopted since.
func (c *Coach) Doubtful(no No) (Doubt, bool) {
	if no.Branch != 0 {
		return Doubt{}, false
	}
	d, ok := c.doubtful[no.N]
	return d, ok
}

// until is the coach as it stood after entry n, to be read and not extended.
func (c *Coach) until(n int64) *Coach {
	then := *c
	then.Entries, then.edge, then.doubtful = c.Entries[:n:n], chain.Edge{}, map[int64]Doubt{}
	for _, e := range then.Entries {
		then.edge.Append(e.Hash)
	}
	then.Branches = slices.DeleteFunc(slices.Clone(c.Branches), func(b *Branch) bool { return b.TakeIn > n })
	then.roles = c.roles.at(n)
	then.House, then.Recovery = then.roles.house, then.roles.recovery
	then.settle()
	return &then
}

// settle marks what is doubtful: no date decides, only the chain and what the
// house adopted afterwards.
func (c *Coach) settle() {
	clear(c.doubtful)
	under := c.underDoubt()
	if len(under) == 0 {
		return
	}
	adopted := map[int64]bool{}
	for _, e := range slices.Backward(c.Entries) { // who adopts comes later, and must be sound itself
		doubt, asked := under[e.No.N]
		if asked && !adopted[e.No.N] {
			c.doubtful[e.No.N] = doubt
			continue
		}
		if e.Role != House {
			continue
		}
		for _, no := range e.Refs("adopts") {
			// inside the same doubt nobody vouches for anybody
			if later, ok := under[no.N]; no.Branch == 0 && ok && e.No.N > later.Change {
				adopted[no.N] = true
			}
		}
	}
}

// underDoubt finds the house entries between firm and its key-change, each with
// the newest change that speaks of it.
func (c *Coach) underDoubt() map[int64]Doubt {
	out := map[int64]Doubt{}
	left := int64(len(c.Entries)) + 1 // entries from here on belong to a newer change
	for _, e := range slices.Backward(c.Entries) {
		if e.Kind() != "key-change" {
			continue
		}
		firm, ok := headOf(e.Body()["firm"])
		if !ok {
			continue
		}
		for n := min(e.No.N, left) - 1; n > firm.Size; n-- {
			if c.Entries[n-1].Role == House {
				out[n] = Doubt{Firm: firm.Size, Change: e.No.N}
			}
			left = n
		}
	}
	return out
}

func headOf(v format.Value) (h format.Head, ok bool) {
	o, _ := v.(format.Object)
	size, sized := o["size"].(int64)
	root, rooted := o["root"].(string)
	b, err := format.DecodeBase64(root)
	if !sized || !rooted || err != nil || len(b) != len(h.Root) || size < 0 || len(o) != 2 {
		return h, false
	}
	h.Size = size
	copy(h.Root[:], b)
	return h, true
}

// isHead says whether h is a head of the chain up to and without entry e.
func (c *Coach) isHead(h format.Head) bool {
	return h.Size <= int64(len(c.Entries)) && bytes.Equal(h.Root[:], rootOf(c.Head(h.Size)))
}

func rootOf(h format.Head) []byte { return h.Root[:] }
