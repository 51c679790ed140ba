-- Which workshop this is: made once and kept in the file, so that a page that kept flights while the
-- program was away knows whether they belong here.

CREATE TABLE identity (
  one INTEGER PRIMARY KEY NOT NULL CHECK (one = 1),
  id TEXT NOT NULL CHECK (length(id) BETWEEN 1 AND 64)
) STRICT;
INSERT INTO identity (one, id) VALUES (1, lower(hex(randomblob(10))));

CREATE TRIGGER identity_stays BEFORE DELETE ON identity
BEGIN SELECT raise(ABORT, 'the id of a workshop is made once'); END;
CREATE TRIGGER identity_stands BEFORE UPDATE ON identity
BEGIN SELECT raise(ABORT, 'the id of a workshop is made once'); END;
