package cli

import (
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/picture"
	"lapmark/report/carry"
)

// The table of limits in the guide is the program's own.
func TestGuideLimits(t *testing.T) {
	text, err := os.ReadFile("../../../DEVELOPERS.md")
	require.NoError(t, err)
	files := carry.DefaultLimits()
	for _, l := range []struct {
		what string
		most int
	}{
		{"leaf, both lines, bytes", format.MaxLeaf},
		{"entries of a ledger", format.MaxLeaves},
		{"depth of JSON", format.MaxDepth},
		{"open text of an entry, characters", ledger.MaxLabel},
		{"free text or private value, characters", ledger.MaxFree},
		{"sentence of a certificate, characters", ledger.MaxSentence},
		{"places of an entry", ledger.MaxPlaces},
		{"lines of a certificate", ledger.MaxLines},
		{"changes of one entry followed", ledger.MaxCorrections},
		{"side branches read of a ledger", ledger.MaxBranches},
		{"day sheet, bytes", shop.MaxSheet},
		{"photo, bytes", shop.MaxPhoto},
		{"long side of a travel copy, pixels", picture.LongSide},
		{"paper or bundle, bytes", files.File},
		{"streams walked in a PDF saved again", files.Streams},
		{"bytes unpacked from it", files.Unpacked},
	} {
		require.Contains(t, string(text), fmt.Sprintf("| %s | %d |", l.what, l.most))
	}
}
