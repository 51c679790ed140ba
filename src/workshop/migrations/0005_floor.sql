-- The floor: torque meters and their calibration, visits to a hall; which visit a flight belongs to.
-- `section` holds what the builder wrote, with units, as docs/workshop-file.md says.

CREATE TABLE meters (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE sessions (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  hall_id TEXT REFERENCES halls (id) DEFERRABLE INITIALLY DEFERRED,
  model_id TEXT REFERENCES models (id) DEFERRABLE INITIALLY DEFERRED,
  meter_id TEXT REFERENCES meters (id) DEFERRABLE INITIALLY DEFERRED,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

ALTER TABLE flights ADD COLUMN session_id TEXT REFERENCES sessions (id) DEFERRABLE INITIALLY DEFERRED;

-- Records are archived, never deleted.
CREATE TRIGGER meters_stay BEFORE DELETE ON meters
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER sessions_stay BEFORE DELETE ON sessions
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;

CREATE INDEX sessions_by_hall ON sessions (hall_id);
CREATE INDEX sessions_by_model ON sessions (model_id);
CREATE INDEX sessions_by_meter ON sessions (meter_id);
CREATE INDEX flights_by_session ON flights (session_id);

-- A log may hold a hundred thousand flights: its lists, the latest first, are read from these alone.
DROP INDEX flights_by_date;
CREATE INDEX flights_by_time ON flights (archived_at, section ->> '$.flight.time', id, search_text);
CREATE INDEX flights_by_update ON flights (archived_at, updated_at, id, search_text);
CREATE INDEX flights_by_name ON flights (archived_at, name COLLATE NOCASE, id, search_text);
