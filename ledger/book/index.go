package book

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"strconv"

	"lapmark/ledger/file/disk"
)

// Coach is what the index says of one coach.
type Coach struct {
	ID             string // name of its file
	Ledger         string // ledger id
	VIN, Serial    string // upper case
	Builder, Model string
	Year           int // model year, 0 if nobody knows
	Entries        int
	Day            string // newest day of happened, YYYY-MM-DD
	At             string // newest at, UTC, 20 characters
}

// Kind says what a text in the index is.
type Kind string

// By any four characters in a row of the first five a coach is named; the
// others, and kinds of the caller's own, are found by their words.
const (
	KindVIN         Kind = "vin"
	KindSerial      Kind = "serial"
	KindID          Kind = "id"
	KindCertificate Kind = "certificate"
	KindPlate       Kind = "plate"
	KindBuilder     Kind = "builder"
	KindModel       Kind = "model"
	KindYear        Kind = "year"
	KindTown        Kind = "town"
	KindHolder      Kind = "holder"
)

// place returns the full-text table that has the texts of this kind.
func (k Kind) place() string {
	switch k {
	case KindVIN, KindSerial, KindID, KindCertificate, KindPlate:
		return "fragment"
	}
	return "word"
}

// Find is a text by which a coach is found.
type Find struct {
	Kind Kind
	Text string
}

// Page is what the index holds of one coach.
type Page struct {
	Coach Coach
	Finds []Find // beyond what Coach says
}

// PutIndex puts a coach into the index, in place of what it had of that ID.
// It is found by its own VIN, serial, ID, builder, model and year, and by
// finds: certificates, plates, towns, holders.
// Where it is found as before, only what is said of it is written.
func PutIndex(c Coach, finds []Find) Step {
	return Step{func(tx *sql.Tx) error {
		if had, err := findsIn(tx, c.ID); err != nil {
			return err
		} else if slices.Equal(had, Page{c, finds}.finds()) {
			_, err = putCoach(tx, c)
			return err
		}
		if err := takeFinds(tx, c.ID); err != nil {
			return err
		}
		return putPages(tx, []Page{{c, finds}})
	}}
}

// Reindex makes the whole index anew, all or nothing.
func (b *Book) Reindex(pages []Page) error {
	return b.write(func(tx *sql.Tx) error {
		if err := clearIndex(tx); err != nil {
			return err
		}
		return putPages(tx, pages)
	})
}

// ClearIndex empties the index.
func (b *Book) ClearIndex() error {
	return b.write(clearIndex)
}

func clearIndex(tx *sql.Tx) error {
	_, err := tx.Exec(`INSERT INTO fragment (fragment) VALUES ('delete-all');
		INSERT INTO word (word) VALUES ('delete-all');
		DELETE FROM find;
		DELETE FROM coach`)
	return err
}

// own returns what a coach is found by without being told.
func (c Coach) own() []Find {
	finds := []Find{
		{KindVIN, c.VIN},
		{KindSerial, c.Serial},
		{KindID, c.ID},
		{KindBuilder, c.Builder},
		{KindModel, c.Model},
	}
	if c.Year != 0 {
		finds = append(finds, Find{KindYear, strconv.Itoa(c.Year)})
	}
	return finds
}

// finds returns all that a coach is found by, without empty texts.
func (p Page) finds() []Find {
	return slices.DeleteFunc(append(p.Coach.own(), p.Finds...), func(f Find) bool { return f.Text == "" })
}

// findsIn returns what a coach in the index is found by, in the order it was
// put in.
func findsIn(tx *sql.Tx, id string) (finds []Find, err error) {
	err = disk.Each(context.Background(), tx, func(row *sql.Rows) error {
		var f Find
		err := row.Scan(&f.Kind, &f.Text)
		finds = append(finds, f)
		return err
	}, "SELECT kind, text FROM find WHERE coach = (SELECT number FROM coach WHERE id = ?) ORDER BY number", id)
	return finds, err
}

