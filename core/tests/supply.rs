//! Specification, plant, vehicles, bags, mixes, membranes, rates and orders of a plan: read, filled
//! up and answered, and every bad one refused in words.

#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test's set-up may fail it")]

use fairfall_core::plan::{OwnKit, Plan, Problem, answer, cautions};
use proptest::prelude::*;
use serde_json::{Value, json};

/// A drive of 5 m by 4 m; `more` adds to it or takes its place.
fn file(more: Value) -> Value {
    let mut plan = json!({
        "fairfall_plan": 1, "title": "t", "use": "car",
        "outline": { "rectangle": { "length_m": 5, "width_m": 4 } },
        "ground": { "existing_mm": 0, "soil": "sandy_clay" },
        "layers": { "bed_mm": 50, "sub_base_mm": 250 },
    });
    plan.as_object_mut().expect("an object").extend(more.as_object().expect("more").clone());
    plan
}

fn plan(more: Value) -> Plan {
    Plan::read(file(more)).expect("a plan")
}

fn problems(more: Value) -> Vec<Problem> {
    Plan::read(file(more)).expect_err("problems")
}

/// The one problem that a plan has, at its place, with words of it.
fn refused(more: Value, at: &str, words: &str) {
    let found = problems(more);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].at, at);
    let said = format!("{}: {}", found[0].problem, found[0].right);
    assert!(said.contains(words), "{said}");
}

fn plate(more: Value) -> Value {
    let mut plate = json!({ "name": "plate", "rating": 1500 });
    plate.as_object_mut().expect("an object").extend(more.as_object().expect("more").clone());
    json!({ "specification": "reinstatement_A8.1", "plant": [plate] })
}

fn codes(plan: &Plan) -> Vec<String> {
    cautions(plan, &plan.dig()).into_iter().map(|caution| caution.code).collect()
}

fn lifts(plan: &Plan) -> Vec<i64> {
    plan.layers.lifts.iter().map(|lift| lift.to_mm().round() as i64).collect()
}

#[test]
fn lifts_are_those_that_the_plant_may_compact() {
    // Table A8.1 (seen): 1400 to 1800 kg/m2 up to 100 mm, over 1800 up to 200 mm.
    assert_eq!(lifts(&plan(json!({}))), [83, 83, 83]);
    assert_eq!(lifts(&plan(plate(json!({})))), [83, 83, 83]);
    assert_eq!(lifts(&plan(plate(json!({ "rating": 1900 })))), [125, 125]);
    // From memory, table 8/4: over 2100 kg/m2 up to 225 mm.
    let highway =
        json!({ "specification": "highway_800", "plant": [{ "name": "p", "rating": 2200 }] });
    assert_eq!(lifts(&plan(highway)), [125, 125]);
    let light = plan(plate(json!({ "rating": 500 })));
    assert_eq!(lifts(&light), [83, 83, 83]);
    assert!(codes(&light).contains(&"passes.no_row_plate".to_owned()));
    let said = answer(&light);
    assert_eq!(said["sub_base"]["compaction"]["verdict"], "no_row");
    let heavy = answer(&plan(plate(json!({ "rating": 1900, "width_mm": 500, "overlap_mm": 80 }))));
    assert_eq!(heavy["sub_base"]["lifts"][0]["passes"], 5);
    // 5.2 m by 4.2 m in strips of 0.42 m at 20 m/min: 2.6 min.
    let minutes = heavy["sub_base"]["pass_min"].as_f64().expect("a time");
    assert!((minutes - 5.2 * 4.2 / 0.42 / 20.0).abs() < 1e-9, "{minutes}");
}

#[test]
fn two_specifications_are_never_mixed() {
    // 200 mm is a row of the one and 225 mm of the other: the answer names one document.
    for (name, document) in [("reinstatement_A8.1", "A8.1"), ("highway_800", "Series 800")] {
        let more = json!({
            "specification": name, "plant": [{ "name": "p", "rating": 2200 }],
            "layers": { "sub_base_mm": 200 },
        });
        let said = answer(&plan(more))["sub_base"]["compaction"].clone();
        assert!(said["source"].as_str().expect("a source").contains(document), "{said}");
    }
    refused(
        json!({ "specification": "mine" }),
        "/specification",
        "reinstatement_A8.1, highway_800",
    );
}

