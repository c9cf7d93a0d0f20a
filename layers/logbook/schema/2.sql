-- Version 2: the keeper's own colour prototypes.

CREATE TABLE prototypes (
  tank   TEXT REFERENCES tanks, -- NULL: it holds for every tank
  name   TEXT NOT NULL,
  band   TEXT NOT NULL,
  hex    TEXT NOT NULL,
  spread REAL NOT NULL, -- CIEDE2000 units
  since  INTEGER NOT NULL REFERENCES changes,
  until  INTEGER REFERENCES changes
) STRICT;
CREATE UNIQUE INDEX prototypes_standing ON prototypes (ifnull(tank, ''), name) WHERE until IS NULL;
