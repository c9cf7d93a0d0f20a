-- A logbook of version 2, written by the program of that version: an import, a core
-- amended, one added and removed again, prototypes, one of them removed, a tank retired,
-- a water test added and taken back. v2.json is its export, retired tanks included.
-- Opened, it must become one of the newest version.
PRAGMA application_id = 1885433445;
PRAGMA user_version = 2;
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
) STRICT;
INSERT INTO cores VALUES('kettle','2026-10-02','left',NULL,'','','[{"thickness_mm": 11, "hex": "#544535"}, {"thickness_mm": 60, "hex": "#d9cba6", "band": "native"}]',1,NULL);
INSERT INTO cores VALUES('kettle','2026-11-01','front',1,'gas-bubbles',replace('after the weekend "away"\nraining','\n',char(10)),'[{"thickness_mm": 12, "hex": "#8b5e3c"}, {"thickness_mm": 4, "hex": "#b4552a", "band": "rust"}]',1,NULL);
INSERT INTO cores VALUES('kettle','2026-11-01','left',NULL,'','','[{"thickness_mm": 13, "hex": "#544535"}, {"thickness_mm": 60, "hex": "#d9cba6", "band": "native"}]',1,NULL);
INSERT INTO cores VALUES('kettle','2026-11-20','left',NULL,'','','[{"thickness_mm": 130, "hex": "#544535"}, {"thickness_mm": 60, "hex": "#d9cba6", "band": "native"}]',2,3);
INSERT INTO cores VALUES('kettle','2026-11-20','left',NULL,'','','[{"thickness_mm": 13, "hex": "#544535"}, {"thickness_mm": 60, "hex": "#d9cba6", "band": "native"}]',3,NULL);
INSERT INTO cores VALUES('kettle','2026-10-31','left',NULL,'','','[{"thickness_mm": 12, "hex": "#544535"}]',4,5);
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
COMMIT;
