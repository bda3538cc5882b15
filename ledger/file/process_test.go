package file_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"

	"lapmark/ledger/file"
)

// jobs are what a second process can do; each takes the path of a coach file
// and writes what it has seen to standard output.
var jobs = map[string]func(path string) error{
	"ink without end": inkWithoutEnd,
	"ink once":        inkOnce,
	"try the lock":    tryTheLock,
	"read":            readOnce,
}

// perInking is how many leaves "ink without end" adds at once.
const perInking = 3

// inkWithoutEnd writes the number of entries after each inking it was told is
// on the disk.
func inkWithoutEnd(path string) error {
	c, err := file.Open(path)
	if err != nil {
		return err
	}
	for {
		var last int
		err := c.Ink(context.Background(), func(text []byte, _ [][]byte) (file.Inking, error) {
			last = strings.Count(string(text), "\n")/2 + perInking
			return file.Inking{
				Leaves:   leavesFrom(last-perInking+1, last),
				Pictures: pictureOf(last),
				Branches: [][]byte{leaf(last)},
			}, nil
		})
		if err != nil {
			return err
		}
		fmt.Println(last)
	}
}

// inkOnce adds one leaf and writes the text it saw under the lock.
func inkOnce(path string) error {
	c, err := file.Open(path)
	if err != nil {
		return err
	}
	fmt.Println("about to ink")
	err = c.Ink(context.Background(), func(text []byte, _ [][]byte) (file.Inking, error) {
		fmt.Printf("%q\n", text)
		return file.Inking{Leaves: leavesFrom(strings.Count(string(text), "\n")/2+1, 3)}, nil
	})
	return errors.Join(err, c.Close())
}

// tryTheLock says whether the file can be inked within a short time.
func tryTheLock(path string) error {
	c, err := file.Open(path)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(context.Background(), 200*time.Millisecond)
	defer cancel()
	err = ink(ctx, c, 1)
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		fmt.Println("locked")
		err = nil
	case err == nil:
		fmt.Println("inked")
	}
	return errors.Join(err, c.Close())
}

// readOnce writes the text of a file opened for reading.
func readOnce(path string) error {
	c, err := file.OpenReadOnly(path)
	if err != nil {
		return err
	}
	text, err := c.Text()
	fmt.Print(string(text))
	return errors.Join(err, c.Close())
}

// TestKillInTheMiddleOfAnInking is the power cut as far as a program can make
// one: SIGKILL at any moment, twenty times on the same file.
func TestKillInTheMiddleOfAnInking(t *testing.T) {
	path := newCoach(t, 0)
	chance := rand.New(rand.NewPCG(20, 4)) // the same moments in every run, as far as the clock allows
	told := 0
	for round := range 20 {
		c := start(t, "ink without end", path)
		for range chance.IntN(6) + 1 {
			told = atoi(t, c.line(t))
		}
		time.Sleep(time.Duration(chance.IntN(3000)) * time.Microsecond)
		noError(t, c.Process.Kill())
		for c.lines.Scan() {
			told = atoi(t, c.lines.Text())
		}
		if err := c.Wait(); err == nil {
			t.Fatal("the second process ended by itself")
		}
		wholeInkings(t, path, told, fmt.Sprintf("round %d", round))
	}
	sqliteSays(t, path, "ok\n", "pragma integrity_check")
}

func atoi(t *testing.T, line string) int {
	t.Helper()
	n, err := strconv.Atoi(line)
	noError(t, err)
	return n
}

// wholeInkings fails unless the file holds whole inkings, told entries of
// them at least, each with its picture and its branch.
func wholeInkings(t *testing.T, path string, told int, when string) {
	t.Helper()
	c, err := file.Open(path)
	noError(t, err)
	text, err := c.Text()
	noError(t, err)
	n := strings.Count(string(text), "\n") / 2
	if string(text) != textOf(leavesFrom(1, n)) {
		t.Errorf("%s: the text is no prefix", when)
	}
	if n%perInking != 0 || n < told {
		t.Errorf("%s: %d entries, of whole inkings %d, acknowledged %d", when, n, n/perInking, told)
	}
	hashes, err := c.Pictures()
	noError(t, err)
	branches, err := c.Branches()
	noError(t, err)
	if len(hashes) != n/perInking || len(branches) != n/perInking {
		t.Errorf("%s: %d pictures and %d branches of %d inkings", when, len(hashes), len(branches), n/perInking)
	}
	noError(t, c.Close())
}

func TestSecondWriterWaitsAndGoesOn(t *testing.T) {
	path := newCoach(t, 1)
	c := open(t, path)
	var second child
	noError(t, c.Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) {
		second = start(t, "ink once", path)
		if said := second.line(t); said != "about to ink" {
			t.Errorf("the second process said %q", said)
		}
		time.Sleep(200 * time.Millisecond) // it is at the lock now
		return file.Inking{Leaves: leavesFrom(2, 2)}, nil
	}))
	if saw := second.rest(t); saw != strconv.Quote(textOf(leavesFrom(1, 2))) {
		t.Errorf("the second writer went on from %s", saw)
	}
	text, err := c.Text()
	noError(t, err)
	if string(text) != textOf(leavesFrom(1, 3)) {
		t.Errorf("text is %q", text)
	}
}
