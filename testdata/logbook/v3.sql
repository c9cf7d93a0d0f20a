-- A logbook of version 3, written by the program of that version: what v2.sql holds, a core
-- filed with its photo, another filed in its place, a core added and taken back. The photos'
-- files are those of photo_test.go. v3.json is its export, retired tanks included. Opened, it
-- must become one of the newest version.
PRAGMA application_id = 1885433445;
PRAGMA user_version = 3;
PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE changes (
  id     INTEGER PRIMARY KEY,
  at     TEXT NOT NULL,
  what   TEXT NOT NULL,
  undone TEXT -- when it was taken back; NULL: it holds
) STRICT;
INSERT INTO changes VALUES(1,'2026-11-25T10:31:20Z','import of 2 tanks',NULL);
INSERT INTO changes VALUES(2,'2026-11-25T10:31:20Z','core left 2026-11-20 of tank "kettle" added',NULL);
INSERT INTO changes VALUES(3,'2026-11-25T10:31:20Z','core left 2026-11-20 of tank "kettle" amended',NULL);
INSERT INTO changes VALUES(4,'2026-11-25T10:31:20Z','core left 2026-10-31 of tank "kettle" added',NULL);
INSERT INTO changes VALUES(5,'2026-11-25T10:31:20Z','core left 2026-10-31 of tank "kettle" removed',NULL);
INSERT INTO changes VALUES(6,'2026-11-25T10:31:20Z','prototype mulm1 of tank "kettle" added',NULL);
INSERT INTO changes VALUES(7,'2026-11-25T10:31:20Z','prototype mulm1 of every tank added',NULL);
INSERT INTO changes VALUES(8,'2026-11-25T10:31:20Z','prototype erde of every tank added',NULL);
INSERT INTO changes VALUES(9,'2026-11-25T10:31:20Z','prototype erde of every tank removed',NULL);
INSERT INTO changes VALUES(10,'2026-11-25T10:31:20Z','tank "jar" retired',NULL);
INSERT INTO changes VALUES(11,'2026-11-25T10:31:20Z','water test 2026-11-20 of tank "kettle" added','2026-11-25T10:31:20Z');
INSERT INTO changes VALUES(12,'2026-11-28T18:04:10Z','core front 2026-11-27 of tank "kettle" added',NULL);
INSERT INTO changes VALUES(13,'2026-11-28T18:04:10Z','core front 2026-11-27 of tank "kettle" amended',NULL);
INSERT INTO changes VALUES(14,'2026-11-28T18:04:10Z','core left 2026-11-27 of tank "kettle" added','2026-11-28T18:04:10Z');
CREATE TABLE tanks (id TEXT PRIMARY KEY) STRICT, WITHOUT ROWID;
INSERT INTO tanks VALUES('jar');
INSERT INTO tanks VALUES('kettle');
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
INSERT INTO setups VALUES('jar',0,'','','cylinder',NULL,NULL,220.0,400.0,'',NULL,NULL,'[]','{}',1,10);
INSERT INTO setups VALUES('kettle',0,'Kettle','2024-10-12','box',600.0,300.0,NULL,280.0,'livestock',1,1,'[{"name": "pale sand", "kind": "sand", "hex": "#d9cba6", "thickness_mm": 60}]','{"mulm_mm": 50}',1,NULL);
INSERT INTO setups VALUES('jar',1,'','','cylinder',NULL,NULL,220.0,400.0,'',NULL,NULL,'[]','{}',10,NULL);
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
, photo TEXT CHECK (json_type(photo) = 'object')) STRICT;
INSERT INTO cores VALUES('kettle','2026-10-02','left',NULL,'','','[{"thickness_mm": 11, "hex": "#544535"}, {"thickness_mm": 60, "hex": "#d9cba6", "band": "native"}]',1,NULL,NULL);
INSERT INTO cores VALUES('kettle','2026-11-01','front',1,'gas-bubbles',replace('after the weekend "away"\nraining','\n',char(10)),'[{"thickness_mm": 12, "hex": "#8b5e3c"}, {"thickness_mm": 4, "hex": "#b4552a", "band": "rust"}]',1,NULL,NULL);
INSERT INTO cores VALUES('kettle','2026-11-01','left',NULL,'','','[{"thickness_mm": 13, "hex": "#544535"}, {"thickness_mm": 60, "hex": "#d9cba6", "band": "native"}]',1,NULL,NULL);
INSERT INTO cores VALUES('kettle','2026-11-20','left',NULL,'','','[{"thickness_mm": 130, "hex": "#544535"}, {"thickness_mm": 60, "hex": "#d9cba6", "band": "native"}]',2,3,NULL);
INSERT INTO cores VALUES('kettle','2026-11-20','left',NULL,'','','[{"thickness_mm": 13, "hex": "#544535"}, {"thickness_mm": 60, "hex": "#d9cba6", "band": "native"}]',3,NULL,NULL);
INSERT INTO cores VALUES('kettle','2026-10-31','left',NULL,'','','[{"thickness_mm": 12, "hex": "#544535"}]',4,5,NULL);
INSERT INTO cores VALUES('kettle','2026-11-27','front',NULL,'','','[{"thickness_mm": 2, "hex": "#000000", "edge": {"error_mm": 0.3, "highest_mm": 11, "lowest_mm": 13.2}}, {"thickness_mm": 40, "hex": "#000000"}, {"thickness_mm": 46, "hex": "#000000", "band": "mulm-dark"}]',12,13,'{"sha256": "24351ff9d5e2c7b032c1b6d638548b532f1d88798011bae7731881d3245e87f1", "colour_doubt": 4, "light": {"ev": 0, "ev_doubt": 0.4, "veil": 0, "veil_doubt": 0}, "scale_error": 0, "surface": {"error_mm": 0, "highest_mm": -1.1, "lowest_mm": 1.3}}');
INSERT INTO cores VALUES('kettle','2026-11-27','front',NULL,'roots-deep','','[{"thickness_mm": 3, "hex": "#000000", "edge": {"error_mm": 0.3, "highest_mm": 11, "lowest_mm": 13.2}}, {"thickness_mm": 40, "hex": "#000000"}, {"thickness_mm": 46, "hex": "#000000", "band": "mulm-dark"}]',13,NULL,'{"sha256": "23a0a93d5297a2b2b24c6265ff237d9aa1e53958ff8116174a8e504b19d99b9a", "colour_doubt": 4, "light": {"ev": 0, "ev_doubt": 0.4, "veil": 0, "veil_doubt": 0}, "scale_error": 0, "surface": {"error_mm": 0, "highest_mm": -1.1, "lowest_mm": 1.3}}');
INSERT INTO cores VALUES('kettle','2026-11-27','left',NULL,'','','[{"thickness_mm": 14, "hex": "#000000"}]',14,14,NULL);
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
INSERT INTO water_tests VALUES('jar','2026-11-01','',7.0999999999999996447,NULL,NULL,NULL,1,NULL);
INSERT INTO water_tests VALUES('kettle','2026-11-01','07:30',7.4000000000000003552,24.0,0.25,5.0999999999999996447,1,NULL);
INSERT INTO water_tests VALUES('kettle','2026-11-20','',7.0,NULL,NULL,NULL,11,11);
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
INSERT INTO events VALUES('kettle','2026-09-02','note',NULL,NULL,'it''s new; café 鱼',1,NULL);
INSERT INTO events VALUES('kettle','2026-09-02','siphon',0.25,20.0,'',1,NULL);
CREATE TABLE prototypes (
  tank   TEXT REFERENCES tanks, -- NULL: it holds for every tank
  name   TEXT NOT NULL,
  band   TEXT NOT NULL,
  hex    TEXT NOT NULL,
  spread REAL NOT NULL, -- CIEDE2000 units
  since  INTEGER NOT NULL REFERENCES changes,
  until  INTEGER REFERENCES changes
) STRICT;
INSERT INTO prototypes VALUES('kettle','mulm1','mulm-light','#6b4a2b',5.0,6,NULL);
INSERT INTO prototypes VALUES(NULL,'mulm1','mulm-dark','#5a3d28',5.0,7,NULL);
INSERT INTO prototypes VALUES(NULL,'erde','native','#3a2a1a',5.0,8,9);
CREATE TABLE photos (
  tank    TEXT NOT NULL REFERENCES tanks,
  date    TEXT NOT NULL,
  station TEXT NOT NULL,
  sha256  TEXT NOT NULL CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
  kind    TEXT NOT NULL CHECK (kind <> '' AND kind NOT GLOB '*[^a-z0-9]*'),
  bytes   INTEGER NOT NULL,
  width   INTEGER NOT NULL, -- pixels, upright
  height  INTEGER NOT NULL,
  picks   TEXT NOT NULL CHECK (json_valid(picks)), -- what was marked in it, for the reader of photos
  since   INTEGER NOT NULL REFERENCES changes,
  until   INTEGER REFERENCES changes,
  preview BLOB NOT NULL -- a small JPEG, last so that the columns before it are read without it
) STRICT;
INSERT INTO photos VALUES('kettle','2026-11-27','front','24351ff9d5e2c7b032c1b6d638548b532f1d88798011bae7731881d3245e87f1','jpeg',24000,4000,3000,'{"surface": 12}',12,13,X'6120736d616c6c204a504547');
INSERT INTO photos VALUES('kettle','2026-11-27','front','23a0a93d5297a2b2b24c6265ff237d9aa1e53958ff8116174a8e504b19d99b9a','jpeg',24000,4000,3000,'{"surface": 12}',13,NULL,X'6120736d616c6c204a504547');
CREATE UNIQUE INDEX setups_standing ON setups (tank) WHERE until IS NULL;
CREATE UNIQUE INDEX cores_standing ON cores (tank, date, station) WHERE until IS NULL;
CREATE UNIQUE INDEX water_tests_standing ON water_tests (tank, date, time) WHERE until IS NULL;
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
WHERE until IS NULL
;
CREATE UNIQUE INDEX prototypes_standing ON prototypes (ifnull(tank, ''), name) WHERE until IS NULL;
CREATE UNIQUE INDEX photos_standing ON photos (tank, date, station) WHERE until IS NULL;
COMMIT;
