// Package carry packs the files of one coach into what leaves the house, and
// takes them out again: a paper (a PDF whose attachments are the ledger and
// what belongs to it) and a bundle (a ZIP of the same files and the pictures).
// It carries named files and understands none of them: whether a ledger is
// whole, or a slip fits, is asked elsewhere.
//
// # Paper
//
// A paper is a face and a tail. The face is a whole PDF whose page tree is
// object 1 and which ends, with S, R, I and X for four numbers, in
//
//	trailer
//	<<
//	/Size S
//	/Root R 0 R
//	/Info I 0 R
//	>>
//	startxref
//	X
//	%%EOF
//
// The tail is one incremental update (ISO 32000-1:2008, 7.5.6) that adds
// embedded files (7.11.4) and a new catalog, and nothing else. It is written
// in one layout, so that it can be taken apart without reading any PDF: the
// line "%lapmark-tail 1"; for each file a Filespec, object S + 2i, and its
// EmbeddedFile, object S + 2i + 1, stored plain; the catalog as object R; the
// cross-reference table; the trailer. Every line ends with 0x0A. The files are
// ledger.txt, branch-HEX.txt of each branch, words.txt, private.txt and
// how-to-check.txt, in this order, all but the branches always there.
//
// TakePaper follows this layout. In it a number is any run of up to nine
// digits (an offset of the table: ten); every other byte is fixed. One changed
// byte of a paper therefore falls in one of five places:
//
//	in the face                    the Face taken is another; Exact may be false
//	in "%%EOF", "%lapmark-tail 1"  ErrNoTail: where the tail begins is not known
//	in a file                      Exact; the file taken is another
//	in a number of the layout      not Exact, or ErrNoTail when the files can
//	                               no longer be found by it (a Length)
//	in a fixed byte of the layout  ErrNoTail; the 0x0A at the very end: not Exact
//
// Bytes after the tail make a paper not Exact. A paper for which TakePaper
// says ErrNoTail was saved again by some program, or never was a paper: Walk
// looks through its streams.
//
// # Bundle
//
// A bundle is a ZIP in one layout: every member stored, the files of a paper
// in the same order, then pictures/HEX.jpg by name. TakeBundle refuses every
// ZIP that Bundle would not have written byte for byte.
package carry
