package report

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"sync"
	"unicode"
)

// refusals are the wordings no warranty may have, each with its reason in one
// line. Sources: 15 USC 2308 (implied warranties), 15 USC 2302(c) (no tying to
// a brand), 16 CFR 701.3(a)(4) (the length is said).
// They are compiled when they are first asked: no start of the program waits.
var refusals = sync.OnceValue(func() []refusal {
	return []refusal{
		{
			regexp.MustCompile(`\b(in (lieu|place|stead) of|instead of|replaces?|supersedes?) (all|any|every) (other )?(\w+ )?(warrant|guarant|right)`),
			"a warranty does not stand in place of other warranties or rights",
		},
		{
			regexp.MustCompile(`\b(no|without( any)?|exclud\w*|disclaim\w*|waiv\w*) (\w+ ){0,4}implied warrant`),
			"implied warranties cannot be taken away (15 USC 2308)",
		},
		{
			regexp.MustCompile(`\bimplied warrant\w* (\w+ ){0,8}(exclud|disclaim|waive|do(es)? not apply)`),
			"implied warranties cannot be taken away (15 USC 2308)",
		},
		{
			regexp.MustCompile(`\b(merchantability|fitness)\b.*\b(exclud|disclaim|waive)`),
			"implied warranties cannot be taken away (15 USC 2308)",
		},
		{
			regexp.MustCompile(`\bvoid(s|ed|ing|able)?\b`),
			"a certificate is never void: say what ends, and on which day",
		},
		{
			regexp.MustCompile(`\bonly\b.*\b(genuine|original|branded|our own brand)\b|\b(genuine|original|branded|our own brand)\b.*\bonly\b|\bmust (be|use)\b.*\b(genuine|original|branded|our brand|our own brand)\b|[™®]`),
			"a brand cannot be a condition (15 USC 2302(c)): name the kind",
		},
	}
})

// refusal is one such wording and its reason.
type refusal struct {
	wording *regexp.Regexp
	reason  string
}

// lifetime wants a length beside it.
var (
	lifetime = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`\blife-?time\b|\blife of the (coach|roof|vehicle)\b`)
	})
	aLength = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\b\d+ (month|year)s?\b`) })
)

// RefusedText says why a text may not stand in a warranty, or nil. brands are
// the makers the shop knows; none of them may be a condition.
func RefusedText(text string, brands ...string) error {
	low := strings.ToLower(strings.Join(strings.Fields(text), " "))
	for _, r := range refusals() {
		if r.wording.MatchString(low) {
			return errors.New(r.reason)
		}
	}
	if lifetime().MatchString(low) && !aLength().MatchString(low) {
		return errors.New("lifetime needs a length in months or years beside it")
	}
	for _, b := range brands {
		if b != "" && regexp.MustCompile(`\b(only|must|has to|have to|except)\b`).MatchString(low) && strings.Contains(low, strings.ToLower(b)) {
			return fmt.Errorf("a brand cannot be a condition (15 USC 2302(c)): name the kind, not %s", b)
		}
	}
	return rewritten(text)
}

// opening is how a part of a fixed sentence begins, and all of it, in plain
// words with a space at both ends.
type opening struct{ key, begins, whole string }

// openings are those of all fixed sentences that are long enough to be known
// by their first five words.
var openings = sync.OnceValue(fixedOpenings)

func fixedOpenings() []opening {
	var all []opening
	for _, s := range fixedSentences {
		for _, part := range strings.SplitAfter(s.Says, ". ") {
			words := strings.Fields(plainWords(part))
			if s.Changeable || len(words) < 6 || strings.Contains(part, "{") {
				continue
			}
			all = append(all, opening{s.Key, " " + strings.Join(words[:5], " ") + " ", " " + strings.Join(words, " ") + " "})
		}
	}
	return all
}

// rewritten refuses a text that begins as a fixed sentence does and then goes
// its own way.
func rewritten(text string) error {
	said := " " + plainWords(text) + " "
	for _, o := range openings() {
		if strings.Contains(said, o.begins) {
			said = strings.ReplaceAll(said, o.whole, "  ")
		}
	}
	for _, o := range openings() {
		if strings.Contains(said, o.begins) {
			return fmt.Errorf("the sentence %q is printed as it stands and cannot be worded otherwise", o.key)
		}
	}
	return nil
}

// plainWords is a text in lower case without its punctuation.
func plainWords(text string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsNumber(r)
	}), " ")
}
