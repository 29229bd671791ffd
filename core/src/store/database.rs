//! Opening the database: settings, migrations, and what to do with one that cannot be opened.

use std::path::Path;

use rusqlite::{Connection, ErrorCode, ffi};
use rusqlite_migration::{M, Migrations, SchemaVersion};

use super::{Notice, StoreError};

/// Numbered migrations, oldest first; each runs in a transaction with `user_version`. Once shipped,
/// one is never edited.
const MIGRATIONS: [&str; 1] = [include_str!("schema/0001_diary.sql")];

/// Opens a database file and brings it up to date. On a disk so full that there is no room for the
/// file that processes share, this one takes the database for itself: what is kept can be read.
pub fn open(path: &Path) -> Result<(Connection, Vec<Notice>), StoreError> {
    match open_as(path, false) {
        Err(StoreError::Database(error)) if lacks_shared_file(&error) => open_as(path, true),
        other => other,
    }
}

/// Whether the file that processes share could not be made.
fn lacks_shared_file(error: &rusqlite::Error) -> bool {
    let code = error.sqlite_error().map(|error| error.extended_code);
    matches!(code, Some(ffi::SQLITE_IOERR_SHMSIZE | ffi::SQLITE_IOERR_SHMOPEN))
}

fn open_as(path: &Path, alone: bool) -> Result<(Connection, Vec<Notice>), StoreError> {
    let mut connection = Connection::open(path)?;
    connection.busy_timeout(std::time::Duration::from_secs(5))?;
    if alone {
        connection.pragma_update(None, "locking_mode", "EXCLUSIVE")?;
    }
    let steps = MIGRATIONS.map(M::up);
    let migrations = Migrations::from_slice(&steps);
    let mut notices = Vec::new();
    match migrations.current_version(&connection).map_err(of_migration)? {
        SchemaVersion::Outside(_) => return Err(StoreError::Newer),
        SchemaVersion::Inside(version) if version.get() < MIGRATIONS.len() => {
            let name = copy_beside(&connection, path, version.get())?;
            notices.push(Notice::Upgraded(name));
        }
        SchemaVersion::Inside(_) | SchemaVersion::NoneSet => {}
    }
    connection.pragma_update(None, "journal_mode", "WAL")?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    connection.pragma_update(None, "foreign_keys", true)?;
    migrations.to_latest(&mut connection).map_err(of_migration)?;
    // Damage shows on reading; the schema and the first page are looked at now, the rest by verify.
    connection.query_row("SELECT count(*) FROM setting", [], |_| Ok(()))?;
    Ok((connection, notices))
}

fn of_migration(error: rusqlite_migration::Error) -> StoreError {
    match error {
        rusqlite_migration::Error::RusqliteError { err, .. } => err.into(),
        rusqlite_migration::Error::MigrationDefinition(_) => StoreError::Newer,
        other => StoreError::Damaged { why: other.to_string() },
    }
}

/// Copies the database before it is changed.
fn copy_beside(connection: &Connection, path: &Path, version: usize) -> Result<String, StoreError> {
    let name = format!("before-version-{}.db", version + 1);
    let copy = path.with_file_name(&name);
    if !copy.exists() {
        let target = copy.to_string_lossy().into_owned();
        connection.execute("VACUUM INTO ?1", [target])?;
    }
    Ok(name)
}

/// Moves a damaged database aside with its side files.
pub fn move_aside(path: &Path, stamp: &str) -> Result<String, StoreError> {
    let name =
        (0..)
            .map(|n| {
                if n == 0 {
                    format!("damaged-{stamp}.db")
                } else {
                    format!("damaged-{stamp}-{n}.db")
                }
            })
            .find(|name| !path.with_file_name(name).exists())
            .unwrap_or_default();
    for suffix in ["", "-wal", "-shm"] {
        let beside = |name: &str| path.with_file_name(format!("{name}{suffix}"));
        let from = beside(&path.file_name().unwrap_or_default().to_string_lossy());
        if from.exists() {
            std::fs::rename(from, beside(&name))?;
        }
    }
    Ok(name)
}

/// Everything SQLite finds wrong with the whole file; empty where it is sound.
pub fn faults(connection: &Connection) -> Result<Vec<String>, StoreError> {
    let mut statement = connection.prepare("PRAGMA integrity_check(20)")?;
    let rows = statement.query_map([], |row| row.get::<_, String>(0))?;
    let mut faults = Vec::new();
    for row in rows {
        match row {
            Ok(text) if text == "ok" => {}
            Ok(text) => faults.push(text),
            Err(error)
                if matches!(
                    error.sqlite_error_code(),
                    Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase)
                ) =>
            {
                faults.push(error.to_string());
            }
            Err(error) => return Err(error.into()),
        }
    }
    Ok(faults)
}
