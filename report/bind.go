package report

import "strings"

// nbsp is the space that keeps two words on one line.
const nbsp = "\u00a0"

// units are the words that never part from the number before them.
var units = map[string]bool{
	"mm": true, "m": true, "m²": true, "%": true, "°C": true, "°F": true, "K": true, "kg": true, "g": true,
	"g/m²": true, "h": true, "min": true, "m/min": true, "L": true, "ml": true, "mL": true, "in": true,
	"ft": true, "kPa": true, "N": true, "µm": true, "L/min": true, "d": true, "R": true,
	"day": true, "days": true, "month": true, "months": true, "×": true,
	"January": true, "February": true, "March": true, "April": true, "May": true, "June": true,
	"July": true, "August": true, "September": true, "October": true, "November": true, "December": true,
	"Jan": true, "Feb": true, "Mar": true, "Apr": true, "Jun": true, "Jul": true, "Aug": true, "Sep": true,
	"Oct": true, "Nov": true, "Dec": true,
}

// counters are the words that never part from the number after them.
var counters = map[string]bool{
	"page": true, "entry": true, "entries": true, "line": true, "lines": true, "rafter": true,
	"rafters": true, "bay": true, "lot": true, "day": true, "×": true,
}

// shortMonth are the months as tables write them; the year stays with them.
var shortMonth = map[string]bool{
	"Jan": true, "Feb": true, "Mar": true, "Apr": true, "May": true, "Jun": true,
	"Jul": true, "Aug": true, "Sep": true, "Oct": true, "Nov": true, "Dec": true,
}

// Bind joins by U+00A0 what must not part at the end of a line: number and
// unit, day and month, "page 1", "entry 30", the groups of a telephone number.
func Bind(text string) string {
	words := strings.Split(text, " ")
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			next := ""
			if i+1 < len(words) {
				next = words[i+1]
			}
			if together(words[i-1], w) || w == "to" && runsTo(words[i-1], next) || i > 1 && words[i-1] == "to" && runsTo(words[i-2], w) {
				b.WriteString(nbsp)
			} else {
				b.WriteByte(' ')
			}
		}
		b.WriteString(w)
	}
	return b.String()
}

// runsTo tells whether "1 to 3" stands there: two numbers and the word between.
func runsTo(from, to string) bool { return from != "" && digitEnd(from) && digitStart(to) }

// together tells whether two words never part.
func together(before, after string) bool {
	bare := strings.TrimRight(after, ".,;:)?!")
	open := strings.ToLower(strings.TrimLeft(before, "(\""))
	switch {
	case before == "" || after == "":
		return false
	case digitEnd(before) && (units[bare] || digitStart(bare) && digitEnd(bare)):
		return true
	case (counters[open] || shortMonth[before]) && digitStart(after):
		return true
	}
	return false
}

func digitEnd(w string) bool   { c := w[len(w)-1]; return c >= '0' && c <= '9' }
func digitStart(w string) bool { return w != "" && w[0] >= '0' && w[0] <= '9' }
