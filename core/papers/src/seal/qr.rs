//! A QR code (ISO/IEC 18004) as linework.

use std::fmt::Write as _;

use qrcode::{Color, EcLevel, QrCode};

use crate::error::PapersError;

/// Light modules round a code, so that a reader finds it (ISO/IEC 18004, 9.1).
const QUIET: usize = 4;

/// A text as a QR code, one unit a module, the quiet zone included.
pub(super) fn svg(text: &str) -> Result<String, PapersError> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M)
        .map_err(|error| PapersError::Seal(error.to_string()))?;
    let width = code.width();
    let mut path = String::new();
    for (row, modules) in code.to_colors().chunks(width).enumerate() {
        let mut column = 0;
        // Dark modules side by side are one shape: no hair of paper shows between them.
        for run in modules.chunk_by(|a, b| a == b) {
            if run.first() == Some(&Color::Dark) {
                let (x, y) = (column + QUIET, row + QUIET);
                // Writing to a String cannot fail.
                let _ = write!(path, "M{x} {y}h{}v1h-{}z", run.len(), run.len());
            }
            column += run.len();
        }
    }
    let side = width + 2 * QUIET;
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{side}\" height=\"{side}\" \
         viewBox=\"0 0 {side} {side}\"><path d=\"{path}\" fill=\"#000000\"/></svg>"
    ))
}