#[test]
fn plant_that_cannot_be_is_refused() {
    let at = |key: &str| format!("/plant/0/{key}");
    let no_rating = json!({ "plant": [{ "name": "p", "mass_kg": 90 }] });
    refused(no_rating, &at("rating"), "area of base plate in contact");
    let oversize = json!({ "plant": [{
        "name": "p", "mass_kg": 90, "contact_m2": 0.3, "frame_length_mm": 500, "width_mm": 360,
    }] });
    refused(oversize, &at("contact_m2"), "larger than the plate, which is 0.180");
    refused(plate(json!({ "rating": 0 })), &at("rating"), "0 is no rating");
    refused(plate(json!({ "rating": -5 })), &at("rating"), "out of bounds");
    refused(plate(json!({ "width_mm": 60 })), &at("overlap_mm"), "less than the width");
    refused(plate(json!({ "kind": "steamroller" })), &at("kind"), "vibrating_plate");
    refused(plate(json!({ "name": "" })), &at("name"), "1 to 200 characters");
    refused(plate(json!({ "vibration": "guessed" })), &at("vibration"), "declared, measured");
    let differ =
        json!({ "plant": [{ "name": "p", "rating": 1500, "mass_kg": 90, "contact_m2": 0.18 }] });
    refused(differ, &at("rating"), "mass over contact or drum gives 500");
    let twice = json!({ "plant": [{ "name": "P", "rating": 9 }, { "name": "p", "rating": 9 }] });
    refused(twice, "/plant/1/name", "a name of its own");
}

#[test]
fn every_problem_comes_at_once() {
    let found = problems(json!({
        "specification": "mine",
        "plant": [{ "name": "p", "width_mm": 60, "vibration": "guessed", "speed_m_per_min": 0 }],
        "vehicles": [{ "name": "v", "kind": "cart", "volume_m3": 1, "mass_t": 1 }],
        "bags": { "cement_kg": 0 },
        "mixes": { "dye_percent": 30 },
        "rates": { "dig_h_per_m3": -1 },
        "layers": { "surcharge_mm": 900 },
        "orders": { "currency": "x", "allowance_percent": { "bed": -3 }, "offers": [{}] },
    }));
    let mut places: Vec<&str> = found.iter().map(|p| p.at.as_str()).collect();
    places.sort_unstable();
    let all = [
        "/bags/cement_kg",
        "/layers/surcharge_mm",
        "/mixes/dye_percent",
        "/orders/allowance_percent/bed",
        "/orders/currency",
        "/orders/offers/0/sold_in",
        "/orders/offers/0/what",
        "/plant/0/overlap_mm",
        "/plant/0/rating",
        "/plant/0/speed_m_per_min",
        "/plant/0/vibration",
        "/rates/dig_h_per_m3",
        "/specification",
        "/vehicles/0/kind",
    ];
    assert_eq!(places, all);
}

#[test]
fn weak_ground_and_heavy_vehicles_are_an_engineers() {
    for (more, at) in [
        (json!({ "ground": { "cbr_percent": 1.99 } }), "/ground/cbr_percent"),
        (json!({ "ground": { "soil": "silt" } }), "/ground/soil"),
        (json!({ "use": "lorry" }), "/use"),
        (json!({ "use": "fire engine" }), "/use"),
    ] {
        let found = problems(more);
        assert_eq!((found.len(), found[0].at.as_str()), (1, at), "{found:?}");
        let said = format!("{} {}", found[0].problem, found[0].right);
        assert!(said.contains("engineer"), "{said}");
    }
    assert!(Plan::read(file(json!({ "ground": { "cbr_percent": 2 } }))).is_ok());
}

