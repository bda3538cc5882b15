package check

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/english"
	"lapmark/report/say"
)

// Finding is one defect that was found, and what became of it by the entries
// that name it.
type Finding struct {
	Entry  string   `json:"entry"`
	Tag    string   `json:"tag"`
	Day    string   `json:"day"`
	Defect string   `json:"defect"` // the word; Says in words
	Says   string   `json:"says"`
	Places string   `json:"places"` // in words
	Deep   string   `json:"deep"`
	Soon   string   `json:"soon"`
	Sure   string   `json:"sure"`
	By     string   `json:"by"` // house, or the fingerprint of a guest
	Became []Remark `json:"became"`
}

// Rebuilt is closed work of the house, or of a guest whose entry the house
// adopted.
type Rebuilt struct {
	Entry string `json:"entry"`
	Day   string `json:"day"`
	By    string `json:"by"` // house, or the fingerprint of a guest
	Ops   []Op   `json:"ops"`
}

// Op is one operation of closed work.
type Op struct {
	Op     string `json:"op"`
	Says   string `json:"says"`
	Places string `json:"places"`
}

// Left is a decision by which trouble was left, or put into other hands.
type Left struct {
	Entry  string `json:"entry"`
	Day    string `json:"day"`
	By     string `json:"by"` // house, or the fingerprint of a guest
	Choice string `json:"choice"`
	Places string `json:"places"`
	Says   string `json:"says"`
}

// NeverLooked is a place of which an entry says that nobody looked at it.
type NeverLooked struct {
	Entry  string `json:"entry"`
	Day    string `json:"day"`
	By     string `json:"by"` // house, or the fingerprint of a guest
	Places string `json:"places"`
	Area   int64  `json:"area_mm2,omitempty"` // 0 where it cannot be worked out
	Why    string `json:"why,omitempty"`
	Says   string `json:"says"`
}

// byHouse is how the house is named where a guest's fingerprint would stand.
const byHouse = "house"

// leaving are the decisions that leave a trouble where it is.
var leaving = []string{"leave", "holder-does", "another-shop", "refuse-opening", "no-answer"}

// content puts into the answer what the entries say of the coach. A guest's
// entry stands under his fingerprint; what was struck out, or is doubtful, is
// said elsewhere and left out here.
func (a *Answer) content(r *ledger.Replay) {
	a.rebuilt(r)
	answered, named := answersTo(r), naming(r)
	for _, act := range r.Acts {
		if !stands(act) {
			continue
		}
		switch act.Kind {
		case "finding":
			a.Found = append(a.Found, finding(act, answered))
		case "decision":
			if slices.Contains(leaving, act.Text("choice")) {
				a.Left = append(a.Left, left(r, act))
			}
		case "not-looked-at":
			a.NeverLookedAt = append(a.NeverLookedAt, neverLooked(r, act))
		case "certificate":
			a.Promised = append(a.Promised, a.certificate(act, named))
		}
	}
}

// stands says whether an act is to be shown as a fact: not struck out, and not
// a house entry that is doubtful or of a branch and not adopted.
func stands(act *ledger.Act) bool {
	return act.StruckBy == (ledger.No{}) && (act.Counts || act.Entry.Role == ledger.Guest)
}

// signer is house, or the fingerprint of a guest.
func signer(act *ledger.Act) string {
	if act.Entry.Role == ledger.Guest {
		return act.Entry.Line.Key
	}
	return byHouse
}

// guestSaid names the guest who wrote an act, and says where the house did not
// adopt it; of the house it is "".
func guestSaid(act *ledger.Act) string {
	switch by := signer(act); {
	case by == byHouse:
		return ""
	case act.Counts:
		return ", by " + by
	default:
		return ", by " + by + ", not adopted"
	}
}

// answersTo lists for each entry the decisions and the work that answer it.
func answersTo(r *ledger.Replay) map[ledger.No][]*ledger.Act {
	out := map[ledger.No][]*ledger.Act{}
	for _, act := range r.Acts {
		if act.Kind != "decision" && act.Kind != "work" || act.StruckBy != (ledger.No{}) {
			continue
		}
		for _, no := range act.Refs("answers") {
			out[no] = append(out[no], act)
		}
	}
	return out
}

func finding(act *ledger.Act, answered map[ledger.No][]*ledger.Act) Finding {
	return Finding{
		Entry: act.No.String(), Tag: act.Text("tag"), Day: act.Day().String(),
		Defect: act.Text("defect"), Says: say.Trouble(act),
		Places: placesSaid(act.Body["places"]), Deep: ledger.Said("deep", act.Text("deep")),
		Soon: ledger.Said("soon", act.Text("soon")), Sure: ledger.Said("sure", act.Text("sure")),
		By: signer(act), Became: became(act.No, answered),
	}
}

// MaxNamed is how many entries are listed behind one finding or certificate,
// and how many places are worked out for one area: what one entry may ask of
// the reader has a bound.
const MaxNamed = 40

