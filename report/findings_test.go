package report_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"strings"
	"testing"

	"lapmark/report"
	"lapmark/report/plan"
	"lapmark/report/text"
	"lapmark/testdata/quillstead"
)

// shot is a small grey picture as a JPEG.
func shot(t *testing.T) []byte {
	t.Helper()
	grey := image.NewGray(image.Rect(0, 0, 80, 60))
	grey.SetGray(40, 30, color.Gray{Y: 200})
	var out bytes.Buffer
	if err := jpeg.Encode(&out, grey, nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// threeFindings are facts in the manner of REPORTS.md 6.1.
func threeFindings(t *testing.T) report.FindingsFacts {
	t.Helper()
	at := day(t, "2020-03-18")
	drawing, _ := plan.Findings(plan.FindingsInput{Roof: plan.Roof{Length: 7400, Front: 2200, Rear: 2200}})
	return report.FindingsFacts{
		Terms: quillstead.Terms(), Coach: report.Coach{Builder: "Tarnholt", Model: "Fellside 78", Year: 2014, VIN: "GZ9TF785XEW004137"},
		Head:  report.PaperHead{GivenOut: 16, UpTo: 15, UpToDay: at, Code: "19EA QFQY A44K 43EE F5DP"},
		Given: at, DayIn: day(t, "2020-03-16"), Looked: []report.Day{day(t, "2020-03-17"), at}, LastRain: day(t, "2020-03-11"), PapersShown: true,
		HolderName: "Adela Brunskog", Asked: "A stain in the rear lounge.",
		Findings: []report.Finding{
			{Tag: "F4", Day: at, Defect: "rot", Deep: "in the frame", Soon: "before-driving", SoonSays: "before it is driven", Place: "the rear header", Measured: "32 of 45 mm deep", Cause: "past a joint, seen", Whose: "the factory", Photos: []report.FindingPhoto{{}, {JPEG: shot(t)}}},
			{Tag: "F1", Day: at, Defect: "standing water", Deep: "in the core", Soon: "before-rain", SoonSays: "before it stands out in rain", Place: "5550–6450 aft", Whose: "whose hand is not known", NoPhoto: "the camera fell"},
			{Tag: "F7", Day: at, Defect: "narrow flange", Deep: "on the face", Soon: "before-wet-season", SoonSays: "before the wet season", Place: "R1", Whose: "the factory", Trade: true, Photos: []report.FindingPhoto{{}}},
		},
		Where: "all behind 3700 mm but one", Unopened: "The front half",
		NotLooked: []report.NotLooked{{Area: 8_140_000, Where: "under the skin forward of 3700 mm", AtHolderWish: true}},
		Plan:      &report.FindingsPlan{Drawing: drawing},
		Promised: []report.CertificateLine{
			{Number: 1, Promise: "watertight-fitting", Months: 72, Full: 72, Floor: 1000, Upkeep: true},
			{Number: 2, Promise: "sound-frame", Months: 120, Full: 120, Floor: 1000},
		},
		Moisture: report.Moisture{Limit: "15.0 %", Readings: []report.MoistureReading{
			{Place: "bay 10 left", Newest: "28.1 %", Day: at, Entry: "6", Over: true, Corrected: "14", First: "30.0 %", FirstDay: day(t, "2020-03-17")},
		}},
	}
}

func laidOut(t *testing.T, f report.FindingsFacts) report.Paper {
	t.Helper()
	p, err := report.Findings(f)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// What REPORTS.md 6.1 asks for stands there: title, headline by how soon, the
// front, facts, list, what was not looked at, moisture, choices, wording, how to
// check.
func TestFindingsSayWhatTheDesignAsks(t *testing.T) {
	words := every(laidOut(t, threeFindings(t)))
	for _, want := range []string{
		"What we found",
		"One thing before it is driven, one before it stands out in rain. Three findings, all behind 3700 mm but one. The front half was not opened.",
		"came in 16 March 2020; papers shown: none", "looked at 17 and 18 March 2020", "last rain 11 March 2020",
		"asked by the holder: “A stain in the rear lounge.”",
		"F4 Rot, in the frame; before it is driven. The rear header. 32 of 45 mm deep. The factory.",
		"Not looked at 8.14 m² under the skin forward of 3700 mm was not opened, at the holder's wish, and nobody has looked at it.",
		"bay 10 left (corrected by entry 14), was 30.0 % on 17 Mar 2020 28.1 %, over 18 Mar 2020, entry 6",
		"A place without a reading was never read: it may be dry or wet.",
		"F1: No photo: the camera fell.", "F7: Picture of R1, 18 March 2020: not in this file.",
		"F4: the rear header, 18 March 2020. One more is named in the ledger.",
		"Rot, the rear header. Cause: past a joint, seen. repair now repair by ________ only make tight leave it you do it another shop holder: initials, day shop: initials, day",
		"You may read the full wording of our warranty before you decide: page",
		"What our warranty would say Limited warranty.", "Fittings: stay watertight, for 72 months. In full.",
		"Line 1 asks for one look a year; the certificate says where and when.",
		report.FixedSays("us-consequential"), report.FixedSays("us-rights"), report.Rights,
		report.FixedSays("alone"), report.FixedSays("check-older"), report.FixedSays("care"), report.FixedSays("care-work"),
		"F7: " + report.FixedSays("care-trade"), report.FixedSays("ask-history"),
	} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not in\n%s", want, words)
		}
	}
	if strings.Contains(strings.ToLower(words), "price") {
		t.Error("a price is spoken of, and none is known")
	}
}

// What a choice takes out of a warranty is said of each of the six decisions of
// TRADE.md 3.7 that REPORTS.md 6.1 names; the margin is the shop's own.
func TestChoicesSayWhatTheyTakeOut(t *testing.T) {
	f := threeFindings(t)
	f.Terms.Numbers.MarginMM = 450
	words := every(laidOut(t, f))
	for _, choice := range []string{"Repair now. ", "Repair by a day. ", "Only make tight. ", "Leave it. ", "You do it. ", "Another shop. "} {
		if strings.Count(words, choice) != 1 {
			t.Errorf("%q stands %d times", choice, strings.Count(words, choice))
		}
	}
	if n := strings.Count(words, "Within 450 mm of it a check must show whose fault a leak is."); n != 2 {
		t.Errorf("the margin is said %d times", n)
	}
}

// The copy to pass on has neither the holder's name nor what he asked.
func TestFindingsToPassOn(t *testing.T) {
	f := threeFindings(t)
	f.Copy = report.PassOnCopy
	words := every(laidOut(t, f))
	if strings.Contains(words, "Brunskog") || strings.Contains(words, "stain") {
		t.Errorf("the holder is in %s", words)
	}
}

// The headline names the two soonest kinds alone, and what is in none of them
// nothing.
func TestFindingsHeadline(t *testing.T) {
	for soon, want := range map[string]string{
		"no-need no-need":     "Two findings. The front half was not opened.",
		"no-need next-upkeep": "One thing at the next upkeep. Two findings.",
		"before-rain before-rain before-wet-season before-walking": "One thing before anyone walks on it, two before it stands out in rain. Four findings.",
		"": "What we found Nothing was found here. The front half was not opened.",
	} {
		f := threeFindings(t)
		says := map[string]string{
			"no-need": "no need", "next-upkeep": "at the next upkeep", "before-rain": "before it stands out in rain",
			"before-wet-season": "before the wet season", "before-walking": "before anyone walks on it",
		}
		f.Findings, f.Where = nil, ""
		for i, word := range strings.Fields(soon) {
			f.Findings = append(f.Findings, report.Finding{Tag: "F" + string(rune('1'+i)), Day: f.Given, Soon: word, SoonSays: says[word]})
		}
		if words := every(laidOut(t, f)); !strings.Contains(words, want) {
			t.Errorf("%q: %q is not in %.300s", soon, want, words)
		}
	}
}

// Page one holds headline, list, plan and what was not looked at, on both sizes
// of sheet; the page named for the wording is the one it begins on; nothing is
// set smaller than 9.5 pt.
func TestFindingsPrinted(t *testing.T) {
	for _, size := range []report.Size{report.A4, report.Letter} {
		face := print(t, laidOut(t, threeFindings(t)), size)
		pages := strings.Split(strings.ReplaceAll(tool(t, face, "pdftotext", "-layout", "PAPER", "-"), "\u00a0", " "), "\f")
		for _, want := range []string{"What we found", "The front half was not opened.", "F7", "Not looked at", "8.14 m²", "seen from above"} {
			if !strings.Contains(pages[0], want) {
				t.Errorf("size %d: %q is not on page one:\n%s", size, want, pages[0])
			}
		}
		all, said, begins := strings.Join(pages, ""), 0, 0
		for n := range pages {
			if strings.Contains(all, "before you decide: page "+string(rune('1'+n))+".") {
				said = n + 1
			}
			if strings.Contains(pages[n], "What our warranty would say") {
				begins = n + 1
			}
		}
		if said == 0 || said != begins {
			t.Errorf("size %d: page %d is named, it begins on %d", size, said, begins)
		}
		if len(face) > 400<<10 {
			t.Errorf("size %d: %d bytes", size, len(face))
		}
	}
}

// As text there are no pages: the heading is named instead; each choice can be
// ticked.
func TestFindingsAsText(t *testing.T) {
	page := strings.Join(strings.Fields(text.Render(laidOut(t, threeFindings(t)))), " ")
	for _, want := range []string{
		"before you decide: page with the heading “What our warranty would say”.", "[ ] repair now", "[ ] another shop", "[Picture] Rot.",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not in\n%s", want, page)
		}
	}
}
