package ledger

// Quantity is one measured or counted thing: one word, one unit, wherever it
// stands. Values are kept as integers of that unit for ever.
type Quantity struct {
	Name  string // the word: "moisture"
	Unit  Unit   // how one number of it is kept, typed and printed
	Many  Many   // whether it is one number or several
	Means string // what is measured
}

// Unit names how one number of a quantity is kept in an entry and printed in a
// sheet.
type Unit string

// The units of the quantities. The first word is how the number is kept.
const (
	UnitMm       Unit = "mm"              // whole millimetres: 14 mm
	UnitUm       Unit = "um"              // micrometres, printed as mm: 1.5 mm
	UnitRootDay  Unit = "um per root day" // micrometres, printed as mm/rtd: 3 mm/rtd
	UnitMm2      Unit = "mm2"             // square millimetres, printed as m2: 13.42 m2
	UnitCount    Unit = "count"           // pieces, bare: 14
	UnitPerMille Unit = "0.1 %"           // tenths of a percent: 31.0 %
	UnitMg       Unit = "mg"              // milligrams, printed as g: 46.2 g
	UnitG        Unit = "g"               // grams: 600 g, 3.6 kg
	UnitPa       Unit = "Pa"              // pascals: 900 Pa, 27.9 kPa
	UnitN        Unit = "N"               // newtons: 14 N
	UnitPeel     Unit = "N/50mm"          // newtons per 50 mm: 212 N/50mm
	UnitDeciC    Unit = "0.1 C"           // tenths of a degree Celsius: 17.0 C
	UnitDeciK    Unit = "0.1 K"           // tenths of a kelvin: 5.3 K
	UnitSpeed    Unit = "mm/min"          // printed as m/min: 1.8 m/min
	UnitFlow     Unit = "ml/min"          // printed as L/min: 6.9 L/min
	UnitMin      Unit = "min"             // minutes: 35 min, 12 h
	UnitSpread   Unit = "g/m2"            // 14 g/m2
	UnitTreated  Unit = "ml/m2"           // 14 ml/m2
	UnitDensity  Unit = "kg/m3"           // 14 kg/m3
	UnitSlope    Unit = "1:n"             // 1:50
	UnitYears    Unit = "years"           // 14 years
	UnitMonths   Unit = "months"          // 14 months
	UnitDays     Unit = "days"            // 14 d
	UnitLoad     Unit = "kg/m2"           // 14 kg/m2
)

// Many says how many numbers a quantity has.
type Many int

// One number; a pair (60 x 45 mm); a list (212/198/205 N/50mm, none); low and
// high (10.0/30.0 C).
const (
	OneNumber Many = iota
	PairOfNumbers
	ListOfNumbers
	LowHigh
)

// Word is one word of the trade's vocabulary: lower case, one meaning.
type Word struct {
	Name    string   // "standing-water"
	List    string   // the list it stands in: "defects"
	Means   string   // what it means, one short sentence
	Says    string   // how a sentence says it, "" = the name with spaces for hyphens
	Layers  []string // defects, operations: the layers it belongs to when a place names none
	Carries []Carry  // the quantities it must and may carry, in the order of asking
	Passes  *Passes  // checks: the limit a result passes by when none is typed
	Source  string   // where the word's rule or number is from
}

// Carry is one quantity that a word carries.
type Carry struct {
	Quantity string
	Must     bool
}

// Passes is the default limit of a check. Exactly one of AtMost and AtLeast is
// set; for a list quantity each of its numbers must keep it, and AtMost 0 of
// a list that counts open places is "none".
type Passes struct {
	Quantity        string
	AtMost, AtLeast *int64
	Also            []Passes // how the check itself must be made to pass at all: a coupon of 24 h
	Source          string
}
