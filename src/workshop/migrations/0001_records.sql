-- The records of the pages: halls, models, rubber batches, motors, propeller designs.
-- What each column means: docs/workshop-file.md. Times are UTC text, 2026-11-25T15:04:20.123Z.
-- search_text is what lists are searched by: name (and more) in small letters.

CREATE TABLE halls (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE models (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE rubbers (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  curve_csv TEXT NOT NULL DEFAULT '',
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE motors (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  rubber_id TEXT REFERENCES rubbers (id) DEFERRABLE INITIALLY DEFERRED,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

-- duration_s to model_name repeat those of the latest version, so that a list of ten thousand
-- designs is read and sorted from this table alone; `workshop check` verifies that they agree.
CREATE TABLE designs (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  version INTEGER NOT NULL CHECK (version >= 1),
  built_version INTEGER CHECK (built_version BETWEEN 1 AND version),
  copied_from TEXT REFERENCES designs (id) DEFERRABLE INITIALLY DEFERRED,
  duration_s REAL,
  sigma_s REAL,
  diameter_m REAL,
  hall_name TEXT NOT NULL DEFAULT '',
  model_name TEXT NOT NULL DEFAULT '',
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL,
  FOREIGN KEY (id, version) REFERENCES design_versions (design_id, version)
    DEFERRABLE INITIALLY DEFERRED
) STRICT;

CREATE TABLE design_versions (
  design_id TEXT NOT NULL REFERENCES designs (id) DEFERRABLE INITIALLY DEFERRED,
  version INTEGER NOT NULL CHECK (version >= 1),
  note TEXT NOT NULL DEFAULT '',
  saved_at TEXT NOT NULL,
  built_at TEXT,
  duration_s REAL,
  sigma_s REAL,
  diameter_m REAL,
  hall_name TEXT NOT NULL DEFAULT '',
  model_name TEXT NOT NULL DEFAULT '',
  document TEXT NOT NULL CHECK (json_valid(document) AND json_type(document, '$.job') = 'object'),
  PRIMARY KEY (design_id, version)
) STRICT, WITHOUT ROWID;

-- A version that has been built stands fast.
CREATE TRIGGER design_versions_built_stands BEFORE UPDATE OF document ON design_versions
WHEN OLD.built_at IS NOT NULL
BEGIN SELECT raise(ABORT, 'a version that has been built is not changed'); END;

-- Records are archived, never deleted.
CREATE TRIGGER halls_stay BEFORE DELETE ON halls
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER models_stay BEFORE DELETE ON models
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER rubbers_stay BEFORE DELETE ON rubbers
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER motors_stay BEFORE DELETE ON motors
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER designs_stay BEFORE DELETE ON designs
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER design_versions_stay BEFORE DELETE ON design_versions
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;

CREATE INDEX motors_by_rubber ON motors (rubber_id);
CREATE INDEX designs_by_update ON designs (updated_at, id);
CREATE INDEX designs_by_name ON designs (name COLLATE NOCASE, id);
CREATE INDEX designs_by_duration ON designs (duration_s, id);
CREATE INDEX designs_by_origin ON designs (copied_from) WHERE copied_from IS NOT NULL;
