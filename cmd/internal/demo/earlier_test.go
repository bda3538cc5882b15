package demo

import (
	"context"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/testdata"
)

// pages are the words of a paper as pdftotext (poppler) reads them.
func pages(t *testing.T, paper string) string {
	t.Helper()
	out, err := exec.Command(testdata.Program(t, "pdftotext"), "-raw", paper, "-").Output()
	require.NoError(t, err)
	return strings.Join(strings.Fields(string(out)), " ")
}

// footCode is the head code in the foot box of a page: five groups of four.
var footCode = regexp.MustCompile(`head code, to read aloud ((?:[0-9A-Z]{4} ){4}[0-9A-Z]{4})`)

// A holder with both papers on the table: both copies of the certificate list
// the findings paper, with the head code that both copies of it print.
func TestCertificateListsTheFindingsPaper(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "demo")
	_, err := Make(context.Background(), folder)
	require.NoError(t, err)
	codes := map[string]bool{}
	for _, findings := range []string{"findings-004137-2020-03-20.pdf", "findings-004137-2020-03-20-pass-on.pdf"} {
		words := pages(t, filepath.Join(folder, findings))
		require.Contains(t, words, "Papers given out before this one None was given out before this one.")
		require.Contains(t, words, "this paper is entry 16")
		code := footCode.FindStringSubmatch(words)
		require.NotNil(t, code, words)
		codes[code[1]] = true
	}
	require.Len(t, codes, 1)
	for code := range codes {
		listed := "Papers given out before this one 20 Mar 2020 findings, for the holder, complete up to entry 15: " + code + " "
		for _, certificate := range []string{"Q-0007.pdf", "Q-0007-pass-on.pdf"} {
			require.Contains(t, pages(t, filepath.Join(folder, certificate)), listed)
		}
	}
}
