//! The published and customary figures in `core/data`, each with its source and status.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

/// One figure as written, with where it comes from.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Figure {
    key: String,
    /// What it is of.
    pub topic: String,
    /// As the source gives it, a number or a range.
    pub value: String,
    /// Its unit, in words.
    pub unit: String,
    /// Where it applies.
    pub context: String,
    /// seen, secondary, memory, practice or computed.
    pub status: String,
    /// The document; empty for common practice.
    pub source: String,
}

impl Figure {
    /// The numbers in its value, in order: both ends of a range, each part of a mix.
    pub fn numbers(&self) -> Vec<f64> {
        let parts = self.value.split(|c: char| !c.is_ascii_digit() && c != '.');
        parts.filter_map(|part| part.parse().ok()).collect()
    }

    /// The one number of its value, or the first; 0 where it has none.
    pub fn number(&self) -> f64 {
        self.numbers().first().copied().unwrap_or(0.0)
    }

    /// The number to use where nothing better is known: the one its context names, else the middle
    /// of its range.
    pub fn usual(&self) -> f64 {
        let named = self.context.split_once("use ").and_then(|(_, number)| number.parse().ok());
        named.unwrap_or_else(|| {
            let [low, high] = self.range();
            (low + high) / 2.0
        })
    }

    /// Both ends of its value where it is a range, else the one number twice.
    pub fn range(&self) -> [f64; 2] {
        let numbers = self.numbers();
        let low = self.number();
        [low, numbers.get(1).copied().unwrap_or(low)]
    }
}

#[derive(Debug, Deserialize)]
struct SoilRow {
    key: String,
    cbr_percent: String,
}

static FIGURES: LazyLock<BTreeMap<String, Figure>> = LazyLock::new(|| {
    [
        include_str!("../../data/build-up.csv"),
        include_str!("../../data/materials.csv"),
        include_str!("../../data/supply.csv"),
        include_str!("../../data/safety.csv"),
    ]
    .iter()
    .flat_map(|text| csv::Reader::from_reader(text.as_bytes()).into_deserialize().flatten())
    .filter(|figure: &Figure| !figure.key.is_empty())
    .map(|mut figure| {
        if figure.source.is_empty() {
            figure.source = match figure.status.as_str() {
                "memory" => "from memory, check before relying on it",
                _ => "common practice, no source",
            }
            .to_owned();
        }
        (figure.key.clone(), figure)
    })
    .collect()
});

static SOILS: LazyLock<Vec<(String, f64)>> = LazyLock::new(|| {
    csv::Reader::from_reader(include_str!("../../data/soils.csv").as_bytes())
        .into_deserialize()
        .flatten()
        .filter(|row: &SoilRow| !row.key.is_empty())
        .filter_map(|row| {
            // A range is taken at its low end.
            let low = row.cbr_percent.split('-').next()?.parse().ok()?;
            Some((row.key, low))
        })
        .collect()
});

/// The figure kept under a key; a key that the data lacks gives an empty figure, which a test
/// forbids for every key in use.
pub fn figure(key: &str) -> Figure {
    FIGURES.get(key).cloned().unwrap_or_else(|| Figure {
        key: key.to_owned(),
        topic: String::new(),
        value: String::new(),
        unit: String::new(),
        context: String::new(),
        status: String::new(),
        source: String::new(),
    })
}

/// The soils that a plan may name.
pub fn soils() -> impl Iterator<Item = &'static str> {
    SOILS.iter().map(|(key, _)| key.as_str())
}

/// CBR of a named soil in per cent, the low end of its range.
pub fn soil_cbr(soil: &str) -> Option<f64> {
    SOILS.iter().find(|(key, _)| key == soil).map(|(_, cbr)| *cbr)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_has_a_source_and_a_known_status() {
        assert!(FIGURES.len() >= 20, "{}", FIGURES.len());
        for figure in FIGURES.values() {
            let known = ["seen", "secondary", "memory", "practice", "computed"];
            assert!(known.contains(&figure.status.as_str()), "{figure:?}");
            assert!(!figure.source.is_empty() && !figure.topic.is_empty(), "{figure:?}");
        }
    }

    #[test]
    fn values_are_read_as_numbers() {
        assert_eq!(figure("concrete_st1").numbers(), [230.0, 770.0, 1155.0]);
        assert_eq!(figure("sub_base_density").range(), [2.1, 2.3]);
        assert_eq!(figure("bag_cement").range(), [25.0, 25.0]);
        assert_eq!(figure("swell_clay").range(), [30.0, 60.0]);
        assert_eq!(figure("block_density").usual(), 2.3);
        assert_eq!(figure("bag_cement").usual(), 25.0);
        assert_eq!(figure("undermine").usual(), 35.0);
        assert!(figure("no such figure").numbers().is_empty());
    }

    #[test]
    fn soils_take_the_low_end_of_their_range() {
        // HD 25 short table in Rogers, Highway Engineering, Table 7.4.
        assert_eq!(soil_cbr("sandy_clay"), Some(4.0));
        assert_eq!(soil_cbr("silt"), Some(1.0));
        assert_eq!(soil_cbr("peat"), None);
        assert_eq!(soils().count(), 8);
    }
}
