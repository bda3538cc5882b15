package facts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/testdata/quillstead"
)

const frontHalf = `work: lay-membrane at 0-2100 aft full width, uses E-1 4.2 m2; photo d-1.jpg; by hand-1
`

// factsOf are the facts of what is proposed for a trailer with these notes.
func factsOf(t *testing.T, notes string) report.CertificateFacts {
	t.Helper()
	_, f := proposedFor(t, coach(t, "4200 mm, front 2000 mm, rear 2000 mm", roofVent, notes))
	return f
}

func override(rule, where string) string {
	return "work: lay-deck " + where + ", uses P-1 0.1 m2, thickness 9 mm; hides; photo d-1.jpg; override " + rule +
		`, reason "the reason that was given", by foreman; by hand-1` + "\n"
}

func pins(where, moisture string) string {
	return "check: pins at " + where + ", moisture " + moisture + "; scale softwood; by hand-1\n"
}

// A rule that was set aside is named with what the ledger knows of it: for a
// place closed too wet the newest reading there, of one day the highest.
func TestOverrides(t *testing.T) {
	const wet = "closing-too-wet"
	for name, c := range map[string]struct{ notes, want string }{
		"the highest of one day": {
			pins("spot 500 aft 300 L layer frame", "19.0 %") + pins("spot 510 aft 300 L layer frame", "17.5 %") +
				pins("spot 1900 aft 300 L", "44.0 %") + override(wet, "at 400-600 aft 200-400 L"),
			"Spot 500 aft, 300 L reads 19.0 %, the limit is 15.0 %.",
		},
		"the newest": {
			pins("spot 500 aft 300 L layer frame", "19.0 %") + "\non 2021-05-12 zone +02:00\n" +
				pins("edge-member 480-520 aft 280-320 L", "17.5 %") + override(wet, "at 400-600 aft 200-400 L") +
				pins("spot 500 aft 300 L layer frame", "12.0 %"),
			"Edge member 480–520 × 280–320 L reads 17.5 %, the limit is 15.0 %.",
		},
		"never read": {
			override(wet, "at 400-600 aft 200-400 L"), "400–600 × 200–400 L: too wet to be closed by this shop's limit.",
		},
		"no photo":     {strings.Replace(override("closing-no-photo", "at V1"), "photo d-1.jpg; ", "", 1), "No photo of V1 before it is hidden."},
		"with a photo": {override("closing-no-photo", "at V1"), "V1: no photo before it was hidden."},
		"two places": {
			pins("spot 500 aft 300 L layer frame", "19.0 %") + pins("spot 600 aft 300 L layer frame", "17.5 %") +
				override(wet, "at 400-700 aft 200-400 L"),
			"Spot 500 aft, 300 L reads 19.0 %, the limit is 15.0 %; likewise at one place more.",
		},
		"not told here": {override("load-early", "at V1"), "V1: not yet released when it was loaded."},
		"many places": {
			override("near-dew", "at V1, at left-edge, at right-edge, at rear-joint"),
			"V1 and three places more: the ground was too near the dew point.",
		},
	} {
		t.Run(name, func(t *testing.T) {
			f := factsOf(t, c.notes+frontHalf)
			require.Len(t, f.Overrides, 1)
			require.Equal(t, c.want, f.Overrides[0].RuleSays)
			require.Equal(t, "the reason that was given", f.Overrides[0].Reason)
		})
	}
}

// A reason for a rule that has nothing to say of its entry any more is printed
// with words without figures, to be read aloud behind the place.
func TestEveryReasonIsSaidWithoutDots(t *testing.T) {
	notOnPaper := map[string]bool{"clock-back": true, "withdraw": true, "ruling-below": true} // their entries rest under no line
	for _, r := range rules.Rules() {
		if r.Plain == "" || notOnPaper[r.Key] {
			continue
		}
		f := factsOf(t, override(r.Key, "at V1")+frontHalf)
		require.Len(t, f.Overrides, 1, r.Key)
		require.NotRegexp(t, `…|\{|V1.*V1|a rule of this shop`, f.Overrides[0].RuleSays, r.Key)
		require.Regexp(t, `V1.*\.$`, f.Overrides[0].RuleSays, r.Key)
	}
}

// A rule of package rules says its own sentence: the VIN with its last digits
// swapped has a check digit that should be 3 (49 CFR 565.15(c), reckoned in
// the demo).
func TestOverrideOfARuleThatIsAskedAgain(t *testing.T) {
	k := newInker(t, quillstead.Terms())
	k.ink(`coach GZ9TF785XEW004173
on 2021-05-03 zone +02:00
intake: vin GZ9TF785XEW004173; builder "Tarnholt"; model "Fellside 78"; year 2014; odometer 61240 km; deck length 4200 mm, front 2000 mm, rear 2000 mm; holder holder-1; papers-shown none; made-safe none; photo a.jpg, b.jpg, c.jpg, d.jpg; override vin-check, reason "the plate was read twice, it says so", by desk; signer "Quillstead Roof Works", in "Cold Elm"; private holder-name "Odd Brankov"; by desk
work: lay-membrane at 0-2100 aft full width; photo d-1.jpg; by hand-1
`, "2021-05-10T16:00:00Z")
	_, f := proposedFor(t, k.r)
	require.Equal(t, []report.Override{{
		RuleSays: "Position 9 should be 3, the VIN says X.", Reason: "the plate was read twice, it says so", Mark: "desk",
		Entry: "1", Rule: "vin-check",
	}}, f.Overrides)
}

