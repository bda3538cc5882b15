package report

import (
	"strings"

	"lapmark/report/english"
)

// promiseWords say what a line promises: its name, and what it says before the
// places.
var promiseWords = map[string]struct{ name, says string }{
	"watertight-membrane": {"Membrane and welds", "stay watertight"},
	"watertight-fitting":  {"Fittings", "stay watertight"},
	"watertight-edge":     {"Edges", "stay watertight"},
	"watertight-tie-in":   {"Tie-in", "stays watertight"},
	"bond":                {"Deck", "stays bonded"},
	"sound-frame":         {"Frame", "no rot, no break"},
	"no-standing-water":   {"Running off", "no water deeper than {depth} stands {time} after rain"},
	"materials":           {"Materials", "the maker answers for them as well"},
	"resulting-damage":    {"What follows", "deck, core, inner ply and lining of ours that such water spoils are made good too"},
}

// promiseSays is the name and the words of a promise. A word this table does
// not know is said as it stands.
func promiseSays(promise string, t Terms) (name, says string) {
	w, known := promiseWords[promise]
	if !known {
		return english.Capital(promise), "as the word says"
	}
	depth, _ := t.LimitSays("standing-water-look")
	f := strings.Fields(depth)
	return w.name, Fill(w.says, "depth", strings.Join(f[:2], " "), "time", strings.Join(f[2:], " "))
}

// conditionWords say the conditions that the claim steps, the upkeep and the
// sale do not say already. Common practice, no source.
var conditionWords = map[string]string{
	"no-new-holes":  "New openings and screws take their place out of this warranty; the last page says how far, and what to send us.",
	"load-limit":    "Step on boards, and put no more than 100 kg on one square metre.",
	"cleaner-list":  "Clean the roof with water and mild soap; no solvent, no bitumen.",
	"use-kind":      "It is given for the use of the coach that was named to us; tell us when that changes.",
	"let-open-up":   "Let us open up where that is needed to find the cause.",
	"first-look":    "Let us look before anything but making tight is done.",
	"bring-to-shop": "Bring the coach to us, or to a shop we name together.",
}

// stepConditions are the conditions that other sentences of the paper say.
var stepConditions = map[string]bool{
	"yearly-upkeep": true, "report-within": true, "first-look": true, "keep-from-worsening": true,
	"tell-of-sale": true, "transfers-at-most": true, "bring-to-shop": true,
}

// shopSideWords are the causes on the shop's own side, as they stand in a list.
var shopSideWords = map[string]string{
	"bad-weld":         "a bad weld",
	"poor-preparation": "poor preparation",
	"wrong-fastening":  "wrong fastening",
	"wrong-glue":       "the wrong glue",
	"starved-glue":     "too little glue",
	"closed-wet":       "closing over what was wet",
	"cut-short":        "a part cut short",
	"material-fault":   "a fault of the material",
}

// said is the word's text from a table, or the word itself in plain letters.
func said(table map[string]string, word string) string {
	if says, ok := table[word]; ok {
		return says
	}
	return strings.ReplaceAll(word, "-", " ")
}
