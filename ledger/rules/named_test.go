package rules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const split = "finding: split-sealant; at V2; with length 100 mm; %; on-the-face; before-rain; photo p.jpg"

func finding(parts string) string {
	return on("2020-03-20", strings.ReplaceAll(strings.Replace(split, "%", parts, 1), "; ;", ";"))
}

func TestHowIsTheHandKnown(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	refusal := []string{"no-how-known refused: Whose hand: another shop. How is that known?"}
	require.Equal(t, refusal, w.says(finding("whose other-shop")))
	require.Equal(t, refusal, w.says(finding("whose other-shop; known not-asked")))
	require.Empty(t, w.says(finding("whose other-shop; known from-signs, what \"roller marks\"")))
	require.Empty(t, w.says(finding("")), "nobody knows whose")
	require.Empty(t, w.says(finding("known not-asked")))
	require.Empty(t, w.says(finding("whose our-shop, entry #8")), "the entry shows it")
	require.Equal(t, refusal, w.says(on("2020-03-20",
		"correction: answers F4; was whose factory; is whose other-shop; was known from-signs, what \"first-fit sealant under the coat\"; why \"w\"; found \"f\"")))
}

func TestBusinessWithoutItsPaper(t *testing.T) {
	w := demoUpTo(t, "04.txt")
	later := func(parts string) string {
		return on("2020-03-20", "later-work: done 2020-03-18; whose other-shop; "+parts)
	}
	const mount = "solar-mount at spot 5000 aft 300 L layer membrane"
	refusal := []string{"named-no-paper refused: A business is named only with its paper. Write other-shop, or add the photo of the paper."}
	const named = `; private business "Larkhill Sun"`
	require.Equal(t, refusal, w.says(later("known paper; "+mount+named)))
	require.Equal(t, refusal, w.says(later("known told-by, who holder-1; "+mount+"; photo p.jpg"+named)))
	require.Empty(t, w.says(later("known paper; "+mount+"; photo p.jpg"+named)))
	require.Empty(t, w.says(later("known told-by, who holder-1; "+mount)), "nobody is named")
}

// What is bold in a finding or a work is noted where it is missing; a check
// beside it may have measured it.
func TestNotMeasuredIsNoted(t *testing.T) {
	w := demoUpTo(t, "06.txt")
	rot := func(parts string) string {
		return on("2020-03-24", "finding: rot; at rear-header 7340-7400 aft full width layer frame; "+parts+"in-the-frame; before-rain; photo p.jpg")
	}
	at := "rear header, 7340–7400 aft, full width, frame"
	require.Equal(t, []string{
		"not-measured noted: Rot at " + at + ": depth not measured.", "not-measured noted: Rot at " + at + ": thickness not measured.",
	}, w.says(rot("")))
	require.Equal(t, []string{"not-measured noted: Rot at " + at + ": depth not measured."}, w.says(rot("with thickness 45 mm; ")))
	require.Empty(t, w.says(rot("with thickness 45 mm; checked awl at rear-header, depth 12 mm; ")))
	require.Equal(t, []string{"not-measured noted: Curb at H1: height not measured."}, w.says(on("2020-03-24", "work: curb at H1")))
	require.Empty(t, w.says(on("2020-03-24", "work: curb at H1, height 40 mm")))
	require.Contains(t, w.says(on("2020-03-24", "upkeep: done-by our-shop; lines Q-0007; done at H1; checked awl at rear-header")),
		"not-measured refused: Awl without depth is not a check. Measure it, or write a remark.")
}