// putPages adds pages of which nothing is in the index. The full-text tables
// get all texts in one statement each: between others they write every time.
func putPages(tx *sql.Tx, pages []Page) error {
	var last int64
	if err := tx.QueryRow("SELECT coalesce(max(number), 0) FROM find").Scan(&last); err != nil {
		return err
	}
	if err := putTexts(tx, pages); err != nil {
		return err
	}
	for _, statement := range []string{
		"INSERT INTO fragment (rowid, text) SELECT number, text FROM find WHERE number > ? AND place = 'fragment'",
		"INSERT INTO word (rowid, text) SELECT number, text FROM find WHERE number > ? AND place = 'word'",
	} {
		if _, err := tx.Exec(statement, last); err != nil {
			return err
		}
	}
	return nil
}

// putTexts adds the coaches and their texts that are not empty.
func putTexts(tx *sql.Tx, pages []Page) (err error) {
	insert, err := tx.Prepare("INSERT INTO find (coach, kind, text, place) VALUES (?, ?, ?, ?)")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, insert.Close()) }()
	for _, page := range pages {
		number, err := putCoach(tx, page.Coach)
		if err != nil {
			return err
		}
		for _, f := range page.finds() {
			if _, err := insert.Exec(number, f.Kind, f.Text, f.Kind.place()); err != nil {
				return err
			}
		}
	}
	return nil
}

// putCoach writes the coach down and returns its number in the index.
func putCoach(tx *sql.Tx, c Coach) (number int64, err error) {
	err = tx.QueryRow(`INSERT INTO coach (id, ledger, vin, serial, builder, model, year, entries, day, at)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (id) DO UPDATE SET ledger = excluded.ledger, vin = excluded.vin, serial = excluded.serial,
		builder = excluded.builder, model = excluded.model, year = excluded.year, entries = excluded.entries,
		day = excluded.day, at = excluded.at RETURNING number`,
		c.ID, c.Ledger, c.VIN, c.Serial, c.Builder, c.Model, c.Year, c.Entries, c.Day, c.At).Scan(&number)
	return number, err
}

// takeFinds takes all texts of a coach out. A full-text table without texts
// of its own must be told what it had (https://www.sqlite.org/fts5.html 4.4.3).
func takeFinds(tx *sql.Tx, id string) error {
	const ofCoach = "FROM find WHERE coach = (SELECT number FROM coach WHERE id = ?)"
	for _, statement := range []string{
		"INSERT INTO fragment (fragment, rowid, text) SELECT 'delete', number, text " + ofCoach + " AND place = 'fragment'",
		"INSERT INTO word (word, rowid, text) SELECT 'delete', number, text " + ofCoach + " AND place = 'word'",
		"DELETE " + ofCoach,
	} {
		if _, err := tx.Exec(statement, id); err != nil {
			return err
		}
	}
	return nil
}

const coachColumns = "coach.id, coach.ledger, coach.vin, coach.serial, coach.builder, coach.model, coach.year, coach.entries, coach.day, coach.at"

// fields returns where the columns of coachColumns go.
func (c *Coach) fields() []any {
	return []any{&c.ID, &c.Ledger, &c.VIN, &c.Serial, &c.Builder, &c.Model, &c.Year, &c.Entries, &c.Day, &c.At}
}

func scanCoach(row scanner) (Coach, error) {
	var c Coach
	err := row.Scan(c.fields()...)
	return c, err
}

// Coach returns the coach with this ID; known is false if there is none.
func (b *Book) Coach(id string) (c Coach, known bool, err error) {
	c, err = scanCoach(b.db.QueryRow("SELECT "+coachColumns+" FROM coach WHERE id = ?", id))
	if errors.Is(err, sql.ErrNoRows) {
		return Coach{}, false, nil
	}
	return c, err == nil, disk.Fault(b.path, err)
}

// Coaches returns all coaches, the one with the newest day first.
func (b *Book) Coaches() ([]Coach, error) {
	return list(b, scanCoach, "SELECT "+coachColumns+" FROM coach ORDER BY day DESC, id")
}

// WithPlate returns the ID of the coach of this whole VIN or serial; "" where
// there is none.
func (b *Book) WithPlate(plate string) (id string, err error) {
	err = b.db.QueryRow("SELECT coalesce(max(id), '') FROM coach WHERE vin = ?1 OR serial = ?1", plate).Scan(&id)
	return id, disk.Fault(b.path, err)
}

// NewestAt returns the newest at of all coaches, "" if there is none.
func (b *Book) NewestAt() (string, error) {
	var at string
	err := b.db.QueryRow("SELECT coalesce(max(at), '') FROM coach").Scan(&at)
	return at, disk.Fault(b.path, err)
}
