package loose

import (
	"slices"
	"strings"
	"unicode"

	"lapmark/ledger"
)

// privateWords make what follows them private.
var privateWords = []string{
	"name", "phone", "mail", "address", "plate", "complaint", "valuables", "price", "hours", "cost", "signature",
}

// privateKinds are the kinds in which it is plain whose they are.
var privateKinds = []string{"intake", "transfer", "claim", "decision", "ruling", "given-out", "certificate"}

const privateList = "private"

func (l *lexicon) private() {
	for _, w := range privateWords {
		l.add(w, sense{list: privateList, name: w})
	}
	for _, k := range ledger.Kinds() {
		for _, p := range k.Privates {
			l.add(p.Name, sense{list: privateList, name: p.Name})
		}
	}
}

// privateField is the private field of the kind that a word means.
func (n *note) privateField(word string) (ledger.Private, bool) {
	if p, ok := n.kind.PrivateNamed(word); ok {
		return p, ok
	}
	for _, p := range n.kind.Privates {
		if _, person, cut := strings.Cut(p.Name, "-"); cut && person == word && slices.Contains([]string{"name", "phone", "mail", "address"}, word) {
			return p, true
		}
	}
	return ledger.Private{}, false
}

// privates takes the private values: name Runa Lindqvar, private plate "…".
func (n *note) privates() error {
	for i := range n.t {
		word, ok := n.sense(i, privateList)
		if !ok || n.t[i].used {
			continue
		}
		marked := n.means(n.before(i), labels, "private")
		p, known := n.privateField(word)
		if !known || !marked && !slices.Contains(privateKinds, n.kind.Name) {
			if marked || n.looksLikePhone(i+1) && word == "phone" {
				return unclear(Private, "%s: of whom", n.t[i].raw)
			}
			continue
		}
		value, to := n.privateValue(i, word)
		if value == "" {
			continue
		}
		if p.Money {
			var err error
			if value, err = money(value); err != nil {
				return err
			}
		}
		if n.d.Private[p.Name] != "" {
			return unclear(Private, "%s is said twice", p.Name)
		}
		n.d.Private[p.Name] = value
		n.use(i, to)
		if marked {
			n.t[n.before(i)].used = true
		}
	}
	return nil
}

// privateValue is what follows a private word, and the token behind it.
func (n *note) privateValue(i int, word string) (string, int) {
	at := i + 1
	for at < len(n.t) && (n.t[at].kind == aStop && n.t[at].s == ":" || n.t[at].is("is")) {
		at++
	}
	if at >= len(n.t) {
		return "", i
	}
	if n.t[at].kind == aText {
		return n.t[at].s, at + 1
	}
	end := at
	switch word {
	case "phone", "holder-phone", "claimant-phone":
		if !n.looksLikePhone(at) {
			return "", i
		}
		for end < len(n.t) && (n.t[end].kind == aNumber && n.t[end].unit == "" || n.t[end].kind == aSign || n.t[end].s == "(" || n.t[end].s == ")") {
			end++
		}
	case "hours", "price", "cost", "agreed-price", "work-price", "shop-share", "holder-share":
		if n.t[at].kind != aNumber {
			return "", i
		}
		end = at + 1
		if end < len(n.t) && n.t[end].kind == aWord && len(n.t[end].s) == 3 && len(n.t[end].senses) == 0 {
			end++
		}
	case "name", "holder-name", "claimant-name", "to-name":
		for end < len(n.t) && n.t[end].kind == aWord && (isCapital(n.t[end].raw) || len(n.t[end].senses) == 0 && !n.t[end].filler) {
			end++
		}
	default:
		for end < len(n.t) && n.t[end].kind != aNewline && (n.t[end].kind != aStop || strings.Contains(".:", n.t[end].s) || word == "address" && n.goesOn(end)) && !n.opensPrivate(end) {
			end++
		}
	}
	if end == at {
		return "", i
	}
	return strings.TrimSpace(n.rawFrom(at, end)), end
}

// goesOn says whether an address goes on behind the comma at token i: with a name.
func (n *note) goesOn(i int) bool {
	return n.t[i].s == "," && i+1 < len(n.t) && n.t[i+1].kind == aWord && isCapital(n.t[i+1].raw) && len(n.t[i+1].senses) == 0
}

