package report_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"lapmark/report"
	"lapmark/testdata"
)

// blanks are what stands in braces in a fixed sentence.
var blanks = regexp.MustCompile(`\{[^{}]*\}`)

// ours are the fixed sentences that REPORTS.md does not have: what stands where
// the list of earlier papers is empty, or follows on a page of its own.
var ours = map[string]bool{"earlier-none": true, "earlier-apart": true}

// testdata/fixed.txt are the fixed sentences of REPORTS.md 4, 7 and 9, typed
// from there apart from the program, each form of one with two forms written
// out: key, whether a shop may change it, the sentence with its blanks empty.
func TestFixedSentencesWordForWord(t *testing.T) {
	content, err := os.ReadFile("testdata/fixed.txt")
	if err != nil {
		t.Fatal(err)
	}
	agreed := map[string][]string{}
	for _, line := range strings.Split(strings.TrimSpace(string(content)), "\n") {
		part := strings.Split(line, "\t")
		agreed[part[0]] = part[1:]
	}
	seen := map[string]bool{}
	for _, s := range report.Fixed() {
		if seen[s.Key] {
			t.Errorf("%s stands twice", s.Key)
		}
		seen[s.Key] = true
		want, ok := agreed[s.Key]
		if !ok {
			if !strings.HasPrefix(s.Key, "us-") && !ours[s.Key] {
				t.Errorf("%s was not agreed on", s.Key)
			}
			continue
		}
		if got := blanks.ReplaceAllString(s.Says, "{}"); got != want[1] {
			t.Errorf("%s says\n%s\nnot\n%s", s.Key, got, want[1])
		}
		if s.Changeable != (want[0] == "changeable") {
			t.Errorf("%s: changeable %v", s.Key, s.Changeable)
		}
	}
	for key := range agreed {
		if !seen[key] {
			t.Errorf("%s is missing", key)
		}
	}
}

// byID picks something of each row of a table of reference values.
func byID(t *testing.T, file string, pick func(testdata.Row) string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, row := range testdata.Reference(t, file) {
		out[row.ID] = pick(row)
	}
	return out
}

// The three sentences prescribed by 16 CFR 701.3(a)(7) to (9), letter by
// letter as published reprints have them.
func TestPrescribedSentences(t *testing.T) {
	published := byID(t, "warranty_disclosures.csv", func(r testdata.Row) string { return r.Value })
	for id, key := range map[string]string{"WAR-US-7": "us-implied", "WAR-US-8": "us-consequential", "WAR-US-9": "us-rights"} {
		if got := report.FixedSays(key); got != published[id] || got == "" {
			t.Errorf("%s says\n%s\nnot\n%s", key, got, published[id])
		}
	}
}

// Every kind of danger in the table of cautions (29 CFR 1926.501, 1910.1000;
// EPA 402-K-01-001 and others) that a roof's papers warn of is named.
func TestCautionsNamed(t *testing.T) {
	every := report.FixedSays("care")
	work := every + report.FixedSays("care-work")
	words := map[string][]string{
		"fall": {every, "guard the edge"}, "isocyanate": {work, "Isocyanates"}, "solvent": {work, "solvents"}, "mould": {work, "Mould"},
		"dust": {work, "glass-fibre"}, "lead": {work, "old paint"}, "hot air": {work, "fire watch"}, "electrical": {every, "mains off"},
		"gas": {every, "gas shut"},
	}
	for id, kind := range byID(t, "cautions.csv", func(r testdata.Row) string { return r.Inputs }) {
		if w, ok := words[kind]; ok && !strings.Contains(w[0], w[1]) {
			t.Errorf("%s: %s is not named", id, kind)
		}
	}
}

func TestFill(t *testing.T) {
	if got := report.Fill("{a} of {b}, {c}", "a", "1", "b", "{a}"); got != "1 of {a}, {c}" {
		t.Errorf("%q", got)
	}
}
