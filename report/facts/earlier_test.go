package facts_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/report"
	"lapmark/report/facts"
)

// The findings paper of the demo left the house as entry 16: the certificate
// lists it with the head code after entry 15, the one that findings paper
// prints in its foot box.
func TestEarlierPapersOfTheDemo(t *testing.T) {
	r, f := q7(t, report.OwnCopy)
	require.Equal(t, []report.EarlierPaper{{
		Day: reportDay(t, "2020-03-20"), What: "findings", For: "the holder", UpTo: 15, Code: string(r.Coach.Code(15)), GivenOut: 16,
	}}, f.Earlier)
	paper := facts.Findings(r, facts.Options{Terms: quillstead(), Head: headOf(t, r, 15)})
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
			Terms: quillstead(), Head: headOf(t, k.r, n), Copy: report.PassOnCopy,
		})
		require.NoError(t, err)
		return again.Earlier
	}
	buyers := report.EarlierPaper{
		Day: reportDay(t, "2021-05-03"), What: "certificate Q-0007", For: "a buyer", UpTo: int(at) - 1, Code: string(k.r.Coach.Code(at - 1)), GivenOut: int(at),
	}
	require.Equal(t, f.Earlier, facts(53))
	all := facts(at + 1)
	require.Equal(t, buyers, all[len(all)-2])
	require.Equal(t, []string{"history", "a later shop"}, []string{all[len(all)-1].What, all[len(all)-1].For})
	require.Equal(t, facts(at), all[:len(all)-1])
	require.Equal(t, all, facts(at+2), "the paper of a guest is his own")
}
