package ledger

// Erasures are the private values and free texts that the house has erased: by
// entry and name, the entry that says so. What a doubtful entry says does not
// count.
func (r *Replay) Erasures() map[No]map[string]No {
	out := map[No]map[string]No{}
	for _, a := range r.Acts {
		if a.Kind != "erased" || !a.House || !a.Counts {
			continue
		}
		for _, no := range a.Refs("answers") {
			if out[no] == nil {
				out[no] = map[string]No{}
			}
			for _, name := range Texts(a.Body["names"]) {
				out[no][name] = a.No
			}
		}
	}
	return out
}
