//! Laws of laying, by property test, and whole layings by hand.

#![expect(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a law's set-up may fail its test"
)]

use fairfall_core::laying::{
    Along, Block, Bond, Closing, Frame, Laying, MOST_BLOCKS, Pattern, Piece, Place, Straight,
    straight,
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
    let hole = hole
        .then(|| LineString::from(vec![(0.05, -0.1), (0.21, 0.02), (0.1, 0.18), (-0.06, 0.06)]));
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
        length in 0.8_f64..6.0, radius in 1.3_f64..12.0, width in 0.4_f64..1.2, left: bool,
        stack: bool, straight in 0.0_f64..1.0, course in 0_usize..4, round: [bool; 2], joint in 0.0_f64..5.0,
        other_way: bool, held in prop::collection::vec(any::<bool>(), 4),
    ) {
        prop_assume!(length < radius * 4.0);
        let held = names(&held);
        let turn = |left| if left { "left" } else { "right" };
        let end = |round| if round { "round" } else { "square" };
        let mut edge = vec![json!({ "arc_m": length, "radius_m": radius, "turn": turn(left) })];
        if straight > 0.1 {
            edge.insert(0, json!({ "straight_m": straight }));
            edge.push(json!({ "arc_m": length / 2.0, "radius_m": radius, "turn": turn(left ^ other_way) }));
        }
        let plan = read(
            json!({ "strip": {
                "edge": edge, "width_m": width, "side": "left",
                "start": (end(round[0])), "end": (end(round[1])),
            } }),
            json!({
                "block": { "joint_mm": joint },
                "bond": { "pattern": if stack { "stack" } else { "stretcher" } },
                "edges": { "course": (COURSES[course]), "held": held },
            }),
        );
        prop_assume!(plan.is_ok(), "a strip over itself");
        let plan = plan.expect("a plan");
        check(&plan, &plan.laying().expect("not too many"))?;
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
        let held = names(&held);
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

/// The sides of a strip that are held.
fn names(held: &[bool]) -> Vec<&'static str> {
    let names = ["reference", "far", "start", "end"];
    names.into_iter().zip(held).filter(|(_, held)| **held).map(|(name, _)| name).collect()
}

/// A shape of every other kind of outline, whatever else is random about it.
fn other_outline(kind: usize, size: &[f64; 4], radius: f64, turn: &str) -> Value {
    let [a, b, c, d] = *size;
    match kind {
        0 => json!({ "boundary": { "start": [0, 0], "sides": [
            { "arc_to": [a, 0], "radius_m": radius, "turn": turn },
            { "to": [a, b] }, { "to": [c / 2.0, b + d / 2.0] }, { "to": [0, b] }, { "to": [0, 0] },
        ] } }),
        // The same the other way round, its arc last but one.
        1 => json!({ "boundary": { "start": [0, 0], "sides": [
            { "to": [0, b] }, { "to": [a, b] },
            { "arc_to": [a, 0], "radius_m": radius, "turn": turn }, { "to": [0, 0] },
        ] } }),
        2 => json!({ "ties": { "base_m": a, "corners": [
            { "name": "C", "a_m": (a.hypot(b)), "b_m": b, "side": "left" },
            { "name": "D", "a_m": c, "b_m": (a.hypot(c)), "side": "left" },
        ] } }),
        _ => json!({ "offsets": { "stations": [
            { "at_m": 0, "left_m": (b / 2.0), "right_m": (d / 3.0) },
            { "at_m": (a / 2.0), "left_m": c, "right_m": 0 },
            { "at_m": a, "left_m": (d / 2.0), "right_m": (b / 4.0) },
        ] } }),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: ProptestConfig::default().cases.div_ceil(2), ..ProptestConfig::default() })]

    #[test]
    fn every_kind_of_outline_is_laid(
        kind in 0_usize..4, size in prop::array::uniform4(0.8_f64..3.0), radius in 0.5_f64..8.0,
        left: bool, pattern in 0_usize..5, course in 0_usize..4, hole: bool, joint in 0.0_f64..5.0,
    ) {
        let turn = if left { "left" } else { "right" };
        let hole = hole.then(|| json!({ "circle": {
            "x_m": (size[0] / 2.0), "y_m": (size[1] / 3.0), "radius_m": 0.15,
        } }));
        let plan = read(other_outline(kind, &size, radius, turn), json!({
            "holes": hole.into_iter().collect::<Vec<_>>(),
            "block": { "joint_mm": joint },
            "bond": { "pattern": WORDS[pattern] },
            "edges": { "course": COURSES[course] },
        }));
        prop_assume!(plan.is_ok(), "a shape that cannot be");
        let plan = plan.expect("a plan");
        let laying = plan.laying().expect("not too many");
        check(&plan, &laying)?;
        all_but_joints(&plan, &laying)?;
    }
}

