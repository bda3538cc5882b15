package cli

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/console"
	"lapmark/cmd/internal/demo"
)

// night is the demo's shop as it stood after so many sheets.
func night(t *testing.T, sheets int) (folder string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "shop")
	_, err := demo.MakeTo(context.Background(), folder, sheets)
	require.NoError(t, err)
	return folder
}

// at runs one command at a moment and returns what it answered.
func at(t *testing.T, shop, moment string, exit int, args ...string) string {
	t.Helper()
	now, err := time.Parse(time.RFC3339, moment)
	require.NoError(t, err)
	var out, talk bytes.Buffer
	e := &env{
		console: &console.Console{In: strings.NewReader(demo.Passphrase + "\n"), Out: &out, Err: &talk}, now: func() time.Time { return now },
		here: t.TempDir(), getenv: func(string) string { return "" },
	}
	require.Equal(t, exit, e.run(context.Background(), append(args, "--shop", shop)), "%s\n%s%s", args, &out, &talk)
	return out.String()
}

// pencilled puts notes of the coach under a day into pencil.
func pencilled(t *testing.T, shop, moment, day, notes string) {
	t.Helper()
	sheet := filepath.Join(t.TempDir(), "day.txt")
	require.NoError(t, os.WriteFile(sheet, []byte("coach GZ9TF785XEW004137\non "+day+" zone +02:00\n"+notes), 0o644))
	require.NotContains(t, at(t, shop, moment, exitDone, "sheet", sheet), "? ")
}

// "Press off?" at 08:30: 11.44 of 12 h, earliest 09:18 if it stays at 15 °C;
// with 16 °C at 09:30 logged it was reached 09:17. Doses and times by the closed
// form, cure.csv CUR-033 and CUR-034.
func TestMayPressOff(t *testing.T) {
	shop := night(t, 12)
	pencilled(t, shop, "2020-04-10T08:30:00+02:00", "2020-04-10", `cure:
  answers #35
  log 2020-04-09 20:30, air-temp 17.0 C
  log 2020-04-10 00:30, air-temp 14.0 C
  log 2020-04-10 04:30, air-temp 12.0 C
  log 2020-04-10 08:30, air-temp 15.0 C
  source thermometer
  time 08:30
  by hand-1
`)
	says := at(t, shop, "2020-04-10T08:31:00+02:00", exitDone, "may", "4137", "press-off")
	require.Contains(t, says, "Not counted, in pencil: 1 cure note.")
	require.Contains(t, says, "0.00 of 12.00 h", "one temperature is no time")

	at(t, shop, "2020-04-10T08:32:00+02:00", exitDone, "ink")
	says = at(t, shop, "2020-04-10T08:33:00+02:00", exitDone, "may", "4137", "press-off")
	require.Contains(t, says, "No.\nPress off at ")
	require.Contains(t, says, "11.44 of 12.00 h at 20.0 °C. Earliest 10 April 2020 09:18 if it stays at 15.0 °C.")
	require.Contains(t, says, "\nEarliest 10 April 2020 09:18.\n")
	json := at(t, shop, "2020-04-10T08:33:00+02:00", exitDone, "may", "4137", "press-off", "--at", "bay 9 left", "--json")
	require.Contains(t, json, `"may":false`)
	require.Contains(t, json, `"rule":"cure-early","degree":"refused"`)
	require.Contains(t, json, `"earliest":"2020-04-10T09:18+02:00"`)
	says = at(t, shop, "2020-04-10T08:33:00+02:00", exitDone, "may", "4137", "press-off", "--at", "bay 1 left")
	require.Contains(t, says, "Yes.\nNo cure there waits for press off.")

	pencilled(t, shop, "2020-04-10T09:31:00+02:00", "2020-04-10", "cure: answers #35; log 2020-04-10 09:30, air-temp 16.0 C; source thermometer; time 09:30; by hand-1\n")
	at(t, shop, "2020-04-10T09:32:00+02:00", exitDone, "ink")
	says = at(t, shop, "2020-04-10T09:33:00+02:00", exitDone, "may", "4137", "press-off")
	require.Contains(t, says, "Yes.\nReached at 3700–7400 aft, full width on 10 April 2020 09:17. Write the release.")
	says = at(t, shop, "2020-04-10T09:33:00+02:00", exitDone, "may", "4137", "load")
	require.Contains(t, says, "12.17 of 72.00 h")
}

// Closing over 16.2 % is stopped at 15.0, whose limit is common practice.
func TestMayClose(t *testing.T) {
	shop := night(t, 9)
	pencilled(t, shop, "2020-04-07T08:30:00+02:00", "2020-04-07", `check:
  pins at edge-member 7340-7400 aft 1000-1100 R layer frame, moisture 16.2 %
  instrument "pin meter 1"
  scale softwood
  time 08:00
  by hand-1
`)
	at(t, shop, "2020-04-07T08:32:00+02:00", exitDone, "ink")
	says := at(t, shop, "2020-04-07T09:00:00+02:00", exitDone, "may", "4137", "close", "--at", "7340-7400 aft 1000-1100 R")
	require.Contains(t, says, "reads 16.2 %, the limit is 15.0 %. Leave it open, or say why it may be closed.")
	says = at(t, shop, "2020-04-07T09:00:00+02:00", exitDone, "may", "4137", "close")
	require.Contains(t, says, "Asked of the whole roof.")
	require.NotContains(t, says, "No photo of")
	says = at(t, shop, "2020-04-07T09:00:00+02:00", exitDone, "may", "4137", "close", "--at", "bay 1 left")
	require.NotContains(t, says, "16.2", "that is elsewhere")
	require.Contains(t, says, "was not agreed before it was done")
}

// The bead of 17 April cures through 23 April 07:34 (5.86 d by the square-root
// law, cure.csv), and nothing is certified before.
func TestMayWaterAndCertify(t *testing.T) {
	shop := night(t, 18)
	says := at(t, shop, "2020-04-18T09:00:00+02:00", exitDone, "may", "4137", "water", "--at", "A1")
	require.Contains(t, says, "of 96.00 h at 23.0 °C")
	says = at(t, shop, "2020-04-18T09:00:00+02:00", exitDone, "may", "4137", "certify")
	require.Contains(t, says, " is not released.")

	early := night(t, demo.ToCertificate-1)
	says = at(t, early, "2020-04-24T11:00:00Z", exitDone, "may", "4137", "certify")
	require.Contains(t, says, "Yes.\n")
	require.Contains(t, says, "Line 1 would be watertight membrane from 2020-04-24")
	says = at(t, early, "2020-04-24T11:00:00Z", exitDone, "may", "4137", "certify", "--at", "bay 1 left")
	require.Contains(t, says, "Nothing there is closed and tested")
}

func TestMayAskedWrongly(t *testing.T) {
	shop := night(t, 9)
	at(t, shop, "2020-04-07T09:00:00+02:00", exitUse, "may", "4137", "dance")
	at(t, shop, "2020-04-07T09:00:00+02:00", exitUse, "may", "4137", "close", "--at", "bay nine")
	at(t, shop, "2020-04-07T09:00:00+02:00", exitUse, "may", "4137", "close", "--at", "bay 99")
	at(t, shop, "2020-04-07T09:00:00+02:00", exitUse, "may", "4137")
	at(t, shop, "2020-04-07T09:00:00+02:00", exitNoCoach, "may", "9999", "load")
}
