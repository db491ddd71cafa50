-- The tables of the casebook in a file (../../sqlite/migrations), in a schema
-- of their own. Text is compared byte by byte, as there.
CREATE TABLE cases (
  "row"   bigint PRIMARY KEY CHECK ("row" > 0),
  number  bigint NOT NULL CHECK (number > 0),
  id      text COLLATE "C" NOT NULL UNIQUE,
  unit    text COLLATE "C" NOT NULL,
  title   text NOT NULL,
  vehicle text NOT NULL,
  words   text NOT NULL,
  rules   text NOT NULL,
  "by"    text NOT NULL,
  at      text NOT NULL,          -- RFC 3339, '' when not known; information only
  "key"   text COLLATE "C" UNIQUE, -- the client's, NULL for none
  sum     bytea NOT NULL          -- checksum of the row
);

CREATE INDEX cases_number ON cases (number, id);

CREATE TABLE entries (
  "case" bigint NOT NULL REFERENCES cases,
  seq    bigint NOT NULL CHECK (seq > 0),
  kind   text NOT NULL,
  "by"   text NOT NULL,
  at     text NOT NULL,
  "key"  text COLLATE "C",
  body   text NOT NULL,           -- JSON, byte by byte as it was checked: not jsonb
  sum    bytea NOT NULL,          -- checksum of the entry and of the one before
  PRIMARY KEY ("case", seq)
);

CREATE UNIQUE INDEX entries_key ON entries ("case", "key") WHERE "key" IS NOT NULL;

-- Pictures of components; name is what an entry of the case calls it.
CREATE TABLE photos (
  "case" bigint NOT NULL REFERENCES cases,
  name   text COLLATE "C" NOT NULL,
  data   bytea NOT NULL,
  sum    bytea NOT NULL,          -- checksum of id, name and picture
  PRIMARY KEY ("case", name)
);

ALTER TABLE photos ALTER COLUMN data SET STORAGE EXTERNAL; -- packed already

-- One for each write, by chance: tells after a broken connection whether the
-- write was kept.
CREATE TABLE marks (mark bigint PRIMARY KEY);

CREATE FUNCTION keep() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION 'the casebook is append-only'; END $$;

CREATE TRIGGER cases_keep   BEFORE UPDATE OR DELETE OR TRUNCATE ON cases   EXECUTE FUNCTION keep();
CREATE TRIGGER entries_keep BEFORE UPDATE OR DELETE OR TRUNCATE ON entries EXECUTE FUNCTION keep();
CREATE TRIGGER photos_keep  BEFORE UPDATE OR DELETE OR TRUNCATE ON photos  EXECUTE FUNCTION keep();

-- What follows is derived from the above, for lists and searches.
CREATE TABLE state (
  "case"   bigint PRIMARY KEY REFERENCES cases,
  number   bigint NOT NULL,
  id       text COLLATE "C" NOT NULL,
  unit     text COLLATE "C" NOT NULL,
  opened   bigint,                -- seconds since 1970, NULL when not known
  status   text COLLATE "C" NOT NULL,
  earlier  text COLLATE "C" REFERENCES cases (id) DEFERRABLE INITIALLY DEFERRED,
  last_seq bigint NOT NULL,
  last_at  text NOT NULL,
  culprits text NOT NULL,         -- JSON array
  last_sum bytea NOT NULL,        -- checksum of the newest entry, or of the opening
  sum      bytea NOT NULL         -- checksum of this row
);

CREATE INDEX state_number  ON state (number, id);
CREATE INDEX state_status  ON state (status, number, id);
CREATE INDEX state_unit    ON state (unit, number, id);
CREATE INDEX state_opened  ON state (opened);
CREATE INDEX state_earlier ON state (earlier) WHERE earlier IS NOT NULL;

CREATE TABLE present (             -- findings reported present
  name      text COLLATE "C" NOT NULL,
  place     text COLLATE "C" NOT NULL,
  condition text COLLATE "C" NOT NULL,
  "case"    bigint NOT NULL REFERENCES cases,
  PRIMARY KEY (name, place, condition, "case")
);

CREATE INDEX present_case ON present ("case");

CREATE TABLE failed (              -- components confirmed failed
  component text COLLATE "C" NOT NULL,
  mode      text COLLATE "C" NOT NULL,
  "case"    bigint NOT NULL REFERENCES cases,
  PRIMARY KEY (component, mode, "case")
);

CREATE INDEX failed_case ON failed ("case");

CREATE TABLE words (               -- small letters, without accents, a space before each word
  "case" bigint PRIMARY KEY REFERENCES cases,
  text   text COLLATE "C" NOT NULL
);