/// No place of the paving is farther from a piece than half the widest joint: the widest that may be
/// laid, or what straight blocks on a tight curve open.
fn all_but_joints(plan: &Plan, laying: &Laying) -> Result<(), TestCaseError> {
    let shape = plan.outline.polygon(Length::from_mm(0.1));
    let pieces: Vec<_> = laying.pieces.iter().map(Piece::polygon).collect();
    let bounds = shape.bounding_rect().expect("a shape has a size");
    for step in 1..20_u32 {
        // Spread evenly, without chance.
        let share = |of: f64| (f64::from(step) * of).fract();
        let x = bounds.min().x + bounds.width() * share(0.754_877_666);
        let y = bounds.min().y + bounds.height() * share(0.569_840_291);
        let place = geo::Point::new(x, y);
        // A corner of the shape may reach into a joint and no farther.
        if !shape.contains(&place) || Euclidean.distance(shape.exterior(), &place) < 0.03 {
            continue;
        }
        let off = pieces.iter().map(|piece| Euclidean.distance(piece, &place)).fold(1.0, f64::min);
        prop_assert!(off < 0.025, "nothing within {off} m of {x}, {y}");
    }
    Ok(())
}

const WORDS: [&str; 5] = ["stretcher", "stack", "herringbone_45", "herringbone_90", "basketweave"];

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
    let around = plan.outline.perimeter() + plan.outline.holes_perimeter();
    let chords = around.to_m() * 1e-4;
    let covered = pieces_area(&laying.pieces);
    prop_assert!((covered - laying.covered.to_m2()).abs() < 1e-9);
    prop_assert!((covered + laying.joints.to_m2() - area).abs() < 1e-9);
    prop_assert!(covered <= area + chords, "{covered} of {area}");
    // A square millimetre in all.
    prop_assert!(overlap(&laying.pieces) < 1e-6, "overlap {}", overlap(&laying.pieces));
    let shape = plan.outline.polygon(Length::from_mm(0.01));
    prop_assert!(outside(&laying.pieces, &shape) < chords);
    for piece in &laying.pieces {
        prop_assert!(!has_spike(piece), "{:?}", piece);
    }
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

/// Whether a piece has a spike or a slit that only rounding can have left: sides that turn back on
/// themselves within a ten-thousandth of a millimetre over more than a millimetre.
fn has_spike(piece: &Piece) -> bool {
    let polygon = piece.polygon();
    polygon.interiors().iter().chain([polygon.exterior()]).any(|ring| {
        let points: Vec<Point> = ring.coords().skip(1).copied().collect();
        let after = |n| points.iter().cycle().skip(n);
        points.iter().zip(after(1)).zip(after(2)).any(|((a, b), c)| {
            let (back, on) = (*a - *b, *c - *b);
            let lengths = [back, on].map(|way| way.x.hypot(way.y));
            let short = lengths[0].min(lengths[1]);
            let apart = (back.x * on.y - back.y * on.x).abs() / lengths[0].max(lengths[1]);
            short > 1e-3 && apart < 1e-7 && back.x * on.x + back.y * on.y > 0.0
        })
    })
}

