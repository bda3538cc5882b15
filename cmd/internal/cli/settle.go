package cli

import (
	"errors"
	"fmt"
	"strings"

	"lapmark/cmd/internal/console"
	"lapmark/cmd/internal/shop"
	"lapmark/ledger/rules"
)

// settled asks at a terminal which reading holds of each line that has several;
// one key answers. A line that is left stays unclear.
func (e *env) settled(s *shop.Shop, all []shop.Read, texts [][]byte, coach string) ([]shop.Read, error) {
	if !e.console.Terminal() || e.json {
		return all, nil
	}
	chosen := map[int]map[int]string{}
	asked := map[[2]int]bool{}
	for {
		n, ok := unsettled(all, asked)
		if !ok {
			return all, nil
		}
		asked[[2]int{n.Sheet, n.At}] = true
		line, err := e.choose(fmt.Sprintf("Line %d", n.At), n.Words, n.Why)
		if err != nil {
			return nil, err
		}
		if line == "" {
			continue
		}
		if chosen[n.Sheet] == nil {
			chosen[n.Sheet] = map[int]string{}
		}
		chosen[n.Sheet][n.At] = line
		if all, err = s.Settled(texts, coach, chosen); err != nil {
			return nil, err
		}
	}
}

func unsettled(all []shop.Read, asked map[[2]int]bool) (shop.Read, bool) {
	for _, n := range all {
		if len(shop.ReadingsOf(n.Why)) > 0 && !asked[[2]int{n.Sheet, n.At}] {
			return n, true
		}
	}
	return shop.Read{}, false
}

// choose shows the readings of a note and takes the one that is struck; "" is
// none of them.
func (e *env) choose(name, words, why string) (string, error) {
	readings := shop.ReadingsOf(why)
	e.console.Say("%s can be read in %d ways: %s", name, len(readings), words)
	for i, r := range readings {
		e.console.Say("  %d  %s", i+1, r)
	}
	n, err := e.console.Choose("  Which", len(readings))
	if err != nil || n == 0 {
		return "", err
	}
	return readings[n-1], nil
}

// reasons asks at a terminal for the reason of each note that a rule stopped;
// an empty one leaves the note in pencil, and it is not asked about again: left has
// these. It says whether any was given.
func (e *env) reasons(s *shop.Shop, in shop.Inked, left map[int64]bool) (given bool, err error) {
	for _, r := range in.Results {
		var held *shop.Held
		if !errors.As(r.Why, &held) || held.Outcome.Degree != rules.Stopped || r.Note == 0 || left[r.Note] {
			continue
		}
		ok, err := e.reason(s, r, held.Outcome)
		if errors.Is(err, console.ErrNobody) {
			return given, nil
		}
		if err != nil {
			return given, err
		}
		given, left[r.Note] = given || ok, !ok
	}
	return given, nil
}

func (e *env) reason(s *shop.Shop, r shop.Result, o rules.Outcome) (bool, error) {
	e.console.Say("%s\n  %s: %s\n  A reason is printed wherever this place is reported.", r.Line, o.Rule, o.Sentence)
	for {
		why, err := e.console.Ask("  Reason, 15 characters or more (Enter leaves the note in pencil)", "")
		if err != nil || why == "" {
			return false, err
		}
		by, err := e.console.Ask("  Who decided, by mark", "foreman")
		if err != nil {
			return false, err
		}
		_, err = s.Reason(r.Note, o.Rule, why, strings.ToLower(by))
		var short *shop.Short
		if !errors.As(err, &short) && !errors.Is(err, shop.ErrUse) {
			return err == nil, err
		}
		e.console.Say("  %s", sentence(err))
	}
}

// settlePencil asks at a terminal which reading holds of each pencil note of a
// coach that has several.
func (e *env) settlePencil(s *shop.Shop, plate string) error {
	notes, err := s.Book.Notes(plate)
	if err != nil {
		return err
	}
	for _, n := range notes {
		readings := shop.ReadingsOf(n.Why)
		if len(readings) == 0 || n.Line != "" {
			continue
		}
		line, err := e.choose(fmt.Sprintf("Note %d", n.ID), n.Words, n.Why)
		if errors.Is(err, console.ErrNobody) {
			return nil
		}
		if err != nil {
			return err
		}
		if line != "" {
			if _, err := s.Mend(n.ID, line); err != nil {
				return err
			}
		}
	}
	return nil
}
