package report

// MissingDay names a day that a paper prints and that it was not given.
type MissingDay struct{ What string }

func (e MissingDay) Error() string { return "the paper lacks " + e.What }

// namedDay is a day with its name in an error.
type namedDay struct {
	what string
	day  Day
}

// given is a MissingDay where one of the days is the zero day.
func given(days []namedDay) error {
	for _, d := range days {
		if d.day.IsZero() {
			return MissingDay{d.what}
		}
	}
	return nil
}

// earlierDays are the days of the list of earlier papers.
func earlierDays(papers []EarlierPaper) []namedDay {
	var all []namedDay
	for _, e := range papers {
		all = append(all, namedDay{"the day of an earlier paper", e.Day})
	}
	return all
}

// saidDays are the days that stand in a certificate's sentences.
func (f CertificateFacts) saidDays() []namedDay {
	all := []namedDay{
		{"the day it is given out", f.Given},
		{"the first day", f.FirstDay},
		{"the day the work ended", f.EndedDay},
	}
	for _, l := range f.Lines {
		all = append(all, namedDay{"the first day of a line", l.First}, namedDay{"the last day of a line", l.Last})
	}
	for _, r := range f.InsteadOf {
		if r.Decided == (Day{}) {
			continue // nothing is less: nobody had to decide
		}
		all = append(all, namedDay{"the day of the decision on " + r.Certificate, r.Decided})
	}
	for _, l := range f.Left {
		all = append(all, namedDay{"the day " + l.Place + " was left", l.Day})
	}
	for _, a := range f.AnotherShop {
		all = append(all, namedDay{"the day " + a.Place + " was given to another shop", a.Day})
	}
	for _, c := range f.Cures {
		all = append(all, namedDay{"the day of a cure", c.At.Day})
	}
	if u := f.Upkeep; u != nil {
		all = append(all, namedDay{"the day of the upkeep", u.Due}, namedDay{"the first day of the upkeep", u.From}, namedDay{"the last day of the upkeep", u.Till})
	}
	return all
}

// printedDays are the days on a certificate: those in its sentences, that of
// its head, and those of the papers before it.
func (f CertificateFacts) printedDays() []namedDay {
	all := append(f.saidDays(), namedDay{"the day of the newest entry", f.Head.UpToDay})
	return append(all, earlierDays(f.Earlier)...)
}

// printedDays are the days on a history.
func (f HistoryFacts) printedDays() []namedDay {
	all := []namedDay{{"the day it is made", f.Given}, {"the day of the newest entry", f.Head.UpToDay}}
	for _, e := range f.Entries {
		all = append(all, namedDay{"the day of an entry", e.Day})
	}
	return append(all, earlierDays(f.Earlier)...)
}
