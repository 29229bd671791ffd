//! What can go wrong while a paper is made.

use typst::diag::SourceDiagnostic;

/// Why a paper could not be made. None of them loses anything: the record is untouched.
#[derive(Debug, thiserror::Error)]
pub enum PapersError {
    /// The record's own date is not a time with an offset, so the paper cannot be dated.
    #[error("the time this paper was made, {0:?}, is not a date and time with an offset")]
    MadeAt(String),
    /// The pages could not be written down as data for the template.
    #[error("the pages could not be prepared: {0}")]
    Prepare(#[from] serde_json::Error),
    /// The template could not be laid out: a fault of this program.
    #[error("the pages could not be set: {0}")]
    Set(String),
    /// The paper could not be sealed, or its seal did not hold when it was read back: a fault of this
    /// program. Nothing was handed out.
    #[error("the paper could not be sealed: {0}")]
    Seal(String),
    /// Whoever watched wanted it no more.
    #[error("stopped before the paper was made")]
    Stopped,
    /// The laid-out pages could not be written as a file: a fault of this program.
    #[error("the file could not be written: {0}")]
    Write(String),
}

impl PapersError {
    /// The messages of the typesetter as one line, each with its hints.
    pub(crate) fn messages<'a>(all: impl IntoIterator<Item = &'a SourceDiagnostic>) -> String {
        let lines: Vec<String> = all
            .into_iter()
            .map(|one| {
                let hints = one.hints.iter().map(|hint| format!(" ({})", hint.v));
                std::iter::once(one.message.to_string()).chain(hints).collect()
            })
            .collect();
        lines.join("; ")
    }
}
