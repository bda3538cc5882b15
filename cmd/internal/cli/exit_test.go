package cli

import (
	"fmt"
	"io/fs"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger/file"
)

// What keeps a verb from doing anything is said in one sentence with what to
// do now, and has its code.
func TestWhatNow(t *testing.T) {
	for _, test := range []struct {
		err  error
		code int
		says string
	}{
		{file.NewerError{Version: 9, Known: 1}, exitCould, "written by a newer program: version 9, this one reads up to 1. Nothing was changed. Use the newer program."},
		{fmt.Errorf("a.coach: %w", file.ErrDamaged), exitCould, "a.coach: the file is damaged. Nothing was changed. Put a sound copy of this file back."},
		{fmt.Errorf("a.coach: %w", file.ErrMissing), exitCould, "a.coach: no such file. Nothing was changed. Put a sound copy of this file back."},
		{fmt.Errorf("a.pdf: %w", file.ErrFull), exitCould, "a.pdf: no room left on the disk. No half file is left. Make room and try again."},
		{&shop.Damaged{Coach: "A", Broken: fs.ErrInvalid}, exitBad, "coach file A: invalid argument. Nothing was changed. Put a sound copy of this file back."},
		{fmt.Errorf("%w: entry 4 is newer", shop.ErrCannotSay), exitNotKnown, "cannot say: entry 4 is newer. Ask a newer tool; no certificate is made here."},
		{fmt.Errorf("terms: %w", fs.ErrNotExist), exitCould, "terms: file does not exist. Put it back, or name another."},
	} {
		require.Equal(t, test.code, exitCode(test.err), test.says)
		require.Equal(t, test.says, sentence(test.err))
	}
}
