package report

// Law says by which law's form the warranty is written.
type Law int

// The three. US adds the items of 16 CFR 701.3 and the title of 15 USC 2303,
// EU those of Directive (EU) 2019/771 Art. 17.
const (
	OtherLaw Law = iota
	US
	EU
)

// lawWords are the words of the terms file, in the order of the constants.
var lawWords = []string{"other", "us", "eu"}

// title is what a warranty is called where the terms do not say.
func (l Law) title() string {
	return [...]string{"Warranty", "Limited warranty", "Commercial guarantee"}[l]
}

// Size is the size of the sheets.
type Size int

// The two sizes. Both carry the same block of 178 × 260 mm, so lines break
// alike on them.
const (
	A4 Size = iota
	Letter
)

// sizeWords and unitWords are the words of the terms file, in the order of the
// constants.
var (
	sizeWords = []string{"a4", "letter"}
	unitWords = []string{"mm", "both"}
)
