package loose

import (
	"strings"

	"lapmark/ledger/sheet"
)

// instead is, for each reason a line is unclear, how it is said otherwise, with
// an example that reads. Of several readings one is taken, and nothing is said.
var instead = map[sheet.Reason]struct{ say, example string }{
	Kind:      {"Name what was found, checked or done; lapmark words has the words. Or keep your own in quotes.", `remark "back seam recaulked"`},
	Word:      {"Leave that word out, say another (lapmark words finds them), or put it behind note in quotes.", `soft deck bay 6 middle note "no mark from below"`},
	Number:    {"Say what each number is and its unit; give every place its own line.", "tape only edge left edge length 686 mm"},
	UnitOf:    {"Put the unit behind the number.", "pins bay 9 left 31.0 %"},
	Place:     {"Say where by bay, by edge or in millimetres; left and right as you face forward.", "soft deck 6300-7100 aft 500-900 L"},
	DayOf:     {"Write the day alone on a line above the note, year first.", "2026-11-23"},
	Time:      {"Write the time from 00:00 to 23:59, the temperature behind it.", "cure D1 log 16:30 17 C"},
	Who:       {"Say who by a mark of this shop; lapmark words --mark keeps a new one.", "pins bay 9 left 31.0 by hand-1"},
	Reference: {"Name it by its tag or number, as lapmark show prints it.", "F1 repair now"},
	Private:   {"Leave names and telephone numbers out: intake, add transfer and add claim ask for them and keep them apart.", "soft deck bay 6 middle"},
}

// Instead is how a line is said that is unclear for why: a sentence and an
// example; none where a reading is to be taken.
func Instead(why string) []string {
	reason, _, _ := strings.Cut(why, ":")
	how, ok := instead[sheet.Reason(reason)]
	if !ok {
		return nil
	}
	return []string{how.say, "As in: " + how.example}
}
