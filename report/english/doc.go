// Package english has what several papers and answers need to read aloud:
// lists, counts, runs of numbers, the beginning and the end of a sentence.
package english
