package ledger

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"

	"lapmark/ledger/format"
)

// MaxBranches is how many side branches of one ledger are read, each once.
const MaxBranches = 100

// takeIn reads the texts of the branches the house took in. Each is found by
// its hash; one that does not hold changes nothing and is said.
func (c *Coach) takeIn(verify Verify, texts [][]byte, r *roles) {
	byHex := map[string][]byte{}
	for _, text := range texts {
		sum := sha256.Sum256(text)
		byHex[hex.EncodeToString(sum[:])] = text
	}
	counted := map[int64]int64{}
	read := map[string]bool{}
	for _, e := range c.Entries {
		if e.Kind() != "take-in" || e.Role != House {
			continue
		}
		from, _ := headOf(e.Body()["from"])
		count, _ := e.Body()["count"].(int64)
		b := &Branch{TakeIn: e.No.N, From: from.Size, Nth: counted[from.Size] + 1, Hex: e.Text("branch")}
		counted[from.Size] += count
		if text, ok := byHex[b.Hex]; ok {
			b.Text = text
			if read[b.Hex] || len(read) >= MaxBranches {
				b.Why = ErrTooMany
			} else {
				b.Items, b.Why = c.branch(b, e, verify, r)
			}
			read[b.Hex] = true
		}
		c.Branches = append(c.Branches, b)
	}
}

// branch checks the entries of one branch, and that they end at the head of its
// take-in.
func (c *Coach) branch(b *Branch, takeIn *Entry, verify Verify, r *roles) ([]*Entry, error) {
	out, tip, err := c.side(b.Text, b.From, verify, r)
	if err != nil {
		return nil, err
	}
	head, ok := headOf(takeIn.Body()["head"])
	count, counted := takeIn.Body()["count"].(int64)
	if !ok || !counted || head != tip || count != int64(len(out)) {
		return nil, ErrChain
	}
	for i, e := range out {
		e.No = No{N: b.From, Branch: b.Nth + int64(i)}
	}
	return out, nil
}

// numbered is the body of an entry of the branch with the numbers of this
// ledger: in a branch an integer above the parting counts in that branch. kind
// is that of an entry of this ledger, "" where there is none.
func (b *Branch) numbered(e *Entry, kind func(No) string) format.Object {
	number := func(f Field, v format.Value) (format.Value, error) {
		if n, ok := v.(int64); ok && f.Form == FormRef && n > b.From {
			return No{N: b.From, Branch: n - b.From + b.Nth - 1}.Value(), nil
		}
		return v, nil
	}
	body, err := Draft{Kind: e.Kind(), Body: e.Body()}.walk(number)
	for _, no := range refs(body["answers"]) {
		for _, change := range Objects(body["changes"]) {
			err = errors.Join(err, visitChange(kind(no), change, number))
		}
	}
	if err != nil {
		return e.Body()
	}
	return body
}

// side checks the entries of a branch: they go on from a head of the chain, and
// their keys have the roles they had there. tip is the head behind the last.
func (c *Coach) side(text []byte, from int64, verify Verify, r *roles) (out []*Entry, tip format.Head, err error) {
	side := &Coach{Ledger: c.Ledger, doubtful: map[int64]Doubt{}}
	for _, e := range c.Entries[:from] {
		side.edge.Append(e.Hash)
	}
	side.Entries = append(side.Entries, c.Entries[:from]...)
	at := r.at(from)
	prints := map[string]string{}
	for l := range leaves(text, verify) {
		e, err := side.next(l, verify, prints, at)
		if err != nil {
			return nil, tip, err
		}
		side.append(e)
		out = append(out, e)
	}
	return out, side.Newest(), nil
}

// Parting says where a side branch parted from this chain, and where it ends.
type Parting struct {
	From, Head format.Head
	Count      int64
	Hex        string // SHA-256 of its text
}

// PartingOf reads the text of a side branch: its leaves from the first that is
// not in this chain. The error is ErrEmpty, ErrChain where it did not part from
// this chain, or what is wrong with an entry of it.
func (c *Coach) PartingOf(text []byte, verify Verify) (p Parting, err error) {
	if len(text) == 0 {
		return p, ErrEmpty
	}
	l1, _, _, err := format.ReadLeaf(text)
	if err != nil {
		return p, err
	}
	first, err := format.ParseLine(l1)
	if err != nil {
		return p, err
	}
	p.From = first.Prev
	if p.From.Size == 0 || !c.isHead(p.From) {
		return p, ErrChain
	}
	entries, tip, err := c.side(text, p.From.Size, verify, c.roles)
	sum := sha256.Sum256(text)
	p.Head, p.Count, p.Hex = tip, int64(len(entries)), hex.EncodeToString(sum[:])
	return p, err
}
