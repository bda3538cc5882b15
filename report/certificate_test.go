package report_test

import (
	"errors"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"lapmark/report"
	"lapmark/report/plan"
	"lapmark/report/text"
	"lapmark/testdata/quillstead"
)

// every is all words of a paper.
func every(p report.Paper) string {
	var all []string
	for _, s := range p.Sections {
		all = append(all, report.Words(s.Blocks))
	}
	return strings.Join(all, " ")
}

// Q-0007 says what its mock-up says, sentence by sentence, on paper and as text.
func TestQ7SaysWhatItsMockSays(t *testing.T) {
	content, err := os.ReadFile("testdata/mock.txt")
	if err != nil {
		t.Fatal(err)
	}
	flat := func(says string) string {
		return strings.Join(strings.Fields(strings.ReplaceAll(says, "\u00a0", " ")), " ")
	}
	paper := q7(t)
	asText := flat(text.Render(paper))
	for _, says := range strings.Split(strings.TrimSpace(string(content)), "\n") {
		if !strings.HasPrefix(says, "#") && !strings.Contains(asText, says) {
			t.Errorf("not said: %s", says)
		}
	}
	for _, s := range paper.Sections {
		if words := report.Words(s.Blocks); len(words) < 200 {
			t.Errorf("a section is nearly empty: %s", words)
		}
	}
}

// A certificate prints the sentences it is given: every one of them, but for
// those of the other copy and those that stand where lines go on.
func TestEverySentenceIsPrinted(t *testing.T) {
	f := q7Facts(t)
	f.Beside = []string{"Q-0003"}
	f.InsteadOf = []report.Replaced{{Certificate: "Q-0002", Lines: []int{1, 2}, Decided: day(t, "2020-03-23")}}
	f.AnotherShop = []report.AnotherShop{{Place: "Slide S1, 0–600 mm aft", Day: day(t, "2020-03-23")}}
	f.Looser = []report.LooserLimit{{Value: "96 h", Usual: "72 h", Entry: "30"}}
	f.Guest = &report.Guest{Name: "Low Ferry Coachworks", Fingerprint: "SHA256:lbmsoA0yIEcEiVDRnMWuzm", House: "Quillstead Roof Works"}
	f.Lines[0].Notices = []string{"Lot M-5520 is under a maker's notice since 4 May 2020: shrinks."}
	terms := quillstead.Terms()
	terms.Implied = "Implied warranties last as long as the longest line."
	for _, copied := range []report.Copy{report.OwnCopy, report.PassOnCopy} {
		f.Copy = copied
		says := report.CertificateSentences(f, terms)
		p, err := report.Certificate(f, says)
		if err != nil {
			t.Fatal(err)
		}
		words := every(p)
		elsewhere := map[string]bool{
			"own": copied != report.OwnCopy, "pass-on": copied == report.OwnCopy, "shows-holder": copied != report.OwnCopy,
			"shows-other": copied == report.OwnCopy, "more-lines": true, "again-lines": true, "later": true,
			"earlier-none": true, "earlier-apart": true,
		}
		for _, s := range says {
			want := report.Fill(s.Says, "holder-name", f.HolderName, "n", "53", "advice", map[report.Copy]string{0: "keep this one", 1: "ask for an older one"}[copied])
			if strings.HasPrefix(s.Key, "exclusion-branch") {
				want = "Branch strike"
			}
			if !elsewhere[s.Key] && !strings.Contains(words, strings.Join(strings.Fields(want), " ")) {
				t.Errorf("%s is not on the paper: %s", s.Key, want)
			}
		}
	}
}

// The holder's name stands on his own copy and nowhere else.
func TestPassOnNamesNobody(t *testing.T) {
	f := q7Facts(t)
	f.Copy = report.PassOnCopy
	says := report.CertificateSentences(f, quillstead.Terms())
	for _, s := range says {
		if strings.Contains(s.Says, "Brunskog") {
			t.Errorf("sentence %s of the entry names the holder", s.Key)
		}
	}
	p, err := report.Certificate(f, says)
	if err != nil {
		t.Fatal(err)
	}
	if words := every(p) + fmt.Sprint(p.Furniture, p.Title); strings.Contains(words, "Brunskog") {
		t.Error("the copy to pass on names the holder")
	}
	if !strings.Contains(every(q7(t)), "Adela Brunskog. This is the holder's own copy.") {
		t.Error("his own copy does not name him")
	}
}