fn laid(outline: Value, more: Value) -> (Plan, Laying) {
    let plan = read(outline, more).expect("a plan");
    let laying = plan.laying().expect("not too many");
    (plan, laying)
}

fn codes(laying: &Laying) -> Vec<&str> {
    laying.problems.iter().map(|problem| problem.phrase.code.as_str()).collect()
}

/// Ten blocks and nine joints by five widths and four joints.
const TEN_BY_FIVE: (f64, f64) = (2.027, 0.512);

#[test]
fn a_stack_bond_that_fits_by_hand() {
    // Hand arithmetic: 10 x 200 + 9 x 3 by 5 x 100 + 4 x 3: fifty blocks, nothing cut; the joints are
    // 2.027 x 0.512 - 50 x 0.02 = 0.037824 m2.
    let (length, width) = TEN_BY_FIVE;
    let (_, laying) = laid(
        json!({ "rectangle": { "length_m": length, "width_m": width } }),
        json!({ "bond": { "pattern": "stack" } }),
    );
    assert_eq!((laying.whole, laying.cuts.pieces, laying.blocks()), (50, 0, 50));
    assert!((laying.joints.to_m2() - 0.037_824).abs() < 1e-9);
    assert_eq!(laying.courses.len(), 5);
    for course in &laying.courses {
        assert_eq!((course.blocks(), course.radius, course.rip), (10, None, false));
        assert!((course.length.to_m() - length).abs() < 1e-9);
    }
    assert!(laying.problems.is_empty(), "{:?}", codes(&laying));
}

#[test]
fn halves_of_a_stretcher_bond_by_hand() {
    // Hand arithmetic: three rows of ten and two of nine with a half at either end: 48 whole, and
    // four halves of 98.5 mm out of two blocks with 3 mm lost to the saw.
    let (length, width) = TEN_BY_FIVE;
    let (_, laying) = laid(
        json!({ "rectangle": { "length_m": length, "width_m": width } }),
        json!({ "bond": { "pattern": "stretcher" } }),
    );
    assert_eq!((laying.whole, laying.cuts.pieces, laying.blocks()), (48, 4, 50));
    let sizes = &laying.cuts.sizes;
    assert_eq!(sizes.len(), 1, "{sizes:?}");
    assert_eq!((sizes[0].count, sizes[0].saw_cuts, sizes[0].long.to_mm()), (4, 1, 99.0));
    // Four cuts at a minute and a half.
    assert_eq!((laying.cuts.count(), laying.cuts.saw_time().to_min()), (4, 6.0));
    assert!((laying.cuts.smallest.expect("halves") - 0.4925).abs() < 1e-9);
}

#[test]
fn a_start_that_saves_every_cut() {
    // Hand arithmetic: to the right of its edge, with courses counted from below, the plain start
    // puts a joint on the edge and takes 3 mm off each of the ten blocks of the last row.
    let (length, width) = TEN_BY_FIVE;
    let (_, laying) = laid(
        json!({ "strip": { "edge": [{ "straight_m": length }], "width_m": width, "side": "right" } }),
        json!({ "bond": { "pattern": "stack", "along": 0 } }),
    );
    let search = laying.search.expect("a start was looked for");
    assert_eq!((search.plain.cut, search.taken.cut), (10, 0));
    assert!((search.taken.start[1].to_mm() - 3.0).abs() < 1e-6, "{search:?}");
    assert_eq!((laying.whole, laying.cuts.pieces), (50, 0));
}

