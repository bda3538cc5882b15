package report

import "lapmark/report/plan"

// FindingsFacts is all a findings paper prints, before repair, as plain values.
// Places and readings come said in words.
type FindingsFacts struct {
	Terms Terms
	Coach Coach
	Head  PaperHead
	Given Day
	Copy  Copy
	// HolderName and Asked are printed on the holder's own copy alone: who the
	// holder is, and what was asked, in the holder's words.
	HolderName, Asked string

	// DayIn is the day the coach came in, Looked are the days it was looked at,
	// in order. LastRain is zero and PapersShown false where nothing was said.
	DayIn       Day
	Looked      []Day
	LastRain    Day
	PapersShown bool
	Papers      []string

	// Findings are those that count, by how soon and then by place. Where says
	// where they lie: "all behind 3700 mm but two"; empty: not in few words.
	Findings []Finding
	Where    string
	// Uncounted are sentences on findings that do not count, or no longer.
	Uncounted []string

	// NotLooked are the places nobody has looked at; Unopened names them as the
	// subject of a sentence, "The front half", UnopenedMany makes it plural.
	// NotLookedSaid are such places as sentences, where they have no area.
	NotLooked     []NotLooked
	NotLookedSaid []string
	Unopened      string
	UnopenedMany  bool

	// Plan is nil where the roof was not measured.
	Plan     *FindingsPlan
	Moisture Moisture
	// Promised are the lines a certificate of this shop could have, by its terms,
	// each without places and days.
	Promised []CertificateLine
	// Earlier are all papers of this coach given out before this one, oldest
	// first.
	Earlier []EarlierPaper
}

// Finding is one finding: its tag, the defect, how deep it goes and how soon it
// presses, in words and as the word; where, what was measured, the cause, whose
// hand it was and how that is known.
type Finding struct {
	Tag                    string
	Day                    Day
	Defect, Deep, SoonSays string
	Soon                   string
	Place                  string
	Measured, Cause, Whose string
	// Notes are sentences beside it: that it was corrected, or is a guest's.
	Notes []string
	// Trade says that a licensed trade has to see to the part it lies at.
	Trade bool
	// Decided is what the holder has decided so far.
	Decided string
	Photos  []FindingPhoto
	// NoPhoto is the reason why there is none.
	NoPhoto string
}

// FindingPhoto is a travel copy; without its bytes the file does not hold it.
type FindingPhoto struct{ JPEG []byte }

// FindingsPlan is the plan of the findings, the same as a list, what stands on
// it by a short name alone, and the samples that occur in it.
type FindingsPlan struct {
	Drawing     plan.Drawing
	List, Names []string
	Legend      []LegendItem
}

// Moisture is the moisture map: the newest counted reading of each place.
type Moisture struct {
	Readings []MoistureReading
	// Limit says over which reading nothing is closed: "15.0 %". Scale and Air
	// say on which scale the meter read, and how the air in the hall was.
	Limit string
	Scale string
	Air   string
	// Map is nil where no reading can be drawn.
	Map     *plan.Drawing
	MapList []string
}

// MoistureReading is the newest reading of a place, and the first one where
// there was another before it.
type MoistureReading struct {
	Place, Newest string
	Day           Day
	Entry         string
	Over          bool
	First         string
	FirstDay      Day
	// Corrected names the entry that corrected the newest reading.
	Corrected string
}