#[test]
fn loads_of_the_persons_own_vehicles() {
    // Hand arithmetic: 5.2 m by 4.2 m dug 360 deep by level ground: 7.8624 m3, loose 9.83 to 10.22,
    // at 1.7 t/m3 13.37 t. A trailer of 1.2 m3 and 0.75 t: 17.8 loads by mass, 18.
    let more = json!({
        "surface": { "crossfall_one_in": null },
        "vehicles": [
            { "name": "trailer", "kind": "trailer", "volume_m3": 1.2, "mass_t": 0.75 },
            { "name": "small barrow", "kind": "barrow", "volume_m3": 0.06, "mass_t": 0.08 },
        ],
    });
    let said = answer(&plan(more));
    let loads = said["dig"]["loads"].as_array().expect("loads");
    assert_eq!(loads.len(), 1);
    assert_eq!(loads[0]["loads"], json!([18, 18]));
    assert_eq!(loads[0]["filled_by"], "mass");
    assert!((said["dig"]["tonnes"].as_f64().expect("t") - 7.8624 * 1.7).abs() < 1e-9);
    refused(
        json!({ "vehicles": [{ "name": "t", "kind": "trailer", "volume_m3": 0, "mass_t": 1 }] }),
        "/vehicles/0/volume_m3",
        "0 is out of bounds",
    );
    let bare = problems(json!({ "vehicles": [{}] }));
    let places: Vec<&str> = bare.iter().map(|p| p.at.as_str()).collect();
    let all =
        ["/vehicles/0/name", "/vehicles/0/kind", "/vehicles/0/volume_m3", "/vehicles/0/mass_t"];
    assert_eq!(places, all);
}

fn line(said: &Value, what: &str) -> Value {
    let lines = said["orders"]["lines"].as_array().expect("lines");
    lines.iter().find(|line| line["what"] == what).cloned().unwrap_or_default()
}

#[test]
fn an_order_with_the_persons_own_bags_and_two_suppliers() {
    let more = json!({
        "bags": { "cement_kg": 20, "joint_sand_kg": 25 },
        "orders": {
            "currency": "GBP",
            "allowance_percent": { "sub_base": 0 },
            "offers": [
                { "what": "sub_base", "supplier": "Quarry", "sold_in": "tonne", "price_minor": 2450 },
                { "what": "sub_base", "supplier": "Yard", "sold_in": "bulk_bag", "price_minor": 5200 },
                { "what": "blocks", "supplier": "Yard", "sold_in": "pack", "holds_m2": 8.08,
                  "price_minor": 21000 },
            ],
        },
    });
    let said = answer(&plan(more));
    // Hand arithmetic: 5.2 x 4.2 x 0.25 x 2.2 is 12.012 t: 13 by the tonne at 24.50, or 15 bags of
    // 850 kg at 52.00.
    let stone = line(&said, "sub_base");
    assert_eq!((&stone["count"], &stone["total_minor"]), (&json!(13), &json!(31_850)));
    assert_eq!(stone["others"][0]["count"], 15);
    assert_eq!(stone["others"][0]["total_minor"], 78_000);
    assert!((stone["left_over"].as_f64().expect("kg") - 988.0).abs() < 1e-6);
    assert_eq!(line(&said, "cement")["holds"], 20.0);
    assert_eq!(line(&said, "joint_sand")["holds"], 25.0);
    // 8.08 m2 over a face of 203 x 103 mm are 386 blocks.
    let blocks = line(&said, "blocks");
    assert_eq!(blocks["holds"], 386.0);
    let packs = blocks["count"].as_i64().expect("packs");
    let all = 31_850 + packs * 21_000;
    assert_eq!(said["orders"]["total_minor"], all);
    let suppliers = said["orders"]["suppliers"].as_array().expect("suppliers");
    let yard = suppliers.iter().find(|s| s["supplier"] == "Yard").expect("the yard");
    assert_eq!(
        (&yard["lines"], &yard["total_minor"]),
        (&json!(2), &json!(78_000 + packs * 21_000))
    );
}

