package loose

import (
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/sheet"
)

// Every short word stands for a word of the tables.
func TestShortsStandForWords(t *testing.T) {
	known := map[string]bool{"photo": true, "holder": true, "override": true, "kept-dry": true, "not-this-coach": true}
	for name := range listWords() {
		known[name] = true
	}
	for _, q := range ledger.Quantities() {
		known[q.Name] = true
	}
	for _, k := range ledger.Kinds() {
		known[k.Name] = true
	}
	seen := map[string]bool{}
	for _, s := range Shorts() {
		for _, is := range s.Is {
			require.True(t, known[is], "%s stands for %s", s.Typed, is)
		}
		key := s.Typed + "/" + string(s.With)
		require.False(t, seen[key], "%s stands twice", key)
		seen[key] = true
	}
}

func TestOwnWord(t *testing.T) {
	got, err := OwnWord(" Mushy  Bit", "soft-deck")
	require.NoError(t, err)
	require.Equal(t, "mushy bit", got)
	got, err = OwnWord("spongy", "soft-deck") // a short word of ours
	require.NoError(t, err)
	require.Equal(t, "spongy", got)
	for _, c := range []struct {
		typed, is string
		want      error
	}{
		{"mushy", "mushier", ErrNoWord},
		{"mushy", "12", ErrNoWord},
		{"mushy", "hand-1", ErrNoWord},
		{"cap seal", "bed", ErrHides},
		{"capseal", "bed", ErrHides},
		{"moisture", "bed", ErrHides},
		{"the", "bed", ErrHides},
		{"nine", "bed", ErrHides},
		{"left", "right", ErrHides},
		{"b2", "bed", ErrNotAWord},
		{"", "bed", ErrNotAWord},
	} {
		_, err := OwnWord(c.typed, c.is)
		require.ErrorIs(t, err, c.want, c.typed)
	}
}

// Above is the nearest earlier note of a kind that fits; one without a tag cannot
// be pointed at.
func TestAbove(t *testing.T) {
	shop, coach := demoShop(t), demoCoach(t)
	require.Contains(t, answer("cure above 16:30 17 C", shop, coach), "unclear: reference: no note above fits")
	for _, line := range []string{"work D9: weld at W1; by hand-1", "check: pins at bay 9 left, moisture 12.0 %; by hand-1"} {
		d, err := sheet.ReadLine(line, demoHeading)
		require.NoError(t, err)
		coach.Learn("", d, demoHeading)
	}
	require.Equal(t, "cure: answers D9; log 2026-11-25 16:30, air-temp 17.0 C; by hand-1", answer("cure above 16:30 17 C", shop, coach))
	require.Contains(t, answer(`remark above "as thought"`, shop, coach), "unclear: reference: the check above has no tag")
}

// A word of the shop's own is read as the word it stands for, before our own short
// words.
func TestOwnWordsAreRead(t *testing.T) {
	shop, coach := demoShop(t), demoCoach(t)
	require.Contains(t, answer("mushy bit bay 6 middle gives 6 mm under 80 kg", shop, coach), "unclear")
	shop.Words = map[string]string{"mushy bit": "soft-deck", "spongy": "wet-timber"}
	require.Equal(t, "finding: soft-deck; at bay 6 middle; with deflection 6 mm, mass 80 kg; by hand-1",
		answer("mushy bit bay 6 middle gives 6 mm under 80 kg", shop, coach))
	require.Equal(t, "finding: wet-timber; at rafter 8; with moisture 24.0 %; by hand-1", answer("spongy rafter 8 24 %", shop, coach))
}

// What a phone sends: each encoding and line end gives the same notes.
func TestDecode(t *testing.T) {
	text := "pins bay 9 left 31\n“caf\u00e9”\n"
	little, big := []byte{0xff, 0xfe}, []byte{0xfe, 0xff}
	for _, u := range utf16.Encode([]rune(text)) {
		little = append(little, byte(u), byte(u>>8))
		big = append(big, byte(u>>8), byte(u))
	}
	for name, raw := range map[string][]byte{
		"UTF-8": []byte(text), "with a mark": []byte("\ufeff" + text), "CRLF": []byte(strings.ReplaceAll(text, "\n", "\r\n")),
		"CR": []byte(strings.ReplaceAll(text, "\n", "\r")), "NFD": []byte(strings.ReplaceAll(text, "\u00e9", "e\u0301")),
		"UTF-16 LE": little, "UTF-16 BE": big, "without a mark": little[2:],
	} {
		got, err := Decode(raw)
		require.NoError(t, err, name)
		require.Equal(t, text, got, name)
	}
	for _, raw := range []string{"\xff\xfe\x00", "a\x00b", "\xc3"} {
		_, err := Decode([]byte(raw))
		require.ErrorIs(t, err, ErrNoText, "%q", raw)
	}
}

// Keyboards write one thing in many ways.
func TestClean(t *testing.T) {
	shop, coach := demoShop(t), demoCoach(t)
	for typed, want := range map[string]string{
		"pins\u00a031,0\u202fbay 9 left":           "check: pins at bay 9 left, moisture 31.0 %; by hand-1",
		"soft deck 5550–6450 350L—350R 6 mm 80 kg": "finding: soft-deck; at 5550-6450 aft 350 L-350 R; with deflection 6 mm, mass 80 kg; by hand-1",
		"curb H1 1½″ high":                         "work: curb at H1, height 38 mm; by hand-1",
		"new rear header 60×45":                    "work: replace-member at rear-header, section 60 x 45 mm; by hand-1",
		"remark A1 “looks new”":                    `remark: at A1; note "looks new"; by hand-1`,
		"weld W1 480 °C lap 40":                    "work: weld at W1, overlap 40 mm, weld-temp 480.0 C; by hand-1",
		"curb H1 3’ high":                          "work: curb at H1, height 914 mm; by hand-1",
		"short bite left edge leg ⅝\" over ¼\"":    "finding: short-bite; at left-edge; with leg 15.875 mm, over-layer 6.35 mm; by hand-1",
		"pins bay 9 left 31\u200b":                 "check: pins at bay 9 left, moisture 31.0 %; by hand-1",
	} {
		require.Equal(t, want, answer(typed, shop, coach), typed)
	}
}

// A note over the limit is not read, one at it is.
func TestLongestNote(t *testing.T) {
	shop, coach := demoShop(t), demoCoach(t)
	line := `remark bay 2 "` + strings.Repeat("x", 480) + `"`
	at := line + strings.Repeat(" ,", (MaxNote-len(line))/2) + strings.Repeat(",", (MaxNote-len(line))%2)
	require.Len(t, at, MaxNote)
	require.Contains(t, answer(at, shop, coach), "remark: at bay 2")
	require.Contains(t, answer(at+",", shop, coach), "unclear: word: one note of 4001 bytes")
}

// Notes below a coach that is not clear do not go to the coach before.
func TestUnclearCoachEndsTheOneBefore(t *testing.T) {
	shop, coach := demoShop(t), demoCoach(t)
	for _, line := range []string{"coach ?", "coach 1133 pins bay 9 left 31", "coach 9999"} {
		notes := Split(line+"\npins bay 9 left 31", demoHeading, []string{"hand-1"}, shop)
		require.Len(t, notes, 2)
		require.Error(t, notes[0].Err)
		notes[1].Read(shop, coach)
		require.True(t, notes[1].Err != nil || notes[1].Heading.Coach != demoPlate, line)
	}
}
