package check

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report"
	"lapmark/report/english"
)

// Key is one key in one role, and the entries it signed in it.
type Key struct {
	Fingerprint string `json:"fingerprint"`
	Role        string `json:"role"`    // house, recovery or guest
	Entries     string `json:"entries"` // "1 to 64, 66, 60/1"
	Count       int    `json:"count"`
	Name        string `json:"name,omitempty"` // as its own entries say
	How         How    `json:"how"`
	TrustedAs   string `json:"trusted_as,omitempty"`
	GivenUp     int64  `json:"given_up,omitempty"` // the entry from which it is the house key no longer
}

// keys lists every key by the entries it signed.
func (a *Answer) keys(c *ledger.Coach, r *ring) {
	signed := map[Key][]ledger.No{}
	lines := map[Key]string{}
	names := map[Key]string{}
	var order []Key
	for _, e := range entriesOf(c) {
		k := Key{Fingerprint: e.Line.Key, Role: e.Role.String()}
		if signed[k] == nil {
			order = append(order, k)
			lines[k] = e.Key
		}
		signed[k] = append(signed[k], e.No)
		if name := signerName(e); name != "" {
			names[k] = name
		}
	}
	gone := givenUp(c)
	for _, k := range order {
		out := k
		out.Entries, out.Count, out.Name = runs(signed[k]), len(signed[k]), names[k]
		out.How, out.TrustedAs = r.how(lines[k])
		out.GivenUp = gone[lines[k]]
		a.Keys = append(a.Keys, out)
	}
}

// entriesOf are all entries that hold, those of branches last.
func entriesOf(c *ledger.Coach) []*ledger.Entry {
	out := slices.Clone(c.Entries)
	for _, b := range c.Branches {
		out = append(out, b.Items...)
	}
	return out
}

// signerName is the name by which the signer calls himself in an entry.
func signerName(e *ledger.Entry) string {
	shop, _ := e.Body()["shop"].(format.Object)
	name, _ := shop["name"].(string)
	return name
}

// givenUp are the keys that were the house's and are no longer, by their line,
// with the entry that replaced each.
func givenUp(c *ledger.Coach) map[string]int64 {
	out := map[string]int64{}
	all := stages(c)
	for i := 1; i < len(all); i++ {
		out[all[i-1].house] = all[i].entry
		delete(out, all[i].house)
	}
	return out
}

// KeyChange is an entry that changes who the house is, or is to be.
type KeyChange struct {
	Entry    int64  `json:"entry"`
	Kind     string `json:"kind"` // key-change, hand-over or take-on
	Reason   string `json:"reason,omitempty"`
	House    string `json:"house,omitempty"` // fingerprint of the key it names
	Recovery string `json:"recovery,omitempty"`
	Firm     *int64 `json:"firm,omitempty"` // the last entry the shop vouches for
	Says     string `json:"says"`
}

// keyChanges lists what happened to the house key. In what role these kinds
// were written is settled by the check: another role breaks the ledger.
func (a *Answer) keyChanges(r *ledger.Replay) {
	c := r.Coach
	for _, e := range c.Entries {
		k := KeyChange{Entry: e.No.N, Kind: e.Kind()}
		switch e.Kind() {
		case "key-change":
			k.Reason, k.House, k.Recovery = e.Text("reason"), fingerprint(e.Text("house")), e.Text("recovery")
			if firm, ok := headIn(e, "firm"); ok {
				k.Firm = &firm.Size
			}
			k.Says = saysKeyChange(k)
		case "hand-over":
			k.House = e.Text("key")
			k.Says = saysHandOver(r, e)
		case "take-on":
			k.House, k.Recovery = fingerprint(e.Text("house")), e.Text("recovery")
			k.Says = saysTakeOn(c, e)
		default:
			continue
		}
		a.KeyChanges = append(a.KeyChanges, k)
	}
}

// saysKeyChange is the fixed sentence of a key-change; the word of its reason
// stands where the sentence says "Planned".
func saysKeyChange(k KeyChange) string {
	n := ledger.Decimal(k.Entry)
	if k.Reason == "stolen" && k.Firm != nil {
		return report.Fill(report.FixedSays("recovery-stolen"), "n", n, "firm", ledger.Decimal(*k.Firm))
	}
	planned := report.FixedSays("recovery-planned")
	if k.Reason != "planned" {
		planned = strings.Replace(planned, "Planned.", sentence(english.Capital(ledger.Said("reason", k.Reason))), 1)
	}
	return report.Fill(planned, "n", n)
}

// saysHandOver names the house that closes and who is to answer. A line that
// nobody takes has nobody behind it.
func saysHandOver(r *ledger.Replay, e *ledger.Entry) string {
	to, _ := e.Body()["to"].(format.Object)
	name, _ := to["name"].(string)
	lines := coverSaid(e.Body()["covers"])
	out := fmt.Sprintf("Entry %s: %s closes", e.No, r.HouseNameAt(e.No.N))
	if name == "" || lines == "" {
		return out + ". Nobody takes its promises over."
	}
	return out + " and hands over to " + name + ": " + lines + ". Any other line is taken over by nobody."
}

// saysTakeOn says who answers now, and for which lines by the hand-over.
func saysTakeOn(c *ledger.Coach, e *ledger.Entry) string {
	lines := ""
	for _, no := range e.Refs("answers") {
		if from := c.Entry(no); from != nil && from.Kind() == "hand-over" {
			lines = coverSaid(from.Body()["covers"])
		}
	}
	if lines == "" {
		lines = "no line"
	}
	return report.Fill(report.FixedSays("answers"), "shop", signerName(e), "lines", lines, "day", longDay(e.Day())) +
		fmt.Sprintf(" It took the ledger on by entry %s.", e.No)
}

// coverSaid says cover refs: "Q-0007 lines 1, 2; LF-112".
func coverSaid(v format.Value) string {
	var out []string
	for _, o := range ledger.Objects(v) {
		cert, _ := o["cert"].(string)
		if numbers := ledger.Ints(o["lines"]); len(numbers) > 0 {
			var nos []ledger.No
			for _, n := range numbers {
				nos = append(nos, ledger.No{N: n})
			}
			cert += " " + english.Plural(len(nos), "line", "lines") + " " + runs(nos)
		}
		out = append(out, cert)
	}
	return strings.Join(out, "; ")
}

// headIn reads a head in a member of a body.
func headIn(e *ledger.Entry, name string) (h format.Head, ok bool) {
	o, _ := e.Body()[name].(format.Object)
	size, sized := o["size"].(int64)
	text, _ := o["root"].(string)
	root, err := format.DecodeBase64(text)
	if !sized || err != nil || len(root) != len(h.Root) {
		return h, false
	}
	h.Size = size
	copy(h.Root[:], root)
	return h, true
}
