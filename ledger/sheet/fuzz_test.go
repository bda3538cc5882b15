package sheet

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/text/unicode/norm"

	"lapmark/ledger"
)

// What reads is written back to the same bytes; and no line is lost: every line
// comes out as heading, note or blank.
func FuzzSheet(f *testing.F) {
	files, err := filepath.Glob("../../cmd/internal/demo/sheets/*.txt")
	if err != nil || len(files) == 0 {
		f.Fatal("no sheets to begin with", err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	for _, line := range ofEachKind {
		f.Add("on 2026-11-25 zone +01:00\n" + line + "\n")
	}
	f.Add("coach TB78-1133\non 2026-11-25 zone +01:00\nmeasure: rafters-at 738/1480 mm; crown 35 mm; parked nose-down, slope 1:80; by hand-1\n")
	f.Add("remark: at left wall 6000-6400 aft 0-300 down, slide S1 0-600 aft 0-400 out; note \"a \"\"b\"\"\"; by hand-1\n x\n\ty\n\n\n")
	f.Fuzz(func(t *testing.T, text string) {
		start := Heading{Coach: "TB78-1133", Day: "2026-11-25", Zone: "+01:00"}
		notes := Read(text, start)
		taken := map[int]bool{}
		for _, n := range notes {
			for i := range strings.Count(n.Words, "\n") + 1 {
				require.False(t, taken[n.At+i], "line %d in two notes", n.At+i)
				taken[n.At+i] = true
			}
			if n.Err != nil {
				require.Empty(t, n.Line)
				continue
			}
			line, err := Line(n.Draft, n.Heading)
			require.NoError(t, err)
			require.Equal(t, n.Line, line)
			require.Equal(t, n.Words, map[bool]string{true: Fold(line), false: line}[strings.Contains(n.Words, "\n")])
		}
		lines := strings.Split(norm.NFC.String(strings.ReplaceAll(strings.TrimPrefix(text, "\ufeff"), "\r\n", "\n")), "\n")
		for i, line := range lines {
			_, isHeading, err := ReadHeading(line, start)
			lost := strings.TrimSpace(line) != "" && !taken[i+1] && (!isHeading || err != nil)
			require.False(t, lost, "line %d is lost: %q", i+1, line)
		}
	})
}

// ofEachKind are the canonical lines of the specification's own list.
var ofEachKind = []string{
	"check: pins at bay 9 left, moisture 31.0 %; by hand-1",
	"measure: rafters-at 738/1480/2220 mm; opening H2, hatch, centre 3300 aft, off 400 R, clear 500 x 500 mm; parked nose-down, slope 1:80; by hand-1",
	"finding F1: narrow-flange; at R1; with flange 11 mm, needed 25 mm; by hand-1",
	`not-looked-at: at 0-3700 aft full width; why "not opened at the holder's wish"; by foreman`,
	"decision: leave; answers F7; at R1; given phone, on 2020-03-21 16:30; by desk",
	"delivery: lot 26-0091, lap-sealant, amount 1200 ml, packs 4; by desk",
	`lot-notice: lot 20-0417; told 2026-08-10; wrong "crazes"; stop-use 2026-08-11; by desk`,
	"work: curb at H1, height 40 mm; by hand-1",
	`work: lay-deck at bay 9; hides; override closing-too-wet, reason "edge dries outward, plug left", by foreman; by hand-1`,
	"cure: answers #35; log 2020-04-09 20:30, air-temp 17.0 C; log 2020-04-10 00:30, air-temp 14.0 C; by hand-1",
	"cure: answers #35; release press-off, dose 12.17 h, earliest 2020-04-10 09:17; by foreman",
	`remark: at bay 2; note "dog scratched the lining"; by hand-1`,
	"certificate Q-0044: line 1, bond, at bay 9, from 2026-12-01, for 24 months, full 24 months; by foreman",
	`standing: ended; paid-out; lines Q-0044 L1; from 2027-03-01; why "line paid out"; by desk`,
	"given-out: history; as-of 2023-05-02; reader holder; to holder-2; on stick; by desk",
	"upkeep: done-by holder; done at left-edge, at right-edge; resealed at P1, length 30 mm; by desk",
	"later-work: done 2022-07-15; whose other-shop; solar-mount at spot 5080 aft 520 R, count 1; by foreman",
	`transfer: sold 2025-06-12; told phone, on 2025-06-20; from-holder holder-2; to-holder holder-3; private holder-name "Runa Lindqvar"; by desk`,
	"claim C1: leak; noticed 2026-05-11; reported phone, on 2026-05-13; at spot 7050 aft 450 L; by desk",
	"verdict: answers C1; rules 1; covered-in-part at W2, line Q-0007/L1/field, share 80.0 %; by desk",
	"ruling: answers #73; as-the-verdict; told phone, on 2026-05-20; holder-says agrees; by foreman",
	`correction: answers #6; was pins at bay 10 left, moisture 8.1 %; is pins at bay 10 left, moisture 28.1 %; why "digit lost"; by foreman`,
	`correction: answers #28; not-this-coach; why "inked into the wrong file"; found "the hand saw it the next morning"; by foreman`,
	"key-change: stolen; firm 64; by foreman",
	`hand-over: to "Penny Drift Bodyworks", in "Gull Hollow"; takes Q-0007 L1 L2 L3; open-claims none; by desk`,
	`take-on: answers #86; own-look to-do; signer "Penny Drift Bodyworks", in "Gull Hollow"; by desk`,
	"take-in: from 60; head 63; count 3; by desk",
	`same-coach: ledger K3QX7M2PZA4D; head 22; goes-on-here; why "begun again under the old plate"; by desk`,
	"erased: answers #1, #17; names holder-name, holder-phone; asked; by desk",
	// places, as the specification writes them
	"remark: at spot 5750 aft 960 R; at spot 2500 aft 300 L r 60; at run 580 R 3700-7400 aft 40 wide; at run 6900 aft 1100 L-580 R 40 wide; by hand-1",
	"remark: at 5550-6450 aft 350 L-350 R; at 3700-7400 aft full width; at full length 0-200 R; at whole roof; at bay 9 left; at V2 skirt 55; by hand-1",
	"remark: at left-edge; at rafter 8 width 60; at rafter 4 left; at left wall 6000-6400 aft 0-300 down; at slide S1 0-600 aft 0-400 out; by hand-1",
	"remark: at front wall 0-400 R 0-200 down; at 120 forward-300 aft 300-900 L layer deck+core; at 120-200 forward 0-50 R; at spot 50 forward 0; by hand-1",
	"remark: at edge-member 7340-7400 aft 1000-1100 R layer frame; at rear-header 7340-7400 aft 900 L-250 R; at rafter bay 9 left; by hand-1",
	"remark: answers #60/1, #34, F1; from-paper; adopts #61; time 16:30; by hand-1, hand-2",
	"remark: time 16:30+02:00; by hand-1",
}

// Each line of the list reads and is written back. No kind is left out but the
// intake, which stands in the sheets of the demo.
func TestOneLineOfEachKind(t *testing.T) {
	read := map[string]bool{"intake": true}
	for _, line := range ofEachKind {
		h := Heading{Coach: "X", Day: "2020-04-09", Zone: "+01:00"}
		d, err := ReadLine(line, h)
		require.NoError(t, err, line)
		again, err := Line(d, h)
		require.NoError(t, err, line)
		require.Equal(t, line, again)
		read[d.Kind] = true
	}
	for _, k := range ledger.Kinds() {
		require.True(t, read[k.Name], k.Name)
	}
}

// Near misses: one wrong thing each, refused with its reason.
func TestNearMisses(t *testing.T) {
	for line, reason := range map[string]Reason{
		"check:  pins at bay 9 left, moisture 31.0 %; by hand-1":                ReasonWord,
		"check: pins at bay 9 left, moisture 31.0 %; by hand-1 ":                ReasonWord,
		"check: pins at bay 9 left, moisture 31.0 %;by hand-1":                  ReasonWord,
		"check: pins, at bay 9 left, moisture 31.0 %; by hand-1":                ReasonWord,
		"check: moisture 31.0 %, pins at bay 9 left; by hand-1":                 ReasonWord,
		"check: pins at bay 9 left, moisture 031.0 %; by hand-1":                ReasonWord,
		"check: by hand-1; pins at bay 9 left, moisture 31.0 %":                 ReasonWord,
		"check: pins at bay left, moisture 31.0 %; by hand-1":                   ReasonPlace,
		"check: pins at 6450-5550 aft full width, moisture 31.0 %; by hand-1":   ReasonPlace,
		"check: pins at bay 9 left layer roof, moisture 31.0 %; by hand-1":      ReasonPlace,
		"check: pins at bay 9 left, moisture 31.0 %, moisture 3.0 %; by hand-1": ReasonNumber,
		"work: lay-deck at bay 9, thickness 4.0 mm; by hand-1":                  ReasonWord,
		"work: lay-deck at bay 9, uses P-1 3600 g; by hand-1":                   ReasonWord,
		"work: lay-deck at bay 9; closed; by hand-1":                            ReasonWord,
		"remark: time 25:00; by hand-1":                                         ReasonTime,
		"decision: leave; until 2020-02-30; by desk":                            ReasonDay,
		"finding f1: rot; by hand-1":                                            ReasonReference,
		"frobnication: by hand-1":                                               ReasonKind,
		"claim c1: leak; by desk":                                               ReasonReference,
		"key-change: stolen; firm #64; by foreman":                              ReasonReference,
		"upkeep: done-by holder; lines Q-0007 4; done at P1; by desk":           ReasonWord,
	} {
		_, err := ReadLine(line, Heading{Coach: "X", Day: "2020-04-09", Zone: "+01:00"})
		var u *Unclear
		require.ErrorAs(t, err, &u, line)
		require.Equal(t, reason, u.Reason, "%s: %s", line, u.What)
	}
}
