//! The seal of an issued paper: what it covers, its digest, its signature, and whether they hold.
//!
//! A sealed paper carries two attached files. `diary.jsonl` is the job's whole diary, an entry a
//! line. `seal.json` is a [`Seal`]: the [`Sealed`] part lists digests of the diary, of every page's
//! text and of every photo as printed; the digest of that part (SHA-256 over its canonical JSON, RFC
//! 8785) stands on the paper and is signed by the device's key (Ed25519, RFC 8032). A second signature
//! covers the whole file byte for byte, with the seal itself left out of it.
//!
//! Reading and writing the PDF around it is the papers' affair; here are only data.

use ed25519_dalek::{Signature, VerifyingKey};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use uuid::Uuid;

use crate::diary::{Entry, from_hex, hex};
use crate::store::DeviceKey;

/// The name of the attached diary: JSON Lines, an entry a line.
pub const DIARY_FILE: &str = "diary.jsonl";
/// The name of the attached seal.
pub const SEAL_FILE: &str = "seal.json";

/// An attached diary of more bytes than this is not read.
pub const LARGEST_DIARY_BYTES: usize = 64 * 1024 * 1024;
/// An attached seal of more bytes than this is not read.
pub const LARGEST_SEAL_BYTES: usize = 4 * 1024 * 1024;

/// What a seal covers. Every digest is SHA-256 in hexadecimal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sealed {
    /// The kind of paper: `completion_record`.
    pub paper: String,
    /// The version of the program that made it.
    pub program: String,
    /// The job.
    pub job: Uuid,
    /// The number.
    pub number: u32,
    /// When it was made, RFC 3339 with offset.
    pub made_at: String,
    /// Who made it.
    pub made_by: String,
    /// The sheet: `a4` or `letter`.
    pub size: String,
    /// The attached diary.
    pub diary: SealedDiary,
    /// For each page, the digest of its normalised text.
    pub pages: Vec<String>,
    /// Photos in the record's order.
    pub photos: Vec<SealedPhoto>,
    /// The public key of the device, in hexadecimal.
    pub key: String,
}

/// The attached diary.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SealedDiary {
    /// Digest of its bytes.
    pub sha256: String,
    /// How many entries it holds.
    pub entries: u32,
}

/// A photo of a sealed record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SealedPhoto {
    /// Digest of the bytes kept on the phone, as the diary names it.
    pub kept: String,
    /// Digest of the copy in the file; none where the photo is not on the page.
    pub printed: Option<String>,
    /// Why there is no copy.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub missing: Option<MissingPhoto>,
}

/// Why a photo of the diary is not printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MissingPhoto {
    /// It was not on the phone that made the paper.
    NotHere,
    /// It was no picture.
    NoPicture,
    /// It was not as it was kept.
    Changed,
}

/// The contents of `seal.json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Seal {
    /// The form of this file: 1.
    pub fairfall_seal: u32,
    /// What is sealed.
    pub sealed: Sealed,
    /// The digest of the sealed part.
    pub digest: String,
    /// The key's signature over the digest's 32 bytes.
    pub signature: String,
    /// The digest of the whole file with every byte of this one replaced by a space.
    pub file_sha256: String,
    /// The key's signature over that digest's 32 bytes.
    pub file_signature: String,
}

impl Sealed {
    /// SHA-256 over the canonical JSON (RFC 8785).
    ///
    /// # Errors
    /// [`serde_json::Error`] where a part has no JSON form.
    pub fn digest(&self) -> Result<[u8; 32], serde_json::Error> {
        let value = serde_json::to_value(self)?;
        Ok(Sha256::digest(serde_json_canonicalizer::to_vec(&value)?).into())
    }
}

impl Seal {
    /// Seals, with the file's own digest still to come: it is known last.
    ///
    /// # Errors
    /// [`serde_json::Error`] where a part has no JSON form.
    pub fn new(sealed: Sealed, key: &DeviceKey) -> Result<Seal, serde_json::Error> {
        let digest = sealed.digest()?;
        Ok(Seal {
            fairfall_seal: 1,
            sealed,
            digest: hex(&digest),
            signature: key.sign(&digest),
            file_sha256: "0".repeat(64),
            file_signature: "0".repeat(128),
        })
    }

    /// The same seal with the digest of the file it lies in.
    #[must_use]
    pub fn over_file(self, digest: &[u8; 32], key: &DeviceKey) -> Seal {
        Seal { file_sha256: hex(digest), file_signature: key.sign(digest), ..self }
    }

    /// Whether the sealed part has the digest that the seal states.
    pub fn digest_holds(&self) -> bool {
        self.sealed.digest().is_ok_and(|digest| hex(&digest) == self.digest)
    }

    /// Whether the sealed key signed the stated digest.
    pub fn signature_holds(&self) -> bool {
        signed(&self.sealed.key, &self.digest, &self.signature)
    }

    /// Whether the sealed key signed this digest of the file.
    pub fn file_holds(&self, digest: &[u8; 32]) -> bool {
        hex(digest) == self.file_sha256
            && signed(&self.sealed.key, &self.file_sha256, &self.file_signature)
    }
}

