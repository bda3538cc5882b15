package carry

import (
	"math"
	"strconv"
)

// layout is a text of fixed bytes with numbers in it: '#' stands for a whole
// number in decimal, '@' for an offset of ten digits. Writer and reader of the
// tail share each layout, so they cannot part.
type layout string

// mostDigits is the longest number a reader takes for '#': enough for every
// file within the limits, and small enough for an int of 32 bits.
const mostDigits = 9

// offsetDigits is the length of an offset in a cross-reference table
// (ISO 32000-1:2008, 7.5.4).
const offsetDigits = 10

// append writes the layout behind text, with these numbers in it.
func (l layout) append(text []byte, numbers ...int) []byte {
	for i := range len(l) {
		switch l[i] {
		case '#':
			text = strconv.AppendInt(text, int64(numbers[0]), 10)
			numbers = numbers[1:]
		case '@':
			digits := strconv.Itoa(numbers[0])
			for range offsetDigits - len(digits) {
				text = append(text, '0')
			}
			text = append(text, digits...)
			numbers = numbers[1:]
		default:
			text = append(text, l[i])
		}
	}
	return text
}

// match reads the layout at the beginning of text. It returns the numbers and
// how many bytes they and the fixed bytes fill; when text does not match, how
// many did.
func (l layout) match(text []byte) (numbers []int, length int, ok bool) {
	for i := range len(l) {
		switch l[i] {
		case '#', '@':
			number, digits := leadingNumber(text[length:])
			if digits == 0 || l[i] == '#' && digits > mostDigits || l[i] == '@' && digits != offsetDigits {
				return nil, length, false
			}
			numbers = append(numbers, number)
			length += digits
		default:
			if length == len(text) || text[length] != l[i] {
				return nil, length, false
			}
			length++
		}
	}
	return numbers, length, true
}

// leadingNumber reads the digits at the beginning of text, at most one more
// than an offset has. It returns their value, a large one as math.MaxInt32, and
// how many they are.
func leadingNumber(text []byte) (value, digits int) {
	var v int64
	for digits < len(text) && digits <= offsetDigits && '0' <= text[digits] && text[digits] <= '9' {
		v = v*10 + int64(text[digits]-'0')
		digits++
	}
	return int(min(v, math.MaxInt32)), digits
}
