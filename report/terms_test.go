package report_test

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"lapmark/report"
	"lapmark/testdata/quillstead"
)

func TestTermsRoundTrip(t *testing.T) {
	own := quillstead.Terms()
	own.Address = "Unit #4, 9 Ford Lane, and a very long rest of an address that has to be wrapped somewhere #7"
	own.Law, own.Paper, own.Units = report.EU, report.Letter, report.Both
	own.Title = "Roof guarantee"
	own.ClaimSteps = []string{strings.Repeat("Ring us at once. ", 20) + "Then wait.", "Then #2 follows."}
	own.PaysNot = nil
	own.Causes[1].Says = "hail of any size"
	own.Implied = "Implied warranties last as long as the longest line."
	own.Promises[0] = report.PromiseTerm{Promise: "watertight-membrane", Months: 60, Full: 24, Floor: 0, Upkeep: true}
	own.Promises[4] = report.PromiseTerm{Promise: "bond"}
	own.Numbers.ReportDays = 45
	own.Limits = []report.Limit{{Rule: "closing-unread", Says: "96 h"}, {Rule: "fall", Says: "1:100"}}
	for name, terms := range map[string]report.Terms{"defaults": report.DefaultTerms(), "Quillstead": quillstead.Terms(), "all changed": own} {
		written := report.TermsText(terms)
		back, err := report.ParseTerms(written)
		if err != nil {
			t.Errorf("%s: %v\n%s", name, err, written)
			continue
		}
		if !reflect.DeepEqual(back, terms) {
			t.Errorf("%s: read back\n%+v\nnot\n%+v", name, back, terms)
		}
		if again := report.TermsText(back); string(again) != string(written) {
			t.Errorf("%s: written again it is another file", name)
		}
	}
}

// A usual value written otherwise is the usual value.
func TestUsualLimitWrittenOtherwise(t *testing.T) {
	terms, err := report.ParseTerms([]byte("log-gap 12.0 h 24 h\nawl 3 mm\n"))
	if err != nil {
		t.Fatal(err)
	}
	if want := []report.Limit{{Rule: "awl", Says: "3 mm"}}; !reflect.DeepEqual(terms.Limits, want) {
		t.Errorf("limits %v, not %v", terms.Limits, want)
	}
}

// With every "#key" line taken as said, the defaults read as themselves: what
// stands behind # is the usual value.
func TestDefaultsStandBehindTheSign(t *testing.T) {
	var said []string
	for _, line := range strings.Split(string(report.TermsText(report.DefaultTerms())), "\n") {
		if strings.HasPrefix(line, "# ") && !strings.HasPrefix(line, "#  ") {
			continue
		}
		said = append(said, strings.TrimPrefix(line, "#"))
	}
	back, err := report.ParseTerms([]byte(strings.Join(said, "\n")))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back, report.DefaultTerms()) {
		t.Errorf("read\n%+v", back)
	}
}

