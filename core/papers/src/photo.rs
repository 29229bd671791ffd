//! Copies of photos for a paper: upright, small enough to send, and free of place and device data.
//!
//! Every photo is decoded and written anew, so nothing that came with it (position, camera, time,
//! thumbnails) can reach the paper. A photo that is no picture is told apart from one that is not
//! on this phone.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};

/// All photos of one paper together stay under this many bytes, so that it can be sent.
const ALL_BYTES: usize = 6_500_000;

/// No single photo needs more than this many bytes, however few there are.
const MOST_BYTES: usize = 450_000;

/// Longest side in pixels and JPEG quality, tried in turn until a photo fits its share.
const STEPS: [(u32, u8); 5] = [(1400, 80), (1100, 78), (900, 75), (720, 70), (560, 62)];

/// A copy ready for a page.
pub(crate) struct Copy {
    /// JPEG bytes.
    pub(crate) jpeg: Vec<u8>,
    /// Width over height.
    pub(crate) aspect: f64,
}

/// How many bytes each of so many photos may take.
pub(crate) fn share(photos: usize) -> usize {
    (ALL_BYTES / photos.max(1)).min(MOST_BYTES)
}

/// A copy of a photo within its share of bytes; none where the bytes are no picture. A picture
/// that packs badly is the smallest copy, even if that is more than its share.
pub(crate) fn for_paper(bytes: &[u8], share: usize) -> Option<Copy> {
    let picture = decode(bytes)?;
    let (last, larger) = STEPS.split_last()?;
    let mut a_pixel = COMMON_BYTES_A_PIXEL;
    for step in larger {
        let pixels = pixels(&picture, *step);
        if a_pixel * pixels > share as f64 {
            continue;
        }
        let copy = write(&picture, *step)?;
        if copy.jpeg.len() <= share {
            return Some(copy);
        }
        // Now it is known how this picture packs.
        a_pixel = copy.jpeg.len() as f64 / pixels;
    }
    write(&picture, *last)
}

/// About what a picture of common ground takes a pixel. It only saves trying sizes that have no
/// hope.
const COMMON_BYTES_A_PIXEL: f64 = 0.15;

/// How many pixels a picture has at a step.
fn pixels(picture: &DynamicImage, (side, _): (u32, u8)) -> f64 {
    let (width, height) = (f64::from(picture.width()), f64::from(picture.height()));
    let shrink = (f64::from(side) / width.max(height)).min(1.0);
    width * height * shrink * shrink
}

/// Width over height of a copy as it is in a paper; none where the bytes are no picture.
pub(crate) fn aspect(jpeg: &[u8]) -> Option<f64> {
    let reader = ImageReader::new(Cursor::new(jpeg)).with_guessed_format().ok()?;
    let (width, height) = reader.into_dimensions().ok()?;
    (width > 0 && height > 0).then(|| f64::from(width) / f64::from(height))
}

/// Reads a picture of any kind that the core keeps, and turns it upright.
fn decode(bytes: &[u8]) -> Option<DynamicImage> {
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format().ok()?;
    let mut limits = Limits::default();
    limits.max_image_width = Some(16_384);
    limits.max_image_height = Some(16_384);
    limits.max_alloc = Some(256 * 1024 * 1024);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().ok()?;
    let orientation = decoder.orientation().ok()?;
    let mut picture = DynamicImage::from_decoder(decoder).ok()?;
    picture.apply_orientation(orientation);
    (picture.width() > 0 && picture.height() > 0).then_some(picture)
}

/// Writes a picture no longer than a step's side, at its quality.
fn write(picture: &DynamicImage, (side, quality): (u32, u8)) -> Option<Copy> {
    let smaller = picture.width().max(picture.height()) > side;
    let small = if smaller { picture.thumbnail(side, side) } else { picture.clone() }.into_rgb8();
    let aspect = f64::from(small.width()) / f64::from(small.height().max(1));
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, quality).encode_image(&small).ok()?;
    Some(Copy { jpeg, aspect })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Speckled ground: the kind of picture that packs worst.
    fn ground(width: u32, height: u32) -> Vec<u8> {
        let mut seed = 7_u32;
        let picture = image::RgbImage::from_fn(width, height, |x, y| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let speck = u8::try_from(seed >> 26).unwrap();
            image::Rgb([90 + speck, 80 + speck, u8::try_from((x / 9 + y / 7) % 64).unwrap() + 60])
        });
        let mut bytes = Vec::new();
        JpegEncoder::new_with_quality(&mut bytes, 82).encode_image(&picture).unwrap();
        bytes
    }

    #[test]
    fn a_copy_keeps_to_its_share_and_its_shape() {
        let copy = for_paper(&ground(2048, 1536), share(40)).unwrap();
        assert!(copy.jpeg.len() <= share(40), "{} bytes", copy.jpeg.len());
        assert!((copy.aspect - 4.0 / 3.0).abs() < 0.01);
    }

    #[test]
    fn what_came_with_the_photo_stays_behind() {
        let mut bytes = ground(64, 48);
        // A comment segment after the start of image, as a camera might leave one.
        let note = b"\xFF\xFE\x00\x13position 51.5 N 0 ";
        bytes.splice(2..2, note.iter().copied());
        assert!(decode(&bytes).is_some());
        let copy = for_paper(&bytes, share(1)).unwrap();
        assert!(!copy.jpeg.windows(8).any(|w| w == b"position"));
    }

    #[test]
    fn bytes_that_are_no_picture_make_no_copy() {
        assert!(for_paper(b"not a picture", share(1)).is_none());
        assert!(for_paper(&[], share(1)).is_none());
    }
}
