package record_test

import (
	"fmt"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/cover/record"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/testdata"
)

// longCoach is a coach of so many entries: the demo's first 57, with their
// certificate, upkeep and work by others, written again and again.
func longCoach(b testing.TB, entries int) *ledger.Replay {
	b.Helper()
	text, err := os.ReadFile("../../../testdata/v1/ledger.txt")
	require.NoError(b, err)
	old, err := ledger.Check(text, sshsig.Verify)
	require.NoError(b, err)
	house, err := sshsig.ParseLine(old.Entries[0].Key)
	require.NoError(b, err)
	asSigned := func(string, []byte, []byte) (string, error) { return old.Entries[0].Key, nil }
	c := ledger.NewCoach()
	for n := range entries {
		e := old.Entries[n%57]
		if n >= 57 && e.Kind() == "intake" {
			e = old.Entries[4]
		}
		body, _ := format.Clone(e.Body()).(format.Object)
		if tag, tagged := body["tag"].(string); tagged && n >= 57 {
			body["tag"] = fmt.Sprintf("%s-%d", tag, n)
		}
		encoded, err := format.Encode(body)
		require.NoError(b, err)
		l1, err := format.Line{
			At: "2026-05-04T13:22:11Z", Body: encoded, Key: house.Fingerprint(), Kind: e.Kind(), Prev: c.Newest(), V: 1,
		}.Append(nil)
		require.NoError(b, err)
		leaf, err := format.Leaf(l1, sshsig.Build(house, ledger.EntryNamespace, [64]byte{}))
		require.NoError(b, err)
		require.NoError(b, c.Extend(leaf, asSigned))
	}
	return ledger.NewReplay(c, nil)
}

// BenchmarkFigureCover holds, for a coach of 1,000 entries, the standing of all
// its lines and one answer under 5 ms, an answer with the place of entry open
// under 100 ms, and reading the facts out of its ledger under 100 ms; the limits
// are ours. It is processor time.
func BenchmarkFigureCover(b *testing.B) {
	r := longCoach(b, 1000)
	on, err := day.Parse("2022-11-20")
	require.NoError(b, err)
	f := record.Facts(r, ledger.No{})
	require.Greater(b, len(f.Certificates), 10)
	known := cover.Question{Kind: cover.KindLeak, Noticed: on, Reported: on, Entries: []cover.Entry{{At: cover.Point{Aft: 6900, Off: -500}}}}
	open := cover.Question{Kind: cover.KindLeak, Noticed: on, Reported: on}
	ask := func(q cover.Question) func() error {
		return func() error {
			_, err := cover.Ask(f, q)
			return err
		}
	}
	best := testdata.Best(
		b, testdata.ProcessorTime,
		func() error { record.Facts(r, ledger.No{}); return nil },
		func() error { cover.StandingOn(f, on); return nil }, ask(known), ask(open),
	)
	testdata.AtMost(b, "facts-x-100ms", 1, best[0], 100*time.Millisecond)
	testdata.AtMost(b, "answer-x-5ms", 1, best[1]+best[2], 5*time.Millisecond)
	testdata.AtMost(b, "open-x-100ms", 1, best[3], 100*time.Millisecond)
}
