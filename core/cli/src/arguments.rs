//! What may be typed after `fairfall`.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use fairfall_core::compaction::Material;

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
    /// Pins, strings, marks, arc offsets, template ordinates and diagonals of a plan.
    SetOut {
        /// The plan file.
        plan: PathBuf,
    },
    /// Every block of a plan: whole, cut, course by course, with joints and laps.
    Lay {
        /// The plan file.
        plan: PathBuf,
        /// Where to write the drawing.
        #[arg(long)]
        svg: Option<PathBuf>,
        /// Where to write the pieces as GeoJSON polygons in local metres.
        #[arg(long)]
        pieces: Option<PathBuf>,
    },
    /// Reduce a level book (header point,bs,is,fs).
    Levels {
        /// The book.
        book: PathBuf,
        /// Level of the first point, metres.
        #[arg(long, allow_hyphen_values = true, value_parser = number)]
        start: f64,
        /// Known level of the last point, metres.
        #[arg(long, allow_hyphen_values = true, value_parser = number)]
        close: Option<f64>,
    },
    /// Offsets of an arc from its long chord and from its tangent.
    Arc {
        /// Radius, metres.
        #[arg(long, value_parser = number)]
        radius: f64,
        /// Chord, metres.
        #[arg(long, value_parser = number)]
        chord: f64,
        /// Spacing of the offsets, metres.
        #[arg(long, value_parser = number)]
        every: f64,
    },
    /// Dig and fill volumes between spot levels (header x_m,y_m,level_m) and a formation.
    Volume {
        /// The spots.
        spots: PathBuf,
        /// Level of the formation, metres.
        #[arg(long, allow_hyphen_values = true, value_parser = number)]
        formation: f64,
        /// The file is a rectangular grid of levels without a header, nan where empty.
        #[arg(long)]
        grid: bool,
        /// Size of a grid cell along and across the rows, metres: A,B.
        #[arg(long, value_parser = cell)]
        cell_m: Option<[f64; 2]>,
    },
    /// Passes for one layer under one specification, or the lifts needed.
    Passes(PassesArguments),
    /// Vibration exposure of a day's work, such as 4.0@3h 2.5@45min.
    Vibration {
        /// Magnitude in m/s², taken as given, at a time.
        #[arg(required = true, allow_negative_numbers = true)]
        work: Vec<String>,
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
    /// Set the setting-out sheet of a plan.
    Sheet {
        /// The plan file.
        plan: PathBuf,
        /// Where to write the PDF.
        #[arg(long)]
        out: PathBuf,
        /// Add templates of the curves at their true size.
        #[arg(long)]
        templates: bool,
        /// The paper.
        #[arg(long, value_enum, default_value = "a4")]
        paper: Paper,
    },
    /// Set the care sheet of a job.
    Care {
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
    /// Set the order list of a job.
    OrderList {
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
    /// Set the note of a change, by its number.
    ChangeNote {
        /// The store's folder.
        store: PathBuf,
        /// The job's identity.
        job: String,
        /// The change's number: see `state`.
        number: u32,
        /// Where to write the PDF.
        #[arg(long)]
        out: PathBuf,
        /// The paper.
        #[arg(long, value_enum, default_value = "a4")]
        paper: Paper,
    },
    /// Write a job as data: dips and passes (CSV), shapes (GeoJSON), days (iCalendar).
    Data {
        /// The store's folder.
        store: PathBuf,
        /// The job's identity.
        job: String,
        /// The folder to write into.
        #[arg(long)]
        out: PathBuf,
    },
    /// Check that a sealed paper, or a store, is as it was written.
    Verify {
        /// A completion record, or the store's folder.
        path: PathBuf,
        /// The public key that the paper should have been sealed with, in hexadecimal.
        #[arg(long)]
        key: Option<String>,
    },
}

/// A machine and a layer.
#[derive(Args)]
pub struct PassesArguments {
    /// The kind of machine: vibrating_plate, vibro_tamper, single_drum_roller, twin_drum_roller,
    /// vibratory_roller, tight_places_tamper.
    #[arg(long)]
    pub plant: String,
    /// Its rating: kg/m² of contact for a plate, kg for a tamper, kg/m of drum for a roller.
    #[arg(long, allow_hyphen_values = true, value_parser = number)]
    pub rating: Option<f64>,
    /// The layer's compacted thickness, millimetres.
    #[arg(long, allow_hyphen_values = true, value_parser = number)]
    pub layer: f64,
    /// The specification: reinstatement_A8.1 or highway_800.
    #[arg(long)]
    pub spec: String,
    /// What is compacted; left out, stone.
    #[arg(long, value_enum)]
    pub material: Option<Compacted>,
    /// Working mass, where no rating is given.
    #[arg(long, value_parser = number)]
    pub mass_kg: Option<f64>,
    /// A plate's area in contact with the ground.
    #[arg(long, value_parser = number)]
    pub contact_m2: Option<f64>,
    /// Width of the plate or drum.
    #[arg(long, value_parser = number)]
    pub width_mm: Option<f64>,
    /// How far one strip laps over the last.
    #[arg(long, value_parser = number)]
    pub overlap_mm: Option<f64>,
    /// How fast it travels.
    #[arg(long, value_parser = number)]
    pub speed_m_per_min: Option<f64>,
    /// Area of the layer, for the time of a pass.
    #[arg(long, value_parser = number)]
    pub area_m2: Option<f64>,
}

/// What is compacted.
#[derive(Clone, Copy, ValueEnum)]
pub enum Compacted {
    /// Stone and sand.
    Granular,
    /// Clay and silt.
    Cohesive,
}

impl From<Compacted> for Material {
    fn from(compacted: Compacted) -> Self {
        match compacted {
            Compacted::Granular => Material::Granular,
            Compacted::Cohesive => Material::Cohesive,
        }
    }
}

/// A paper size.
#[derive(Clone, Copy, ValueEnum)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

/// A number, its decimal mark a point or a comma. A comma that may part thousands is asked about.
fn number(text: &str) -> Result<f64, String> {
    let text = text.trim();
    if let Some((whole, part)) = text.split_once(',') {
        let digits = whole.trim_start_matches(['-', '+']);
        if part.len() == 3 && (1..=3).contains(&digits.len()) && !digits.starts_with('0') {
            return Err(format!(
                "\"{text}\" may be {whole}.{part} or {whole}{part}: write the one meant"
            ));
        }
    }
    let value = text.replacen(',', ".", 1).parse::<f64>().ok();
    value.filter(|number| number.abs() <= LARGEST_NUMBER).ok_or_else(|| {
        format!("\"{text}\" is no number from -{LARGEST_NUMBER:.0} to {LARGEST_NUMBER:.0}")
    })
}

/// No length, mass or level of a site is beyond this in any of its units.
const LARGEST_NUMBER: f64 = 1e7;

fn cell(text: &str) -> Result<[f64; 2], String> {
    let right = || format!("{text} is no cell: two lengths in metres, A,B");
    let (along, across) = text.split_once(',').ok_or_else(right)?;
    let side = |text: &str| text.trim().parse().map_err(|_| right());
    Ok([side(along)?, side(across)?])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_with_either_mark_and_never_guessed() {
        for (text, value) in
            [("99.40", 99.4), ("99,40", 99.4), ("-0,5", -0.5), ("0,125", 0.125), (" 7 ", 7.0)]
        {
            assert_eq!(number(text), Ok(value), "{text}");
        }
        for text in ["1,500", "-12,000", "1e308", "nan", "inf", "1,2,3", "", "12m"] {
            assert!(number(text).is_err(), "{text}");
        }
    }
}
