//! How the file is built, and how older files grow into it.

use std::sync::OnceLock;

use rusqlite::{Connection, TransactionBehavior};

/// What marks an SQLite file as a logbook: `RLLB` in its header.
pub(super) const APPLICATION_ID: i32 = 0x524C_4C42;

/// The steps from an empty file to the newest format. This list only grows: a step that was ever published is never
/// changed, for there are files that were built by it. How many steps a file has seen is its `user_version`.
///
/// A new kind of entry is a step too, if an empty one, so that an older program does not stumble over it.
pub(super) const STEPS: &[&str] = &[FIRST_FORMAT];

const FIRST_FORMAT: &str = "
CREATE TABLE entry (
    id           INTEGER PRIMARY KEY CHECK (id > 0),
    at           TEXT NOT NULL,
    zone         TEXT NOT NULL,
    kind         TEXT NOT NULL,
    data         TEXT NOT NULL,
    strikes      INTEGER UNIQUE REFERENCES entry (id) CHECK (strikes < id),
    device       TEXT NOT NULL,
    device_entry TEXT NOT NULL,
    hash         BLOB NOT NULL CHECK (length(hash) = 32),
    UNIQUE (device, device_entry)
) STRICT;

CREATE TRIGGER entry_follows BEFORE INSERT ON entry BEGIN
    SELECT RAISE(ABORT, 'a new entry takes the next number')
        WHERE new.id IS NOT (SELECT coalesce(max(id), 0) + 1 FROM entry);
    SELECT RAISE(ABORT, 'the device has used this id before')
        WHERE EXISTS (SELECT 1 FROM entry WHERE device = new.device AND device_entry = new.device_entry);
    SELECT RAISE(ABORT, 'the entry was struck before')
        WHERE EXISTS (SELECT 1 FROM entry WHERE strikes = new.strikes);
END;

CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN
    SELECT RAISE(ABORT, 'an entry is never changed');
END;

CREATE TRIGGER entry_remains BEFORE DELETE ON entry BEGIN
    SELECT RAISE(ABORT, 'an entry is never removed');
END;
";

/// The newest format of a logbook's file. Older ones grow into it when something is written; a newer one is refused.
#[must_use]
pub fn newest() -> i64 {
    i64::try_from(STEPS.len()).unwrap_or(i64::MAX)
}

/// The format of a file.
pub(super) fn version(connection: &Connection) -> rusqlite::Result<i64> {
    connection.query_row("PRAGMA user_version", [], |row| row.get(0))
}

/// Takes the file through the steps that it has not seen, all of them or none.
pub(super) fn grow(connection: &mut Connection, steps: &[&str]) -> rusqlite::Result<()> {
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    // Read inside: another process may have been faster.
    let seen = usize::try_from(version(&transaction)?).unwrap_or(usize::MAX);
    for (step, number) in steps.iter().zip(1_i64..).skip(seen) {
        transaction.execute_batch(step)?;
        transaction.pragma_update(None, "user_version", number)?;
    }
    transaction.commit()
}

/// A table, index or trigger: kind, name, table, and the SQL that made it (none for an index that a constraint made).
pub(super) type Object = (String, String, String, Option<String>);

/// Everything that the file is built of, in order.
pub(super) fn objects(connection: &Connection) -> rusqlite::Result<Vec<Object>> {
    let mut query =
        connection.prepare("SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name")?;
    let rows = query.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?)))?;
    rows.collect()
}

/// What a file of format `version` is built of: what the steps up to it build.
pub(super) fn wanted(version: i64) -> rusqlite::Result<Vec<Object>> {
    static NEWEST: OnceLock<Vec<Object>> = OnceLock::new();
    let build = || {
        let seen = usize::try_from(version).unwrap_or(usize::MAX).min(STEPS.len());
        let mut connection = Connection::open_in_memory()?;
        grow(&mut connection, STEPS.get(..seen).unwrap_or(STEPS))?;
        objects(&connection)
    };
    if version != newest() {
        return build();
    }
    if let Some(objects) = NEWEST.get() {
        return Ok(objects.clone());
    }
    let objects = build()?;
    Ok(NEWEST.get_or_init(|| objects).clone())
}

/// The first object that is not as it should be, if any.
pub(super) fn difference(found: &[Object], wanted: &[Object]) -> Option<String> {
    let stranger = found.iter().find(|object| !wanted.contains(object));
    let missing = wanted.iter().find(|object| !found.contains(object));
    missing.or(stranger).map(|object| object.1.clone()).or_else(|| {
        // The same objects, but one of them twice.
        (found.len() != wanted.len()).then(|| "sqlite_schema".to_owned())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const MORE: &[&str] = &[FIRST_FORMAT, "CREATE TABLE more (a INTEGER) STRICT", ""];

    fn grown(steps: &[&str]) -> Connection {
        let mut connection = Connection::open_in_memory().unwrap();
        grow(&mut connection, steps).unwrap();
        connection
    }

    #[test]
    fn a_file_takes_only_the_steps_it_has_not_seen() {
        let mut connection = grown(STEPS);
        assert_eq!(version(&connection).unwrap(), newest());
        assert_eq!(
            difference(&objects(&connection).unwrap(), &wanted(newest()).unwrap()),
            None
        );
        grow(&mut connection, MORE).unwrap();
        assert_eq!(version(&connection).unwrap(), 3);
        assert_eq!(objects(&connection).unwrap(), objects(&grown(MORE)).unwrap());
        // Nothing is left to do.
        grow(&mut connection, MORE).unwrap();
        assert_eq!(version(&connection).unwrap(), 3);
    }

    #[test]
    fn a_step_that_fails_takes_back_those_before_it() {
        let mut connection = grown(STEPS);
        let before = objects(&connection).unwrap();
        let steps = [
            FIRST_FORMAT,
            "CREATE TABLE more (a INTEGER) STRICT",
            "CREATE TABLE more (b INTEGER) STRICT",
        ];
        assert!(grow(&mut connection, &steps).is_err());
        assert_eq!(
            (version(&connection).unwrap(), objects(&connection).unwrap()),
            (1, before)
        );
    }

    #[test]
    fn a_newer_file_is_not_taken_back() {
        let mut connection = grown(MORE);
        grow(&mut connection, STEPS).unwrap();
        assert_eq!(version(&connection).unwrap(), 3);
    }

    #[test]
    fn what_differs_is_named() {
        let wanted = wanted(newest()).unwrap();
        let connection = grown(STEPS);
        connection.execute_batch("CREATE TABLE more (a)").unwrap();
        assert_eq!(
            difference(&objects(&connection).unwrap(), &wanted).as_deref(),
            Some("more")
        );
        connection
            .execute_batch("DROP TABLE more; DROP TRIGGER entry_stays")
            .unwrap();
        assert_eq!(
            difference(&objects(&connection).unwrap(), &wanted).as_deref(),
            Some("entry_stays")
        );
    }
}
