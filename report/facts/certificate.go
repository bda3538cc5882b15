package facts

import (
	"errors"
	"fmt"
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/plan"
)

// Options is what a paper needs beside the ledger. A zero Given is the day of
// the certificate. HolderName is printed on the holder's own copy alone; empty,
// it is the newest name of that holder at hand.
type Options struct {
	Terms      report.Terms
	Head       report.PaperHead
	Copy       report.Copy
	Given      report.Day
	HolderName string
	// Pictures are the travel copies at hand, by their SHA-256 in hex.
	Pictures map[string][]byte
}

// What keeps the facts of a certificate from being gathered.
var (
	ErrKind  = errors.New("not a certificate")
	ErrGuest = errors.New("a guest's certificate: its own shop lays it out")
	ErrLines = errors.New("the certificate has no line")
	ErrWork  = errors.New("no closed work of this shop lies under the lines")
)

// Certificate gathers everything a certificate prints. cert is an inked entry,
// or a draft that is filled, with the number it will have: then the facts make
// the sentences that it is signed with. The errors are ErrKind, ErrGuest,
// ErrLines, ErrWork, or what of the roof was not measured.
func Certificate(r *ledger.Replay, cert *ledger.Act, o Options) (report.CertificateFacts, error) {
	s, err := newSubject(r, cert, o)
	if err != nil {
		return report.CertificateFacts{}, err
	}
	f := report.CertificateFacts{
		Law: o.Terms.Law, Units: o.Terms.Units, Shop: shopOf(o.Terms), Coach: coachOf(r), Head: o.Head, Copy: o.Copy,
		Number: cert.Text("tag"), Given: s.given(), FirstDay: dayOf(s.firstDay()), Beside: ledger.Texts(cert.Body["beside"]),
		Numbers: numbersOf(object(cert.Body["numbers"])), Conditions: ledger.Texts(cert.Body["conditions"]),
		Exclusions: ledger.Texts(cert.Body["exclusions"]), ShopSide: ledger.Texts(cert.Body["shop-side"]), Rights: report.Rights,
	}
	if o.Copy == report.OwnCopy {
		f.HolderName = s.holderName()
	}
	f.InsteadOf = s.insteadOf()
	if f.Ended, f.EndedDay, err = s.ended(); err != nil {
		return report.CertificateFacts{}, err
	}
	s.region(&f)
	f.Lines = s.lineFacts()
	f.NotLooked, f.Left, f.AnotherShop, f.OwnWork = s.notLooked(), s.left(), s.anotherShop(), s.ownWork()
	f.Overrides, f.Looser, f.Cures, f.Checks = s.overrides(), s.looser(), s.cures(), s.checks()
	f.Upkeep = s.upkeep(f.Numbers)
	f.Next = s.nextHand()
	f.Earlier = earlier(r, o.Head.UpTo)
	s.roofPlan(&f)
	return f, nil
}

// subject is a certificate with what it rests on.
type subject struct {
	r     *ledger.Replay // the ledger up to the certificate
	cert  *ledger.Act
	o     Options
	job   rules.Job
	lines []rules.Line
	roof  place.Roof
	ground
	closed []rules.Op // closed work of the job over a line that still lies there
}

func newSubject(r *ledger.Replay, cert *ledger.Act, o Options) (*subject, error) {
	if cert.Kind != "certificate" {
		return nil, fmt.Errorf("entry %s: %w", cert.No, ErrKind)
	}
	if cert.Entry != nil && !cert.House {
		return nil, fmt.Errorf("entry %s: %w", cert.No, ErrGuest)
	}
	s := &subject{r: before(r, cert), cert: cert, o: o}
	var err error
	if s.ground, err = groundOf(s.r, cert); err != nil {
		return nil, err
	}
	if s.job, err = rules.JobOf(s.r, cert); err != nil {
		return nil, err
	}
	s.lines, s.roof = s.job.Lines, s.r.Roof()
	s.closed = s.lying()
	return s, nil
}

