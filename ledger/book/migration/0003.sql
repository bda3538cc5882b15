-- what each coach has of a lot: made again with the index when the coach is inked
CREATE TABLE lot (
  coach    TEXT NOT NULL,
  lot      TEXT NOT NULL,
  unit     TEXT NOT NULL,
  received INTEGER NOT NULL,
  used     INTEGER NOT NULL,
  sheet    TEXT NOT NULL,
  PRIMARY KEY (coach, lot)
) STRICT;
CREATE INDEX lot_lot ON lot (lot);
