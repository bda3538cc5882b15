// Package loose reads day sheets as people type or dictate them: order free,
// short words, units where needed, inches and degrees Fahrenheit, numbers in
// words, slips of spelling. What it reads it says in canonical text (package
// sheet); what has not one sure reading is unclear and says why. Nothing is
// dropped, nothing is guessed.
//
// Words come from the tables of package ledger and from the table of short
// words here: a new word there is read without a change of the reader.
package loose
