//! Bags, offers and orders of a plan.

use std::collections::BTreeMap;

use serde_json::json;

use super::Gaps;
use crate::buildup::figure;
use crate::plan::reader::{At, Members};
use crate::quantities::{
    Allowances, Amount, Block, Goods, Measure, Membrane, Offer, SoldIn, loose_density,
};
use crate::units::{Density, Money};

/// Most offers that are listed.
const MOST_OFFERS: usize = 100;
/// The dearest unit, in minor units of the currency: ten million major ones.
const DEAREST: f64 = 1e9;

/// Goods that come in bags, with their key in `bags` and the figure of the usual size.
const BAGS: [(Goods, &str, &str, SoldIn, &str); 8] = [
    (Goods::SubBase, "sub_base_kg", "bags.sub_base_kg", SoldIn::BulkBag, "bulk_bag"),
    (Goods::Bed, "bed_kg", "bags.bed_kg", SoldIn::BulkBag, "bulk_bag"),
    (Goods::JointSand, "joint_sand_kg", "bags.joint_sand_kg", SoldIn::Bag, "bag_joint_sand"),
    (Goods::Cement, "cement_kg", "bags.cement_kg", SoldIn::Bag, "bag_cement"),
    (
        Goods::FineAggregate,
        "fine_aggregate_kg",
        "bags.fine_aggregate_kg",
        SoldIn::BulkBag,
        "bulk_bag",
    ),
    (
        Goods::CoarseAggregate,
        "coarse_aggregate_kg",
        "bags.coarse_aggregate_kg",
        SoldIn::BulkBag,
        "bulk_bag",
    ),
    (Goods::MortarSand, "mortar_sand_kg", "bags.mortar_sand_kg", SoldIn::BulkBag, "bulk_bag"),
    (Goods::Dye, "dye_kg", "bags.dye_kg", SoldIn::Bag, "bag_dye"),
];

/// The person's own bag sizes, kilograms.
pub(super) fn bags(at: &At) -> Option<BTreeMap<Goods, f64>> {
    if !at.is_given() {
        return Some(BTreeMap::new());
    }
    let members = at.object(&BAGS.map(|(_, key, ..)| key))?;
    let read: Vec<Option<(Goods, f64)>> = BAGS
        .into_iter()
        .map(|(goods, key, ..)| (goods, members.get(key)))
        .filter(|(_, at)| at.is_given())
        .map(|(goods, at)| at.number(0.1..=5000.0, "kg").map(|kg| (goods, kg)))
        .collect();
    read.into_iter().collect()
}

/// How much the units that things are sold in hold.
pub(super) struct Units<'a> {
    pub(super) bags: BTreeMap<Goods, f64>,
    pub(super) membranes: &'a [Membrane],
    pub(super) block: Option<&'a Block>,
    pub(super) allowances: Option<&'a Allowances>,
    pub(super) loose_sand: Density,
}

impl Units<'_> {
    /// What one holds where the offer does not say, in the goods' own measure; none where that
    /// cannot be known.
    fn usual(&self, goods: Goods, sold_in: SoldIn) -> Option<f64> {
        match (goods.measure(), sold_in) {
            (Measure::Pieces, SoldIn::Piece) | (Measure::M3, SoldIn::CubicMetre) => Some(1.0),
            (Measure::Kg, SoldIn::Tonne) => Some(1000.0),
            (Measure::Kg, SoldIn::CubicMetre) => {
                let density = self.loose(goods)?;
                Some(density.to_t_per_m3() * 1000.0)
            }
            (Measure::Kg, SoldIn::Bag | SoldIn::BulkBag) => {
                let (.., size) = BAGS
                    .into_iter()
                    .find(|(of, _, _, usual, _)| (*of, *usual) == (goods, sold_in))?;
                let own = self.bags.get(&goods).copied();
                Some(own.unwrap_or_else(|| figure(size).number()))
            }
            (Measure::M2, SoldIn::Roll) => self
                .membranes
                .iter()
                .find(|membrane| membrane.goods == goods)
                .map(|membrane| membrane.roll().to_m2()),
            _ => None,
        }
    }

    fn loose(&self, goods: Goods) -> Option<Density> {
        loose_density(goods, self.allowances?, self.loose_sand)
    }
}

/// The plan's `orders`, filled up.
pub(super) struct Orders {
    /// The currency of the prices; empty where there are none.
    pub(super) currency: String,
    /// What is ordered beyond the need.
    pub(super) beyond_percent: BTreeMap<Goods, f64>,
    /// How everything is sold.
    pub(super) offers: Vec<Offer>,
}

