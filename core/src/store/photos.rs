//! Photos on disk, by the SHA-256 of the bytes kept.
//!
//! A photo is turned upright, shrunk to 2048 px on its longest side and written as JPEG, quality
//! 82. Position and device data of the original are not kept. Thumbnails are derived.

use std::fs::{File, OpenOptions};
use std::io::{Cursor, Write};
use std::path::{Path, PathBuf};

use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use sha2::{Digest, Sha256};

use super::StoreError;
use crate::diary::hex;

/// A photo file larger than this is refused unread.
pub const LARGEST_PHOTO_BYTES: usize = 64 * 1024 * 1024;

/// Longest side that a decoder may be asked for, and the memory it may use.
const LONGEST_SIDE: u32 = 20_000;
const DECODER_BYTES: u64 = 512 * 1024 * 1024;

const KEPT_SIDE: u32 = 2048;
const KEPT_QUALITY: u8 = 82;
const THUMBNAIL_SIDE: u32 = 320;
const THUMBNAIL_QUALITY: u8 = 75;

/// A photo that is ready to be kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PreparedPhoto {
    /// SHA-256 of the bytes to keep, in hexadecimal.
    pub sha256: String,
    /// Its size in pixels.
    pub size: [u32; 2],
    bytes: Vec<u8>,
    thumbnail: Vec<u8>,
}

/// A photo that is on disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptPhoto {
    /// SHA-256 of the kept bytes, in hexadecimal.
    pub sha256: String,
    /// Its size in pixels.
    pub size: [u32; 2],
}

/// Reads a JPEG, PNG or WebP file and makes of it what is kept. Takes a while: do it off the main
/// thread.
///
/// # Errors
/// [`StoreError::PhotoUnreadable`], [`StoreError::PhotoTooLarge`], [`StoreError::PhotoCutShort`].
pub fn prepare_photo(file: &[u8]) -> Result<PreparedPhoto, StoreError> {
    if file.len() > LARGEST_PHOTO_BYTES {
        let why = format!("{} MB; at most {} MB", file.len() >> 20, LARGEST_PHOTO_BYTES >> 20);
        return Err(StoreError::PhotoTooLarge { why });
    }
    let reader = ImageReader::new(Cursor::new(file)).with_guessed_format()?;
    if reader.format() == Some(ImageFormat::Jpeg) && !jpeg_is_whole(file) {
        return Err(StoreError::PhotoCutShort);
    }
    let mut reader = reader;
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST_SIDE);
    limits.max_image_height = Some(LONGEST_SIDE);
    limits.max_alloc = Some(DECODER_BYTES);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(of_image)?;
    let orientation = decoder.orientation().map_err(of_image)?;
    let mut picture = DynamicImage::from_decoder(decoder).map_err(of_image)?;
    picture.apply_orientation(orientation);
    let kept = within(&picture, KEPT_SIDE);
    let bytes = jpeg(&kept, KEPT_QUALITY)?;
    let thumbnail = jpeg(&within(&kept, THUMBNAIL_SIDE), THUMBNAIL_QUALITY)?;
    Ok(PreparedPhoto {
        sha256: hex(&Sha256::digest(&bytes)),
        size: [kept.width(), kept.height()],
        bytes,
        thumbnail,
    })
}

fn of_image(error: image::ImageError) -> StoreError {
    match error {
        image::ImageError::Limits(error) => StoreError::PhotoTooLarge { why: error.to_string() },
        other => StoreError::PhotoUnreadable { why: other.to_string() },
    }
}

/// Whether a JPEG's scan is followed by its end marker (ITU-T T.81, B.1.1.3). Decoders fill what is
/// missing with grey, which would be kept as if it were the picture.
fn jpeg_is_whole(file: &[u8]) -> bool {
    let marker = |code: u8| move |pair: &[u8]| pair == [0xFF, code];
    let start_of_scan = file.windows(2).rposition(marker(0xDA));
    let end = file.windows(2).rposition(marker(0xD9));
    matches!((start_of_scan, end), (Some(scan), Some(end)) if end > scan)
}

fn within(picture: &DynamicImage, side: u32) -> DynamicImage {
    if picture.width().max(picture.height()) <= side {
        return picture.clone();
    }
    picture.resize(side, side, image::imageops::FilterType::Triangle)
}

fn jpeg(picture: &DynamicImage, quality: u8) -> Result<Vec<u8>, StoreError> {
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, quality);
    picture.to_rgb8().write_with_encoder(encoder).map_err(of_image)?;
    Ok(bytes)
}

fn place(folder: &Path, sha256: &str, thumbnail: bool) -> Option<PathBuf> {
    if sha256.len() != 64 || !sha256.bytes().all(|b| b.is_ascii_hexdigit()) {
        return None;
    }
    let kind = if thumbnail { "thumbnails" } else { "photos" };
    Some(folder.join(kind).join(sha256.get(..2)?).join(format!("{sha256}.jpg")))
}

