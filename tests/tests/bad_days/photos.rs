//! Files that come in the place of a photo, through the command that the phone uses.

use std::io::Cursor;

use fairfall_acceptance::bridge::Bridge;
use fairfall_acceptance::program::root;
use image::{DynamicImage, ImageFormat, RgbImage};
use serde_json::Value;

use super::{code, keep_photo};

/// A bridge over a store of its own.
fn bridge(folder: &std::path::Path) -> Bridge {
    Bridge::open(folder.join("store"), root().join("ui/dist"), 0).unwrap()
}

/// Files in the folders of photos.
fn kept_files(folder: &std::path::Path) -> usize {
    let count = |path: std::path::PathBuf| match std::fs::read_dir(path) {
        Ok(shelves) => shelves
            .map(|shelf| std::fs::read_dir(shelf.unwrap().path()).unwrap().count())
            .sum::<usize>(),
        Err(_) => 0,
    };
    ["photos", "smaller", "thumbnails"]
        .map(|kind| count(folder.join("store").join(kind)))
        .iter()
        .sum()
}

#[test]
fn what_is_no_photo_is_named_and_not_kept() {
    let folder = tempfile::tempdir().unwrap();
    let bridge = bridge(folder.path());
    let whole = std::fs::read(root().join("fixtures/demo/photos/stone.jpg")).unwrap();
    let cases: [(&str, &[u8], &str); 5] = [
        ("a text file", b"Tuesday: 12 high by the door, 8 low at the gate.", "photo_unreadable"),
        ("nothing at all", b"", "photo_unreadable"),
        ("a JPEG cut in half", &whole[..whole.len() / 2], "photo_cut_short"),
        ("a JPEG without its last bytes", &whole[..whole.len() - 2], "photo_cut_short"),
        ("65 MB", &vec![0xFF; 65 << 20], "photo_too_large"),
    ];
    for (what, bytes, wanted) in cases {
        let answer = keep_photo(&bridge.url(), bytes).unwrap();
        assert_eq!(code(&answer).unwrap(), wanted, "{what}");
        assert_eq!(kept_files(folder.path()), 0, "{what}");
    }
    // And the next real one is kept.
    assert_eq!(keep_photo(&bridge.url(), &whole).unwrap().status, 200);
    assert_eq!(kept_files(folder.path()), 3);
}

#[test]
fn a_photo_of_a_hundred_megapixels_is_kept_small() {
    let folder = tempfile::tempdir().unwrap();
    let bridge = bridge(folder.path());
    // 11 648 by 8 736, the frame of the largest cameras sold: 101.8 megapixels.
    let picture = RgbImage::from_fn(11_648, 8_736, |x, _| image::Rgb([(x / 46) as u8, 90, 60]));
    let mut bytes = Vec::new();
    DynamicImage::from(picture).write_to(&mut Cursor::new(&mut bytes), ImageFormat::Jpeg).unwrap();

    let answer = keep_photo(&bridge.url(), &bytes).unwrap();
    assert_eq!(answer.status, 200, "{}", String::from_utf8_lossy(&answer.body));
    let kept: Value = serde_json::from_slice(&answer.body).unwrap();
    assert_eq!((kept["width_px"].as_u64(), kept["height_px"].as_u64()), (Some(2048), Some(1536)));
}
