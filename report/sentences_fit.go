package report

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"lapmark/ledger"
)

// The most a certificate's sentences may take together: bytes of all, bytes of
// the shop's own terms among them. ledger.MaxSentence is the most of one.
const (
	MostBytes      = 40000
	MostTermsBytes = 12000
)

// TooLong says which limit the sentences of a certificate break.
type TooLong struct {
	What      string
	Has, Most int
}

func (e TooLong) Error() string { return fmt.Sprintf("%s: %d, at most %d", e.What, e.Has, e.Most) }

// termsStems are the keys whose words come from the terms.
var termsStems = []string{"claim-", "pays-", "exclusion-", "dispute", "upkeep-who", "rights-", "implied"}

// SentencesFit tells whether the sentences stay within what an entry takes.
// Its error is of type TooLong.
func SentencesFit(says []Sentence) error {
	all, terms := 0, 0
	for _, s := range says {
		if n := utf8.RuneCountInString(s.Says); n > ledger.MaxSentence {
			return TooLong{"characters of sentence " + s.Key, n, ledger.MaxSentence}
		}
		all += len(s.Says)
		for _, stem := range termsStems {
			if strings.HasPrefix(s.Key, stem) {
				terms += len(s.Says)
				break
			}
		}
	}
	if all > MostBytes {
		return TooLong{"bytes of all sentences", all, MostBytes}
	}
	if terms > MostTermsBytes {
		return TooLong{"bytes of the terms", terms, MostTermsBytes}
	}
	return nil
}
