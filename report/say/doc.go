// Package say puts entries of a ledger into plain English sentences, to be read
// aloud. What an entry has and in which order it is said comes from the tables
// of package ledger; what the tables do not know is shown as it stands.
package say
