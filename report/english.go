package report

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// inWords is a small number as a word, a larger one in figures.
func inWords(n int) string {
	words := [...]string{
		"no", "one", "two", "three", "four", "five", "six", "seven",
		"eight", "nine", "ten", "eleven", "twelve",
	}
	if n >= 0 && n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}

// ordinal is the place in a row as a word: "third", "13th".
func ordinal(n int) string {
	words := [...]string{
		"", "first", "second", "third", "fourth", "fifth", "sixth",
		"seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth",
	}
	if n > 0 && n < len(words) {
		return words[n]
	}
	switch {
	case n%100 >= 11 && n%100 <= 13:
		return fmt.Sprintf("%dth", n)
	case n%10 == 1:
		return fmt.Sprintf("%dst", n)
	case n%10 == 2:
		return fmt.Sprintf("%dnd", n)
	case n%10 == 3:
		return fmt.Sprintf("%drd", n)
	}
	return fmt.Sprintf("%dth", n)
}

// counted is a number with its noun: "one line", "six lines".
func counted(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	return inWords(n) + " " + many
}

// joined is a list read aloud: "a, b and c".
func joined(parts []string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	last := len(parts) - 1
	return strings.Join(parts[:last], ", ") + " and " + parts[last]
}

// theLines names lines by their numbers: "line 3", "lines 1, 2 and 5 to 7".
func theLines(numbers []int) string {
	if len(numbers) == 1 {
		return "line " + strconv.Itoa(numbers[0])
	}
	return "lines " + numberList(numbers)
}

// numberList is numbers read aloud, runs of three and more as "4 to 6".
func numberList(numbers []int) string {
	ns := append([]int(nil), numbers...)
	sort.Ints(ns)
	var parts []string
	for i := 0; i < len(ns); {
		j := i
		for j+1 < len(ns) && ns[j+1] == ns[j]+1 {
			j++
		}
		if j-i < 2 {
			parts = append(parts, strconv.Itoa(ns[i]))
			i++
			continue
		}
		parts = append(parts, fmt.Sprintf("%d to %d", ns[i], ns[j]))
		i = j + 1
	}
	return joined(parts)
}

// capital begins a text with a capital letter.
func capital(text string) string {
	r, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return text
	}
	return string(unicode.ToUpper(r)) + text[size:]
}

// sentence ends a text with a full stop, once.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.ContainsRune(".?!:", rune(text[len(text)-1])) {
		return text
	}
	return text + "."
}

// squareMetres is an area in m² to 0.01, from mm², rounded half up.
func squareMetres(mm2 int64) string {
	hundredths := (mm2 + 5000) / 10000
	return fmt.Sprintf("%d.%02d", hundredths/100, hundredths%100)
}

// percent is a share in percent to 0.1, without ".0".
func percent(permille int) string {
	if permille%10 == 0 {
		return strconv.Itoa(permille / 10)
	}
	return fmt.Sprintf("%d.%d", permille/10, permille%10)
}
