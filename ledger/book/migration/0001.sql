CREATE TABLE setting (
  key   TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT;

-- who a mark such as hand-1 is
CREATE TABLE mark (
  mark  TEXT PRIMARY KEY,
  name  TEXT NOT NULL,
  added TEXT NOT NULL
) STRICT;

-- what opens the private values and the free text of a ledger
CREATE TABLE slip (
  coach      TEXT NOT NULL,
  commitment TEXT NOT NULL,
  entry      INTEGER NOT NULL,
  name       TEXT NOT NULL,
  slip       TEXT NOT NULL,
  sort       TEXT NOT NULL CHECK (sort IN ('word', 'private')),
  PRIMARY KEY (coach, commitment)
) STRICT;

-- pencil; ids are never given twice, so that an old page never means a new note
CREATE TABLE note (
  id       INTEGER PRIMARY KEY AUTOINCREMENT,
  version  INTEGER NOT NULL,
  coach    TEXT NOT NULL,
  day      TEXT NOT NULL,
  zone     TEXT NOT NULL,
  position INTEGER NOT NULL,
  words    TEXT NOT NULL,
  line     TEXT NOT NULL,
  state    TEXT NOT NULL CHECK (state IN ('clear', 'short', 'unclear', 'stopped', 'refused', 'dropped')),
  was      TEXT NOT NULL,
  why      TEXT NOT NULL,
  written  TEXT NOT NULL
) STRICT;
CREATE INDEX note_coach ON note (coach, day, position, id);

-- notes that are ink now, kept for a while as they came
CREATE TABLE inked_note (
  id       INTEGER PRIMARY KEY,
  coach    TEXT NOT NULL,
  entry    INTEGER NOT NULL,
  day      TEXT NOT NULL,
  zone     TEXT NOT NULL,
  position INTEGER NOT NULL,
  words    TEXT NOT NULL,
  line     TEXT NOT NULL,
  written  TEXT NOT NULL
) STRICT;
CREATE INDEX inked_note_coach ON inked_note (coach, entry, id);

-- entry 0: still pencil; only there a name is taken
CREATE TABLE photo (
  id       INTEGER PRIMARY KEY,
  coach    TEXT NOT NULL,
  name     TEXT NOT NULL,
  original TEXT NOT NULL,
  travel   TEXT NOT NULL,
  why      TEXT NOT NULL,
  note     INTEGER NOT NULL,
  entry    INTEGER NOT NULL
) STRICT;
CREATE UNIQUE INDEX photo_name ON photo (coach, name) WHERE entry = 0;
CREATE INDEX photo_coach ON photo (coach, entry, name);

CREATE TABLE paper (
  coach       TEXT NOT NULL,
  entry       INTEGER NOT NULL,
  kind        TEXT NOT NULL,
  certificate TEXT NOT NULL,
  face        TEXT NOT NULL,
  copy        TEXT NOT NULL CHECK (copy IN ('own', 'pass-on', 'bundle', 'once')),
  name        TEXT NOT NULL,
  day         TEXT NOT NULL,
  state       TEXT NOT NULL CHECK (state IN ('made', 'named')),
  PRIMARY KEY (coach, entry, copy)
) STRICT;

-- two roots of one size are both kept: they are what this table is for
CREATE TABLE seen (
  ledger TEXT NOT NULL,
  size   INTEGER NOT NULL,
  root   TEXT NOT NULL,
  at     TEXT NOT NULL,
  PRIMARY KEY (ledger, size, root)
) STRICT;

-- the index: made again from the coach files at any time; place is the
-- full-text table that has the words of a text
CREATE TABLE coach (
  number  INTEGER PRIMARY KEY,
  id      TEXT NOT NULL UNIQUE,
  ledger  TEXT NOT NULL,
  vin     TEXT NOT NULL,
  serial  TEXT NOT NULL,
  builder TEXT NOT NULL,
  model   TEXT NOT NULL,
  year    INTEGER NOT NULL,
  entries INTEGER NOT NULL,
  day     TEXT NOT NULL,
  at      TEXT NOT NULL
) STRICT;
CREATE TABLE find (
  number INTEGER PRIMARY KEY,
  coach  INTEGER NOT NULL,
  kind   TEXT NOT NULL,
  text   TEXT NOT NULL,
  place  TEXT NOT NULL CHECK (place IN ('fragment', 'word'))
) STRICT;
CREATE INDEX find_coach ON find (coach);
CREATE VIRTUAL TABLE fragment USING fts5(text, content = 'find', content_rowid = 'number', tokenize = 'trigram');
CREATE VIRTUAL TABLE word USING fts5(text, content = 'find', content_rowid = 'number', tokenize = 'unicode61 remove_diacritics 2');
-- holders' names are words: what is taken out of the index leaves no trace in it
INSERT INTO fragment (fragment, rank) VALUES ('secure-delete', 1);
INSERT INTO word (word, rank) VALUES ('secure-delete', 1);
