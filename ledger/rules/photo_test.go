package rules_test

import (
	"crypto/sha256"
	"encoding/hex"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPhotoAtTwoPlaces(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	w.sheets(on("2020-03-20", "remark: at spot 1000 aft 500 R; photo one.jpg"))
	require.Equal(t, []string{"photo-twice noted: The same photo stands at spot 1000 aft, 500 R and spot 1060 aft, 500 R."},
		w.says(on("2020-03-20", "remark: at spot 1060 aft 500 R; photo one.jpg")))
	require.Empty(t, w.says(on("2020-03-20", "remark: at spot 1049 aft 500 R; photo one.jpg")), "they share a millimetre")
	require.Empty(t, w.says(on("2020-03-20", "remark: at spot 1060 aft 500 R; photo two.jpg")))
	require.Empty(t, w.says(on("2020-03-20", "remark: photo one.jpg")), "no place is said")
}

func TestPhotoOfAnotherCoach(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	sum := sha256.Sum256([]byte("one.jpg"))
	w.shown = func(hex64 string) (string, bool) { return "TB78-1133", hex64 == hex.EncodeToString(sum[:]) }
	note := "remark: at spot 1000 aft 500 R; photo one.jpg"
	require.Equal(t, []string{"photo-twice stopped: The same photo is in the file of TB78-1133."}, w.says(on("2020-03-20", note)))
	require.Empty(t, w.says(on("2020-03-20", note+"; override photo-twice, reason \"both stood side by side\", by foreman")))
	require.Empty(t, w.says(on("2020-03-20", "remark: at spot 1000 aft 500 R; photo two.jpg")))
}