// before is the ledger as it stood with an act as its last one: later entries
// change no certificate, and neither does what they correct.
func before(r *ledger.Replay, a *ledger.Act) *ledger.Replay {
	at := slices.IndexFunc(r.Acts, func(b *ledger.Act) bool { return b.No == a.No })
	if at < 0 {
		return r
	}
	chain := at // the act itself, or the taking in of its side branch
	for r.Acts[chain].No.Branch != 0 {
		chain--
	}
	then := *r.Until(r.Acts[chain].No.N)
	then.Acts = then.Acts[:at+1]
	return &then
}

// given is the day the paper is given out.
func (s *subject) given() report.Day {
	if s.o.Given != (report.Day{}) {
		return s.o.Given
	}
	return dayOf(s.cert.Day())
}

// firstDay is the first day of the earliest line.
func (s *subject) firstDay() day.Day {
	var first day.Day
	for _, l := range s.lines {
		if d := parseDay(l.Object, "first-day"); first.IsZero() || d.Before(first) {
			first = d
		}
	}
	return first
}

// insteadOf are the certificates some lines of which this one replaces, with
// the day of the holder's newest decision on each.
func (s *subject) insteadOf() []report.Replaced {
	var out []report.Replaced
	for _, o := range ledger.Objects(s.cert.Body["instead-of"]) {
		one := report.Replaced{Certificate: text(o, "cert")}
		for _, n := range ledger.Ints(o["lines"]) {
			one.Lines = append(one.Lines, int(n))
		}
		no, _ := s.r.Tagged(one.Certificate)
		for _, a := range s.r.Acts {
			if a.Kind == "decision" && a.Counts && slices.Contains(a.Refs("answers"), no) {
				one.Decided = dayOf(a.Day())
			}
		}
		out = append(out, one)
	}
	return out
}

// ended says what ended on which day, so that the first day could follow: the
// work under the lines, or the last cure of it.
func (s *subject) ended() (what string, on report.Day, err error) {
	var work day.Day
	for _, op := range s.job.Closed {
		if work.Before(op.Act.Day()) {
			work = op.Act.Day()
		}
	}
	if work.IsZero() {
		return "", report.Day{}, ErrWork
	}
	cure := rules.LastCure(s.r, s.spots())
	switch {
	case cure.IsZero():
		return "work", dayOf(work), nil
	case cure.Before(work):
		return "work and cure", dayOf(work), nil
	}
	return "work and cure", dayOf(cure), nil
}

// spots are the places of all lines.
func (s *subject) spots() []rules.Spot {
	var out []rules.Spot
	for _, l := range s.lines {
		out = append(out, l.Spots...)
	}
	return out
}

// numbersOf reads the numbers a certificate is judged by.
func numbersOf(o format.Object) report.Numbers {
	n := func(name string) int { return int(ledger.Int(o, name)) }
	return report.Numbers{
		ReportDays: n("report-days"), NoticeDays: n("notice-days"), TransfersMost: n("transfers-most"),
		MarginMM: n("margin"), TieInMM: n("tie-in-reach"), TouchMM: n("touch"), DeclareDays: n("declare-days"),
		UpkeepEveryMonths: n("upkeep-every"), UpkeepEarlyDays: n("upkeep-early"), UpkeepGraceDays: n("upkeep-grace"),
		UpkeepMissedMost: n("upkeep-missed-most"),
	}
}

// hatch says how a promise is drawn.
func hatch(promise string) plan.Hatch {
	switch promise {
	case "watertight-membrane":
		return plan.Skin
	case "watertight-fitting", "watertight-edge", "watertight-tie-in":
		return plan.SkinNarrow
	case "bond", "no-standing-water":
		return plan.Bond
	case "sound-frame":
		return plan.Frame
	}
	return plan.Lining
}

// isField says whether a promise is given for a field, not for a narrow thing.
func isField(promise string) bool { h := hatch(promise); return h == plan.Skin || h == plan.Bond }