#[test]
fn herringbone_and_basketweave_that_fit_by_hand() {
    // Hand arithmetic: joints of 3 give a grid of 103. Basketweave: two by two pairs of 206 less a
    // joint, 0.409 square: eight blocks. A 45-degree herringbone in any rectangle is cut all round.
    let square = |side: f64| json!({ "rectangle": { "length_m": side, "width_m": side } });
    let (_, laying) = laid(square(0.409), json!({ "bond": { "pattern": "basketweave" } }));
    assert_eq!((laying.whole, laying.cuts.pieces), (8, 0));
    let (_, laying) = laid(square(2.0), json!({ "bond": { "pattern": "herringbone_45" } }));
    assert!(laying.cuts.pieces > 40, "{}", laying.cuts.pieces);
    let angled = laying.cuts.sizes.iter().filter(|size| size.long > size.short);
    assert!(angled.count() > 0, "ends cut at an angle");
}

/// A quarter turn to the left about a centre, paved on its outside.
fn quarter(radius: f64, width: f64, more: Value) -> (Plan, Laying) {
    let length = radius * std::f64::consts::FRAC_PI_2;
    laid(
        json!({ "strip": {
            "edge": [{ "arc_m": length, "radius_m": radius, "turn": "left" }],
            "width_m": width, "side": "right",
        } }),
        more,
    )
}

#[test]
fn courses_follow_a_curve_by_hand() {
    // Hand arithmetic: courses 103 apart from R 3.9 on; (l + j)(r + w) / r - l with l 200, w 100 and
    // 3 inside is 8.2 mm at R 3.9 and 7.8 at 4.312; pi/2 x 3.9 is 6.126 m.
    let (_, laying) = quarter(3.9, 0.512, json!({ "bond": { "pattern": "stretcher" } }));
    assert_eq!(laying.courses.len(), 5);
    for (index, course) in laying.courses.iter().enumerate() {
        let radius = 3.9 + 0.103 * index as f64;
        assert!((course.radius.expect("a curve").to_m() - radius).abs() < 1e-6);
        assert!((course.length.to_m() - radius * std::f64::consts::FRAC_PI_2).abs() < 1e-5);
        assert!((course.inner_joint.to_mm() - 3.0).abs() < 1e-9, "no even joint is allowed");
        assert!(!course.rip);
    }
    assert!((laying.courses[0].outer_joint.to_mm() - 8.2).abs() < 0.05);
    assert!((laying.courses[4].outer_joint.to_mm() - 7.7).abs() < 0.05);
    // The first course: thirty blocks are 30 x 203 = 6.09 m, and 36 mm are left to close.
    let first = &laying.courses[0];
    assert_eq!((first.whole, first.cut), (30, 1));
    match first.closing {
        Closing::Closer(piece) => assert!((piece.to_mm() - 36.1).abs() < 0.05, "{piece:?}"),
        other => panic!("{other:?}"),
    }
    let joints =
        laying.problems.iter().find(|p| p.phrase.code == "lay.joint").expect("wide joints");
    assert_eq!(joints.courses, Some([1, 5]));
    let proposal = joints.proposal.as_ref().expect("a proposal");
    // Hand arithmetic: halves of 98.5 open from 2 to (98.5 + 2) x 4.0 / 3.9 - 98.5 = 4.6 mm.
    assert_eq!(proposal.phrase.code, "lay.half_blocks");
    assert!(proposal.phrase.text.contains("2 mm inside and 4.6 mm outside"), "{proposal:?}");
}

#[test]
fn a_course_closes_even_where_a_joint_allows_it() {
    // Hand arithmetic: at R 20 the outer joint is 203 x 20.1 / 20 - 200 = 4.0 for 3 inside. 50 blocks
    // over 50 x 200 + 49 x 3.5 = 10.1715 m close with joints of 3.5.
    let (_, laying) = laid(
        json!({ "strip": {
            "edge": [{ "arc_m": 10.1715, "radius_m": 20, "turn": "left" }],
            "width_m": 0.1, "side": "right",
        } }),
        json!({ "bond": { "pattern": "stack" } }),
    );
    let course = &laying.courses[0];
    assert_eq!((course.whole, course.cut, course.closing), (50, 0, Closing::Even));
    assert!((course.inner_joint.to_mm() - 3.5).abs() < 1e-6, "{course:?}");
    assert!((course.outer_joint.to_mm() - 4.5175).abs() < 1e-4, "{course:?}");
    assert!(laying.problems.is_empty(), "{:?}", codes(&laying));
}

