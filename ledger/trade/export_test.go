package trade

// Hours returns the dose at the last log point, not rounded.
func (r Result) Hours() float64 { return r.dosed / 60 }
