package sheet

import (
	"lapmark/ledger"
	"lapmark/ledger/chain"
	"lapmark/ledger/format"
)

// writeHead writes a head as its size: the chain says the rest.
func writeHead(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	o, _ := v.(format.Object)
	size, ok := o["size"].(int64)
	return bare(ledger.Decimal(size)), ok && size >= 0
}

func readHead(f ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	size, ok := undecimal(c.next(), scale{})
	if !ok {
		return nil, unclear(ReasonReference, "%s is the number of an entry: 64", f.Label)
	}
	return format.Object{"size": size}, nil
}

// writeLedger writes the id of a ledger as the name of its file; in a note it
// stands so already.
func writeLedger(f ledger.Field, h Heading, v format.Value) (item, bool) {
	s, _ := v.(string)
	b, err := format.DecodeBase64(s)
	if err != nil || len(b) != len(chain.Hash{}) {
		return writeBare(f, h, v)
	}
	return bare(chain.ID(chain.Hash(b))), true
}
