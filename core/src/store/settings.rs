//! This device, who holds it, and what was typed but not yet logged.

use std::collections::BTreeMap;

use rusqlite::{Connection, OptionalExtension, Transaction, params};
use serde_json::Value;
use uuid::Uuid;

use super::StoreError;
use crate::outside::{Outside, new_id};

fn setting(connection: &Connection, key: &str) -> Result<Option<String>, StoreError> {
    let value = connection
        .prepare_cached("SELECT value FROM setting WHERE key = ?1")?
        .query_row([key], |row| row.get(0))
        .optional()?;
    Ok(value)
}

fn set(transaction: &Transaction, key: &str, value: &str) -> Result<(), StoreError> {
    transaction
        .prepare_cached("INSERT OR REPLACE INTO setting (key, value) VALUES (?1, ?2)")?
        .execute(params![key, value])?;
    Ok(())
}

/// This device's identity, made at the first write.
///
/// # Errors
/// [`StoreError`] where the database cannot be used.
pub fn device(transaction: &Transaction, outside: &mut dyn Outside) -> Result<Uuid, StoreError> {
    if let Some(known) = device_if_known(transaction)? {
        return Ok(known);
    }
    let device = new_id(outside);
    set(transaction, "device", &device.to_string())?;
    Ok(device)
}

/// This device's identity, where it has one yet.
///
/// # Errors
/// [`StoreError`] where the database cannot be read.
pub fn device_if_known(connection: &Connection) -> Result<Option<Uuid>, StoreError> {
    setting(connection, "device")?
        .map(|text| {
            Uuid::parse_str(&text).map_err(|error| StoreError::Damaged { why: error.to_string() })
        })
        .transpose()
}

/// Who holds the phone; empty until a name is given.
///
/// # Errors
/// [`StoreError`] where the database cannot be read.
pub fn person(connection: &Connection) -> Result<String, StoreError> {
    Ok(setting(connection, "person")?.unwrap_or_default())
}

/// Sets who holds the phone.
///
/// # Errors
/// [`StoreError`] where the database cannot be written.
pub fn set_person(transaction: &Transaction, name: &str) -> Result<(), StoreError> {
    set(transaction, "person", name)?;
    transaction.execute(
        "INSERT OR REPLACE INTO person (name, used)
         VALUES (?1, (SELECT coalesce(max(used), 0) + 1 FROM person))",
        [name],
    )?;
    Ok(())
}

/// Everyone who has held the phone, most recent first.
///
/// # Errors
/// [`StoreError`] where the database cannot be read.
pub fn people(connection: &Connection) -> Result<Vec<String>, StoreError> {
    let mut statement = connection.prepare_cached("SELECT name FROM person ORDER BY used DESC")?;
    let names = statement.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
    Ok(names)
}

/// The person's own plant, bags and vehicles, as they were kept; none before that.
///
/// # Errors
/// [`StoreError`] where the database cannot be read, or holds what is no JSON.
pub fn own_kit(connection: &Connection) -> Result<Option<Value>, StoreError> {
    setting(connection, "own_kit")?.map(|text| Ok(serde_json::from_str(&text)?)).transpose()
}

/// Keeps the person's own plant, bags and vehicles.
///
/// # Errors
/// [`StoreError`] where the database cannot be written.
pub fn set_own_kit(transaction: &Transaction, kit: &Value) -> Result<(), StoreError> {
    set(transaction, "own_kit", &serde_json::to_string(kit)?)
}

/// What was typed but not yet logged.
///
/// # Errors
/// [`StoreError`] where the database cannot be read.
pub fn drafts(connection: &Connection) -> Result<BTreeMap<String, Value>, StoreError> {
    let mut statement = connection.prepare_cached("SELECT key, value FROM draft")?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get::<_, String>(1)?)))?;
    rows.map(|row| {
        let (key, text) = row?;
        Ok((key, serde_json::from_str(&text)?))
    })
    .collect()
}

/// Keeps what was typed, or forgets it when the value is null.
///
/// # Errors
/// [`StoreError`] where the database cannot be written.
pub fn keep_draft(transaction: &Transaction, key: &str, value: &Value) -> Result<(), StoreError> {
    if value.is_null() {
        transaction.execute("DELETE FROM draft WHERE key = ?1", [key])?;
    } else {
        transaction.execute(
            "INSERT OR REPLACE INTO draft (key, value) VALUES (?1, ?2)",
            params![key, serde_json::to_string(value)?],
        )?;
    }
    Ok(())
}
