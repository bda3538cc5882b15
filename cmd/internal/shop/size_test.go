package shop_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/shop"
)

// A day sheet of the most bytes is read; one byte more is refused in one
// sentence.
func TestSheetSize(t *testing.T) {
	s := open(t, demoShop(t))
	sheet := bytes.Repeat([]byte("\n"), shop.MaxSheet)
	_, err := s.Reading(sheet, "")
	require.NoError(t, err)
	_, err = s.Reading(append(sheet, '\n'), "")
	require.ErrorIs(t, err, shop.ErrUse)
	require.ErrorContains(t, err, "the sheet has 4194305 bytes, 4194304 at most")
}

// A photo of the most bytes is taken in; of one byte more it is not.
func TestPhotoSize(t *testing.T) {
	s := open(t, demoShop(t))
	folder := t.TempDir()
	for name, size := range map[string]int64{"most.jpg": shop.MaxPhoto, "over.jpg": shop.MaxPhoto + 1} {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, nil, 0o600))
		require.NoError(t, os.Truncate(path, size))
		notes, err := s.Reading([]byte("coach "+demoCoach+"\non 2020-04-25 zone +02:00\n"+
			"finding: split-sealant; at spot 3300 aft 0; with length 100 mm; on-the-face; before-rain; photo "+name+"; by hand-1\n"), "")
		require.NoError(t, err)
		require.Empty(t, notes[0].Why)
		err = s.Pencil(notes, []string{folder})
		if size <= shop.MaxPhoto {
			require.NoError(t, err)
			continue
		}
		require.ErrorIs(t, err, shop.ErrUse)
		require.ErrorContains(t, err, "over.jpg has 67108865 bytes, 67108864 at most")
	}
}
