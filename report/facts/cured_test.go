package facts_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/report"
)

// glued is work with a glue and its cure, at 20 °C throughout: the dose is the
// hours that went by.
func glued(tag, lot, aft, stages, releases string) string {
	return "work " + tag + ": laminate at " + aft + " aft full width layer deck, uses " + lot + " 600 g, area 3 m2; photo g.jpg; time 08:00; by hand-1\n" +
		"cure: answers " + tag + "; start 2021-05-10 08:00; lot " + lot + "; " + stages +
		"; with ref-temp 20.0 C, least-temp 10.0 C, cap-temp 30.0 C, doubling 10.0 K; log 2021-05-10 08:00, air-temp 20.0 C; " +
		"log 2021-05-10 18:00, air-temp 20.0 C; source logger; " + releases + "; time 18:00; by hand-1\n"
}

const glues = "delivery: lot G-1, glue-epoxy, amount 4 kg; lot G-2, glue-epoxy, amount 4 kg; by desk\n"

// Of two stages released in one entry the last one counts; two cures of one
// sort are told apart by their lots.
func TestCures(t *testing.T) {
	const both = "release load, dose 10.00 h, earliest 2021-05-10 17:00, look \"hard\"; release press-off, dose 10.00 h, earliest 2021-05-10 12:00, look \"hard\""
	at := func(hour int) report.Moment { return report.Moment{Day: reportDay(t, "2021-05-10"), Hour: hour} }
	f := factsOf(t, glues+glued("D1", "G-1", "0-1000", "stage press-off 4 h; stage load 9 h", both)+frontHalf)
	require.Equal(t, []report.Cure{{What: "glue", At: at(17)}}, f.Cures)
	require.Equal(t, "epoxy, lot G-1, 200 g/m²", f.Next.Glue)

	f = factsOf(t, glues+glued("D1", "G-1", "0-1000", "stage press-off 4 h; stage load 9 h", both)+
		glued("D2", "G-2", "1000-2000", "stage load 6 h", `release load, dose 10.00 h, earliest 2021-05-10 14:00, look "hard"`)+frontHalf)
	require.Equal(t, []report.Cure{{What: "glue G-1", At: at(17)}, {What: "glue G-2", At: at(14)}}, f.Cures)

	f = factsOf(t, glues+"work D1: laminate at 0-1000 aft full width layer deck, uses G-1 600 g, area 3 m2; photo g.jpg; time 08:00; by hand-1\n"+
		"cure: answers D1; start 2021-05-10 08:00; lot G-1; stage load 20 h; with ref-temp 20.0 C, least-temp 10.0 C, cap-temp 30.0 C, doubling 10.0 K; "+
		"log 2021-05-10 08:00, air-temp 20.0 C; log 2021-05-10 18:00, air-temp 20.0 C; source logger; release load, dose 10.00 h; disturbed-early; time 18:00; by hand-1\n"+frontHalf)
	require.Equal(t, []report.Cure{{What: "glue, disturbed early,", At: at(18)}}, f.Cures)

	f = factsOf(t, glues+"work D1: laminate at 0-1000 aft full width layer deck, uses G-1 600 g, area 3 m2; photo g.jpg; time 08:00; by hand-1\n"+
		"cure: answers D1; start 2021-05-10 08:00; lot G-1; stage load 20 h; with ref-temp 20.0 C, least-temp 10.0 C, cap-temp 30.0 C, doubling 10.0 K; "+
		"log 2021-05-10 08:00, air-temp 20.0 C; source logger; time 08:00; by hand-1\n"+
		"check: hardness at 0-1000 aft full width, shore 70, limit at-least shore 65 \"maker's sheet\", pass; time 17:00; by hand-1\n"+
		"cure: answers D1; log 2021-05-10 18:00, air-temp 20.0 C; source logger; release load, dose 10.00 h; time 18:00; by hand-1\n"+frontHalf)
	require.Equal(t, []report.Cure{{What: "glue, released on hardness,", At: at(18)}}, f.Cures)
}
