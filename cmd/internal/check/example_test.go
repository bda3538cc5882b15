package check

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/report/carry"
)

// exampleTrust is the line of the worked example for the key of its house.
const exampleTrust = `quillstead namespaces="entry.v1@lapmark,accept.v1@lapmark" ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIAOhB7/zzhC+HXDdGOdLwJln5NYwm6UNXx3chmQSVTG4 Quillstead Roof Works` + "\n"

func examplePart(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../../report/carry/testdata/example", name))
	require.NoError(t, err)
	return data
}

func exampleFiles(t testing.TB) carry.Files {
	t.Helper()
	return carry.Files{
		Ledger: examplePart(t, "ledger.txt"), Words: examplePart(t, "words.txt"),
		Private: examplePart(t, "private.txt"), HowToCheck: examplePart(t, "how-to-check.txt"),
	}
}

func examplePaper(t testing.TB) []byte {
	t.Helper()
	return mustPaper(t, examplePart(t, "face.pdf"), exampleFiles(t))
}

func exampleInput(t testing.TB, file []byte) Input {
	t.Helper()
	in := input(t, file)
	var err error
	in.Trust, err = keyring.ParseTrust([]byte(exampleTrust))
	require.NoError(t, err)
	return in
}

// The worked example of the format's specification: a paper of 4,906 bytes
// made by another program. Its numbers, codes and values are those stated
// there.
func TestWorkedExample(t *testing.T) {
	paper := examplePaper(t)
	require.Len(t, paper, 4906)
	require.Equal(t, "0259b09e11e66f26aae44ba3410c4f0a7a5d49dd37fb5a11696450c08004b907", hexOf(paper))

	a := Verify(exampleInput(t, paper))
	require.Equal(t, 0, a.Exit(), a.Text())
	require.Equal(t, LeftTheHouse, a.Paper)
	require.True(t, a.Whole)
	require.Zero(t, a.FirstBad)
	require.EqualValues(t, 3, a.Entries)
	require.Equal(t, &UpTo{
		Entry: 2, Day: "2020-03-19", HeadCode: "XT7Y BH3B YFSN CDHF V6HR",
		DaysAgo: 2442, Age: "6 years and 251 days", // GNU date: 2026-11-25 less 2020-03-19 is 2442 days
	}, a.UpTo)
	require.Equal(t, "8JZTG2HE2FYZ", a.Coach.ID)
	require.Equal(t, "GZ9TF785XEW004137", a.Coach.VIN)
	require.Equal(t, "SHA256:lbmsoA0yIEcEiVDRnMWuzm+nV+3ZEEpVIURqFoeSspg", a.SignedBy.Fingerprint)
	require.Equal(t, "quillstead", a.SignedBy.TrustedAs)
	require.Equal(t, "Quillstead Roof Works", a.SignedBy.House)
	require.Equal(t, []NeverLooked{{
		Entry: "2", Day: "2020-03-19", By: "house", Places: "0–3700 aft, full width", Why: "not opened at the holder’s \"wish\"",
		Says: "0–3700 aft, full width was not opened, and nobody has looked at it.",
	}}, a.NeverLookedAt)
	require.Empty(t, a.WordsMissing)
	require.Equal(t, []string{
		"complaint", "holder-address", "holder-mail", "holder-name", "holder-phone", "plate", "to-name", "valuables",
	}, a.NotShown)
}

func TestWorkedExampleAsText(t *testing.T) {
	a := Verify(exampleInput(t, examplePart(t, "ledger.txt")))
	require.Equal(t, 0, a.Exit(), a.Text())
	require.Equal(t, NoPDF, a.Paper)
	require.Equal(t, FormLedger, a.File)
	require.EqualValues(t, 3, a.UpTo.Entry, "a ledger is complete up to its last entry")
	require.Equal(t, "CEA2 1BAY 668F C6A9 AGB8", a.UpTo.HeadCode)
	require.False(t, a.WordsHere)
	require.Contains(t, a.Text(), saysNoWords)
}
