package ledger

import (
	"crypto/sha256"
	"encoding/hex"

	"lapmark/ledger/chain"
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

// branch checks the entries of one branch: they go on from the common head, and
// their keys have the roles they had there.
func (c *Coach) branch(b *Branch, takeIn *Entry, verify Verify, r *roles) ([]*Entry, error) {
	side := &Coach{Ledger: c.Ledger, doubtful: map[int64]Doubt{}}
	for _, e := range c.Entries[:b.From] {
		side.edge.Append(e.Hash)
	}
	side.Entries = append(side.Entries, c.Entries[:b.From]...)
	at := r.at(b.From)
	prints := map[string]string{}
	var out []*Entry
	for text := b.Text; len(text) > 0; {
		e, leaf, err := side.next(text, verify, prints, at)
		if err != nil {
			return nil, err
		}
		e.Hash = chain.Leaf(leaf)
		side.edge.Append(e.Hash)
		side.Entries = append(side.Entries, e)
		e.No = No{N: b.From, Branch: b.Nth + int64(len(out))}
		out = append(out, e)
		text = text[len(leaf):]
	}
	head, ok := headOf(takeIn.Body()["head"])
	count, counted := takeIn.Body()["count"].(int64)
	if !ok || !counted || head != side.Newest() || count != int64(len(out)) {
		return nil, ErrChain
	}
	return out, nil
}
