package cli

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What waits as the demo's job goes on: first the holder is to be rung, then the
// work, then the wet places and the cures; what was done waits no more.
func TestWaitingThroughTheJob(t *testing.T) {
	says := at(t, night(t, 4), "2020-03-20T09:00:00+01:00", exitDone, "waiting", "--all")
	require.Contains(t, says, "20 March 2020 09:00. Looked at 1 coach file.")
	require.Contains(t, says, "To ring\n  …004137 Finding F4, rot at rear header")
	require.Contains(t, says, "No decision yet, repair before ")
	require.Contains(t, says, "Before it is closed\n  …004137 Bay 9 left reads 31.0 %, the limit is 15.0 %.")
	require.Contains(t, says, "5 more places: may close.")
	require.NotContains(t, says, "Agreed, not done")

	says = at(t, night(t, 7), "2020-03-24T09:00:00+01:00", exitDone, "waiting")
	require.NotContains(t, says, "Finding F")
	require.Contains(t, says, "Agreed, not done\n  …004137 Repair now 3700–7400 aft, full width; tie-in, 3625–3775 aft, full width\n    Agreed on 21 March 2020, no work yet.")
	require.NotContains(t, says, "Leave", "what is left waits for nothing")

	shop := night(t, 12)
	says = at(t, shop, "2020-04-09T18:00:00+02:00", exitDone, "waiting")
	require.Contains(t, says, "Curing\n  …004137 press off, 3700–7400 aft, full width: 0.00 of 12.00 h at 20.0 °C\n    Earliest 10 April 2020 05:22 if it stays at 19.0 °C. "+
		"Next temperature by 10 April 2020 04:30; after that the gap counts at its lower end.")
	require.Contains(t, says, "  …004137 load, 3700–7400 aft, full width: 0.00 of 72.00 h")
	require.NotContains(t, says, "Agreed, not done")
	require.NotContains(t, says, "Can be certified")
	says = at(t, shop, "2020-04-10T08:00:00+02:00", exitDone, "waiting")
	require.Contains(t, says, "The last temperature is of 9 April 2020 16:30: write one.")
}

// A note that a rule stops stays in pencil, and says so tomorrow; clear notes
// are said to be ready, and after two days late.
func TestWaitingSaysWhatStaysInPencil(t *testing.T) {
	shop := night(t, 9)
	pencilled(t, shop, "2020-04-07T17:00:00+02:00", "2020-04-07",
		"work: strip at bay 1 left layer membrane; no-photo \"too dark\"; by hand-1\n"+
			"check: hall-air, air-temp 16.0 C, humidity 64.0 %; by hand-1\n")
	at(t, shop, "2020-04-07T17:05:00+02:00", exitBad, "ink")
	says := at(t, shop, "2020-04-08T08:00:00+02:00", exitDone, "waiting")
	require.Regexp(t, `In pencil\n  …004137 Note \d+, work of 7 April 2020, stopped\n    .* was not agreed before it was done`, says)
	require.NotContains(t, says, "is ready", "the check went in")

	pencilled(t, shop, "2020-04-08T17:00:00+02:00", "2020-04-08", "check: hall-air, air-temp 16.0 C, humidity 64.0 %; by hand-1\n")
	json := at(t, shop, "2020-04-10T08:00:00+02:00", exitDone, "waiting", "--json")
	require.Contains(t, json, `"what":"1 note is ready, of 8 April 2020","needs":"Ink.","when":"2020-04-08","late":false`)
	json = at(t, shop, "2020-04-11T08:00:00+02:00", exitDone, "waiting", "--json")
	require.Contains(t, json, `"what":"1 note is ready, of 8 April 2020","needs":"Ink.","when":"2020-04-08","late":true`)
}
