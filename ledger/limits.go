package ledger

import (
	"errors"
	"strconv"

	"lapmark/ledger/format"
)

// Limits of what may be written in one entry, in characters or pieces. A reader
// never refuses an entry for them.
const (
	MaxLabel    = 200  // an open text: maker, product, a reason
	MaxFree     = 500  // a free text or a private value
	MaxSentence = 1000 // a sentence of a certificate
	MaxPlaces   = 200  // places of one entry
	MaxLines    = 40   // cover lines of one certificate
)

// ErrPlaces is more places than one entry is worked out for.
var ErrPlaces = errors.New("more places than one entry has")

// tooLong says what of a draft is larger than it may be.
func (d Draft) tooLong() []string {
	var out []string
	over := func(what string, has, most int) {
		if has > most {
			out = append(out, what+" shorter: "+strconv.Itoa(has)+", "+strconv.Itoa(most)+" at most")
		}
	}
	places := 0
	d.see(func(f Field, v format.Value) {
		s, _ := v.(string)
		switch {
		case f.Form == FormPlace:
			places++
		case f.Form == FormText && f.Name == "says":
			over("the sentence", len([]rune(s)), MaxSentence)
		case f.Form == FormText:
			over(f.words(), len([]rune(s)), MaxLabel)
		}
	})
	for _, name := range sortedNames(d.Private) {
		over(name, len([]rune(d.Private[name])), MaxFree)
	}
	over("places", places, MaxPlaces)
	over("lines", d.count("lines"), MaxLines)
	return out
}
