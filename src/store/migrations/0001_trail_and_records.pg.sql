-- SPDX-FileCopyrightText: The Brinewright authors
-- SPDX-License-Identifier: Apache-2.0
-- Protected: books, migration, entry, record, attachment, request. Projections: the rest.
CREATE TABLE books (
  one bigint PRIMARY KEY CHECK (one = 1),
  identity text COLLATE "C" NOT NULL,
  made text COLLATE "C" NOT NULL,
  genesis text COLLATE "C" NOT NULL
);

CREATE TABLE migration (
  number bigint PRIMARY KEY,
  name text COLLATE "C" NOT NULL,
  checksum text COLLATE "C" NOT NULL,
  at text COLLATE "C" NOT NULL
);

CREATE TABLE entry (
  seq bigint PRIMARY KEY CHECK (seq >= 1),
  person text COLLATE "C" NOT NULL,
  subject_kind text COLLATE "C" NOT NULL,
  subject_id text COLLATE "C" NOT NULL,
  body text COLLATE "C" NOT NULL,
  hash text COLLATE "C" NOT NULL CHECK (length(hash) = 64)
);
CREATE INDEX entry_by_subject ON entry (subject_kind, subject_id, seq);
CREATE INDEX entry_by_person ON entry (person, seq);

CREATE TABLE record (
  kind text COLLATE "C" NOT NULL,
  id text COLLATE "C" NOT NULL,
  version bigint NOT NULL CHECK (version >= 1),
  entry bigint NOT NULL REFERENCES entry (seq),
  state text COLLATE "C" NOT NULL,
  title text COLLATE "C" NOT NULL,
  body text COLLATE "C" NOT NULL,
  facts text COLLATE "C" NOT NULL,
  PRIMARY KEY (kind, id, version)
);
CREATE INDEX record_by_entry ON record (entry);

CREATE TABLE attachment (
  sha256 text COLLATE "C" NOT NULL PRIMARY KEY,
  entry bigint NOT NULL REFERENCES entry (seq),
  name text COLLATE "C" NOT NULL,
  media_type text COLLATE "C" NOT NULL,
  size bigint NOT NULL,
  bytes bytea NOT NULL
);
CREATE INDEX attachment_by_entry ON attachment (entry);

CREATE TABLE request (
  request text COLLATE "C" NOT NULL PRIMARY KEY,
  entry bigint NOT NULL REFERENCES entry (seq),
  answer text COLLATE "C" NOT NULL
);
CREATE INDEX request_by_entry ON request (entry);

CREATE TABLE current (
  kind text COLLATE "C" NOT NULL,
  id text COLLATE "C" NOT NULL,
  version bigint NOT NULL,
  state text COLLATE "C" NOT NULL,
  title text COLLATE "C" NOT NULL,
  entry bigint NOT NULL,
  PRIMARY KEY (kind, id)
);
CREATE INDEX current_by_state ON current (kind, state, id);
CREATE INDEX current_by_title ON current (kind, title, id);

CREATE TABLE link (
  from_kind text COLLATE "C" NOT NULL,
  from_id text COLLATE "C" NOT NULL,
  ordinal bigint NOT NULL,
  role text COLLATE "C" NOT NULL,
  to_kind text COLLATE "C" NOT NULL,
  to_id text COLLATE "C" NOT NULL,
  PRIMARY KEY (from_kind, from_id, ordinal)
);
CREATE INDEX link_by_target ON link (to_kind, to_id, role, from_kind, from_id);

CREATE TABLE search_key (
  key text COLLATE "C" NOT NULL,
  kind text COLLATE "C" NOT NULL,
  id text COLLATE "C" NOT NULL,
  PRIMARY KEY (key, kind, id)
);
CREATE INDEX search_key_by_record ON search_key (kind, id, key);

CREATE TABLE measurement (
  kind text COLLATE "C" NOT NULL,
  id text COLLATE "C" NOT NULL,
  ordinal bigint NOT NULL,
  analyte text COLLATE "C" NOT NULL,
  sample text COLLATE "C" NOT NULL,
  batch text COLLATE "C" NOT NULL,
  run text COLLATE "C" NOT NULL,
  line bigint NOT NULL,
  at text COLLATE "C" NOT NULL,
  digits text COLLATE "C" NOT NULL,
  value double precision,
  u double precision,
  unit text COLLATE "C" NOT NULL,
  state text COLLATE "C" NOT NULL
);
CREATE INDEX measurement_by_record ON measurement (kind, id, ordinal);
CREATE INDEX measurement_by_analyte ON measurement (analyte, at);
CREATE INDEX measurement_by_batch ON measurement (batch);
CREATE INDEX measurement_by_sample ON measurement (sample);
CREATE INDEX measurement_by_run ON measurement (run);

CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'protected: %', TG_TABLE_NAME;
END
$$;
CREATE TRIGGER books_stays BEFORE UPDATE OR DELETE ON books FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER books_lasts BEFORE TRUNCATE ON books FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER migration_stays BEFORE UPDATE OR DELETE ON migration FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER migration_lasts BEFORE TRUNCATE ON migration FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER entry_stays BEFORE UPDATE OR DELETE ON entry FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER entry_lasts BEFORE TRUNCATE ON entry FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER record_stays BEFORE UPDATE OR DELETE ON record FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER record_lasts BEFORE TRUNCATE ON record FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER attachment_stays BEFORE UPDATE OR DELETE ON attachment FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER attachment_lasts BEFORE TRUNCATE ON attachment FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER request_stays BEFORE UPDATE OR DELETE ON request FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER request_lasts BEFORE TRUNCATE ON request FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
