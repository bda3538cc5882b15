package rules_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

const all = "done at left-edge, at right-edge, at rear-joint, at A1, at V2, at H1, at P1, at G1"

func upkeep(doneBy, lines, looked string) string {
	return on("2021-04-19", "upkeep: done-by "+doneBy+"; lines Q-0007"+lines+"; "+looked)
}

func TestUpkeepOfPart(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.add(w.certificate())
	require.Empty(t, w.says(upkeep("our-shop", " L4 L5", all)))
	require.Equal(t, []string{"upkeep-part noted: Line 4 not served: P1; G1 not reached."},
		w.says(upkeep("our-shop", " L4 L5", "done at left-edge, at right-edge, at rear-joint, at A1, at V2, at H1; left at G1; not-reached at P1")))
	require.Empty(t, w.says(upkeep("our-shop", " L5", "done at left-edge, at right-edge, at rear-joint")), "line 4 is not spoken of")
	require.Equal(t, []string{"upkeep-part noted: Line 6 not served: tie-in, 3625–3775 aft, full width not reached."},
		w.says(upkeep("our-shop", "", all)), "the whole certificate")
	require.Empty(t, w.says(upkeep("our-shop", " L6", "done at 3615-3785 aft full width")), "its box holds it")
	require.Empty(t, w.says(upkeep("our-shop", " L6", "done at 3635-3765 aft full width")), "within the tape")
	require.Len(t, w.says(upkeep("our-shop", " L6", "done at 3636-3765 aft full width")), 1)
	require.Empty(t, w.says(upkeep("our-shop", " L4", "resealed at P1, uses B-20-03 400 mm; done at A1, at V2, at H1, at G1")))
}

// Another's hand counts alike, with a photo: first due 2021-04-24, 60 days of
// grace.
func TestUpkeepByAnotherHand(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.add(w.certificate())
	const fiveOfSix = "done at V2, photo a.jpg; done at A1, photo b.jpg; done at H1, photo c.jpg; done at P1, photo d.jpg; done at G1"
	for _, hand := range []string{"holder", "other-shop"} {
		require.Equal(t, []string{"upkeep-part noted: No photo of G1: one by 23 June 2021 mends it."}, w.says(upkeep(hand, " L4", fiveOfSix)))
		require.Empty(t, w.says(upkeep(hand, " L4", fiveOfSix+", photo e.jpg")))
	}
	require.Empty(t, w.says(upkeep("our-shop", " L4", fiveOfSix)))
	late := func(day string) []string {
		return w.says(on(day, "upkeep: done-by holder; lines Q-0007 L4; "+fiveOfSix))
	}
	require.Equal(t, []string{"upkeep-part noted: No photo of G1: one by 23 June 2021 mends it."}, late("2021-06-23"))
	require.Equal(t, []string{"upkeep-part noted: No photo of G1: one by 23 June 2022 mends it."}, late("2021-06-24"))
	require.Empty(t, late("2025-06-24"), "line 4 has no due day left")
}
