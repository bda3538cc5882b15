package say

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/chain"
	"lapmark/ledger/format"
	"lapmark/report"
	"lapmark/report/english"
)

// lotNotice says which lot is not to be used, from when, and who says so.
func (s *speaker) lotNotice() string {
	s.say("lot " + s.text("lot") + ": do not use it from " + when(s.text("stop-use")) + " on")
	return "told on " + when(s.text("told")) + ": " + s.text("from")
}

// standing says what a certificate counts for no longer, or again.
func (s *speaker) standing() string {
	to, ground := s.text("to"), s.text("ground")
	says := Covers(s.take("covers")) + ": " + ledger.Said("standing", to)
	if places := s.take("places"); places != nil {
		says += " at " + at(places)
	}
	says += " from " + when(s.text("from")) + " on"
	if ground != "" {
		says = joined(says, ledger.Said("ended", ground))
	}
	if by := s.text("replaced-by"); by != "" {
		says = joined(says, by+" stands in its place")
	}
	return says
}

// upkeep says who looked after which lines, and what was done where.
func (s *speaker) upkeep() string {
	s.say("upkeep by " + ledger.Said("done-by", s.text("done-by")) + " for " + Covers(s.take("covers")))
	return s.each(s.take("looked"), func(o format.Object) string {
		says := map[string]string{
			"done": "looked at", "resealed": "sealed again", "left": "left as it is", "not-reached": "not reached",
		}[word(o["did"])]
		if says == "" {
			says = word(o["did"])
		}
		if o["places"] != nil {
			says += ": " + at(o["places"])
		}
		if material := word(o["material"]); material != "" {
			says = joined(says, ledger.Said("material", material))
		}
		says = joined(says, uses(o["uses"]), Values(object(o["values"])))
		if o["photos"] != nil {
			says = joined(says, photos(o["photos"]))
		}
		return says
	})
}

// laterWork says what others did or left on the roof, and when.
func (s *speaker) laterWork() string {
	var days []string
	for _, d := range ledger.Texts(s.take("done")) {
		days = append(days, when(d))
	}
	return "work by others on " + english.List(days) + ": " + s.each(s.take("found"), func(o format.Object) string {
		says := ledger.Said("later-work", word(o["what"]))
		if o["places"] != nil {
			says += " at " + at(o["places"])
		}
		return joined(says, Values(object(o["values"])))
	})
}

// transfer says who sold the coach to whom, and when the shop was told.
func (s *speaker) transfer() string {
	says := "sold on " + when(s.text("sold")) + " by " + s.text("from-holder") + " to " + s.text("to-holder")
	if told := s.take("told"); told != nil {
		says += "; the shop was told " + english.List(saysHow(format.Array{told}))
	}
	if o, ok := s.take("odometer").(format.Object); ok {
		says = joined(says, ledger.Decimal(ledger.Int(o, "reading"))+" "+word(o["unit"])+s.mark(o))
	}
	return says
}

// claim says what the holder complains of, where, and when it was noticed and
// reported.
func (s *speaker) claim() string {
	of := ""
	if who := s.text("holder"); who != "" {
		of = " of the holder (" + who + ")"
	}
	says := "claim " + s.text("tag") + of + ": " + ledger.Said("trouble", s.text("trouble")) + " at " + at(s.take("places"))
	return says + "; noticed on " + when(s.text("noticed")) +
		", reported " + english.List(saysHow(format.Array{s.take("reported")}))
}

// verdict says what the certificate says to a claim; the legal rights of the
// holder stand beside it.
func (s *speaker) verdict() string {
	s.say("what the certificate says to " + s.entries(s.take("answers")) + ": " + s.each(s.take("judged"), judged))
	s.say("it rests on " + s.entries(s.take("facts")))
	return report.Rights
}

func judged(o format.Object) string {
	verdict := word(o["verdict"])
	parts := []string{ledger.Said("verdict", verdict)}
	if o["places"] != nil {
		parts[0] += " at " + at(o["places"])
	}
	if on := word(o["day"]); on != "" {
		parts[0] = joined(parts[0], "on "+when(on))
	}
	if line := word(o["line"]); line != "" {
		parts[0] = joined(parts[0], "line "+line)
	}
	if share := shareOf(o); share != "" && verdict != "not-covered" {
		parts[0] = joined(parts[0], share)
	}
	if grounds := ledger.Texts(o["grounds"]); len(grounds) > 0 {
		parts = append(parts, "because: "+strings.Join(grounds, ", "))
	}
	if check := word(o["check"]); check != "" {
		parts = append(parts, "what would settle it: "+ledger.Said("checks", check))
	}
	if who := word(o["who"]); who != "" {
		parts = append(parts, who+" answers")
	}
	if out := ledger.Texts(o["out"]); len(out) > 0 {
		parts = append(parts, "not in it: "+english.List(out))
	}
	return strings.Join(parts, "; ")
}

