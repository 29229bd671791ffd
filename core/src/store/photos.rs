//! Photos on disk, by the SHA-256 of the bytes kept.
//!
//! A photo is turned upright, shrunk to 2048 px on its longest side and written as JPEG, quality
//! 82. Position and device data of the original are not kept. Thumbnails are derived, and so is a smaller
//! copy that papers of many photos are made from.

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
/// Two photos stand beside each other on a page, some 78 mm wide: about 300 dots to the inch.
const SMALL_SIDE: u32 = 900;
const SMALL_QUALITY: u8 = 82;
const THUMBNAIL_SIDE: u32 = 320;
const THUMBNAIL_QUALITY: u8 = 75;

/// Which of the pictures that are kept of a photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PhotoCopy {
    /// The photo itself.
    Whole,
    /// The smaller copy for papers; the photo itself where there is none that holds.
    Small,
    /// The thumbnail.
    Thumbnail,
}

/// A photo that is ready to be kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PreparedPhoto {
    /// SHA-256 of the bytes to keep, in hexadecimal.
    pub sha256: String,
    /// Its size in pixels.
    pub size: [u32; 2],
    bytes: Vec<u8>,
    small: Vec<u8>,
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
    let smaller = within(&kept, SMALL_SIDE);
    let small = jpeg(&smaller, SMALL_QUALITY)?;
    let thumbnail = jpeg(&within(&smaller, THUMBNAIL_SIDE), THUMBNAIL_QUALITY)?;
    Ok(PreparedPhoto {
        sha256: hex(&Sha256::digest(&bytes)),
        size: [kept.width(), kept.height()],
        bytes,
        small,
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

fn place(folder: &Path, sha256: &str, [kind, extension]: [&str; 2]) -> Option<PathBuf> {
    if sha256.len() != 64 || !sha256.bytes().all(|b| b.is_ascii_hexdigit()) {
        return None;
    }
    Some(folder.join(kind).join(sha256.get(..2)?).join(format!("{sha256}.{extension}")))
}

/// Folders and the extensions of what is in them.
const WHOLE: [&str; 2] = ["photos", "jpg"];
const THUMBNAIL: [&str; 2] = ["thumbnails", "jpg"];
const SMALL: [&str; 2] = ["smaller", "copy"];
/// A smaller copy's file begins with the hash of the JPEG that follows: it is told when it was changed.
const HASH_BYTES: usize = 32;

pub fn keep(folder: &Path, photo: &PreparedPhoto) -> Result<KeptPhoto, StoreError> {
    let mut written = Vec::new();
    let small = [Sha256::digest(&photo.small).as_slice(), &photo.small].concat();
    let files = [(&photo.thumbnail, THUMBNAIL), (&small, SMALL), (&photo.bytes, WHOLE)];
    for (bytes, kind) in files {
        let Some(path) = place(folder, &photo.sha256, kind) else { continue };
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

pub fn load(folder: &Path, sha256: &str, copy: PhotoCopy) -> Result<Vec<u8>, StoreError> {
    match copy {
        PhotoCopy::Thumbnail => read(folder, sha256, THUMBNAIL),
        PhotoCopy::Whole => whole(folder, sha256),
        PhotoCopy::Small => {
            let photo = whole(folder, sha256)?;
            Ok(read(folder, sha256, SMALL).ok().and_then(smaller).unwrap_or(photo))
        }
    }
}

fn read(folder: &Path, sha256: &str, kind: [&str; 2]) -> Result<Vec<u8>, StoreError> {
    let none = || StoreError::NoSuchPhoto { sha256: sha256.to_owned() };
    let path = place(folder, sha256, kind).ok_or_else(none)?;
    match std::fs::read(path) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Err(none()),
        other => Ok(other?),
    }
}

fn whole(folder: &Path, sha256: &str) -> Result<Vec<u8>, StoreError> {
    let bytes = read(folder, sha256, WHOLE)?;
    if hex(&Sha256::digest(&bytes)) != sha256 {
        return Err(StoreError::PhotoChanged { sha256: sha256.to_owned() });
    }
    Ok(bytes)
}

/// A smaller copy as its file holds it; none where it is not as it was kept.
fn smaller(mut file: Vec<u8>) -> Option<Vec<u8>> {
    let (hash, picture) = file.split_at_checked(HASH_BYTES)?;
    if Sha256::digest(picture).as_slice() != hash {
        return None;
    }
    Some(file.split_off(HASH_BYTES))
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
        let bytes = load(folder.path(), &kept.sha256, PhotoCopy::Whole).unwrap();
        assert_eq!(hex(&Sha256::digest(&bytes)), kept.sha256);
        let thumbnail = load(folder.path(), &kept.sha256, PhotoCopy::Thumbnail).unwrap();
        assert_eq!(image::load_from_memory(&thumbnail).unwrap().width(), 320);
        assert!(!bytes.windows(4).any(|w| w == b"Exif"));
    }

    #[test]
    fn a_photo_that_was_changed_on_disk_is_not_handed_out() {
        let folder = tempfile::tempdir().unwrap();
        let prepared = prepare_photo(&picture(64, 48, ImageFormat::Png)).unwrap();
        let kept = keep(folder.path(), &prepared).unwrap();
        let path = place(folder.path(), &kept.sha256, WHOLE).unwrap();
        let other = prepare_photo(&picture(48, 64, ImageFormat::Png)).unwrap();
        std::fs::write(path, &other.bytes).unwrap();
        for copy in [PhotoCopy::Whole, PhotoCopy::Small] {
            let answer = load(folder.path(), &kept.sha256, copy);
            assert!(matches!(answer, Err(StoreError::PhotoChanged { .. })), "{answer:?}");
        }
    }

    #[test]
    fn a_smaller_copy_that_does_not_hold_is_not_handed_out() {
        let folder = tempfile::tempdir().unwrap();
        let prepared = prepare_photo(&picture(1500, 3000, ImageFormat::Png)).unwrap();
        let kept = keep(folder.path(), &prepared).unwrap();
        let small = || load(folder.path(), &kept.sha256, PhotoCopy::Small).unwrap();
        let size = |bytes: &[u8]| image::load_from_memory(bytes).unwrap().height();
        assert_eq!(size(&small()), 900);
        let path = place(folder.path(), &kept.sha256, SMALL).unwrap();
        let mut file = std::fs::read(&path).unwrap();
        *file.last_mut().unwrap() ^= 1;
        std::fs::write(&path, &file).unwrap();
        assert_eq!(size(&small()), 2048, "changed");
        std::fs::write(&path, b"short").unwrap();
        assert_eq!(size(&small()), 2048, "cut short");
        std::fs::remove_file(&path).unwrap();
        assert_eq!(size(&small()), 2048, "of an older version");
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
            let answer = load(folder.path(), name, PhotoCopy::Whole).err();
            assert!(matches!(answer, Some(StoreError::NoSuchPhoto { .. })), "{name}");
        }
    }
}
