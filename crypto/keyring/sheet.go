package keyring

import (
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"strings"
)

// The recovery sheet: the 32-byte seed of the recovery key in four rows of
// eight bytes. A row is 16 characters: 13 for the 64 bits and one 0 bit, first
// bits first, and 3 for the first 15 bits of SHA-256 over
// "lapmark recovery row N:" and the 13, N = 1 to 4.
const (
	rowBytes   = 8
	rowSecret  = 13
	rowLength  = 16
	groupSize  = 4
	sheetRows  = 4
	digits     = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
	rowSpeech  = "lapmark recovery row %d:"
	notPrinted = "is not as printed"
)

// crockford is Crockford's base 32, without padding.
var crockford = base32.NewEncoding(digits).WithPadding(base32.NoPadding)

// RowError says which row of a recovery sheet is not as printed. Row and Group
// count from 1. Group is the group of four in which the fault lies, 0 when
// that cannot be told; where one character is wrong it is right, where several
// are it is a guess or 0.
type RowError struct {
	Row, Group int
	Reason     string
}

func (e *RowError) Error() string {
	if e.Group == 0 {
		return fmt.Sprintf("row %d %s: %s", e.Row, notPrinted, e.Reason)
	}
	return fmt.Sprintf("row %d, group %d %s: %s", e.Row, e.Group, notPrinted, e.Reason)
}

// SheetRows returns the four rows of a seed, each in four groups of four.
func SheetRows(seed [32]byte) [4]string {
	var rows [sheetRows]string
	for i := range rows {
		secret := crockford.EncodeToString(seed[i*rowBytes : (i+1)*rowBytes])
		row := secret + checkDigits(i+1, secret)
		rows[i] = row[:4] + " " + row[4:8] + " " + row[8:12] + " " + row[12:]
	}
	return rows
}

// ReadSheet reads the four rows as ReadRow does. The error is a *RowError, of
// the first bad row.
func ReadSheet(rows [4]string) ([32]byte, error) {
	var seed [32]byte
	for i, row := range rows {
		part, err := ReadRow(i+1, row)
		if err != nil {
			return [32]byte{}, err
		}
		copy(seed[i*rowBytes:], part[:])
	}
	return seed, nil
}

// ReadRow reads row n, 1 to 4, as a person types it: small letters are large
// ones, spaces and hyphens are passed over, o is 0, i and l are 1. The error
// is a *RowError.
func ReadRow(n int, row string) ([8]byte, error) {
	clean := strings.Map(asPrinted, row)
	at := 0
	for _, letter := range clean {
		if !strings.ContainsRune(digits, letter) {
			reason := fmt.Sprintf("%q is not used on the sheet", letter)
			return [rowBytes]byte{}, &RowError{Row: n, Group: min(at/groupSize+1, rowLength/groupSize), Reason: reason}
		}
		at++
	}
	if at != rowLength {
		return [rowBytes]byte{}, &RowError{Row: n, Reason: fmt.Sprintf("%d characters instead of %d", at, rowLength)}
	}
	if !rowFits(n, clean) {
		return [rowBytes]byte{}, &RowError{Row: n, Group: faultyGroup(n, clean), Reason: "the check characters do not fit"}
	}
	part, err := crockford.DecodeString(clean[:rowSecret])
	if err != nil {
		return [rowBytes]byte{}, &RowError{Row: n, Reason: err.Error()}
	}
	return [rowBytes]byte(part), nil
}

// asPrinted turns a typed character into the printed one; -1 drops it.
func asPrinted(typed rune) rune {
	if 'a' <= typed && typed <= 'z' {
		typed += 'A' - 'a'
	}
	switch typed {
	case ' ', '-':
		return -1
	case 'O':
		return '0'
	case 'I', 'L':
		return '1'
	}
	return typed
}

// rowFits says whether SheetRows would write these 16 characters as row n of
// some seed.
func rowFits(n int, row string) bool {
	lastBits := strings.IndexByte(digits, row[rowSecret-1])
	return lastBits%2 == 0 && checkDigits(n, row[:rowSecret]) == row[rowSecret:]
}

// faultyGroup changes each character of the row into each other and returns
// the group, from 1, in which that makes the row fit; 0 when there is none or
// more than one. For a row with one wrong character the true group is always
// among them; 496 tries at 15 bits find a false one in 1 of 66 rows.
func faultyGroup(n int, row string) int {
	found := 0
	for at := range rowLength {
		for _, digit := range []byte(digits) {
			if !rowFits(n, row[:at]+string(digit)+row[at+1:]) {
				continue
			}
			group := at/groupSize + 1
			if found != 0 && found != group {
				return 0
			}
			found = group
		}
	}
	return found
}

func checkDigits(n int, secret string) string {
	sum := sha256.Sum256([]byte(fmt.Sprintf(rowSpeech, n) + secret))
	return crockford.EncodeToString(sum[:2])[:rowLength-rowSecret]
}
