package report

// What a certificate asks for and leaves out when nothing else is said.
// Common practice, no source.

// UsualConditions are what a certificate asks for, with or without a line that
// asks for upkeep.
func UsualConditions(upkeep bool) []string {
	all := []string{
		"yearly-upkeep", "report-within", "first-look", "keep-from-worsening", "tell-of-sale", "transfers-at-most",
		"no-new-holes", "let-open-up",
	}
	if upkeep {
		return all
	}
	return all[1:]
}

// UsualExclusions are the causes a certificate leaves out.
func UsualExclusions() []string {
	return []string{
		"branch-strike", "hail", "collision", "foot-load", "spill", "fire", "animal", "new-opening", "owner-screw",
		"body-flexing", "condensation", "ac-condensate", "plumbing", "from-uphill", "owner-work", "left-trouble",
		"appearance", "contents", "upkeep-wear", "delay",
	}
}

// UsualShopSide are the causes for which the shop answers though upkeep was
// late.
func UsualShopSide() []string {
	return []string{
		"bad-weld", "poor-preparation", "wrong-fastening", "starved-glue", "wrong-glue", "closed-wet", "cut-short",
		"material-fault",
	}
}