func TestTermsRefusedByLine(t *testing.T) {
	for text, want := range map[string]string{
		"shop Quill\n\n# a word\ntelefone 555":                         "line 4: no term \"telefone\"",
		"alone A paper is proof.":                                      "line 1: alone is printed as it stands and cannot be changed",
		"us-rights You have no rights.":                                "line 1: us-rights is printed as it stands",
		"  indented":                                                   "line 1: an indented line goes on from a key",
		"law france":                                                   "line 1: law: law is one of other, us, eu",
		"paper a3":                                                     "line 1: paper",
		"desk a\ndesk b":                                               "line 2: desk is said in line 1 already",
		"promise bond 241 60 10 no":                                    "line 1: promise bond: months",
		"promise bond 120 121 10 no":                                   "line 1: promise bond: full months",
		"promise bond 120 60 101 no":                                   "line 1: promise bond: floor",
		"promise bond 120 60 10 maybe":                                 "line 1: promise bond: upkeep is yes or no",
		"promise stain 12 12 - no":                                     "line 1: no term \"promise stain\"",
		"report-days soon":                                             "line 1: report-days",
		"report-days 30 mm":                                            "line 1: report-days",
		"upkeep-early 300 d":                                           "line 1: upkeep-early and upkeep-grace together",
		"closing-unread 72 d":                                          "line 1: closing-unread: \"72 d\": written like \"72 h\"",
		"closing-too-wet 15.0 %":                                       "line 1: closing-too-wet",
		"# a word\nlog-gap 24 h 12 h":                                  "line 2: log-gap: \"24 h 12 h\": the second time is not under the first",
		"awl 2.5 mm":                                                   "line 1: awl: \"2.5 mm\": written like \"2 mm\"",
		"fall 1:0":                                                     "line 1: fall: \"1:0\": more than 0",
		"hose 3.4 L/m2min 15 min":                                      "line 1: hose",
		"log-gap NaN h 24 h":                                           "line 1: log-gap",
		"causes\n  frost frost":                                        "line 1: causes: no exclusion \"frost\"",
		"thanks " + strings.Repeat("many thanks ", 11):                 "line 1: thanks: 131 characters; at most 120",
		"title Full warranty":                                          "line 1: title: a warranty with shares that fall",
		"pays\n  In lieu of all other warranties we mend it.":          "line 1: pays: a warranty does not stand in place",
		"pays-not\n  There are no implied warranties.":                 "line 1: pays-not: implied warranties cannot be taken away",
		"rights\n  Implied warranties of fitness are disclaimed.":      "line 1: rights: implied warranties cannot",
		"rights\n  Merchantability and fitness are excluded.":          "line 1: rights: implied warranties cannot",
		"claim-steps\n  Work by others voids this warranty.":           "line 1: claim-steps: a certificate is never void",
		"pays\n  We answer for a lifetime.":                            "line 1: pays: lifetime needs a length",
		"upkeep-who only genuine Ostrelle dealers":                     "line 1: upkeep-who: a brand cannot be a condition",
		"claim-steps\n  Sealant must be of our own brand.":             "line 1: claim-steps: a brand cannot be a condition",
		"rights\n  Some States do not allow limits like these.":        "line 1: rights: the sentence \"us-",
		"rights\n  This warranty gives you specific rights, and more.": "line 1: rights: the sentence \"us-rights\"",
		"rights\n  This warranty gives you specific legal nothing.":    "line 1: rights: the sentence \"us-rights\" is printed as it stands",
		"pays\n  We answer for the life of the roof, 240 months.":      "",
		"pays\n  Seal only with a kind that the upkeep slip names.":    "",
		"mail desk@quillstead.example\n\ttail":                         "",
	} {
		_, err := report.ParseTerms([]byte(text))
		if want == "" {
			if err != nil {
				t.Errorf("%q: %v", text, err)
			}
			continue
		}
		var at report.TermsError
		if err == nil || !errors.As(err, &at) || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, not %q", text, err, want)
		} else if strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: the reason takes more than one line", text)
		}
	}
}

func TestBrandsOfTheShop(t *testing.T) {
	if report.RefusedText("Reseal only with Ostrelle lap sealant.", "Kemmervane", "Ostrelle") == nil {
		t.Error("a maker as a condition was taken")
	}
	if err := report.RefusedText("We used Ostrelle lap sealant.", "Ostrelle"); err != nil {
		t.Error(err)
	}
}

func TestNeededTerms(t *testing.T) {
	if got := report.DefaultTerms().Needed(); !reflect.DeepEqual(got, []string{"shop", "address", "desk", "telephone"}) {
		t.Errorf("needed: %v", got)
	}
	if got := quillstead.Terms().Needed(); len(got) > 0 {
		t.Errorf("needed: %v", got)
	}
}

func FuzzParseTerms(f *testing.F) {
	f.Add(report.TermsText(quillstead.Terms()))
	f.Add([]byte("promise bond 1 1 - no\nfall 1:50\ncauses\n  hail big hail\n      and small\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		terms, err := report.ParseTerms(text)
		if err != nil {
			return
		}
		written := report.TermsText(terms)
		back, err := report.ParseTerms(written)
		if err != nil {
			t.Fatalf("%v\n%s", err, written)
		}
		if !reflect.DeepEqual(back, terms) {
			t.Fatalf("read back\n%+v\nnot\n%+v\n%s", back, terms, written)
		}
	})
}
