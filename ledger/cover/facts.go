package cover

import "lapmark/ledger/day"

// Point is one place on the roof, in mm: aft of the datum, off the centreline.
type Point struct{ Aft, Off int64 }

// Box is a rectangle on the roof in mm, its edges included: aft from and to,
// off from and to.
type Box struct{ Front, Rear, Left, Right int64 }

// Facts are what a ledger, checked as a whole, says of cover. Lists may stand in
// any order. A zero day is one that has not come.
type Facts struct {
	Coach        string // VIN or serial
	Deck         Box
	FirstBad     int64 // the first ledger entry that does not hold; 0 = all do
	Certificates []Certificate
	Upkeep       []Upkeep
	Sales        []Sale
	LaterWork    []LaterWork
	Left         []Left
	OwnWork      []OwnWork
	Standings    []Standing
	HandOvers    []HandOver
}

// Certificate is one certificate with its own numbers.
type Certificate struct {
	No             string
	Coach          string
	Issuer         string
	WorksFrom      day.Day // the first day of the work it stands on
	FirstDay       day.Day // of its lines; the first of them, where they differ
	Numbers        Numbers
	ExcludedCauses []string
	ShopSideCauses []string
	InsteadOf      []LineRef
	Lines          []Line
	Ref            string // the ledger entry that says it
}

// LineRef names lines of a certificate; none: all of them.
type LineRef struct {
	Certificate string
	Lines       []string
}

// Line is one cover line: a promise over places for a term.
type Line struct {
	Line       string
	Promise    string
	FirstDay   day.Day // zero: that of the certificate
	Months     int
	FullMonths int
	Floor      int64 // per mille
	Upkeep     bool
	Places     []Place
}

// Place is one named place of a line.
type Place struct {
	Place string
	Box   Box
}

// Numbers are a certificate's own: days, months, mm.
type Numbers struct {
	ReportDays, NoticeDays, TransfersMost, DeclareDays                    int
	Margin, TieIn, Touch                                                  int64
	UpkeepEveryMonths, UpkeepEarlyDays, UpkeepGraceDays, UpkeepMissedMost int
}

// UsualNumbers are those that a certificate is written with where the shop says
// nothing else; common practice, no source.
func UsualNumbers() Numbers {
	return Numbers{
		ReportDays: 30, NoticeDays: 45, TransfersMost: 2, DeclareDays: 60, Margin: 300, TieIn: 75, Touch: 10,
		UpkeepEveryMonths: 12, UpkeepEarlyDays: 90, UpkeepGraceDays: 60, UpkeepMissedMost: 1,
	}
}

// ByShop is the hand of the issuer, or of whoever answers for it.
const ByShop = "shop"

// Upkeep is one act of upkeep and what was seen in it.
type Upkeep struct {
	Day  day.Day
	By   string // ByShop, or a mark
	Seen []Seen
	Ref  string // the ledger entry that says it
}

// Seen is how one place of a line was left by an upkeep; no place: every one.
type Seen struct {
	Certificate, Line, Place string
	State                    string // done, resealed, left, not-reached
	Photos                   int
	Sealant                  string
}

// Sale is one sale of the coach and the day the shop was told.
type Sale struct {
	Day, Told  day.Day
	SameKeeper bool
}

// LaterWork is work by others; Back is the day it was taken back.
type LaterWork struct {
	Day      day.Day
	By       string
	Declared bool    // by its doer's own entry
	Known    day.Day // the day it reached the house, with places and kinds of work; zero: never
	Layers   []string
	Boxes    []Box
	Back     day.Day
	Ref      string // the ledger entry that says it
}

// Left is a trouble that was left by decision; Mended is the day it was mended.
type Left struct {
	Day    day.Day
	Kind   string
	Box    Box
	Mended day.Day
	Ref    string // the ledger entry that says it
}

// OwnWork is what the holder does himself.
type OwnWork struct {
	What string
	Box  Box
	Ref  string // the ledger entry that says it
}

// The words of a standing.
const (
	WordWithdrawn = "withdrawn"
	WordEnded     = "ended"
)

// Standing is a certificate withdrawn, or lines ended; none: all of them.
type Standing struct {
	Certificate string
	Lines       []string
	Word        string
	Day, Told   day.Day
	Reason      string
	ReplacedBy  string
	Ref         string // the ledger entry that says it
}

// HandOver is the day a shop handed over, and what the other took: CERT/LINE or
// CERT/*. To is "" where nobody took anything.
type HandOver struct {
	Day        day.Day
	From, To   string
	Lines      []string
	OpenClaims bool
	Ref        string // the ledger entry that says it
}

// Question is what is asked.
type Question struct {
	Coach          string // in front of us; "": that of the facts
	Kind           string // leak, bond, rot, break, standing-water
	Noticed        day.Day
	Reported       day.Day
	Asked          day.Day // zero: the day of report; it decides only who answers
	Certificates   []string
	Shows          *Point
	Entries        []Entry
	Possible       []Box
	Elsewhere      bool
	RefusedShelter bool
}

// Entry is one place where the trouble comes in.
type Entry struct {
	At    Point
	Cause string
	Shown bool // a check there names the cause as measured or seen
}

// Kinds of trouble.
const (
	KindLeak          = "leak"
	KindBond          = "bond"
	KindRot           = "rot"
	KindBreak         = "break"
	KindStandingWater = "standing-water"
)

// Kinds are the kinds of trouble, the only water kind first.
func Kinds() []string { return []string{KindLeak, KindBond, KindRot, KindBreak, KindStandingWater} }

// UsualExcluded are the causes that a certificate excludes where the shop says
// nothing else; common practice, no source.
func UsualExcluded() []string {
	return []string{
		"branch-strike", "hail", "collision", "foot-load", "spill", "new-opening", "owner-screw", "condensation",
		"plumbing", "animal", "fire", "ac-condensate", "body-flexing", "from-uphill",
	}
}

// UsualShopSide are the causes that a certificate counts as the shop's own hand
// where the shop says nothing else; common practice, no source.
func UsualShopSide() []string {
	return []string{
		"bad-weld", "poor-preparation", "wrong-fastening", "wrong-glue", "starved-glue", "closed-wet", "cut-short",
		"material-fault",
	}
}
