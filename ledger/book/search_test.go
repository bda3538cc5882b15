package book

import (
	"errors"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
)

// three is a small index: the demo's coach, one of two holders' names, and
// one without a VIN.
func three(t *testing.T) *Book {
	t.Helper()
	b := newBook(t)
	for _, p := range []Page{
		{
			Coach{"7QX2M40KWN3Z", "l1", fellside, "", "Tarnholt", "Fellside 78", 2014, 87, "2026-05-11", "2026-05-11T10:00:00Z"},
			[]Find{{KindCertificate, "Q-0007"}, {KindCertificate, "LF-112"}, {KindPlate, "CE 4411 X"}, {KindTown, "Cold Elm"}, {KindHolder, "Runa Lindqvar"}},
		},
		{
			Coach{"9ABCDE0KWN3Z", "l2", "GZ9RK6128HB000387", "", "Rickmark", "Öst 6", 2017, 12, "2025-11-02", "2027-11-02T10:00:00Z"},
			[]Find{{KindCertificate, "20-0417"}, {KindHolder, "Jörgen Brunskog"}, {KindTown, "Penny Drift"}},
		},
		{
			Coach{"AAAA11112222", "l3", "", "TB78-1133", "Tarnholt", "Beck 78", 1974, 3, "2026-05-11", "2026-05-10T10:00:00Z"},
			[]Find{{KindHolder, `O'Brien "Bo" 100%_*`}},
		},
	} {
		noError(t, b.Together(PutIndex(p.Coach, p.Finds)))
	}
	return b
}

// ids returns the IDs of the hits by their first four characters.
func ids(hits []Hit) string {
	var all []string
	for _, h := range hits {
		all = append(all, h.Coach.ID[:4])
	}
	return strings.Join(all, " ")
}

func TestFind(t *testing.T) {
	b := three(t)
	for fragment, want := range map[string]string{
		"4137":               "7QX2",
		"gz9t":               "7QX2",
		"GZ9TF785XEW004137":  "7QX2",
		"b000387":            "9ABC",
		"0kwn":               "7QX2 9ABC", // of the IDs; newest day first
		"q-0007":             "7QX2",
		"-0007":              "7QX2",
		"0-04":               "9ABC",
		"8-11":               "AAAA",
		"e 44":               "7QX2", // a plate with its spaces
		"  4411  ":           "7QX2",
		"4173":               "",
		"Runa":               "", // a name is no fragment
		"Tarnholt":           "",
		"GZ9TF785XEW004137x": "",
		`" OR "4137`:         "",
		"41*7":               "",
		"text:4137":          "",
		"NEAR(4137)":         "",
		"41\x0037":           "",
		"\xff\xff\xff\xff":   "",
	} {
		hits, err := b.Find(fragment)
		if err != nil || ids(hits) != want {
			t.Errorf("%q finds %q, %v, not %q", fragment, ids(hits), err, want)
		}
	}
	for _, short := range []string{"", "417", " 417 ", "äöü"} {
		if _, err := b.Find(short); !errors.Is(err, ErrShort) {
			t.Errorf("%q: %v", short, err)
		}
	}
}

func TestFindSaysWhatItFound(t *testing.T) {
	hits, err := three(t).Find("0007")
	noError(t, err)
	want := Hit{
		Coach{"7QX2M40KWN3Z", "l1", fellside, "", "Tarnholt", "Fellside 78", 2014, 87, "2026-05-11", "2026-05-11T10:00:00Z"},
		[]Find{{KindCertificate, "Q-0007"}},
	}
	equal(t, hits, []Hit{want})
	hits, err = three(t).Search("tarn 4411 elm")
	noError(t, err)
	want.Found = []Find{{KindBuilder, "Tarnholt"}, {KindPlate, "CE 4411 X"}, {KindTown, "Cold Elm"}}
	equal(t, hits, []Hit{want})
}

