// Package picture decides which photo may stand in a ledger. A travel copy is
// a JPEG without metadata, upright, with a long side of at most 1600 px. A
// photo that is one already is taken byte for byte and named by its SHA-256;
// any other is refused with what keeps it from being one.
package picture

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/jpeg"
)

// LongSide is how many pixels the long side of a travel copy may have.
const LongSide = 1600

// NotJPEG says why something is no JPEG for a travel copy: baseline or
// progressive, grey or YCbCr, one picture from SOI to EOI.
type NotJPEG struct{ Why string }

func (e NotJPEG) Error() string { return "not a plain JPEG: " + e.Why }

// HasMetadata says what a picture carries beside itself.
type HasMetadata struct{ What string }

func (e HasMetadata) Error() string { return "the picture carries more than itself: " + e.What }

// TooLarge says how large a picture is, in pixels.
type TooLarge struct{ W, H int }

func (e TooLarge) Error() string {
	return fmt.Sprintf("the picture is %d x %d, the long side may be %d", e.W, e.H, LongSide)
}

// Travel returns the name of a photo that is its own travel copy. The error is
// NotJPEG, HasMetadata or TooLarge. The size is read from the header first, so
// that no larger picture is ever unpacked. Without metadata there is no orientation
// to turn it by: what passes is upright as it stands.
func Travel(photo []byte) (hash string, err error) {
	size, err := jpeg.DecodeConfig(bytes.NewReader(photo))
	if err != nil {
		return "", NotJPEG{err.Error()}
	}
	if size.Width > LongSide || size.Height > LongSide {
		return "", TooLarge{size.Width, size.Height}
	}
	if err := walk(photo); err != nil {
		return "", err
	}
	drawn, err := jpeg.Decode(bytes.NewReader(photo))
	if err != nil {
		return "", NotJPEG{err.Error()}
	}
	switch drawn.(type) {
	case *image.Gray, *image.YCbCr:
		return Hex(photo), nil
	}
	return "", NotJPEG{"its colours are neither grey nor YCbCr"}
}

// Hex returns the SHA-256 of b as 64 hex digits in lower case (FIPS 180-4).
func Hex(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
