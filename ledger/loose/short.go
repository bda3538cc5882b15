package loose

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"lapmark/ledger"
)

// Short is one short word of the trade: what is typed for it, and the word it
// stands for. A new one is one line of the table below.
type Short struct {
	Typed string   // small letters, words apart by one space
	Is    []string // a word of the tables of package ledger; of several each is a reading
	With  With     // what must stand beside it
}

// With says beside what a short word has its meaning.
type With string

// What a short word asks for.
const (
	Always        With = ""
	ByNumber      With = "beside a number"
	ByTemperature With = "with a temperature"
	ByTime        With = "with a time"
	BehindPlace   With = "behind a place"
	InWork        With = "in work"
	InFasten      With = "in fasten"
	InPinless     With = "in a pinless reading"
	InCore        With = "in a core sample"
	InCorrection  With = "in a correction"
	InDelivery    With = "in a delivery"
	WithSeam      With = "with a seam"
	WithTimber    With = "with timber"
	WithMember    With = "with a member"
	OnFoam        With = "behind on, onto or foam"
)

// Shorts returns all short words in the order of their table.
func Shorts() []Short {
	out := slices.Clone(shortTable())
	for i := range out {
		out[i].Is = slices.Clone(out[i].Is)
	}
	return out
}

func short(typed string, with With, is ...string) Short { return Short{typed, is, with} }

// shortTable is made when it is first asked for.
var shortTable = sync.OnceValue(shortList)

func shortList() []Short {
	return slices.Concat(
		shorts(Always, "rot", "rotten"),
		shorts(Always, "soft-deck", "spongy", "soft", "spongy deck"),
		shorts(Always, "delamination", "delam", "delaminated", "delaminating"),
		shorts(Always, "standing-water", "ponding", "puddle"),
		shorts(Always, "torn-membrane", "torn", "hole"),
		shorts(Always, "stray-screws", "odd screws", "stray screw", "odd screw"),
		shorts(Always, "lifted-edge", "edge lifted"),
		shorts(Always, "split-sealant", "sealant split"),
		shorts(Always, "take-off-fitting", "took off", "take off", "taken off", "removed"),
		shorts(Always, "refit-fitting", "put back", "refitted", "refit"),
		shorts(Always, "fit-core", "fitted core"),
		shorts(Always, "lay-membrane", "laid membrane", "membrane down"),
		shorts(Always, "lay-deck", "deck down", "ply down", "laid deck"),
		[]Short{
			short("sealed", Always, "cap-seal", "resealed"),
			short("caulk", Always, "cap-seal", "bed"),
			short("caulked", Always, "cap-seal", "bed"),
			short("glued", Always, "laminate", "reskin", "bed"),
		},
		shorts(Always, "dry-out", "dried"),
		shorts(Always, "press", "weights", "clamps"),
		shorts(WithMember, "replace-member", "new", "replaced", "replace"),
		shorts(Always, "pins", "mc", "meter", "pin"),
		shorts(Always, "hall-air", "hall"),
		shorts(Always, "foot-test", "foot", "footed"),
		shorts(WithSeam, "seam-probe", "probe", "probed"),
		shorts(WithTimber, "awl", "probe", "probed"),
		shorts(Always, "peel-in-place", "peel"),
		shorts(Always, "standing-water-look", "48 h look", "48h look"),
		shorts(Always, "air-and-soap", "soap"),

		shorts(ByNumber, "depth", "deep"),
		shorts(ByNumber, "height", "high"),
		shorts(ByNumber, "length", "long"),
		shorts(ByNumber, "width", "wide"),
		shorts(ByNumber, "diameter", "dia", "across"),
		shorts(ByNumber, "overlap", "lap"),
		shorts(ByNumber, "needed", "needs", "need"),
		shorts(ByNumber, "spacing", "every", "apart"),
		shorts(ByNumber, "deflection", "gives"),
		shorts(ByNumber, "over-layer", "over", "through"),
		shorts(ByNumber, "short-by", "short by"),
		shorts(ByNumber, "thickness", "thick"),
		shorts(ByNumber, "peel", "peeled"),
		shorts(Always, "area", "hollow"),
		shorts(Always, "humidity", "rh"),
		shorts(ByTemperature, "air-temp", "air"),
		shorts(ByTemperature, "ground-temp", "ground"),
		shorts(ByTemperature, "outside-temp", "outside"),
		shorts(ByTemperature, "surface-temp", "surface"),
		shorts(ByTime, "open-for", "open"),
		shorts(InPinless, "dry-number", "dry"),
		shorts(InCore, "dry-mass", "dry"),
		shorts(InCore, "wet-mass", "wet"),
		shorts(InDelivery, "through-cure", "k"),
		shorts(InDelivery, "fasteners", "screws", "staples", "nails", "rivets"),
		shorts(InDelivery, "least-temp", "least"),
		shorts(InDelivery, "cap-temp", "cap"),
		shorts(InDelivery, "press-least", "press"),
		shorts(InDelivery, "use-temp", "use"),
		shorts(InDelivery, "store-temp", "store"),
		shorts(InDelivery, "spread-range", "spread"),
		shorts(InDelivery, "open-time", "open time"),
		shorts(InDelivery, "open-life", "open life"),
		shorts(InDelivery, "dew-gap", "dew gap"),

		shorts(Always, "air-conditioner", "ac", "a/c", "aircon"),
		shorts(Always, "refrigerator-vent", "fridge vent"),
		shorts(Always, "roof-vent", "vent"),
		shorts(Always, "cable-gland", "gland"),
		shorts(Always, "solar-mount", "solar", "solar feet", "solar foot"),
		shorts(Always, "rack-mount", "rack"),
		shorts(Always, "dish-mount", "dish"),
		shorts(Always, "ladder-mount", "ladder"),
		shorts(Always, "gutter-rail", "drip rail"),
		shorts(Always, "rear-joint", "back joint"),
		shorts(Always, "rear-header", "back header"),
		shorts(Always, "rear-cap", "back cap"),
		shorts(BehindPlace, "left", "l", "lt"),
		shorts(BehindPlace, "right", "r", "rt"),
		shorts(Always, "middle", "mid", "centre", "center"),

		shorts(OnFoam, "foam-eps", "eps"),
		shorts(OnFoam, "foam-xps", "xps"),
		shorts(OnFoam, "foam-pur", "pur"),
		shorts(Always, "foam-eps", "eps foam"),
		shorts(Always, "foam-xps", "xps foam"),
		shorts(Always, "foam-pur", "pur foam"),
		shorts(Always, "membrane-tpo", "tpo membrane"),
		shorts(Always, "membrane-epdm", "epdm membrane"),
		shorts(Always, "membrane-pvc", "pvc membrane"),
		shorts(Always, "skin-sheet", "aluminium sheet", "aluminum sheet"),
		shorts(Always, "glue-pu-two-part", "two part pu glue", "two part pu"),
		shorts(Always, "glue-pu-moisture", "moisture pu glue", "one part pu glue", "one part pu"),
		shorts(Always, "glue-epoxy", "epoxy", "epoxy glue"),
		shorts(Always, "ply-core", "ply/core"),
		shorts(Always, "skin-ply", "skin/ply"),
		shorts(Always, "ply-ply", "ply/ply"),
		shorts(Always, "membrane-deck", "membrane/deck"),
		shorts(InFasten, "staple", "staples", "stapled"),
		shorts(InFasten, "screw", "screws", "screwed"),
		shorts(InFasten, "nail", "nails", "nailed"),
		shorts(InFasten, "rivet", "rivets", "riveted"),

		shorts(Always, "condensation", "sweating"),
		shorts(Always, "photo", "picture", "pic", "pictures", "pics", "photos"),
		shorts(Always, "phone", "phoned", "rang"),
		shorts(Always, "on-paper", "paper"),
		shorts(Always, "holder", "owner"),
		shorts(Always, "holder-does", "holder does", "does it himself", "do himself", "do it himself", "does it herself",
			"do it herself", "do it themselves"),
		shorts(Always, "before-wet-season", "wet season", "next wet season", "before the wet season",
			"before the next wet season", "before next wet season"),
		shorts(InWork, "kept-dry", "kept dry", "under cover", "under tarp"),
		shorts(InCorrection, "not-this-coach", "wrong coach", "not this coach"),
		shorts(Always, "override", "despite"),
		shorts(Always, "same-coach", "same coach as", "same coach"),
		shorts(Always, "correction", "correct"),
	)
}

