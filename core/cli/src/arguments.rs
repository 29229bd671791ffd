//! What may be typed after `fairfall`.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

/// Plan, log and hand over a block paving job.
#[derive(Parser)]
#[command(name = "fairfall", version, about)]
pub struct Arguments {
    /// Print one JSON object instead of a table.
    #[arg(long, global = true)]
    pub json: bool,
    #[command(subcommand)]
    pub command: Command,
}

#[derive(Subcommand)]
pub enum Command {
    /// Take-off, build-up and cautions of a plan.
    Plan {
        /// The plan file.
        plan: PathBuf,
    },
    /// Work two invented jobs from plan to completion record.
    Demo {
        /// The folder to write into; what an earlier demo left there is replaced.
        folder: PathBuf,
    },
    /// The jobs in a store.
    Jobs {
        /// The store's folder.
        store: PathBuf,
    },
    /// Start a job from a plan; makes the store if there is none.
    New {
        /// The store's folder.
        store: PathBuf,
        /// The plan file.
        plan: PathBuf,
    },
    /// Append entries read from standard input, one JSON object a line.
    Log {
        /// The store's folder.
        store: PathBuf,
        /// The job's identity.
        job: String,
    },
    /// A job's entries in order.
    Diary {
        /// The store's folder.
        store: PathBuf,
        /// The job's identity.
        job: String,
    },
    /// A job as it stands: stages, layers, passes, what is next.
    State {
        /// The store's folder.
        store: PathBuf,
        /// The job's identity.
        job: String,
    },
    /// Issue a completion record.
    Record {
        /// The store's folder.
        store: PathBuf,
        /// The job's identity.
        job: String,
        /// Where to write the PDF.
        #[arg(long)]
        out: PathBuf,
        /// The paper.
        #[arg(long, value_enum, default_value = "a4")]
        paper: Paper,
    },
    /// Check that a store is as it was written.
    Verify {
        /// The store's folder.
        path: PathBuf,
    },
}

/// A paper size.
#[derive(Clone, Copy, ValueEnum)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 inches.
    Letter,
}
