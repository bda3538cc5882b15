package shop_test

import (
	"context"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/ledger/book"
	"lapmark/ledger/format"
)

// A mended VIN takes pencil, inked notes and photos with it, also where the
// program was cut off right behind the commit.
func TestNotesFollowAMendedPlate(t *testing.T) {
	const old, plate = "GZ9TF785XEW004137", "GZ9RK6128HB000387"
	folder := demoShop(t)
	s := open(t, folder)
	inked, err := s.Book.Inked(old)
	require.NoError(t, err)
	photos, err := s.Book.InkedPhotos(old)
	require.NoError(t, err)
	require.NotEmpty(t, photos)
	notes, err := s.Reading([]byte("coach "+old+"\non 2020-04-25 zone +02:00\n"+
		"correction: answers #1; was vin "+old+"; is vin "+plate+"; why \"w\"; found \"f\"; by foreman\n"+
		"finding F20: rot; at rear-header; with depth 12 mm, thickness 45 mm; in-the-frame; before-rain; by hand-1\n"), "")
	require.NoError(t, err)
	require.NoError(t, s.Pencil(notes, nil))
	in, err := s.Ink(context.Background(), old, keyring.DemoSigner("K1"), true)
	require.NoError(t, err)
	require.Equal(t, plate, in.Plate)
	follow := func() {
		t.Helper()
		left, err := s.Book.Notes(plate)
		require.NoError(t, err)
		require.Len(t, left, 1)
		now, err := s.Book.Inked(plate)
		require.NoError(t, err)
		require.Len(t, now, len(inked)+1)
		now2, err := s.Book.InkedPhotos(plate)
		require.NoError(t, err)
		require.Len(t, now2, len(photos))
		none, err := s.Book.Notes(old)
		require.NoError(t, err)
		require.Empty(t, none)
		c, err := s.Coach("0387")
		require.NoError(t, err)
		require.Equal(t, plate, c.Plate)
	}
	follow()

	c, err := s.Coach("0387")
	require.NoError(t, err)
	require.NoError(t, s.Book.Together(book.Rename(plate, old)))
	head := c.Ledger.Newest()
	size := strconv.FormatInt(head.Size, 10)
	require.NoError(t, s.Book.SetSetting("inking "+c.ID+" "+size, `{"Coach":"`+c.ID+`","Plate":"`+old+`","Size":`+size+
		`,"Root":"`+format.EncodeBase64(head.Root[:])+`","Notes":{},"Papers":null}`))
	s = open(t, folder)
	follow()
}
