package shop_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
	"lapmark/report"
)

const demoCoach = "GZ9TF785XEW004137"

// dry inks notes of the demo's coach for nothing, and says why the last one
// does not go in.
func dry(t *testing.T, s *shop.Shop, text string) error {
	t.Helper()
	var pending []shop.Pending
	for _, n := range sheet.Read("coach "+demoCoach+"\non 2020-04-25 zone +02:00\n"+text, sheet.Heading{}) {
		require.NoError(t, n.Err, n.Words)
		line, err := sheet.Line(n.Draft, n.Heading)
		require.NoError(t, err)
		pending = append(pending, shop.Pending{Line: line, Heading: n.Heading, Draft: n.Draft})
	}
	in, err := s.Dry(demoCoach, pending)
	require.NoError(t, err)
	last := len(in.Results) - 1
	for _, r := range in.Results[:last] {
		require.NoError(t, r.Why)
	}
	return in.Results[last].Why
}

// What passes is decided by the shop's terms file.
func TestTermsDecideWhatPasses(t *testing.T) {
	folder := demoShop(t)
	const note = "check: awl at rear-header 7340-7400 aft full width layer frame, depth 3 mm, pass; by hand-1\n"
	require.ErrorIs(t, dry(t, open(t, folder), note), rules.ErrTyped, "3 mm is over the usual 2 mm")
	f, err := os.OpenFile(folder+"/terms", os.O_APPEND|os.O_WRONLY, 0)
	require.NoError(t, err)
	_, err = f.WriteString("awl 3 mm\n")
	require.NoError(t, err)
	require.NoError(t, f.Close())
	s := open(t, folder)
	require.Equal(t, []report.Limit{{Rule: "awl", Says: "3 mm"}}, s.Terms.Limits)
	require.NoError(t, dry(t, s, note))
}

// A certificate of a sheet without a number gets the next free one.
func TestSheetCertificateIsNumbered(t *testing.T) {
	s := open(t, demoShop(t))
	const work = "decision: agree-extra; at 3700-7400 aft full width; given phone, on 2020-04-25; warned \"x\"; by desk\n" +
		"work: lay-membrane at 3700-7400 aft full width, uses M-5520 1 m2; by hand-1\n" +
		"check: hose at 3700-7400 aft full width, strip 1, rise 0.0 %, flow 6.9 L/min, lasted 15 min; by hand-1\n"
	const rest = ": holder holder-1; title limited; line 1, watertight-membrane, at 3700-7400 aft full width layer membrane, " +
		"from 2020-04-26, for 12 months, full 12 months; numbers report-days 30 d, notice-days 45 d, transfers-most 2, " +
		"margin 300 mm, tie-in-reach 75 mm, touch 10 mm, declare-days 60 d; conditions report-within; exclusions hail; " +
		"shop-side bad-weld; rules 1; private holder-name \"Adela Brunskog\"; by foreman\n"
	require.ErrorContains(t, dry(t, s, work+"certificate Q-0007"+rest), "Certificate Q-0007 is already used on this coach.")
	require.NoError(t, dry(t, s, work+"certificate"+rest))
}
