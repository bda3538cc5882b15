// Package chain reckons the heads of a ledger: leaf hashes, the RFC 6962 tree
// over them, the ledger id, and the short codes people read aloud.
//
// It alone counts leaves from 0; everywhere else entries are numbered from 1.
package chain

import (
	"crypto/sha256"
	"encoding/base32"
	"errors"
	"strconv"
	"strings"

	"golang.org/x/mod/sumdb/tlog"
)

// Hash is a SHA-256 value.
type Hash = [sha256.Size]byte

// Leaf returns the leaf hash SHA-256(0x00 ‖ leaf) (RFC 6962 section 2.1).
func Leaf(leaf []byte) Hash { return Hash(tlog.RecordHash(leaf)) }

// Edge is the right edge of a growing tree: the roots of its full subtrees,
// largest first. The zero Edge is the empty tree. A copy made by [Edge.Clone]
// grows on its own.
type Edge struct {
	size int64
	full []tlog.Hash
}

// Size returns how many leaves the tree has.
func (e *Edge) Size() int64 { return e.size }

// Clone returns an edge that grows apart from e.
func (e *Edge) Clone() Edge {
	return Edge{size: e.size, full: append([]tlog.Hash(nil), e.full...)}
}

// Append adds one leaf by its hash.
func (e *Edge) Append(leaf Hash) {
	h := tlog.Hash(leaf)
	for n := e.size; n&1 == 1; n >>= 1 {
		last := len(e.full) - 1
		h = tlog.NodeHash(e.full[last], h)
		e.full = e.full[:last]
	}
	e.full = append(e.full, h)
	e.size++
}

// Root returns the RFC 6962 root; of the empty tree SHA-256 of nothing.
func (e *Edge) Root() Hash {
	if e.size == 0 {
		return sha256.Sum256(nil)
	}
	h := e.full[len(e.full)-1]
	for i := len(e.full) - 2; i >= 0; i-- {
		h = tlog.NodeHash(e.full[i], h)
	}
	return Hash(h)
}

// alphabet is Crockford's base 32, without I, L, O and U.
const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

const (
	codeBits    = 100
	codeLetters = codeBits / 5
	idLetters   = 12
)

var c32 = base32.NewEncoding(alphabet).WithPadding(base32.NoPadding)

// ID returns the first 60 bits of a ledger id in base 32: the name of a coach
// file.
func ID(ledger Hash) string { return c32.EncodeToString(ledger[:])[:idLetters] }

// Code is a head code: 20 characters in groups of four, as it is printed.
type Code string

// HeadCode returns the head code of one head of one ledger: the first 100 bits
// of SHA-256("lapmark head\n" ‖ ledger id ‖ size in decimal ‖ root).
func HeadCode(ledger Hash, size int64, root Hash) Code {
	b := append([]byte("lapmark head\n"), ledger[:]...)
	b = strconv.AppendInt(b, size, 10)
	b = append(b, root[:]...)
	sum := sha256.Sum256(b)
	return group(c32.EncodeToString(sum[:])[:codeLetters])
}

func group(s string) Code {
	groups := make([]string, 0, codeLetters/4)
	for ; len(s) > 4; s = s[4:] {
		groups = append(groups, s[:4])
	}
	return Code(strings.Join(append(groups, s), " "))
}

// ErrCode is what is no head code: not 20 characters of the alphabet.
var ErrCode = errors.New("a head code has 20 letters and digits")

// ReadCode reads a head code as a person types it: small letters, spaces and
// hyphens pass, o is read as 0, i and l as 1. The error is ErrCode.
func ReadCode(typed string) (Code, error) {
	plain := strings.NewReplacer(" ", "", "-", "", "\u00a0", "", "O", "0", "I", "1", "L", "1").
		Replace(strings.ToUpper(strings.TrimSpace(typed)))
	if len(plain) != codeLetters || strings.Trim(plain, alphabet) != "" {
		return "", ErrCode
	}
	return group(plain), nil
}

// Apart returns in how many characters two head codes differ.
func Apart(a, b Code) int {
	n := max(len(a), len(b)) - min(len(a), len(b))
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			n++
		}
	}
	return n
}
