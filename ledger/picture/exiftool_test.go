package picture_test

import (
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"lapmark/ledger/picture"
	"lapmark/testdata"
)

// exiftool (https://exiftool.org) reads and writes the metadata of pictures;
// it is the outside check that what passes has none.
func exiftool(t *testing.T, args ...string) []byte {
	t.Helper()
	out, err := exec.Command(testdata.Program(t, "exiftool"), args...).Output()
	if err != nil {
		t.Fatalf("exiftool %q: %v", args, err)
	}
	return out
}

// tags returns the names of all tags that stand in the file itself.
func tags(t *testing.T, path string) (names []string) {
	t.Helper()
	var found []map[string]any
	if err := json.Unmarshal(exiftool(t, "-json", "-G1", "-a", "-u", path), &found); err != nil {
		t.Fatal(err)
	}
	for name := range found[0] {
		group, _, grouped := strings.Cut(name, ":")
		switch group {
		case "ExifTool", "System", "File", "Composite": // said of the file, not in it
		default:
			if grouped {
				names = append(names, name)
			}
		}
	}
	return names
}

func TestWhatPassesHasNoTags(t *testing.T) {
	folder := t.TempDir()
	for name, b := range map[string][]byte{
		"own.jpg":         photo(t, 20, 10),
		"baseline.jpg":    read(t, "baseline.jpg"),
		"progressive.jpg": read(t, "progressive.jpg"),
		"grey.jpg":        read(t, "grey.jpg"),
		"restart.jpg":     read(t, "restart.jpg"),
	} {
		if _, err := picture.Travel(b); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		for _, tag := range tags(t, path) {
			if !strings.HasPrefix(tag, "JFIF:") { // version and resolution
				t.Errorf("%s passed with %s", name, tag)
			}
		}
	}
}

func TestWhatExiftoolWritesIsRefused(t *testing.T) {
	for what, arg := range map[string]string{
		"turned":     "-Orientation#=6",
		"a position": "-GPSLatitude=51.2",
		"a camera":   "-Model=Invented 3",
		"XMP":        "-XMP:Creator=hand-1",
		"IPTC":       "-IPTC:City=Cold Elm",
		"a comment":  "-Comment=bay 10 left",
	} {
		path := filepath.Join(t.TempDir(), "photo.jpg")
		if err := os.WriteFile(path, read(t, "baseline.jpg"), 0o600); err != nil {
			t.Fatal(err)
		}
		exiftool(t, "-overwrite_original", arg, path)
		if len(tags(t, path)) == 0 && arg != "-Comment=bay 10 left" {
			t.Errorf("%s: exiftool finds nothing of its own", what)
		}
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var has picture.HasMetadata
		if _, err := picture.Travel(b); !errors.As(err, &has) {
			t.Errorf("%s: %v", what, err)
		}
	}
}