pub(super) fn orders(at: &At, wanted: &[Goods], units: &Units, gaps: &mut Gaps) -> Option<Orders> {
    let members = if at.is_given() {
        Some(at.object(&["currency", "allowance_percent", "offers"])?)
    } else {
        None
    };
    let get = |key| members.as_ref().map(|m| m.get(key)).filter(At::is_given);
    let currency = get("currency").map_or(Some(String::new()), |at| currency(&at));
    let beyond = beyond(get("allowance_percent").as_ref(), wanted, gaps);
    let offers = match get("offers") {
        None => Some(Vec::new()),
        Some(at) => at.list(0, MOST_OFFERS).and_then(|items| {
            let read: Vec<Option<Offer>> = items.iter().map(|item| offer(item, units)).collect();
            read.into_iter().collect()
        }),
    };
    let mut offers = offers?;
    if get("currency").is_none() && offers.iter().any(|offer| offer.price.is_some()) {
        let place = format!("{}/currency", at.pointer());
        at.refuse_at(&place, "there are prices and no currency", "a currency such as GBP");
    }
    for goods in wanted {
        if !offers.iter().any(|offer| offer.goods == *goods) {
            offers.extend(usual_offer(*goods, units, gaps));
        }
    }
    Some(Orders { currency: currency?, beyond_percent: beyond?, offers })
}

fn currency(at: &At) -> Option<String> {
    let code = at.text()?;
    if code.len() == 3 && code.bytes().all(|b| b.is_ascii_uppercase()) {
        return Some(code);
    }
    at.refuse("this is no currency", "three capital letters, such as GBP or EUR");
    None
}

/// Goods with their key in `allowance_percent` and the figure of the usual share.
const BEYOND: [(Goods, &str, &str, &str); 11] = [
    (Goods::SubBase, "sub_base", "orders.allowance_percent.sub_base", "allowance_stone"),
    (Goods::Bed, "bed", "orders.allowance_percent.bed", "allowance_stone"),
    (Goods::JointSand, "joint_sand", "orders.allowance_percent.joint_sand", "allowance_none"),
    (Goods::Cement, "cement", "orders.allowance_percent.cement", "allowance_concrete"),
    (
        Goods::FineAggregate,
        "fine_aggregate",
        "orders.allowance_percent.fine_aggregate",
        "allowance_concrete",
    ),
    (
        Goods::CoarseAggregate,
        "coarse_aggregate",
        "orders.allowance_percent.coarse_aggregate",
        "allowance_concrete",
    ),
    (Goods::Concrete, "concrete", "orders.allowance_percent.concrete", "allowance_concrete"),
    (
        Goods::MortarSand,
        "mortar_sand",
        "orders.allowance_percent.mortar_sand",
        "allowance_concrete",
    ),
    (Goods::Dye, "dye", "orders.allowance_percent.dye", "allowance_none"),
    (
        Goods::MembraneUnderSubBase,
        "membrane_under_sub_base",
        "orders.allowance_percent.membrane_under_sub_base",
        "allowance_none",
    ),
    (
        Goods::MembraneUnderBed,
        "membrane_under_bed",
        "orders.allowance_percent.membrane_under_bed",
        "allowance_none",
    ),
];

/// What is ordered beyond the need, by goods.
fn beyond(at: Option<&At>, wanted: &[Goods], gaps: &mut Gaps) -> Option<BTreeMap<Goods, f64>> {
    let members = match at {
        Some(at) => Some(at.object(&BEYOND.map(|(_, key, ..)| key))?),
        None => None,
    };
    let read: Vec<Option<(Goods, f64)>> = BEYOND
        .into_iter()
        .filter_map(|(goods, key, name, from)| {
            let given = members.as_ref().map(|m| m.get(key)).filter(At::is_given);
            match given {
                Some(at) => Some(at.number(0.0..=100.0, "%").map(|percent| (goods, percent))),
                None if wanted.contains(&goods) => {
                    let percent = figure(from).number();
                    Some(Some((goods, gaps.number(None, name, percent, from))))
                }
                None => None,
            }
        })
        .collect();
    read.into_iter().collect()
}

/// How something is sold where the person has not said.
fn usual_offer(goods: Goods, units: &Units, gaps: &mut Gaps) -> Option<Offer> {
    let (sold_in, holds) = match goods {
        Goods::Blocks => (SoldIn::Piece, 1.0),
        Goods::Concrete => {
            let step = figure("ready_mixed").number();
            gaps.note("orders.offers.concrete", json!(step), "ready_mixed");
            (SoldIn::CubicMetre, step)
        }
        Goods::MembraneUnderSubBase | Goods::MembraneUnderBed => {
            (SoldIn::Roll, units.usual(goods, SoldIn::Roll)?)
        }
        _ => {
            let (_, _, name, sold_in, size) = BAGS.into_iter().find(|(of, ..)| *of == goods)?;
            let given = units.bags.get(&goods).copied();
            (sold_in, gaps.number(given, name, figure(size).number(), size))
        }
    };
    Some(Offer {
        goods,
        supplier: String::new(),
        sold_in,
        holds: Amount::of(goods.measure(), holds),
        price: None,
    })
}

