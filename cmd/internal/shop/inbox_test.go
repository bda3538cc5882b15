package shop_test

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
)

func grey(t *testing.T, shade uint8) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 16, 16))
	for i := range img.Pix {
		img.Pix[i] = color.Gray{Y: shade}.Y
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, nil))
	return b.Bytes()
}

// What was read from the inbox moves to inbox/read and is never written over
// there; a picture that no note took stays.
func TestReadPhotosLeaveTheInbox(t *testing.T) {
	folder := demoShop(t)
	s := open(t, folder)
	in := func(name string) string { return filepath.Join(folder, "inbox", name) }
	put := func(name string, data []byte) { t.Helper(); require.NoError(t, os.WriteFile(in(name), data, 0o644)) }
	holds := func(name string, data []byte) {
		t.Helper()
		got, err := os.ReadFile(in(name))
		require.NoError(t, err)
		require.Equal(t, data, got, name)
	}
	pencil := func(text string) {
		t.Helper()
		notes, err := s.Reading([]byte("coach GZ9TF785XEW004137\non 2020-04-25 zone +02:00\n"+text), "")
		require.NoError(t, err)
		require.NoError(t, s.Pencil(notes, nil))
	}
	ink := func() []shop.Result {
		t.Helper()
		in, err := s.Ink(context.Background(), "GZ9TF785XEW004137", keyring.DemoSigner("K1"), true)
		require.NoError(t, err)
		return in.Results
	}
	first, second, third := grey(t, 10), grey(t, 90), grey(t, 170)
	put("IMG_1.jpg", first)
	put("IMG_2.jpg", second)
	pencil("remark: photo IMG_1.jpg; by hand-1\nremark: photo IMG_1.jpg; note \"again\"; by hand-1\n")
	holds("read/IMG_1.jpg", first)
	require.NoFileExists(t, in("IMG_1.jpg"))
	holds("IMG_2.jpg", second)

	// The phone gives the name again: another picture, taken at inking.
	pencil("remark: photo IMG_1.jpg; note \"new\"; by hand-2\n")
	put("IMG_1.jpg", third)
	for _, r := range ink() {
		require.NoError(t, r.Why, r.Line)
	}
	require.NoFileExists(t, in("IMG_1.jpg"))
	holds("read/IMG_1.jpg", first)
	files, err := filepath.Glob(in("read/*-IMG_1.jpg"))
	require.NoError(t, err)
	require.Len(t, files, 1)
	got, err := os.ReadFile(files[0])
	require.NoError(t, err)
	require.Equal(t, third, got)

	// Cut off between keeping and moving: the picture is in the inbox still.
	pencil("remark: photo IMG_2.jpg; by hand-1\n")
	require.NoError(t, os.Rename(in("read/IMG_2.jpg"), in("IMG_2.jpg")))
	ink()
	holds("read/IMG_2.jpg", second)
	require.NoFileExists(t, in("IMG_2.jpg"))

	// Cut off before it was kept: it is taken at inking. One that came in its
	// place meanwhile stays.
	pencil("remark: photo IMG_3.jpg; by hand-1\n")
	require.ErrorContains(t, ink()[0].Why, "inbox/read")
	put("IMG_3.jpg", first)
	require.NoError(t, ink()[0].Why)
	holds("read/IMG_3.jpg", first)
	pencil("remark: photo IMG_4.jpg; by hand-1\n")
	put("IMG_4.jpg", first)
	pencil("remark: photo IMG_4.jpg; note \"of another day\"; by hand-1\n")
	put("IMG_4.jpg", second)
	ink()
	holds("read/IMG_4.jpg", first)
}

// A day sheet moves too, if it still says what was read.
func TestReadSheetLeavesTheInbox(t *testing.T) {
	folder := demoShop(t)
	s := open(t, folder)
	path := filepath.Join(folder, "inbox", "monday.txt")
	require.NoError(t, os.WriteFile(path, []byte("more was added\n"), 0o644))
	require.NoError(t, s.SheetRead(path, []byte("what was read\n")))
	require.FileExists(t, path)
	require.NoError(t, s.SheetRead(path, []byte("more was added\n")))
	require.NoFileExists(t, path)
	require.FileExists(t, filepath.Join(folder, "inbox", "read", "monday.txt"))
	outside := filepath.Join(folder, "monday.txt")
	require.NoError(t, os.WriteFile(outside, []byte("x"), 0o644))
	require.NoError(t, s.SheetRead(outside, []byte("x")))
	require.FileExists(t, outside)
}
