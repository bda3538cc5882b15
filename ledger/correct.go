package ledger

import (
	"slices"
	"strings"

	"lapmark/ledger/format"
)

// correct applies corrections in the order of the chain. A guest corrects his
// own entries only; the rest has no effect.
func (r *Replay) correct() {
	for _, a := range r.Acts {
		if a.Kind != "correction" || a.StruckBy != (No{}) || a.Body["not-this-coach"] == true {
			continue
		}
		for _, b := range r.earlier(a, "answers") {
			if r.mayCorrect(a, b) {
				b.change(a)
			}
		}
	}
}

// MaxCorrections is how many changes asked of one entry are followed; no shop
// needs them, and a hostile ledger could ask for any number.
const MaxCorrections = 200

// barred are the kinds that are not corrected: a new one is written.
var barred = []string{
	"certificate", "standing", "verdict", "ruling", "key-change", "hand-over", "take-on", "take-in", "given-out",
	"erased",
}

// Barred says whether entries of a kind are never corrected.
func Barred(kind string) bool { return slices.Contains(barred, kind) }

// mayCorrect says whether one act corrects another: the house its own, a guest
// his own. What the house took as its own a guest changes no more, unless the
// house takes his correction too.
func (r *Replay) mayCorrect(a, b *Act) bool {
	house := a.House && a.Counts && b.House
	guest := a.Entry.Role == Guest && b.Entry.Role == Guest && a.Signer == b.Signer
	taken := b.Adopted != (No{}) && b.Adopted.N < a.No.N && !a.Counts && a.Signer != r.as
	wrongCoach := a.Body["not-this-coach"] == true
	return (house || guest && !taken) && !Barred(b.Kind) && (b.Kind != "intake" || !wrongCoach)
}

// change makes the changes of one correction. A correction beyond the limit is
// left out whole.
func (a *Act) change(by *Act) {
	list, _ := by.Body["changes"].(format.Array)
	if a.Asked+len(list) > MaxCorrections {
		return
	}
	if a.Asked == 0 && len(list) > 0 {
		a.Body, _ = format.Clone(a.Body).(format.Object) // the signed body stays as it is
	}
	a.Asked += len(list)
	for _, one := range list {
		o, _ := one.(format.Object)
		c := Correction{By: by.No, Old: o["old"], New: o["new"]}
		c.At, _ = o["at"].(string)
		if applyChange(a.Body, c) {
			a.Corrected = append(a.Corrected, c)
		}
	}
}

// Mended is an act as a correction would leave it that is not inked yet.
func (a *Act) Mended(correction *Act) *Act {
	mended := *a
	mended.Corrected = nil
	mended.Body, _ = format.Clone(a.Body).(format.Object) // the act itself stays as it counts
	mended.change(correction)
	return &mended
}

// applyChange changes one whole part of a body: a member, or one element of a
// list. The old value must be what stands there.
func applyChange(body format.Object, c Correction) bool {
	name, index, inList := strings.Cut(strings.TrimPrefix(c.At, "/"), "/")
	if !inList {
		if !format.Same(body[name], c.Old) {
			return false
		}
		if c.New == nil {
			delete(body, name)
		} else {
			body[name] = c.New
		}
		return true
	}
	list, _ := body[name].(format.Array)
	if index == "-" {
		if c.Old != nil || c.New == nil {
			return false
		}
		body[name] = append(slices.Clone(list), c.New)
		return true
	}
	i := -1
	if n, ok := listIndex(index); ok && n < int64(len(list)) && format.Same(list[n], c.Old) {
		i = int(n)
	} else if c.Old != nil {
		i = slices.IndexFunc(list, func(v format.Value) bool { return format.Same(v, c.Old) })
	}
	if i < 0 {
		return false
	}
	list = slices.Clone(list)
	if c.New == nil {
		list = slices.Delete(list, i, i+1)
	} else {
		list[i] = c.New
	}
	body[name] = list
	return true
}

func listIndex(s string) (int64, bool) {
	if s == "0" {
		return 0, true
	}
	return natural(s)
}
