//! Pieces as GeoJSON polygons (RFC 7946) in local metres.

use std::io::{self, Write};

use geo::{LineString, Polygon};
use serde_json::{Value, json};

use super::piece::{Piece, Place};
use super::{Block, Laying};

/// Writes every piece as a feature: its ring in metres of the job's frame, closed and
/// counter-clockwise, with `whole`, `fraction` of a block's face, `course` from 1 (`null` in an edge
/// course, whose number from 1 is `edge_course`), `rip`, and `small` where it is under a third.
///
/// Piece by piece, so that no copy of them all is made.
///
/// # Errors
/// What the writer says.
pub fn write_pieces(laying: &Laying, block: &Block, into: &mut impl Write) -> io::Result<()> {
    // Local metres are no longitude and latitude: said outside the standard's own members.
    write!(into, "{{\"type\":\"FeatureCollection\",\"coordinates_in\":\"local metres\",")?;
    write!(into, "\"features\":[")?;
    for (index, piece) in laying.pieces.iter().enumerate() {
        let comma = if index == 0 { "" } else { "," };
        write!(into, "{comma}\n{}", feature(piece, block))?;
    }
    writeln!(into, "\n]}}")
}

fn feature(piece: &Piece, block: &Block) -> Value {
    let (course, edge) = match piece.place {
        Place::Field(course) => (Some(course), None),
        Place::Edge(number) => (None, Some(number + 1)),
    };
    json!({
        "type": "Feature",
        "geometry": { "type": "Polygon", "coordinates": rings(&piece.polygon()) },
        "properties": {
            "whole": piece.is_whole(),
            "fraction": piece.fraction,
            "course": course,
            "edge_course": edge,
            "rip": piece.is_rip(block),
            "small": piece.is_small(),
        },
    })
}

fn rings(polygon: &Polygon) -> Vec<Vec<[f64; 2]>> {
    let ring = |line: &LineString| line.coords().map(|p| [p.x, p.y]).collect();
    std::iter::once(polygon.exterior()).chain(polygon.interiors()).map(ring).collect()
}
