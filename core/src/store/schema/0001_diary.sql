-- Entries as written: never updated, never deleted. `text` is the whole entry as JSON; the other
-- columns repeat parts of it for order and for the chain.
CREATE TABLE entry (
    id TEXT PRIMARY KEY,
    job TEXT NOT NULL,
    device TEXT NOT NULL,
    seq INTEGER NOT NULL,
    clock_millis INTEGER NOT NULL,
    clock_counter INTEGER NOT NULL,
    hash TEXT NOT NULL,
    text TEXT NOT NULL,
    UNIQUE (job, device, seq)
) STRICT;

CREATE INDEX entry_in_order ON entry (job, clock_millis, clock_counter, device, seq);

CREATE TRIGGER entry_stays_as_written BEFORE UPDATE ON entry
BEGIN
    SELECT RAISE(ABORT, 'entries are never updated');
END;

CREATE TRIGGER entry_stays BEFORE DELETE ON entry
BEGIN
    SELECT RAISE(ABORT, 'entries are never deleted');
END;

-- This device and who holds it.
CREATE TABLE setting (
    key TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT;

-- Everyone who has held it, the newest last.
CREATE TABLE person (
    name TEXT PRIMARY KEY,
    used INTEGER NOT NULL
) STRICT;

-- Unsaved input.
CREATE TABLE draft (
    key TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT;