func TestMissingSentence(t *testing.T) {
	f := q7Facts(t)
	says := report.CertificateSentences(f, quillstead.Terms())
	optional := map[string]bool{
		"own": false, "pass-on": true, "shows-other": true, "earlier-none": true, "upkeep-rest": true, "dispute": true, "pays-free": true,
		"pays-not-1": true, "us-consequential": false, "claim-2": true, "claim-3": true, "claim-4": true, "claim-5": true,
	}
	for i, s := range says {
		var missing report.MissingSentence
		rest := append(append([]report.Sentence(nil), says[:i]...), says[i+1:]...)
		_, err := report.Certificate(f, rest)
		switch {
		case optional[s.Key]:
		case err == nil:
			t.Errorf("without %s it is printed all the same", s.Key)
		case !errors.As(err, &missing) || missing.Key != s.Key:
			t.Errorf("without %s: %v", s.Key, err)
		}
	}
}

// A sentence whose key this program does not know is printed as it stands.
func TestUnknownSentenceIsPrinted(t *testing.T) {
	f := q7Facts(t)
	says := append(report.CertificateSentences(f, quillstead.Terms()), report.Sentence{Key: "hail-net", Says: "A net over the roof counts as upkeep."})
	p, err := report.Certificate(f, says)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(every(p), "A net over the roof counts as upkeep.") {
		t.Error("it is not")
	}
}

// A sentence that was signed stands where its key says, though the facts name
// fewer things today than they did then.
func TestSignedSentencesStandInTheirPlaces(t *testing.T) {
	f := q7Facts(t)
	f.Looser = []report.LooserLimit{{Value: "96 h", Usual: "72 h", Entry: "30"}}
	says := report.CertificateSentences(f, quillstead.Terms())
	f.Left, f.NotLooked, f.OwnWork, f.Overrides, f.Looser, f.Cures, f.Checks = nil, nil, nil, nil, nil, nil, nil
	f.Legend, f.Next.KeepAway = f.Legend[1:], nil
	p, err := report.Certificate(f, says)
	if err != nil {
		t.Fatal(err)
	}
	part := func(words, from, to string) string {
		_, rest, _ := strings.Cut(words, from)
		in, _, _ := strings.Cut(rest, to)
		return in
	}
	words := every(p)
	out := part(words, "The front half is not in it.", "If water comes in")
	for where, texts := range map[string][]string{
		out: {"8.14 m² under the skin there was not opened", "R1: flange 11 of 25 mm", "Lining 4500–7400 mm: the holder's own work.", "empty: nothing is promised here"},
		part(words, "Closed against our own rule", "Cured and checked"): {"Edge member", "This shop used 96 h"},
		part(words, "Cured and checked", "Who answers"):                 {"glue 13 Apr 2020 12:28", "tap: none hollow"},
		part(words, "do not bring near", "No program"):                  {"Silicone: nothing bonds over it."},
	} {
		for _, text := range texts {
			if !strings.Contains(where, text) {
				t.Errorf("%q does not stand in\n%s", text, where)
			}
		}
	}
	if before := part(words, "Who answers", "Your rights"); strings.Contains(before, "R1") || strings.Contains(before, "hollow") {
		t.Errorf("a sentence is misplaced: %s", before)
	}
	legend := func(p report.Paper) map[string]bool {
		drawn := map[string]bool{}
		for _, b := range p.Sections[0].Blocks {
			if table, ok := b.(report.Table); ok && table.Abreast {
				for _, row := range table.Rows {
					drawn[row[1].Spans[0].Text] = row[0].Drawing != nil
				}
			}
		}
		return drawn
	}
	if got := legend(p); got["empty: nothing is promised here"] || !got["crossed: known trouble, left by the holder"] {
		t.Errorf("a sample has the words of another: %v", got)
	}
}

func TestSharesMonthByMonth(t *testing.T) {
	f := q7Facts(t)
	f.Lines[1].Shares = f.Lines[1].Shares[:60]
	var missing report.MissingShares
	if _, err := report.Certificate(f, report.CertificateSentences(f, quillstead.Terms())); !errors.As(err, &missing) || missing.Line != 2 {
		t.Errorf("%v", err)
	}
}

// The table of shares of a line of 120 months, 60 in full, floor 10 %: worked
// by hand, 100 × (120 − months) / 60.
func TestShareTable(t *testing.T) {
	words := every(q7(t))
	if want := "full months under 60 60 72 84 96 108 114 on we bear, % 100 100 80 60 40 20 10"; !strings.Contains(words, want) {
		t.Errorf("%q is not in %s", want, words)
	}
}

