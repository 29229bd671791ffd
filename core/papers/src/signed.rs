//! Signatures on a paper: drawn on the phone, printed as vectors.

use fairfall_core::record::RecordSignature;
use serde::Serialize;
use typst::foundations::Bytes;

use crate::{drawing, words};

/// A signature as the template takes it.
#[derive(Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct SignatureWords {
    role: String,
    name: String,
    at: String,
    /// The drawn strokes; none where the name was typed in their place.
    file: Option<String>,
    alt: String,
    /// What was logged after it was drawn; empty where nothing was.
    since: String,
}

/// Signatures in words, and their strokes as files.
pub(crate) fn words(all: &[RecordSignature]) -> (Vec<SignatureWords>, Vec<(String, Bytes)>) {
    let words = all.iter().enumerate().map(|(index, signature)| SignatureWords {
        role: signature.role.clone(),
        name: signature.name.clone(),
        at: words::when(&signature.at),
        file: (!signature.strokes.is_empty()).then(|| file(index)),
        alt: format!("Signature of {}", signature.name),
        since: match signature.logged_since {
            0 => String::new(),
            some => {
                format!(
                    "{} logged after it was drawn",
                    words::count(some, "entry was", "entries were")
                )
            }
        },
    });
    let drawn = all.iter().enumerate().filter(|(_, signature)| !signature.strokes.is_empty());
    let files = drawn.map(|(index, signature)| {
        (file(index), Bytes::from_string(drawing::signature(&signature.strokes)))
    });
    (words.collect(), files.collect())
}

fn file(index: usize) -> String {
    format!("signature-{index}.svg")
}
