//! Laws of laying, by property test, and whole layings by hand.

#![expect(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a law's set-up may fail its test"
)]

use fairfall_core::laying::{
    Along, Block, Bond, Closing, Frame, JointLimits, Laying, Pattern, Piece, Place, Straight, straight,
};
use fairfall_core::outline::Point;
use fairfall_core::plan::Plan;
use fairfall_core::units::Length;
use geo::{
    Area, BooleanOps, BoundingRect, Contains, Distance, Euclidean, Intersects, LineString,
    MultiPolygon, Polygon, Rotate, Translate, Validation,
};
use proptest::prelude::*;
use serde_json::{Value, json};

const PATTERNS: [Pattern; 5] = [
    Pattern::Stretcher,
    Pattern::Stack,
    Pattern::Herringbone45,
    Pattern::Herringbone90,
    Pattern::Basketweave,
];

fn block(joint_mm: f64) -> Block {
    let [length, width, depth] = [200.0, 100.0, 60.0].map(Length::from_mm);
    Block { length, width, depth, joint: Length::from_mm(joint_mm) }
}

fn bond(pattern: Pattern) -> Bond {
    Bond { pattern, along: Along::Edge, start: None, keep_laps: false }
}

fn started(pattern: Pattern, x: f64, y: f64) -> Bond {
    Bond { start: Some([x, y].map(Length::from_m)), ..bond(pattern) }
}

/// A shape round the origin with corners at these distances, and a small turned hole near it.
fn star(reaches: &[f64], hole: bool) -> Polygon {
    let step = std::f64::consts::TAU / reaches.len() as f64;
    let corner = |(i, reach): (usize, &f64)| {
        let (sin, cos) = (step * i as f64).sin_cos();
        Point { x: reach * cos, y: reach * sin }
    };
    let ring = LineString::new(reaches.iter().enumerate().map(corner).collect());
    let hole = hole.then(|| {
        LineString::from(vec![(0.05, -0.1), (0.21, 0.02), (0.1, 0.18), (-0.06, 0.06)])
    });
    Polygon::new(ring, hole.into_iter().collect())
}

fn stars() -> impl Strategy<Value = Polygon> {
    (prop::collection::vec(0.35_f64..1.1, 3..14), any::<bool>())
        .prop_map(|(reaches, hole)| star(&reaches, hole))
        .prop_filter("the hole is inside", Validation::is_valid)
}

fn pieces_area(pieces: &[Piece]) -> f64 {
    pieces.iter().map(|piece| piece.polygon().unsigned_area()).sum()
}

/// The area that pieces share with each other.
fn overlap(pieces: &[Piece]) -> f64 {
    let mut polygons: Vec<_> = pieces
        .iter()
        .map(|piece| {
            let polygon = piece.polygon();
            (polygon.bounding_rect().expect("a piece has a size"), polygon)
        })
        .collect();
    polygons.sort_by(|a, b| a.0.min().x.total_cmp(&b.0.min().x));
    let mut shared = 0.0;
    for (index, (rect, polygon)) in polygons.iter().enumerate() {
        let near = polygons[index + 1..].iter().take_while(|(r, _)| r.min().x < rect.max().x);
        for (_, other) in near.filter(|(r, _)| r.intersects(rect)) {
            shared += polygon.intersection(other).unsigned_area();
        }
    }
    shared
}

/// The area of pieces that is outside a shape.
fn outside(pieces: &[Piece], shape: &Polygon) -> f64 {
    pieces.iter().map(|piece| piece.polygon().difference(shape).unsigned_area()).sum()
}

fn counts(laid: &Straight) -> [usize; 3] {
    let whole = laid.pieces.iter().filter(|piece| piece.is_whole()).count();
    let small = laid.pieces.iter().filter(|piece| piece.is_small()).count();
    [whole, laid.pieces.len() - whole, small]
}

fn lay(shape: &Polygon, frame: &Frame, joint: f64, bond: &Bond) -> Straight {
    straight(&MultiPolygon::from(shape.clone()), frame, &block(joint), bond)
}

const ORIGIN: Point = Point { x: 0.0, y: 0.0 };

