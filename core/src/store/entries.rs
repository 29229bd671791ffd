//! Entries in the database.

use rusqlite::{Connection, OptionalExtension, Transaction, params};
use uuid::Uuid;

use super::{StoreError, settings};
use crate::diary::{Draft, Entry, HybridTime};
use crate::outside::{Outside, new_id};

/// A job in the store.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobRow {
    /// The job.
    pub id: Uuid,
    /// Entries in its diary.
    pub entries: u32,
}

/// The jobs, newest entry first.
///
/// # Errors
/// [`StoreError`] where the database cannot be read.
pub fn jobs(connection: &Connection) -> Result<Vec<JobRow>, StoreError> {
    let mut statement = connection.prepare_cached(
        "SELECT job, count(*) FROM entry GROUP BY job
         ORDER BY max(clock_millis) DESC, max(clock_counter) DESC, job",
    )?;
    let rows = statement.query_map([], |row| Ok((row.get::<_, String>(0)?, row.get(1)?)))?;
    rows.map(|row| {
        let (id, entries) = row?;
        Ok(JobRow { id: identity(&id)?, entries })
    })
    .collect()
}

fn identity(text: &str) -> Result<Uuid, StoreError> {
    Uuid::parse_str(text).map_err(|error| StoreError::Damaged { why: error.to_string() })
}

/// A job's entries in the diary's order; none where there is no such job.
///
/// # Errors
/// [`StoreError::Damaged`] where an entry cannot be read back.
pub fn entries_of(connection: &Connection, job: Uuid) -> Result<Vec<Entry>, StoreError> {
    let mut statement = connection.prepare_cached(
        "SELECT text FROM entry WHERE job = ?1
         ORDER BY clock_millis, clock_counter, device, seq",
    )?;
    let rows = statement.query_map([job.to_string()], |row| row.get::<_, String>(0))?;
    rows.map(|text| {
        serde_json::from_str(&text?)
            .map_err(|error| StoreError::Damaged { why: format!("an entry: {error}") })
    })
    .collect()
}

/// Appends an entry to this device's chain for a job and gives it its place, clock and hash.
///
/// # Errors
/// [`StoreError`]; nothing is written then.
pub fn append(
    transaction: &Transaction,
    outside: &mut dyn Outside,
    job: Uuid,
    draft: Draft,
) -> Result<Entry, StoreError> {
    let device = settings::device(transaction, outside)?;
    let previous: Option<(u32, String)> = transaction
        .prepare_cached(
            "SELECT seq, hash FROM entry WHERE job = ?1 AND device = ?2
             ORDER BY seq DESC LIMIT 1",
        )?
        .query_row(params![job.to_string(), device.to_string()], |row| {
            Ok((row.get(0)?, row.get(1)?))
        })
        .optional()?;
    let newest: Option<HybridTime> = transaction
        .prepare_cached(
            "SELECT clock_millis, clock_counter FROM entry WHERE job = ?1
             ORDER BY clock_millis DESC, clock_counter DESC LIMIT 1",
        )?
        .query_row([job.to_string()], |row| {
            Ok(HybridTime { millis: row.get(0)?, counter: row.get(1)? })
        })
        .optional()?;
    let now = outside.now();
    let clock = HybridTime::next(newest, now.timestamp_millis());
    let previous = previous.as_ref().map(|(seq, hash)| (*seq, hash.as_str()));
    let entry = Entry::new((new_id(outside), job, device), previous, clock, now, draft)?;
    insert(transaction, &entry)?;
    Ok(entry)
}

fn insert(transaction: &Transaction, entry: &Entry) -> Result<(), StoreError> {
    transaction
        .prepare_cached(
            "INSERT INTO entry
                 (id, job, device, seq, clock_millis, clock_counter, hash, text)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        )?
        .execute(params![
            entry.id.to_string(),
            entry.job.to_string(),
            entry.device.to_string(),
            entry.seq,
            entry.clock.millis,
            entry.clock.counter,
            entry.hash,
            serde_json::to_string(entry)?,
        ])?;
    Ok(())
}