#[test]
fn orders_that_cannot_be_are_refused() {
    refused(json!({ "bags": { "cement_kg": 0 } }), "/bags/cement_kg", "0 is out of bounds");
    refused(json!({ "bags": { "gravel_kg": 5 } }), "/bags/gravel_kg", "not known here");
    let offer = |offer: Value| json!({ "orders": { "currency": "GBP", "offers": [offer] } });
    let at = |key: &str| format!("/orders/offers/0{key}");
    refused(offer(json!({ "what": "blocks", "sold_in": "pack" })), &at(""), "holds_pieces");
    refused(
        offer(json!({ "what": "cement", "sold_in": "bag", "holds_kg": 25, "holds_m2": 3 })),
        &at(""),
        "given twice",
    );
    refused(
        offer(json!({ "what": "cement", "sold_in": "bag", "holds_m2": 3 })),
        &at("/holds_m2"),
        "holds_kg",
    );
    refused(
        offer(json!({ "what": "cement", "sold_in": "bag", "price_minor": 6.5 })),
        &at("/price_minor"),
        "without a fraction",
    );
    refused(
        offer(json!({ "what": "cement", "sold_in": "bag", "price_minor": 1e300 })),
        &at("/price_minor"),
        "out of bounds",
    );
    refused(
        json!({ "orders": { "offers": [{ "what": "cement", "sold_in": "bag", "price_minor": 6 }] } }),
        "/orders/currency",
        "GBP",
    );
    refused(json!({ "orders": { "currency": "pounds" } }), "/orders/currency", "GBP or EUR");
    let bare = problems(offer(json!({})));
    let places: Vec<&str> = bare.iter().map(|p| p.at.as_str()).collect();
    assert_eq!(places, [at("/what"), at("/sold_in")]);
}

#[test]
fn mixes_and_membranes_by_the_persons_choice() {
    let said = answer(&plan(json!({
        "mixes": { "concrete": "delivered", "mortar_m3": 0.3, "dye_percent": 9, "dye_colour": "red" },
        "membranes": { "under_sub_base": {} },
    })));
    assert_eq!(said["concrete"], Value::Null);
    // Worked example in print (seen): mortar 1:3 takes 478.8 kg of cement a cubic metre.
    let cement = said["mortar"]["all"]["cement_kg"].as_f64().expect("kg");
    assert!((cement - 0.3 * 478.8).abs() < 0.015, "{cement}");
    let dye = said["mortar"]["all"]["dye_kg"].as_f64().expect("kg");
    assert!((dye - 0.09 * cement).abs() < 1e-9);
    assert_eq!(line(&said, "membrane_under_sub_base")["sold_in"], "roll");
    assert!(line(&said, "concrete")["count"].as_i64().expect("steps") > 0);
    let said = said["cautions"].as_array().expect("cautions").clone();
    assert!(said.iter().any(|caution| caution["code"] == "caution.dye_saturated"), "{said:?}");
    refused(json!({ "mixes": { "dye_percent": 11 } }), "/mixes/dye_percent", "from 0 to 10 %");
    refused(json!({ "mixes": { "concrete": "C35" } }), "/mixes/concrete", "ST1, ST2, ST4");
    refused(json!({ "mixes": { "by_hand": "yes" } }), "/mixes/by_hand", "true or false");
    refused(
        json!({ "membranes": { "under_bed": { "lap_mm": 900, "roll_width_m": 1 } } }),
        "/membranes/under_bed/lap_mm",
        "half of the roll",
    );
}

