package report

import (
	"fmt"

	"lapmark/report/plan"
)

// Shop is who answers for the warranty.
type Shop struct{ Name, Address, Desk, Telephone, Mail string }

// Coach is what the paper is about. VIN or Serial is set, not both.
type Coach struct {
	Builder, Model string
	Year           int
	VIN, Serial    string
}

// mark is the VIN or serial, and which of the two it is.
func (c Coach) mark() (label, says string) {
	if c.VIN != "" {
		return "VIN", c.VIN
	}
	return "serial", c.Serial
}

// says names the coach: "Tarnholt Fellside 78, 2014".
func (c Coach) says() string { return fmt.Sprintf("%s %s, %d", c.Builder, c.Model, c.Year) }

// markLabel and markCell are the mark in a table of facts.
func (c Coach) markLabel() Cell {
	says, _ := c.mark()
	return label(says)
}

func (c Coach) markCell() Cell {
	_, says := c.mark()
	return Cell{Spans: []Span{{Text: says, Style: Mono}}}
}

// PaperHead is the state of the ledger a paper shows: complete up to entry
// UpTo of UpToDay, with its head code; GivenOut is the entry of this paper
// itself.
type PaperHead struct {
	GivenOut, UpTo int
	UpToDay        Day
	Code           string
}

// Copy says for whom the paper is.
type Copy int

// The two copies of a holder's paper: his own, which names him, and the one to
// pass on.
const (
	OwnCopy Copy = iota
	PassOnCopy
)

// CertificateFacts is all a certificate prints, as plain values. Places and
// checks come said in words; lengths in mm, areas in mm², shares per mille.
type CertificateFacts struct {
	Law   Law
	Units Units
	Shop  Shop
	Coach Coach
	Head  PaperHead
	Copy  Copy
	// HolderName is printed on his own copy alone.
	HolderName string

	// Number is the number of the certificate: "Q-0007". Given is the day it
	// is given out, FirstDay the first day in the warranty; EndedDay is the
	// day before, on which Ended ended: "work and cure".
	Number          string
	Given, FirstDay Day
	Ended           string
	EndedDay        Day
	// Beside are certificates that run on untouched; InsteadOf are lines of
	// others that this one takes the place of.
	Beside    []string
	InsteadOf []Replaced
	// Guest is set where a guest gives the certificate.
	Guest *Guest

	// RegionWords say where the largest line's region is: "from 3700 mm aft
	// to the rear". ComplementWords name the rest of the deck as the subject
	// of a sentence: "The front half"; ComplementMany makes it plural.
	// WholeDeck: nothing of the deck is left out.
	RegionWords, ComplementWords string
	ComplementMany, WholeDeck    bool
	// ComplementPlaces says where the rest is: "Everything forward of
	// 3700 mm, tie-in apart".
	ComplementPlaces string

	Lines       []CertificateLine
	NotLooked   []NotLooked
	Left        []LeftTrouble
	OwnWork     []string
	AnotherShop []AnotherShop
	Overrides   []Override
	Looser      []LooserLimit
	Cures       []Cure
	Checks      []PassedCheck

	Numbers    Numbers
	Conditions []string
	Exclusions []string
	ShopSide   []string
	// Upkeep is set where a line asks for it.
	Upkeep *UpkeepFacts
	// Rights is the sentence that stands on every certificate, claim answer
	// and history.
	Rights string

	Next NextHand

	// Earlier are all papers of this coach given out before this one, oldest
	// first.
	Earlier []EarlierPaper

	// RoofPlan is the plan of page one, PlanList the same as a list, Legend
	// the samples that occur in it, at most six. PlanNames are what stands on
	// the plan by its short name alone, to be printed below it.
	RoofPlan            plan.Drawing
	PlanList, PlanNames []string
	Legend              []LegendItem
}

// CertificateLine is one numbered line: what is promised, where, how long.
type CertificateLine struct {
	Number int
	// Promise is the key word: watertight-membrane, bond …
	Promise string
	// Places say where: "the whole field"; Layers into what, where that is
	// not plain from the promise. Area in mm², 0 where it is not printed.
	Places, Layers string
	Area           int64
	First, Last    Day
	// Months is the term, Full the months in full, Floor the least share per
	// mille. Shares is the share per mille at 0, 1, 2 … full months, one for
	// each month of the term; it may be left out where Full is the term.
	Months, Full, Floor int
	Shares              []int
	Upkeep              bool
	// Notices are sentences to be printed on the line, as of a lot under a
	// maker's notice.
	Notices []string
	Swatch  plan.Drawing
}

// Replaced is a certificate some lines of which this one stands instead of.
type Replaced struct {
	Certificate string
	Lines       []int
	Decided     Day
}

// Guest is who gives a certificate that is not the house's.
type Guest struct{ Name, Fingerprint, House string }

// NotLooked is a place nobody has looked at: Where in words, Area in mm².
type NotLooked struct {
	Area         int64
	Where        string
	AtHolderWish bool
}

// LeftTrouble is known trouble that the holder left: "R1", "flange 11 of
// 25 mm", the day, and the consequence as he was told.
type LeftTrouble struct {
	Place, What string
	Day         Day
	Consequence string
}

// AnotherShop is a place the holder gave to another shop.
type AnotherShop struct {
	Place string
	Day   Day
}

// Override is a rule that was set aside: the first sentence of the rule, the
// reason, who gave it, the entry and the short name of the rule.
type Override struct {
	RuleSays, Reason, Mark string
	Entry                  string // 30, or 60/1 of a side branch
	Rule                   string
}

// LooserLimit is a limit looser than usual that decided something.
type LooserLimit struct {
	Value, Usual string
	Entry        string // 30, or 60/1 of a side branch
}

// Cure is what cured through, and when.
type Cure struct {
	What string
	At   Moment
}

// PassedCheck is a check and its result in words: "tap", "none hollow".
type PassedCheck struct{ What, Result string }

// UpkeepFacts say what the yearly look is: its places in words, and its first
// window.
type UpkeepFacts struct {
	Places          string
	Due, From, Till Day
}

// NextHand is what the next hand on this roof must know. What is empty is
// printed as not known.
type NextHand struct {
	// Region says where this lies: "behind 3700 mm".
	Region                                           string
	Membrane, Weld, CoreDeck, Glue, Sealant, UnderIt string
	// KeepAway are sentences: what not to bring near, and why.
	KeepAway []string
	// Bare is the plan to mark the place on.
	Bare plan.Drawing
}

// LegendItem is one sample of the plan's legend and what it means.
type LegendItem struct {
	Sample plan.Drawing
	Says   string
}
