package carry

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"io"
	"slices"
	"testing"
	"time"
)

func TestBundleIsTakenApart(t *testing.T) {
	for name, files := range map[string]Files{
		"example": exampleFiles(t), "branches": withBranches(t), "all": sorted(smallBundle()), "empty": {},
	} {
		t.Run(name, func(t *testing.T) {
			taken, err := TakeBundle(mustBundle(t, files))
			if err != nil {
				t.Fatal(err)
			}
			if !sameFiles(taken, files) {
				t.Error("other files than were put in")
			}
		})
	}
}

// sorted puts pictures in order by name.
func sorted(f Files) Files {
	slices.SortFunc(f.Pictures, func(a, b Picture) int { return bytes.Compare([]byte(a.Hex), []byte(b.Hex)) })
	return f
}

func TestBundlePicturesStandByName(t *testing.T) {
	f := sorted(smallBundle())
	want := mustBundle(t, f)
	slices.Reverse(f.Pictures)
	first := f.Pictures[0].Hex
	if !bytes.Equal(mustBundle(t, f), want) {
		t.Error("the order of the pictures changes the bundle")
	}
	if f.Pictures[0].Hex != first {
		t.Error("Bundle changed the order of the pictures it was given")
	}
}

// TestBundleBytes writes out the smallest bundle by hand, after PKWARE
// APPNOTE.TXT 4.3.7, 4.3.12 and 4.3.16. The CRC-32 of "123456789", cbf43926,
// is the published check value of CRC-32/ISO-HDLC in the catalogue of
// parametrised CRC algorithms (from memory).
func TestBundleBytes(t *testing.T) {
	got := mustBundle(t, Files{Ledger: []byte("123456789")})
	var want []byte
	var offsets []uint32
	names := []string{"ledger.txt", "words.txt", "private.txt", "how-to-check.txt"}
	head := func(name string) []byte {
		crc, size := uint32(0), uint32(0)
		if name == "ledger.txt" {
			crc, size = 0xcbf43926, 9
		}
		b := []byte{10, 0, 0, 0, 0, 0, 0, 0, 0x21, 0}
		for _, v := range []uint32{crc, size, size} {
			b = binary.LittleEndian.AppendUint32(b, v)
		}
		return append(b, byte(len(name)), 0, 0, 0)
	}
	for _, name := range names {
		offsets = append(offsets, uint32(len(want)))
		want = slices.Concat(want, []byte("PK\x03\x04"), head(name), []byte(name))
		if name == "ledger.txt" {
			want = append(want, "123456789"...)
		}
	}
	directory := uint32(len(want))
	for i, name := range names {
		want = slices.Concat(want, []byte("PK\x01\x02\x14\x00"), head(name), make([]byte, 10))
		want = binary.LittleEndian.AppendUint32(want, offsets[i])
		want = append(want, name...)
	}
	size := uint32(len(want)) - directory
	want = append(want, "PK\x05\x06\x00\x00\x00\x00\x04\x00\x04\x00"...)
	want = binary.LittleEndian.AppendUint32(want, size)
	want = binary.LittleEndian.AppendUint32(want, directory)
	want = append(want, 0, 0)
	if !bytes.Equal(got, want) {
		t.Errorf("got  %x\nwant %x", got, want)
	}
}

// TestBundleIsReadByArchiveZip reads a bundle with the reader of the standard
// library.
func TestBundleIsReadByArchiveZip(t *testing.T) {
	files := sorted(smallBundle())
	ms, err := members(files)
	if err != nil {
		t.Fatal(err)
	}
	data := mustBundle(t, files)
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	if len(r.File) != len(ms) {
		t.Fatalf("%d members, want %d", len(r.File), len(ms))
	}
	for i, f := range r.File {
		member, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(member)
		if err != nil {
			t.Fatal(err)
		}
		if f.Name != ms[i].name || !bytes.Equal(got, ms[i].data) {
			t.Errorf("member %d is %s, %q", i, f.Name, got)
		}
		if !f.Modified.Equal(time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)) || f.Method != zip.Store {
			t.Errorf("%s: time %v, method %d", f.Name, f.Modified, f.Method)
		}
	}
}

func TestBundleRefusesFiles(t *testing.T) {
	with := func(change func(*Files)) Files {
		f := smallBundle()
		change(&f)
		return f
	}
	tests := map[string]struct {
		files Files
		want  string
	}{
		"picture name":  {with(func(f *Files) { f.Pictures[0].Hex = "../../etc" }), "has no place there"},
		"picture twice": {with(func(f *Files) { f.Pictures[1] = f.Pictures[0] }), "comes twice"},
		"branch name":   {with(func(f *Files) { f.Branches[0].Hex = "" }), "branch-.txt"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			_, err := Bundle(test.files)
			wantError(t, err, ErrFiles, test.want)
		})
	}
}

// TestTakeBundleSaysWhatDiffers packs the same files as other programs do, and
// bends single fields.
func TestTakeBundleSaysWhatDiffers(t *testing.T) {
	good := mustBundle(t, smallBundle())
	at := func(offset int, value byte) []byte {
		bent := slices.Clone(good)
		bent[offset] = value
		return bent
	}
	stored := packed(t, func(h *zip.FileHeader) {})
	tests := map[string]struct {
		zip  []byte
		want string
	}{
		"nothing":           {nil, "does not begin like a ZIP file"},
		"a PDF":             {examplePaper(t), "does not begin like a ZIP file"},
		"cut in a header":   {good[:20], "the file ends in a header"},
		"cut in a name":     {good[:35], "the file ends in a name"},
		"cut in a member":   {good[:50], `"ledger.txt" goes beyond the end of the file`},
		"cut in directory":  {good[:len(good)-1], "the directory or what follows it differs"},
		"a byte more":       {append(slices.Clone(good), 0), "the directory or what follows it differs"},
		"a comment":         {append(slices.Clone(good[:len(good)-2]), 1, 0, 'x'), "the directory or what follows it differs"},
		"a byte in front":   {append([]byte{0}, good...), "does not begin like a ZIP file"},
		"encrypted":         {at(6, 1), `"ledger.txt" is encrypted`},
		"compressed":        {packed(t, func(h *zip.FileHeader) { h.Method = zip.Deflate }), `"ledger.txt" is compressed, not stored`},
		"streamed":          {stored, `"ledger.txt" was packed by another program: it has flags`},
		"time":              {at(10, 1), "it has a time of its own"},
		"extra field":       {at(28, 1), "it has an extra field"},
		"damaged":           {at(45, 'X'), `"ledger.txt" is damaged: its checksum differs`},
		"needs another":     {at(4, 20), `the header of "ledger.txt" differs`},
		"other name":        {at(30, 'L'), `"Ledger.txt" stands where ledger.txt belongs`},
		"made by another":   {changed(t, good, "PK\x01\x02\x14\x00", "PK\x01\x02\x14\x03"), "the directory or what follows it differs"},
		"name in directory": {at(bytes.LastIndex(good, []byte("words.txt")), 'W'), "the directory or what follows it differs"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			_, err := TakeBundle(test.zip)
			wantError(t, err, ErrBundle, test.want)
		})
	}
}

// packed is the small bundle as the writer of the standard library packs it.
func packed(t *testing.T, change func(*zip.FileHeader)) []byte {
	t.Helper()
	ms, err := members(smallBundle())
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, m := range ms {
		h := zip.FileHeader{Name: m.name}
		change(&h)
		member, err := w.CreateHeader(&h)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := member.Write(m.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
