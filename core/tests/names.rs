//! The contributor's guide names everything that an entry may hold.

use fairfall_core::buildup::{Layer, Use};
use fairfall_core::diary::kinds;
use fairfall_core::job::Stage;
use serde_json::json;

const GUIDE: &str = include_str!("../../DEVELOPERS.md");

#[test]
fn every_kind_stage_and_layer_is_in_the_guide() {
    let stages = Stage::in_order(Use::Foot).map(|stage| json!(stage));
    let layers = Layer::ALL.map(|layer| json!(layer));
    let names = stages.iter().chain(&layers).map(|name| name.as_str().expect("a name"));
    for name in names.chain(kinds().into_iter().filter(|kind| *kind != "record")) {
        let (alone, before) = (format!("`{name}`"), format!("`{name} {{"));
        assert!(GUIDE.contains(&alone) || GUIDE.contains(&before), "{name}");
    }
}
