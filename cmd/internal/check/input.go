package check

import (
	"lapmark/crypto/keyring"
	"lapmark/ledger/day"
)

// Input is what is asked about, and what the reader brings to it.
type Input struct {
	Name string // what the file is called in the answer
	File []byte // a paper, a bundle or the text of a ledger; told apart by content

	// Branches are texts of side branches that lie beside the file.
	Branches [][]byte
	// Slips are those of the shop's own book, for a coach of this shop. Nil
	// where there is no book; slips that open nothing here are passed over.
	Slips []string
	// With are other papers, bundles or ledgers of the same coach.
	With []Paper

	Trust   keyring.Trust // keys the reader vouches for
	Retired keyring.Trust // keys he vouches for no longer
	// DemoFolder says that Trust belongs to a folder marked as a demo. Only
	// there a demo key settles anything.
	DemoFolder bool
	// Expect is the fingerprint the reader has from another source; "" if he
	// has none.
	Expect string

	Now   int64   // seconds since 1970-01-01T00:00:00Z
	Today day.Day // the reader's calendar day
}

// Paper is one more file beside the one that is asked about.
type Paper struct {
	Name     string
	File     []byte
	Branches [][]byte
}
