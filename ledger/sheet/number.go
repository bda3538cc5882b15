package sheet

import (
	"strconv"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// scale says how the numbers of a unit are printed: divided by 10^digits, with
// at least least decimals, then the word.
type scale struct {
	digits, least int
	word          string
	signed        bool
}

var scales = map[ledger.Unit]scale{
	ledger.UnitMm:       {0, 0, "mm", false},
	ledger.UnitUm:       {3, 0, "mm", false},
	ledger.UnitRootDay:  {3, 0, "mm/rtd", false},
	ledger.UnitMm2:      {6, 0, "m2", false},
	ledger.UnitCount:    {0, 0, "", false},
	ledger.UnitPerMille: {1, 1, "%", false},
	ledger.UnitMg:       {3, 0, "g", false},
	ledger.UnitG:        {0, 0, "g", false},
	ledger.UnitPa:       {0, 0, "Pa", false},
	ledger.UnitN:        {0, 0, "N", false},
	ledger.UnitPeel:     {0, 0, "N/50mm", false},
	ledger.UnitDeciC:    {1, 1, "C", true},
	ledger.UnitDeciK:    {1, 1, "K", true},
	ledger.UnitSpeed:    {3, 0, "m/min", false},
	ledger.UnitFlow:     {3, 0, "L/min", false},
	ledger.UnitMin:      {0, 0, "min", false},
	ledger.UnitSpread:   {0, 0, "g/m2", false},
	ledger.UnitTreated:  {0, 0, "ml/m2", false},
	ledger.UnitDensity:  {0, 0, "kg/m3", false},
	ledger.UnitYears:    {0, 0, "years", false},
	ledger.UnitMonths:   {0, 0, "months", false},
	ledger.UnitDays:     {0, 0, "d", false},
	ledger.UnitLoad:     {0, 0, "kg/m2", false},
}

// larger units, used when a number reaches them (or, for hours, is a whole
// number of them).
var (
	kilogram   = scale{3, 0, "kg", false}
	kilopascal = scale{3, 0, "kPa", false}
	hour       = scale{0, 0, "h", false}
	dose       = scale{2, 2, "h", false}
)

func decimal(n int64, s scale) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	text := strconv.FormatInt(n, 10)
	if s.digits == 0 {
		return sign + text
	}
	if pad := s.digits + 1 - len(text); pad > 0 {
		text = strings.Repeat("0", pad) + text
	}
	whole, part := text[:len(text)-s.digits], text[len(text)-s.digits:]
	for len(part) > s.least && part[len(part)-1] == '0' {
		part = part[:len(part)-1]
	}
	if part == "" {
		return sign + whole
	}
	return sign + whole + "." + part
}

// undecimal reads what decimal writes, and more: the caller compares what is
// written back.
func undecimal(s string, sc scale) (int64, bool) {
	whole, part, _ := strings.Cut(s, ".")
	if len(part) > sc.digits || len(s) > 18 {
		return 0, false
	}
	n, err := strconv.ParseInt(whole+part+strings.Repeat("0", sc.digits-len(part)), 10, 64)
	if err != nil || n < 0 && !sc.signed || n > format.MaxInteger || n < -format.MaxInteger {
		return 0, false
	}
	return n, true
}

// oneNumber writes a number with its unit as tokens.
func oneNumber(n int64, u ledger.Unit) item {
	switch {
	case u == ledger.UnitSlope:
		return bare("1:" + strconv.FormatInt(n, 10))
	case u == ledger.UnitG && n >= 1000:
		return bare(decimal(n, kilogram), kilogram.word)
	case u == ledger.UnitPa && n >= 1000:
		return bare(decimal(n, kilopascal), kilopascal.word)
	case u == ledger.UnitMin && n > 0 && n%60 == 0:
		return bare(decimal(n/60, hour), hour.word)
	}
	sc := scales[u]
	out := bare(decimal(n, sc))
	if sc.word != "" {
		out = append(out, token{s: sc.word})
	}
	return out
}

func (c *cursor) oneNumber(u ledger.Unit) (int64, error) {
	typed := c.next()
	if typed == "" {
		return 0, unclear(ReasonNumber, "a number is missing before %q", c.rest())
	}
	if u == ledger.UnitSlope {
		n, ok := undecimal(strings.TrimPrefix(typed, "1:"), scale{})
		if !ok || !strings.HasPrefix(typed, "1:") {
			return 0, unclear(ReasonNumber, "%s is no fall: write 1:50", typed)
		}
		return n, nil
	}
	sc, factor := c.scaleOf(u)
	n, ok := undecimal(typed, sc)
	if !ok {
		return 0, unclear(ReasonNumber, "%s is no number of %s", typed, sc.word)
	}
	if sc.word != "" && !c.take(sc.word) {
		return 0, unclear(ReasonUnit, "%s is written with %s behind it", typed, sc.word)
	}
	return n * factor, nil
}

