package report

// Numbers are the numbers a certificate is judged by for its whole life.
type Numbers struct {
	ReportDays, NoticeDays, TransfersMost                                 int
	MarginMM, TieInMM, TouchMM, DeclareDays                               int
	UpkeepEveryMonths, UpkeepEarlyDays, UpkeepGraceDays, UpkeepMissedMost int
}

// numberWord is one of the numbers: its word in the terms file and in the
// certificate entry, its unit, its default (common practice, no source), the
// least and most it may be, and where it stands.
type numberWord struct {
	Word, Unit  string
	Usual       int
	Least, Most int
	Says        string
	In          func(*Numbers) *int
}

var numberWords = []numberWord{
	{"report-days", "d", 30, 1, 3650, "days to tell us of a trouble", func(n *Numbers) *int { return &n.ReportDays }},
	{"notice-days", "d", 45, 1, 3650, "days to tell us of a sale", func(n *Numbers) *int { return &n.NoticeDays }},
	{"transfers-most", "", 2, 0, 100, "sales it passes on through", func(n *Numbers) *int { return &n.TransfersMost }},
	{"margin", "mm", 300, 0, 10000, "round undeclared work and left trouble", func(n *Numbers) *int { return &n.MarginMM }},
	{"tie-in-reach", "mm", 75, 0, 10000, "round declared work", func(n *Numbers) *int { return &n.TieInMM }},
	{"touch", "mm", 10, 0, 1000, "tolerance of the tape", func(n *Numbers) *int { return &n.TouchMM }},
	{"declare-days", "d", 60, 1, 3650, "days to send in work of others", func(n *Numbers) *int { return &n.DeclareDays }},
	{"upkeep-every", "months", 12, 1, 120, "between two looks", func(n *Numbers) *int { return &n.UpkeepEveryMonths }},
	{"upkeep-early", "d", 90, 0, 3650, "before the due day", func(n *Numbers) *int { return &n.UpkeepEarlyDays }},
	{"upkeep-grace", "d", 60, 0, 3650, "after the due day", func(n *Numbers) *int { return &n.UpkeepGraceDays }},
	{"upkeep-missed-most", "", 1, 0, 100, "missed in a row before the line ends", func(n *Numbers) *int { return &n.UpkeepMissedMost }},
}

// usualNumbers are the defaults.
func usualNumbers() Numbers {
	var n Numbers
	for _, w := range numberWords {
		*w.In(&n) = w.Usual
	}
	return n
}
