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

// offFolds sets pieces further down where they would lie in a fold, each with
// those it is kept with, from a height downward. What is too high to stand
// between two folds stays where it is.
func offFolds(pieces []piece, y float64) []piece {
	out := slices.Clone(pieces)
	for from := 0; from < len(out); {
		to := from + 1
		for to < len(out) && out[to-1].keep {
			to++
		}
		y += gapAbove(out, from)
		for by := 0.0; by < blockHeight/3; by += 0.5 {
			if !inFold(out[from:to], y+by) {
				out[from] = lowered(out[from], by)
				break
			}
		}
		y += tall(out[from:to])
		from = to
	}
	return out
}

// lowered is a piece with so much room above it, at the top of a column too.
func lowered(p piece, by float64) piece {
	inner := p.draw
	p.height += by
	p.draw = func(c *canvas, x, y float64) { inner(c, x, y+by) }
	return p
}