func TestSearch(t *testing.T) {
	b := three(t)
	for words, want := range map[string]string{
		"jorg":               "9ABC",
		"JÖRGEN":             "9ABC",
		"jörgen brunskog":    "9ABC",
		"brunskog jorg":      "9ABC",
		"ost":                "9ABC",
		"Öst 6":              "9ABC",
		"runa lind":          "7QX2",
		"cold-elm":           "7QX2",      // typed otherwise than written
		"tarnholt":           "7QX2 AAAA", // the same day: by ID
		"tarnholt 78":        "7QX2 AAAA",
		"tarnholt fellside":  "7QX2",
		"tarnholt runa 4137": "7QX2",
		"tarnholt jorgen":    "",
		"2014":               "7QX2",
		"1974 beck":          "AAAA",
		"indqvar":            "", // no beginning of a word
		"0387":               "9ABC",
		"o'brien":            "AAAA",
		`"bo"`:               "AAAA",
		"100%_*":             "AAAA",
		"& runa -":           "7QX2",
		"runa OR jorgen":     "",
		"NOT runa":           "",
		"text:runa":          "",
		"runa) --":           "7QX2",
		"runa\x00lindqvar":   "7QX2",
		"\xff\xfe runa":      "7QX2",
	} {
		hits, err := b.Search(words)
		if err != nil || ids(hits) != want {
			t.Errorf("%q finds %q, %v, not %q", words, ids(hits), err, want)
		}
	}
	for _, none := range []string{"", "  ", "- &", "\x00"} {
		if _, err := b.Search(none); !errors.Is(err, ErrShort) {
			t.Errorf("%q: %v", none, err)
		}
	}
	if hits, err := b.Search(strings.Repeat("runa ", MaxWords)); err != nil || ids(hits) != "7QX2" {
		t.Errorf("%d words: %q, %v", MaxWords, ids(hits), err)
	}
	if _, err := b.Search(strings.Repeat("runa ", MaxWords+1)); err == nil {
		t.Errorf("%d words passed", MaxWords+1)
	}
}

// TestFindAgainstPlainSearch compares the index with strings.Contains over
// the same texts.
func TestFindAgainstPlainSearch(t *testing.T) {
	b, pages := newBook(t), fleet(1000)
	noError(t, b.Reindex(pages))
	chance := rand.New(rand.NewPCG(5, 9))
	for range 300 {
		page := pages[chance.IntN(len(pages))]
		texts := []string{page.Coach.VIN, page.Coach.ID, page.Finds[0].Text, page.Finds[1].Text}
		text := []rune(texts[chance.IntN(len(texts))])
		from := chance.IntN(len(text) - MinFragment + 1)
		fragment := strings.TrimSpace(string(text[from : from+MinFragment+chance.IntN(len(text)-MinFragment-from+1)]))
		if len(fragment) < MinFragment {
			continue
		}
		want := 0
		for _, p := range pages {
			for _, text := range []string{p.Coach.VIN, p.Coach.ID, p.Finds[0].Text, p.Finds[1].Text} {
				if strings.Contains(text, fragment) {
					want++
				}
			}
		}
		hits, err := b.Find(strings.ToLower(fragment))
		noError(t, err)
		got := 0
		for _, h := range hits {
			got += len(h.Found)
		}
		if got != want {
			t.Errorf("%q is in %d texts, found %d", fragment, want, got)
		}
	}
}

