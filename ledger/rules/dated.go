package rules

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/day"
)

const (
	clockAhead = 10 // minutes a clock may be behind that of the phone; common practice, no source

	keyFuture   = "future"
	keyLate     = "late-note"
	keyBefore   = "before-intake"
	keyOdometer = "odometer-back"

	saysFuture   = "{what} is dated {happened}, this machine says {now}. Mend the date or set the clock."
	saysLate     = "Written {n} days after it happened."
	saysBefore   = "{what} of {day} is older than the intake of {day}. Mark it from-paper and add the photo."
	saysOdometer = "Odometer {a} on {day}, {b} on {day} before."
)

var datedRules = []Rule{
	{Key: keyFuture, Degree: Refused, Sentences: []string{saysFuture}, Look: mendedToo(future)},
	{Key: keyLate, Degree: Noted, Sentences: []string{saysLate}, Look: lateNote},
	{
		Key: keyBefore, Degree: Refused, Kinds: []string{"work", "finding", "check", "correction"}, Sentences: []string{saysBefore},
		Look: mendedToo(beforeIntake),
	},
	{
		Key: keyOdometer, Degree: Noted, Kinds: []string{"intake", "transfer", "correction"}, Sentences: []string{saysOdometer},
		Look: mendedToo(odometerBack),
	},
}

// now is this machine's clock, as the shop reads it.
func (c Case) now() day.Moment { return day.MomentAt(c.Now.Unix()/60, offsetOf(c.Zone)) }

// written is the day on which an act was inked, or a draft would be; zero where
// nobody asks.
func (c Case) written(a *ledger.Act) day.Day {
	at := c.Now
	if a.Entry != nil {
		at, _ = day.ParseStamp(a.Entry.Line.At) // a checked entry has one
	}
	if at.IsZero() {
		return day.Day{}
	}
	return day.MomentAt(at.Unix()/60, offsetOf(c.Zone)).Day()
}

func future(c Case) []Outcome {
	if c.Now.IsZero() {
		return nil
	}
	latest := day.MomentAt(c.Now.Unix()/60+clockAhead, offsetOf(c.Zone))
	ahead, happened := latest.Day().Before(c.Act.Day()), c.Act.Day().Long()
	if m, err := day.ParseMoment(c.Act.Text("happened")); err == nil {
		ahead, happened = latest.UTC() < m.UTC(), sayMoment(m)
	}
	if !ahead {
		return nil
	}
	return []Outcome{refused(keyFuture, saysFuture, sayKind(c.Act), happened, sayMoment(c.now()))}
}

// sayKind is what a note is, at the head of a sentence.
func sayKind(a *ledger.Act) string { return capital(ledger.Said("kinds", a.Kind)) }

func lateNote(c Case) []Outcome {
	written, happened := c.written(c.Act), dayIn(c.Act.When())
	if written.IsZero() || happened.IsZero() {
		return nil
	}
	n := day.Between(happened, written)
	if int64(n) <= c.Limits.numbers(keyLate)[0] {
		return nil
	}
	return []Outcome{{Rule: keyLate, Degree: Noted, Sentence: fill(saysLate, ledger.Decimal(int64(n))), Limit: keyLate}}
}

// dayIn is the day of a day or moment.
func dayIn(when string) day.Day {
	if len(when) < len("2020-03-16") {
		return day.Day{}
	}
	return dayOf(when[:len("2020-03-16")])
}

// beforeIntake refuses what the shop cannot have seen itself. What an older
// paper says comes with a picture of it.
func beforeIntake(c Case) []Outcome {
	a := c.Act
	if c.Replay == nil || !slices.Contains([]string{"work", "finding", "check"}, a.Kind) {
		return nil
	}
	intake := c.Replay.Intake().Day()
	onPaper := a.Body["from-paper"] == true && len(a.Photos()) > 0
	if onPaper || !a.Day().Before(intake) {
		return nil
	}
	return []Outcome{refused(keyBefore, saysBefore, sayKind(a), a.Day().Long(), intake.Long())}
}

func odometerBack(c Case) []Outcome {
	read, ok := odometerOf(c.Act)
	if !ok || c.Replay == nil {
		return nil
	}
	var newest *ledger.Act
	for _, a := range slices.Concat(c.Replay.OfKind("intake"), c.Replay.OfKind("transfer")) {
		_, has := odometerOf(a)
		if has && a.Counts && c.Act.Follows(a) && a.Before(c.Act) && (newest == nil || newest.Before(a)) {
			newest = a
		}
	}
	if newest == nil {
		return nil
	}
	before, _ := odometerOf(newest)
	if read.metres() >= before.metres() {
		return nil
	}
	return []Outcome{{Rule: keyOdometer, Degree: Noted, Sentence: fill(saysOdometer,
		read.String(), c.Act.Day().Long(), before.String(), newest.Day().Long())}}
}

// odometer is how far a coach has gone, as it was read.
type odometer struct {
	reading int64
	unit    string
}

func odometerOf(a *ledger.Act) (o odometer, ok bool) {
	said := object(a.Body["odometer"])
	reading, ok := said["reading"].(int64)
	return odometer{reading, text(said, "unit")}, ok
}

func (o odometer) String() string { return ledger.Decimal(o.reading) + " " + o.unit }

// metres are rounded down; a mile has 1609.344 of them (international mile, NIST
// Special Publication 811, appendix B).
func (o odometer) metres() int64 {
	if o.unit == "mi" {
		return o.reading * 1609344 / 1000
	}
	return o.reading * 1000
}
