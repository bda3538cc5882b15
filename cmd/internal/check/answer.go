package check

import "slices"

// Answer is all that a check says, and its JSON: members are added, never
// changed. Lists are never null. The number of an entry is a text where it may
// be of a side branch ("60/1"). Days are ISO, lengths mm, areas mm².
type Answer struct {
	Answer   string `json:"answer"` // "verify"
	V        int    `json:"v"`
	Whole    bool   `json:"whole"`     // the ledger, not the pages
	FirstBad int64  `json:"first_bad"` // the first entry that does not hold, 0 if none
	Entries  int64  `json:"entries"`   // those that hold
	Paper    Pages  `json:"paper"`

	Name         string    `json:"name"` // of the file
	File         Form      `json:"file"`
	Bundle       Packing   `json:"bundle,omitempty"`         // of a bundle: what Paper is of a paper
	NotChecked   string    `json:"not_checked,omitempty"`    // why nothing could be checked
	Why          string    `json:"why,omitempty"`            // why FirstBad does not hold
	FirstBadSays []string  `json:"first_bad_says,omitempty"` // the same in sentences
	PagesWhy     string    `json:"pages_why,omitempty"`      // why the pages, or the bundle, are not as they left
	Bad          []Ground  `json:"bad"`
	Unsettled    []Ground  `json:"unsettled"`
	UpTo         *UpTo     `json:"complete_up_to,omitempty"`
	GivenOut     *GivenOut `json:"given_out,omitempty"` // the last entry, where it is one
	Coach        *Coach    `json:"coach,omitempty"`
	Ledgers      []Named   `json:"ledgers"` // where one file holds several: none is chosen
	Today        string    `json:"today"`   // the reader's day, of which Promised speaks

	SignedBy   *SignedBy   `json:"signed_by,omitempty"`
	Keys       []Key       `json:"keys"`
	KeyChanges []KeyChange `json:"key_changes"`
	Doubtful   []Doubtful  `json:"doubtful"`
	Guests     []Guest     `json:"guests"`
	Branches   []Branch    `json:"branches"`
	Lent       []Remark    `json:"lent"`

	With []Compared `json:"with"`

	Found         []Finding     `json:"found"`
	Rebuilt       []Rebuilt     `json:"rebuilt"`
	Left          []Left        `json:"left"`
	NeverLookedAt []NeverLooked `json:"never_looked_at"`
	Promised      []Certificate `json:"promised"`

	LeftOut      []LeftOut `json:"left_out"`   // entries that these pages do not print
	NotShown     []string  `json:"not_shown"`  // private fields without a slip, by name
	WordsHere    bool      `json:"words_here"` // the file, or the book, carries free texts
	WordsMissing []Missing `json:"words_missing"`
	Erased       []Erased  `json:"erased"`
	Pictures     Pictures  `json:"pictures"`
	Remarks      []Remark  `json:"remarks"`

	Alone string `json:"alone"` // what a paper cannot show alone
	Shows string `json:"shows"` // what the signature shows, and what not
}

// Pages is the answer about the pages of a paper, or about a bundle.
type Pages string

// The answers about pages.
const (
	LeftTheHouse Pages = "left-the-house"
	PagesDiffer  Pages = "pages-differ"
	GuestPaper   Pages = "guest-paper"
	SavedAgain   Pages = "saved-again"
	NoFacts      Pages = "no-facts"
	NoPDF        Pages = "none"
)

// Packing is the answer about a bundle, which has no pages.
type Packing string

// The answers about a bundle.
const (
	BundleLeft    Packing = "left-the-house"
	BundleDiffers Packing = "differs"
	GuestBundle   Packing = "guest-bundle"
)

// Form is what a file was told to be by its content.
type Form string

// The forms of a file.
const (
	FormNone   Form = "" // none of these
	FormPaper  Form = "paper"
	FormPDF    Form = "pdf" // a PDF that is no paper as it was written
	FormBundle Form = "bundle"
	FormLedger Form = "ledger"
)

// Ground is why an answer is bad or stays unsettled.
type Ground string

// Grounds of Bad.
const (
	NotWhole       Ground = "not-whole"        // the ledger
	NotAsItLeft    Ground = "not-as-it-left"   // the pages, or the bundle
	SeveralLedgers Ground = "several-ledgers"  // in one file
	OtherKey       Ground = "other-key"        // than the one expected
	Apart          Ground = "not-on-one-chain" // with another paper
	OtherPaperBad  Ground = "other-paper-bad"  // not whole, or not as it left the house
)

