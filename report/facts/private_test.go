package facts_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/testdata/quillstead"
)

// secrets are all private values of the demo's first 54 entries.
func secrets(r *ledger.Replay) map[string]string {
	out := map[string]string{}
	for _, a := range r.Acts {
		kind, _ := ledger.KindNamed(a.Kind)
		for name, value := range r.Opened[a.No] {
			if _, private := kind.PrivateNamed(name); private {
				out[value] = name
			}
		}
	}
	return out
}

// findings is the findings paper on the newest head.
func findings(t *testing.T, r *ledger.Replay, c report.Copy) report.Paper {
	t.Helper()
	head := newest(t, r)
	p, err := report.Findings(facts.Findings(r, facts.Options{Terms: quillstead.Terms(), Copy: c, Given: head.UpToDay, Head: head}))
	require.NoError(t, err)
	return p
}

// history is the history on the newest head.
func history(t *testing.T, r *ledger.Replay, c report.Copy) report.Paper {
	t.Helper()
	head := newest(t, r)
	p, err := report.History(facts.History(r, facts.Options{Terms: quillstead.Terms(), Copy: c, Given: head.UpToDay, Head: head}, "holder"))
	require.NoError(t, err)
	return p
}

func printed(p report.Paper) string {
	var all string
	for _, s := range p.Sections {
		all += " " + report.Words(s.Blocks)
	}
	return all
}

func TestPassOnCopiesNameNobody(t *testing.T) {
	r, f := q7(t, report.PassOnCopy)
	paper, err := report.Certificate(f, report.CertificateSentences(f, quillstead.Terms()))
	require.NoError(t, err)
	found, told := findings(t, r, report.PassOnCopy), history(t, r, report.PassOnCopy)
	require.Len(t, secrets(r), 8)
	for value, name := range secrets(r) {
		require.NotContains(t, printed(paper), value, name)
		require.NotContains(t, printed(found), value, name)
		require.NotContains(t, printed(told), value, name)
	}
}

func TestOwnCopyNamesItsHolder(t *testing.T) {
	r, f := q7(t, report.OwnCopy)
	paper, err := report.Certificate(f, report.CertificateSentences(f, quillstead.Terms()))
	require.NoError(t, err)
	require.Contains(t, printed(paper), "Adela Brunskog")
	found := printed(history(t, r, report.OwnCopy))
	for value, name := range secrets(r) {
		require.Contains(t, found, value, name)
	}
}

// Hours and costs are the shop's alone; another holder's values are not for the
// holder of the day.
func TestHistoryKeepsWhatIsNotTheReaders(t *testing.T) {
	k := newInker(t, quillstead.Terms())
	k.ink(intakeOf("4200 mm, front 2000 mm, rear 2000 mm", ""), "2021-05-03T16:00:00Z")
	k.ink(`coach TB78-1133
on 2021-05-10 zone +02:00
work: tarp; photo d-1.jpg; note "open text"; private hours "7.5 h"; by hand-1
decision: leave; at 300-700 aft 200-600 L; given phone, on 2021-05-10; warned "w"; holder holder-2; private price "12.00 EUR"; by desk
decision: leave; at 300-700 aft 200-600 L; given phone, on 2021-05-10; warned "w"; holder holder-1; private price "34.00 EUR"; by desk
`, "2021-05-10T16:00:00Z")
	own := printed(history(t, k.r, report.OwnCopy))
	require.Contains(t, own, "open text")
	require.Contains(t, own, "34.00 EUR")
	require.NotContains(t, own, "12.00 EUR")
	require.NotContains(t, own, "7.5 h")
}
