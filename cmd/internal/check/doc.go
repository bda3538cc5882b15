// Package check reads a paper, a bundle or the text of a ledger into one
// answer: whether it is whole, whether these are the pages that left the
// house, who signed it, how it lies to other papers, and what stands in it.
//
// Bytes, lists of keys, the moment and the day come in as values; nothing here
// touches a file or a clock, so that the command line, the desk and a page in
// a browser give the same answer.
//
// # The order of a check
//
// No page of a stranger is ever read as PDF. A paper is split at the first
// line of its tail and the files in it are taken out by the fixed layout; the
// ledger is checked; its last entry must be the given-out of this paper; each
// slip must open a commitment of its own name; how-to-check.txt and the face
// must have the hashes that this entry says; then the tail is built again and
// compared byte for byte. What is shown afterwards comes from the ledger.
//
// # The four answers about pages
//
//	the tail cannot be followed, a ledger stands in the streams   saved-again
//	the tail cannot be followed, no ledger stands there           no-facts
//	the tail can be followed, and something in it does not agree  pages-differ
//	everything agrees, the last entry is the house's              left-the-house
//	everything agrees, the last entry is a guest's                guest-paper
//
// # Exit codes
//
// Exit is 3 where something was checked and is bad, else 7 where something
// stays unsettled, else 0; 2 where nothing could be checked. Bad and Unsettled
// of the answer hold the grounds.
package check
