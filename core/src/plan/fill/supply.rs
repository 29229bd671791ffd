//! What is bought: bags, mixes, membranes, rates, orders.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::Gaps;
use crate::buildup::{Figure, figure};
use crate::plan::reader::{At, Members};
use crate::quantities::{
    Allowances, Amount, Block, CementClass, Concrete, Edges, Goods, Measure, Membrane, Mixes,
    Offer, Pattern, Rate, SoldIn, Supply, Task, most_dye_percent,
};
use crate::units::{Density, Duration, Length, Money, Volume};

/// Most offers that are listed.
const MOST_OFFERS: usize = 100;
/// The dearest unit, in minor units of the currency: ten million major ones.
const DEAREST: f64 = 1e9;

/// What else of the plan the supply is read with.
pub(super) struct Beside<'a> {
    pub(super) allowances_at: At<'a>,
    pub(super) layers_at: At<'a>,
    pub(super) allowances: Option<&'a Allowances>,
    pub(super) block: Option<&'a Block>,
    pub(super) edges: Option<&'a Edges>,
}

pub(super) fn supply(plan: &Members, beside: &Beside, gaps: &mut Gaps) -> Option<Supply> {
    let haunch = beside.edges.is_none_or(|edges| edges.haunch);
    let mixes = mixes(&plan.get("mixes"), haunch, gaps);
    let membranes = membranes(&plan.get("membranes"), gaps);
    let surcharge = optional(&beside.layers_at, "surcharge_mm", 0.0..=50.0, "mm");
    let top_up = optional(&beside.allowances_at, "joint_top_up_percent", 0.0..=100.0, "%");
    let ground = optional(&beside.allowances_at, "ground_t_per_m3", 0.5..=3.0, "t/m3");
    let loose_sand = optional(&beside.allowances_at, "loose_sand_t_per_m3", 0.5..=2.5, "t/m3");
    let mut usual = |given, key, from| gaps.number(given, key, figure(from).usual(), from);
    let surcharge = usual(surcharge?, "layers.surcharge_mm", "surcharge");
    let top_up = usual(top_up?, "allowances.joint_top_up_percent", "joint_top_up");
    let ground = usual(ground?, "allowances.ground_t_per_m3", "ground_density");
    let loose_sand = usual(loose_sand?, "allowances.loose_sand_t_per_m3", "sharp_sand_loose");
    let (mixes, membranes) = (mixes?, membranes?);
    let wanted = wanted(&mixes, &membranes, haunch);
    let bags = bags(&plan.get("bags"));
    let units = Units {
        bags: bags?,
        membranes: &membranes,
        block: beside.block,
        loose_stone: beside.allowances.map(|a| {
            Density::from_t_per_m3(a.sub_base.to_t_per_m3() / figure("loose_ratio").number())
        }),
        loose_sand: Density::from_t_per_m3(loose_sand),
    };
    let orders = orders(&plan.get("orders"), &wanted, &units, gaps);
    let (currency, mut beyond_percent, offers) = orders?;
    if let Some(allowances) = beside.allowances {
        beyond_percent.insert(Goods::Blocks, allowances.blocks_percent);
    }
    Some(Supply {
        surcharge: Length::from_mm(surcharge),
        loose_sand: Density::from_t_per_m3(loose_sand),
        top_up_percent: top_up,
        ground: Density::from_t_per_m3(ground),
        mixes,
        membranes,
        beyond_percent,
        offers,
        currency,
    })
}

/// A member that may be left out, of an object whose other members are read elsewhere.
fn optional(
    at: &At,
    key: &str,
    bounds: std::ops::RangeInclusive<f64>,
    unit: &str,
) -> Option<Option<f64>> {
    let member = at.member(key);
    if member.is_given() { member.number(bounds, unit).map(Some) } else { Some(None) }
}

