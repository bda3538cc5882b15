package report

import (
	"fmt"
	"strings"

	"lapmark/report/english"
)

// notIn says what is not in this warranty.
func (s *speaker) notIn() {
	f := s.f
	s.say("head-out", "Not in this warranty")
	if f.ComplementPlaces != "" {
		s.say("complement", english.Sentence(f.ComplementPlaces))
	}
	for i, n := range f.NotLooked {
		key := "not-looked"
		if n.AtHolderWish {
			key = "not-looked-wish"
		}
		s.say(fmt.Sprintf("not-looked-%d", i+1), fixed(key, "area", squareMetres(n.Area), "where", n.Where))
	}
	for i, l := range leftTogether(f.Left) {
		s.say(fmt.Sprintf("left-%d", i+1), l)
	}
	for i, place := range f.OwnWork {
		s.say(fmt.Sprintf("own-work-%d", i+1), fixed("own-work", "place", place))
	}
	for i, a := range f.AnotherShop {
		s.say(fmt.Sprintf("another-shop-%d", i+1), fmt.Sprintf("%s: given to another shop by the holder on %s.", a.Place, a.Day.Long()))
	}
	if s.t.Implied != "" {
		s.sayEach("implied", []string{english.Sentence(s.t.Implied)})
		if f.Law == US {
			s.say("us-implied", fixed("us-implied"))
		}
	}
	s.say("further-out", "The causes and costs named from page 2 on.")
	for i, l := range f.Legend {
		s.say(fmt.Sprintf("legend-%d", i+1), l.Says)
	}
}

// leftTogether says what was left on one day with one consequence in one
// sentence.
func leftTogether(left []LeftTrouble) []string {
	var says []string
	for i := 0; i < len(left); {
		l := left[i]
		what := l.What
		for i++; i < len(left) && left[i].Day == l.Day && left[i].Consequence == l.Consequence; i++ {
			what += "; " + left[i].Place + ": " + left[i].What
		}
		says = append(says, strings.TrimSpace(fixed("left", "place", l.Place, "what", what,
			"day", l.Day.Long(), "consequence", english.Sentence(l.Consequence))))
	}
	return says
}
