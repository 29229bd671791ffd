//! The compaction tables in `core/data`, each specification by itself.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{PlantKind, Rating};
use crate::units::Length;

/// A named specification. Rows of two are never mixed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub enum Specification {
    /// Specification for the Reinstatement of Openings in Roads (Scotland), Table A8.1.
    #[serde(rename = "reinstatement_A8.1")]
    ReinstatementA81,
    /// Specification for Highway Works Series 800, method table for unbound mixtures.
    #[serde(rename = "highway_800")]
    Highway800,
}

impl Specification {
    /// Every specification held.
    pub const ALL: [Specification; 2] =
        [Specification::ReinstatementA81, Specification::Highway800];

    /// Its name in the tables, the plan file and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Specification::ReinstatementA81 => "reinstatement_A8.1",
            Specification::Highway800 => "highway_800",
        }
    }

    /// The specification of a name in any case; none for another word.
    pub fn named(name: &str) -> Option<Specification> {
        Specification::ALL.into_iter().find(|spec| spec.name().eq_ignore_ascii_case(name.trim()))
    }

    /// The document, and how well its rows are known.
    pub fn source(self) -> (&'static str, &'static str) {
        let row = rows_of(self).next();
        row.map_or(("", ""), |row| (row.source.as_str(), row.status.as_str()))
    }

    /// The key of its title in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Specification::ReinstatementA81 => "@specification.reinstatement",
            Specification::Highway800 => "@specification.highway",
        }
    }
}

/// What is compacted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Material {
    /// Stone and sand.
    #[default]
    Granular,
    /// Clay and silt.
    Cohesive,
}

impl Material {
    /// The key of its name in the catalogue of words.
    pub const fn word(self) -> &'static str {
        match self {
            Material::Granular => "@material.granular",
            Material::Cohesive => "@material.cohesive",
        }
    }
}

/// One row of a table: a range of ratings, a layer, and the passes it asks for.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    spec: Specification,
    /// None for any.
    material: Option<Material>,
    plant: PlantKind,
    from: f64,
    to: Option<f64>,
    /// The layer it is written for, compacted.
    pub(super) layer: Length,
    /// None where the layer is not permitted.
    pub(super) passes: Option<u32>,
    pub(super) source: String,
    pub(super) status: String,
}

impl Row {
    /// Whether the row's range holds a rating, by the bounds as printed. The reinstatement table
    /// prints its lowest bound as included and gives a bound that two rows share to the lower; the
    /// highway table's ranges are "over … up to …".
    fn holds(&self, rating: Rating, is_lowest: bool) -> bool {
        let value = rating.value();
        let is = |bound: f64| (value - bound).abs() <= bound * 1e-9;
        let includes_from = is_lowest && self.spec == Specification::ReinstatementA81;
        let above = if is(self.from) { includes_from } else { value > self.from };
        above && self.to.is_none_or(|to| value < to || is(to))
    }
}

#[derive(Deserialize)]
struct Line {
    spec: String,
    material: String,
    plant: String,
    rating_from: f64,
    rating_to: Option<f64>,
    layer_mm: f64,
    passes: String,
    status: String,
    source: String,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    csv::Reader::from_reader(include_str!("../../data/compaction.csv").as_bytes())
        .into_deserialize()
        .flatten()
        .filter_map(row)
        .collect()
});

fn row(line: Line) -> Option<Row> {
    let material = match line.material.as_str() {
        "granular" => Some(Material::Granular),
        "cohesive" => Some(Material::Cohesive),
        "any" => None,
        _ => return None,
    };
    let passes = match line.passes.as_str() {
        "not_permitted" | "unsuitable" => None,
        number => Some(number.parse().ok()?),
    };
    Some(Row {
        spec: Specification::named(&line.spec)?,
        material,
        plant: PlantKind::named(&line.plant)?,
        from: line.rating_from,
        to: line.rating_to,
        layer: Length::from_mm(line.layer_mm),
        passes,
        source: line.source,
        status: line.status,
    })
}

fn rows_of(spec: Specification) -> impl Iterator<Item = &'static Row> {
    ROWS.iter().filter(move |row| row.spec == spec)
}

/// What a table holds for a machine.
pub(super) enum Held {
    /// Rows for its rating, the thinnest layer first.
    Rows(Vec<&'static Row>),
    /// Nothing: the machine is lighter than the lowest row.
    Lighter,
    /// Nothing: the table for this machine and material is not held here.
    Nothing,
}

/// The rows of a specification for a machine on a material.
pub(super) fn held(
    spec: Specification,
    plant: PlantKind,
    material: Material,
    rating: Rating,
) -> Held {
    let of_kind: Vec<&Row> = rows_of(spec)
        .filter(|row| row.plant == plant && row.material.is_none_or(|of| of == material))
        .collect();
    let Some(lowest) = of_kind.iter().map(|row| row.from).reduce(f64::min) else {
        return Held::Nothing;
    };
    let mut rows: Vec<&Row> =
        of_kind.into_iter().filter(|row| row.holds(rating, row.from == lowest)).collect();
    rows.sort_by(|a, b| a.layer.to_mm().total_cmp(&b.layer.to_mm()));
    match rows.is_empty() {
        false => Held::Rows(rows),
        true if rating.value() <= lowest => Held::Lighter,
        true => Held::Nothing,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_of_the_data_is_a_row() {
        let lines = include_str!("../../data/compaction.csv").lines().count();
        assert_eq!(ROWS.len(), lines - 1);
        for row in ROWS.iter() {
            assert!(row.to.is_none_or(|to| to > row.from), "{row:?}");
            assert!(!row.source.is_empty(), "{row:?}");
            assert!(matches!(row.status.as_str(), "seen" | "memory"), "{row:?}");
        }
    }

    #[test]
    fn specifications_are_known_by_name() {
        for spec in Specification::ALL {
            assert_eq!(Specification::named(spec.name()), Some(spec));
            assert!(!spec.source().0.is_empty());
        }
        assert_eq!(Specification::named("REINSTATEMENT_a8.1"), Specification::ALL.first().copied());
        assert_eq!(Specification::named("both"), None);
    }
}
