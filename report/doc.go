// Package report lays out the papers a shop gives out: facts as plain values
// become sentences, and sentences become seven kinds of blocks. The renderers
// know the blocks and no paper.
//
// Making a certificate takes two steps. CertificateSentences says every
// sentence the paper will print, each under a key; the certificate entry
// carries them. Certificate then lays out a paper from the facts and those
// sentences, and prints no others, so that a certificate says the same words
// for its whole life.
//
// The package reads no file, no clock and no ledger.
package report