// became lists what decisions and work became of a finding: those that answer
// it, and the work that answers such a decision. What was struck out, is
// doubtful or of a branch and not adopted became nothing; what a guest did
// stands under his fingerprint.
func became(no ledger.No, answered map[ledger.No][]*ledger.Act) []Remark {
	out := []Remark{}
	told := map[ledger.No]bool{}
	var follow func(no ledger.No)
	follow = func(no ledger.No) {
		for _, act := range answered[no] {
			if len(out) == MaxNamed {
				return
			}
			if told[act.No] || !stands(act) {
				continue
			}
			told[act.No] = true
			if act.Kind == "work" {
				says := opsSaid(act) + ", " + ledger.Said("state", act.Text("state"))
				out = append(out, Remark{act.No.String(), says + guestSaid(act)})
				continue
			}
			out = append(out, Remark{act.No.String(), ledger.Said("choice", act.Text("choice")) + guestSaid(act)})
			follow(act.No)
		}
	}
	follow(no)
	return out
}

func opsSaid(act *ledger.Act) string {
	var out []string
	for _, op := range rules.Ops(act) {
		if word := ledger.Said("operations", op.Word); !slices.Contains(out, word) {
			out = append(out, word)
		}
	}
	return strings.Join(out, ", ")
}

// rebuilt lists closed work: of the house by the rules, of a guest all that a
// closed work entry names, where the house adopted it.
func (a *Answer) rebuilt(r *ledger.Replay) {
	closed := map[*ledger.Act][]rules.Op{}
	for _, op := range rules.Closed(r) {
		closed[op.Act] = append(closed[op.Act], op)
	}
	for _, act := range r.Acts {
		ops := closed[act]
		if act.Kind == "work" && act.Entry.Role == ledger.Guest && act.Counts && act.Text("state") == "closed" {
			ops = rules.Ops(act)
		}
		if len(ops) == 0 {
			continue
		}
		one := Rebuilt{Entry: act.No.String(), Day: act.Day().String(), By: signer(act)}
		for _, op := range ops {
			one.Ops = append(one.Ops, Op{op.Word, ledger.Said("operations", op.Word), placesSaid(op.Object["places"])})
		}
		a.Rebuilt = append(a.Rebuilt, one)
	}
}

// left says a decision to leave trouble, with what was left and what the
// holder was told, as far as the slip is at hand.
func left(r *ledger.Replay, act *ledger.Act) Left {
	out := Left{
		Entry: act.No.String(), Day: act.Day().String(), By: signer(act), Choice: act.Text("choice"),
		Places: placesSaid(act.Body["places"]),
	}
	var what []string
	for _, no := range act.Refs("answers") {
		if f := r.Act(no); f != nil && f.Kind == "finding" {
			what = append(what, say.Trouble(f))
		}
	}
	if len(what) == 0 {
		what = append(what, ledger.Said("choice", out.Choice))
	}
	switch out.Choice {
	case "leave":
		out.Says = strings.TrimSpace(report.Fill(report.FixedSays("left"), "place", out.Places,
			"what", strings.Join(what, ", "), "day", act.Day().Long(), "consequence", r.Opened[act.No]["warned"]))
	case "holder-does":
		out.Says = report.Fill(report.FixedSays("own-work"), "place", out.Places)
	default:
		out.Says = sentence(out.Places + ": " + strings.Join(what, ", ") + ". " +
			english.Capital(ledger.Said("choice", out.Choice)) + ", " + act.Day().Long())
	}
	return out
}

// neverLooked says where nobody looked, with the area where the measures of
// the roof allow it.
func neverLooked(r *ledger.Replay, act *ledger.Act) NeverLooked {
	out := NeverLooked{
		Entry: act.No.String(), Day: act.Day().String(), By: signer(act), Places: placesSaid(act.Body["places"]),
		Why: r.Opened[act.No]["why"],
	}
	if places := act.Places(); len(places) <= MaxNamed {
		if region, err := r.Region(act, places); err == nil {
			out.Area = region.Area()
		}
	}
	says := report.FixedSays("not-looked")
	area := strings.TrimSuffix(ledger.SayArea(out.Area), " m²")
	if out.Area == 0 {
		says = strings.TrimPrefix(says, "{area} m² ")
	}
	out.Says = english.Capital(report.Fill(says, "area", area, "where", where(act)))
	return out
}

// where says the places of an act without their layers.
func where(act *ledger.Act) string {
	var out []string
	for _, p := range act.Places() {
		out = append(out, say.Place(p))
	}
	if len(out) == 0 {
		return placesSaid(act.Body["places"])
	}
	return strings.Join(out, "; ")
}

// placesSaid says a list of places in words.
func placesSaid(v format.Value) string {
	list, _ := v.(format.Array)
	places := ledger.PlacesOf(v)
	says := say.Places(places)
	if len(places) < len(list) {
		says = strings.TrimPrefix(says+"; "+saysNewPlace, "; ")
	}
	return says
}
