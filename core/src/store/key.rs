//! The key that this device seals its papers with: made once, kept in a folder of its own that
//! nobody else on the machine may read, and never handed out.

use std::fs::{File, OpenOptions};
use std::io::Write as _;
use std::path::{Path, PathBuf};

use ed25519_dalek::{Signer as _, SigningKey};

use super::StoreError;
use crate::diary::hex;
use crate::outside::Outside;

/// The folder in the store that only its owner may read. It is no part of a job: bundles and copies
/// of jobs leave it out.
const PRIVATE: &str = "private";
const FILE: &str = "device.key";

/// A device's key for Ed25519 (RFC 8032). Its secret half leaves this type only into its file.
#[derive(Clone)]
pub struct DeviceKey(SigningKey);

impl DeviceKey {
    /// A key from its 32 secret bytes.
    pub fn from_bytes(bytes: &[u8; 32]) -> Self {
        DeviceKey(SigningKey::from_bytes(bytes))
    }

    /// The public half in hexadecimal: 64 digits.
    pub fn public(&self) -> String {
        hex(self.0.verifying_key().as_bytes())
    }

    /// The signature over a SHA-256 digest, in hexadecimal: 128 digits.
    pub fn sign(&self, digest: &[u8; 32]) -> String {
        hex(&self.0.sign(digest).to_bytes())
    }
}

impl std::fmt::Debug for DeviceKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "DeviceKey({})", self.public())
    }
}

/// Reads the device's key, or makes one. A file that holds no key is moved aside, never deleted.
pub fn device_key(folder: &Path, outside: &mut dyn Outside) -> Result<DeviceKey, StoreError> {
    let private = folder.join(PRIVATE);
    let path = private.join(FILE);
    if path.is_file() {
        keep_to_owner(&path, 0o600)?;
        match std::fs::read_to_string(&path).ok().as_deref().and_then(read) {
            Some(bytes) => return Ok(DeviceKey::from_bytes(&bytes)),
            None => std::fs::rename(&path, free_name(&private))?,
        }
    }
    std::fs::create_dir_all(&private)?;
    keep_to_owner(&private, 0o700)?;
    let bytes = outside.secret().ok_or(StoreError::NoChance)?;
    write(&path, &hex(&bytes))?;
    Ok(DeviceKey::from_bytes(&bytes))
}

/// Bytes written as 64 hexadecimal digits.
fn read(text: &str) -> Option<[u8; 32]> {
    crate::diary::from_hex(text.trim_end())
}

fn free_name(private: &Path) -> PathBuf {
    let numbered = |n: u32| private.join(format!("device-unreadable-{n}.key"));
    (1..).map(numbered).find(|path| !path.exists()).unwrap_or_default()
}

/// Writes the key whole or not at all, readable by its owner alone from its first byte.
fn write(path: &Path, text: &str) -> Result<(), StoreError> {
    let beside = path.with_extension("part");
    let _gone_or_not = std::fs::remove_file(&beside);
    let written = (|| {
        let mut file = private_file(&beside)?;
        file.write_all(text.as_bytes())?;
        file.write_all(b"\n")?;
        file.sync_all()?;
        std::fs::rename(&beside, path)?;
        path.parent().map_or(Ok(()), |folder| File::open(folder)?.sync_all())
    })();
    if written.is_err() {
        let _gone_or_not = std::fs::remove_file(&beside);
    }
    Ok(written?)
}

#[cfg(unix)]
fn private_file(path: &Path) -> std::io::Result<File> {
    use std::os::unix::fs::OpenOptionsExt as _;
    OpenOptions::new().write(true).create_new(true).mode(0o600).open(path)
}

#[cfg(not(unix))]
fn private_file(path: &Path) -> std::io::Result<File> {
    OpenOptions::new().write(true).create_new(true).open(path)
}

/// Takes away what others may do with a file or folder, where the system knows of others.
#[cfg(unix)]
fn keep_to_owner(path: &Path, mode: u32) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt as _;
    let now = std::fs::metadata(path)?.permissions();
    if now.mode() & 0o777 == mode {
        return Ok(());
    }
    std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode))
}

#[cfg(not(unix))]
fn keep_to_owner(_: &Path, _: u32) -> std::io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::{DateTime, FixedOffset};

    struct Dice(u8);

    impl Outside for Dice {
        fn now(&mut self) -> DateTime<FixedOffset> {
            DateTime::default()
        }

        fn random(&mut self) -> [u8; 10] {
            self.0 = self.0.wrapping_add(1);
            [self.0; 10]
        }
    }

    #[test]
    fn a_key_is_made_once_and_is_its_owners_alone() {
        let folder = tempfile::tempdir().unwrap();
        let first = device_key(folder.path(), &mut Dice(0)).unwrap();
        let again = device_key(folder.path(), &mut Dice(50)).unwrap();
        assert_eq!(first.public(), again.public());
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt as _;
            let mode = |path: &Path| std::fs::metadata(path).unwrap().permissions().mode() & 0o777;
            let private = folder.path().join(PRIVATE);
            assert_eq!((mode(&private), mode(&private.join(FILE))), (0o700, 0o600));
            let wide = std::fs::Permissions::from_mode(0o644);
            std::fs::set_permissions(private.join(FILE), wide).unwrap();
            device_key(folder.path(), &mut Dice(0)).unwrap();
            assert_eq!(mode(&private.join(FILE)), 0o600);
        }
        assert!(!format!("{first:?}").contains(&hex(&first.0.to_bytes())));
    }

    #[test]
    fn a_file_that_holds_no_key_is_moved_aside() {
        let folder = tempfile::tempdir().unwrap();
        let first = device_key(folder.path(), &mut Dice(0)).unwrap();
        let private = folder.path().join(PRIVATE);
        std::fs::write(private.join(FILE), "half a ke").unwrap();
        let second = device_key(folder.path(), &mut Dice(9)).unwrap();
        assert_ne!(first.public(), second.public());
        let aside = std::fs::read_to_string(private.join("device-unreadable-1.key")).unwrap();
        assert_eq!(aside, "half a ke");
    }

    #[test]
    fn the_signature_is_that_of_rfc_8032() {
        // RFC 8032, section 7.1, test 1: the key and its public half. The signature over a digest is
        // checked in `record::seal` with the verifying half.
        let secret = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60";
        let key = DeviceKey::from_bytes(&read(secret).unwrap());
        let public = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a";
        assert_eq!(key.public(), public);
    }
}
