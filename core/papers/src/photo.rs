//! Copies of photos for a paper: upright, small enough to send, and free of place and device data.
//!
//! Every photo is decoded and written anew, so nothing that came with it (position, camera, time,
//! thumbnails) can reach the paper. A photo that is no picture is told apart from one that is not
//! on this phone.

use std::io::Cursor;

use fairfall_core::store::PhotoCopy;
use fast_image_resize::images::{Image, ImageRef};
use fast_image_resize::{FilterType, PixelType, ResizeAlg, ResizeOptions, Resizer};
use image::{DynamicImage, ImageDecoder, ImageReader, Limits, RgbImage};
use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

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

/// With a share under this a copy larger than the one that the store keeps ready does not fit, but of a
/// picture with little in it.
const READY_SHARE: usize = 250_000;

/// Which copy of each photo a paper of so many is made from: few are made from the photos themselves.
pub fn copy_for(photos: usize) -> PhotoCopy {
    if share(photos) < READY_SHARE { PhotoCopy::Small } else { PhotoCopy::Whole }
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
    for (side, quality) in larger.iter().copied() {
        // A band across its middle tells whether it has hope, for an eighth of the work.
        let rows = picture.height() / HOPE;
        let band = shrunk(&picture, (picture.height() - rows) / 2, rows.max(1), side)?;
        if band.written(quality)?.len() * HOPE as usize > share + share / 4 {
            continue;
        }
        let copy = whole(&picture, (side, quality))?;
        if copy.jpeg.len() <= share {
            return Some(copy);
        }
    }
    whole(&picture, *last)
}

/// What part of a picture is written to see how it packs.
const HOPE: u32 = 8;

/// Width over height of a copy as it is in a paper; none where the bytes are no picture.
pub(crate) fn aspect(jpeg: &[u8]) -> Option<f64> {
    let reader = ImageReader::new(Cursor::new(jpeg)).with_guessed_format().ok()?;
    let (width, height) = reader.into_dimensions().ok()?;
    (width > 0 && height > 0).then(|| f64::from(width) / f64::from(height))
}

/// Reads a picture of any kind that the core keeps, and turns it upright.
fn decode(bytes: &[u8]) -> Option<RgbImage> {
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
    (picture.width() > 0 && picture.height() > 0).then(|| picture.into_rgb8())
}

/// A picture in colour, three bytes a pixel.
struct Small {
    pixels: Vec<u8>,
    width: u32,
    height: u32,
}

/// A whole picture no longer than a step's side, at its quality.
fn whole(picture: &RgbImage, (side, quality): (u32, u8)) -> Option<Copy> {
    let small = shrunk(picture, 0, picture.height(), side)?;
    let aspect = f64::from(small.width) / f64::from(small.height);
    Some(Copy { jpeg: small.written(quality)?, aspect })
}

/// Some rows of a picture from one on, as they are where the whole is no longer than a side. Every pixel
/// of the photo counts for one of the copy: nothing is invented between them.
fn shrunk(picture: &RgbImage, first: u32, rows: u32, side: u32) -> Option<Small> {
    let (width, all) = smaller(picture.dimensions(), side);
    let height = (u64::from(all) * u64::from(rows)).div_ceil(u64::from(picture.height()));
    let height = u32::try_from(height).ok()?;
    let source = ImageRef::new(picture.width(), picture.height(), picture, PixelType::U8x3).ok()?;
    let mut small = Image::new(width, height, PixelType::U8x3);
    let options = ResizeOptions::new().resize_alg(ResizeAlg::Convolution(FilterType::Box)).crop(
        0.0,
        f64::from(first),
        f64::from(picture.width()),
        f64::from(rows),
    );
    Resizer::new().resize(&source, &mut small, &options).ok()?;
    Some(Small { pixels: small.into_vec(), width, height })
}

impl Small {
    /// As a JPEG.
    fn written(&self, quality: u8) -> Option<Vec<u8>> {
        let [wide, high] = [u16::try_from(self.width).ok()?, u16::try_from(self.height).ok()?];
        let mut jpeg = Vec::new();
        let mut encoder = Encoder::new(&mut jpeg, quality);
        encoder.set_sampling_factor(SamplingFactor::F_2_2);
        encoder.encode(&self.pixels, wide, high, ColorType::Rgb).ok()?;
        Some(jpeg)
    }
}

/// The size of a picture that is no longer than a side; it is never made larger.
fn smaller((width, height): (u32, u32), side: u32) -> (u32, u32) {
    let longest = width.max(height);
    if longest <= side {
        return (width, height);
    }
    // Both fit: the result is no longer than the side, which is a u32.
    let part = |length: u32| {
        let rounded =
            (u64::from(length) * u64::from(side) + u64::from(longest) / 2) / u64::from(longest);
        u32::try_from(rounded).unwrap_or(side).max(1)
    };
    (part(width), part(height))
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::codecs::jpeg::JpegEncoder;

    /// Speckled ground: the kind of picture that packs worst.
    fn ground(width: u32, height: u32) -> Vec<u8> {
        let mut seed = 7_u32;
        let picture = RgbImage::from_fn(width, height, |x, y| {
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
    fn a_copy_is_as_long_as_asked_and_never_larger() {
        assert_eq!(smaller((2048, 1536), 1024), (1024, 768));
        assert_eq!(smaller((1536, 2048), 1000), (750, 1000));
        assert_eq!(smaller((640, 480), 1400), (640, 480));
        assert_eq!(smaller((16_384, 1), 560), (560, 1));
    }

    #[test]
    fn bytes_that_are_no_picture_make_no_copy() {
        assert!(for_paper(b"not a picture", share(1)).is_none());
        assert!(for_paper(&[], share(1)).is_none());
    }
}
