package report_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/report"
	"lapmark/report/text"
)

// Each of the two copies of a findings paper says which one it is, and advises
// the one who holds it: the holder keeps his, anybody else asks for an older.
func TestFindingsSayWhichCopy(t *testing.T) {
	at, err := report.NewDay("2020-03-20")
	require.NoError(t, err)
	facts := report.FindingsFacts{Given: at, DayIn: at, Head: report.PaperHead{UpToDay: at}, HolderName: "Adela Brunskog"}
	for name, test := range map[string]struct {
		copied     report.Copy
		holder     string
		says, nots []string
	}{
		"own": {
			report.OwnCopy, "Adela Brunskog",
			[]string{"Adela Brunskog. This is the holder's own copy.", "keep this one."},
			[]string{"copy to pass on", "ask for an older one"},
		},
		"own, without a name": {report.OwnCopy, "", []string{"holder: This is the holder's own copy."}, []string{". This is the holder's own copy."}},
		"to pass on": {
			report.PassOnCopy, "Adela Brunskog",
			[]string{"not named: this is the copy to pass on", "ask for an older one."},
			[]string{"Adela", "own copy", "keep this one"},
		},
	} {
		facts.Copy, facts.HolderName = test.copied, test.holder
		paper, err := report.Findings(facts)
		require.NoError(t, err)
		page := text.Render(paper)
		for _, says := range test.says {
			require.Contains(t, page, says, name)
		}
		for _, not := range test.nots {
			require.NotContains(t, page, not, name)
		}
	}
}
