package shop

import (
	"context"
	"fmt"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/cover/record"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// VerdictNote is the verdict on a claim as the ledger gives it now: a note that
// can be inked.
func (s *Shop) VerdictNote(c *Coach, claim, by string) (Pending, error) {
	if c.Replay == nil {
		return Pending{}, fmt.Errorf("%w: %s is not inked yet", ErrNoCoach, c.Plate)
	}
	if odd := c.Replay.Newer(); len(odd) > 0 {
		return Pending{}, fmt.Errorf("%w: entry %s says %q, which is newer than this tool and can change what is covered",
			ErrCannotSay, odd[0].Entry, odd[0].What)
	}
	act := claimNamed(c.Replay, claim)
	if act == nil {
		return Pending{}, fmt.Errorf("%w: %q is no claim of this coach", ErrUse, claim)
	}
	body, err := verdictOn(c.Replay, act)
	if err != nil {
		return Pending{}, err
	}
	today, zone := s.Today()
	body["happened"], body["by"] = today, format.Array{by}
	d := ledger.Unresolve("verdict", body, nil, c.names(0, nil))
	h := sheet.Heading{Coach: c.Plate, Day: today, Zone: zone}
	line, err := sheet.Line(d, h)
	return Pending{Line: line, Heading: h, Draft: d}, err
}

func claimNamed(r *ledger.Replay, name string) *ledger.Act {
	for _, a := range r.OfKind("claim") {
		if a.Counts && (a.Text("tag") == name || "#"+a.No.String() == name || a.No.String() == name) {
			return a
		}
	}
	return nil
}

// verdictOn is the body of the verdict on a claim: what was judged, by which
// rules, on which facts.
func verdictOn(r *ledger.Replay, claim *ledger.Act) (format.Object, error) {
	f := record.Facts(r, claim.No)
	q, checks := record.Question(r, claim)
	judged, err := cover.Ask(f, q)
	if err != nil {
		return nil, fmt.Errorf("%w: claim %s: %w", ErrRefused, claim.No, err)
	}
	return record.Body([]ledger.No{claim.No}, q, judged, record.Used(r, f, judged, checks)), nil
}

// InkVerdict signs the verdict on a claim as the ledger gives it now.
func (s *Shop) InkVerdict(ctx context.Context, c *Coach, p Pending, hand Hand, clockIsRight bool) (Inked, error) {
	return s.ink(ctx, c.Plate, just(p), hand, clockIsRight)
}

// Signing is the hand of the house with its key.
func Signing(key sshsig.Signer) Hand { return Hand{Key: key} }

// verdictMade refuses a verdict that is not what the ledger gives: nobody types
// one, and one that was asked before others wrote is asked again.
func (w *writing) verdictMade(a *ledger.Act) error {
	if a.Kind != "verdict" {
		return nil
	}
	claims := a.Refs("answers")
	if len(claims) != 1 || w.coach.Replay.Act(claims[0]) == nil {
		return fmt.Errorf("%w: a verdict answers one claim", ErrRefused)
	}
	want, err := verdictOn(w.coach.Replay, w.coach.Replay.Act(claims[0]))
	if err != nil {
		return err
	}
	for _, member := range []string{"rules", "judged", "facts"} {
		if !format.Same(want[member], a.Body[member]) {
			return fmt.Errorf("%w: this is not the verdict that the ledger gives now. Ask again, and ink what is answered: ask %s --claim %s --ink",
				ErrRefused, w.coach.Plate, claims[0])
		}
	}
	return nil
}
