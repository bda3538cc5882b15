package report_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"lapmark/report"
	"lapmark/testdata/quillstead"
)

// earlierFacts is Q-0007 with so many papers given out before it, whose codes
// are told apart by their last group.
func earlierFacts(t testing.TB, n int) report.CertificateFacts {
	t.Helper()
	f := q7Facts(t)
	f.Earlier = nil
	for i := range n {
		f.Earlier = append(f.Earlier, report.EarlierPaper{
			Day: day(t, "2020-03-20"), What: "certificate Q-0003", For: "a later shop", UpTo: fmt.Sprint(15 + 2*i),
			Code: lastGroup(i), GivenOut: fmt.Sprint(16 + 2*i),
		})
	}
	return f
}

func lastGroup(i int) string { return fmt.Sprintf("8XES 4B3V TED4 WW84 %04d", i) }

// printedLine is a line of a page and how far down it stands.
type printedLine struct {
	line string
	y    float64
}

// lastPage is what stands on the page for others: above the half page for the
// next hand, in it, and how many pages the paper has.
func lastPage(t *testing.T, p report.Paper, size report.Size) (upper, lower []printedLine, pages int) {
	t.Helper()
	all := letters(t, print(t, p, size))
	on, from := 0, 0.0
	for _, l := range all {
		pages = max(pages, l.page)
		if strings.Contains(l.line, "For the next hand on this roof") {
			on, from = l.page, l.upper
		}
	}
	for _, l := range all {
		at := printedLine{l.line, l.y}
		switch {
		case l.page != on || strings.Contains(l.line, " of "+fmt.Sprint(pages)):
		case l.upper < from-0.1:
			if !slices.Contains(upper, at) {
				upper = append(upper, at)
			}
			if l.low > from {
				t.Errorf("%q reaches into the half page for the next hand", l.line)
			}
		case !slices.Contains(lower, at):
			lower = append(lower, at)
		}
	}
	return upper, lower, pages
}

func holds(places []printedLine, words string) bool {
	return slices.ContainsFunc(places, func(p printedLine) bool {
		return strings.Contains(strings.ReplaceAll(p.line, "\u00a0", " "), words)
	})
}

// However many papers were given out before, the half page for the next hand
// stays where it is, letter by letter, and the half above it says how to check.
// Every head code is printed: there, or on a page that follows.
func TestEarlierPapersLeaveTheNextHandAlone(t *testing.T) {
	for _, size := range []report.Size{report.A4, report.Letter} {
		_, want, few := lastPage(t, certificate(t, earlierFacts(t, 0), quillstead.Terms()), size)
		for _, n := range []int{0, 1, 2, 12, 60} {
			p := certificate(t, earlierFacts(t, n), quillstead.Terms())
			upper, lower, pages := lastPage(t, p, size)
			if !slices.Equal(lower, want) || len(lower) < 20 {
				t.Errorf("size %d, %d papers: the half page is another", size, n)
			}
			if !holds(upper, "How to check this paper") || !holds(upper, "Papers given out before this one") {
				t.Errorf("size %d, %d papers: the upper half is not there", size, n)
			}
			if apart := holds(upper, "papers: listed on the next page"); apart != (pages > few) {
				t.Errorf("size %d, %d papers: %d pages, listed apart: %v", size, n, pages, apart)
			}
			found := strings.ReplaceAll(tool(t, print(t, p, size), "pdftotext", "-raw", "PAPER", "-"), "\u00a0", " ")
			for i := range n {
				if strings.Count(found, lastGroup(i)) != 1 {
					t.Errorf("size %d, %d papers: %s is there %d times", size, n, lastGroup(i), strings.Count(found, lastGroup(i)))
				}
			}
		}
	}
}

