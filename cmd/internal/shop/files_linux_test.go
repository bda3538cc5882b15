package shop

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/file"
	"lapmark/testdata"
)

// A full disk is said of the file that was to be written, and no half file is
// left.
func TestWriteOnAFullDisk(t *testing.T) {
	folder := testdata.Mount(t, "size=16k")
	path := filepath.Join(folder, "Q-0007.pdf")
	err := WriteNew(path, make([]byte, 64<<10))
	require.ErrorIs(t, err, file.ErrFull)
	require.EqualError(t, err, path+": no room left on the disk")
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	require.Empty(t, left)
}

// A folder on a disk that may only be read is said, without the name of a
// temporary file.
func TestWriteOnAReadOnlyDisk(t *testing.T) {
	folder := testdata.Mount(t, "ro")
	require.ErrorIs(t, Folder(folder), file.ErrReadOnly)
	require.EqualError(t, Folder(folder), folder+": no right to open or write it here")
}

func TestPaperNameOfAPlateWithHyphens(t *testing.T) {
	require.Equal(t, "77310", plateEnd("GH52-77310"))
	require.Equal(t, "004137", plateEnd("GZ9TF785XEW004137"))
	require.Equal(t, "K7", plateEnd("K7"))
}
