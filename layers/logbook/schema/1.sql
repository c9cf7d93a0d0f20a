-- Version 1: tanks and what is written down of them.
--
-- A row stands from the change that brought it (since) until the change that ended
-- it (until; NULL: it stands). No row is ever overwritten or deleted: amending ends
-- one and brings another. Where a change is taken back, what it brought ends with
-- that same change, and what it ended stands again.
--
-- Dates are YYYY-MM-DD, times of changes UTC, lengths mm. A text that is not given
-- is empty; a number or a flag that is not given is NULL. The columns layers, native
-- and limits hold JSON, as the logbook document does; the view layers unfolds it.

PRAGMA application_id = 1885433445; -- the letters "pane"

CREATE TABLE changes (
  id     INTEGER PRIMARY KEY,
  at     TEXT NOT NULL,
  what   TEXT NOT NULL,
  undone TEXT -- when it was taken back; NULL: it holds
) STRICT;

CREATE TABLE tanks (id TEXT PRIMARY KEY) STRICT, WITHOUT ROWID;

CREATE TABLE setups (
  tank           TEXT NOT NULL REFERENCES tanks,
  retired        INTEGER NOT NULL CHECK (retired IN (0, 1)),
  name           TEXT NOT NULL,
  set_up         TEXT NOT NULL,
  shape          TEXT NOT NULL,
  length_mm      REAL,
  width_mm       REAL,
  diameter_mm    REAL,
  water_depth_mm REAL,
  flow           TEXT NOT NULL,
  burrowers      INTEGER CHECK (burrowers IN (0, 1)),
  rooted_plants  INTEGER CHECK (rooted_plants IN (0, 1)),
  native         TEXT NOT NULL CHECK (json_type(native) = 'array'),
  limits         TEXT NOT NULL CHECK (json_type(limits) = 'object'),
  since          INTEGER NOT NULL REFERENCES changes,
  until          INTEGER REFERENCES changes
) STRICT;
CREATE UNIQUE INDEX setups_standing ON setups (tank) WHERE until IS NULL;

CREATE TABLE cores (
  tank    TEXT NOT NULL REFERENCES tanks,
  date    TEXT NOT NULL,
  station TEXT NOT NULL,
  lit     INTEGER CHECK (lit IN (0, 1)),
  signs   TEXT NOT NULL, -- with a blank between
  note    TEXT NOT NULL,
  layers  TEXT NOT NULL CHECK (json_type(layers) = 'array'), -- top to bottom
  since   INTEGER NOT NULL REFERENCES changes,
  until   INTEGER REFERENCES changes
) STRICT;
CREATE UNIQUE INDEX cores_standing ON cores (tank, date, station) WHERE until IS NULL;

CREATE TABLE water_tests (
  tank               TEXT NOT NULL REFERENCES tanks,
  date               TEXT NOT NULL,
  time               TEXT NOT NULL, -- HH:MM
  ph                 REAL,
  temperature_c      REAL,
  total_ammonia_mg_l REAL, -- mg N/L
  oxygen_mg_l        REAL,
  since              INTEGER NOT NULL REFERENCES changes,
  until              INTEGER REFERENCES changes
) STRICT;
CREATE UNIQUE INDEX water_tests_standing ON water_tests (tank, date, time) WHERE until IS NULL;

CREATE TABLE events (
  tank     TEXT NOT NULL REFERENCES tanks,
  date     TEXT NOT NULL,
  kind     TEXT NOT NULL,
  share    REAL, -- of the floor or the water, 0 to 1
  depth_mm REAL,
  note     TEXT NOT NULL,
  since    INTEGER NOT NULL REFERENCES changes,
  until    INTEGER REFERENCES changes
) STRICT;
-- NULLs would pass for different from each other.
CREATE UNIQUE INDEX events_standing ON events (tank, date, kind, ifnull(share, -1), ifnull(depth_mm, -1), note)
  WHERE until IS NULL;

CREATE VIEW layers AS
SELECT
  tank, date, station,
  key + 1 AS position, -- from the top
  json_extract(value, '$.thickness_mm') AS thickness_mm,
  json_extract(value, '$.hex') AS hex,
  ifnull(json_extract(value, '$.band'), '') AS band,
  ifnull(json_extract(value, '$.note'), '') AS note
FROM cores, json_each(layers)
WHERE until IS NULL;
