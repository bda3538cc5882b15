package rules_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPinlessIsNoPercentage(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	require.Equal(t, []string{"pinless-percent refused: A pinless number is not a percentage. Give it with the dry reference."},
		w.says(on("2020-03-20", "check: pinless at bay 3 left, moisture 21.0 %, number 62, dry-number 18")))
	require.Empty(t, w.says(on("2020-03-20", "check: pinless at bay 3 left, number 62, dry-number 18")))
}

// 6.0 % in 24 h, or the shop's own; at the same place, whichever way it is said.
func TestReadingFalls(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	w.sheets(on("2020-03-20", "check: pins at bay 3 right, moisture 20.0 %; time 08:00"))
	read := func(day, what string) []string { return w.says(on(day, "check: pins at "+what)) }
	falls := "reading-jump noted: Bay 3 right fell from 20.0 to 13.9 % in 24 h: meter, wrong spot, or dry on the face only?"
	require.Equal(t, []string{falls}, read("2020-03-21", "bay 3 right, moisture 13.9 %; time 08:00"))
	require.Empty(t, read("2020-03-21", "bay 3 right, moisture 14.0 %; time 08:00"), "6.0 %")
	require.Empty(t, read("2020-03-21", "bay 3 right, moisture 13.9 %; time 08:01"), "a minute more")
	require.Equal(t, []string{"reading-jump noted: Bay 3 right fell from 20.0 to 13.9 % in 4 h: meter, wrong spot, or dry on the face only?"},
		read("2020-03-20", "bay 3 right, moisture 13.9 %"), "without a time it stands at noon")
	require.Empty(t, read("2020-03-20", "bay 3 right, moisture 13.9 %; time 07:00"), "it was read before")
	require.Equal(t, []string{"reading-jump noted: 1480–2220 aft, 0–1100 R fell from 20.0 to 13.0 % in 4 h: meter, wrong spot, or dry on the face only?"},
		read("2020-03-20", "1480-2220 aft 0-1100 R, moisture 13.0 %"), "the same place (TRADE 2: bay 3 lies from 1480 to 2220)")
	require.Empty(t, read("2020-03-20", "spot 1800 aft 500 R, moisture 13.0 %"), "another spot in it")
	require.Empty(t, read("2020-03-20", "bay 3 right layer frame, moisture 13.0 %, ground-temp 20.0 C")[1:], "no layer said speaks for every layer")
	w.with("reading-jump", "3.0 % 48 h")
	require.Equal(t, []string{"reading-jump noted: Bay 3 right fell from 20.0 to 16.9 % in 48 h: meter, wrong spot, or dry on the face only?"},
		read("2020-03-22", "bay 3 right, moisture 16.9 %; time 08:00"))
	require.Equal(t, "3.0 % 48 h", w.limitsOf(on("2020-03-22", "check: pins at bay 3 right, moisture 16.9 %; time 08:00"))[0]["says"])
	require.Empty(t, w.limitsOf(on("2020-03-22", "check: pins at bay 3 right, moisture 17.0 %; time 08:00")))
	w.sheets(on("2020-03-22", "check: pins at bay 3 right, moisture 18.0 %; time 07:00"))
	require.Empty(t, read("2020-03-22", "bay 3 right, moisture 16.9 %; time 08:00"), "the newest one counts")
}

// A digit lost from a reading falls; set right, it does not.
func TestReadingFallsByCorrection(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	w.sheets(on("2020-03-20", "check: pins at bay 3 right, moisture 20.0 %; time 08:00"), on("2020-03-20", "check: pins at bay 3 right, moisture 19.0 %; time 12:00"))
	mend := func(is string) []string {
		return w.says(on("2020-03-21", "correction: answers #17; was pins at bay 3 right, moisture 19.0 %; is pins at bay 3 right, moisture "+is+
			"; why \"w\"; found \"f\""))
	}
	require.Empty(t, mend("18.0 %"))
	require.Equal(t, []string{"reading-jump noted: Bay 3 right fell from 20.0 to 9.0 % in 4 h: meter, wrong spot, or dry on the face only?"}, mend("9.0 %"))
}

// About 0.2 % for each degree below 20 °C (TRADE 5.3): 1.0 at 15 °C, 2.0 at 10.
func TestColdMeter(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	read := func(parts string) []string {
		return w.says(on("2020-03-24", "check: pins at bay 3 right, moisture 20.0 %"+parts))
	}
	require.Empty(t, read(""))
	require.Empty(t, read("; with ground-temp 20.0 C"))
	require.Empty(t, read("; with ground-temp 19.8 C"), "0.04 % is nothing")
	require.Equal(t, []string{"meter-cold noted: Wood at 19.5 °C: a meter that does not correct for it reads about 0.1 % low."},
		read("; with ground-temp 19.5 C"))
	require.Equal(t, []string{"meter-cold noted: Wood at 10.0 °C: a meter that does not correct for it reads about 2.0 % low."},
		read(", ground-temp 10.0 C; with ground-temp 15.0 C"), "the reading's own wood")
	require.Empty(t, w.says(on("2020-03-24", "check: awl at rear-header, depth 1 mm; with ground-temp 10.0 C")))
}
