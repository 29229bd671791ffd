//! Fairfall's papers: plain record data set in type, offline, the same bytes every time.
//!
//! A paper is made in three steps, and each has its own folder or file:
//!
//! 1. `completion` turns a [`Record`](fairfall_core::record::Record) into the words of its pages.
//!    No figure of the job is computed here; figures are only written down: rounded to whole
//!    millimetres, signs turned into words, times shown as the clock on site showed them.
//! 2. `drawing` draws the plan and the section, and `photo` makes copies that are small enough
//!    to send and carry no place or device data.
//! 3. `set` lays the pages out with a Typst template from `templates/`, and writes a PDF (tagged,
//!    made to last, readable by a screen reader); the same pages are drawn as SVG for a screen.
//!
//! 4. `seal` seals what is issued, and reads a sealed paper back to say whether it still is what
//!    was issued.
//!
//! The clock, chance and the environment are never asked: a paper is dated by its record.

mod completion;
mod defaults;
mod drawing;
mod error;
mod paper;
mod photo;
mod seal;
mod set;
mod sheets;
mod signed;
mod text;
mod typeface;
mod watch;
mod words;
mod world;

pub use completion::completion_record;
pub use error::PapersError;
pub use paper::{Made, NoPhoto, PaperSize, Photos};
pub use photo::copy_for;
pub use seal::{Checked, LARGEST_FILE, Verdict, verify, verify_with_key};
pub use sheets::{Sheet, sheet};
pub use watch::{Unwatched, Watch};