/// Whether a key signed a digest, all three in hexadecimal.
fn signed(key: &str, digest: &str, signature: &str) -> bool {
    let holds = || {
        let key = VerifyingKey::from_bytes(&from_hex(key)?).ok()?;
        let signature = Signature::from_bytes(&from_hex(signature)?);
        key.verify_strict(&from_hex::<32>(digest)?, &signature).ok()
    };
    holds().is_some()
}

/// A digest in hexadecimal.
pub fn sha256(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// A diary as JSON Lines, an entry a line, in the order given.
///
/// # Errors
/// [`serde_json::Error`] where an entry has no JSON form.
pub fn diary_lines(entries: &[Entry]) -> Result<Vec<u8>, serde_json::Error> {
    let mut lines = Vec::new();
    for entry in entries {
        serde_json::to_writer(&mut lines, entry)?;
        lines.push(b'\n');
    }
    Ok(lines)
}

/// Reads a diary back from JSON Lines.
///
/// # Errors
/// The number of the first line that is no entry, from 1, and why.
pub fn read_diary_lines(lines: &[u8]) -> Result<Vec<Entry>, (usize, String)> {
    lines
        .split(|byte| *byte == b'\n')
        .enumerate()
        .filter(|(_, line)| !line.is_empty())
        .map(|(index, line)| {
            serde_json::from_slice(line).map_err(|error| (index + 1, error.to_string()))
        })
        .collect()
}

/// The text of a page as it is sealed: without white space and without signs that show nothing, so
/// that the same words are the same text whatever the reader makes of lines; and without the digest
/// that stands on the page, which cannot cover itself.
pub fn normalised(text: &str, digest: &str) -> String {
    let shown: String = text
        .chars()
        .filter(|c| !c.is_whitespace() && !c.is_control())
        .filter(|c| !matches!(c, '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{2060}' | '\u{FEFF}'))
        .collect();
    if digest.is_empty() { shown } else { shown.replace(digest, "") }
}

/// What the QR code of a seal says: all in signs that pack well (ISO/IEC 18004, alphanumeric mode).
pub fn qr_text(digest: &str, key: &str) -> String {
    format!("FAIRFALL SEAL 1 DIGEST {digest} KEY {key}").to_ascii_uppercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sealed(key: &DeviceKey) -> Sealed {
        Sealed {
            paper: "completion_record".to_owned(),
            program: "0.1.0".to_owned(),
            job: Uuid::nil(),
            number: 1,
            made_at: "2026-04-09T16:20:00+01:00".to_owned(),
            made_by: "Mina".to_owned(),
            size: "a4".to_owned(),
            diary: SealedDiary { sha256: sha256(b"diary"), entries: 2 },
            pages: vec![sha256(b"page")],
            photos: Vec::new(),
            key: key.public(),
        }
    }

    #[test]
    fn signatures_are_those_of_rfc_8032() {
        // RFC 8032, section 7.1, "TEST SHA(abc)": the message is the 64 bytes of SHA-512("abc"),
        // longer than the digests here; test 3's message has two bytes. So the library is asked
        // directly, and `signed` is asked for what it makes of 32 bytes below.
        let public = from_hex("fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025");
        let signature = from_hex(
            "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac\
             18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
        );
        let key = VerifyingKey::from_bytes(&public.unwrap()).unwrap();
        key.verify_strict(&[0xaf, 0x82], &Signature::from_bytes(&signature.unwrap())).unwrap();
        let key = DeviceKey::from_bytes(&[7; 32]);
        let digest = [9; 32];
        assert!(signed(&key.public(), &hex(&digest), &key.sign(&digest)));
        assert!(!signed(&key.public(), &hex(&[8; 32]), &key.sign(&digest)));
        let other = DeviceKey::from_bytes(&[6; 32]);
        assert!(!signed(&key.public(), &hex(&digest), &other.sign(&digest)));
        assert!(!signed("", "", ""));
    }

    #[test]
    fn a_changed_seal_does_not_hold() {
        let key = DeviceKey::from_bytes(&[7; 32]);
        let seal = Seal::new(sealed(&key), &key).unwrap().over_file(&[1; 32], &key);
        assert!(seal.digest_holds() && seal.signature_holds() && seal.file_holds(&[1; 32]));
        assert!(!seal.file_holds(&[2; 32]));
        let mut changed = seal.clone();
        changed.sealed.number = 2;
        assert!(!changed.digest_holds());
        let mut signed_by_another = seal;
        signed_by_another.signature = DeviceKey::from_bytes(&[6; 32]).sign(&[0; 32]);
        assert!(!signed_by_another.signature_holds());
    }

    #[test]
    fn digits_of_the_text_count_and_its_lines_do_not() {
        assert_eq!(normalised("low\u{AD} 8,\n bring\u{200B} up", ""), "low8,bringup");
        assert_ne!(normalised("low 8", ""), normalised("low 9", ""));
        assert_eq!(normalised("digest ab\ncd end", "abcd"), "digestend");
    }

    #[test]
    fn a_diary_comes_back_from_its_lines() {
        assert_eq!(read_diary_lines(b""), Ok(Vec::new()));
        assert!(matches!(read_diary_lines(b"\n{}\n"), Err((2, _))));
    }
}
