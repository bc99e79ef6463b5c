-- SPDX-FileCopyrightText: The Brinewright authors
-- SPDX-License-Identifier: Apache-2.0
-- Apart from the trail: what nobody should read, and what comes and goes.
CREATE TABLE secret (
  person TEXT NOT NULL PRIMARY KEY,
  hash TEXT NOT NULL,
  at TEXT NOT NULL,
  failures INTEGER NOT NULL,
  last_failure TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE session (
  token_hash TEXT NOT NULL PRIMARY KEY,
  person TEXT NOT NULL,
  device TEXT NOT NULL,
  opened TEXT NOT NULL,
  used TEXT NOT NULL,
  ends TEXT NOT NULL,
  idle_minutes INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX session_by_person ON session (person);
