// Package cases reads the worked cases of cover in testdata/cover, and of other
// folders that are written alike. The cases were written by hand from the rules
// of the cover calculus, the day counts from a calendar and the shares from the
// formula; they are no program's output.
package cases

import (
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/cover"
	"lapmark/ledger/day"
)

// onDay is a day of a case; "" is none yet.
type onDay struct{ day.Day }

func (d *onDay) UnmarshalText(text []byte) (err error) {
	if len(text) > 0 {
		d.Day, err = day.Parse(string(text))
	}
	return err
}

type caseBox [4]int64

func (b caseBox) box() cover.Box { return cover.Box{Front: b[0], Rear: b[1], Left: b[2], Right: b[3]} }

func boxes(list []caseBox) []cover.Box {
	var out []cover.Box
	for _, b := range list {
		out = append(out, b.box())
	}
	return out
}

type casePoint [2]int64

func (p casePoint) point() cover.Point { return cover.Point{Aft: p[0], Off: p[1]} }

type caseNumbers struct {
	ReportDays        *int   `json:"report_days"`
	NoticeDays        *int   `json:"notice_days"`
	TransfersMost     *int   `json:"transfers_most"`
	DeclareDays       *int   `json:"declare_days"`
	Margin            *int64 `json:"margin_mm"`
	TieIn             *int64 `json:"tie_in_mm"`
	Touch             *int64 `json:"touch_mm"`
	UpkeepEveryMonths *int   `json:"upkeep_every_months"`
	UpkeepEarlyDays   *int   `json:"upkeep_early_days"`
	UpkeepGraceDays   *int   `json:"upkeep_grace_days"`
	UpkeepMissedMost  *int   `json:"upkeep_missed_most"`
}

func set[T any](to *T, v *T) {
	if v != nil {
		*to = *v
	}
}

func (n caseNumbers) numbers() cover.Numbers {
	out := cover.UsualNumbers()
	set(&out.ReportDays, n.ReportDays)
	set(&out.NoticeDays, n.NoticeDays)
	set(&out.TransfersMost, n.TransfersMost)
	set(&out.DeclareDays, n.DeclareDays)
	set(&out.Margin, n.Margin)
	set(&out.TieIn, n.TieIn)
	set(&out.Touch, n.Touch)
	set(&out.UpkeepEveryMonths, n.UpkeepEveryMonths)
	set(&out.UpkeepEarlyDays, n.UpkeepEarlyDays)
	set(&out.UpkeepGraceDays, n.UpkeepGraceDays)
	set(&out.UpkeepMissedMost, n.UpkeepMissedMost)
	return out
}

type caseCertificate struct {
	No             string      `json:"no"`
	Coach          string      `json:"coach"`
	Issuer         string      `json:"issuer"`
	WorksFrom      onDay       `json:"works_from"`
	FirstDay       onDay       `json:"first_day"`
	Numbers        caseNumbers `json:"numbers"`
	ExcludedCauses *[]string   `json:"excluded_causes"`
	ShopSideCauses *[]string   `json:"shop_side_causes"`
	InsteadOf      []struct {
		Certificate string   `json:"certificate"`
		Lines       []string `json:"lines"`
	} `json:"instead_of"`
	Lines []struct {
		Line       string `json:"line"`
		Promise    string `json:"promise"`
		Months     int    `json:"months"`
		FullMonths int    `json:"full_months"`
		Floor      int64  `json:"floor_percent"`
		Upkeep     bool   `json:"upkeep"`
		Places     []struct {
			Place string  `json:"place"`
			Box   caseBox `json:"box"`
		} `json:"places"`
	} `json:"lines"`
}

func (c caseCertificate) certificate() cover.Certificate {
	out := cover.Certificate{
		No: c.No, Coach: c.Coach, Issuer: c.Issuer, WorksFrom: c.WorksFrom.Day, FirstDay: c.FirstDay.Day,
		Numbers: c.Numbers.numbers(), ExcludedCauses: cover.UsualExcluded(), ShopSideCauses: cover.UsualShopSide(),
	}
	set(&out.ExcludedCauses, c.ExcludedCauses)
	set(&out.ShopSideCauses, c.ShopSideCauses)
	for _, r := range c.InsteadOf {
		out.InsteadOf = append(out.InsteadOf, cover.LineRef(r))
	}
	for _, l := range c.Lines {
		line := cover.Line{
			Line: l.Line, Promise: l.Promise, Months: l.Months, FullMonths: l.FullMonths, Floor: 10 * l.Floor, Upkeep: l.Upkeep,
		}
		for _, p := range l.Places {
			line.Places = append(line.Places, cover.Place{Place: p.Place, Box: p.Box.box()})
		}
		out.Lines = append(out.Lines, line)
	}
	return out
}

