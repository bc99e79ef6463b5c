-- SPDX-FileCopyrightText: The Brinewright authors
-- SPDX-License-Identifier: Apache-2.0
-- Apart from the trail: what nobody should read, and what comes and goes.
CREATE TABLE secret (
  person text COLLATE "C" NOT NULL PRIMARY KEY,
  hash text COLLATE "C" NOT NULL,
  at text COLLATE "C" NOT NULL,
  failures bigint NOT NULL,
  last_failure text COLLATE "C" NOT NULL
);

CREATE TABLE session (
  token_hash text COLLATE "C" NOT NULL PRIMARY KEY,
  person text COLLATE "C" NOT NULL,
  device text COLLATE "C" NOT NULL,
  opened text COLLATE "C" NOT NULL,
  used text COLLATE "C" NOT NULL,
  ends text COLLATE "C" NOT NULL,
  idle_minutes bigint NOT NULL
);
CREATE INDEX session_by_person ON session (person);