proptest! {
    // Each case is a whole laying: a quarter of the usual number.
    #![proptest_config(ProptestConfig { cases: ProptestConfig::default().cases.div_ceil(4), ..ProptestConfig::default() })]

    #[test]
    fn without_joints_the_pieces_are_the_shape(
        shape in stars(), pattern in 0_usize..5, x in 0.0_f64..0.4, y in 0.0_f64..0.4,
        turn in 0.0_f64..std::f64::consts::TAU, left: bool,
    ) {
        let frame = Frame::new(ORIGIN, turn, left);
        let laid = lay(&shape, &frame, 0.0, &started(PATTERNS[pattern], x, y));
        // Square millimetres that are dropped as dust, and what overlay rounds to.
        let dust = 1e-6 * laid.pieces.len() as f64;
        prop_assert!((pieces_area(&laid.pieces) - shape.unsigned_area()).abs() < dust);
        prop_assert!(overlap(&laid.pieces) < 1e-7);
        prop_assert!(outside(&laid.pieces, &shape) < 1e-7);
        for piece in &laid.pieces {
            prop_assert!(piece.polygon().is_valid(), "{piece:?}");
        }
    }

    #[test]
    fn with_joints_nothing_else_is_missing(
        shape in stars(), pattern in 0_usize..5, joint in 1.0_f64..6.0,
        x in -1.1_f64..1.1, y in -1.1_f64..1.1,
    ) {
        let frame = Frame::new(ORIGIN, 0.3, true);
        let laid = lay(&shape, &frame, joint, &bond(PATTERNS[pattern]));
        prop_assert!(overlap(&laid.pieces) < 1e-7);
        prop_assert!(outside(&laid.pieces, &shape) < 1e-7);
        // A place in the shape that no piece covers is in a joint: the end joint of patterns that
        // turn blocks is j wider than two.
        let place = geo::Point::new(x, y);
        if shape.contains(&place) {
            let widest = (2.0 * joint) * std::f64::consts::SQRT_2 / 2.0 / 1000.0;
            let near = laid.pieces.iter().any(|piece| {
                Euclidean.distance(&piece.polygon(), &place) <= widest + 1e-6
            });
            // A corner of the shape may reach into a joint and no farther.
            let corner = shape.exterior().coords().any(|c| {
                (c.x - x).hypot(c.y - y) < 0.03
            });
            prop_assert!(near || corner, "nothing at {x}, {y}");
        }
    }

    #[test]
    fn counts_do_not_change_when_the_whole_is_moved_and_turned(
        shape in stars(), pattern in 0_usize..5, dx in -50.0_f64..50.0, dy in -50.0_f64..50.0,
        turn in -3.0_f64..3.0,
    ) {
        let frame = Frame::new(ORIGIN, 0.0, true);
        let laid = lay(&shape, &frame, 3.0, &bond(PATTERNS[pattern]));
        let moved = shape.rotate_around_point(turn.to_degrees(), geo::Point::new(0.0, 0.0));
        let moved = moved.translate(dx, dy);
        let frame = Frame::new(Point { x: dx, y: dy }, turn, true);
        let again = lay(&moved, &frame, 3.0, &bond(PATTERNS[pattern]));
        prop_assert_eq!(counts(&laid), counts(&again));
        let [before, after] = [&laid, &again].map(|l| l.search.map(|s| s.tried));
        prop_assert_eq!(before, after);
    }

    #[test]
    fn the_search_never_cuts_more_than_the_plain_start(shape in stars(), pattern in 0_usize..5) {
        let frame = Frame::new(ORIGIN, 0.0, true);
        let laid = lay(&shape, &frame, 3.0, &bond(PATTERNS[pattern]));
        let search = laid.search.expect("a start was looked for");
        prop_assert!(search.taken.cut <= search.plain.cut);
        if search.taken.cut == search.plain.cut {
            prop_assert!(search.taken.small <= search.plain.small);
        }
    }

    #[test]
    fn courses_on_a_curve_neither_overlap_nor_leave_the_outline(
        length in 0.8_f64..4.0, radius in 1.5_f64..12.0, width in 0.4_f64..1.2, left: bool,
        stack: bool, straight in 0.0_f64..1.0, course in 0_usize..4, round: bool, joint in 0.0_f64..5.0,
        other_way: bool,
    ) {
        prop_assume!(length < radius * 4.0);
        let turn = |left| if left { "left" } else { "right" };
        let mut edge = vec![json!({ "arc_m": length, "radius_m": radius, "turn": turn(left) })];
        if straight > 0.1 {
            edge.insert(0, json!({ "straight_m": straight }));
            edge.push(json!({ "arc_m": length / 2.0, "radius_m": radius, "turn": turn(left ^ other_way) }));
        }
        let plan = read(
            json!({ "strip": {
                "edge": edge, "width_m": width, "side": "left", "start": "square",
                "end": if round { "round" } else { "square" },
            } }),
            json!({
                "block": { "joint_mm": joint },
                "bond": { "pattern": if stack { "stack" } else { "stretcher" } },
                "edges": { "course": (COURSES[course]) },
            }),
        );
        if let Ok(plan) = plan {
            let laying = plan.laying().expect("not too many");
            check(&plan, &laying)?;
        }
    }

    #[test]
    fn rectangles_of_every_bond_and_edge_course_hold(
        length in 0.3_f64..3.0, width in 0.3_f64..2.0, pattern in 0_usize..5, course in 0_usize..4,
        along in 0_usize..3, angle in -180.0_f64..180.0, held in prop::collection::vec(any::<bool>(), 4),
    ) {
        let along = match along {
            0 => json!("edge"),
            1 => json!("across"),
            _ => json!(angle),
        };
        let names = ["reference", "far", "start", "end"];
        let held: Vec<&str> =
            names.iter().zip(&held).filter(|(_, held)| **held).map(|(name, _)| *name).collect();
        let plan = read(
            json!({ "rectangle": { "length_m": length, "width_m": width } }),
            json!({
                "bond": {
                    "pattern": WORDS[pattern],
                    "along": (along),
                },
                "edges": { "course": (COURSES[course]), "held": held },
            }),
        ).expect("a plan");
        check(&plan, &plan.laying().expect("not too many"))?;
    }
}

