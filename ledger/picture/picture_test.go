package picture_test

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"lapmark/ledger/picture"
)

// photo returns a picture of this size as the standard library writes it.
func photo(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, w, h)), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// read returns a file of testdata; make.sh there says how it was made.
func read(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// with puts a segment between SOI and the rest.
func with(photo []byte, marker byte, body string) []byte {
	n := len(body) + 2
	segment := append([]byte{0xff, marker, byte(n >> 8), byte(n)}, body...)
	return slices.Concat(photo[:2], segment, photo[2:])
}

// withoutSegment takes the first segment with this marker out.
func withoutSegment(t testing.TB, photo []byte, marker byte) []byte {
	t.Helper()
	at := bytes.Index(photo, []byte{0xff, marker})
	if at < 0 {
		t.Fatalf("no segment %#x", marker)
	}
	length := int(photo[at+2])<<8 + int(photo[at+3])
	return slices.Concat(photo[:at], photo[at+2+length:])
}

// SHA-256 of "abc": FIPS 180-4, example of the standard's test vectors.
func TestHex(t *testing.T) {
	const want = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if got := picture.Hex([]byte("abc")); got != want {
		t.Errorf("Hex is %s", got)
	}
}

func TestPhotosThatAreTheirOwnTravelCopy(t *testing.T) {
	for name, b := range map[string][]byte{
		"baseline":          read(t, "baseline.jpg"),
		"progressive":       read(t, "progressive.jpg"),
		"grey":              read(t, "grey.jpg"),
		"without JFIF":      withoutSegment(t, read(t, "baseline.jpg"), 0xe0),
		"standard library":  photo(t, 20, 10),
		"1600 wide":         photo(t, 1600, 1),
		"1600 high":         photo(t, 1, 1600),
		"fill before SOS":   bytes.Replace(photo(t, 20, 10), []byte{0xff, 0xda}, []byte{0xff, 0xff, 0xff, 0xda}, 1),
		"restart intervals": read(t, "restart.jpg"),
	} {
		hash, err := picture.Travel(b)
		if err != nil || hash != picture.Hex(b) {
			t.Errorf("%s: %q, %v", name, hash, err)
		}
	}
}

func TestTooLarge(t *testing.T) {
	for _, size := range []picture.TooLarge{{W: 1601, H: 10}, {W: 10, H: 1601}, {W: 4000, H: 3000}} {
		_, err := picture.Travel(photo(t, size.W, size.H))
		var large picture.TooLarge
		if !errors.As(err, &large) || large != size {
			t.Errorf("%v: %v", size, err)
		}
	}
	bomb := photo(t, 16, 16) // says 65,500 x 65,500 and is small: never unpacked
	at := bytes.Index(bomb, []byte{0xff, 0xc0})
	copy(bomb[at+5:], []byte{0xff, 0xdc, 0xff, 0xdc})
	var large picture.TooLarge
	if _, err := picture.Travel(bomb); !errors.As(err, &large) || large != (picture.TooLarge{W: 65500, H: 65500}) {
		t.Errorf("a bomb: %v", err)
	}
}

func TestMetadata(t *testing.T) {
	plain := photo(t, 20, 10)
	jfif := read(t, "baseline.jpg")
	cases := map[string][]byte{
		"comment":              with(plain, 0xfe, "taken by hand-1"),
		"JFXX":                 with(plain, 0xe0, "JFXX\x00\x10small picture"),
		"JFIF, small picture":  with(plain, 0xe0, "JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x01\x01\x00\x00\x00"),
		"JFIF, more after it":  with(plain, 0xe0, "JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00more"),
		"JFIF, not first":      with(jfif, 0xe0, "JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"),
		"a film after the end": append(bytes.Clone(plain), "ftypmp42"...),
		"a zero after the end": append(bytes.Clone(plain), 0),
		"a second picture":     append(bytes.Clone(plain), plain...),
		"CMYK with Adobe":      read(t, "cmyk.jpg"),
	}
	for n := 1; n <= 15; n++ {
		cases[fmt.Sprintf("APP%d", n)] = with(plain, byte(0xe0+n), "")
	}
	for name, b := range cases {
		var has picture.HasMetadata
		if _, err := picture.Travel(b); !errors.As(err, &has) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestNotJPEG(t *testing.T) {
	plain := photo(t, 20, 10)
	scan := bytes.Index(plain, []byte{0xff, 0xda})
	cases := map[string][]byte{
		"nothing":            nil,
		"a text":             []byte("not a picture"),
		"PNG":                []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"),
		"no end":             plain[:len(plain)-2],
		"half an end":        plain[:len(plain)-1],
		"SOF1, extended":     bytes.Replace(plain, []byte{0xff, 0xc0}, []byte{0xff, 0xc1}, 1),
		"SOF9, arithmetic":   bytes.Replace(plain, []byte{0xff, 0xc0}, []byte{0xff, 0xc9}, 1),
		"bytes between":      slices.Concat(plain[:2], []byte{0}, plain[2:]),
		"SOI twice":          slices.Concat(plain[:2], plain),
		"CMYK without Adobe": withoutSegment(t, read(t, "cmyk.jpg"), 0xee),
		"RGB":                rgb(t),
		"more than 64 scans": manyScans(t, plain[scan:len(plain)-2]),
	}
	for n := range len(plain) {
		cases[fmt.Sprintf("cut off at %d", n)] = plain[:n]
	}
	for name, b := range cases {
		var not picture.NotJPEG
		if _, err := picture.Travel(b); !errors.As(err, &not) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// rgb names the components R, G and B, by which some readers draw other
// colours than others.
func rgb(t *testing.T) []byte {
	b := withoutSegment(t, read(t, "baseline.jpg"), 0xe0)
	for _, marker := range []byte{0xc0, 0xda} {
		at := bytes.Index(b, []byte{0xff, marker})
		step, first := 3, at+10
		if marker == 0xda {
			step, first = 2, at+5
		}
		for i, c := range []byte("RGB") {
			b[first+i*step] = c
		}
	}
	return b
}

// manyScans repeats the scan of a grey picture 65 times.
func manyScans(t *testing.T, scan []byte) []byte {
	plain := photo(t, 20, 10)
	head := plain[:bytes.Index(plain, []byte{0xff, 0xda})]
	return slices.Concat(head, bytes.Repeat(scan, 65), []byte{0xff, 0xd9})
}

func FuzzTravel(f *testing.F) {
	for _, name := range []string{"baseline.jpg", "progressive.jpg", "grey.jpg", "cmyk.jpg", "restart.jpg"} {
		f.Add(read(f, name))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		hash, err := picture.Travel(b)
		var not picture.NotJPEG
		var has picture.HasMetadata
		var large picture.TooLarge
		switch {
		case err == nil:
			if _, err := jpeg.Decode(bytes.NewReader(b)); err != nil || hash != picture.Hex(b) {
				t.Errorf("passed as %s: %v", hash, err)
			}
			if !bytes.HasSuffix(b, []byte{0xff, 0xd9}) {
				t.Error("passed, and does not end with its end")
			}
		case !errors.As(err, &not) && !errors.As(err, &has) && !errors.As(err, &large):
			t.Errorf("refused with %v", err)
		}
	})
}