#[test]
fn soldiers_round_a_quarter_turn_by_hand() {
    // Hand arithmetic: units of 100 with 2 mm inside at R 3.9: 60.06 a quarter turn, 7.2 mm outside.
    // Sixty are laid; the 0.06 of one is 6 mm, and joints of 126.1 / 59 = 2.137 finish it whole.
    let (_, laying) = quarter(
        3.9,
        1.0,
        json!({
            "block": { "joint_mm": 2 },
            "edges": { "course": "soldier", "held": ["far", "start", "end"] },
        }),
    );
    let run = &laying.edges[0];
    assert_eq!((run.whole, run.cut, run.parts.len()), (60, 1, 1));
    assert!((run.parts[0].outer_joint.to_mm() - 7.2).abs() < 0.05, "{run:?}");
    assert!((run.parts[0].turn_deg - 0.102_f64.atan2(0.0).to_degrees() / 60.06).abs() < 0.01);
    assert!((run.finish_joint.expect("a joint").to_mm() - 2.137).abs() < 0.001, "{run:?}");
    let found = codes(&laying);
    assert!(found.contains(&"lay.edge_joint") && found.contains(&"lay.edge_closer"), "{found:?}");
}

#[test]
fn soldiers_go_round_both_ends_and_close_on_themselves() {
    // Hand arithmetic: 3 m straights and half rounds of 0.6 m, soldiers of 200: along their inner
    // corners 6 m and a circle of 0.4 m, 8.513 m in all; the field is 3 x 0.794 and a circle of
    // 0.397 m.
    let (_, laying) = laid(
        json!({ "strip": {
            "edge": [{ "straight_m": 3 }], "width_m": 1.2, "side": "left",
            "start": "round", "end": "round",
        } }),
        json!({ "edges": { "course": "soldier" } }),
    );
    assert_eq!(laying.edges.len(), 1);
    let run = &laying.edges[0];
    assert!(run.ring, "{run:?}");
    let inner = 6.0 + std::f64::consts::TAU * 0.4;
    assert!((run.length.to_m() - inner).abs() < 1e-9);
    assert_eq!(run.whole + run.cut, (inner / 0.103).ceil() as u32);
    let field: f64 = laying
        .pieces
        .iter()
        .filter(|piece| matches!(piece.place, Place::Field(_)))
        .map(|piece| piece.polygon().unsigned_area())
        .sum();
    let whole = 3.0 * 0.794 + std::f64::consts::PI * 0.397 * 0.397;
    assert!(field < whole && field > whole * 0.95, "{field} of {whole}");
}

#[test]
fn an_edge_course_ends_where_its_sides_end() {
    // Hand arithmetic: along the inner corners of soldiers of 200, 2.4 m, an arc of 3.6 m at 5.2 m
    // carried out to 6.3 m, and a half round of 0.45 m; the reference edge beyond is held, and the
    // line on from there crosses the paving again.
    let (plan, laying) = laid(
        json!({ "strip": {
            "edge": [{ "straight_m": 2.4 }, { "arc_m": 3.6, "radius_m": 5.2, "turn": "left" }],
            "width_m": 1.3, "side": "right", "end": "round",
        } }),
        json!({ "edges": { "course": "soldier", "held": ["reference"] } }),
    );
    let inner = 2.4 + 3.6 * 6.3 / 5.2 + std::f64::consts::PI * 0.45;
    let run = &laying.edges[0];
    assert!((run.length.to_m() - inner).abs() < 1e-3, "{run:?}");
    check(&plan, &laying).expect("every law");
}

