package cli

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/check"
	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/file"
	"lapmark/ledger/format"
	"lapmark/ledger/loose"
	"lapmark/ledger/picture"
	"lapmark/report"
	"lapmark/report/carry"
)

// The table of limits in the guide is the program's own, row by row; the third
// column is where a limit is declared.
func TestGuideLimits(t *testing.T) {
	text, err := os.ReadFile("../../../DEVELOPERS.md")
	require.NoError(t, err)
	_, table, found := strings.Cut(string(text), "| what | most | declared |\n|--|--|--|\n")
	require.True(t, found)
	table, _, _ = strings.Cut(table, "\n\n")
	files := carry.DefaultLimits()
	var want []string
	for _, l := range []struct {
		what     string
		most     int
		declared string
	}{
		{"leaf, both lines, bytes", format.MaxLeaf, "format.MaxLeaf"},
		{"entries of a ledger", format.MaxLeaves, "format.MaxLeaves"},
		{"depth of JSON", format.MaxDepth, "format.MaxDepth"},
		{"open text of an entry, characters", ledger.MaxLabel, "ledger.MaxLabel"},
		{"free text or private value, characters", ledger.MaxFree, "ledger.MaxFree"},
		{"sentence of a certificate, characters", ledger.MaxSentence, "ledger.MaxSentence"},
		{"all sentences of a certificate, bytes", report.MostBytes, "report.MostBytes"},
		{"the shop's terms among them, bytes", report.MostTermsBytes, "report.MostTermsBytes"},
		{"places of an entry", ledger.MaxPlaces, "ledger.MaxPlaces"},
		{"lines of a certificate", ledger.MaxLines, "ledger.MaxLines"},
		{"changes asked of one entry that are followed", ledger.MaxCorrections, "ledger.MaxCorrections"},
		{"side branches read of a ledger", ledger.MaxBranches, "ledger.MaxBranches"},
		{"entries listed behind one finding or certificate", check.MaxNamed, "check.MaxNamed"},
		{"day sheet, bytes", shop.MaxSheet, "shop.MaxSheet"},
		{"note that is not canonical, bytes", loose.MaxNote, "loose.MaxNote"},
		{"photo, bytes", shop.MaxPhoto, "shop.MaxPhoto"},
		{"scans of a photo", picture.MaxScans, "picture.MaxScans"},
		{"long side of a travel copy, pixels", picture.LongSide, "picture.LongSide"},
		{"words of one look-up", book.MaxWords, "book.MaxWords"},
		{"key file, bytes", keyring.MaxKeyFile, "keyring.MaxKeyFile"},
		{"paper or bundle, bytes", files.File, "carry.Limits.File"},
		{"files of a bundle", carry.MaxMembers, "carry.MaxMembers"},
		{"streams walked in a PDF saved again", files.Streams, "carry.Limits.Streams"},
		{"bytes unpacked from it", files.Unpacked, "carry.Limits.Unpacked"},
	} {
		want = append(want, fmt.Sprintf("| %s | %d | `%s` |", l.what, l.most, l.declared))
	}
	require.Equal(t, want, strings.Split(table, "\n"))
	require.Equal(t, []int{format.MaxLeaf, format.MaxLeaves}, []int{file.MaxLeaf, file.MaxEntries}, "a coach file knows no format")
}
