package check

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/cover/record"
	"lapmark/ledger/day"
	"lapmark/ledger/place"
	"lapmark/report/english"
	"lapmark/report/facts"
	"lapmark/report/plan"
)

// Wish is what is asked of a coach: a claim of its ledger, or a trouble with its
// days and places.
type Wish struct {
	Claim                     string // its tag or number; then the rest is read from the ledger
	Trouble                   string
	Noticed, Reported, Asked  day.Day
	At                        []place.Place // where it comes in
	Shows                     *place.Place
	Cause                     string
	Shown                     bool
	Coach                     string // the plate in front of us, "": that of the ledger
	Certificates              []string
	RefusedShelter, Elsewhere bool
}

// Cover is the answer to a question of cover, and its JSON: members are added,
// never changed. The first members speak of the first verdict.
type Cover struct {
	Answer    string    `json:"answer"` // "ask"
	V         int       `json:"v"`
	Coach     string    `json:"coach"`
	Verdict   string    `json:"verdict"`
	Share     int64     `json:"share_permille"`
	Most      int64     `json:"most_permille"`
	Ground    string    `json:"ground"`
	Grounds   []string  `json:"grounds"`
	Check     string    `json:"check"`
	Day       string    `json:"day"`
	Line      string    `json:"line"`
	Who       string    `json:"who"`
	Out       []string  `json:"out"`
	Verdicts  []Verdict `json:"verdicts"`
	Facts     []string  `json:"facts"`   // numbers of ledger entries
	OnPlan    []string  `json:"on_plan"` // the lines that run that day, as a plan numbers them from 1
	LeftOut   []Remark  `json:"left_out"`
	Rules     int       `json:"rules"`
	Whole     bool      `json:"whole"`
	UpTo      *UpTo     `json:"complete_up_to,omitempty"`
	Unsettled []Ground  `json:"unsettled"`
	Rights    string    `json:"rights"`

	replay *ledger.Replay
	facts  cover.Facts
	claim  *ledger.Act
	q      cover.Question
	judged []cover.Answer
	used   []ledger.No
	exit   int
	pages  []string // why these are not the pages, or the bundle, that left
	lent   bool     // a file in a reader's hand: the shop's own ledger may go on
}

// Verdict is one verdict of an answer: of one place of entry, or of all.
type Verdict struct {
	Verdict string   `json:"verdict"`
	Place   string   `json:"place"` // where it comes in, "" where that is open
	Share   int64    `json:"share_permille"`
	Most    int64    `json:"most_permille"`
	Grounds []string `json:"grounds"`
	Says    string   `json:"says"`     // to the holder
	Desk    string   `json:"desk"`     // for the desk
	Because []string `json:"because"`  // the grounds as sentences
	NotPaid []string `json:"not_paid"` // what is not paid, as sentences
	Line    string   `json:"line"`
	Day     string   `json:"day"`
	Check   string   `json:"check"`
	Who     string   `json:"who"`
}

// What keeps a question from being asked.
var (
	ErrAsk  = errors.New("cannot be asked")
	ErrNone = errors.New("no ledger in it")
)