#[test]
fn a_crews_own_rates_take_the_books_place() {
    // Hand arithmetic: 20 m2 at 0.9 h.
    let lay = |more| {
        let said = answer(&plan(more));
        let tasks = said["time"]["tasks"].as_array().expect("tasks").clone();
        let row = tasks.iter().find(|row| row["task"] == "lay").expect("laying").clone();
        let default = said["defaults"]
            .as_array()
            .expect("defaults")
            .iter()
            .any(|d| d["key"] == "rates.lay_h_per_m2");
        (row["hours"].as_f64().expect("hours"), default)
    };
    assert_eq!(lay(json!({ "rates": { "lay_h_per_m2": 0.9 } })), (18.0, false));
    // Spon's Q24 (seen): herringbone 1.50 h/m2, the bond that cars get by default.
    assert_eq!(lay(json!({})), (30.0, true));
    refused(json!({ "rates": { "lay_h_per_m2": 0 } }), "/rates/lay_h_per_m2", "out of bounds");
}

#[test]
fn every_default_of_the_order_has_its_source() {
    let plan = plan(json!({}));
    assert!(plan.supply_defaults.len() > 15);
    for default in plan.every_default() {
        assert!(!default.source.is_empty() && !default.status.is_empty(), "{default:?}");
    }
    let mut keys: Vec<&str> = plan.every_default().map(|default| default.key).collect();
    let all = keys.len();
    keys.sort_unstable();
    keys.dedup();
    assert_eq!(keys.len(), all);
}

#[test]
fn every_key_written_out_is_read() {
    let plan = Plan::read(full()).expect("a plan");
    assert_eq!(plan.kit.plant.len(), 1);
    // The usual barrow, and the bags and rates that are not given.
    let keys: Vec<&str> = plan.supply_defaults.iter().map(|default| default.key).collect();
    assert!(!keys.contains(&"mixes.concrete") && keys.contains(&"vehicles.barrow"), "{keys:?}");
    // 22 m a minute is 1.32 km/h, faster than the highway method assumes (from memory).
    assert!(codes(&plan).contains(&"passes.faster".to_owned()));
}

#[test]
fn a_persons_own_kit_is_read_as_in_a_plan() {
    let own = OwnKit::read(&json!({
        "plant": [{ "name": "forward plate", "mass_kg": 92, "contact_m2": 0.18 }],
        "bags": { "cement_kg": 25 },
        "vehicles": [{ "name": "van", "kind": "van", "volume_m3": 4, "mass_t": 1.1 }],
    }))
    .expect("a kit");
    assert_eq!((own.plant.len(), own.bags_kg.len(), own.vehicles.len()), (1, 1, 1));
    let bad = OwnKit::read(&json!({ "plant": [{ "name": "x" }], "bags": { "cement_kg": 0 } }));
    let places: Vec<String> = bad.expect_err("problems").into_iter().map(|p| p.at).collect();
    assert_eq!(places, ["/plant/0/rating", "/bags/cement_kg"]);
}

/// A plan with every key of this page written out.
fn full() -> Value {
    file(json!({
        "specification": "highway_800",
        "plant": [{ "name": "p", "kind": "vibrating_plate", "rating": 1900, "mass_kg": 342,
            "contact_m2": 0.18, "frame_length_mm": 500, "width_mm": 450, "overlap_mm": 50,
            "speed_m_per_min": 22, "vibration_m_s2": 4.1, "vibration": "measured" }],
        "vehicles": [{ "name": "v", "kind": "skip", "volume_m3": 6.1, "mass_t": 8 }],
        "bags": { "cement_kg": 25, "dye_kg": 1 },
        "mixes": { "concrete": "ST2", "cement_class": "42.5", "by_hand": true, "mixer_l": 90,
            "mortar_m3": 0.2, "mortar_parts": 4, "dye_percent": 5, "dye_colour": "red" },
        "membranes": { "under_bed": { "lap_mm": 200, "roll_width_m": 2, "roll_length_m": 50 } },
        "rates": { "dig_h_per_m3": 2, "lay_h_per_m2": 1 },
        "allowances": { "ground_t_per_m3": 1.8, "joint_top_up_percent": 5 },
        "orders": { "currency": "GBP", "allowance_percent": { "bed": 3 }, "offers": [
            { "what": "blocks", "supplier": "Yard", "sold_in": "pack", "holds_pieces": 404,
              "price_minor": 21000 },
            { "what": "bed", "sold_in": "cubic_metre", "price_minor": 5000 },
        ] },
    }))
}

