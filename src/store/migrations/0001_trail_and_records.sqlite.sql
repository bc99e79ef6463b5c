-- SPDX-FileCopyrightText: The Brinewright authors
-- SPDX-License-Identifier: Apache-2.0
-- Protected: books, migration, entry, record, attachment, request. Projections: the rest.
CREATE TABLE books (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  identity TEXT NOT NULL,
  made TEXT NOT NULL,
  genesis TEXT NOT NULL
) STRICT;

CREATE TABLE migration (
  number INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  checksum TEXT NOT NULL,
  at TEXT NOT NULL
) STRICT;

CREATE TABLE entry (
  seq INTEGER PRIMARY KEY CHECK (seq >= 1),
  person TEXT NOT NULL,
  subject_kind TEXT NOT NULL,
  subject_id TEXT NOT NULL,
  body TEXT NOT NULL,
  hash TEXT NOT NULL CHECK (length(hash) = 64)
) STRICT;
CREATE INDEX entry_by_subject ON entry (subject_kind, subject_id, seq);
CREATE INDEX entry_by_person ON entry (person, seq);

CREATE TABLE record (
  kind TEXT NOT NULL,
  id TEXT NOT NULL,
  version INTEGER NOT NULL CHECK (version >= 1),
  entry INTEGER NOT NULL REFERENCES entry (seq),
  state TEXT NOT NULL,
  title TEXT NOT NULL,
  body TEXT NOT NULL,
  facts TEXT NOT NULL,
  PRIMARY KEY (kind, id, version)
) STRICT;
CREATE INDEX record_by_entry ON record (entry);

CREATE TABLE attachment (
  sha256 TEXT NOT NULL PRIMARY KEY,
  entry INTEGER NOT NULL REFERENCES entry (seq),
  name TEXT NOT NULL,
  media_type TEXT NOT NULL,
  size INTEGER NOT NULL,
  bytes BLOB NOT NULL
) STRICT;
CREATE INDEX attachment_by_entry ON attachment (entry);

CREATE TABLE request (
  request TEXT NOT NULL PRIMARY KEY,
  entry INTEGER NOT NULL REFERENCES entry (seq),
  answer TEXT NOT NULL
) STRICT;
CREATE INDEX request_by_entry ON request (entry);

CREATE TABLE current (
  kind TEXT NOT NULL,
  id TEXT NOT NULL,
  version INTEGER NOT NULL,
  state TEXT NOT NULL,
  title TEXT NOT NULL,
  entry INTEGER NOT NULL,
  PRIMARY KEY (kind, id)
) STRICT, WITHOUT ROWID;
CREATE INDEX current_by_state ON current (kind, state, id);
CREATE INDEX current_by_title ON current (kind, title, id);

CREATE TABLE link (
  from_kind TEXT NOT NULL,
  from_id TEXT NOT NULL,
  ordinal INTEGER NOT NULL,
  role TEXT NOT NULL,
  to_kind TEXT NOT NULL,
  to_id TEXT NOT NULL,
  PRIMARY KEY (from_kind, from_id, ordinal)
) STRICT, WITHOUT ROWID;
CREATE INDEX link_by_target ON link (to_kind, to_id, role, from_kind, from_id);

CREATE TABLE search_key (
  key TEXT NOT NULL,
  kind TEXT NOT NULL,
  id TEXT NOT NULL,
  PRIMARY KEY (key, kind, id)
) STRICT, WITHOUT ROWID;
CREATE INDEX search_key_by_record ON search_key (kind, id, key);

CREATE TABLE measurement (
  kind TEXT NOT NULL,
  id TEXT NOT NULL,
  ordinal INTEGER NOT NULL,
  analyte TEXT NOT NULL,
  sample TEXT NOT NULL,
  batch TEXT NOT NULL,
  run TEXT NOT NULL,
  line INTEGER NOT NULL,
  at TEXT NOT NULL,
  digits TEXT NOT NULL,
  value REAL,
  u REAL,
  unit TEXT NOT NULL,
  state TEXT NOT NULL
) STRICT;
CREATE INDEX measurement_by_record ON measurement (kind, id, ordinal);
CREATE INDEX measurement_by_analyte ON measurement (analyte, at);
CREATE INDEX measurement_by_batch ON measurement (batch);
CREATE INDEX measurement_by_sample ON measurement (sample);
CREATE INDEX measurement_by_run ON measurement (run);

CREATE TRIGGER books_stay BEFORE UPDATE ON books
BEGIN SELECT RAISE(ABORT, 'protected: books'); END;
CREATE TRIGGER books_last BEFORE DELETE ON books
BEGIN SELECT RAISE(ABORT, 'protected: books'); END;
CREATE TRIGGER migration_stays BEFORE UPDATE ON migration
BEGIN SELECT RAISE(ABORT, 'protected: migration'); END;
CREATE TRIGGER migration_lasts BEFORE DELETE ON migration
BEGIN SELECT RAISE(ABORT, 'protected: migration'); END;
CREATE TRIGGER entry_stays BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'protected: entry'); END;
CREATE TRIGGER entry_lasts BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'protected: entry'); END;
CREATE TRIGGER record_stays BEFORE UPDATE ON record
BEGIN SELECT RAISE(ABORT, 'protected: record'); END;
CREATE TRIGGER record_lasts BEFORE DELETE ON record
BEGIN SELECT RAISE(ABORT, 'protected: record'); END;
CREATE TRIGGER attachment_stays BEFORE UPDATE ON attachment
BEGIN SELECT RAISE(ABORT, 'protected: attachment'); END;
CREATE TRIGGER attachment_lasts BEFORE DELETE ON attachment
BEGIN SELECT RAISE(ABORT, 'protected: attachment'); END;
CREATE TRIGGER request_stays BEFORE UPDATE ON request
BEGIN SELECT RAISE(ABORT, 'protected: request'); END;
CREATE TRIGGER request_lasts BEFORE DELETE ON request
BEGIN SELECT RAISE(ABORT, 'protected: request'); END;