// Grounds of Unsettled.
const (
	KeyUnknown      Ground = "key-unknown"
	KeyRetired      Ground = "key-retired"
	KeyDemo         Ground = "key-demo"
	PagesUnvouched  Ground = "pages-saved-again"
	GuestUnvouched  Ground = "guest-paper"
	WordsMissing    Ground = "words-missing"
	BranchMissing   Ground = "branch-missing"
	NewerThanThis   Ground = "newer-than-this-tool"
	EntriesMissing  Ground = "entries-missing" // another paper has them
	PaperNotRead    Ground = "other-paper-not-read"
	OtherSavedAgain Ground = "other-paper-saved-again"
	OtherGuest      Ground = "other-paper-of-a-guest"
	OtherKeyUnknown Ground = "other-paper-key"   // its house is not settled, and this file does not know it
	DoubtfulFacts   Ground = "doubtful-by-newer" // entries of this file, by a newer one
)

// unsettledSays is each ground of Unsettled as part of a sentence.
var unsettledSays = map[Ground]string{
	KeyUnknown:      "it is signed by a key you do not know",
	KeyRetired:      "the key was retired, and this file does not show the change",
	KeyDemo:         "it is signed with a demo key, whose secret everybody has",
	PagesUnvouched:  "the file was saved again by some program, so the pages cannot be vouched for",
	GuestUnvouched:  "it is the paper of a guest, whose key is not in your trust",
	WordsMissing:    "a text that entries speak of is not in this file",
	BranchMissing:   "a side branch that was taken in is not in this file",
	NewerThanThis:   "it holds what is newer than this tool",
	EntriesMissing:  "another paper has entries that this one lacks",
	PaperNotRead:    "another paper could not be read",
	OtherSavedAgain: "another paper was saved again by some program",
	OtherGuest:      "another paper is that of a guest",
	OtherKeyUnknown: "another paper is signed by a key you do not know",
	DoubtfulFacts:   "a newer paper makes entries of this one doubtful",
}

// The exit codes of a check.
const (
	exitSettled   = 0
	exitNothing   = 2
	exitBad       = 3
	exitUnsettled = 7
)

// Exit is the exit code of the answer: 2 nothing was checked, 3 checked and
// bad, 7 checked as far as possible and not settled, 0 settled.
func (a Answer) Exit() int {
	switch {
	case a.NotChecked != "":
		return exitNothing
	case len(a.Bad) > 0:
		return exitBad
	case len(a.Unsettled) > 0:
		return exitUnsettled
	}
	return exitSettled
}

func (a *Answer) bad(g Ground) {
	if !slices.Contains(a.Bad, g) {
		a.Bad = append(a.Bad, g)
	}
}

func (a *Answer) unsettled(g Ground) {
	if !slices.Contains(a.Unsettled, g) {
		a.Unsettled = append(a.Unsettled, g)
	}
}

// UpTo is the head an answer speaks of: of a paper or bundle the one its
// given-out stands on, of a ledger its last entry.
type UpTo struct {
	Entry    int64  `json:"entry"`
	Day      string `json:"day"` // the day it happened
	HeadCode string `json:"head_code"`
	Written  string `json:"written,omitempty"` // the UTC day of its clock, where more than a day from Day
	DaysAgo  int    `json:"days_ago"`          // from that clock to now, below 0 where it is ahead
	Age      string `json:"age"`               // "1 year and 209 days", "today"; "" where it is ahead
}

// GivenOut is what the last entry says of the paper it was written for.
type GivenOut struct {
	Entry  int64  `json:"entry"`
	By     string `json:"by"` // fingerprint
	Paper  string `json:"paper"`
	Reader string `json:"reader"`
	AsOf   string `json:"as_of"`
}

// Coach is what the ledger is about.
type Coach struct {
	VIN     string `json:"vin,omitempty"`
	Serial  string `json:"serial,omitempty"`
	Builder string `json:"builder"`
	Model   string `json:"model"`
	Year    int64  `json:"year"`
	ID      string `json:"id"` // of the ledger
}

// Named is one of several ledgers in one file.
type Named struct {
	ID       string `json:"id"`
	Plate    string `json:"plate"` // VIN or serial
	House    string `json:"house"`
	Whole    bool   `json:"whole"`
	Entries  int64  `json:"entries"` // those that hold
	HeadCode string `json:"head_code"`
}

// Remark is one thing to be said of an entry.
type Remark struct {
	Entry string `json:"entry"`
	Says  string `json:"says"`
}

// newAnswer is the answer before anything was read.
func newAnswer(in Input) *Answer {
	return &Answer{
		Answer: "verify", V: 1, Paper: NoPDF, Name: in.Name, Today: in.Today.String(),
		Bad: []Ground{}, Unsettled: []Ground{}, Ledgers: []Named{}, Keys: []Key{}, KeyChanges: []KeyChange{},
		Doubtful: []Doubtful{}, Guests: []Guest{}, Branches: []Branch{}, Lent: []Remark{}, With: []Compared{},
		Found: []Finding{}, Rebuilt: []Rebuilt{}, Left: []Left{}, NeverLookedAt: []NeverLooked{},
		Promised: []Certificate{}, LeftOut: []LeftOut{}, NotShown: []string{}, WordsMissing: []Missing{},
		Erased: []Erased{}, Pictures: Pictures{Missing: []Picture{}}, Remarks: []Remark{},
	}
}