func shorts(with With, is string, typed ...string) []Short {
	out := make([]Short, len(typed))
	for i, t := range typed {
		out[i] = short(t, with, is)
	}
	return out
}

// What is wrong with a word of the shop's own.
var (
	ErrNoWord   = errors.New("no word of the lists")
	ErrHides    = errors.New("a word of the lists already")
	ErrNotAWord = errors.New("no word that could be typed")
)

// OwnWord says whether a shop may let typed stand for is: one word of the
// lists, typed in letters, hiding none of the words there are. A short word of
// ours may be given another meaning. It returns typed as it is kept.
func OwnWord(typed, is string) (string, error) {
	typed = strings.Join(strings.Fields(strings.ToLower(typed)), " ")
	if typed == "" || strings.Trim(typed, "abcdefghijklmnopqrstuvwxyz -'") != "" || len(typed) > 40 || len(joined(typed)) < 2 {
		return "", fmt.Errorf("%w: %q: letters and hyphens", ErrNotAWord, typed)
	}
	if !listWords()[is] {
		return "", fmt.Errorf("%w: %q", ErrNoWord, is)
	}
	if vocabulary()[joined(typed)] {
		return "", fmt.Errorf("%w: %q", ErrHides, typed)
	}
	return typed, nil
}

// joined is a word or phrase without what stands between its letters: cap seal,
// cap-seal and capseal are one.
func joined(s string) string {
	if !strings.ContainsAny(s, " -'/") {
		return s
	}
	return together.Replace(s)
}

var together = strings.NewReplacer(" ", "", "-", "", "'", "", "/", "")

var listWords = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	for _, list := range ledger.Lists() {
		for _, w := range ledger.WordsOf(list) {
			out[w.Name] = true
		}
	}
	return out
})

// vocabulary are all words that mean something of their own, joined.
var vocabulary = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	for name := range listWords() {
		out[joined(name)] = true
	}
	for _, q := range ledger.Quantities() {
		out[joined(q.Name)] = true
	}
	for _, k := range ledger.Kinds() {
		out[joined(k.Name)] = true
		for _, f := range k.AllFields() {
			out[joined(f.Label)] = true
		}
	}
	for _, list := range [][]string{grammarWords, fillerWords, numberNames()} {
		for _, w := range list {
			out[joined(w)] = true
		}
	}
	for name := range unitTable {
		out[joined(name)] = true
	}
	delete(out, "")
	return out
})