type caseCoach struct {
	Coach  string  `json:"coach"`
	Deck   caseBox `json:"deck"`
	Record struct {
		Whole    bool  `json:"whole"`
		FirstBad int64 `json:"first_bad"`
	} `json:"record"`
	Certificates []caseCertificate `json:"certificates"`
	Upkeep       []struct {
		Day  onDay  `json:"day"`
		By   string `json:"by"`
		Seen []struct {
			Certificate string `json:"certificate"`
			Line        string `json:"line"`
			Place       string `json:"place"`
			State       string `json:"state"`
			Photos      int    `json:"photos"`
			Sealant     string `json:"sealant"`
		} `json:"seen"`
	} `json:"upkeep"`
	Sales []struct {
		Day        onDay `json:"day"`
		Told       onDay `json:"told"`
		SameKeeper bool  `json:"same_keeper"`
	} `json:"sales"`
	LaterWork []struct {
		Day      onDay     `json:"day"`
		By       string    `json:"by"`
		Declared bool      `json:"declared"`
		Layers   []string  `json:"layers"`
		Boxes    []caseBox `json:"boxes"`
		Back     onDay     `json:"back"`
	} `json:"later_work"`
	Left []struct {
		Day    onDay   `json:"day"`
		Kind   string  `json:"kind"`
		Box    caseBox `json:"box"`
		Mended onDay   `json:"mended"`
	} `json:"left"`
	OwnWork []struct {
		What string  `json:"what"`
		Box  caseBox `json:"box"`
	} `json:"own_work"`
	Standings []struct {
		Certificate string   `json:"certificate"`
		Word        string   `json:"word"`
		Day         onDay    `json:"day"`
		Told        onDay    `json:"told"`
		Lines       []string `json:"lines"`
		Reason      string   `json:"reason"`
		ReplacedBy  string   `json:"replaced_by"`
	} `json:"standings"`
	HandOvers []struct {
		Day        onDay    `json:"day"`
		From       string   `json:"from"`
		To         string   `json:"to"`
		Lines      []string `json:"lines"`
		OpenClaims bool     `json:"open_claims"`
	} `json:"hand_overs"`
}

func (c caseCoach) facts() cover.Facts {
	out := cover.Facts{Coach: c.Coach, Deck: c.Deck.box(), FirstBad: c.Record.FirstBad}
	for _, one := range c.Certificates {
		out.Certificates = append(out.Certificates, one.certificate())
	}
	for _, u := range c.Upkeep {
		act := cover.Upkeep{Day: u.Day.Day, By: u.By}
		for _, s := range u.Seen {
			act.Seen = append(act.Seen, cover.Seen(s))
		}
		out.Upkeep = append(out.Upkeep, act)
	}
	for _, s := range c.Sales {
		out.Sales = append(out.Sales, cover.Sale{Day: s.Day.Day, Told: s.Told.Day, SameKeeper: s.SameKeeper})
	}
	for _, w := range c.LaterWork {
		out.LaterWork = append(out.LaterWork, cover.LaterWork{
			Day: w.Day.Day, By: w.By, Declared: w.Declared, Layers: w.Layers, Boxes: boxes(w.Boxes), Back: w.Back.Day,
		})
	}
	for _, l := range c.Left {
		out.Left = append(out.Left, cover.Left{Day: l.Day.Day, Kind: l.Kind, Box: l.Box.box(), Mended: l.Mended.Day})
	}
	for _, o := range c.OwnWork {
		out.OwnWork = append(out.OwnWork, cover.OwnWork{What: o.What, Box: o.Box.box()})
	}
	for _, s := range c.Standings {
		out.Standings = append(out.Standings, cover.Standing{
			Certificate: s.Certificate, Word: s.Word, Day: s.Day.Day, Told: s.Told.Day, Lines: s.Lines, Reason: s.Reason,
			ReplacedBy: s.ReplacedBy,
		})
	}
	for _, h := range c.HandOvers {
		out.HandOvers = append(out.HandOvers, cover.HandOver{
			Day: h.Day.Day, From: h.From, To: h.To, Lines: h.Lines, OpenClaims: h.OpenClaims,
		})
	}
	return out
}

