package report_test

import (
	"strings"
	"testing"

	"lapmark/report"
	"lapmark/testdata/quillstead"
)

// set puts a sentence in the place of the one of that key; empty takes it out.
func set(says []report.Sentence, key, with string) []report.Sentence {
	var out []report.Sentence
	for _, s := range says {
		if s.Key == key {
			s.Says = with
		}
		if s.Says != "" {
			out = append(out, s)
		}
	}
	return out
}

func missing(ms []report.Missing) string {
	var names []string
	for _, m := range ms {
		if m.Name == "" || m.Place == "" {
			names = append(names, "unnamed")
		}
		names = append(names, m.Item)
	}
	return strings.Join(names, " ")
}

// Each item of a US-style written warranty (16 CFR 701.3, 701.4; 15 USC 2302,
// 2303, 2308) is taken out or spoilt in turn; it is missed by its name.
func TestDisclosuresDropped(t *testing.T) {
	f, terms := q7Facts(t), quillstead.Terms()
	terms.Implied = "Implied warranties last as long as the longest line."
	whole := report.CertificateSentences(f, terms)
	if got := missing(report.Disclosures(f, whole)); got != "" {
		t.Fatalf("nothing is missing, and %s is named", got)
	}
	for _, c := range []struct{ item, key, with string }{
		{"US-0", "claim-2", "Tell us; how, see our website."},
		{"US-1", "for", ""},
		{"US-1", "sale", ""},
		{"US-2", "line-3", ""},
		{"US-2", "complement", ""},
		{"US-2", "left-1", ""},
		{"US-2", "own-work-1", ""},
		{"US-2", "not-looked-1", ""},
		{"US-3", "pays-1", ""},
		{"US-3", "pays-not-1", ""},
		{"US-3", "pays-share-1", ""},
		{"US-4", "first-day", ""},
		{"US-4", "line-2-until", ""},
		{"US-5", "claim-1", ""},
		{"US-5", "who", "Ask for us in town."},
		{"US-6", "dispute", ""},
		{"US-7", "us-implied", ""},
		{"US-7", "us-implied", "Some States do not allow limitations."},
		{"US-8", "us-consequential", ""},
		{"US-9", "us-rights", ""},
		{"US-10", "no-card", ""},
		{"US-11", "title", "Warranty"},
		{"US-11", "title", "Full warranty"},
		{"US-12", "pays-1", "This stands in place of all other warranties; labour and material."},
		{"US-13", "rights-1", "All implied warranties are excluded."},
		{"US-14", "upkeep-who", "Only we may do it; the kind of sealant is enough."},
		{"US-14", "upkeep-who", ""},
		{"US-16", "pays-share-1", "Lines 1 and 2: we bear this share of labour:"},
	} {
		says := set(whole, c.key, c.with)
		if c.key == "rights-1" {
			says = append(whole, report.Sentence{Key: c.key, Says: c.with})
		}
		if c.item == "US-16" {
			says = set(says, "pays-1", "We make it good.")
		}
		if got := " " + missing(report.Disclosures(f, says)) + " "; !strings.Contains(got, " "+c.item+" ") {
			t.Errorf("without %s, %s is not named but%s", c.key, c.item, got)
		}
	}
	says := set(set(set(whole, "pays-1", "We make it good."), "pays-share-1", "Lines 1 and 2: this share:"), "pays-free", "")
	if got := missing(report.Disclosures(f, says)); !strings.Contains(got, "US-15") {
		t.Errorf("without a word on labour US-15 is not named but %s", got)
	}
}

// Every item of the table of disclosures that binds what is printed is looked
// for: US-0 to US-16, and EU-3 to EU-7.
func TestDisclosureItems(t *testing.T) {
	for law, want := range map[report.Law]string{
		report.US:       "US-0 US-1 US-2 US-3 US-4 US-5 US-6 US-9 US-10 US-11 US-14 US-15 US-16",
		report.EU:       "EU-3 EU-4 EU-5 EU-6 EU-7",
		report.OtherLaw: "",
	} {
		f := q7Facts(t)
		f.Law = law
		bare := []report.Sentence{{Key: "later", Says: "See our website."}, {Key: "other", Says: "See our website."}}
		if got := missing(report.Disclosures(f, bare)); got != want {
			t.Errorf("law %d: an empty paper misses %q, not %q", law, got, want)
		}
	}
}

func TestEUDisclosures(t *testing.T) {
	f, terms := q7Facts(t), quillstead.Terms()
	f.Law, terms.Law = report.EU, report.EU
	whole := report.CertificateSentences(f, terms)
	if got := missing(report.Disclosures(f, whole)); got != "" {
		t.Errorf("nothing is missing, and %s is named", got)
	}
	for item, key := range map[string]string{"EU-3": "eu-remedies", "EU-4": "who", "EU-5": "claim-1", "EU-6": "line-1", "EU-7": "pays-1"} {
		if got := missing(report.Disclosures(f, set(whole, key, ""))); !strings.Contains(got, item) {
			t.Errorf("without %s, %s is not named but %s", key, item, got)
		}
	}
}
