-- what the shop lets a word of its own stand for: spongy = soft-deck
CREATE TABLE own_word (
  typed TEXT PRIMARY KEY,
  word  TEXT NOT NULL,
  added TEXT NOT NULL
) STRICT;

-- a whole plate is looked up as it is
CREATE INDEX coach_vin ON coach (vin);
CREATE INDEX coach_serial ON coach (serial);
