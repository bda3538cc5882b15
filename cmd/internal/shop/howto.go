package shop

import _ "embed"

//go:embed how-to-check.txt
var howToCheck []byte

// HowToCheck is the text that goes with every paper: the sceptic's steps, which
// are also a script. It holds nothing private, and entries quote its hash.
func HowToCheck() []byte { return howToCheck }
