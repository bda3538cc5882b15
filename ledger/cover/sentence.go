package cover

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
)

// Rights stands under every verdict.
const Rights = "This is what the certificate says. Rights the law gives the holder stand beside it."

// LawMayGiveMore stands under a refusal for a reason that unfair-terms law may
// judge: a late report, a line that ended otherwise than by its term, a pause
// (Directive 93/13/EEC, from memory).
const LawMayGiveMore = "The law may give more here than this certificate."

// Sentence is a ground as people read it.
func (g Ground) Sentence() string {
	i := slices.IndexFunc(keys, func(k keyForm) bool { return k.key == g.Key })
	if i < 0 {
		return g.Text()
	}
	line := g.line()
	rested := "rests here since " + g.Day.Long()
	if !g.To.IsZero() {
		rested = "rested here from " + g.Day.Long() + " to " + g.To.Long()
	}
	see := ""
	if g.See != "" {
		see = ", see certificate " + g.See
	}
	return strings.NewReplacer(
		"{c}", g.Certificate, "{line}", line, "{Line}", capital(line), "{by}", g.By, "{cause}", ledger.Said("causes", g.By),
		"{who}", hand(g.By), "{day}", g.Day.Long(), "{rested}", rested, "{before}", g.Day.AddDays(-1).Long(),
		"{mm}", fmt.Sprint(g.MM), "{months}", months(g.Months), "{see}", see, "{e}", fmt.Sprint(g.Entry),
	).Replace(keys[i].says)
}

// line is "line 5 of Q-0007".
func (g Ground) line() string {
	no, line, _ := LineOf(g.On)
	return "line " + strings.TrimPrefix(line, "L") + " of certificate " + no
}

// LineOf parts CERT/LINE/PLACE. A certificate's number holds no stroke.
func LineOf(on string) (certificate, line, place string) {
	certificate, rest, _ := strings.Cut(on, "/")
	line, place, _ = strings.Cut(rest, "/")
	return certificate, line, place
}

// hand says who worked there: a word of the list whose, or a shop by its name.
func hand(by string) string {
	if w, ok := ledger.WordIn("whose", by); ok {
		return ledger.Said("whose", w.Name)
	}
	return by
}

func months(n int) string {
	if n == 1 {
		return "1 full month"
	}
	return fmt.Sprintf("%d full months", n)
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// Percent is a share as it is said: "80.0 %".
func Percent(share int64) string { return fmt.Sprintf("%d.%d %%", share/10, share%10) }

// ForHolder is the verdict in one sentence to the holder.
func (a Answer) ForHolder() string {
	switch a.Verdict {
	case Covered:
		return "Yes, this is in the warranty in full" + a.by() + "."
	case CoveredInPart:
		return fmt.Sprintf("Yes, this is in the warranty in part: %s is paid%s.", Percent(a.Share), a.by())
	case Unfinished:
		return "The work here is not finished yet: the shop puts this right in full, and it uses up no term."
	case NotCovered:
		return "No, this is not in the warranty."
	case CannotSayYet:
		return "Cannot say yet. " + a.advice()
	}
	return "There is no verdict."
}

func (a Answer) by() string {
	if a.Who == "" {
		return ""
	}
	if a.Who == Nobody {
		return ", but the shop that gave it has closed and nobody took this line over"
	}
	return ", by " + a.Who
}

// advice is the one check that would settle it.
func (a Answer) advice() string {
	if a.Check == "hose" {
		return "Hose strip by strip first."
	}
	return "One check would tell: " + ledger.Said("checks", a.Check) + "."
}

// ForDesk is the verdict in one sentence for the desk: share, line, day, who
// answers, and what is still possible.
func (a Answer) ForDesk() string {
	parts := []string{capital(ledger.Said("verdict", a.Verdict))}
	if a.says() {
		parts[0] += " at " + Percent(a.Share)
	}
	if a.Verdict == CannotSayYet {
		parts[0] += fmt.Sprintf(": at least %s, at most %s", Percent(a.Share), Percent(a.Most))
	}
	if a.Line != "" {
		_, _, at := LineOf(a.Line)
		parts = append(parts, Ground{On: a.Line}.line()+" at "+at)
	}
	parts = append(parts, "the day that counts is "+a.Day.Long())
	switch {
	case a.Who == Nobody:
		parts = append(parts, "nobody answers for the line now")
	case a.Who != "":
		parts = append(parts, a.Who+" answers")
	}
	if a.Check != "" {
		parts = append(parts, "next check: "+ledger.Said("checks", a.Check))
	}
	return strings.Join(parts, "; ") + "."
}

// OutSentences say what is not paid though a line says yes.
func (a Answer) OutSentences() []string {
	var out []string
	for _, o := range a.Out {
		what, own := strings.CutPrefix(o, "own-work ")
		switch {
		case own:
			out = append(out, "Not paid: the holder's own work there ("+ledger.Said("layers", what)+").")
		case o == "resulting-damage":
			out = append(out, "Not paid: damage that followed, because it was told late.")
		case o == "worsening":
			out = append(out, "Not paid: what got worse after shelter was refused.")
		}
	}
	return out
}

// LawToo says whether a refusal is one that the law may judge otherwise.
func (a Answer) LawToo() bool {
	if a.Verdict != NotCovered {
		return false
	}
	return slices.ContainsFunc(a.Grounds, func(g Ground) bool {
		return slices.Contains([]string{KeyEndedBySale, KeyEndedByUpkeep, KeyEndedByWord, KeyUpkeepPaused, KeySalePaused}, g.Key)
	}) || a.late
}

// dayOrNone writes a day where there is one.
func dayOrNone(d day.Day) string {
	if d.IsZero() {
		return "open"
	}
	return d.String()
}
