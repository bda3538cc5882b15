package report

import "testing"

// Expected by hand.
func TestBind(t *testing.T) {
	for text, want := range map[string]string{
		"75 mm round it":               "75_mm round it",
		"see page 2 and entry 30.":     "see page_2 and entry_30.",
		"on 24 April 2020":             "on 24_April 2020",
		"24 Apr 2020 07:34":            "24_Apr_2020_07:34",
		"tel. 555 0147":                "tel. 555_0147",
		"lines 1 to 3 ask":             "lines_1_to_3 ask",
		"7340–7400 × 1000–1100 R":      "7340–7400_×_1000–1100_R",
		"16.2 %, the limit":            "16.2_%, the limit",
		"rafters 8 and 9":              "rafters_8 and 9",
		"4 Tannery Rise":               "4 Tannery Rise",
		"In full. Asks":                "In full. Asks",
		"within 60 days (45 days) now": "within 60_days (45_days) now",
		"":                             "",
	} {
		got := ""
		for _, r := range Bind(text) {
			if r == '\u00a0' {
				r = '_'
			}
			got += string(r)
		}
		if got != want {
			t.Errorf("%q: %q, not %q", text, got, want)
		}
	}
}

// 1 in = 25.4 mm; sixteenths by hand: 75 / 25.4 × 16 = 47.24, 300: 188.98, 700: 440.94,
// 6: 3.78, 1000: 39.37 in, 3700: 145.67 in, 999: 39 5.3/16.
func TestInches(t *testing.T) {
	for tenths, want := range map[int64]string{
		750: "2 15/16 in", 3000: "11 13/16 in", 254: "1 in", 60: "1/4 in", 10000: "39 in", 37000: "146 in",
		9990: "39 5/16 in", 127: "1/2 in", 15: "1/16 in", 0: "0 in",
	} {
		if got := Inches(tenths); got != want {
			t.Errorf("%d: %s, not %s", tenths, got, want)
		}
	}
}

func TestWithInches(t *testing.T) {
	for text, want := range map[string]string{
		"75 mm around":                 "75 mm (2 15/16 in) around",
		"Lining 4500–7400 mm: own":     "Lining 4500–7400 mm (177–291 in): own",
		"212 N/50 mm held":             "212 N/50 mm held",
		"75 mm (2 15/16 in) around":    "75 mm (2 15/16 in) around",
		"behind 3700 mm.":              "behind 3700 mm (146 in).",
		"between 1200 and 1500 mm aft": "between 1200 and 1500 mm (47 and 59 in) aft",
		"from 300 to 700 mm left":      "from 300 to 700 mm (11 13/16 to 27 9/16 in) left",
		"rafters 8 and 60 mm":          "rafters 8 and 60 mm (2 3/8 in)",
		"mm alone":                     "mm alone",
		"flange 11 of 25 mm":           "flange 11 of 25 mm (1 in)",
		"6 mm/rtd and XPS 38 mm":       "6 mm/rtd and XPS 38 mm (1 1/2 in)",
		"overlap 40 mm, then 9.5 mm":   "overlap 40 mm (1 9/16 in), then 9.5 mm (3/8 in)",
	} {
		if got := WithInches(text); got != want {
			t.Errorf("%q: %q, not %q", text, got, want)
		}
	}
}

func TestEnglish(t *testing.T) {
	for got, want := range map[string]string{
		theLines([]int{3}):                        "line 3",
		theLines([]int{1, 2}):                     "lines 1 and 2",
		theLines([]int{6, 4, 5}):                  "lines 4 to 6",
		theLines([]int{1, 2, 5, 6, 7, 9}):         "lines 1, 2, 5 to 7 and 9",
		squareMetres(8_140_000):                   "8.14",
		squareMetres(548_625):                     "0.55",
		squareMetres(4_999):                       "0.00",
		percent(100):                              "10",
		percent(983):                              "98.3",
		Day{2020, 4, 24}.Long():                   "24 April 2020",
		Day{2020, 4, 4}.Short():                   "4 Apr 2020",
		Day{2020, 4, 23}.beside(Day{2021, 4, 24}): "23 April 2020",
		Moment{Day{2020, 4, 13}, 7, 4}.Short():    "13 Apr 2020 07:04",
	} {
		if got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
	if _, err := NewDay("2020-02-30"); err == nil {
		t.Error("2020-02-30 is no day")
	}
}
