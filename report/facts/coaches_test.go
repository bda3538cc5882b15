package facts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/testdata/quillstead"
)

// Invented coaches, each with the work that its certificate rests on.

const trailerIntake = `coach TB78-1133
on 2021-05-03 zone +02:00
intake:
  serial TB78-1133
  no-vin "built before numbers of 17 characters"
  builder "Ostbrook"
  model "Wren 12"
  year 1974
  deck length %DECK%
  build deck, what "plywood", thickness 9 mm
%OPENINGS%  holder holder-1
  papers-shown none
  made-safe none
  photo w-1.jpg, w-2.jpg, w-3.jpg, w-4.jpg
  signer "Quillstead Roof Works", in "Cold Elm"
  private holder-name "Odd Brankov"
  by desk
delivery:
  lot E-1, membrane-epdm, amount 20 m2, thickness 1.1 mm
  lot S-1, sealant-non-sag, amount 900 ml, ref-temp 23.0 C, least-temp 5.0 C, cap-temp 30.0 C, doubling 10.0 K, through-cure 3 mm/rtd
  lot P-1, plywood, amount 20 m2, thickness 9 mm
  by desk
`

// drafted is a certificate of these lines as a draft, filled.
func drafted(t *testing.T, r *ledger.Replay, lines []format.Object) *ledger.Act {
	t.Helper()
	list := make(format.Array, len(lines))
	for i, l := range lines {
		list[i] = l
	}
	line := `certificate T-1: holder holder-1; title limited; line 1, bond, at whole roof, from 2021-01-01, for 1 months, full 1 months; ` +
		`numbers report-days 30 d, notice-days 45 d, transfers-most 2, margin 300 mm, tie-in-reach 75 mm, touch 10 mm, ` +
		`declare-days 60 d, upkeep-every 12 months, upkeep-early 90 d, upkeep-grace 60 d, upkeep-missed-most 1; ` +
		`conditions yearly-upkeep, report-within; exclusions hail; shop-side bad-weld; rules 1; by foreman`
	d, err := sheet.ReadLine(line, sheet.Heading{Day: "2021-06-01", Zone: "+02:00"})
	require.NoError(t, err)
	d.Body["lines"] = list
	a := &ledger.Act{
		No: ledger.No{N: int64(len(r.Coach.Entries)) + 1}, Kind: d.Kind, Body: d.Body, House: true, Counts: true,
	}
	require.NoError(t, rules.Fill(rules.Case{Replay: r, Act: a, Zone: "+02:00", Limits: rules.UsualLimits()}))
	return a
}

// proposedFor are the facts of a certificate of the lines that are proposed.
func proposedFor(t *testing.T, r *ledger.Replay) (*ledger.Act, report.CertificateFacts) {
	t.Helper()
	cert := drafted(t, r, facts.Proposal(r, quillstead.Terms(), "T-1", today(t, "2021-06-01")))
	f, err := facts.Certificate(r, cert, facts.Options{Terms: quillstead.Terms(), Copy: report.PassOnCopy, Head: newest(t, r)})
	require.NoError(t, err)
	return cert, f
}

// intakeOf is the intake of an invented trailer with that deck and openings,
// and the lots put by for it.
func intakeOf(deck, openings string) string {
	return strings.NewReplacer("%DECK%", deck, "%OPENINGS%", openings).Replace(trailerIntake)
}

// coach is an inked coach of that deck and openings, with the notes of its
// work.
func coach(t *testing.T, deck, openings, notes string) *ledger.Replay {
	t.Helper()
	k := newInker(t, quillstead.Terms())
	k.ink(intakeOf(deck, openings), "2021-05-03T16:00:00Z")
	k.ink("coach TB78-1133\non 2021-05-10 zone +02:00\n"+notes, "2021-05-31T16:00:00Z")
	return k.r
}