#[test]
fn edge_courses_leave_the_field_inside_them() {
    // Hand arithmetic: soldiers on three sides of 5.006 by 2.203, the reference edge held, leave
    // 4.6 by 2.0. The far edge's course runs through: 5.006 is 48 units of 103 and 62 mm. Those of
    // the ends stop 203 short of it: 2.000 is 19 units and 43 mm.
    let (_, laying) = laid(
        json!({ "rectangle": { "length_m": 5.006, "width_m": 2.203 } }),
        json!({
            "bond": { "pattern": "stack", "start_mm": [0, 0] },
            "edges": { "course": "soldier", "held": ["reference"] },
        }),
    );
    let lengths: Vec<f64> = laying.edges.iter().map(|run| run.length.to_m()).collect();
    assert_eq!(lengths.len(), 3);
    for (found, wanted) in lengths.iter().zip([5.006, 2.0, 2.0]) {
        assert!((found - wanted).abs() < 1e-6, "{lengths:?}");
    }
    // The joint that finishes the far edge: (5006 - 4900) / 48 = 2.208 is allowed, so it is laid.
    assert_eq!((laying.edges[0].whole, laying.edges[0].cut), (49, 0));
    assert!((laying.edges[0].parts[0].inner_joint.to_mm() - 106.0 / 48.0).abs() < 1e-6);
    let field: Vec<_> =
        laying.pieces.iter().filter(|piece| matches!(piece.place, Place::Field(_))).collect();
    let whole = field.iter().filter(|piece| piece.is_whole()).count();
    // 4.6 by 2.0 of 203 by 103: 22 whole in each of 19 rows.
    assert_eq!(whole, 22 * 19);
}

#[test]
fn what_is_smaller_than_a_block_is_said_to_be() {
    let (_, laying) = laid(
        json!({ "rectangle": { "length_m": 4, "width_m": 0.15 } }),
        json!({ "bond": { "pattern": "stack", "along": "across" } }),
    );
    assert_eq!(laying.whole, 0);
    assert_eq!(codes(&laying), ["lay.no_whole_block"]);
    let (_, laying) = laid(
        json!({ "rectangle": { "length_m": 4, "width_m": 0.35 } }),
        json!({ "edges": { "course": "soldier" } }),
    );
    assert!(codes(&laying).contains(&"lay.no_field"), "{:?}", codes(&laying));
}

#[test]
fn a_field_that_is_too_large_is_refused_with_the_limit() {
    let plan = read(json!({ "rectangle": { "length_m": 500, "width_m": 500 } }), json!({}))
        .expect("a plan");
    let refused = plan.laying().expect_err("250,000 m2");
    assert!(refused.to_string().contains(&MOST_BLOCKS.to_string()), "{refused}");
    // The take-off still has its figures, and says how.
    assert!(plan.blocks().needed > MOST_BLOCKS);
    assert!(plan.defaults.iter().any(|default| default.key == "blocks.count"));
}

#[test]
fn a_block_longer_than_its_path_is_cut_and_said_to_be() {
    // Hand arithmetic: 0.15 by 0.6 takes a piece of 150 in each of five courses and a rip of 85 mm.
    let (plan, laying) = laid(
        json!({ "rectangle": { "length_m": 0.15, "width_m": 0.6 } }),
        json!({ "bond": { "pattern": "stack", "start_mm": [0, 0] } }),
    );
    assert_eq!((laying.whole, laying.cuts.pieces), (0, 6));
    assert_eq!(codes(&laying), ["lay.no_whole_block"]);
    check(&plan, &laying).expect("every law");
}

#[test]
fn an_outline_thinner_than_a_block_is_ripped_and_said_to_be() {
    // Hand arithmetic: 100 mm is under a third of 400; a single course has no joint to widen.
    let (plan, laying) = laid(
        json!({ "rectangle": { "length_m": 4, "width_m": 0.1 } }),
        json!({ "block": { "length_mm": 400, "width_mm": 400 } }),
    );
    assert_eq!((laying.whole, laying.courses.len()), (0, 1));
    let found = codes(&laying);
    assert!(found.contains(&"lay.no_whole_block") && found.contains(&"lay.thin_rip"), "{found:?}");
    check(&plan, &laying).expect("every law");
}

