//! What can go wrong with a store.

use std::path::PathBuf;

use rusqlite::ErrorCode;

/// What went wrong. Nothing was written unless it says so.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The folder holds no store.
    #[error("there is no store in {}", folder.display())]
    NotThere {
        /// Which folder.
        folder: PathBuf,
    },
    /// The database is damaged.
    #[error("the store's database is damaged: {why}")]
    Damaged {
        /// What SQLite says.
        why: String,
    },
    /// A newer Fairfall wrote it.
    #[error("the store was written by a newer Fairfall; this one leaves it alone")]
    Newer,
    /// There is no room.
    #[error("the disk is full; nothing was written")]
    DiskFull,
    /// No photo is kept under this hash.
    #[error("no photo is kept under {sha256}")]
    NoSuchPhoto {
        /// The hash.
        sha256: String,
    },
    /// The bytes kept under this hash are not those it was made of.
    #[error("the photo {sha256} is not as it was kept")]
    PhotoChanged {
        /// The hash.
        sha256: String,
    },
    /// A key is to be made, and the machine has no random numbers.
    #[error("this machine gives no random numbers, so no key can be made")]
    NoChance,
    /// These bytes are no photo that can be read.
    #[error("this is no photo that can be read: {why}")]
    PhotoUnreadable {
        /// What the decoder says.
        why: String,
    },
    /// The photo is larger than can be handled.
    #[error("the photo is too large: {why}")]
    PhotoTooLarge {
        /// By what measure.
        why: String,
    },
    /// The photo ends before its picture does.
    #[error("the photo is cut short")]
    PhotoCutShort,
    /// A part of an entry has no JSON form.
    #[error("an entry could not be written down: {0}")]
    Json(#[from] serde_json::Error),
    /// The machine failed.
    #[error("the disk could not be used: {0}")]
    Machine(std::io::Error),
    /// The database failed.
    #[error("the database could not be used: {0}")]
    Database(rusqlite::Error),
}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> Self {
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => StoreError::DiskFull,
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
                StoreError::Damaged { why: error.to_string() }
            }
            _ => StoreError::Database(error),
        }
    }
}

impl From<std::io::Error> for StoreError {
    fn from(error: std::io::Error) -> Self {
        match error.kind() {
            std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => {
                StoreError::DiskFull
            }
            _ => StoreError::Machine(error),
        }
    }
}
