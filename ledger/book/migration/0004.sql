-- what the shop lets a word of its own stand for: spongy = soft-deck
CREATE TABLE own_word (
  typed TEXT PRIMARY KEY,
  word  TEXT NOT NULL,
  added TEXT NOT NULL
) STRICT;