fn mixes(at: &At, haunch: bool, gaps: &mut Gaps) -> Option<Mixes> {
    const KEYS: [&str; 8] = [
        "concrete",
        "cement_class",
        "by_hand",
        "mixer_l",
        "mortar_m3",
        "mortar_parts",
        "dye_percent",
        "dye_colour",
    ];
    let members = if at.is_given() { Some(at.object(&KEYS)?) } else { None };
    let get = |key| members.as_ref().map(|m| m.get(key)).filter(At::is_given);
    let number = |key, bounds, unit| match get(key) {
        Some(given) => given.number(bounds, unit).map(Some),
        None => Some(None),
    };
    let concrete = get("concrete").map_or(Some(None), |at| at.choice(&Concrete::NAMED).map(Some));
    let class =
        get("cement_class").map_or(Some(None), |at| at.choice(&CementClass::NAMED).map(Some));
    let by_hand = get("by_hand").map_or(Some(false), |at| yes_or_no(&at));
    let mixer = number("mixer_l", 1.0..=2000.0, "l of mix");
    let mortar = number("mortar_m3", 0.0..=20.0, "m³");
    let parts = number("mortar_parts", 1.0..=12.0, "parts of sand to one of cement");
    let dye = number("dye_percent", 0.0..=most_dye_percent(), "% of the mass of cement");
    let colour = get("dye_colour").map_or(Some(String::new()), |at| at.text());
    let mortar = mortar?.unwrap_or(0.0);
    let concrete = concrete?.unwrap_or_else(|| {
        if haunch {
            gaps.note("mixes.concrete", json!("ST1"), "concrete_mix");
        }
        Concrete::St1
    });
    let mixed_here = mortar > 0.0 || (haunch && concrete != Concrete::Delivered);
    let class = class?.unwrap_or_else(|| {
        if haunch && concrete != Concrete::Delivered {
            gaps.note("mixes.cement_class", json!("32.5"), "concrete_st1");
        }
        CementClass::Class32
    });
    let mixer = mixer?.unwrap_or_else(|| {
        if mixed_here {
            gaps.note("mixes.mixer_l", json!(90.0), "mixer");
        }
        figure("mixer").number()
    });
    let parts = parts?.unwrap_or_else(|| {
        if mortar > 0.0 {
            gaps.note("mixes.mortar_parts", json!(3.0), "mortar");
        }
        3.0
    });
    Some(Mixes {
        concrete,
        class,
        by_hand: by_hand?,
        mixer: Volume::from_m3(mixer / 1000.0),
        mortar: Volume::from_m3(mortar),
        mortar_parts: parts,
        dye_percent: dye?,
        colour: colour?,
    })
}

fn yes_or_no(at: &At) -> Option<bool> {
    let found = at.value().and_then(Value::as_bool);
    if found.is_none() {
        at.refuse("this is neither true nor false", "true or false");
    }
    found
}

fn membranes(at: &At, gaps: &mut Gaps) -> Option<Vec<Membrane>> {
    if !at.is_given() {
        return Some(Vec::new());
    }
    let members = at.object(&["under_sub_base", "under_bed"])?;
    let places =
        [("under_sub_base", Goods::MembraneUnderSubBase), ("under_bed", Goods::MembraneUnderBed)];
    let read: Vec<Option<Membrane>> = places
        .into_iter()
        .map(|(key, goods)| (members.get(key), goods))
        .filter(|(at, _)| at.is_given())
        .map(|(at, goods)| membrane(&at, goods, gaps))
        .collect();
    read.into_iter().collect()
}

fn membrane(at: &At, goods: Goods, gaps: &mut Gaps) -> Option<Membrane> {
    let members = at.object(&["lap_mm", "roll_width_m", "roll_length_m"])?;
    let mut number = |key, name, bounds, unit, value, from| {
        let at: At = members.get(key);
        if at.is_given() {
            at.number(bounds, unit)
        } else {
            Some(gaps.number(None, name, value, from))
        }
    };
    let lap = number("lap_mm", "membranes.lap_mm", 0.0..=1000.0, "mm", 300.0, "membrane_lap");
    let width =
        number("roll_width_m", "membranes.roll_width_m", 0.5..=20.0, "m", 4.5, "membrane_roll");
    let length =
        number("roll_length_m", "membranes.roll_length_m", 1.0..=500.0, "m", 11.0, "membrane_roll");
    let (lap, width, length) =
        (Length::from_mm(lap?), Length::from_m(width?), Length::from_m(length?));
    if lap > width / 2.0 || lap > length / 2.0 {
        let place = format!("{}/lap_mm", at.pointer());
        at.refuse_at(&place, "the lap is more than half of the roll", "a lap of 150 to 500 mm");
        return None;
    }
    Some(Membrane { goods, lap, width, length })
}

/// What the plan may have to buy.
fn wanted(mixes: &Mixes, membranes: &[Membrane], haunch: bool) -> Vec<Goods> {
    let mixed_here = haunch && mixes.concrete != Concrete::Delivered;
    let mortar = mixes.mortar > Volume::ZERO;
    Goods::ALL
        .into_iter()
        .filter(|goods| match goods {
            Goods::Blocks | Goods::SubBase | Goods::Bed | Goods::JointSand => true,
            Goods::Cement => mixed_here || mortar,
            Goods::FineAggregate | Goods::CoarseAggregate => mixed_here,
            Goods::Concrete => haunch && !mixed_here,
            Goods::MortarSand => mortar,
            Goods::Dye => mixes.dye_percent.is_some_and(|p| p > 0.0) && (mixed_here || mortar),
            Goods::MembraneUnderSubBase | Goods::MembraneUnderBed => {
                membranes.iter().any(|membrane| membrane.goods == *goods)
            }
        })
        .collect()
}

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
struct Units<'a> {
    bags: BTreeMap<Goods, f64>,
    membranes: &'a [Membrane],
    block: Option<&'a Block>,
    loose_stone: Option<Density>,
    loose_sand: Density,
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
        match goods {
            Goods::SubBase => self.loose_stone,
            Goods::Bed | Goods::FineAggregate | Goods::MortarSand => Some(self.loose_sand),
            _ => None,
        }
    }
}