// shareOf says the share of a verdict, and the most it can be where the two
// differ.
func shareOf(o format.Object) string {
	share, shared := o["share"].(int64)
	most, bounded := o["most"].(int64)
	says := ""
	if shared {
		says = Quantity("moisture", share)
	}
	if bounded && !(shared && most == share) {
		says = joined(says, Quantity("moisture", most)+" at most")
	}
	return says
}

// ruling says what the shop decides on a verdict.
func (s *speaker) ruling() string {
	says := "the shop decides on " + s.entries(s.take("answers")) + ": " + ledger.Said("ruling", s.text("ruling"))
	if places := s.take("places"); places != nil {
		says += ", at " + at(places)
	}
	return says
}

// keyChange says why the house has a new key, and up to where it vouches for
// the old one.
func (s *speaker) keyChange() string {
	says := "new house key: " + ledger.Said("reason", s.text("reason"))
	if firm := object(s.take("firm")); firm != nil {
		says += "; the shop vouches for the entries up to " + ledger.Decimal(ledger.Int(firm, "size"))
	}
	if print, err := format.Fingerprint(s.text("house")); err == nil {
		says += "; the new one is " + print
	}
	return says
}

// handOver says who takes over which promises; of what is not named nobody
// answers.
func (s *speaker) handOver() string {
	to := object(s.take("to"))
	if to == nil {
		return "the house closes, and nobody takes its promises over"
	}
	says := "handed over to " + signer(to) + ": " + Covers(s.take("covers"))
	if key := s.text("key"); key != "" {
		says = joined(says, "key "+key)
	}
	return says
}

// takeOn says that another house goes on with the ledger.
func (s *speaker) takeOn() string {
	return "the ledger is taken on, as " + s.entries(s.take("answers")) + " says; own look at the coach: " +
		ledger.Said("own-look", s.text("own-look"))
}

// takeIn says which side branch is taken in.
func (s *speaker) takeIn() string {
	from, head, count := object(s.take("from")), object(s.take("head")), s.take("count")
	n, _ := count.(int64)
	return "a side branch is taken in: " + english.Counted(int(n), "entry", "entries") + " that parted after entry " +
		ledger.Decimal(ledger.Int(from, "size")) + ", up to " + ledger.Decimal(ledger.Int(head, "size"))
}

// sameCoach says which other ledger is of this coach, and which one goes on.
func (s *speaker) sameCoach() string {
	id := s.text("ledger")
	if b, err := format.DecodeBase64(id); err == nil && len(b) == len(chain.Hash{}) {
		id = chain.ID(chain.Hash(b))
	}
	says := "ledger " + id + " is of this coach too"
	if head := object(s.take("head")); head != nil {
		says = joined(says, "up to its entry "+ledger.Decimal(ledger.Int(head, "size")))
	}
	return says + "; " + ledger.Said("goes-on", s.text("goes-on"))
}

// erased says which private values are gone, and why.
func (s *speaker) erased() string {
	names := ledger.Texts(s.take("names"))
	for i := range names {
		names[i] = strings.ReplaceAll(names[i], "-", " ")
	}
	return "private values of " + s.entries(s.take("answers")) + " are gone: " + english.List(names) + "; " + ledger.Said("ground", s.text("ground"))
}

// Covers says what a list of cover refs names: "Q-0007, lines 4 and 5; Q-0031".
func Covers(v format.Value) string {
	var out []string
	for _, o := range ledger.Objects(v) {
		var lines []string
		for _, n := range ledger.Ints(o["lines"]) {
			lines = append(lines, ledger.Decimal(n))
		}
		one := word(o["cert"])
		switch len(lines) {
		case 0:
		case 1:
			one = joined(one, "line "+lines[0])
		default:
			one = joined(one, "lines "+english.List(lines))
		}
		out = append(out, one)
	}
	return strings.Join(out, "; ")
}
