package facts_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/testdata/quillstead"
)

// The findings paper of the demo left the house as entry 16: the certificate
// lists it with the head code after entry 15, the one that findings paper
// prints in its foot box.
func TestEarlierPapersOfTheDemo(t *testing.T) {
	r, f := q7(t, report.OwnCopy)
	require.Equal(t, []report.EarlierPaper{{
		Day: reportDay(t, "2020-03-20"), What: "findings", For: "the holder", UpTo: "15", Code: string(r.Coach.Code(15)), GivenOut: "16",
	}}, f.Earlier)
	paper := facts.Findings(r, facts.Options{Terms: quillstead.Terms(), Head: headOf(t, r, 15)})
	require.Equal(t, f.Earlier[0].Code, paper.Head.Code)
	require.Empty(t, paper.Earlier)
}

// Printed again later, a certificate lists what was given out up to the head it
// then stands on, itself among them.
func TestEarlierPapersUpToThePapersOwnHead(t *testing.T) {
	r, f := q7(t, report.OwnCopy)
	k := continued(t, r)
	at := k.size() + 1
	k.ink(`coach GZ9TF785XEW004137
on 2021-05-03 zone +02:00
given-out: certificate; answers Q-0007; as-of 2021-05-03; reader buyer; to buyer-1; on stick; by desk
given-out: history; as-of 2021-05-03; reader later-shop; to later-shop-1; on print; by desk
`, "2021-05-03T10:00:00Z")
	k.hand = "LF1"
	k.ink(`coach GZ9TF785XEW004137
on 2021-05-04 zone +02:00
given-out: history; as-of 2021-05-04; reader later-shop; to later-shop-2; on print; by desk
`, "2021-05-04T10:00:00Z")
	require.False(t, k.r.Acts[len(k.r.Acts)-1].House)
	facts := func(n int64) []report.EarlierPaper {
		again, err := facts.Certificate(k.r, certificate(t, k.r, "Q-0007"), facts.Options{
			Terms: quillstead.Terms(), Head: headOf(t, k.r, n), Copy: report.PassOnCopy,
		})
		require.NoError(t, err)
		return again.Earlier
	}
	buyers := report.EarlierPaper{
		Day: reportDay(t, "2021-05-03"), What: "certificate Q-0007", For: "a buyer", UpTo: ledger.Decimal(at - 1),
		Code: string(k.r.Coach.Code(at - 1)), GivenOut: ledger.Decimal(at),
	}
	require.Equal(t, f.Earlier, facts(53))
	all := facts(at + 1)
	require.Equal(t, buyers, all[len(all)-2])
	require.Equal(t, []string{"history", "a later shop"}, []string{all[len(all)-1].What, all[len(all)-1].For})
	require.Equal(t, facts(at), all[:len(all)-1])
	require.Equal(t, all, facts(at+2), "the paper of a guest is his own")
}

// Papers given out on a side branch, of a lent coach or by a restored backup,
// are listed once it was taken in, each with the head code that it prints and
// marked in words; numbers as on paper.
func TestEarlierPapersOfASideBranch(t *testing.T) {
	r := demo(t, 20)
	const given = `coach GZ9TF785XEW004137
on 2021-05-03 zone +02:00
given-out: certificate; answers Q-0007; as-of 2021-05-03; reader buyer; to buyer-1; on stick; by desk
given-out: history; as-of 2021-05-03; reader later-shop; to later-shop-1; on print; by desk
`
	side := continued(t, r)
	side.ink(given, "2021-05-03T10:00:00Z")
	k := continued(t, r)
	parted := k.size()
	k.ink("coach GZ9TF785XEW004137\non 2021-05-04 zone +02:00\nremark: at bay 2; note \"seen on the road\"; by desk\n", "2021-05-04T10:00:00Z")
	takeIn := k.takeIn(side, parted)
	listed := func(upTo int64) []report.EarlierPaper {
		f := facts.Findings(k.r, facts.Options{Terms: quillstead.Terms(), Head: headOf(t, k.r, upTo)})
		return f.Earlier[2:] // the two papers of the demo stand first
	}
	no := func(n int64) string { return ledger.No{N: parted, Branch: n}.String() }
	beside := ", written beside this chain, taken in by entry " + ledger.Decimal(takeIn)
	on := reportDay(t, "2021-05-03")
	require.Empty(t, listed(takeIn-1))
	require.Equal(t, []report.EarlierPaper{
		{
			Day: on, What: "certificate Q-0007" + beside, For: "a buyer", UpTo: ledger.Decimal(parted),
			Code: string(side.r.Coach.Code(parted)), GivenOut: no(1),
		},
		{
			Day: on, What: "history" + beside, For: "a later shop", UpTo: no(1),
			Code: string(side.r.Coach.Code(parted + 1)), GivenOut: no(2),
		},
	}, listed(takeIn))
}