// None is said; one stands in the upper half; twelve stand on the page after.
func TestEarlierPapersSaid(t *testing.T) {
	none := "Papers given out before this one None was given out before this one."
	if words := every(certificate(t, earlierFacts(t, 0), quillstead.Terms())); !strings.Contains(words, none) {
		t.Errorf("none is not said: %s", words)
	}
	if words := every(q7History(t)); !strings.Contains(words, none) {
		t.Errorf("none is not said on the history: %s", words)
	}
	want := "Papers given out before this one 20 Mar 2020 findings, for the holder, complete up to entry 15: 19EA QFQY A44K 43EE F5DP"
	if words := every(q7(t)); !strings.Contains(words, want) {
		t.Errorf("%q is not in\n%s", want, words)
	}
	one, _, _ := lastPage(t, q7(t), report.A4)
	if !holds(one, "19EA QFQY A44K 43EE F5DP") {
		t.Error("the one paper before this one is not in the upper half")
	}
	many, _, _ := lastPage(t, certificate(t, earlierFacts(t, 12), quillstead.Terms()), report.A4)
	if !holds(many, "Twelve papers: listed on the next page, each with its") || holds(many, "WW84 0000") {
		t.Errorf("twelve papers are not on the page after: %v", many)
	}
}

// However long the list, none of its head codes lies within 4 mm of a fold, the
// half and the thirds of the sheet.
func TestEarlierPapersKeepOffTheFolds(t *testing.T) {
	const mm = 72 / 25.4
	at := day(t, "2020-03-27")
	for size, height := range map[report.Size]float64{report.A4: 297, report.Letter: 279.4} {
		for _, n := range []int{3, 12, 60, 100} {
			f := earlierFacts(t, n)
			findings, err := report.Findings(report.FindingsFacts{Coach: f.Coach, Given: at, DayIn: at, Head: f.Head, Earlier: f.Earlier})
			if err != nil {
				t.Fatal(err)
			}
			history, err := report.History(report.HistoryFacts{Shop: f.Shop, Coach: f.Coach, Given: at, Head: f.Head, Earlier: f.Earlier})
			if err != nil {
				t.Fatal(err)
			}
			for name, p := range map[string]report.Paper{
				"certificate": certificate(t, f, quillstead.Terms()), "findings": findings, "history": history,
			} {
				seen := map[string]bool{}
				for _, l := range letters(t, print(t, p, size)) {
					if !strings.Contains(strings.ReplaceAll(l.line, "\u00a0", " "), "TED4 WW84") {
						continue
					}
					seen[l.line] = true
					for _, fold := range []float64{height / 2, height / 3, height * 2 / 3} {
						if l.upper/mm < fold+4 && l.low/mm > fold-4 {
							t.Fatalf("%s of %d, size %d, page %d: %q stands from %.1f to %.1f mm, the fold is at %.1f",
								name, n, size, l.page, l.line, l.upper/mm, l.low/mm, fold)
						}
					}
				}
				if len(seen) != n {
					t.Errorf("%s, size %d: of %d papers %d are there", name, size, n, len(seen))
				}
			}
		}
	}
}

// The findings paper lists them too, over the full width.
func TestEarlierPapersOnFindings(t *testing.T) {
	at := day(t, "2020-03-27")
	p, err := report.Findings(report.FindingsFacts{Given: at, DayIn: at, Head: report.PaperHead{UpToDay: at}, Earlier: earlierFacts(t, 12).Earlier})
	if err != nil {
		t.Fatal(err)
	}
	words := every(p)
	for _, want := range []string{
		"day what for complete up to head code given out as 20 Mar 2020 certificate Q-0003 a later shop entry 15 8XES 4B3V TED4 WW84 0000 entry 16",
		"entry 37 8XES 4B3V TED4 WW84 0011 entry 38",
	} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not in\n%s", want, words)
		}
	}
}

// A zero day is never printed as one.
func TestZeroDay(t *testing.T) {
	var none report.Day
	if none.Long() != "" || none.Short() != "" || (report.Moment{Hour: 7}).Short() != "" {
		t.Errorf("%q, %q, %q", none.Long(), none.Short(), report.Moment{Hour: 7}.Short())
	}
}

