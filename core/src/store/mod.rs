//! The store: a folder with the database and the photos. One door in, one door out.
//!
//! An entry that was acknowledged survives a killed process or an empty battery: SQLite in WAL mode
//! with full synchronisation, photos synced to disk before the entry that names them.

mod database;
mod entries;
mod error;
mod key;
mod photos;
mod settings;

use std::path::{Path, PathBuf};

use rusqlite::{Connection, Transaction, TransactionBehavior};

use crate::outside::Outside;

pub use database::faults;
pub use entries::{JobRow, append, entries_of, jobs};
pub use error::StoreError;
pub use key::DeviceKey;
pub use photos::{KeptPhoto, LARGEST_PHOTO_BYTES, PhotoCopy, PreparedPhoto, prepare_photo};
pub use settings::{
    device, device_if_known, drafts, keep_draft, own_kit, people, person, set_own_kit, set_person,
};

/// A store that is open.
pub struct Store {
    folder: PathBuf,
    connection: Connection,
    notices: Vec<Notice>,
}

/// Something that opening the store has to tell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Notice {
    /// The database was damaged and stands aside, whole, under this name.
    DamagedMovedAside(String),
    /// The database was brought up to date; a copy of the old one has this name.
    Upgraded(String),
}

/// Name of the database in the store's folder.
const DATABASE: &str = "fairfall.db";

impl Store {
    /// Opens a store that is there.
    ///
    /// # Errors
    /// [`StoreError::NotThere`] where the folder holds no store, [`StoreError::Damaged`] where its
    /// database is damaged (nothing is changed), [`StoreError::Newer`] where a newer Fairfall wrote
    /// it, and the machine's own errors.
    pub fn open(folder: &Path) -> Result<Store, StoreError> {
        if !folder.join(DATABASE).is_file() {
            return Err(StoreError::NotThere { folder: folder.to_owned() });
        }
        let (connection, notices) = database::open(&folder.join(DATABASE))?;
        Ok(Store { folder: folder.to_owned(), connection, notices })
    }

    /// Opens a store, or begins one. A damaged database is moved aside, never deleted, and a new
    /// one begun; the notices say so. `stamp` goes into the name of the one set aside.
    ///
    /// # Errors
    /// [`StoreError::Newer`] where a newer Fairfall wrote it, and the machine's own errors.
    pub fn open_or_begin(folder: &Path, stamp: &str) -> Result<Store, StoreError> {
        std::fs::create_dir_all(folder)?;
        let path = folder.join(DATABASE);
        match database::open(&path) {
            Ok((connection, notices)) => {
                Ok(Store { folder: folder.to_owned(), connection, notices })
            }
            Err(StoreError::Damaged { .. }) => {
                let aside = database::move_aside(&path, stamp)?;
                let (connection, mut notices) = database::open(&path)?;
                notices.insert(0, Notice::DamagedMovedAside(aside));
                Ok(Store { folder: folder.to_owned(), connection, notices })
            }
            Err(other) => Err(other),
        }
    }

    /// What opening has to tell.
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }

    /// The store's folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Where papers are kept.
    pub fn papers(&self) -> PathBuf {
        self.folder.join("papers")
    }

    /// Reads.
    ///
    /// # Errors
    /// Those of the reader.
    pub fn read<T>(
        &self,
        reader: impl FnOnce(&Connection) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        reader(&self.connection)
    }

    /// Writes, all or nothing. What this returns is on disk.
    ///
    /// # Errors
    /// Those of the writer; [`StoreError::DiskFull`] where there is no room, with nothing written.
    pub fn write<T>(
        &mut self,
        writer: impl FnOnce(&Transaction) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        // A writer waits for its turn before it reads: what it read still holds when it writes.
        let turn = TransactionBehavior::Immediate;
        let transaction = self.connection.transaction_with_behavior(turn)?;
        let result = writer(&transaction)?;
        transaction.commit()?;
        Ok(result)
    }

    /// Keeps a prepared photo: on disk and synced when this returns.
    ///
    /// # Errors
    /// [`StoreError::DiskFull`] where there is no room, with nothing kept.
    pub fn keep_photo(&self, photo: &PreparedPhoto) -> Result<KeptPhoto, StoreError> {
        photos::keep(&self.folder, photo)
    }

    /// The key that this device seals papers with, made where there is none yet.
    ///
    /// # Errors
    /// [`StoreError::NoChance`] where a key is to be made and the machine has no random numbers, and
    /// the machine's own errors.
    pub fn device_key(&self, outside: &mut dyn Outside) -> Result<DeviceKey, StoreError> {
        key::device_key(&self.folder, outside)
    }

    /// The bytes of a kept photo or of a copy of it. The photo's own bytes are held against their hash,
    /// for its smaller copy too.
    ///
    /// # Errors
    /// [`StoreError::NoSuchPhoto`] where none is kept under this hash, [`StoreError::PhotoChanged`]
    /// where the bytes are not those that were kept.
    pub fn photo(&self, sha256: &str, copy: PhotoCopy) -> Result<Vec<u8>, StoreError> {
        photos::load(&self.folder, sha256, copy)
    }

    /// Writes a paper into the papers folder, whole or not at all.
    ///
    /// # Errors
    /// [`StoreError::DiskFull`] where there is no room.
    pub fn keep_paper(&self, name: &str, bytes: &[u8]) -> Result<PathBuf, StoreError> {
        let folder = self.papers();
        std::fs::create_dir_all(&folder)?;
        let path = folder.join(name);
        photos::write_whole(&path, bytes)?;
        Ok(path)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_damaged_file_is_moved_aside_whole() {
        let folder = tempfile::tempdir().unwrap();
        let zeros = vec![0_u8; 8192];
        std::fs::write(folder.path().join(DATABASE), &zeros).unwrap();
        assert!(matches!(Store::open(folder.path()), Err(StoreError::Damaged { .. })));
        assert_eq!(std::fs::read(folder.path().join(DATABASE)).unwrap(), zeros);
        let store = Store::open_or_begin(folder.path(), "20260407T0840").unwrap();
        let [Notice::DamagedMovedAside(aside)] = store.notices() else {
            panic!("{:?}", store.notices())
        };
        assert_eq!(std::fs::read(folder.path().join(aside)).unwrap(), zeros);
        assert_eq!(store.read(jobs).unwrap(), []);
    }

    #[test]
    fn a_store_from_the_future_is_refused_and_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        drop(Store::open_or_begin(folder.path(), "x").unwrap());
        let raw = Connection::open(folder.path().join(DATABASE)).unwrap();
        raw.pragma_update(None, "user_version", 9999).unwrap();
        drop(raw);
        let before = std::fs::read(folder.path().join(DATABASE)).unwrap();
        for opened in [Store::open(folder.path()), Store::open_or_begin(folder.path(), "x")] {
            assert!(matches!(opened.err(), Some(StoreError::Newer)));
        }
        assert_eq!(std::fs::read(folder.path().join(DATABASE)).unwrap(), before);
    }

    #[test]
    fn no_store_is_made_where_one_is_only_looked_for() {
        let folder = tempfile::tempdir().unwrap();
        let opened = Store::open(folder.path()).err();
        assert!(matches!(opened, Some(StoreError::NotThere { .. })));
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    }
}
