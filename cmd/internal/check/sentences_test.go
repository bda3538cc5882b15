package check

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/format"
)

// TestSentences makes a file for each sentence about the record, the pages and
// the key, and reads it word for word.
func TestSentences(t *testing.T) {
	house := seed("quillstead")
	paper := coachOf3(t).history(house)
	saved := bytes.Replace(paper, []byte("%lapmark-tail 1"), []byte("% another line "), 1)
	edited := bytes.Replace(coachOf3(t).text, []byte(`"depth":14`), []byte(`"depth":41`), 1)
	print := house.Public().Fingerprint()
	tests := map[string]struct {
		change func(in *Input)
		head   string
		says   []string
	}{
		"as it left": {func(*Input) {}, "These pages", []string{"This is the paper that left the house."}},
		"not the pages": {func(in *Input) { in.File = append(bytes.Clone(paper), '\n') }, "These pages", []string{
			"The facts inside are whole, but these pages are not the ones that left the house.", saysTail,
		}},
		"saved again": {func(in *Input) { in.File = saved }, "These pages", []string{
			"The facts inside are whole; the file was saved again by some program, so the pages cannot be vouched for.",
		}},
		"saved again, not whole": {func(in *Input) { in.File = bytes.Replace(saved, []byte(`"depth":14`), []byte(`"depth":41`), 1) }, "These pages", []string{
			"The file was saved again by some program, so the pages cannot be vouched for.",
		}},
		"pages alone": {func(in *Input) { in.File = examplePart(t, "face.pdf") }, "file", []string{
			"A picture without facts: it proves nothing.",
		}},
		"edited": {func(in *Input) { in.File = edited }, "file", []string{
			"Entry 2 is not what was signed.", "Its signature does not fit its words.", "Entry 1 holds; nothing later is used.",
			"Tarnholt Fellside 78, 2014, VIN GZ9TF785XEW004137, ledger G2PY600A3BBD.",
		}},
		"the first entry edited": {func(in *Input) { in.File = bytes.Replace(edited, []byte("Tarnholt"), []byte("Tarnhold"), 1) }, "file", []string{
			"Entry 1 is not what was signed.", "Its signature does not fit its words.", "No entry holds; nothing is used.",
		}},
		"an entry taken out": {func(in *Input) {
			in.File = append(bytes.Clone(coachOf3(t).text[:len(coachOf3(t).text)-len(coachOf3(t).after(1))]), coachOf3(t).after(2)...)
		}, "file", []string{
			"Entry 2 is not what was signed.", "It does not follow from the entries before it: one was changed, taken out or put in.",
			"Entry 1 holds; nothing later is used.", "Tarnholt Fellside 78, 2014, VIN GZ9TF785XEW004137, ledger G2PY600A3BBD.",
		}},
		"in your trust": {func(*Input) {}, "By whom", []string{
			"Quillstead Roof Works, " + print + ": in your trust as quillstead.",
			"The keys, and the entries each signed:",
			"  " + print + ", house, calls itself Quillstead Roof Works, in your trust as quillstead: entries 1 to 4",
		}},
		"unknown": {func(in *Input) { in.Trust = trusting(t, nil) }, "By whom", []string{
			"Whole, signed by a key you do not know: " + print + ". Compare it with one from another source; read from the same paper it proves nothing.",
			"The keys, and the entries each signed:",
			"  " + print + ", house, calls itself Quillstead Roof Works, unknown: entries 1 to 4",
		}},
		"retired": {func(in *Input) { in.Retired = in.Trust }, "By whom", []string{
			"Whole, but this key was retired; this file does not show the change. Ask the shop for a newer one.",
			"The keys, and the entries each signed:",
			"  " + print + ", house, calls itself Quillstead Roof Works, retired: entries 1 to 4",
		}},
		"a bundle that cannot be read": {func(in *Input) { in.File = []byte("PK\x03\x04") }, "This bundle", []string{
			"This bundle is not as it left the house.",
			"Not a bundle as it is written here: at byte 0, the file ends in a header.",
			"Nothing in it was checked; ask for it again, as it left the house.",
		}},
		"left out": {func(in *Input) {
			w := coachOf3(t)
			face := w.face()
			w.giveOut(house, format.Object{"left-out": format.Array{int64(2)}}, map[string]string{faceName: hexOf(face)})
			in.File = mustPaper(t, face, w.files(faceName, "holder-name"))
		}, "Not printed, not shown", []string{
			"1 entry not printed: 2, finding, 16 Mar 2020.",
			"Not shown to you: business, complaint, holder address, holder mail, holder phone, plate, to name, valuables. " +
				"Where they stood, the file holds a sealed mark, so that it still checks whole.",
		}},
		"shows": {func(*Input) {}, "What this shows", []string{"A paper alone proves nothing.", Verify(input(t, paper)).Shows}},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			in := input(t, paper)
			test.change(&in)
			for _, p := range Verify(in).Parts() {
				if p.Head == test.head {
					require.Equal(t, test.says, p.Says)
					return
				}
			}
			t.Fatalf("no part %q", test.head)
		})
	}
}