// A certificate with a day missing is refused, and where the day stands in a
// sentence there are no sentences to sign.
func TestMissingDayIsRefused(t *testing.T) {
	says := report.CertificateSentences(q7Facts(t), quillstead.Terms())
	for name, c := range map[string]struct {
		take   func(*report.CertificateFacts)
		signed bool
	}{
		"given":      {func(f *report.CertificateFacts) { f.Given = report.Day{} }, true},
		"first day":  {func(f *report.CertificateFacts) { f.FirstDay = report.Day{} }, true},
		"ended":      {func(f *report.CertificateFacts) { f.EndedDay = report.Day{} }, true},
		"line":       {func(f *report.CertificateFacts) { f.Lines[2].Last = report.Day{} }, true},
		"line first": {func(f *report.CertificateFacts) { f.Lines[2].First = report.Day{} }, true},
		"left":       {func(f *report.CertificateFacts) { f.Left[0].Day = report.Day{} }, true},
		"other shop": {func(f *report.CertificateFacts) { f.AnotherShop = []report.AnotherShop{{Place: "S1"}} }, true},
		"cure":       {func(f *report.CertificateFacts) { f.Cures[0].At.Day = report.Day{} }, true},
		"upkeep":     {func(f *report.CertificateFacts) { f.Upkeep.Due = report.Day{} }, true},
		"head":       {func(f *report.CertificateFacts) { f.Head.UpToDay = report.Day{} }, false},
		"earlier":    {func(f *report.CertificateFacts) { f.Earlier[0].Day = report.Day{} }, false},
	} {
		f := q7Facts(t)
		c.take(&f)
		var missing report.MissingDay
		if _, err := report.Certificate(f, says); !errors.As(err, &missing) {
			t.Errorf("%s: %v", name, err)
		}
		if got := report.CertificateSentences(f, quillstead.Terms()); (len(got) == 0) != c.signed {
			t.Errorf("%s: %d sentences", name, len(got))
		}
	}
	at := day(t, "2020-03-20")
	for name, f := range map[string]report.HistoryFacts{
		"made":    {Head: report.PaperHead{UpToDay: at}},
		"head":    {Given: at},
		"entry":   {Given: at, Head: report.PaperHead{UpToDay: at}, Entries: []report.HistoryEntry{{Number: "1"}}},
		"earlier": {Given: at, Head: report.PaperHead{UpToDay: at}, Earlier: []report.EarlierPaper{{What: "findings"}}},
	} {
		var missing report.MissingDay
		if _, err := report.History(f); !errors.As(err, &missing) {
			t.Errorf("history, %s: %v", name, err)
		}
	}
	for name, take := range map[string]func(*report.FindingsFacts){
		"made":    func(f *report.FindingsFacts) { f.Given = report.Day{} },
		"head":    func(f *report.FindingsFacts) { f.Head = report.PaperHead{} },
		"came in": func(f *report.FindingsFacts) { f.DayIn = report.Day{} },
		"looked":  func(f *report.FindingsFacts) { f.Looked = []report.Day{{}} },
		"finding": func(f *report.FindingsFacts) { f.Findings = []report.Finding{{Tag: "F1"}} },
		"reading": func(f *report.FindingsFacts) { f.Moisture.Readings = []report.MoistureReading{{Place: "bay 1"}} },
		"earlier": func(f *report.FindingsFacts) { f.Earlier = []report.EarlierPaper{{What: "findings"}} },
	} {
		f := report.FindingsFacts{Given: at, DayIn: at, Head: report.PaperHead{UpToDay: at}}
		if _, err := report.Findings(f); err != nil {
			t.Fatal(err)
		}
		take(&f)
		var missing report.MissingDay
		if _, err := report.Findings(f); !errors.As(err, &missing) {
			t.Errorf("findings, %s: %v", name, err)
		}
	}
}
