package report

// Fixed lists the fixed sentences in their order.
func Fixed() []FixedSentence { return append([]FixedSentence(nil), fixedSentences...) }
