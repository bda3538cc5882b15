package shop_test

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/demo"
	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/ledger/format"
	"lapmark/testdata"
)

const inkedNotes = 60

// pencilled is a shop with one coach and notes in pencil for it.
func pencilled(b *testing.B) (folder string) {
	b.Helper()
	folder = filepath.Join(b.TempDir(), "shop")
	_, err := demo.MakeTo(b.Context(), folder, 1)
	require.NoError(b, err)
	s := opened(b, folder)
	var text strings.Builder
	text.WriteString("coach GZ9TF785XEW004137\non 2020-03-16 zone +01:00\n")
	for i := range inkedNotes {
		fmt.Fprintf(&text, "check: hall-air, air-temp 16.%d C, humidity %d.0 %%; instrument \"hall meter\"; by hand-1\n", i%10, 30+i)
	}
	notes, err := s.Reading([]byte(text.String()), "")
	require.NoError(b, err)
	require.Len(b, notes, inkedNotes)
	require.NoError(b, s.Pencil(notes, nil))
	require.NoError(b, s.Close())
	return folder
}

func opened(b *testing.B, folder string) *shop.Shop {
	b.Helper()
	evening := time.Date(2020, 3, 16, 17, 0, 0, 0, time.UTC)
	s, err := shop.Open(folder, shop.Options{Now: func() time.Time { return evening }})
	require.NoError(b, err)
	return s
}

// BenchmarkFigureInk inks 60 notes, and measures it against signing 60 times
// with the same signer, which verifies each, and putting the same bytes into a
// file with the bare driver and the same PRAGMAs, in one transaction. It goes by
// the clock on the wall: an inking verifies its signatures on another processor
// while it makes the next. The goal is ours, 1.5.
func BenchmarkFigureInk(b *testing.B) {
	folder, signer := pencilled(b), keyring.DemoSigner("K1")
	var leaves [][]byte
	ink := func() time.Duration {
		copied := filepath.Join(b.TempDir(), "shop")
		require.NoError(b, os.CopyFS(copied, os.DirFS(folder)))
		s := opened(b, copied)
		runtime.GC() // what was made ready is not part of either side
		at := testdata.WallTime()
		in, err := s.Ink(b.Context(), "GZ9TF785XEW004137", signer, false)
		took := testdata.WallTime() - at
		require.NoError(b, err)
		require.Equal(b, int64(2+inkedNotes), in.Size)
		leaves = lastLeaves(b, s)
		require.NoError(b, s.Close())
		return took
	}
	bare := func() time.Duration {
		db := bareFile(b)
		runtime.GC()
		at := testdata.WallTime()
		require.NoError(b, signAndPut(db, signer, leaves))
		took := testdata.WallTime() - at
		require.NoError(b, db.Close())
		return took
	}
	best := testdata.Turns(b, ink, bare)
	testdata.AtMost(b, "x-bare", 1.5, best[0], best[1])
}

func lastLeaves(b *testing.B, s *shop.Shop) (leaves [][]byte) {
	b.Helper()
	c, err := s.Coach("GZ9TF785XEW004137")
	require.NoError(b, err)
	for _, e := range c.Ledger.Entries[len(c.Ledger.Entries)-inkedNotes:] {
		leaf, err := format.Leaf(e.L1, e.Sig)
		require.NoError(b, err)
		leaves = append(leaves, leaf)
	}
	return leaves
}

// bareFile is an empty file with the PRAGMAs and the table of a coach file, and
// nothing of ours.
func bareFile(b *testing.B) *sql.DB {
	b.Helper()
	db, err := sql.Open("sqlite", filepath.Join(b.TempDir(), "bare.db")+
		"?_pragma=journal_mode(DELETE)&_pragma=synchronous(EXTRA)&_txlock=immediate")
	require.NoError(b, err)
	_, err = db.Exec("CREATE TABLE entry (number INTEGER PRIMARY KEY, leaf BLOB NOT NULL) STRICT")
	require.NoError(b, err)
	return db
}

func signAndPut(db *sql.DB, signer sshsig.Signer, leaves [][]byte) (err error) {
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, tx.Rollback())
		}
	}()
	for i, leaf := range leaves {
		if _, err := signer.Sign(sshsig.EntryNamespace, leaf); err != nil {
			return err
		}
		if _, err := tx.Exec("INSERT INTO entry (number, leaf) VALUES (?, ?)", i+1, leaf); err != nil {
			return err
		}
	}
	return tx.Commit()
}