const OFFER: [&str; 8] = [
    "what",
    "supplier",
    "sold_in",
    "holds_kg",
    "holds_pieces",
    "holds_m2",
    "holds_m3",
    "price_minor",
];
const HOLDS: [&str; 4] = ["holds_kg", "holds_pieces", "holds_m2", "holds_m3"];

fn offer(at: &At, units: &Units) -> Option<Offer> {
    let members = at.object(&OFFER)?;
    let needed = |key, words: String| {
        let at = members.get(key);
        if !at.is_given() {
            at.refuse("this is missing", format!("one of: {words}"));
        }
        at
    };
    let names = Goods::ALL.map(|goods| (goods.name(), goods));
    let goods = needed("what", names.map(|(name, _)| name).join(", ")).choice(&names);
    let sold_in = needed("sold_in", SoldIn::NAMED.map(|(name, _)| name).join(", "));
    let sold_in = sold_in.choice(&SoldIn::NAMED);
    let supplier = members.get("supplier");
    let supplier = if supplier.is_given() { supplier.text() } else { Some(String::new()) };
    let price = members.get("price_minor");
    let price = if price.is_given() { whole_minor(&price).map(Some) } else { Some(None) };
    let (goods, sold_in) = (goods?, sold_in?);
    let holds = holds(at, &members, (goods, sold_in), units);
    Some(Offer {
        goods,
        supplier: supplier?,
        sold_in,
        holds: Amount::of(goods.measure(), holds?),
        price: price?,
    })
}

/// What one of an offer holds, in the goods' own measure.
fn holds(
    at: &At,
    members: &Members,
    (goods, sold_in): (Goods, SoldIn),
    units: &Units,
) -> Option<f64> {
    let given: Vec<(&str, At)> = HOLDS
        .into_iter()
        .map(|key| (key, members.get(key)))
        .filter(|(_, at)| at.is_given())
        .collect();
    match given.as_slice() {
        [] => units.usual(goods, sold_in).or_else(|| {
            at.refuse("what one holds is not known", holds_right(goods));
            None
        }),
        [(key, held)] => held_in(goods, key, held, units),
        [_, ..] => {
            at.refuse("what one holds is given twice", holds_right(goods));
            None
        }
    }
}

const fn holds_right(goods: Goods) -> &'static str {
    match goods.measure() {
        Measure::Pieces => "holds_pieces or holds_m2, what one pack holds",
        Measure::Kg => "holds_kg, what one bag or load holds",
        Measure::M3 => "holds_m3, the step it is sold by",
        Measure::M2 => "holds_m2, what one roll covers",
    }
}

/// What one holds, in the goods' own measure.
fn held_in(goods: Goods, key: &str, at: &At, units: &Units) -> Option<f64> {
    let (bounds, unit) = match key {
        "holds_kg" => (0.1..=50_000.0, "kg"),
        "holds_pieces" => (1.0..=100_000.0, "pieces"),
        "holds_m2" => (0.01..=10_000.0, "m²"),
        _ => (0.01..=100.0, "m³"),
    };
    let number = at.number(bounds, unit)?;
    match (goods.measure(), key) {
        (Measure::Pieces, "holds_pieces")
        | (Measure::Kg, "holds_kg")
        | (Measure::M3, "holds_m3")
        | (Measure::M2, "holds_m2") => Some(number),
        (Measure::Pieces, "holds_m2") => {
            let blocks = number / units.block?.module().to_m2();
            Some(blocks.round().max(1.0))
        }
        (Measure::Kg, "holds_m3") if units.loose(goods).is_some() => {
            units.loose(goods).map(|loose| number * loose.to_t_per_m3() * 1000.0)
        }
        _ => {
            at.refuse("this is not sold so", holds_right(goods));
            None
        }
    }
}

fn whole_minor(at: &At) -> Option<Money> {
    let number = at.number(0.0..=DEAREST, "in whole minor units, such as pence")?;
    if number.fract() != 0.0 {
        at.refuse("a price is in whole minor units", "pence or cents, without a fraction");
        return None;
    }
    Some(Money::from_minor(number as i64))
}
