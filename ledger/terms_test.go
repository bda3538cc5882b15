package ledger_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/trade"
)

func numbers(t *testing.T, rule, says string) []int64 {
	t.Helper()
	term, ok := ledger.TermOf(rule)
	require.True(t, ok, rule)
	n, err := term.Numbers(says)
	require.NoError(t, err, rule)
	return n
}

func usual(t *testing.T, rule string) []int64 {
	t.Helper()
	term, ok := ledger.TermOf(rule)
	require.True(t, ok, rule)
	return numbers(t, rule, term.Usual)
}

// Every term reads its own usual values, names quantities that its check
// carries, and says no limit twice.
func TestTermsOfTheShop(t *testing.T) {
	seen := map[string]bool{}
	for _, term := range ledger.Terms() {
		require.False(t, seen[term.Rule], term.Rule)
		seen[term.Rule] = true
		require.NotEmpty(t, term.Source)
		require.Len(t, usual(t, term.Rule), len(term.Parts), term.Rule)
		require.False(t, term.Looser(term.Usual), term.Rule)
		w, isCheck := ledger.WordIn("checks", term.Rule)
		results := 0
		for _, p := range term.Parts {
			if p.Quantity == "" {
				continue
			}
			require.True(t, isCheck, term.Rule)
			require.Contains(t, carried(w), p.Quantity, term.Rule)
			if p.Result {
				results++
			}
		}
		if isCheck && w.Passes != nil && term.Dry == "" {
			require.Equal(t, 1, results, "%s: a result passes by one limit", term.Rule)
		}
	}
	_, ok := ledger.TermOf("vin-form")
	require.False(t, ok)
}

func carried(w ledger.Word) []string {
	var out []string
	for _, c := range w.Carries {
		out = append(out, c.Quantity)
	}
	return out
}

// Values as they are kept: 1 mm is 1000 um where a thickness is kept, 1 h is 60
// min, 1 kg 1000 g.
func TestTermNumbers(t *testing.T) {
	require.Equal(t, []int64{24 * 60, 48 * 60}, numbers(t, "log-gap", "24 h 48 h"))
	require.Equal(t, []int64{12_000, 19_500}, numbers(t, "bite", "12 mm 19.5 mm"))
	require.Equal(t, []int64{3_400, 10, 20}, numbers(t, "hose", "3.4 L/m2min 10 min 2.0 %"))
	require.Equal(t, []int64{50}, numbers(t, "fall", "1:50"))
	require.Equal(t, []int64{50_000, 90}, numbers(t, "work-not-agreed", "0.05 m2 90 mm"))
	require.Equal(t, []int64{90}, numbers(t, "closing-unread", "1.5 h"))
}

func TestTermNumbersRefused(t *testing.T) {
	for rule, bad := range map[string][]string{
		"awl":     {"", "2", "2 cm", "2 mm 3 mm", "-2 mm", "+2 mm", "2. mm", ".5 mm", "2.5 mm", "1e3 mm", "NaN mm", "1_000 mm", "9999999 mm", "2.0000000 mm"},
		"fall":    {"80", "1:", "2:80", "1:0", "1:80 1:50"},
		"log-gap": {"12 h", "24 h 12 h", "12 h 24"},
		"k":       {"0 mm/rtd", "3 mm"},
		"bite":    {"12 mm", "12 mm 19.0001 mm"},
	} {
		term, _ := ledger.TermOf(rule)
		for _, says := range bad {
			_, err := term.Numbers(says)
			require.Error(t, err, "%s %s", rule, says)
			require.False(t, term.Looser(says))
			_, err = term.Passes(says, "s")
			require.Error(t, err)
		}
	}
}

// Looser and stricter, from both sides of the usual value.
func TestTermLooser(t *testing.T) {
	for _, c := range []struct {
		rule, says string
		looser     bool
	}{
		{"awl", "3 mm", true},
		{"awl", "1 mm", false},
		{"weld-strip", "149 N/50mm", true},
		{"weld-strip", "151 N/50mm", false},
		{"foam-coupon", "23 h 0.2 mm", true},
		{"foam-coupon", "24 h 0.3 mm", true},
		{"foam-coupon", "25 h 0.1 mm", false},
		{"bite", "12 mm 18 mm", true},
		{"near-dew", "2.9 K", true},
		{"log-gap", "12 h 25 h", true},
		{"fall", "1:81", true},
		{"fall", "1:79", false},
		{"finding-open", "299 mm", true},
		{"k", "3.1 mm/rtd", true},
	} {
		term, _ := ledger.TermOf(c.rule)
		require.Equal(t, c.looser, term.Looser(c.says), "%s %s", c.rule, c.says)
	}
}

// Least bites against materials.csv: common practice.
func TestLeastBite(t *testing.T) {
	for i, row := range []string{"staple into solid at least", "screw into solid at least"} {
		mm, err := strconv.ParseInt(referenceRow(t, "materials.csv", row, "bite").Value, 10, 64)
		require.NoError(t, err)
		require.Equal(t, mm*1000, usual(t, "bite")[i], row)
	}
}

// The arithmetic of cures, which knows no terms, starts from the same values.
func TestTradeHasTheUsualValues(t *testing.T) {
	require.Equal(t, []int64{trade.StraightGap, trade.LowGap}, usual(t, "log-gap"))
	require.Equal(t, []int64{int64(trade.UsualRootDay)}, usual(t, "k"))
}