func TestPutIndexReplaces(t *testing.T) {
	b := three(t)
	c, known, err := b.Coach("7QX2M40KWN3Z")
	if err != nil || !known || c.Entries != 87 {
		t.Fatalf("coach is %+v, %v, %v", c, known, err)
	}
	c.Entries, c.VIN, c.Day = 88, "GZ9TF785XEW004173", "2026-06-01"
	noError(t, b.Together(PutIndex(c, []Find{{KindHolder, "Piers Okonta"}})))
	for words, want := range map[string]string{"okonta": "7QX2", "lindqvar": "", "4173": "7QX2", "4137": "", "Q-0007": "", "fellside": "7QX2", "jorg": "9ABC"} {
		if hits, err := b.Search(words); err != nil || ids(hits) != want {
			t.Errorf("%q finds %q, %v, not %q", words, ids(hits), err, want)
		}
	}
	now, _, err := b.Coach(c.ID)
	noError(t, err)
	equal(t, []Coach{now}, []Coach{c})
	_, known, err = b.Coach("none")
	if err != nil || known {
		t.Errorf("a coach that is not there: %v, %v", known, err)
	}
	coaches, err := b.Coaches()
	noError(t, err)
	if len(coaches) != 3 || coaches[0].ID != c.ID || coaches[1].ID != "AAAA11112222" {
		t.Errorf("coaches are %+v", coaches)
	}
	if at, err := b.NewestAt(); err != nil || at != "2027-11-02T10:00:00Z" {
		t.Errorf("newest at is %q, %v", at, err)
	}
}

func TestClearAndReindex(t *testing.T) {
	b := three(t)
	noError(t, b.ClearIndex())
	for _, words := range []string{"jorg", "4137", "tarnholt"} {
		if hits, err := b.Search(words); err != nil || len(hits) != 0 {
			t.Errorf("%q finds %q, %v in an empty index", words, ids(hits), err)
		}
	}
	if at, err := b.NewestAt(); err != nil || at != "" {
		t.Errorf("newest at of nothing is %q, %v", at, err)
	}
	noError(t, b.Reindex(fleet(20)))
	noError(t, b.Reindex(fleet(20)))
	coaches, err := b.Coaches()
	noError(t, err)
	if hits, err := b.Search("kvistberg"); err != nil || len(hits) != 1 || len(hits[0].Found) != 1 || len(coaches) != 20 {
		t.Errorf("after making it twice: %+v, %v, %d coaches", hits, err, len(coaches))
	}
}

// A name that is no longer in the index must not stand in its word lists.
func TestIndexForgets(t *testing.T) {
	b := three(t)
	folder := filepath.Dir(b.path)
	c, _, err := b.Coach("7QX2M40KWN3Z")
	noError(t, err)
	page := Page{c, []Find{{KindHolder, "Runa Lindqvar"}}}
	for name, forget := range map[string]func() error{
		"put anew":                 func() error { return b.Together(PutIndex(c, nil)) },
		"cleared":                  b.ClearIndex,
		"made anew":                func() error { return b.Reindex([]Page{{c, nil}}) },
		"made anew, then put anew": func() error { return errors.Join(b.Reindex([]Page{page}), b.Together(PutIndex(c, nil))) },
	} {
		noError(t, b.Together(PutIndex(page.Coach, page.Finds)))
		if traces(t, folder, "lindqvar") == 0 {
			t.Fatal("the name is not where this test looks for it")
		}
		noError(t, forget())
		noError(t, b.DropSlips("l1", nil)) // empties the WAL
		if n := traces(t, folder, "lindqvar"); n != 0 {
			t.Errorf("%s: %d traces of a name taken out", name, n)
		}
	}
}

func TestIndexFollowsACoachThatIsFoundAsBefore(t *testing.T) {
	b := three(t)
	c, _, err := b.Coach("7QX2M40KWN3Z")
	noError(t, err)
	noError(t, b.Together(PutIndex(c, []Find{{KindHolder, "Runa Lindqvar"}})))
	for _, finds := range [][]Find{{{KindHolder, "Runa Lindqvar"}}, {{KindTown, "Runa Lindqvar"}}, {{KindTown, "Cold Elm"}}} {
		c.Entries++
		noError(t, b.Together(PutIndex(c, finds)))
		now, _, err := b.Coach(c.ID)
		noError(t, err)
		equal(t, []Coach{now}, []Coach{c})
		hits, err := b.Search(finds[0].Text)
		noError(t, err)
		if len(hits) != 1 || hits[0].Coach.ID != c.ID {
			t.Fatalf("%q finds %q", finds[0].Text, ids(hits))
		}
		equal(t, hits[0].Found, finds)
	}
}
