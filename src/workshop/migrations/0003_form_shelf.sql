-- The form shelf: forms the builder owns, and the cylinders to form blades on.
-- `section` holds what the builder wrote, with units, as docs/workshop-file.md says.

CREATE TABLE forms (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE cylinders (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

-- Records are archived, never deleted.
CREATE TRIGGER forms_stay BEFORE DELETE ON forms
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER cylinders_stay BEFORE DELETE ON cylinders
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