// Question is what a case asks: Ask is "standing", or empty.
type Question struct {
	Ask          string     `json:"ask"`
	Day          onDay      `json:"day"`
	Coach        string     `json:"coach"`
	Kind         string     `json:"kind"`
	Noticed      onDay      `json:"noticed"`
	Reported     onDay      `json:"reported"`
	Asked        onDay      `json:"asked"`
	Certificates []string   `json:"certificates"`
	Shows        *casePoint `json:"shows"`
	Entries      []struct {
		At    casePoint `json:"at"`
		Cause string    `json:"cause"`
		Shown bool      `json:"shown"`
	} `json:"entries"`
	Possible       []caseBox `json:"possible"`
	Elsewhere      bool      `json:"elsewhere"`
	RefusedShelter bool      `json:"refused_shelter"`
}

// Cover is the question as package cover asks it.
func (q Question) Cover() cover.Question {
	out := cover.Question{
		Coach: q.Coach, Kind: q.Kind, Noticed: q.Noticed.Day, Reported: q.Reported.Day, Asked: q.Asked.Day,
		Certificates: q.Certificates, Possible: boxes(q.Possible), Elsewhere: q.Elsewhere, RefusedShelter: q.RefusedShelter,
	}
	if q.Shows != nil {
		p := q.Shows.point()
		out.Shows = &p
	}
	for _, e := range q.Entries {
		out.Entries = append(out.Entries, cover.Entry{At: e.At.point(), Cause: e.Cause, Shown: e.Shown})
	}
	return out
}

// Case is one case: a coach, a question, the answers expected.
type Case struct {
	Name     string                     `json:"name"`
	Base     string                     `json:"base"`
	Coach    json.RawMessage            `json:"coach"`
	Set      map[string]json.RawMessage `json:"set"`
	Add      map[string][]json.RawMessage
	Question Question        `json:"question"`
	Expect   json.RawMessage `json:"expect"`
	Why      string          `json:"why"`
}

// Facts are the coach of a case: its base with what is set and added.
func (c Case) Facts(t *testing.T, folder string) cover.Facts {
	t.Helper()
	text := []byte(c.Coach)
	if len(text) == 0 {
		var err error
		text, err = os.ReadFile(filepath.Join(folder, c.Base))
		require.NoError(t, err)
	}
	members := map[string]json.RawMessage{}
	require.NoError(t, json.Unmarshal(text, &members))
	maps.Copy(members, c.Set)
	for name, more := range c.Add {
		var list []json.RawMessage
		if old, there := members[name]; there {
			require.NoError(t, json.Unmarshal(old, &list))
		}
		joined, err := json.Marshal(append(list, more...))
		require.NoError(t, err)
		members[name] = joined
	}
	whole, err := json.Marshal(members)
	require.NoError(t, err)
	var coach caseCoach
	require.NoError(t, Strict(whole, &coach))
	return coach.facts()
}

// Strict reads JSON that has no member but those of v.
func Strict(text []byte, v any) error {
	d := json.NewDecoder(strings.NewReader(string(text)))
	d.DisallowUnknownFields()
	return d.Decode(v)
}

// Answer is one expected answer.
type Answer struct {
	Verdict string   `json:"verdict"`
	Share   int64    `json:"share"`
	Most    int64    `json:"most"`
	Lead    string   `json:"lead"`
	Grounds []string `json:"grounds"`
	Check   string   `json:"check"`
	Day     string   `json:"day"`
	Line    string   `json:"line"`
	Who     string   `json:"who"`
	Out     []string `json:"out"`
}

// Stands is one expected row of a standing.
type Stands struct {
	Line     string `json:"line"`
	Word     string `json:"word"`
	Since    string `json:"since"`
	LastDay  string `json:"last_day"`
	Months   int    `json:"months"`
	Share    int64  `json:"share"`
	DaysLeft int    `json:"days_left"`
	Who      string `json:"who"`
}

// Read returns the cases of the .json files of a folder, by file; a file that
// holds no list of cases is a base.
func Read(t *testing.T, folder string) map[string][]Case {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*.json"))
	require.NoError(t, err)
	out := map[string][]Case{}
	for _, path := range files {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		if !strings.HasPrefix(strings.TrimSpace(string(text)), "[") {
			continue
		}
		var list []Case
		require.NoError(t, Strict(text, &list), path)
		out[filepath.Base(path)] = list
	}
	require.NotEmpty(t, out, "no cases in %s", folder)
	return out
}

// Base is the coach of a base file.
func Base(t *testing.T, path string) cover.Facts {
	t.Helper()
	return Case{Base: filepath.Base(path)}.Facts(t, filepath.Dir(path))
}
