package shop

import (
	"context"
	"fmt"
	"strings"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
	"lapmark/report"
	"lapmark/report/facts"
)

// Wish is what the foreman wants of a certificate.
type Wish struct {
	Number string // "" = the next free one
	First  string // first day of all lines, "" = the first possible one
	Strike []int64
	By     string
	Beside []string
	Price  string
}

// Propose makes the certificate that the ledger and the shop's promises bear,
// as a note in pencil's form.
func (s *Shop) Propose(c *Coach, w Wish) (Pending, error) {
	if c.Ledger == nil {
		return Pending{}, fmt.Errorf("%w: %s is not inked yet", ErrNoCoach, c.Plate)
	}
	if odd := c.Replay.Newer(); len(odd) > 0 {
		return Pending{}, fmt.Errorf("%w: entry %s says %q, which is newer than this tool and can change what is covered",
			ErrCannotSay, odd[0].Entry, odd[0].What)
	}
	today, zone := s.Today()
	now, err := day.Parse(today)
	if err != nil {
		return Pending{}, err
	}
	number := strings.ToUpper(w.Number)
	if number != "" && !sheet.IsTag(number) {
		return Pending{}, fmt.Errorf("%w: %q is no number of a certificate: capitals, digits and hyphens, with a digit", ErrUse, w.Number)
	}
	for _, beside := range w.Beside {
		if no, ok := c.Replay.Tagged(beside); !ok || c.Replay.Act(no).Kind != "certificate" {
			return Pending{}, fmt.Errorf("%w: there is no certificate %s on this coach to stand beside", ErrUse, beside)
		}
	}
	if number == "" {
		if number, err = s.nextNumber(c.tagged); err != nil {
			return Pending{}, err
		}
	}
	proposed := facts.Proposal(c.Replay, s.Terms, number, now)
	for _, n := range w.Strike {
		if n < 1 || n > int64(len(proposed)) {
			return Pending{}, fmt.Errorf("%w: there is no line %d to strike out; %d are proposed", ErrUse, n, len(proposed))
		}
	}
	lines := struck(proposed, w.Strike, w.First)
	if len(lines) == 0 {
		return Pending{}, fmt.Errorf("%w: nothing is closed and tested that the terms promise anything for", ErrRefused)
	}
	body := s.certificateBody(c, w, number, lines, today)
	d := ledger.Draft{Kind: "certificate", Body: body, Private: map[string]string{}}
	if name := holderName(c.Replay, c.Replay.Holder()); name != "" {
		d.Private["holder-name"] = name
	}
	if w.Price != "" {
		d.Private["price"] = w.Price
	}
	h := sheet.Heading{Coach: c.Plate, Day: today, Zone: zone}
	line, err := sheet.Line(d, h)
	return Pending{Line: line, Heading: h, Draft: d}, err
}

// struck leaves lines out and numbers the rest anew.
func struck(lines []format.Object, strike []int64, first string) format.Array {
	out := format.Array{}
	for _, l := range lines {
		keep := true
		for _, n := range strike {
			keep = keep && l["line"] != n
		}
		if !keep {
			continue
		}
		l["line"] = int64(len(out) + 1)
		if first != "" {
			l["first-day"] = first
		}
		out = append(out, l)
	}
	return out
}

func (s *Shop) certificateBody(c *Coach, w Wish, number string, lines format.Array, today string) format.Object {
	upkeep := false
	for _, l := range ledger.Objects(lines) {
		upkeep = upkeep || l["upkeep"] == true
	}
	body := format.Object{
		"tag": number, "holder": c.Replay.Holder(), "title": "limited", "lines": lines, "rules": int64(1),
		"numbers": numbersOf(s.Terms.Numbers, upkeep), "happened": today, "by": format.Array{w.By},
		"conditions": words(report.UsualConditions(upkeep)), "exclusions": words(report.UsualExclusions()), "shop-side": words(report.UsualShopSide()),
	}
	if len(w.Beside) > 0 {
		body["beside"] = words(w.Beside)
	}
	return body
}

func words(list []string) format.Array {
	out := make(format.Array, len(list))
	for i, s := range list {
		out[i] = s
	}
	return out
}

// numbersOf are the numbers of a certificate, written into it for ever; those
// of upkeep only where a line asks for it.
func numbersOf(n report.Numbers, upkeep bool) format.Object {
	o := format.Object{
		"report-days": int64(n.ReportDays), "notice-days": int64(n.NoticeDays), "transfers-most": int64(n.TransfersMost),
		"margin": int64(n.MarginMM), "tie-in-reach": int64(n.TieInMM), "touch": int64(n.TouchMM),
		"declare-days": int64(n.DeclareDays),
	}
	if upkeep {
		o["upkeep-every"], o["upkeep-early"] = int64(n.UpkeepEveryMonths), int64(n.UpkeepEarlyDays)
		o["upkeep-grace"], o["upkeep-missed-most"] = int64(n.UpkeepGraceDays), int64(n.UpkeepMissedMost)
	}
	return o
}

// nextNumber is the next free certificate number of the shop, Q-0001 and so
// on. taken knows of numbers that the book has not learned yet.
func (s *Shop) nextNumber(taken func(number string) bool) (string, error) {
	for n := 1; ; n++ {
		number := fmt.Sprintf("Q-%04d", n)
		hits, err := s.Book.Find(number)
		if err != nil {
			return "", err
		}
		if len(hits) == 0 && !taken(number) {
			return number, nil
		}
	}
}

// Certify signs a certificate that was proposed, or one typed by the foreman.
func (s *Shop) Certify(ctx context.Context, c *Coach, p Pending, key sshsig.Signer, clockIsRight bool) (Inked, error) {
	in, err := s.ink(ctx, c.Plate, just(p), Hand{Key: key}, clockIsRight)
	if err != nil {
		return in, err
	}
	if r := in.Results[0]; r.Entry == 0 {
		return in, r.Why
	}
	return in, nil
}
