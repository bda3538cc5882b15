package shop

import (
	"encoding/base64"
	"fmt"
	"io"
	"slices"

	"lapmark/crypto/private"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/chain"
	"lapmark/ledger/format"
)

// sealed is a signed leaf and the slips of its commitments.
type sealed struct {
	leaf  []byte
	slips []book.Slip
}

// seal makes the commitments of a draft, writes its line on the head of the
// coach and signs it. The slips are in the order of their names.
func (w *writing) seal(a *ledger.Act, values map[string]string) (sealed, error) {
	c, at, random, hand := w.coach.Ledger, w.at, w.shop.Random, w.hand
	commitments, slips, err := commit(a.Kind, values, random)
	if err != nil {
		return sealed{}, err
	}
	body := a.Body
	if len(commitments) > 0 {
		body["private"] = commitments
	}
	head := c.Newest()
	line := format.Line{At: at, Key: hand.Key.Public().Fingerprint(), Kind: a.Kind, Prev: head, V: 1}
	if line.Body, err = format.Encode(body); err != nil {
		return sealed{}, err
	}
	if err := hand.accepted(a.Kind, body, line); err != nil {
		return sealed{}, err
	}
	if line.Body, err = format.Encode(body); err != nil {
		return sealed{}, err
	}
	l1, err := line.Append(nil)
	if err != nil {
		return sealed{}, err
	}
	blob, err := w.proof.sign(hand.Key, append(slices.Clone(l1), '\n'))
	if err != nil {
		return sealed{}, err
	}
	leaf, err := format.Leaf(l1, blob)
	if err != nil {
		return sealed{}, fmt.Errorf("the entry is too long: %w", err)
	}
	for i := range slips {
		slips[i].Entry = int(head.Size) + 1
	}
	return sealed{leaf: leaf, slips: slips}, nil
}

// commit makes the commitments of a kind: all its private fields, random where
// there is no value, and the free texts that were said.
func commit(kindName string, values map[string]string, random io.Reader) (format.Object, []book.Slip, error) {
	kind, _ := ledger.KindNamed(kindName)
	out := format.Object{}
	var slips []book.Slip
	for _, name := range privateNames(kind) {
		value, said := values[name]
		_, field := kind.PrivateNamed(name)
		switch {
		case said:
			slip, err := slipOf(name, value, random)
			if err != nil {
				return nil, nil, err
			}
			out[name] = private.Commit(slip)
			sort := book.Word
			if field {
				sort = book.Private
			}
			slips = append(slips, book.Slip{Commitment: private.Commit(slip), Name: name, Slip: slip, Sort: sort})
		case field:
			blank, err := private.Blank(random)
			if err != nil {
				return nil, nil, err
			}
			out[name] = blank
		}
	}
	return out, slips, nil
}

func privateNames(kind ledger.Kind) []string {
	names := kind.FreeTexts()
	for _, p := range kind.Privates {
		names = append(names, p.Name)
	}
	slices.Sort(names)
	return names
}

func slipOf(name, value string, random io.Reader) (string, error) {
	salt, err := private.Salt(random)
	if err != nil {
		return "", err
	}
	return private.Make(salt, name, value)
}

// nonce is 128 random bits in hex, for an intake.
func nonce(random io.Reader) (string, error) {
	b := make([]byte, 16)
	if _, err := io.ReadFull(random, b); err != nil {
		return "", err
	}
	return fmt.Sprintf("%x", b), nil
}

// fitting are the slips that open a commitment of their own name in a ledger.
// The book may hold others, of an inking that never came about.
func fitting(c *ledger.Coach, slips []book.Slip) []book.Slip {
	var out []book.Slip
	for _, s := range slips {
		e := c.Entry(ledger.No{N: int64(s.Entry)})
		p, err := private.Parse(s.Slip)
		if e != nil && err == nil && e.Commitments()[p.Name] == private.Commit(s.Slip) {
			out = append(out, s)
		}
	}
	return out
}

// opened reads fitting slips into values by entry.
func opened(slips []book.Slip) map[ledger.No]map[string]string {
	out := map[ledger.No]map[string]string{}
	for _, s := range slips {
		p, err := private.Parse(s.Slip)
		if err != nil {
			continue
		}
		no := ledger.No{N: int64(s.Entry)}
		if out[no] == nil {
			out[no] = map[string]string{}
		}
		out[no][p.Name] = p.Value
	}
	return out
}

// ledgerKey is the ledger id as the book keys it.
func ledgerKey(h chain.Hash) string { return base64.StdEncoding.EncodeToString(h[:]) }
