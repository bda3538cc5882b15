// Package quillstead is the invented shop of the demo, for tests.
package quillstead

import "lapmark/report"

// Terms are the shop's terms: its name and desk, the law of the demo, all else
// as a shop begins.
func Terms() report.Terms {
	terms := report.DefaultTerms()
	terms.Shop = "Quillstead Roof Works"
	terms.Address = "4 Tannery Rise, Cold Elm"
	terms.Desk = "warranty desk"
	terms.Telephone = "555 0147"
	terms.Law = report.US
	return terms
}