func (n *note) opensPrivate(i int) bool {
	_, ok := n.sense(i, privateList)
	return ok
}

// rawFrom is the line as typed from one token to another.
func (n *note) rawFrom(from, to int) string {
	end := len(n.line)
	if to < len(n.t) {
		end = n.t[to].from
	}
	if from >= len(n.t) || n.t[from].from > end {
		return ""
	}
	return strings.TrimRight(n.line[n.t[from].from:end], " \n,;")
}

func isCapital(s string) bool {
	for _, r := range s {
		return unicode.IsUpper(r)
	}
	return false
}

// looksLikePhone says whether a number to ring begins at token i.
func (n *note) looksLikePhone(i int) bool {
	figures := 0
	lead := ""
	for j := i; j < len(n.t); j++ {
		switch t := n.t[j]; {
		case t.kind == aNumber && t.unit == "" && t.whole:
			figures += len(t.raw)
			if lead == "" {
				lead = t.raw
			}
		case t.kind == aSign, t.s == "(", t.s == ")":
		default:
			return figures >= 6 && (figures >= 7 || lead[0] == '0')
		}
	}
	return figures >= 6 && (figures >= 7 || lead[0] == '0')
}

var moneyOf = pattern(`^(\d{1,9}|\d{1,3}(?:,\d{3})+)(?:[.,](\d{2}))?\s*([A-Za-z]{3})$`)

// money writes an amount with two places and its currency.
func money(typed string) (string, error) {
	m := moneyOf().FindStringSubmatch(typed)
	if m == nil {
		return "", unclear(Private, "%s: write it as 3940.00 EUR", typed)
	}
	cents := m[2]
	if cents == "" {
		cents = "00"
	}
	return strings.ReplaceAll(m[1], ",", "") + "." + cents + " " + strings.ToUpper(m[3]), nil
}

var (
	titled    = pattern(`\b(?i:mr|mrs|ms|miss|dr)\b\.? +\p{L}`)
	mailed    = pattern(`[\p{L}\d]@[\p{L}\d]`)
	ringable  = pattern(`\+?\d[\d /()-]*\d`)
	twoNames  = pattern(`\p{Lu}[\p{L}'-]+`)
	placeable = pattern(`^([1-9]\d*|0\d?)([-/]([1-9]\d*|0\d?))+$`) // a range or a day: no long number begins with 0
)

// lookAlike refuses a text that looks as if it named somebody.
func (n *note) lookAlike(text string) error {
	var why string
	switch {
	case titled().MatchString(text), n.twoCapitals(text):
		why = "a name"
	case mailed().MatchString(text):
		why = "an address"
	}
	for _, m := range ringable().FindAllString(text, -1) {
		if figures := countFigures(m); figures >= 7 && !placeable().MatchString(m) {
			if why == "a name" {
				why = "a name and a phone number"
				break
			}
			why = "a phone number"
		}
	}
	if why == "" {
		return nil
	}
	return unclear(Private, "%q looks like %s: write private NAME %q, or leave it out", clip(text), why, "…")
}

func countFigures(s string) int {
	n := 0
	for _, r := range s {
		if r >= '0' && r <= '9' {
			n++
		}
	}
	return n
}

// twoCapitals finds two capitalised words in a row that are no words of the
// trade, nor names of this shop's lots and makers.
func (n *note) twoCapitals(text string) bool {
	found := twoNames().FindAllStringIndex(text, -1)
	for k := 0; k+1 < len(found); k++ {
		a, b := text[found[k][0]:found[k][1]], text[found[k+1][0]:found[k+1][1]]
		if text[found[k][1]:found[k+1][0]] == " " && !n.plainWord(a) && !n.plainWord(b) {
			return true
		}
	}
	return false
}

func (n *note) plainWord(w string) bool {
	low := strings.ToLower(w)
	if lexiconOf().parts[low] || slices.Contains(fillerWords, low) || slices.Contains(doubtWords, low) || isNumberWord(low) {
		return true
	}
	return slices.ContainsFunc(n.shop.Names, func(name string) bool {
		return slices.Contains(strings.Fields(strings.ToLower(name)), low)
	})
}