func TestSentencesFit(t *testing.T) {
	f := q7Facts(t)
	for name, change := range map[string]func(*report.Terms){
		"bytes of the terms":                func(t *report.Terms) { t.Pays = []string{strings.Repeat("We make it good. ", 800)} },
		"characters of sentence upkeep-who": func(t *report.Terms) { t.UpkeepWho = strings.Repeat("any shop ", 120) },
	} {
		terms := quillstead.Terms()
		change(&terms)
		var long report.TooLong
		if _, err := report.Certificate(f, report.CertificateSentences(f, terms)); !errors.As(err, &long) || long.What != name {
			t.Errorf("%s: %v", name, err)
		}
	}
	terms := quillstead.Terms()
	terms.Pays = []string{strings.Repeat("We make it good. ", 500)}
	says := report.CertificateSentences(f, terms)
	if err := report.SentencesFit(says); err != nil {
		t.Errorf("a long term is not said in several sentences: %v", err)
	}
	whole := ""
	for _, s := range says {
		if strings.HasPrefix(s.Key, "pays-") && len(s.Says) > 500 {
			whole += s.Says + " "
		}
	}
	if got := strings.Count(whole, "We make it good."); got < 480 {
		t.Errorf("of 500 sentences %d are left", got)
	}
	if err := report.SentencesFit(report.CertificateSentences(manyLines(t, 40), quillstead.Terms())); err != nil {
		t.Errorf("40 lines: %v", err)
	}
}

// Keys are words as the format has them, each once.
func TestKeysAreWords(t *testing.T) {
	word := regexp.MustCompile(`^[a-z][a-z0-9-]{0,39}$`)
	seen := map[string]bool{}
	for _, s := range report.CertificateSentences(manyLines(t, 40), quillstead.Terms()) {
		if !word.MatchString(s.Key) || seen[s.Key] || s.Says == "" {
			t.Errorf("%q: %q", s.Key, s.Says)
		}
		seen[s.Key] = true
	}
}

// What a certificate never says.
func TestNeverSaid(t *testing.T) {
	never := regexp.MustCompile(`(?i)\bvoid|\bverified\b|\bwhole ledger\b|\bunfortunately\b|\bsealed\b`)
	all := every(q7(t)) + every(q7History(t))
	if said := never.FindString(all); said != "" {
		t.Errorf("%q is said", said)
	}
	for _, s := range report.Fixed() {
		if strings.Contains(strings.ToLower(s.Says), "void") {
			t.Errorf("%s says it", s.Key)
		}
	}
}

func TestUnitsBoth(t *testing.T) {
	f := q7Facts(t)
	f.Units = report.Both
	words := every(certificate(t, f, quillstead.Terms()))
	for _, want := range []string{"from 3700 mm (146 in) aft to the rear", "75 mm (2 15/16 in) round it", "within 300 mm (11 13/16 in) of it", "Lining 4500–7400 mm (177–291 in)"} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not on the paper", want)
		}
	}
	lead := certificate(t, f, quillstead.Terms()).Sections[0].Blocks[1].(report.Paragraph)
	if got := lead.Spans[1]; got.Style != report.Bold || !strings.Contains(got.Text, "146") {
		t.Errorf("the region is not in bold: %+v", lead.Spans)
	}
}

