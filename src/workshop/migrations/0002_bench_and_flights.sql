-- What the bench and the floor keep: spars, blades, assembled propellers, weights, flights.
-- Figures stand in `section`, in SI, under the names that docs/workshop-file.md gives.

CREATE TABLE spars (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE blades (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  design_id TEXT REFERENCES designs (id) DEFERRABLE INITIALLY DEFERRED,
  spar_id TEXT REFERENCES spars (id) DEFERRABLE INITIALLY DEFERRED,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE propellers (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  design_id TEXT REFERENCES designs (id) DEFERRABLE INITIALLY DEFERRED,
  blade_a_id TEXT REFERENCES blades (id) DEFERRABLE INITIALLY DEFERRED,
  blade_b_id TEXT REFERENCES blades (id) DEFERRABLE INITIALLY DEFERRED,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL,
  CHECK (blade_a_id <> blade_b_id)
) STRICT;

CREATE TABLE weights (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  model_id TEXT REFERENCES models (id) DEFERRABLE INITIALLY DEFERRED,
  propeller_id TEXT REFERENCES propellers (id) DEFERRABLE INITIALLY DEFERRED,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

CREATE TABLE flights (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name TEXT NOT NULL CHECK (name <> ''),
  section TEXT NOT NULL CHECK (json_valid(section) AND json_type(section) = 'object'),
  hall_id TEXT REFERENCES halls (id) DEFERRABLE INITIALLY DEFERRED,
  model_id TEXT REFERENCES models (id) DEFERRABLE INITIALLY DEFERRED,
  propeller_id TEXT REFERENCES propellers (id) DEFERRABLE INITIALLY DEFERRED,
  motor_id TEXT REFERENCES motors (id) DEFERRABLE INITIALLY DEFERRED,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  created_at TEXT NOT NULL,
  updated_at TEXT NOT NULL,
  archived_at TEXT,
  search_text TEXT NOT NULL
) STRICT;

-- Records are archived, never deleted.
CREATE TRIGGER spars_stay BEFORE DELETE ON spars
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER blades_stay BEFORE DELETE ON blades
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER propellers_stay BEFORE DELETE ON propellers
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER weights_stay BEFORE DELETE ON weights
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;
CREATE TRIGGER flights_stay BEFORE DELETE ON flights
BEGIN SELECT raise(ABORT, 'records are archived, never deleted'); END;

CREATE INDEX blades_by_design ON blades (design_id);
CREATE INDEX blades_by_spar ON blades (spar_id);
CREATE INDEX propellers_by_design ON propellers (design_id);
CREATE INDEX propellers_by_blade_a ON propellers (blade_a_id);
CREATE INDEX propellers_by_blade_b ON propellers (blade_b_id);
CREATE INDEX weights_by_model ON weights (model_id);
CREATE INDEX weights_by_propeller ON weights (propeller_id);
CREATE INDEX flights_by_hall ON flights (hall_id);
CREATE INDEX flights_by_model ON flights (model_id);
CREATE INDEX flights_by_propeller ON flights (propeller_id);
CREATE INDEX flights_by_motor ON flights (motor_id);
CREATE INDEX flights_by_date ON flights (section ->> '$.flown_at');
