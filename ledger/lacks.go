package ledger

import (
	"slices"
	"strings"

	"lapmark/ledger/format"
)

// photosOfArrival is how many photos an intake has (all four sides), unless it
// says why there is none; common practice, no source.
const photosOfArrival = 4

// Lacks says what a draft still needs before it can be inked, each in words
// that can be typed; empty where nothing is missing. What the tool fills is
// not missed.
func (d Draft) Lacks() []string {
	kind, ok := KindNamed(d.Kind)
	if !ok {
		return []string{d.Kind + " is newer than this tool"}
	}
	var out []string
	for _, f := range kind.AllFields() {
		if f.Need == Must && !d.has(f) {
			out = append(out, f.words())
		}
	}
	for _, p := range kind.Privates {
		if v, said := d.Private[p.Name]; said && p.Money && !isMoney(v) {
			out = append(out, p.Name+` as "3940.00 EUR"`)
		}
	}
	if kind.Lacks != nil {
		out = append(out, kind.Lacks(d)...)
	}
	out = append(out, d.shortReasons()...)
	return append(out, d.tooLong()...)
}

func (d Draft) has(f Field) bool {
	if f.Form == FormFree {
		_, ok := d.Private[f.Name]
		return ok
	}
	_, ok := d.Body[f.Name]
	return ok
}

// words names a field as it is typed.
func (f Field) words() string {
	switch {
	case f.Says != "":
		return f.Says
	case f.Label != "":
		return f.Label
	case f.Form == FormWord:
		return oneOf(f.List)
	}
	return strings.ReplaceAll(f.Name, "-", " ")
}

// oneOf asks for a word of a list: all of them, where they fit into a sentence.
func oneOf(list string) string {
	words := WordsOf(list)
	if len(words) > 8 {
		return "a word of " + list
	}
	names := make([]string, len(words))
	for i, w := range words {
		names[i] = w.Name
	}
	return list + ", one of " + strings.Join(names, ", ")
}

// shortReason is how long the reason of an override must be at least.
const shortReason = 15

func (d Draft) shortReasons() []string {
	var out []string
	list, _ := d.Body["overrides"].(format.Array)
	for _, v := range list {
		o, _ := v.(format.Object)
		if reason, _ := o["reason"].(string); len([]rune(reason)) < shortReason {
			out = append(out, "a reason of 15 characters or more")
		}
	}
	return out
}

// isMoney says whether s is a decimal with two places, a space and three
// capitals (ISO 4217).
func isMoney(s string) bool {
	number, code, ok := strings.Cut(s, " ")
	whole, cents, point := strings.Cut(number, ".")
	isCode := len(code) == 3 && strings.Trim(code, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
	digits := strings.Trim(whole+cents, "0123456789") == "" && whole != "" && len(cents) == 2
	return ok && point && isCode && digits && (whole == "0" || whole[0] != '0')
}

func (d Draft) count(member string) int {
	list, _ := d.Body[member].(format.Array)
	return len(list)
}

func (d Draft) said(text string) bool {
	_, ok := d.Private[text]
	return ok
}

func (d Draft) photosOr(n int, what string) []string {
	if d.count("photos") >= n || d.said("no-photo") {
		return nil
	}
	return []string{what + ` or no-photo "why"`}
}

func intakeLacks(d Draft) []string {
	var out []string
	_, vin := d.Body["vin"]
	_, serial := d.Body["serial"]
	if vin == serial {
		out = append(out, "either vin or serial")
	}
	return append(out, d.photosOr(photosOfArrival, "four photos")...)
}

func measureLacks(d Draft) []string {
	for _, name := range []string{"deck", "rafters-every", "rafters-at", "build", "openings", "crown", "parked"} {
		if _, ok := d.Body[name]; ok {
			return nil
		}
	}
	return []string{"something that was measured"}
}

func findingLacks(d Draft) []string {
	out := d.photosOr(1, "a photo")
	if _, ok := d.Body["between"]; d.Text("defect") == "delamination" && !ok {
		out = append(out, "between which layers")
	}
	return out
}

func decisionLacks(d Draft) []string {
	var out []string
	if _, ok := d.Body["until"]; d.Text("choice") == "repair-by" && !ok {
		out = append(out, "until which day")
	}
	if d.Text("choice") != "no-answer" && !d.said("warned") {
		out = append(out, "warned, in quotes")
	}
	if _, ok := d.Body["places"]; !ok && d.count("answers") == 0 {
		out = append(out, "at which place, or the findings it answers")
	}
	return out
}

func workLacks(d Draft) []string {
	if d.Body["hides"] != true || d.count("photos") > 0 || d.overrides("closing-no-photo") {
		return nil
	}
	return []string{"a photo of what is hidden"}
}

func (d Draft) overrides(rule string) bool {
	list, _ := d.Body["overrides"].(format.Array)
	return slices.ContainsFunc(list, func(v format.Value) bool {
		o, _ := v.(format.Object)
		return o["rule"] == rule
	})
}

func cureLacks(d Draft) []string {
	_, start := d.Body["start"]
	if !start && d.count("log") == 0 && d.count("releases") == 0 {
		return []string{"a start, a log or a release"}
	}
	return nil
}

func remarkLacks(d Draft) []string {
	if d.said("note") || d.count("photos") > 0 || d.count("adopts") > 0 {
		return nil
	}
	return []string{"a note, a photo or the entries it adopts"}
}

func correctionLacks(d Draft) []string {
	_, wrongCoach := d.Body["not-this-coach"]
	if (d.count("changes") > 0) == wrongCoach {
		return []string{"either was and is, or not-this-coach"}
	}
	if d.count("answers") != 1 {
		return []string{"exactly the one entry it corrects"}
	}
	return nil
}

func standingLacks(d Draft) []string {
	var out []string
	to := d.Text("to")
	_, ground := d.Body["ground"]
	_, told := d.Body["told"]
	if to == "ended" && !ground {
		out = append(out, oneOf("ended"))
	}
	if (to == "ended" || to == "withdrawn") && !told {
		out = append(out, "told how, on which day")
	}
	if to == "taken-back" && d.count("places") == 0 {
		out = append(out, "at which place")
	}
	return out
}

func rulingLacks(d Draft) []string {
	var out []string
	if d.Text("ruling") != "as-the-verdict" && !d.said("why") {
		out = append(out, "why, in quotes")
	}
	if _, ok := d.Body["second"]; d.Text("ruling") == "to-holders-loss" && !ok {
		out = append(out, "a second mark")
	}
	return out
}

func keyChangeLacks(d Draft) []string {
	if _, ok := d.Body["firm"]; d.Text("reason") == "stolen" && !ok {
		return []string{"firm, the last entry the shop vouches for"}
	}
	return nil
}

func handOverLacks(d Draft) []string {
	_, to := d.Body["to"]
	if to != (d.count("covers") > 0) {
		return []string{"both to whom and what is taken, or neither"}
	}
	return nil
}

func takeOnLacks(d Draft) []string {
	if d.count("answers") != 1 {
		return []string{"exactly the one hand-over it answers"}
	}
	return nil
}

func unknownHand() format.Value { return format.Object{"whose": "unknown"} }
