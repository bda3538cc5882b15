package report

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger"
)

// termsWidth is the width a terms file is wrapped at.
const termsWidth = 100

// TermsText writes a terms file: every key once, with what it means. What is
// at its default stands behind "#", so that only the shop's own lines count.
func TermsText(t Terms) []byte {
	var b strings.Builder
	b.WriteString("# The terms of this shop. A line behind # is the usual value: take the # away to change it.\n")
	b.WriteString("# Long values stand indented below their key, each line a sentence of its own.\n")
	usual := DefaultTerms()
	for _, k := range termKeys() {
		b.WriteString(termText(k, t, usual))
	}
	return []byte(b.String())
}

// termText is one key with its explanation and lines.
func termText(k termKey, t, usual Terms) string {
	var b strings.Builder
	switch {
	case k.word == "promise "+usual.Promises[0].Promise:
		b.WriteString("\n# What certify proposes: months, full months, floor in percent (- for none), upkeep yes or no.\n")
	case k.word == numberWords[0].Word:
		b.WriteString("\n# The numbers of a certificate. Common practice, no source.\n")
	case k.word == ledger.Terms()[0].Rule:
		b.WriteString("\n# Limits of rules and checks. A looser one than usual is printed as such.\n")
	}
	if k.says != "" {
		fmt.Fprintf(&b, "# %s: %s\n", k.word, k.says)
	}
	lines := k.write(t)
	mark := ""
	if slices.Equal(lines, k.write(usual)) {
		mark = "#"
	}
	fmt.Fprintf(&b, "%s%s\n", mark, strings.TrimRight(k.word+" "+lines[0], " "))
	for _, l := range lines[1:] {
		for i, part := range wrapped(l, termsWidth) {
			fmt.Fprintf(&b, "%s%s%s\n", mark, strings.Repeat(" ", 2+4*min(i, 1)), part)
		}
	}
	return b.String()
}

// wrapped breaks a text into lines of at most so many characters. No line
// begins with "#": it would be read as a comment.
func wrapped(text string, width int) []string {
	var lines []string
	line := ""
	for _, w := range strings.Split(text, " ") {
		if line != "" && !strings.HasPrefix(w, "#") && len([]rune(line))+1+len([]rune(w)) > width {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	return append(lines, line)
}