// scaleOf looks at the next word for the larger unit.
func (c *cursor) scaleOf(u ledger.Unit) (sc scale, factor int64) {
	switch w := c.peek(); {
	case u == ledger.UnitG && w == kilogram.word:
		return kilogram, 1
	case u == ledger.UnitPa && w == kilopascal.word:
		return kilopascal, 1
	case u == ledger.UnitMin && w == hour.word:
		return hour, 60
	}
	return scales[u], 1
}

// several numbers of one quantity with the unit behind.
func several(numbers []int64, u ledger.Unit, sep string) item {
	sc := scales[u]
	texts := make([]string, len(numbers))
	for i, n := range numbers {
		texts[i] = decimal(n, sc)
	}
	out := bare(strings.Split(strings.Join(texts, sep), " ")...)
	if sc.word != "" {
		out = append(out, token{s: sc.word})
	}
	return out
}

func (c *cursor) several(u ledger.Unit, sep string) ([]int64, error) {
	sc := scales[u]
	var texts []string
	if sep == " x " {
		texts = append(texts, c.next())
		for c.take("x") {
			texts = append(texts, c.next())
		}
	} else {
		texts = strings.Split(c.next(), sep)
	}
	var out []int64
	for _, typed := range texts {
		n, ok := undecimal(typed, sc)
		if !ok {
			return nil, unclear(ReasonNumber, "%q is no number of %s", typed, sc.word)
		}
		out = append(out, n)
	}
	if sc.word != "" && !c.take(sc.word) {
		return nil, unclear(ReasonUnit, "%s is written with %s behind it", strings.Join(texts, sep), sc.word)
	}
	return out, nil
}

// quantity writes the value of a quantity, without its word.
func quantity(q ledger.Quantity, v format.Value) (item, error) {
	if n, ok := v.(int64); ok && q.Many == ledger.OneNumber {
		return oneNumber(n, q.Unit), nil
	}
	numbers, ok := integers(v)
	if !ok || q.Many == ledger.OneNumber {
		return nil, unclear(ReasonNumber, "%s holds no such number", q.Name)
	}
	switch q.Many {
	case ledger.PairOfNumbers:
		return several(numbers, q.Unit, " x "), nil
	case ledger.ListOfNumbers:
		if len(numbers) == 0 {
			return bare("none"), nil
		}
	}
	return several(numbers, q.Unit, "/"), nil
}

func (c *cursor) quantity(q ledger.Quantity) (format.Value, error) {
	var numbers []int64
	var err error
	want := 0
	switch q.Many {
	case ledger.OneNumber:
		return c.oneNumber(q.Unit)
	case ledger.PairOfNumbers:
		numbers, err = c.several(q.Unit, " x ")
		want = 2
	case ledger.LowHigh:
		numbers, err = c.several(q.Unit, "/")
		want = 2
	default:
		if c.take("none") {
			return format.Array{}, nil
		}
		numbers, err = c.several(q.Unit, "/")
	}
	if err == nil && want > 0 && len(numbers) != want {
		return nil, unclear(ReasonNumber, "%s has two numbers", q.Name)
	}
	return array(numbers), err
}

func integers(v format.Value) ([]int64, bool) {
	list, ok := v.(format.Array)
	if !ok {
		return nil, false
	}
	out := make([]int64, len(list))
	for i, member := range list {
		if out[i], ok = member.(int64); !ok {
			return nil, false
		}
	}
	return out, true
}

func array(numbers []int64) format.Array {
	out := make(format.Array, len(numbers))
	for i, n := range numbers {
		out[i] = n
	}
	return out
}

// UnitWord is the word behind a number of a unit: "mm", "" for a bare count.
func UnitWord(u ledger.Unit) string { return scales[u].word }

// ReadValues reads quantities, parted by commas, into an object: "moisture 31.0
// %". The error is [Unclear].
func ReadValues(o format.Object, text string) error {
	parts, err := split(text)
	if err != nil {
		return err
	}
	for _, p := range parts {
		for _, it := range p {
			if err := readQuantity(o, it); err != nil {
				return err
			}
		}
	}
	return nil
}
