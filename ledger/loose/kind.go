package loose

import (
	"slices"
	"strings"

	"lapmark/ledger"
)

// kindOf is the kind of note that a word of a list makes.
var kindOf = map[string]string{"defects": "finding", "checks": "check", "operations": "work", "choice": "decision"}

var listOf = map[string]string{"work": "operations", "finding": "defects", "decision": "choice"}

// decide finds the kind of the note: by its kind word, else by the words found.
func (n *note) decide() (string, error) {
	n.kindAt = -1
	first := 0
	for first < len(n.t) && (n.passes(first) || n.t[first].kind == aNewline) {
		first++
	}
	if kind, ok := n.sense(first, kindWords); ok {
		n.t[first].used = true
		n.kindAt = first
		if kind == "verdict" {
			return "", unclear(Kind, "a verdict is made by the tool: ask")
		}
		return kind, nil
	}
	switch {
	case n.means(first, labels, "sold"):
		return "transfer", nil
	case n.standingAt() >= 0 && n.certificateIn():
		return "standing", nil
	}
	kinds, weak := n.kindsFound()
	if len(kinds) == 0 {
		kinds = weak
	}
	switch {
	case len(kinds) == 1 && kinds[0] == "work" && n.upkept():
		if n.c.pick(2) == 1 {
			return "upkeep", nil
		}
		return "work", nil
	case len(kinds) == 1:
		return kinds[0], nil
	case len(kinds) > 1:
		return n.oneKind(kinds)
	}
	return n.withoutWord()
}

// upkept says whether the only word of work is one of upkeep too: sealed.
func (n *note) upkept() bool {
	words, both := 0, 0
	for i := range n.t {
		if _, ok := n.sense(i, "operations"); ok {
			words++
			if _, also := n.sense(i, "did"); also {
				both++
			}
		}
	}
	return words == 1 && both == 1
}

func (n *note) standingAt() int {
	for i := range n.t {
		if _, ok := n.sense(i, "standing"); ok {
			return i
		}
	}
	return -1
}

func (n *note) certificateIn() bool {
	return slices.ContainsFunc(n.t, func(t token) bool {
		e, ok := n.coach.entry(t.s)
		return ok && t.kind == aTag && e.Kind == "certificate"
	})
}

// kindsFound are the kinds that words of the line make; weak are those of words
// that are quantities too and stand beside a number.
func (n *note) kindsFound() (kinds, weak []string) {
	for i := range n.t {
		for list, kind := range kindOf {
			if _, ok := n.sense(i, list); !ok {
				continue
			}
			to := &kinds
			if _, also := n.sense(i, quantities); also && n.holds(i, ByNumber) {
				to = &weak
			}
			if !slices.Contains(*to, kind) {
				*to = append(*to, kind)
			}
		}
	}
	slices.Sort(kinds)
	slices.Sort(weak)
	return kinds, weak
}

// oneKind is the kind that takes the words of the others as parts: checks behind
// work, and what is said to be checked.
func (n *note) oneKind(kinds []string) (string, error) {
	if len(kinds) == 2 && kinds[0] == "check" {
		checked := n.find(labels, "checked") >= 0
		behind := n.lastOf(listOf[kinds[1]]) < n.firstOf("checks")
		if (kinds[1] == "work" || kinds[1] == "finding") && (checked || behind) {
			return kinds[1], nil
		}
	}
	return "", unclear(Kind, "%s in one line: write a line for each", strings.Join(kinds, " and "))
}

func (n *note) firstOf(list string) int {
	for i := range n.t {
		if _, ok := n.sense(i, list); ok {
			return i
		}
	}
	return len(n.t)
}

func (n *note) lastOf(list string) int {
	for i := len(n.t) - 1; i >= 0; i-- {
		if _, ok := n.sense(i, list); ok {
			return i
		}
	}
	return -1
}