// Read aloud in other cases than Q-0007's.
func TestOtherCases(t *testing.T) {
	cases := map[string]struct {
		change func(*report.CertificateFacts, *report.Terms)
		want   []string
	}{
		"whole deck, one line": {func(f *report.CertificateFacts, _ *report.Terms) {
			f.WholeDeck, f.ComplementPlaces, f.NotLooked, f.Left, f.OwnWork, f.Overrides = true, "", nil, nil, nil, nil
			f.RegionWords, f.Lines = "over the whole deck", f.Lines[2:3]
		}, []string{
			"for what the one line below says, until 23 April 2030. Only the deck is in it.", "If the frame gives way", "All of it free of charge.",
			"Nothing has to be kept up: no line asks for it.", "No rule was set aside for this work.",
		}},
		"two lines that end together": {func(f *report.CertificateFacts, _ *report.Terms) {
			f.Lines = f.Lines[:2]
		}, []string{"for what the two lines below say, both until 23 April 2030."}},
		"many equal lines": {func(f *report.CertificateFacts, _ *report.Terms) {
			*f = manyLines(t, 30)
			f.RegionWords, f.ComplementWords = "in 30 places", "The rest of the deck"
			for i := range f.Lines {
				f.Lines[i].Last = f.Lines[0].Last
			}
		}, []string{"We put our name to this roof in 30 places, for what the 30 lines below say, all until 23 April 2030. The rest of the deck is not in it."}},
		"plural complement": {func(f *report.CertificateFacts, _ *report.Terms) {
			f.ComplementWords, f.ComplementMany = "The front and the left half", true
		}, []string{"The front and the left half are not in it."}},
		"no sale": {
			func(f *report.CertificateFacts, _ *report.Terms) { f.Numbers.TransfersMost = 0 },
			[]string{"the holder of that day, until the coach is sold", "It ends with the first sale."},
		},
		"one sale": {
			func(f *report.CertificateFacts, _ *report.Terms) { f.Numbers.TransfersMost = 1 },
			[]string{"every owner in turn, through one sale", "It passes on for one sale and ends with the second."},
		},
		"half-yearly, one line": {func(f *report.CertificateFacts, _ *report.Terms) {
			f.Lines, f.Numbers.UpkeepEveryMonths, f.Numbers.UpkeepMissedMost = f.Lines[:4], 6, 2
		}, []string{"Asks for upkeep every 6 months.", "Line 4 asks for one look every 6 months", "this line pauses until it is done. Three missed in a row end it."}},
		"none falls due": {
			func(f *report.CertificateFacts, _ *report.Terms) { f.Upkeep = nil },
			[]string{"none falls due before the last day."},
		},
		"no exclusion": {func(f *report.CertificateFacts, _ *report.Terms) { f.Exclusions = nil }, []string{"No cause is left out."}},
		"standing water": {func(f *report.CertificateFacts, terms *report.Terms) {
			f.Lines[1].Promise, terms.Limits = "no-standing-water", []report.Limit{{Rule: "standing-water-look", Says: "5 mm 24 h"}}
		}, []string{"Running off until 23 Apr 2030 no water deeper than 5 mm stands 24 h after rain: the whole field"}},
		"a newer promise": {
			func(f *report.CertificateFacts, _ *report.Terms) { f.Lines[1].Promise = "quiet-roof" },
			[]string{"Quiet-roof until 23 Apr 2030 as the word says: the whole field"},
		},
		"EU": {
			func(f *report.CertificateFacts, terms *report.Terms) { f.Law, terms.Law = report.EU, report.EU },
			[]string{"Commercial guarantee", "You have legal remedies against the seller, free of charge"},
		},
		"other law": {func(f *report.CertificateFacts, terms *report.Terms) {
			f.Law, terms.Law, terms.Rights = report.OtherLaw, report.OtherLaw, []string{"Your right to a proper job stands beside it."}
		}, []string{"Warranty We put", "Your right to a proper job stands beside it."}},
		"serial": {
			func(f *report.CertificateFacts, _ *report.Terms) { f.Coach.VIN, f.Coach.Serial = "", "TB78-1133" },
			[]string{"serial TB78-1133"},
		},
		"nothing cured, nothing checked": {
			func(f *report.CertificateFacts, _ *report.Terms) { f.Cures, f.Checks = nil, nil },
			[]string{"nothing had to cure", "no check is on record"},
		},
		"nothing known of what lies there": {
			func(f *report.CertificateFacts, _ *report.Terms) { f.Next.Glue, f.Next.KeepAway = "", nil },
			[]string{"glue nothing of ours", "Nothing is named for what lies here."},
		},
		"falls from the first month to nothing": {func(f *report.CertificateFacts, _ *report.Terms) {
			l := &f.Lines[1]
			l.Months, l.Full, l.Floor, l.Shares = 4, 0, 0, []int{1000, 750, 500, 250}
		}, []string{"Falling from the first month to nothing at the end.", "full months 0 3 we bear, % 100 25"}},
	}
	for name, c := range cases {
		f, terms := q7Facts(t), quillstead.Terms()
		c.change(&f, &terms)
		words := every(certificate(t, f, terms))
		for _, want := range c.want {
			if !strings.Contains(words, want) {
				t.Errorf("%s: %q is not in\n%s", name, want, words)
			}
		}
	}
}

// The findings paper: its entries by number, the cautions where work is asked
// for, and what to ask before anyone works on the roof.
func TestHistory(t *testing.T) {
	p := q7History(t)
	words := every(p)
	for _, want := range []string{
		"Coach history", "for a buyer, as of 20 March 2020", "entry day what 1 16 Mar 2020 The coach came in", "15 19 Mar 2020 Not looked at: 0–3700 mm aft, full width.",
		report.FixedSays("care"), report.FixedSays("care-work"), report.FixedSays("ask-history"), "What was found, done and promised on this roof from 16 March to 19 March 2020, in five entries.",
	} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not in\n%s", want, words)
		}
	}
	at := day(t, "2020-03-20")
	empty, err := report.History(report.HistoryFacts{Given: at, Head: report.PaperHead{UpToDay: at}})
	if err != nil {
		t.Fatal(err)
	}
	if none := every(empty); !strings.Contains(none, "Nothing was found here.") {
		t.Errorf("empty is not said: %s", none)
	}
}

// A drawing stands where the facts put it: the plan on page one, the bare plan
// on the half page, a swatch on each line.
func TestDrawingsStand(t *testing.T) {
	f := q7Facts(t)
	var seen []plan.Unit
	for _, s := range certificate(t, f, quillstead.Terms()).Sections {
		for _, b := range s.Blocks {
			if p, ok := b.(report.Plan); ok {
				seen = append(seen, p.Drawing.Height)
			}
		}
	}
	if len(seen) != 2 || seen[0] != f.RoofPlan.Height || seen[1] != f.Next.Bare.Height {
		t.Errorf("plans: %v", seen)
	}
}
