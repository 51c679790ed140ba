-- The bench: deflection rigs, wood and other stock, hubs, and batches of spars with the rig they are
-- measured on. `section` holds what the builder wrote, with units, as docs/workshop-file.md says.

CREATE TABLE rigs (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE stocks (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE hubs (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE batches (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  rig_id TEXT REFERENCES rigs (id) DEFERRABLE INITIALLY DEFERRED,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

ALTER TABLE spars ADD COLUMN batch_id TEXT REFERENCES batches (id) DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE spars ADD COLUMN stock_id TEXT REFERENCES stocks (id) DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE propellers ADD COLUMN hub_id TEXT REFERENCES hubs (id) DEFERRABLE INITIALLY DEFERRED;

-- Records are archived, never deleted.
CREATE TRIGGER rigs_stay BEFORE DELETE ON rigs
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER stocks_stay BEFORE DELETE ON stocks
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER hubs_stay BEFORE DELETE ON hubs
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER batches_stay BEFORE DELETE ON batches
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;

CREATE INDEX batches_by_rig ON batches (rig_id);
CREATE INDEX spars_by_batch ON spars (batch_id);
CREATE INDEX spars_by_stock ON spars (stock_id);
CREATE INDEX propellers_by_hub ON propellers (hub_id);