const WORDS: [&str; 5] =
    ["stretcher", "stack", "herringbone_45", "herringbone_90", "basketweave"];

const COURSES: [&str; 4] = ["none", "soldier", "header", "stretcher"];

fn read(outline: Value, more: Value) -> Result<Plan, Vec<fairfall_core::plan::Problem>> {
    let mut plan = json!({
        "fairfall_plan": 1, "title": "Laid", "use": "foot", "outline": outline,
    });
    let members = plan.as_object_mut().expect("an object");
    members.extend(more.as_object().expect("an object").clone());
    Plan::read(plan)
}

/// What holds of every laying.
fn check(plan: &Plan, laying: &Laying) -> Result<(), TestCaseError> {
    let area = plan.outline.area().to_m2();
    // Chords within 0.1 mm of the arcs.
    let chords = plan.outline.perimeter().to_m() * 1e-4;
    let covered = pieces_area(&laying.pieces);
    prop_assert!((covered - laying.covered.to_m2()).abs() < 1e-9);
    prop_assert!((covered + laying.joints.to_m2() - area).abs() < 1e-9);
    prop_assert!(covered <= area + chords, "{covered} of {area}");
    // A square millimetre in all.
    prop_assert!(overlap(&laying.pieces) < 1e-6, "overlap {}", overlap(&laying.pieces));
    let shape = plan.outline.ring().polygon(Length::from_mm(0.01));
    prop_assert!(outside(&laying.pieces, &shape) < chords);
    let in_courses: u32 = laying.courses.iter().map(|course| course.blocks()).sum();
    let in_edges: u32 = laying.edges.iter().map(|run| run.whole + run.cut).sum();
    prop_assert_eq!((in_courses + in_edges) as usize, laying.pieces.len());
    prop_assert_eq!(laying.whole + laying.cuts.pieces, in_courses + in_edges);
    prop_assert!(laying.cuts.blocks <= laying.cuts.pieces);
    let of_sizes: u32 = laying.cuts.sizes.iter().map(|size| size.count).sum();
    prop_assert_eq!(of_sizes, laying.cuts.pieces);
    // Off-cuts make no block of nothing.
    let block = plan.block.face().to_m2();
    let cut: f64 = laying
        .pieces
        .iter()
        .filter(|piece| !piece.is_whole())
        .map(|piece| piece.polygon().unsigned_area())
        .sum();
    prop_assert!(f64::from(laying.cuts.blocks) * block >= cut - 1e-9);
    Ok(())
}

fn laid(outline: Value, more: Value) -> (Plan, Laying) {
    let plan = read(outline, more).expect("a plan");
    let laying = plan.laying().expect("not too many");
    (plan, laying)
}
