package loose

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// plainKind reads a kind by its fields alone: each by its label, or by the list
// of its words.
func (n *note) plainKind() error {
	if err := n.places(); err != nil {
		return err
	}
	for _, f := range n.kind.AllFields() {
		if f.Name == "happened" || f.Name == "by" {
			continue
		}
		if err := n.field(f); err != nil {
			return err
		}
	}
	n.dropHolderWord()
	return nil
}

// dropHolderWord passes over the holder where it is plain who is meant.
func (n *note) dropHolderWord() {
	if n.kind.Name != "ruling" {
		return
	}
	for i := range n.t {
		if n.means(i, labels, "holder") || n.means(i, "reader", "holder") {
			n.t[i].used = true
		}
	}
}

// yearSaid are the members whose day names its year.
var yearSaid = []string{"until", "stop-use", "use-by"}

func (n *note) field(f ledger.Field) error {
	at := -1
	if f.Label != "" {
		at = n.find(labels, f.Label)
	}
	switch f.Form {
	case ledger.FormWord:
		n.listWord(f.Name, f.List)
	case ledger.FormPlace:
		n.allPlaces() // those of a kind without places are not taken
	case ledger.FormCoverRef:
		return n.coverRefs(f.Name)
	case ledger.FormShape:
		if f.Shape == "said" {
			return n.told(f.Name, f.Label)
		}
		return n.signer(f, at)
	case ledger.FormTag:
		n.tagField(f, at)
	case ledger.FormLedger:
		n.ledgerField(f)
	}
	if at < 0 {
		return nil
	}
	switch f.Form {
	case ledger.FormDay:
		d, err := n.dayBehind(at, slices.Contains(yearSaid, f.Name))
		if err != nil || d == "" {
			return err
		}
		n.d.Body[f.Name] = d
		n.t[at].used = true
	case ledger.FormMark:
		n.markField(f, at)
	case ledger.FormHead:
		if size, ok := n.bareNumber(n.behind(at)); ok {
			n.d.Body[f.Name] = format.Object{"size": size}
			n.t[at].used, n.t[n.behind(at)].used = true, true
		}
	case ledger.FormInteger:
		if v, ok := n.bareNumber(n.behind(at)); ok {
			n.d.Body[f.Name] = v
			n.t[at].used, n.t[n.behind(at)].used = true, true
		}
	case ledger.FormRef:
		if j := n.behind(at); f.Empty != "" && j < len(n.t) && n.t[j].is(f.Empty) {
			n.d.Body[f.Name] = format.Array{}
			n.t[at].used, n.t[j].used = true, true
		}
	case ledger.FormToken:
		n.privateNames(f, at)
	}
	return nil
}

// privateNames reads the names of private values that are gone.
func (n *note) privateNames(f ledger.Field, at int) {
	n.t[at].used = true
	for i := at + 1; i < len(n.t); i++ {
		if name, ok := n.sense(i, privateList); ok && !n.t[i].used {
			n.append(f.Name, name)
			n.t[i].used = true
		}
	}
}

func (n *note) tagField(f ledger.Field, at int) {
	i := at + 1
	if at < 0 {
		i = slices.IndexFunc(n.t, func(t token) bool {
			_, lot := n.coach.Lots[t.s]
			return lot && t.kind == aTag && !t.used && f.Name == "lot"
		})
	}
	if i < 0 || i >= len(n.t) || n.t[i].kind != aTag || n.t[i].used {
		return
	}
	n.d.Body[f.Name] = n.t[i].s
	n.t[i].used = true
	if at >= 0 {
		n.t[at].used = true
	}
}

func (n *note) markField(f ledger.Field, at int) {
	j := n.behind(at)
	if mark, next, ok := n.holderAt(j); ok {
		n.d.Body[f.Name] = mark
		n.use(j, next)
		n.t[at].used = true
		return
	}
	if mark, next := n.markAt(j); mark != "" {
		n.d.Body[f.Name] = mark
		n.use(j, next)
		n.t[at].used = true
	}
}

var ledgerID = pattern(`^[A-Z2-7]{12}$`)

func (n *note) ledgerField(f ledger.Field) {
	for i := range n.t {
		if up := strings.ToUpper(n.t[i].raw); !n.t[i].used && ledgerID().MatchString(up) && n.d.Body[f.Name] == nil {
			n.d.Body[f.Name] = up
			n.t[i].used = true
			n.labelBefore(i, f.Label)
		}
	}
}

// signer reads a shop: to "Penny Drift Bodyworks" in "Gull Hollow".
func (n *note) signer(f ledger.Field, at int) error {
	if at < 0 || f.Shape != "signer" {
		return nil
	}
	var said []int
	for i := at + 1; i < len(n.t) && len(said) < 2; i++ {
		if n.t[i].kind == aText && !n.t[i].used {
			said = append(said, i)
		}
	}
	if len(said) < 2 {
		return unclear(Word, "%s: the name and the place of the shop, in quotes", f.Label)
	}
	n.d.Body[f.Name] = format.Object{"name": n.t[said[0]].s, "place": n.t[said[1]].s}
	n.t[at].used, n.t[said[0]].used, n.t[said[1]].used = true, true, true
	return nil
}

// coverRefs reads certificates and their lines: Q-0007 L4 L5.
func (n *note) coverRefs(member string) error {
	for i := 0; i < len(n.t); i++ {
		e, ok := n.coach.entry(n.t[i].s)
		if !ok || n.t[i].used || n.t[i].kind != aTag || e.Kind != "certificate" {
			continue
		}
		o := format.Object{"cert": n.t[i].s}
		next := i + 1
		var lines format.Array
		for {
			at := n.skipWords(n.comma(next), "and", "line", "lines")
			no, ok := n.lineNumber(at)
			if !ok {
				break
			}
			lines = append(lines, no)
			next = at + 1
		}
		if lines != nil {
			o["lines"] = lines
		}
		n.use(i, next)
		n.labelBefore(i, "lines")
		n.append(member, o)
	}
	return nil
}

// lineNumber reads L4.
func (n *note) lineNumber(i int) (int64, bool) {
	if i >= len(n.t) || n.t[i].used || n.t[i].kind != aTag || n.t[i].s[0] != 'L' {
		return 0, false
	}
	no := int64(0)
	for _, r := range n.t[i].s[1:] {
		if r < '0' || r > '9' || no > 1000 {
			return 0, false
		}
		no = no*10 + int64(r-'0')
	}
	return no, no > 0 && sheet.IsTag(n.t[i].s)
}
