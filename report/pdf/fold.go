package pdf

import (
	"slices"

	"lapmark/report"
)

// folds are where a sheet is folded, in mm from the top of the text block: the
// half and the thirds of A4 and of Letter. Lines break alike on both, so what
// keeps off a fold keeps off both.
var folds = [...]float64{
	297.0/2 - 18, 297.0/3 - 18, 297.0*2/3 - 18,
	279.4/2 - 9.7, 279.4/3 - 9.7, 279.4*2/3 - 9.7,
}

// offFold is how near VIN and head code may come to a fold, in mm.
const offFold = 4.0

// keepsOff tells whether spans hold what must not lie in a fold: what is set
// in mono, as VIN and head code are.
func keepsOff(spans []report.Span) bool {
	return slices.ContainsFunc(spans, func(s report.Span) bool { return s.Style == report.Mono })
}

// inFold tells whether one of the pieces that keep off the folds would lie in
// one, set from a height downward.
func inFold(pieces []piece, y float64) bool {
	for i, p := range pieces {
		y += gapAbove(pieces, i)
		for _, f := range folds {
			if p.offFold && y < f+offFold && y+p.height > f-offFold {
				return true
			}
		}
		y += p.height
	}
	return false
}

// shift is how much further down pieces have to be set to keep off the folds,
// 0 where there is no room for it.
func shift(pieces []piece, y, bottom float64) float64 {
	for by := 0.0; y+by+tall(pieces) <= bottom; by += 0.5 {
		if !inFold(pieces, y+by) {
			return by
		}
	}
	return 0
}
