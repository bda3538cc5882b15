package shop_test

import (
	"cmp"
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/ledger"
)

// inks puts the notes of one coach into pencil and into ink, and says what
// became of the one written last.
func inks(t *testing.T, s *shop.Shop, plate, text string) shop.Result {
	t.Helper()
	notes, err := s.Reading([]byte(text), "")
	require.NoError(t, err)
	for _, n := range notes {
		require.Empty(t, n.Why, n.Line)
	}
	require.NoError(t, s.Pencil(notes, nil))
	in, err := s.Ink(context.Background(), plate, keyring.DemoSigner("K1"), true)
	require.NoError(t, err)
	return slices.MaxFunc(in.Results, func(a, b shop.Result) int { return cmp.Compare(a.Note, b.Note) })
}

func heldBy(t *testing.T, r shop.Result, sentence string) {
	t.Helper()
	var held *shop.Held
	require.ErrorAs(t, r.Why, &held)
	require.Equal(t, sentence, held.Outcome.Sentence)
}

// A picture that lies in the file of another coach is asked about.
func TestPhotoInTheFileOfAnotherCoach(t *testing.T) {
	folder := demoShop(t)
	s := open(t, folder)
	c, err := s.Coach("4137")
	require.NoError(t, err)
	hex := ledger.Texts(c.Ledger.Entry(ledger.No{N: 3}).Body()["photos"])[0]
	data, err := os.ReadFile(filepath.Join(folder, "photos", hex))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "inbox", "same.jpg"), data, 0o600))
	const intake = "coach TB78-1133\non 2020-04-25 zone +02:00\nintake: serial TB78-1133; no-vin \"1974\"; builder \"B\"; model \"M\"; year 1974; " +
		"deck length 3600 mm, front 1900 mm, rear 1900 mm; holder holder-1; papers-shown none; made-safe none; no-photo \"dark\"; " +
		"private holder-name \"Maud Ellingrave\"; private complaint \"damp\"; by desk\n"
	r := inks(t, s, "TB78-1133", intake+"remark: at 0-100 aft full width; photo same.jpg; by desk\n")
	heldBy(t, r, "The same photo is in the file of GZ9TF785XEW004137.")
}

// The clock and the private values of a note are asked about when it is inked.
func TestRulesSeeClockAndPrivateValues(t *testing.T) {
	s, err := shop.Open(demoShop(t), shop.Options{Now: func() time.Time { return time.Date(2020, 5, 4, 10, 0, 0, 0, time.UTC) }})
	require.NoError(t, err)
	defer func() { require.NoError(t, s.Close()) }()
	heading := func(day string) string { return "coach " + demoCoach + "\non " + day + " zone +02:00\n" }
	heldBy(t, inks(t, s, demoCoach, heading("2020-05-05")+"remark: note \"x\"; by desk\n"),
		"Remark is dated 5 May 2020, this machine says 4 May 2020 12:00. Mend the date or set the clock.")
	heldBy(t, inks(t, s, demoCoach, heading("2020-05-04")+"later-work: done 2020-05-02; whose other-shop; known told-by, who holder-1; "+
		"solar-mount at spot 5000 aft 300 L layer membrane; private business \"Larkhill Sun\"; by desk\n"),
		"A business is named only with its paper. Write other-shop, or add the photo of the paper.")
	r := inks(t, s, demoCoach, heading("2020-04-26")+"remark: note \"x\"; by desk\n")
	require.Equal(t, "Written 8 days after it happened.", r.Outcomes[0].Sentence)
	c, err := s.Coach(demoCoach)
	require.NoError(t, err)
	require.Equal(t, "late-note", ledger.Objects(c.Ledger.Last().Body()["limits"])[0]["rule"])
}

// A note that another window wrote anew does not stand as it was answered here.
func TestAskedNoteThatWasMendedElsewhere(t *testing.T) {
	s := open(t, demoShop(t))
	a, err := s.Ask("remark", "4137", "")
	require.NoError(t, err)
	require.NoError(t, s.Answer(a, "spot 900 aft 0"))
	stands, err := s.Stands(a)
	require.NoError(t, err)
	require.True(t, stands)
	_, err = s.Mend(a.Note, `remark: at spot 950 aft 0; note "here"; by hand-1`)
	require.NoError(t, err)
	stands, err = s.Stands(a)
	require.NoError(t, err)
	require.False(t, stands)
}