#[test]
fn joints_and_angles_that_cannot_be_are_refused() {
    let refused = |more| {
        let problems = read(json!({ "rectangle": { "length_m": 4, "width_m": 2 } }), more);
        problems.expect_err("refused").into_iter().map(|p| (p.at, p.problem)).collect::<Vec<_>>()
    };
    let found = refused(json!({ "block": { "length_mm": 80, "width_mm": 40, "joint_mm": 45 } }));
    assert_eq!(found, [("/block/joint_mm".into(), "the joint is as wide as the block".into())]);
    for angle in [360.5, -720.0] {
        let found = refused(json!({ "bond": { "along": angle } }));
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].0, "/bond/along");
    }
    let found = refused(json!({ "block": { "joint_mm": 3, "joint_limits_mm": [4, 6] } }));
    assert_eq!(found[0].0, "/block/joint_limits_mm");
}

#[test]
fn courses_that_would_meet_the_centre_of_a_curve_run_straight() {
    // A bowed side of 4.5 m radius with the paving inside it and its far corners beyond the centre;
    // turned the other way it has none to meet.
    let bowed = |turn: &str| {
        laid(
            json!({ "boundary": { "start": [0, 0], "sides": [
                { "arc_to": [4, 0], "radius_m": 2.5, "turn": turn },
                { "to": [4, 3] }, { "to": [0, 3] }, { "to": [0, 0] },
            ] } }),
            json!({ "bond": { "pattern": "stretcher" } }),
        )
    };
    let (plan, laying) = bowed("left");
    assert_eq!(codes(&laying), ["lay.not_followed"]);
    assert!(laying.courses.iter().all(|course| course.radius.is_none()));
    check(&plan, &laying).expect("every law");
    let (plan, laying) = bowed("right");
    assert!(!codes(&laying).contains(&"lay.not_followed"));
    // Courses from the side on, which is drawn in chords within 0.1 mm. Blocks of 200 stand out of its
    // curve by 200^2 / 8 x 2500 = 2 mm, which the joint of 3 takes up.
    let radius = |course: usize| laying.courses[course].radius.expect("a curve").to_mm();
    assert!((radius(0) - 2500.0).abs() < 0.11, "{}", radius(0));
    assert!((radius(1) - radius(0) - 103.0).abs() < 1e-6, "{}", radius(1));
    check(&plan, &laying).expect("every law");
}

#[test]
fn laps_that_are_kept_hold() {
    let bond = |keep: bool| json!({ "bond": { "pattern": "stretcher", "keep_laps": keep } });
    let (_, fallen) = quarter(8.0, 1.233, bond(false));
    let short = fallen.problems.iter().filter(|p| p.phrase.code.starts_with("lay.lap")).count();
    assert!(short > 0, "{:?}", codes(&fallen));
    for problem in fallen.problems.iter().filter(|p| p.phrase.code.starts_with("lay.lap")) {
        let proposal = problem.proposal.as_ref().expect("a proposal");
        assert!(proposal.mends, "{} {}", problem.phrase.text, proposal.phrase.text);
        let [from, to] = problem.chainage.expect("where");
        assert!(from >= Length::ZERO && to.to_m() <= 8.0 * std::f64::consts::FRAC_PI_2);
    }
    let (_, kept) = quarter(8.0, 1.233, bond(true));
    assert!(codes(&kept).iter().all(|code| !code.starts_with("lay.lap")), "{:?}", codes(&kept));
    for course in kept.courses.iter().skip(1) {
        assert!(course.least_lap.expect("laps").to_mm() >= 50.0 - 1e-6, "{course:?}");
    }
    assert!(kept.cuts.pieces > fallen.cuts.pieces);
}
