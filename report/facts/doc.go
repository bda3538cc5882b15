// Package facts gathers what a paper prints out of the replayed ledger of a
// coach and the shop's terms: plain values and words, without a layout. It also
// proposes the lines of a certificate. Nothing here asks a clock.
package facts
