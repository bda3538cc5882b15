// Package cover answers whether a place, on a day, with a trouble, is inside
// what certificates promise: in which share, and why. It is a pure function of
// facts and a question; no clock, no file.
//
// Every answer is what the certificate says. Rights the law gives the holder
// stand beside it.
//
// All lengths are whole millimetres in roof coordinates, left negative; shares
// are per mille. A certificate is judged by its own numbers.
package cover

// Version is the version of these rules. A verdict names the one it was made by.
const Version = 1
