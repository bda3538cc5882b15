package report

import (
	"fmt"
	"strings"

	"lapmark/report/english"
)

// others says what stands on the last page: how to check, what a signature
// shows, what to take care of. Its blanks are filled when it is printed.
func (s *speaker) others() {
	for _, h := range lastPageHeads {
		s.say(h.Key, h.Says)
	}
	keys := []string{"alone", "check-file", "check-older", "check-call", "shows", "shows-holder", "shows-other", "care", "later"}
	for _, key := range append(keys, earlierSays...) {
		s.say(key, fixed(key))
	}
}

// nextHand says what the next hand on this roof must know.
func (s *speaker) nextHand() {
	n := s.f.Next
	s.say("head-next", "For the next hand on this roof")
	s.say("next-lies", strings.TrimSuffix("what lies here, "+n.Region, ", "))
	for _, r := range n.rows() {
		s.say("next-"+r.key, r.says)
	}
	s.say("next-away", "do not bring near")
	if len(n.KeepAway) == 0 {
		s.say("keep-away-none", "Nothing is named for what lies here.")
	}
	for i, k := range n.KeepAway {
		s.say(fmt.Sprintf("keep-away-%d", i+1), english.Sentence(k))
	}
	s.say("next-mark", "mark the place")
	s.say("next-done", "what was done, by pen")
	num := s.f.Numbers
	s.say("next-hand", fixed("next-hand", "shop", s.f.Shop.Name+", "+s.f.Shop.Address, "days", fmt.Sprint(num.DeclareDays),
		"tie-in", fmt.Sprint(num.TieInMM), "margin", fmt.Sprint(num.MarginMM)))
}

// nextRow is one row of what lies here.
type nextRow struct{ key, label, says string }

// rows are the rows of what lies here; an empty one says that it is not known.
func (n NextHand) rows() []nextRow {
	rows := []nextRow{
		{"membrane", "membrane", n.Membrane},
		{"weld", "weld", n.Weld},
		{"core-deck", "core, deck", n.CoreDeck},
		{"glue", "glue", n.Glue},
		{"sealant", "sealant", n.Sealant},
		{"under", "under it", n.UnderIt},
	}
	for i := range rows {
		if rows[i].says == "" {
			rows[i].says = "nothing of ours"
		}
	}
	return rows
}
