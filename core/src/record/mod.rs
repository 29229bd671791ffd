//! What a paper says, as plain data: figures, exceptions, coverage.

mod build;
mod data;
mod seal;

pub use build::build;
pub use data::*;
pub use seal::{
    DIARY_FILE, LARGEST_DIARY_BYTES, LARGEST_SEAL_BYTES, MissingPhoto, SEAL_FILE, Seal, Sealed,
    SealedDiary, SealedPhoto, diary_lines, normalised, qr_text, read_diary_lines, sha256,
};
