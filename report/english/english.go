package english

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// List is a list read aloud: "a, b and c".
func List(parts []string) string { return list(parts, "and") }

// Or is a list of which one is enough: "a, b or c".
func Or(parts []string) string { return list(parts, "or") }

func list(parts []string, last string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	most := len(parts) - 1
	return strings.Join(parts[:most], ", ") + " " + last + " " + parts[most]
}

// InWords is a small number as a word, a larger one in figures.
func InWords(n int) string {
	words := [...]string{
		"no", "one", "two", "three", "four", "five", "six", "seven",
		"eight", "nine", "ten", "eleven", "twelve",
	}
	if n >= 0 && n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}

// Counted is a number with its noun, as a word: "one line", "six lines".
func Counted(n int, one, many string) string { return InWords(n) + " " + Plural(n, one, many) }

// Numbered is a number with its noun, in figures: "1 piece", "4 pieces".
func Numbered(n int, one, many string) string { return strconv.Itoa(n) + " " + Plural(n, one, many) }

// Plural is the one word or the other, by a number.
func Plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// Ordinal is the place in a row as a word: "third", "13th".
func Ordinal(n int) string {
	words := [...]string{
		"", "first", "second", "third", "fourth", "fifth", "sixth",
		"seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth",
	}
	if n > 0 && n < len(words) {
		return words[n]
	}
	ending := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			ending = "st"
		case 2:
			ending = "nd"
		case 3:
			ending = "rd"
		}
	}
	return strconv.Itoa(n) + ending
}

// Runs are numbers in their order, three and more in a row as "4 to 6". follows
// says whether the second number comes right after the first.
func Runs[N any](numbers []N, follows func(a, b N) bool) []string {
	var out []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && follows(numbers[j], numbers[j+1]) {
			j++
		}
		if j-i < 2 {
			out = append(out, fmt.Sprint(numbers[i]))
			i++
			continue
		}
		out = append(out, fmt.Sprint(numbers[i])+" to "+fmt.Sprint(numbers[j]))
		i = j + 1
	}
	return out
}

// Capital begins a text with a capital letter.
func Capital(text string) string {
	r, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return text
	}
	return string(unicode.ToUpper(r)) + text[size:]
}

// Sentence ends a text with a full stop, once.
func Sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.ContainsRune(".?!:", rune(text[len(text)-1])) {
		return text
	}
	return text + "."
}