// withoutWord finds the kind of a note that has no word of a kind.
func (n *note) withoutWord() (string, error) {
	waits := n.refersTo("work", "cure")
	_, stage := n.sense(n.firstOf("stages"), "stages")
	times := slices.ContainsFunc(n.t, func(t token) bool { return t.kind == aTime })
	numbers := slices.ContainsFunc(n.t, func(t token) bool { return t.kind == aNumber })
	switch {
	case waits && stage, waits && times && numbers:
		return "cure", nil
	case n.percentAlone():
		n.pins = true
		return "check", nil
	case n.filesAlone():
		return "remark", nil
	case n.find("trouble", "leak") >= 0:
		if n.c.pick(2) == 0 {
			return "claim", nil
		}
		n.plainLeak = true
		return "remark", nil
	}
	for i, t := range n.t {
		if n.means(i, grammar, "closed over") {
			return "", unclear(Kind, "%s: with which operation", t.raw)
		}
		if cause, ok := n.sense(i, "causes"); ok {
			return "", unclear(Kind, "%s is a cause; what is found", cause)
		}
		if t.is("phone") && n.looksLikePhone(i+1) || t.is("name") {
			return "", unclear(Private, "%s: of whom", t.raw)
		}
	}
	if word, ok := n.sense(0, privateList); ok && slices.Contains(ofSomebody, word) {
		return "", unclear(Private, "%s: of whom", n.t[0].raw)
	}
	for i, t := range n.t {
		if t.slip != nil {
			return "", t.slip
		}
		if t.kind == aTag && !n.coach.knows(t.s) {
			return "", unclear(Reference, "nothing is called %s", t.s)
		}
		if t.kind == aNumber {
			return "", unclear(Kind, "%s of what", n.t[i].raw)
		}
	}
	return "", unclear(Kind, "no word of it is known")
}

// ofSomebody are private words that a line may begin with in no other meaning.
var ofSomebody = []string{"address", "plate", "complaint", "valuables", "price", "cost", "signature"}

// refersTo says whether the note names an entry of one of the kinds.
func (n *note) refersTo(kinds ...string) bool {
	return slices.ContainsFunc(n.t, func(t token) bool {
		e, ok := n.coach.entry(t.s)
		return ok && (t.kind == aTag || t.kind == aRef) && slices.Contains(kinds, e.Kind)
	})
}

// percentAlone says whether there are per cents, a place and nothing else.
func (n *note) percentAlone() bool {
	percent, place := false, false
	for i, t := range n.t {
		switch {
		case t.kind == aNumber && t.unit != "" && unitTable[t.unit].dim == dimPercent, n.means(i, quantities, "moisture"):
			percent = true
		case t.kind == aNumber && t.unit != "" && unitTable[t.unit].dim != dimLength:
			return false
		case t.kind == aNumber, t.kind == aTag && n.coach.Names[t.s] != "", t.kind == aWord && n.ofPlace(i) && !n.passes(i):
			place = true
		case t.kind == aWord && !n.passes(i), t.kind == aRef, t.kind == aDay, t.kind == aFile:
			return false
		}
	}
	return percent && place
}

// ofPlace says whether a word belongs to places.
func (n *note) ofPlace(i int) bool {
	if slices.Contains([]string{"bay", "spot", "aft", "forward", "by"}, n.t[i].s) || n.means(i, quantities, "moisture") {
		return true
	}
	for _, list := range []string{"elements", "layers", "side", "wall"} {
		if _, ok := n.senseWith(i, list, BehindPlace); ok {
			return true
		}
	}
	return n.means(i, grammar, "full width") || n.means(i, grammar, "whole roof")
}

func (n *note) filesAlone() bool {
	files := false
	for i, t := range n.t {
		files = files || t.kind == aFile
		if t.kind == aNumber && !n.numbersPlace(i) && !n.inPlace(i) || t.kind == aText || t.kind == aWord && !n.passes(i) && !n.ofPlace(i) && !n.means(i, labels, "photo") {
			return false
		}
	}
	return files
}

// quantitiesOf is what a word of a list carries.
func quantitiesOf(list, name string) ledger.Word {
	w, _ := ledger.WordIn(list, name)
	return w
}
