package carry

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/go-pdf/fpdf"

	"lapmark/testdata"
)

// run starts a program that must end well, and returns all it wrote.
func run(t *testing.T, program string, args ...string) string {
	t.Helper()
	testdata.Program(t, program)
	out, err := exec.Command(program, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %q: %v\n%s", program, args, err, out)
	}
	return string(out)
}

// pageText is what stands on the one page of drawnFace.
const pageText = "Coach history, complete up to entry 2"

// drawnFace is a face as github.com/go-pdf/fpdf writes it.
func drawnFace(t *testing.T) []byte {
	t.Helper()
	day := time.Date(2020, 3, 20, 15, 0, 0, 0, time.UTC)
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(day)
	pdf.SetModificationDate(day)
	pdf.SetProducer("lapmark", false)
	pdf.AddPage()
	pdf.SetFont("Helvetica", "", 12)
	pdf.Text(20, 20, pageText)
	pdf.Line(20, 25, 190, 25)
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// drawnPaper is a paper on such a face, with branches, and the file it was
// written to.
func drawnPaper(t *testing.T) (paper []byte, files Files, path string) {
	t.Helper()
	files = withBranches(t)
	paper = mustPaper(t, drawnFace(t), files)
	return paper, files, written(t, "paper.pdf", paper)
}

// written writes a file into a folder of the test.
func written(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func mustRead(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// givenBack compares what a program read of each file with what was attached.
func givenBack(t *testing.T, files Files, read func(i int, name string) []byte) {
	t.Helper()
	ms, err := members(files)
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range ms {
		if !bytes.Equal(read(i, m.name), m.data) {
			t.Errorf("%s differs", m.name)
		}
	}
}

// unpacked reads what a program saved into a folder.
func unpacked(t *testing.T, folder string) func(int, string) []byte {
	return func(_ int, name string) []byte {
		t.Helper()
		return mustRead(t, filepath.Join(folder, name))
	}
}

func TestDrawnPaperIsTakenApart(t *testing.T) {
	paper, files, _ := drawnPaper(t)
	taken, err := TakePaper(paper)
	if err != nil {
		t.Fatal(err)
	}
	if !taken.Exact || !bytes.Equal(taken.Face, drawnFace(t)) || !sameFiles(taken.Files, files) {
		t.Error("the paper is not taken apart into what it was made of")
	}
}

// TestQpdfFindsNoFault: qpdf --check says nothing of errors or warnings, and
// lists every attachment.
func TestQpdfFindsNoFault(t *testing.T) {
	_, files, path := drawnPaper(t)
	for name, path := range map[string]string{"drawn": path, "example": written(t, "example.pdf", examplePaper(t))} {
		out := run(t, "qpdf", "--check", path)
		if strings.Contains(strings.ToLower(out), "warning") || !strings.Contains(out, "No syntax or stream encoding errors found") {
			t.Errorf("%s: %s", name, out)
		}
	}
	list := run(t, "qpdf", "--list-attachments", path)
	ms, err := members(files)
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range ms {
		if want := fmt.Sprintf("%s -> %d,0\n", m.name, embeddedNumber(t, i)); !strings.Contains(list, want) {
			t.Errorf("%q is not in\n%s", want, list)
		}
	}
}

// embeddedNumber is the object number of the i-th embedded file on drawnFace.
func embeddedNumber(t *testing.T, i int) int {
	t.Helper()
	_, after, _ := bytes.Cut(drawnFace(t), []byte("\n/Size "))
	line, _, _ := bytes.Cut(after, []byte("\n"))
	size, err := strconv.Atoi(string(line))
	if err != nil {
		t.Fatal(err)
	}
	return size + 2*i + 1
}

// TestPdfdetachSavesTheFiles: pdfdetach gives each file back byte for byte.
func TestPdfdetachSavesTheFiles(t *testing.T) {
	_, files, path := drawnPaper(t)
	folder := t.TempDir()
	run(t, "pdfdetach", "-saveall", "-o", folder, path)
	givenBack(t, files, unpacked(t, folder))
	ms, _ := members(files)
	saved, err := os.ReadDir(folder)
	if err != nil || len(saved) != len(ms) {
		t.Errorf("%d files saved, want %d, error %v", len(saved), len(ms), err)
	}
}

// TestMutoolReadsThePaper: mutool gives each file back byte for byte, and
// reads the page.
func TestMutoolReadsThePaper(t *testing.T) {
	_, files, path := drawnPaper(t)
	givenBack(t, files, func(i int, _ string) []byte {
		out := filepath.Join(t.TempDir(), "out")
		run(t, "mutool", "show", "-b", "-o", out, path, strconv.Itoa(embeddedNumber(t, i)))
		return mustRead(t, out)
	})
	out := run(t, "mutool", "draw", "-F", "txt", path) // warns where it was built without colour profiles
	if !strings.Contains(out, pageText) || strings.Contains(out, "error") || strings.Contains(out, "repair") {
		t.Errorf("mutool draw: %s", out)
	}
}

func TestPdftotextReadsThePage(t *testing.T) {
	_, _, path := drawnPaper(t)
	if out := run(t, "pdftotext", "-layout", path, "-"); strings.TrimSpace(out) != pageText {
		t.Errorf("got %q", out)
	}
}

// TestSavedAgain saves a paper again with other programs. It is no paper any
// more; Walk still finds the ledger, the branch and the slips.
func TestSavedAgain(t *testing.T) {
	ledger, branch := exampleFiles(t).Ledger, []byte(otherText)
	files := exampleFiles(t)
	files.Branches = []Branch{branchOf(otherText)}
	path := written(t, "paper.pdf", mustPaper(t, drawnFace(t), files))
	for name, command := range map[string][]string{
		"qpdf object streams":   {"qpdf", "--object-streams=generate", path},
		"qpdf recompress":       {"qpdf", "--stream-data=compress", "--recompress-flate", path},
		"qpdf uncompress":       {"qpdf", "--stream-data=uncompress", path},
		"qpdf linearize":        {"qpdf", "--linearize", path},
		"qpdf for editors":      {"qpdf", "--qdf", path},
		"mutool clean":          {"mutool", "clean", path},
		"mutool clean compress": {"mutool", "clean", "-z", path},
		"mutool clean garbage":  {"mutool", "clean", "-gggg", "-z", "-i", "-f", path},
		"mutool clean expand":   {"mutool", "clean", "-d", path},
	} {
		t.Run(name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "again.pdf")
			run(t, command[0], append(command[1:], out)...)
			again := mustRead(t, out)
			if _, err := TakePaper(again); !errors.Is(err, ErrNoTail) {
				t.Errorf("got %v, want ErrNoTail", err)
			}
			walked := mustWalk(t, again)
			for what, text := range map[string][]byte{"ledger": ledger, "branch": branch} {
				if !contains(walked.Ledgers, text) {
					t.Errorf("the %s is not found", what)
				}
			}
			if len(walked.Ledgers) != 2 || !contains(walked.Others, files.Words) || !contains(walked.Others, files.Private) {
				t.Errorf("%d ledgers, others %.200q", len(walked.Ledgers), walked.Others)
			}
		})
	}
}

func contains(texts [][]byte, text []byte) bool {
	return slices.ContainsFunc(texts, func(x []byte) bool { return bytes.Equal(x, text) })
}

// TestSavedEncrypted saves a paper again under a password of its owner alone,
// as many programs do; anyone can open it.
func TestSavedEncrypted(t *testing.T) {
	_, _, path := drawnPaper(t)
	for name, options := range map[string][]string{
		"table":           {"--object-streams=disable"},
		"table in stream": {"--object-streams=generate"},
	} {
		t.Run(name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "encrypted.pdf")
			run(t, "qpdf", append(options, "--encrypt", "", "owner", "256", "--", path, out)...)
			if _, err := Walk(mustRead(t, out), DefaultLimits()); !errors.Is(err, ErrEncrypted) {
				t.Errorf("got %v, want ErrEncrypted", err)
			}
		})
	}
}

// TestUnzipFindsNoFault: unzip -t tests every member of a bundle.
func TestUnzipFindsNoFault(t *testing.T) {
	path := written(t, "bundle.zip", mustBundle(t, smallBundle()))
	if out := run(t, "unzip", "-t", path); !strings.Contains(out, "No errors detected") {
		t.Error(out)
	}
}

// TestPythonReadsTheBundle: the zipfile module of Python tests a bundle and
// gives each member back byte for byte.
func TestPythonReadsTheBundle(t *testing.T) {
	files := smallBundle()
	path := written(t, "bundle.zip", mustBundle(t, files))
	folder := t.TempDir()
	if out := run(t, "python3", "-m", "zipfile", "-t", path); !strings.Contains(out, "Done testing") || strings.Contains(out, "corrupted") {
		t.Error(out)
	}
	run(t, "python3", "-m", "zipfile", "-e", path, folder)
	givenBack(t, files, unpacked(t, folder))
}
