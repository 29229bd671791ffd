//! Photos that the camera app left behind. A page that takes a photo on Android has the camera write
//! it to the app's own folder of pictures, and nobody clears that folder but us.

use std::io;
use std::path::{Path, PathBuf};

/// Removes what the camera left of a photo that is kept: the same bytes, and the empty files of photos
/// that were not taken after all. Anything else stays: it is a photo that nobody has kept yet.
///
/// # Errors
/// Where the folder cannot be read or a file not removed.
pub fn clear(folder: &Path, kept: &[u8]) -> io::Result<()> {
    for path in captured(folder)? {
        let long = std::fs::metadata(&path)?.len();
        let same = || Ok::<_, io::Error>(std::fs::read(&path)? == kept);
        if long == 0 || (long == kept.len() as u64 && same()?) {
            std::fs::remove_file(&path)?;
        }
    }
    Ok(())
}

/// The newest photo that the camera left, if there is one: its name holds the time.
///
/// # Errors
/// Where the folder or the photo cannot be read.
pub fn newest(folder: &Path) -> io::Result<Option<Vec<u8>>> {
    for path in captured(folder)?.into_iter().rev() {
        let bytes = std::fs::read(path)?;
        if !bytes.is_empty() {
            return Ok(Some(bytes));
        }
    }
    Ok(None)
}

/// The camera's files in a folder, the oldest first. `JPEG_`, the time and a number are how the web
/// view of Tauri names them.
fn captured(folder: &Path) -> io::Result<Vec<PathBuf>> {
    if !folder.is_dir() {
        return Ok(Vec::new());
    }
    let paths: io::Result<Vec<PathBuf>> =
        std::fs::read_dir(folder)?.map(|entry| Ok(entry?.path())).collect();
    let ours = |path: &PathBuf| {
        let name = path.file_name().and_then(|name| name.to_str());
        name.is_some_and(|name| name.starts_with("JPEG_") && name.ends_with(".jpg"))
    };
    let mut captured: Vec<PathBuf> = paths?.into_iter().filter(ours).collect();
    captured.sort();
    Ok(captured)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn what_was_kept_is_cleared_and_what_was_not_stays() {
        let folder = tempfile::tempdir().unwrap();
        let put =
            |name: &str, bytes: &[u8]| std::fs::write(folder.path().join(name), bytes).unwrap();
        put("JPEG_20260612_081500_1.jpg", b"kept");
        put("JPEG_20260612_081600_2.jpg", b"");
        put("JPEG_20260611_170000_3.jpg", b"lost");
        put("holiday.jpg", b"kept");
        clear(folder.path(), b"kept").unwrap();
        assert_eq!(names(folder.path()), ["JPEG_20260611_170000_3.jpg", "holiday.jpg"]);
        assert_eq!(newest(folder.path()).unwrap().as_deref(), Some(b"lost".as_slice()));
    }

    #[test]
    fn the_newest_is_the_last_taken_that_has_a_picture() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(newest(folder.path()).unwrap(), None);
        for (name, bytes) in [
            ("JPEG_20260612_081500_9.jpg", b"old".as_slice()),
            ("JPEG_20260612_170000_1.jpg", b"new"),
            ("JPEG_20260612_180000_5.jpg", b""),
        ] {
            std::fs::write(folder.path().join(name), bytes).unwrap();
        }
        assert_eq!(newest(folder.path()).unwrap().as_deref(), Some(b"new".as_slice()));
    }

    #[test]
    fn a_phone_that_took_no_photo_yet_has_no_folder() {
        let folder = tempfile::tempdir().unwrap();
        let none = folder.path().join("Pictures");
        clear(&none, b"kept").unwrap();
        assert_eq!(newest(&none).unwrap(), None);
    }
}