// A certificate's own overrides stand on it too.
func TestOwnOverride(t *testing.T) {
	r := coach(t, "4200 mm, front 2000 mm, rear 2000 mm", "", frontHalf)
	cert := drafted(t, r, facts.Proposal(r, quillstead.Terms(), "T-1", today(t, "2021-06-01")))
	cert.Body["overrides"] = format.Array{format.Object{
		"rule": "check-missing", "reason": "the hose is broken until Monday", "by": "foreman",
	}}
	f, err := facts.Certificate(r, cert, facts.Options{Terms: quillstead.Terms(), Copy: report.PassOnCopy})
	require.NoError(t, err)
	require.Regexp(t, `^Watertight membrane at 0–2100 aft, .*\bhose\b.*10 May 2021\.$`, f.Overrides[0].RuleSays)
	require.Equal(t, cert.No.String(), f.Overrides[0].Entry)
	cert.No = ledger.No{N: 2, Branch: 1}
	f, err = facts.Certificate(r, cert, facts.Options{Terms: quillstead.Terms(), Copy: report.PassOnCopy})
	require.NoError(t, err)
	require.Equal(t, "2/1", f.Overrides[0].Entry, "of a side branch")
}

// A typed limit that is looser than the usual one is printed; a stricter one is
// not.
func TestLooserLimits(t *testing.T) {
	f := factsOf(t, frontHalf+
		`check: hose at 0-2100 aft full width, strip 1, rise 1.8 %, flow 6.9 L/min, lasted 15 min, limit at-most rise 2.0 % "agreed", pass; by hand-1
check: straight-edge at 0-2100 aft full width, gap 1 mm, under 1500 mm, limit at-most gap 2 mm "agreed", pass; by hand-1
check: weld-strip, lot E-1, peel 130/140/150 N/50mm, limit at-least peel 120 N/50mm "maker's sheet", pass; by hand-1
`)
	require.Equal(t, []report.LooserLimit{
		{Value: "at most 2.0 % for the hose", Usual: "at most 1.0 %", Entry: "4"},
		{Value: "at least 120 N/50 mm for the weld strip", Usual: "at least 150 N/50 mm", Entry: "6"},
	}, f.Looser)
	require.Equal(t, []report.PassedCheck{
		{What: "hose, 1 strip of 15 min", Result: "dry inside, rise at most 1.8 %"},
		{What: "straight edge", Result: "gap 1 mm under 1500 mm"},
		{What: "weld strip", Result: "at least 130 N/50 mm"},
	}, f.Checks)
}

// A limit of the shop's terms that is looser than the usual one is printed from
// the entry it decided: how long a hose ran, the gaps of a log, not only the
// number of a result. A stricter one is not.
func TestLooserTerms(t *testing.T) {
	k := newInker(t, quillstead.Terms())
	for rule, says := range map[string]string{
		"hose": "3.4 L/m2min 10 min 1.0 %", "weld-strip": "120 N/50mm", "straight-edge": "2 mm 1500 mm",
	} {
		var err error
		k.limits, err = k.limits.With(rule, says)
		require.NoError(t, err)
	}
	k.ink(intakeOf("4200 mm, front 2000 mm, rear 2000 mm", ""), "2021-05-03T16:00:00Z")
	k.ink("coach TB78-1133\non 2021-05-10 zone +02:00\n"+frontHalf+
		`check: hose at 0-2100 aft full width, strip 1, rise 0.0 %, flow 6.9 L/min, lasted 10 min; by hand-1
check: weld-strip, peel 130/140/150 N/50mm; by hand-1
check: straight-edge at 0-2100 aft full width, gap 1 mm, under 1500 mm; by hand-1
`, "2021-05-10T16:00:00Z")
	_, f := proposedFor(t, k.r)
	require.Equal(t, []report.LooserLimit{
		{Value: "3.4 L/(m² min), 10 min and 1.0 % for the hose", Usual: "3.4 L/(m² min), 15 min and 1.0 %", Entry: "4"},
		{Value: "at least 120 N/50 mm for the weld strip", Usual: "at least 150 N/50 mm", Entry: "5"},
	}, f.Looser)
}

