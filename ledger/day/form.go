package day

// shaped says whether a text has a digit wherever the model has one, and the
// model's own character everywhere else.
func shaped(text, model string) bool {
	if len(text) != len(model) {
		return false
	}
	for i := range len(model) {
		if model[i] == '0' {
			if text[i] < '0' || text[i] > '9' {
				return false
			}
		} else if text[i] != model[i] {
			return false
		}
	}
	return true
}

// digits is the number that a text of nothing but digits says.
func digits(text string) int {
	n := 0
	for i := range len(text) {
		n = n*10 + int(text[i]-'0')
	}
	return n
}
