package file_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"lapmark/ledger/file"
	"lapmark/testdata"
)

func init() {
	jobs["read as nobody"] = readAsNobody
	jobs["ink as nobody"] = inkAsNobody
	jobs["make as nobody"] = makeAsNobody
}

// nobody is the user that owns nothing; root may write everywhere.
const nobody = 65534

// becomeNobody gives up the rights of root; without them it does nothing.
func becomeNobody() error {
	if os.Geteuid() != 0 {
		return nil
	}
	return errors.Join(syscall.Setgroups(nil), syscall.Setgid(nobody), syscall.Setuid(nobody))
}

func readAsNobody(path string) error {
	if err := becomeNobody(); err != nil {
		return err
	}
	return readOnce(path)
}

// inkAsNobody says whether inking and what it needs was refused for rights,
// and before the leaves were made.
func inkAsNobody(path string) error {
	if err := becomeNobody(); err != nil {
		return err
	}
	c, err := file.Open(path)
	if err != nil {
		return err
	}
	err = c.Ink(context.Background(), func([]byte, [][]byte) (file.Inking, error) {
		fmt.Println("asked for leaves")
		return file.Inking{Leaves: leavesFrom(3, 3)}, nil
	})
	fmt.Println("read-only:", errors.Is(err, file.ErrReadOnly))
	return c.Close()
}

func makeAsNobody(path string) error {
	if err := becomeNobody(); err != nil {
		return err
	}
	err := file.Create(filepath.Join(filepath.Dir(path), "new.coach"))
	fmt.Println("read-only:", errors.Is(err, file.ErrReadOnly))
	return nil
}

// lockAway gives a file these rights, in a folder everybody may read and
// nobody may write.
func lockAway(t *testing.T, path string, fileMode os.FileMode) {
	t.Helper()
	noError(t, os.Chmod(path, fileMode))
	noError(t, os.Chmod(filepath.Dir(filepath.Dir(path)), 0o755))
	noError(t, os.Chmod(filepath.Dir(path), 0o555))
	t.Cleanup(func() { noError(t, os.Chmod(filepath.Dir(path), 0o755)) })
}

func TestReadOnlyFolder(t *testing.T) {
	path := newCoach(t, 2)
	lockAway(t, path, 0o444)
	if said := start(t, "read as nobody", path).rest(t) + "\n"; said != textOf(leavesFrom(1, 2)) {
		t.Errorf("read %q", said)
	}
	if said := start(t, "ink as nobody", path).rest(t); said != "read-only: true" {
		t.Errorf("inking into a file that can only be read: %s", said)
	}
	if said := start(t, "make as nobody", path).rest(t); said != "read-only: true" {
		t.Errorf("a new file: %s", said)
	}
	onlyFile(t, path)
	writable := newCoach(t, 2)
	lockAway(t, writable, 0o666) // the file could be written, its journal could not
	if said := start(t, "ink as nobody", writable).rest(t); said != "asked for leaves\nread-only: true" {
		t.Errorf("inking where no journal can be made: %s", said)
	}
	onlyFile(t, writable)
}

// A cut-off inking in a folder that cannot be written cannot be undone there,
// and what is half written must not be read.
func TestCutOffInkingInAReadOnlyFolder(t *testing.T) {
	path := newCoach(t, 0)
	leaveJournal(t, path)
	noError(t, os.Chmod(path+"-journal", 0o444))
	lockAway(t, path, 0o444)
	refusedAsNobody(t, path, file.ErrReadOnly.Error())
	noError(t, os.Chmod(filepath.Dir(path), 0o755))
	if _, err := file.OpenReadOnly(path); !errors.Is(err, file.ErrReadOnly) || !synced(path+"-journal") {
		t.Errorf("opened for reading in a folder that can be written: %v", err)
	}
	noError(t, os.Chmod(path, 0o644))
	noError(t, os.Chmod(path+"-journal", 0o644))
	wholeInkings(t, path, 0, "after the folder can be written again")
}

// refusedAsNobody fails unless reading path ends with these words.
func refusedAsNobody(t *testing.T, path, words string) {
	t.Helper()
	c := start(t, "read as nobody", path)
	said := c.line(t)
	if err := c.Wait(); err == nil || !strings.Contains(said, words) {
		t.Errorf("read: %v, %s", err, said)
	}
}

// What another program left in WAL mode cannot be opened there as it should
// be; what it is is said all the same.
func TestNewerFileInAReadOnlyFolder(t *testing.T) {
	path := altered(t, "PRAGMA user_version = 2", "PRAGMA journal_mode = WAL")
	lockAway(t, path, 0o444)
	refusedAsNobody(t, path, file.NewerError{Version: 2, Known: 1}.Error())
}

