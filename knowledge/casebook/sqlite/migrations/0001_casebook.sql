-- A case is its opening and its entries; both are written once and never again.
CREATE TABLE cases (
  "row"   INTEGER PRIMARY KEY,
  number  INTEGER NOT NULL CHECK (number > 0),
  id      TEXT NOT NULL UNIQUE,
  unit    TEXT NOT NULL,
  title   TEXT NOT NULL,
  vehicle TEXT NOT NULL,
  words   TEXT NOT NULL,
  rules   TEXT NOT NULL,
  "by"    TEXT NOT NULL,
  at      TEXT NOT NULL,          -- RFC 3339, '' when not known; information only
  "key"   TEXT UNIQUE,            -- the client's, NULL for none
  sum     BLOB NOT NULL           -- checksum of the row
) STRICT;

CREATE INDEX cases_number ON cases (number, id);

CREATE TABLE entries (
  "case" INTEGER NOT NULL REFERENCES cases,
  seq    INTEGER NOT NULL CHECK (seq > 0),
  kind   TEXT NOT NULL,
  "by"   TEXT NOT NULL,
  at     TEXT NOT NULL,
  "key"  TEXT,
  body   TEXT NOT NULL,           -- JSON
  sum    BLOB NOT NULL,           -- checksum of the entry and of the one before
  PRIMARY KEY ("case", seq)
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX entries_key ON entries ("case", "key") WHERE "key" IS NOT NULL;

CREATE TRIGGER cases_keep   BEFORE UPDATE ON cases   BEGIN SELECT raise(ABORT, 'the casebook is append-only'); END;
CREATE TRIGGER cases_stay   BEFORE DELETE ON cases   BEGIN SELECT raise(ABORT, 'the casebook is append-only'); END;
CREATE TRIGGER entries_keep BEFORE UPDATE ON entries BEGIN SELECT raise(ABORT, 'the casebook is append-only'); END;
CREATE TRIGGER entries_stay BEFORE DELETE ON entries BEGIN SELECT raise(ABORT, 'the casebook is append-only'); END;

-- What follows is derived from the above, for lists and searches.
CREATE TABLE state (
  "case"   INTEGER PRIMARY KEY REFERENCES cases,
  number   INTEGER NOT NULL,
  id       TEXT NOT NULL,
  unit     TEXT NOT NULL,
  opened   INTEGER,               -- seconds since 1970, NULL when not known
  status   TEXT NOT NULL,
  earlier  TEXT REFERENCES cases (id) DEFERRABLE INITIALLY DEFERRED,
  last_seq INTEGER NOT NULL,
  last_at  TEXT NOT NULL,
  culprits TEXT NOT NULL,         -- JSON array
  last_sum BLOB NOT NULL,         -- checksum of the newest entry, or of the opening
  sum      BLOB NOT NULL          -- checksum of this row
) STRICT;

CREATE INDEX state_number  ON state (number, id, status);
CREATE INDEX state_status  ON state (status, number, id);
CREATE INDEX state_unit    ON state (unit, number, id, status);
CREATE INDEX state_opened  ON state (opened, status);
CREATE INDEX state_earlier ON state (earlier) WHERE earlier IS NOT NULL;

CREATE TABLE present (             -- findings reported present
  name      TEXT NOT NULL,
  place     TEXT NOT NULL,
  condition TEXT NOT NULL,
  "case"    INTEGER NOT NULL REFERENCES cases,
  PRIMARY KEY (name, place, condition, "case")
) STRICT, WITHOUT ROWID;

CREATE INDEX present_case ON present ("case");

CREATE TABLE failed (              -- components confirmed failed
  component TEXT NOT NULL,
  mode      TEXT NOT NULL,
  "case"    INTEGER NOT NULL REFERENCES cases,
  PRIMARY KEY (component, mode, "case")
) STRICT, WITHOUT ROWID;

CREATE INDEX failed_case ON failed ("case");

CREATE VIRTUAL TABLE words USING fts5 (
  text, content = '', contentless_delete = 1, tokenize = 'unicode61 remove_diacritics 2'
);

-- What the file says of itself: "schema", the checksum of the statements that
-- made it, which no checksum of a row covers.
CREATE TABLE about (
  name  TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
