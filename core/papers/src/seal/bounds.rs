//! What a file may ask of the reader: its size, and what its packed streams unfold to.
//!
//! A PDF of some kilobytes can hold streams that unfold to gigabytes. Every stream is looked at before
//! the file is opened: it may be plain, a JPEG, or packed once by Flate, and all of them together
//! unfold to no more than a limit. Whatever is packed in another way is not of our making.

use std::io::Read;

use flate2::read::ZlibDecoder;

/// A file of more bytes than this is not read.
pub const LARGEST_FILE: usize = 128 * 1024 * 1024;

/// All streams of a file unfold to no more bytes than this together.
const LARGEST_UNFOLDED: u64 = 256 * 1024 * 1024;

/// A stream's dictionary is no longer than this.
const LONGEST_HEAD: usize = 16 * 1024;

/// Why a file is not opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub(crate) enum TooMuch {
    #[error("the file is larger than {} MB", LARGEST_FILE >> 20)]
    File,
    #[error("what is packed in the file unfolds to more than {} MB", LARGEST_UNFOLDED >> 20)]
    Unfolded,
    #[error("a part of the file is packed in a way that no paper of ours is")]
    Packing,
    #[error("the file is locked with a password or a key")]
    Locked,
}

/// Whether a file keeps to the limits.
///
/// # Errors
/// [`TooMuch`] for the first limit that it passes.
pub(crate) fn check(file: &[u8]) -> Result<(), TooMuch> {
    if file.len() > LARGEST_FILE {
        return Err(TooMuch::File);
    }
    if places(file, b"/Encrypt").next().is_some() {
        return Err(TooMuch::Locked);
    }
    let mut left = LARGEST_UNFOLDED;
    for at in places(file, b"stream") {
        let (before, after) = file.split_at(at);
        if before.ends_with(b"end") {
            continue;
        }
        let data = after.get(b"stream".len()..).unwrap_or_default();
        let Some(data) = data.strip_prefix(b"\r\n").or_else(|| data.strip_prefix(b"\n")) else {
            continue;
        };
        if packing(head(before))? == Packing::Flate {
            let unfolded = unfold(data, left);
            left = left.checked_sub(unfolded).filter(|left| *left > 0).ok_or(TooMuch::Unfolded)?;
        }
    }
    Ok(())
}

/// Where a word stands in the file.
fn places<'a>(file: &'a [u8], word: &'static [u8]) -> impl Iterator<Item = usize> + 'a {
    let first = word.first().copied().unwrap_or_default();
    let mut from = 0;
    std::iter::from_fn(move || {
        loop {
            let rest = file.get(from..)?;
            let at = from + rest.iter().position(|byte| *byte == first)?;
            from = at + 1;
            if file.get(at..).is_some_and(|rest| rest.starts_with(word)) {
                return Some(at);
            }
        }
    })
}

/// What stands between the start of the object and its stream.
fn head(before: &[u8]) -> &[u8] {
    let near = before.len().saturating_sub(LONGEST_HEAD);
    let near = before.get(near..).unwrap_or_default();
    let start = near.windows(3).rposition(|word| word == b"obj").unwrap_or(0);
    near.get(start..).unwrap_or_default()
}

#[derive(Debug, PartialEq, Eq)]
enum Packing {
    PlainOrJpeg,
    Flate,
}

/// How a stream is packed, by its dictionary.
fn packing(head: &[u8]) -> Result<Packing, TooMuch> {
    // Letters and digits written as `#` and their code have no use but to hide a name.
    let escaped = head.windows(3).any(|sign| {
        let code = sign.strip_prefix(b"#").and_then(|code| std::str::from_utf8(code).ok());
        let code = code.and_then(|code| u8::from_str_radix(code, 16).ok());
        code.is_some_and(|code| code.is_ascii_alphanumeric())
    });
    if escaped {
        return Err(TooMuch::Packing);
    }
    let mut found = Packing::PlainOrJpeg;
    for at in places(head, b"/Filter") {
        let value = head.get(at + b"/Filter".len()..).unwrap_or_default();
        let value = value.trim_ascii_start();
        let (value, listed) = match value.strip_prefix(b"[") {
            Some(list) => (list.trim_ascii_start(), true),
            None => (value, false),
        };
        let (rest, packing) = match (
            value.strip_prefix(b"/FlateDecode"),
            value.strip_prefix(b"/DCTDecode"),
            listed,
        ) {
            (Some(rest), _, _) => (rest, Packing::Flate),
            (_, Some(rest), _) => (rest, Packing::PlainOrJpeg),
            (None, None, true) => (value, Packing::PlainOrJpeg),
            (None, None, false) => return Err(TooMuch::Packing),
        };
        let whole = if listed {
            rest.trim_ascii_start().starts_with(b"]")
        } else {
            !rest.first().is_some_and(u8::is_ascii_alphanumeric)
        };
        if !whole {
            return Err(TooMuch::Packing);
        }
        if packing == Packing::Flate {
            found = Packing::Flate;
        }
    }
    Ok(found)
}

/// How many bytes a stream unfolds to, counted to one more than what is left.
fn unfold(data: &[u8], left: u64) -> u64 {
    let mut unfolded = ZlibDecoder::new(data).take(left + 1);
    // A stream that breaks off has unfolded to what it gave until then.
    let mut count = 0;
    let mut part = [0; 16 * 1024];
    while let Ok(read) = unfolded.read(&mut part) {
        if read == 0 {
            break;
        }
        count += read as u64;
    }
    count
}

#[cfg(test)]
mod tests {
    use std::io::Write;

    use flate2::Compression;
    use flate2::write::ZlibEncoder;

    use super::*;

    fn packed(bytes: usize) -> Vec<u8> {
        let mut encoder = ZlibEncoder::new(Vec::new(), Compression::best());
        encoder.write_all(&vec![0; bytes]).unwrap();
        encoder.finish().unwrap()
    }

    fn object(filter: &str, data: &[u8]) -> Vec<u8> {
        let head = format!("1 0 obj\n<< {filter} /Length {} >>\nstream\n", data.len());
        [head.as_bytes(), data, b"\nendstream\nendobj\n"].concat()
    }

    #[test]
    fn what_unfolds_to_too_much_is_refused() {
        let one = object("/Filter /FlateDecode", &packed(100 << 20));
        assert_eq!(check(&one), Ok(()));
        assert!(one.len() < 200_000);
        assert_eq!(check(&one.repeat(3)), Err(TooMuch::Unfolded));
        let listed = object("/Filter [ /FlateDecode ]", &packed(100 << 20));
        assert_eq!(check(&listed.repeat(3)), Err(TooMuch::Unfolded));
    }

    #[test]
    fn what_is_packed_otherwise_is_refused() {
        for filter in [
            "/Filter /LZWDecode",
            "/Filter [/FlateDecode /FlateDecode]",
            "/Filter [/ASCIIHexDecode /FlateDecode]",
            "/Filter 7 0 R",
            "/Filter /Fl#61teDecode",
            "/F#69lter /FlateDecode",
            "/Filter /FlateDecodeX",
        ] {
            assert_eq!(check(&object(filter, b"x")), Err(TooMuch::Packing), "{filter}");
        }
        for filter in ["", "/Filter /DCTDecode", "/Filter []", "/Subtype /application#2Fjson"] {
            assert_eq!(check(&object(filter, b"x")), Ok(()), "{filter}");
        }
        assert_eq!(check(b"trailer << /Encrypt 5 0 R >>"), Err(TooMuch::Locked));
    }
}