// leaveJournal kills inkings until one leaves a journal that is on the disk
// (its first byte is set then, https://www.sqlite.org/fileformat.html 3).
func leaveJournal(t *testing.T, path string) {
	t.Helper()
	for range 500 {
		c := start(t, "ink without end", path)
		c.line(t)
		for range 1000 {
			if synced(path + "-journal") {
				break
			}
		}
		noError(t, c.Process.Kill())
		for c.lines.Scan() {
		}
		if err := c.Wait(); err == nil {
			t.Fatal("the second process ended by itself")
		}
		if synced(path + "-journal") {
			return
		}
	}
	t.Fatal("no inking was cut off in its middle")
}

func synced(journal string) bool {
	b, err := os.ReadFile(journal)
	return err == nil && len(b) > 0 && b[0] != 0
}

func TestReadOnlyMedium(t *testing.T) {
	folder := testdata.Mount(t, "size=1m")
	path := filepath.Join(folder, "7QX2M4.coach")
	noError(t, file.CreateWith(path, file.Inking{Leaves: leavesFrom(1, 2)}))
	noError(t, syscall.Mount("tmpfs", folder, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
	if said := start(t, "read", path).rest(t) + "\n"; said != textOf(leavesFrom(1, 2)) {
		t.Errorf("read %q", said)
	}
	if err := ink(t.Context(), open(t, path), 1); !errors.Is(err, file.ErrReadOnly) {
		t.Errorf("inking: %v", err)
	}
	if err := file.Create(filepath.Join(folder, "new.coach")); !errors.Is(err, file.ErrReadOnly) {
		t.Errorf("a new file: %v", err)
	}
	onlyFile(t, path)
}

func TestFullDisk(t *testing.T) {
	folder := testdata.Mount(t, "size=512k")
	path := filepath.Join(folder, "7QX2M4.coach")
	noError(t, file.CreateWith(path, file.Inking{Leaves: leavesFrom(1, 1)}))
	c := open(t, path)
	in, err := 1, error(nil)
	for ; err == nil; in++ {
		err = c.Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) {
			return file.Inking{Leaves: leavesFrom(in+1, in+1), Pictures: pictureOf(in + 1)}, nil
		})
	}
	in--
	if !errors.Is(err, file.ErrFull) {
		t.Errorf("on a full disk: %v", err)
	}
	if err := file.CreateWith(filepath.Join(folder, "new.coach"), file.Inking{Pictures: pictureOf(0)}); !errors.Is(err, file.ErrFull) {
		t.Errorf("a new file on a full disk: %v", err)
	}
	onlyFile(t, path)
	text, err := c.Text()
	noError(t, err)
	if in < 3 || string(text) != textOf(leavesFrom(1, in)) {
		t.Errorf("%d inkings were acknowledged, the text is %q", in, text)
	}
	sqliteSays(t, path, "ok\n", "pragma integrity_check")
}

// However much room there is, a new file is whole or not there.
func TestCreateOnANearlyFullDisk(t *testing.T) {
	folder := testdata.Mount(t, "size=256k")
	path, ballast := filepath.Join(folder, "7QX2M4.coach"), filepath.Join(folder, "ballast")
	pictures := pictureOf(1)
	pictures[abc] = []byte("abc")
	made := 0
	for room := 0; room < 200<<10; room += 4 << 10 {
		noError(t, os.WriteFile(ballast, make([]byte, 256<<10-room), 0o600))
		err := file.CreateWith(path, file.Inking{Leaves: leavesFrom(1, 2), Pictures: pictures})
		if err == nil {
			made++
			noError(t, use(path, file.OpenReadOnly))
			noError(t, os.Remove(path))
		} else if !errors.Is(err, file.ErrFull) {
			t.Errorf("%d bytes of room: %v", room, err)
		}
		onlyFile(t, ballast)
		noError(t, os.Remove(ballast))
	}
	if made == 0 {
		t.Error("it never had room")
	}
}

// Only Linux has locks of the open file description here. A POSIX lock would
// fall; https://www.sqlite.org/howtocorrupt.html 2.2.
func TestLockOutlivesAnotherReaderOfTheFile(t *testing.T) {
	path := newCoach(t, 1)
	c := open(t, path)
	noError(t, c.Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) {
		if _, err := os.ReadFile(path); err != nil { // as a backup does
			return file.Inking{}, err
		}
		if said := start(t, "try the lock", path).rest(t); said != "locked" {
			t.Errorf("a second writer under our lock: %s", said)
		}
		return file.Inking{Leaves: leavesFrom(2, 2)}, nil
	}))
	if said := start(t, "try the lock", path).rest(t); said != "inked" {
		t.Errorf("after our inking: %s", said)
	}
}