// A looser limit of a rule that stopped a work is printed beside its reason; the
// usual one is not.
func TestLooserLimitOfARule(t *testing.T) {
	for says, want := range map[string][]report.LooserLimit{
		"0.05 m2 100 mm": nil,
		"0.02 m2 100 mm": nil,
		"0.05 m2 200 mm": {
			{Value: "0.05 m² and 200 mm for the work not agreed", Usual: "0.05 m² and 100 mm", Entry: "3"}, // the sheet itself
			{Value: "0.05 m² and 200 mm for the work not agreed", Usual: "0.05 m² and 100 mm", Entry: "4"},
		},
	} {
		k := newInker(t, quillstead.Terms())
		var err error
		k.limits, err = k.limits.With("work-not-agreed", says)
		require.NoError(t, err)
		k.ink(intakeOf("4200 mm, front 2000 mm, rear 2000 mm", ""), "2021-05-03T16:00:00Z")
		k.ink("coach TB78-1133\non 2021-05-10 zone +02:00\n"+frontHalf+override("work-not-agreed", "at 0-2100 aft full width"), "2021-05-10T16:00:00Z")
		_, f := proposedFor(t, k.r)
		require.Len(t, f.Overrides, 1, says)
		require.Regexp(t, `m² of lay deck at 0–2100 aft, full width was not agreed before it was done\.$`, f.Overrides[0].RuleSays)
		require.Equal(t, want, f.Looser, says)
	}
}

// The gap of a log that counted by the shop's own hours: 38 h, with 12 h 48 h,
// is printed as looser, and a reason for it with the sentence of that day.
func TestLooserLogGap(t *testing.T) {
	k := newInker(t, quillstead.Terms())
	var err error
	k.limits, err = k.limits.With("log-gap", "12 h 48 h")
	require.NoError(t, err)
	k.ink(intakeOf("4200 mm, front 2000 mm, rear 2000 mm", ""), "2021-05-03T16:00:00Z")
	k.ink("coach TB78-1133\non 2021-05-10 zone +02:00\n"+frontHalf+
		`work E1: cap-seal at left-edge 0-2100 aft 925-1000 L, uses S-1 100 ml, bead 2 mm; by hand-1
cure: answers E1; start 2021-05-10 10:00; lot S-1; log 2021-05-10 10:00, air-temp 23.0 C; source logger; by hand-1

on 2021-05-12 zone +02:00
cure: answers E1; log 2021-05-12 00:00, air-temp 23.0 C; source logger; release water; override log-gap, reason "the logger was empty", by foreman; time 08:00; by hand-1
`, "2021-05-12T16:00:00Z")
	_, f := proposedFor(t, k.r)
	require.Equal(t, []report.LooserLimit{{Value: "12 h and 48 h for the log gap", Usual: "12 h and 24 h", Entry: "6"}}, f.Looser)
	require.Len(t, f.Overrides, 1)
	require.Equal(t, "38 h without a temperature: counted at 23.0 °C.", f.Overrides[0].RuleSays)
}

// Instead of lines of another certificate by the holder's decision, or because
// nothing is less: the rule asks for one of the two.
func TestInsteadOf(t *testing.T) {
	k := newInker(t, quillstead.Terms())
	k.ink(intakeOf("4200 mm, front 2000 mm, rear 2000 mm", ""), "2021-05-03T16:00:00Z")
	k.ink("coach TB78-1133\non 2021-05-10 zone +02:00\n"+frontHalf+`certificate T-0: holder holder-1; title limited; line 1, watertight-membrane, at 0-2100 aft full width layer membrane, from 2021-05-11, for 12 months, full 12 months; numbers report-days 30 d; conditions report-within; exclusions hail; shop-side bad-weld; rules 1; private holder-name "Odd Brankov"; by foreman

on 2021-06-01 zone +02:00
`+frontHalf, "2021-06-01T16:00:00Z")
	replacing := func() (report.CertificateFacts, error) {
		cert := drafted(t, k.r, facts.Proposal(k.r, quillstead.Terms(), "T-1", today(t, "2021-06-02")))
		cert.Body["instead-of"] = format.Array{format.Object{"cert": "T-0", "lines": format.Array{int64(1)}}}
		return facts.Certificate(k.r, cert, facts.Options{Terms: quillstead.Terms(), Copy: report.PassOnCopy})
	}
	f, err := replacing()
	require.NoError(t, err)
	require.Equal(t, []report.Replaced{{Certificate: "T-0", Lines: []int{1}}}, f.InsteadOf)
	k.ink(`coach TB78-1133
on 2021-06-02 zone +02:00
decision: agree-extra; answers T-0; at 0-2100 aft full width; given phone, on 2021-06-02; warned "w"; holder holder-1; by desk
`, "2021-06-02T16:00:00Z")
	f, err = replacing()
	require.NoError(t, err)
	require.Equal(t, []report.Replaced{{Certificate: "T-0", Lines: []int{1}, Decided: reportDay(t, "2021-06-02")}}, f.InsteadOf)
}
