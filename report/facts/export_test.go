package facts

import (
	"lapmark/ledger"
	"lapmark/ledger/place"
)

// Ground returns the deck of a coach, the part of it that the lines of a
// certificate reach, and the rest, which they leave out. The error is ErrLines,
// or says what was not measured.
func Ground(r *ledger.Replay, cert *ledger.Act) (deck, in, out place.Region, err error) {
	g, err := groundOf(before(r, cert), cert)
	return g.deck, g.in, g.out, err
}
