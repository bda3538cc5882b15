package record_test

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/cover/record"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/testdata/cases"
)

// demo is the ledger of the demo's coach, as it stood after entry n.
func demo(t *testing.T, n int64) *ledger.Replay {
	t.Helper()
	text, err := os.ReadFile("../../../testdata/v1/ledger.txt")
	require.NoError(t, err)
	c, err := ledger.Check(text, sshsig.Verify)
	require.NoError(t, err)
	return ledger.NewReplay(c, nil).Until(n)
}

func on(t *testing.T, s string) day.Day {
	t.Helper()
	d, err := day.Parse(s)
	require.NoError(t, err)
	return d
}

// fullNames are how the cases call shops, and how the ledger does.
var fullNames = map[string]string{
	"quillstead": "Quillstead Roof Works", "low-ferry": "Low Ferry Coachworks", "solar-installer": "other-shop",
}

// The facts of the demo after entry 71 are those that the cases of cover were
// worked out with, testdata/cover/base.json: there shops have short names, and
// an upkeep speaks of a line as a whole.
func TestDemoFactsAreThoseOfTheCases(t *testing.T) {
	want, got := cases.Base(t, "../../../testdata/cover/base.json"), record.Facts(demo(t, 71), ledger.No{})
	require.Equal(t, want.Coach, got.Coach)
	require.Equal(t, want.Deck, got.Deck)
	for i := range want.Certificates {
		want.Certificates[i].Issuer = fullNames[want.Certificates[i].Issuer]
		slices.Sort(want.Certificates[i].ExcludedCauses)
		slices.Sort(want.Certificates[i].ShopSideCauses)
	}
	for i := range got.Certificates {
		got.Certificates[i].Ref = ""
		slices.Sort(got.Certificates[i].ExcludedCauses)
		slices.Sort(got.Certificates[i].ShopSideCauses)
	}
	require.Equal(t, want.Certificates, got.Certificates)
	require.Equal(t, served(want), served(got))
	require.Equal(t, want.Sales, got.Sales)
	for i := range want.LaterWork {
		want.LaterWork[i].By = fullNames[want.LaterWork[i].By]
	}
	for i := range got.LaterWork {
		got.LaterWork[i].Ref, got.LaterWork[i].Known = "", day.Day{}
	}
	require.Equal(t, want.LaterWork, got.LaterWork)
	for i := range got.Left {
		got.Left[i].Ref = ""
	}
	require.Equal(t, want.Left, got.Left)
	got.OwnWork[0].Ref = ""
	require.Equal(t, want.OwnWork, got.OwnWork)
	require.Empty(t, got.Standings)
	require.Empty(t, got.HandOvers)
}

// served are the days on which each place of a line was done or resealed.
func served(f cover.Facts) map[string][]string {
	out := map[string][]string{}
	for _, c := range f.Certificates {
		for _, l := range c.Lines {
			for _, p := range l.Places {
				for _, u := range f.Upkeep {
					for _, s := range u.Seen {
						if s.Certificate == c.No && s.Line == l.Line && (s.Place == "" || s.Place == p.Place) && u.By == cover.ByShop {
							name := c.No + "/" + l.Line + "/" + p.Place
							out[name] = append(out[name], u.Day.String())
						}
					}
				}
			}
		}
	}
	return out
}

// The standing that the demo states for 2026-11-25.
func TestDemoStanding(t *testing.T) {
	r := demo(t, 87)
	rows := map[string]cover.Stands{}
	for _, s := range cover.StandingOn(record.Facts(r, ledger.No{}), on(t, "2026-11-25")) {
		s.Ground = cover.Ground{}
		rows[s.Line] = s
	}
	inForce := func(line, last string, months int, share int64, left int) {
		require.Equal(t, cover.Stands{
			Line: line, Word: "in-force", LastDay: on(t, last), Months: months, Share: share, DaysLeft: left, Who: "Penny Drift Bodyworks",
		}, rows[line])
	}
	inForce("Q-0007/L1/field", "2030-04-23", 79, 683, 1245)
	inForce("Q-0007/L2/field", "2030-04-23", 79, 683, 1245)
	inForce("Q-0007/L3/rafter-8", "2030-04-23", 79, 1000, 1245)
	inForce("Q-0031/L1/field", "2028-06-14", 5, 1000, 567)
	for line, last := range map[string]string{
		"Q-0007/L4/A1": "2026-04-23", "Q-0007/L5/left-edge": "2025-04-23", "Q-0007/L6/tie-in": "2022-04-23", "LF-112/L1/field": "2025-09-19",
	} {
		require.Equal(t, "expired", rows[line].Word, line)
		require.Equal(t, on(t, last), rows[line].LastDay, line)
	}
	require.Equal(t, "Low Ferry Coachworks", rows["LF-112/L1/field"].Who)
	require.Equal(t, cover.Nobody, rows["Q-0007/L4/A1"].Who)
}

// The two verdicts that stand in the demo are those that are made of its entries
// before them.
func TestDemoVerdicts(t *testing.T) {
	for verdict, claim := range map[int64]string{73: "C1", 82: "C2"} {
		r := demo(t, verdict-1)
		no, ok := r.Tagged(claim)
		require.True(t, ok)
		f := record.Facts(r, no)
		q, checks := record.Question(r, r.Act(no))
		judged, err := cover.Ask(f, q)
		require.NoError(t, err)
		want := demo(t, verdict).Act(ledger.No{N: verdict}).Body
		got := record.Body([]ledger.No{no}, q, judged, record.Used(r, f, judged, checks))
		for _, member := range []string{"answers", "rules", "judged", "facts"} {
			require.True(t, format.Same(want[member], got[member]), "%s of %d: %v, not %v", member, verdict, got[member], want[member])
		}
	}
}
