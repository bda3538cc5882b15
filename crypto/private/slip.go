// Package private makes the commitments under which private values stand in an
// entry, and the slips that open them. Nothing here touches a file, a clock or
// a source of randomness: random bytes come in.
//
// A slip is the base64url (RFC 4648 section 5, without padding) of
//
//	["SALT","NAME","VALUE"]
//
// in UTF-8 without spaces, where SALT is the base64url of 16 bytes and only "
// and \ in VALUE are escaped. A commitment is the base64url of the SHA-256 over
// the ASCII of the slip: the digest of a disclosure in RFC 9901 section 4.2.3.
// Without the salt nothing can be tried against it; who deletes the slip has
// erased the value.
//
// One value has one slip for each salt: [Parse] refuses what [Make] would not
// write. A slip that was received is kept as it stands, never written again.
package private

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// What can be wrong with a slip, or with what a slip is asked for.
var (
	ErrMalformed = errors.New("malformed slip")
	ErrName      = errors.New("not the name of a private value")
	ErrValue     = errors.New("text that cannot stand in a slip")
)

const (
	saltSize  = 16 // at least 128 bits, RFC 9901 section 9.3 (from memory)
	blankSize = sha256.Size
)

// Slip is what a slip says.
type Slip struct {
	Salt  [saltSize]byte
	Name  string // [a-z][a-z0-9-]{0,39}
	Value string // UTF-8 without the characters of ErrValue; may be empty
}

// Salt reads the salt of one slip. Each slip needs its own.
func Salt(random io.Reader) ([16]byte, error) {
	var salt [saltSize]byte
	if _, err := io.ReadFull(random, salt[:]); err != nil {
		return [saltSize]byte{}, fmt.Errorf("random bytes for a salt: %w", err)
	}
	return salt, nil
}

// Blank returns the commitment of a private value that is not there: 32 random
// bytes, which nobody can tell from the commitment of one that is.
func Blank(random io.Reader) (string, error) {
	var blank [blankSize]byte
	if _, err := io.ReadFull(random, blank[:]); err != nil {
		return "", fmt.Errorf("random bytes for a commitment: %w", err)
	}
	return base64.RawURLEncoding.EncodeToString(blank[:]), nil
}

// Commit returns the commitment of a slip, 43 characters.
func Commit(slip string) string {
	sum := sha256.Sum256([]byte(slip))
	return base64.RawURLEncoding.EncodeToString(sum[:])
}

// Make returns the slip of a value. The error wraps ErrName or ErrValue.
func Make(salt [16]byte, name, value string) (slip string, err error) {
	if !isWord(name) {
		return "", fmt.Errorf("%w: %q", ErrName, name)
	}
	if err := checkValue(value); err != nil {
		return "", err
	}
	escaped := strings.ReplaceAll(strings.ReplaceAll(value, `\`, `\\`), `"`, `\"`)
	text := `["` + base64.RawURLEncoding.EncodeToString(salt[:]) + `","` + name + `","` + escaped + `"]`
	return base64.RawURLEncoding.EncodeToString([]byte(text)), nil
}

// Parse reads what Make writes and nothing else. The error wraps ErrMalformed.
func Parse(slip string) (Slip, error) {
	text, err := base64.RawURLEncoding.DecodeString(slip)
	if err != nil {
		return Slip{}, fmt.Errorf("%w: not base64url", ErrMalformed)
	}
	var parts [3]string
	if err := json.Unmarshal(text, &parts); err != nil {
		return Slip{}, fmt.Errorf("%w: not a list of three texts", ErrMalformed)
	}
	salt, err := base64.RawURLEncoding.DecodeString(parts[0])
	if err != nil || len(salt) != saltSize {
		return Slip{}, fmt.Errorf("%w: no salt of %d bytes", ErrMalformed, saltSize)
	}
	read := Slip{Salt: [saltSize]byte(salt), Name: parts[1], Value: parts[2]}
	again, err := Make(read.Salt, read.Name, read.Value)
	if err != nil {
		return Slip{}, fmt.Errorf("%w: %w", ErrMalformed, err)
	}
	if again != slip {
		return Slip{}, fmt.Errorf("%w: not as it is written here", ErrMalformed)
	}
	return read, nil
}

// isWord says whether a text is [a-z][a-z0-9-]{0,39}.
func isWord(text string) bool {
	if text == "" || len(text) > 40 || text[0] < 'a' || text[0] > 'z' {
		return false
	}
	return strings.Trim(text, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

func checkValue(value string) error {
	if !utf8.ValidString(value) {
		return fmt.Errorf("%w: not UTF-8", ErrValue)
	}
	for _, r := range value {
		if isForbidden(r) {
			return fmt.Errorf("%w: the character %U", ErrValue, r)
		}
	}
	return nil
}

// isForbidden says whether a character does not stand in a slip: it would not
// be seen, or would change how its neighbours are seen. 200C and 200D are
// allowed here: some languages need them in names.
func isForbidden(r rune) bool {
	switch {
	case r < 0x20, 0x7F <= r && r <= 0x9F: // C0, DEL, C1
	case r == 0x061C, r == 0x200B, r == 0x200E, r == 0x200F:
	case 0x2028 <= r && r <= 0x202E, 0x2060 <= r && r <= 0x2069:
	case r == 0xFEFF, 0xFFF9 <= r && r <= 0xFFFB:
	case 0xFDD0 <= r && r <= 0xFDEF, r&0xFFFE == 0xFFFE: // noncharacters
	case 0xE0000 <= r && r <= 0xE007F: // tags
	default:
		return false
	}
	return true
}
