-- The life of a propeller: what happened to it, and photos. `section` of an event holds what was
-- written and the readings of the bench at that time; docs/workshop-file.md has the fields.

CREATE TABLE events (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  propeller_id TEXT REFERENCES propellers (id) DEFERRABLE INITIALLY DEFERRED,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE photos (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  image_base64 TEXT NOT NULL DEFAULT '',
  propeller_id TEXT REFERENCES propellers (id) DEFERRABLE INITIALLY DEFERRED,
  event_id TEXT REFERENCES events (id) DEFERRABLE INITIALLY DEFERRED,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

-- Records are archived, never deleted.
CREATE TRIGGER events_stay BEFORE DELETE ON events
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER photos_stay BEFORE DELETE ON photos
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;

CREATE INDEX events_by_propeller ON events (propeller_id);
CREATE INDEX photos_by_propeller ON photos (propeller_id);
CREATE INDEX photos_by_event ON photos (event_id);

-- A life reads the flights that were logged by the propeller's name.
CREATE INDEX flights_by_propeller_name ON flights (section ->> '$.flight.propeller');
