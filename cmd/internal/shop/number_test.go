package shop_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/ledger"
)

// rafter is a certificate on one rafter, its number left to the tool where it is
// "".
func rafter(number, which string) string {
	if number != "" {
		number = " " + number
	}
	return "certificate" + number + ":\n  holder holder-1\n  title limited\n" +
		"  line 1, sound-frame, at rafter " + which + " width 60, from 2020-04-25, for 24 months, full 24 months\n" +
		"  numbers report-days 30 d, notice-days 45 d, transfers-most 2, margin 300 mm, tie-in-reach 75 mm, touch 10 mm, declare-days 60 d\n" +
		"  conditions report-within\n  exclusions hail\n  shop-side cut-short\n  rules 1\n" +
		"  private holder-name \"Adela Brunskog\"\n  by foreman\n"
}

// Certificates without a number get the next free ones in one inking, in their
// order; a number that is used in between is passed over.
func TestTwoNumbersInOneInking(t *testing.T) {
	s := open(t, demoShop(t))
	text := "coach GZ9TF785XEW004137\non 2020-04-25 zone +02:00\n" +
		"decision: agree-extra; at whole roof; given phone, on 2020-04-25; warned \"x\"; by desk\n"
	for _, n := range []string{"1", "2", "3"} {
		text += "work: sister at rafter " + n + " width 60, uses T-20-01 10 mm, section 60 x 45 mm; by hand-1\n" +
			"check: awl at rafter " + n + " width 60, depth 1 mm; by hand-1\n"
	}
	text += rafter("", "1") + rafter("Q-0002", "2") + rafter("", "3")
	notes, err := s.Reading([]byte(text), "")
	require.NoError(t, err)
	require.Len(t, notes, 10)
	require.NoError(t, s.Pencil(notes, nil))
	pencil, err := s.Notes("GZ9TF785XEW004137")
	require.NoError(t, err)
	dry, err := s.Dry("GZ9TF785XEW004137", pencil)
	require.NoError(t, err)
	in, err := s.Ink(context.Background(), "GZ9TF785XEW004137", keyring.DemoSigner("K1"), true)
	require.NoError(t, err)
	c, err := s.Coach("4137")
	require.NoError(t, err)
	var numbers []string
	for i, r := range in.Results {
		require.NoError(t, r.Why)
		require.Equal(t, dry.Results[i].Entry, r.Entry)
		if e := c.Ledger.Entry(ledger.No{N: r.Entry}); e.Kind() == "certificate" {
			numbers = append(numbers, e.Text("tag"))
		}
	}
	require.Equal(t, []string{"Q-0001", "Q-0002", "Q-0003"}, numbers)
}
