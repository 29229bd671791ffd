//! What a paper says, as plain data: figures, exceptions, coverage.

mod build;
mod data;

pub use build::build;
pub use data::*;
