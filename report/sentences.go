package report

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"lapmark/ledger"
	"lapmark/report/english"
)

// Sentence is one sentence of a certificate with its key. The certificate
// entry carries them all, so that a later printing says the same words. A
// private value stands in one only as {holder-name}.
type Sentence struct{ Key, Says string }

// speaker gathers the sentences of a certificate.
type speaker struct {
	f    CertificateFacts
	t    Terms
	says []Sentence
}

// CertificateSentences are all sentences a certificate prints, with their
// keys, in the order they are printed. Whether an entry takes them says
// SentencesFit. There are none while a day that stands in them is missing.
func CertificateSentences(f CertificateFacts, t Terms) []Sentence {
	if given(f.saidDays()) != nil {
		return nil
	}
	s := &speaker{f: f, t: t}
	s.first()
	s.lines()
	s.notIn()
	s.claim()
	s.pays()
	s.upkeep()
	s.sale()
	s.causes()
	s.despite()
	s.cured()
	s.answers()
	s.others()
	s.nextHand()
	return s.says
}

// say adds a sentence; its blanks are filled from the numbers.
func (s *speaker) say(key, text string) {
	n := s.f.Numbers
	text = Fill(text, "report-days", fmt.Sprint(n.ReportDays), "notice-days", fmt.Sprint(n.NoticeDays))
	if s.f.Units == Both {
		text = WithInches(text)
	}
	s.says = append(s.says, Sentence{key, strings.TrimSpace(text)})
}

// sayEach adds sentences of one kind, numbered. What is longer than an entry
// takes is said in several.
func (s *speaker) sayEach(stem string, texts []string) {
	n := 0
	for _, text := range texts {
		for _, part := range parts(text, ledger.MaxSentence*9/10) {
			n++
			s.say(fmt.Sprintf("%s-%d", stem, n), part)
		}
	}
}

// parts cuts a text into pieces of at most so many characters, between words
// and after a full stop where it can.
func parts(text string, most int) []string {
	var out []string
	for utf8.RuneCountInString(text) > most {
		head := string([]rune(text)[:most])
		cut := strings.LastIndex(head, ". ") + 1
		if cut < len(head)/2 {
			cut = strings.LastIndex(head, " ")
		}
		if cut <= 0 {
			cut = len(head)
		}
		out = append(out, text[:cut])
		text = strings.TrimSpace(text[cut:])
	}
	return append(out, text)
}

// first says what stands above the plan.
func (s *speaker) first() {
	f := s.f
	s.say("title", s.t.TitleSays())
	s.say("headline", headline(f))
	s.say("given", "given out "+f.Given.Long())
	s.say("first-day", fmt.Sprintf("%s, %s ended %s", f.FirstDay.Long(), f.Ended, f.EndedDay.beside(f.FirstDay)))
	s.say("own", fixed("own", "name", "{holder-name}"))
	s.say("pass-on", fixed("pass-on"))
	if f.Numbers.TransfersMost == 0 {
		s.say("for", "the holder of that day, until the coach is sold")
	} else {
		s.say("for", "every owner in turn, through "+english.Counted(f.Numbers.TransfersMost, "sale", "sales"))
	}
	for i, no := range f.Beside {
		s.say(fmt.Sprintf("beside-%d", i+1), "beside "+no+", which runs on untouched")
	}
	for i, r := range f.InsteadOf {
		why := "which is less on no day"
		if r.Decided != (Day{}) {
			why = "by the holder's decision of " + r.Decided.Long()
		}
		s.say(fmt.Sprintf("instead-%d", i+1), fmt.Sprintf("instead of %s of %s, %s", theLines(r.Lines), r.Certificate, why))
	}
	if g := f.Guest; g != nil {
		s.say("guest-promise", fixed("guest-promise", "no", f.Number, "guest", g.Name))
		s.say("guest-paper", fixed("guest-paper", "fingerprint", g.Fingerprint, "house", g.House))
	}
}

// headline says where, for what and until when, and what is not in it.
func headline(f CertificateFacts) string {
	lines, until := "for what the "+english.Counted(len(f.Lines), "line", "lines")+" below say", f.untilSays()
	if len(f.Lines) == 1 {
		lines = "for what the one line below says"
	}
	return fmt.Sprintf("We put our name to this roof %s, %s, %s. %s", f.RegionWords, lines, until, f.complement())
}

// untilSays says how long the lines run: the day of the longest, and whether
// the others end with it.
func (f CertificateFacts) untilSays() string {
	longest := f.longest()
	until := "until " + longest.Long()
	switch shorter := slices.ContainsFunc(f.Lines, func(l CertificateLine) bool { return l.Last != longest }); {
	case shorter:
		return "the longest " + until
	case len(f.Lines) > 2:
		return "all " + until
	case len(f.Lines) == 2:
		return "both " + until
	}
	return until
}

// complement is the sentence that says what is not in it.
func (f CertificateFacts) complement() string {
	switch {
	case f.WholeDeck:
		return "Only the deck is in it."
	case f.ComplementMany:
		return f.ComplementWords + " are not in it."
	}
	return f.ComplementWords + " is not in it."
}

// longest is the last day of the line that runs longest.
func (f CertificateFacts) longest() Day {
	var last Day
	for _, l := range f.Lines {
		if l.Last.after(last) {
			last = l.Last
		}
	}
	return last
}

// lines says each line of the certificate.
func (s *speaker) lines() {
	s.say("head-in", "In this warranty")
	for _, l := range s.f.Lines {
		name, does := promiseSays(l.Promise, s.t)
		key := fmt.Sprintf("line-%d", l.Number)
		s.say(key+"-name", name)
		s.say(key+"-until", "until "+l.Last.Short())
		s.say(key, s.line(l, does))
	}
	s.say("more-lines", "More lines stand further on: below the plan, or on the next page.")
	s.say("again-lines", "In this warranty, going on")
}

// line says what a line promises, where, how long in full, and what it asks.
func (s *speaker) line(l CertificateLine, does string) string {
	where := l.Places
	if l.Layers != "" {
		where += ", " + l.Layers
	}
	if l.Area > 0 {
		where += " (" + squareMetres(l.Area) + " m²)"
	}
	if where != "" {
		does += ": " + where
	}
	says := []string{english.Sentence(does), l.inFull()}
	if l.First != s.f.FirstDay {
		says = append(says, "From "+l.First.Long()+".")
	}
	if l.Upkeep {
		says = append(says, "Asks for "+s.oftenUpkeep()+".")
	}
	for _, n := range l.Notices {
		says = append(says, english.Sentence(n))
	}
	return strings.Join(says, " ")
}

// inFull says how long a line bears all, and how it falls.
func (l CertificateLine) inFull() string {
	switch {
	case l.Full >= l.Months:
		return "In full."
	case l.Full == 0 && l.Floor == 0:
		return "Falling from the first month to nothing at the end."
	case l.Full == 0:
		return fmt.Sprintf("Falling from the first month to %s %%.", percent(l.Floor))
	case l.Floor == 0:
		return fmt.Sprintf("In full for %s, then falling to nothing at the end.", months(l.Full))
	}
	return fmt.Sprintf("In full for %s, then falling to %s %%.", months(l.Full), percent(l.Floor))
}

func months(n int) string {
	if n == 1 {
		return "one month"
	}
	return fmt.Sprintf("%d months", n)
}

// oftenUpkeep says how often the upkeep comes.
func (s *speaker) oftenUpkeep() string {
	if s.f.Numbers.UpkeepEveryMonths == 12 {
		return "yearly upkeep"
	}
	return "upkeep every " + months(s.f.Numbers.UpkeepEveryMonths)
}