/// The places of every value in a document.
fn places(value: &Value, at: &str, list: &mut Vec<String>) {
    list.push(at.to_owned());
    match value {
        Value::Object(members) => {
            members.iter().for_each(|(key, value)| places(value, &format!("{at}/{key}"), list));
        }
        Value::Array(items) => {
            (0..).zip(items).for_each(|(i, value)| places(value, &format!("{at}/{i}"), list));
        }
        _ => {}
    }
}

fn hurtful() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(Value::Null),
        Just(json!(true)),
        prop_oneof![Just(0.0), Just(-1.0), Just(1e9), Just(1e308), Just(5e-324), -500.0_f64..500.0]
            .prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        "[a-zA-Z0-9_.]{0,12}".prop_map(Value::from),
        Just(json!([])),
        Just(json!({})),
        Just(json!([{ "name": "x", "rating": 3 }])),
    ]
}

proptest! {
    #[test]
    fn any_value_anywhere_is_read_or_refused_in_words(place in any::<prop::sample::Index>(), value in hurtful()) {
        let mut plan = full();
        let mut all = Vec::new();
        places(&plan, "", &mut all);
        let place = &all[place.index(all.len())];
        *plan.pointer_mut(place).expect("a place") = value;
        match Plan::read(plan) {
            Ok(plan) => {
                let said = answer(&plan);
                for line in said["orders"]["lines"].as_array().expect("lines") {
                    prop_assert!(line["need"].as_f64().is_some_and(f64::is_finite), "{}", line);
                }
                prop_assert!(said["time"]["person_hours"].as_f64().is_some_and(f64::is_finite));
            }
            Err(problems) => {
                prop_assert!(!problems.is_empty(), "{}", place);
                for p in problems {
                    prop_assert!(!p.problem.is_empty() && !p.right.is_empty(), "{:?}", p);
                }
            }
        }
    }

    #[test]
    fn orders_hold_the_need_and_less_than_one_more(
        length in 1.0_f64..40.0, width in 0.6_f64..10.0, bag in 1.0_f64..1500.0, dye in 0.0_f64..10.0,
    ) {
        let plan = plan(json!({
            "outline": { "rectangle": { "length_m": length, "width_m": width } },
            "bags": { "cement_kg": bag, "sub_base_kg": bag, "bed_kg": bag },
            "mixes": { "mortar_m3": 0.2, "dye_percent": dye },
            "membranes": { "under_sub_base": {}, "under_bed": {} },
        }));
        let amounts = plan.take_off();
        let supplies = plan.supplies(&amounts);
        prop_assert_eq!(plan.order_alone(), plan.order(&supplies));
        for line in plan.order(&supplies).lines {
            let (wanted, order) = (line.need.with_allowance().number(), &line.order);
            let slack = 1e-6 * wanted.max(1.0);
            prop_assert!(order.ordered.number() >= wanted - slack, "{:?}", line);
            prop_assert!(order.ordered.number() < wanted + order.offer.holds.number() + slack);
        }
        // Every part of the mixes is bought.
        let bought: f64 = supplies
            .needs
            .iter()
            .filter(|need| need.goods.name() == "cement")
            .map(|need| need.amount.number())
            .sum();
        let mixed: f64 = [supplies.concrete, supplies.mortar]
            .iter()
            .flatten()
            .map(|mixed| mixed.mix.cement.to_kg())
            .sum();
        prop_assert!((bought - mixed).abs() < 1e-9);
        // The stone of the lifts is the stone of the layer.
        let lifts: f64 = plan.layers.lifts.iter().map(|lift| lift.to_m()).sum();
        let stone = amounts.dig.area.to_m2() * lifts;
        prop_assert!((stone - amounts.sub_base.to_m3()).abs() < 1e-9 * stone.max(1.0));
    }
}