pub fn keep(folder: &Path, photo: &PreparedPhoto) -> Result<KeptPhoto, StoreError> {
    let mut written = Vec::new();
    for (bytes, thumbnail) in [(&photo.thumbnail, true), (&photo.bytes, false)] {
        let Some(path) = place(folder, &photo.sha256, thumbnail) else { continue };
        if path.exists() {
            continue;
        }
        if let Err(error) = keep_file(&path, bytes) {
            for path in written {
                let _gone_or_not = std::fs::remove_file(path);
            }
            return Err(error);
        }
        written.push(path);
    }
    Ok(KeptPhoto { sha256: photo.sha256.clone(), size: photo.size })
}

fn keep_file(path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    if let Some(parent) = path.parent() {
        std::fs::create_dir_all(parent)?;
    }
    write_whole(path, bytes)
}

pub fn load(folder: &Path, sha256: &str, thumbnail: bool) -> Result<Vec<u8>, StoreError> {
    let none = || StoreError::NoSuchPhoto { sha256: sha256.to_owned() };
    let path = place(folder, sha256, thumbnail).ok_or_else(none)?;
    let bytes = match std::fs::read(path) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Err(none()),
        other => other?,
    };
    if !thumbnail && hex(&Sha256::digest(&bytes)) != sha256 {
        return Err(StoreError::PhotoChanged { sha256: sha256.to_owned() });
    }
    Ok(bytes)
}

/// Writes a file whole or not at all: beside its place, synced, then moved into it.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    let beside = path.with_extension("part");
    let written = (|| {
        let mut file = OpenOptions::new().write(true).create(true).truncate(true).open(&beside)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        std::fs::rename(&beside, path)?;
        match path.parent() {
            Some(parent) => File::open(parent)?.sync_all(),
            None => Ok(()),
        }
    })();
    if written.is_err() {
        let _gone_or_not = std::fs::remove_file(&beside);
    }
    Ok(written?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture(width: u32, height: u32, format: ImageFormat) -> Vec<u8> {
        let image = image::RgbImage::from_fn(width, height, |x, y| {
            image::Rgb([(x % 251) as u8, (y % 241) as u8, ((x * y) % 239) as u8])
        });
        let mut bytes = Vec::new();
        image.write_to(&mut Cursor::new(&mut bytes), format).unwrap();
        bytes
    }

    #[test]
    fn a_photo_is_shrunk_kept_and_found_again() {
        let folder = tempfile::tempdir().unwrap();
        let prepared = prepare_photo(&picture(3000, 1500, ImageFormat::Png)).unwrap();
        assert_eq!(prepared.size, [2048, 1024]);
        let kept = keep(folder.path(), &prepared).unwrap();
        let bytes = load(folder.path(), &kept.sha256, false).unwrap();
        assert_eq!(hex(&Sha256::digest(&bytes)), kept.sha256);
        let thumbnail = load(folder.path(), &kept.sha256, true).unwrap();
        assert_eq!(image::load_from_memory(&thumbnail).unwrap().width(), 320);
        assert!(!bytes.windows(4).any(|w| w == b"Exif"));
    }

    #[test]
    fn a_photo_that_was_changed_on_disk_is_not_handed_out() {
        let folder = tempfile::tempdir().unwrap();
        let prepared = prepare_photo(&picture(64, 48, ImageFormat::Png)).unwrap();
        let kept = keep(folder.path(), &prepared).unwrap();
        let path = place(folder.path(), &kept.sha256, false).unwrap();
        let other = prepare_photo(&picture(48, 64, ImageFormat::Png)).unwrap();
        std::fs::write(path, &other.bytes).unwrap();
        let answer = load(folder.path(), &kept.sha256, false);
        assert!(matches!(answer, Err(StoreError::PhotoChanged { .. })), "{answer:?}");
    }

    #[test]
    fn what_is_no_photo_is_refused() {
        let refused = |bytes: &[u8]| prepare_photo(bytes).err();
        let text = b"dips of Tuesday, in a text file";
        assert!(matches!(refused(text), Some(StoreError::PhotoUnreadable { .. })));
        assert!(matches!(refused(b""), Some(StoreError::PhotoUnreadable { .. })));
        let mut cut = picture(400, 300, ImageFormat::Jpeg);
        cut.truncate(cut.len() / 2);
        assert!(matches!(refused(&cut), Some(StoreError::PhotoCutShort)));
        // A PNG that says it is 60 000 pixels wide.
        let mut wide = picture(16, 16, ImageFormat::Png);
        wide.splice(16..20, 60_000_u32.to_be_bytes());
        let answer = refused(&wide);
        assert!(
            matches!(
                answer,
                Some(StoreError::PhotoTooLarge { .. } | StoreError::PhotoUnreadable { .. })
            ),
            "{answer:?}"
        );
    }

    #[test]
    fn a_hash_cannot_leave_the_folder() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["../../etc/passwd", "", "zz", &"/".repeat(64)] {
            let answer = load(folder.path(), name, false).err();
            assert!(matches!(answer, Some(StoreError::NoSuchPhoto { .. })), "{name}");
        }
    }
}