// Ask checks a file or ledger and answers a question of cover from it. The
// error is ErrAsk where the question is not whole, ErrNone where there is no
// ledger to ask.
func Ask(in Input, w Wish) (Cover, error) {
	a, r := verify(in)
	if r == nil {
		return Cover{}, fmt.Errorf("%w: %s", ErrNone, orElse(a.NotChecked, "no entry of it holds"))
	}
	out := Cover{
		Answer: "ask", V: 1, Coach: r.Plate(), Whole: a.Whole, UpTo: a.UpTo, Unsettled: a.Unsettled, Rules: cover.Version,
		Rights: cover.Rights, LeftOut: []Remark{}, replay: r, exit: a.Exit(), lent: in.Slips == nil,
	}
	if slices.Contains(a.Bad, NotAsItLeft) {
		out.pages = a.pagesPart().Says
	}
	q, checks, err := out.question(w)
	if err != nil {
		return out, err
	}
	claim := ledger.No{}
	if out.claim != nil {
		claim = out.claim.No
	}
	f := record.Facts(r, claim)
	f.FirstBad = a.FirstBad
	out.q, out.facts = q, f
	if out.judged, err = cover.Ask(f, q); err != nil {
		return out, fmt.Errorf("%w: %w", ErrAsk, err)
	}
	out.used = record.Used(r, f, out.judged, checks)
	out.newer(r, f)
	out.write()
	out.leftOut(r)
	_, names := out.drawn()
	out.OnPlan = append([]string{}, names...)
	return out, nil
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// question makes the question of a wish: that of a claim, with what was said
// beside it, or one of its own.
func (c *Cover) question(w Wish) (q cover.Question, checks []ledger.No, err error) {
	if w.Claim != "" {
		no, known := c.replay.Tagged(strings.ToUpper(w.Claim))
		if !known {
			no, known = ledger.ParseNo(strings.TrimPrefix(w.Claim, "#"))
		}
		c.claim = c.replay.Act(no)
		if !known || c.claim == nil || c.claim.Kind != "claim" {
			return q, nil, fmt.Errorf("%w: %q is no claim of this ledger", ErrAsk, w.Claim)
		}
		q, checks = record.Question(c.replay, c.claim)
	}
	q.Coach, q.Certificates, q.Asked = w.Coach, w.Certificates, w.Asked
	q.Elsewhere, q.RefusedShelter = w.Elsewhere, w.RefusedShelter || q.RefusedShelter
	if w.Trouble != "" {
		q.Kind = w.Trouble
	}
	if !w.Noticed.IsZero() {
		q.Noticed = w.Noticed
	}
	if !w.Reported.IsZero() {
		q.Reported = w.Reported
	}
	if q.Reported.IsZero() {
		q.Reported = q.Noticed
	}
	if w.Shows != nil {
		at, err := c.point(*w.Shows)
		if err != nil {
			return q, nil, err
		}
		q.Shows = &at
	}
	if len(w.At) > 0 {
		q.Entries = nil
	}
	for _, p := range w.At {
		at, err := c.point(p)
		if err != nil {
			return q, nil, err
		}
		q.Entries = append(q.Entries, cover.Entry{At: at, Cause: w.Cause, Shown: w.Shown})
	}
	return q, checks, nil
}

// point is the middle of a place, where it is asked. A digit too many would read as
// "not in the warranty".
func (c *Cover) point(p place.Place) (cover.Point, error) {
	if off := c.replay.OffRoof(p); off != "" {
		return cover.Point{}, fmt.Errorf("%w: %s. Read the place again", ErrAsk, off)
	}
	all, err := record.Middles(c.replay, p)
	if err != nil {
		return cover.Point{}, fmt.Errorf("%w: %s: %w", ErrAsk, ledger.SayPlace(p), err)
	}
	if len(all) != 1 {
		return cover.Point{}, fmt.Errorf("%w: %s is %d places: ask one of them", ErrAsk, ledger.SayPlace(p), len(all))
	}
	return all[0], nil
}

// newer answers "cannot say" where the ledger holds what this program does not
// know and what can change cover.
func (c *Cover) newer(r *ledger.Replay, f cover.Facts) {
	odd := len(r.Newer()) > 0
	for _, cert := range r.OfKind("certificate") {
		odd = odd || cert.Counts && ledger.Int(cert.Body, "rules") > cover.Version
	}
	if !odd || f.FirstBad > 0 {
		return
	}
	for i := range c.judged {
		c.judged[i] = cover.Answer{Verdict: cover.NoVerdict, Day: c.judged[i].Day, Lead: string(NewerThanThis)}
		c.judged[i].Grounds = []cover.Ground{{Key: string(NewerThanThis)}}
	}
	c.used = nil
	if !slices.Contains(c.Unsettled, NewerThanThis) {
		c.Unsettled = append(c.Unsettled, NewerThanThis)
	}
	if c.exit == exitSettled {
		c.exit = exitUnsettled
	}
}

// write puts the verdicts into the members of the answer.
func (c *Cover) write() {
	for i, a := range c.judged {
		v := Verdict{
			Verdict: a.Verdict, Share: a.Share, Most: a.Most, Grounds: []string{}, Says: a.ForHolder(), Desk: a.ForDesk(),
			Because: []string{}, NotPaid: append([]string{}, a.OutSentences()...), Line: a.Line, Day: a.Day.String(), Check: a.Check, Who: a.Who,
		}
		if i < len(c.q.Entries) {
			v.Place = sayPoint(c.q.Entries[i].At)
		}
		for _, g := range a.Grounds {
			v.Grounds = append(v.Grounds, g.Text())
			v.Because = append(v.Because, saysGround(g))
		}
		if a.LawToo() {
			v.Because = append(v.Because, cover.LawMayGiveMore)
		}
		c.Verdicts = append(c.Verdicts, v)
	}
	a, v := c.judged[0], c.Verdicts[0]
	c.Verdict, c.Share, c.Most, c.Ground, c.Grounds = a.Verdict, a.Share, a.Most, a.Lead, v.Grounds
	c.Check, c.Day, c.Line, c.Who, c.Out = a.Check, v.Day, a.Line, a.Who, append([]string{}, a.Out...)
	c.Facts = []string{}
	for _, no := range c.used {
		c.Facts = append(c.Facts, no.String())
	}
}

func saysGround(g cover.Ground) string {
	if g.Key == string(NewerThanThis) {
		return "The ledger holds what is newer than this tool, and it can change the answer."
	}
	return g.Sentence()
}

func sayPoint(p cover.Point) string {
	return ledger.SayPlace(place.Place{Shape: place.Spot, Aft: place.At(p.Aft), Off: place.At(p.Off), Radius: place.UsualRadius})
}

// leftOut names what can change cover and was left out: a guest's that nobody
// adopted, and what is doubtful.
func (c *Cover) leftOut(r *ledger.Replay) {
	for _, a := range r.Acts {
		kind, _ := ledger.KindNamed(a.Kind)
		if a.Counts || !kind.Cover || a.StruckBy != (ledger.No{}) || a.Kind == "key-change" {
			continue
		}
		why := "a guest's, not taken over by the house"
		if a.House {
			why = "doubtful: signed between the last entry the shop vouches for and its report of a stolen key"
		}
		if len(c.LeftOut) < MaxNamed {
			c.LeftOut = append(c.LeftOut, Remark{a.No.String(), a.Kind + ", " + why})
		}
	}
}

// Exit is the exit code: that of the check, as far as the answer rests on it.
func (c Cover) Exit() int { return c.exit }

// Text is the answer for people: each verdict in one sentence, then why, then
// what it rests on.
func (c Cover) Text() string {
	var out []string
	if len(c.pages) > 0 {
		out = append(slices.Clone(c.pages), "What follows is from the ledger inside, not from them.", "")
	}
	for _, v := range c.Verdicts {
		if v.Place != "" && len(c.Verdicts) > 1 {
			out = append(out, "At "+v.Place+":")
		}
		out = append(out, v.Says, "")
		for _, why := range slices.Concat(v.Because, v.NotPaid) {
			out = append(out, "  "+why)
		}
		out = append(out, "  For the desk: "+v.Desk)
	}
	if len(c.Facts) > 0 {
		entries := english.Plural(len(c.Facts), "entry ", "entries ")
		out = append(out, "", "Rests on "+entries+strings.Join(c.Facts, ", ")+"; rules "+fmt.Sprint(c.Rules)+".")
	}
	for i, line := range c.OnPlan {
		out = append(out, fmt.Sprintf("Runs that day: %d  %s.", i+1, line))
	}
	for _, l := range c.LeftOut {
		out = append(out, "Left out: entry "+l.Entry+" ("+l.Says+").")
	}
	if c.UpTo != nil {
		out = append(out, fmt.Sprintf("Complete up to entry %d of %s.", c.UpTo.Entry, c.UpTo.Day))
		if c.lent && c.UpTo.Day < c.Day {
			out = append(out, "What came after that day is not in it, and may change the answer: ask for a newer paper.")
		}
	}
	for _, u := range c.Unsettled {
		out = append(out, "Not settled: "+unsettledSays[u]+".")
	}
	if len(c.Unsettled) > 0 {
		out = append(out, "lapmark verify says by whom it is signed, and how to settle it.")
	}
	return strings.Join(append(out, "", c.Rights), "\n")
}

// Plan is the roof as a picture: the lines that run on the day that counts,
// what others worked at, and the places asked.
func (c Cover) Plan() []byte {
	d, _ := c.drawn()
	return plan.SVG(d)
}

func (c Cover) drawn() (d plan.Drawing, lines []string) {
	var at []cover.Point
	for _, e := range c.q.Entries {
		at = append(at, e.At)
	}
	if c.q.Shows != nil {
		at = append(at, *c.q.Shows)
	}
	return facts.CoverPlan(c.replay, c.facts, c.judged[0].Day, at)
}
