-- Version 3: cores read from photos.

-- What the photo leaves in doubt, as the logbook document has it; NULL: read by eye. A
-- layer's edge stands in the column layers.
ALTER TABLE cores ADD COLUMN photo TEXT CHECK (json_type(photo) = 'object');

-- The photos that cores were read from. The file itself stands beside the logbook, in
-- the folder that adds ".photos" to the logbook's name, as <sha256>.<kind>. A photo
-- stands as long as its core does and was read from it.
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
CREATE UNIQUE INDEX photos_standing ON photos (tank, date, station) WHERE until IS NULL;
