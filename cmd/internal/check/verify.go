package check

import (
	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/report"
)

// Verify reads the file and what is brought to it, and answers. It never
// fails: what cannot be read is an answer too.
func Verify(in Input) Answer {
	a, _ := verify(in)
	return a
}

// verify also returns the ledger worked through, nil where no entry of it holds.
func verify(in Input) (Answer, *ledger.Replay) {
	a := newAnswer(in)
	f := open(Paper{in.Name, in.File, in.Branches}, in.Slips)
	a.Paper, a.File, a.Bundle = f.pages, f.form, f.packing
	a.PagesWhy, a.NotChecked = f.why, f.nothing
	a.Whole, a.Entries = f.whole(), f.entries()
	a.Alone = report.FixedSays("alone")
	if f.nothing != "" {
		return *a, nil
	}
	a.record(f)
	var r *ledger.Replay
	if f.entries() > 0 {
		r = a.read(f, in)
	}
	others := make([]*file, len(in.With))
	for i, p := range in.With {
		others[i] = open(p, nil)
	}
	a.together(f, others, in)
	return *a, r
}

// record puts into the answer what the ledger and the pages are worth by
// themselves.
func (a *Answer) record(f *file) {
	if f.broken != nil {
		a.FirstBad, a.Why, a.FirstBadSays = f.broken.Entry, whySays(f.broken), brokenSays(f.broken)
		if f.mangled {
			a.FirstBadSays = append(a.FirstBadSays, saysMangled)
		}
	}
	if !a.Whole {
		a.bad(NotWhole)
	}
	if len(f.several) > 0 {
		a.bad(SeveralLedgers)
		for _, text := range f.several {
			a.Ledgers = append(a.Ledgers, named(text))
		}
	}
	if f.pages == PagesDiffer || f.packing == BundleDiffers {
		a.bad(NotAsItLeft)
	}
	if f.pages == SavedAgain {
		a.unsettled(PagesUnvouched)
	}
}

// named says which ledger a text is, where a file holds several.
func named(text []byte) Named {
	f := &file{form: FormLedger}
	f.check(text, nil)
	n := Named{Whole: f.whole(), Entries: f.entries()}
	if n.Entries > 0 {
		r := ledger.NewReplay(f.coach, nil)
		n.ID, n.Plate, n.House, n.HeadCode = f.coach.ID(), r.Plate(), r.HouseName(), string(f.coach.Code(n.Entries))
	}
	return n
}

// read puts into the answer what the entries say, and who signed them; it
// returns the ledger worked through.
func (a *Answer) read(f *file, in Input) *ledger.Replay {
	keys := newRing(in)
	replay := ledger.NewReplay(f.coach, f.sealed.values)
	a.UpTo = upTo(f, in.Now)
	a.Coach = coachOf(replay)
	a.SignedBy = keys.signedBy(f.coach, replay.HouseName())
	a.settle(in.Expect)
	a.givenOut(f, keys)
	a.keys(f.coach, keys)
	a.keyChanges(replay)
	a.doubts(f.coach)
	a.guests(replay, keys)
	a.branches(f.coach)
	a.lent(f.coach)
	a.content(replay)
	a.hidden(f)
	a.pictures(f)
	a.remarks(replay)
	a.Shows = shows(f)
	return replay
}

// upTo is the head that a file speaks of; nil where no entry holds.
func upTo(f *file, now int64) *UpTo {
	n := f.upTo()
	if n < 1 {
		return nil
	}
	e := f.coach.Entry(ledger.No{N: n})
	out := &UpTo{Entry: n, Day: e.Day(), HeadCode: string(f.coach.Code(n))}
	at, err := day.ParseStamp(e.Line.At)
	if err != nil {
		return out
	}
	happened, err := day.Parse(out.Day)
	if apart := day.Between(happened, at.Day()); err != nil || apart > 1 || apart < -1 {
		out.Written = at.Day().String()
	}
	today := day.StampAt(now).Day()
	out.DaysAgo, out.Age = day.Between(at.Day(), today), since(at.Day(), today)
	return out
}

// coachOf says what the intake says the coach is.
func coachOf(r *ledger.Replay) *Coach {
	in := r.Intake()
	return &Coach{
		VIN: in.Text("vin"), Serial: in.Text("serial"), Builder: in.Text("builder"), Model: in.Text("model"),
		Year: ledger.Int(in.Body, "year"), ID: r.Coach.ID(),
	}
}

// givenOut says for what the last entry of a paper or bundle was written, and
// whether a guest who wrote it is vouched for.
func (a *Answer) givenOut(f *file, keys *ring) {
	if !f.endsGivenOut() {
		return
	}
	last := f.coach.Last()
	a.GivenOut = &GivenOut{
		Entry: last.No.N, By: last.Line.Key,
		Paper: last.Text("paper"), Reader: last.Text("reader"), AsOf: last.Text("as-of"),
	}
	a.leftOut(f.coach)
	if f.pages != GuestPaper && f.packing != GuestBundle {
		return
	}
	if !keys.vouchedGuest(f.coach, last.Key) {
		a.unsettled(GuestUnvouched)
	}
}

// vouchedGuest says whether the reader vouches for a guest's key. One that the
// house gave up settles nothing: it may be the stolen one.
func (r *ring) vouchedGuest(c *ledger.Coach, key string) bool {
	_, vouched := r.vouched(key)
	_, gone := givenUp(c)[key]
	return vouched && !gone
}

// differs takes back that these are the pages, or the bundle, that left the
// house.
func (a *Answer) differs(f *file, why string) {
	if f.form == FormBundle {
		a.Bundle = BundleDiffers
	} else if a.Paper != SavedAgain {
		a.Paper = PagesDiffer
	}
	a.PagesWhy = why
	a.bad(NotAsItLeft)
}

// shows says what the signature shows: the holder keeps his own copy, anybody
// else asks for an older one.
func shows(f *file) string {
	advice := "shows-other"
	if f.endsGivenOut() && f.coach.Last().Text("reader") == "holder" {
		if _, passedOn := f.sealed.values[f.coach.Last().No][passOnName]; !passedOn {
			advice = "shows-holder"
		}
	}
	return report.Fill(report.FixedSays("shows"),
		"n", ledger.Decimal(max(f.upTo(), 1)), "advice", report.FixedSays(advice))
}
