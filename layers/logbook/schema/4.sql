-- Version 4: cores of which the keeper is sure.

-- Whether the keeper was asked whether the core is right and said so. Cores from before are
-- those of which nobody was asked.
ALTER TABLE cores ADD COLUMN sure INTEGER NOT NULL DEFAULT 0 CHECK (sure IN (0, 1));