type Orders = (String, BTreeMap<Goods, f64>, Vec<Offer>);

fn orders(at: &At, wanted: &[Goods], units: &Units, gaps: &mut Gaps) -> Option<Orders> {
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
    Some((currency?, beyond?, offers))
}

fn currency(at: &At) -> Option<String> {
    let code = at.text()?;
    if code.len() == 3 && code.bytes().all(|b| b.is_ascii_uppercase()) {
        return Some(code);
    }
    at.refuse("this is no currency", "three capital letters, such as GBP or EUR");
    None
}

/// What is ordered beyond the need, by goods.
fn beyond(at: Option<&At>, wanted: &[Goods], gaps: &mut Gaps) -> Option<BTreeMap<Goods, f64>> {
    const KEYS: [(Goods, &str, &str, &str); 11] = [
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
    let members = match at {
        Some(at) => Some(at.object(&KEYS.map(|(_, key, ..)| key))?),
        None => None,
    };
    let read: Vec<Option<(Goods, f64)>> = KEYS
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

fn offer(at: &At, units: &Units) -> Option<Offer> {
    const HOLDS: [&str; 4] = ["holds_kg", "holds_pieces", "holds_m2", "holds_m3"];
    let members = at.object(&[
        "what",
        "supplier",
        "sold_in",
        "holds_kg",
        "holds_pieces",
        "holds_m2",
        "holds_m3",
        "price_minor",
    ])?;
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
    let given: Vec<(&str, At)> = HOLDS
        .into_iter()
        .map(|key| (key, members.get(key)))
        .filter(|(_, at)| at.is_given())
        .collect();
    let holds = match given.as_slice() {
        [] => units.usual(goods, sold_in).or_else(|| {
            at.refuse("what one holds is not known", holds_right(goods));
            None
        }),
        [(key, held)] => held_in(goods, key, held, units),
        [_, ..] => {
            at.refuse("what one holds is given twice", holds_right(goods));
            None
        }
    };
    Some(Offer {
        goods,
        supplier: supplier?,
        sold_in,
        holds: Amount::of(goods.measure(), holds?),
        price: price?,
    })
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
            Some(number * units.loose(goods)?.to_t_per_m3() * 1000.0)
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

/// The rate of every task, the book's where the person has none.
pub(super) fn rates(at: &At, pattern: Pattern, gaps: &mut Gaps) -> Option<Vec<Rate>> {
    const NAMES: [(Task, &str); 7] = [
        (Task::Dig, "rates.dig_h_per_m3"),
        (Task::Spoil, "rates.spoil_h_per_m3"),
        (Task::Formation, "rates.formation_h_per_m2"),
        (Task::SubBase, "rates.sub_base_h_per_t"),
        (Task::Lay, "rates.lay_h_per_m2"),
        (Task::Joint, "rates.joint_h_per_m2"),
        (Task::Haunch, "rates.haunch_h_per_m3"),
    ];
    let members =
        if at.is_given() { Some(at.object(&NAMES.map(|(task, _)| task.key()))?) } else { None };
    let read: Vec<Option<Rate>> = NAMES
        .into_iter()
        .map(|(task, name)| {
            let given = members.as_ref().map(|m| m.get(task.key())).filter(At::is_given);
            let Some(at) = given else {
                let rate = Rate::of_the_book(task, pattern);
                note_rate(&rate, name, pattern, gaps);
                return Some(rate);
            };
            let hours = at.number(0.001..=100.0, "h")?;
            Some(Rate { task, each: Duration::from_h(hours) })
        })
        .collect();
    read.into_iter().collect()
}

fn note_rate(rate: &Rate, name: &'static str, pattern: Pattern, gaps: &mut Gaps) {
    let hours = json!(rate.each.to_h());
    let Figure { source, status, .. } = figure(rate.task.figure(pattern));
    match (rate.task, pattern) {
        (Task::Lay, Pattern::Stretcher | Pattern::Stack) => gaps.ours(
            name,
            hours,
            &format!("no printed rate is held for this bond; as basketweave in {source}"),
        ),
        _ => gaps.0.push(crate::plan::Default { key: name, value: hours, source, status }),
    }
}
