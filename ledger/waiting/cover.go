package waiting

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/cover/record"
	"lapmark/ledger/rules"
)

// claims are the claims that nobody ruled on, or that lack what was ruled.
func (s Look) claims(c Coach) []Line {
	var out []Line
	for _, one := range rules.OpenClaims(c.Replay) {
		a := one.Act
		name := a.Text("tag")
		if name == "" {
			name = a.No.String()
		}
		l := Line{Group: Ringing, Coach: c.Plate, Entry: a.No, When: a.Text("noticed"), What: "claim " + name + ", " + ledger.Said("trouble", a.Text("trouble"))}
		switch {
		case one.Lacks != "":
			l.Needs = "Ruled; it still lacks " + one.Lacks + "."
		case judged(c.Replay, a):
			l.Needs, l.Do = "The verdict is there. Rule on it, and ring.", "ruling"
		default:
			l.Needs, l.Do = "Find out where it comes in and why, then ask.", "ask"
		}
		out = append(out, l)
	}
	return out
}

// judged says whether a verdict answers a claim.
func judged(r *ledger.Replay, claim *ledger.Act) bool {
	for _, v := range r.OfKind("verdict") {
		for _, no := range v.Refs("answers") {
			if v.Counts && no == claim.No {
				return true
			}
		}
	}
	return false
}

// soon is how many days ahead a line that runs out, or upkeep that can be done,
// is said; common practice, no source.
const soon = 60

// covers are the upkeep that running lines wait for, and the lines that run out.
func (s Look) covers(c Coach) []Line {
	if len(c.Replay.OfKind("certificate")) == 0 {
		return nil
	}
	f, today := record.Facts(c.Replay, ledger.No{}), s.Now.Day()
	var out []Line
	for _, d := range cover.Dues(f, today) {
		if d.Due.After(today.AddDays(soon)) {
			continue
		}
		l := Line{
			Group: Upkeep, Coach: c.Plate, When: d.Due.String(), Late: d.Latest.Before(today), Do: "add",
			What:  d.Certificate + " line " + strings.TrimPrefix(d.Line, "L") + ": " + strings.Join(d.Places, ", "),
			Needs: "Due " + d.Due.Long() + ", from " + d.From.Long() + ", " + d.Latest.Long() + " at the latest.",
		}
		if !d.RestsSince.IsZero() {
			l.Late, l.Needs = true, "Was due "+d.Due.Long()+"; the line rests there since "+d.RestsSince.Long()+" until it is done."
		}
		out = append(out, l)
	}
	said := map[string]bool{}
	for _, row := range cover.StandingOn(f, today) {
		no, line, _ := cover.LineOf(row.Line)
		runs := row.Word == cover.StandsInForce || row.Word == cover.StandsPaused
		if !runs || row.DaysLeft > soon || said[no+line] {
			continue
		}
		said[no+line] = true
		out = append(out, Line{
			Group: Ending, Coach: c.Plate, When: row.LastDay.String(), What: no + " line " + strings.TrimPrefix(line, "L") + " ends",
			Needs: "Last day " + row.LastDay.Long() + ". A last look before then?",
		})
	}
	return out
}
