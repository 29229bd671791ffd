//! Deliveries ticked against the order: what came, what is short, what is over.

use super::fold::{DeliveryMade, JobState};
use crate::diary::{Delivery, Unit};
use crate::plan::Plan;
use crate::quantities::{Amount, Goods, Offer, OrderLine, SoldIn, Supplies, TakeOff};
use crate::words::{Phrase, word};

/// A line of the order with what came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct TickedLine {
    /// The line.
    pub line: OrderLine,
    /// Every delivery for it, with what it counts for; none where that cannot be told in the
    /// line's measure.
    pub deliveries: Vec<(DeliveryMade, Option<Amount>)>,
    /// All that counts.
    pub delivered: Amount,
}

/// An order with its deliveries.
#[derive(Debug, Clone, PartialEq)]
pub struct TickedOrder {
    /// The take-off it rests on.
    pub amounts: TakeOff,
    /// What the job needs.
    pub supplies: Supplies,
    /// Line by line.
    pub lines: Vec<TickedLine>,
    /// Deliveries of what is not on the order.
    pub others: Vec<DeliveryMade>,
}

impl TickedLine {
    /// Ordered and not yet here.
    pub const fn short(&self) -> Amount {
        self.line.order.ordered.beyond(self.delivered)
    }

    /// Here and not ordered.
    pub const fn over(&self) -> Amount {
        self.delivered.beyond(self.line.order.ordered)
    }

    /// Needed and not yet here, the allowance left aside.
    pub const fn missing(&self) -> Amount {
        self.line.need.amount.beyond(self.delivered)
    }

    /// Whether what is needed is here.
    pub fn is_here(&self) -> bool {
        let need = self.line.need.amount.number();
        self.missing().number() <= need * 1e-6
    }
}

/// The order of a job with its deliveries ticked against it.
pub fn ticked_order(state: &JobState) -> TickedOrder {
    let amounts = state.plan.take_off();
    let supplies = state.plan.supplies(&amounts);
    let order = state.plan.order(&supplies);
    let mut lines: Vec<TickedLine> = order
        .lines
        .into_iter()
        .map(|line| TickedLine {
            delivered: Amount::of(line.need.goods.measure(), 0.0),
            deliveries: Vec::new(),
            line,
        })
        .collect();
    let mut others = Vec::new();
    let names = names();
    for made in &state.deliveries {
        let goods = made.delivery.line.or_else(|| goods_of(&made.delivery.what, &names));
        match lines.iter_mut().find(|ticked| Some(ticked.line.need.goods) == goods) {
            Some(ticked) => ticked.tick(made, &state.plan),
            None => others.push(made.clone()),
        }
    }
    TickedOrder { amounts, supplies, lines, others }
}

impl TickedLine {
    fn tick(&mut self, made: &DeliveryMade, plan: &Plan) {
        let counts = counted(&made.delivery, &self.line, plan);
        if let Some(more) = counts {
            let sum = self.delivered.number() + more.number();
            self.delivered = Amount::of(self.delivered.measure(), sum);
        }
        self.deliveries.push((made.clone(), counts));
    }
}

/// Every good with its name in the catalogue, in small letters.
fn names() -> [(Goods, String); 12] {
    Goods::ALL.map(|goods| (goods, word(goods.word().trim_start_matches('@')).to_lowercase()))
}

/// What the words of a delivery name: a good's own name, or words that begin with it.
fn goods_of(what: &str, names: &[(Goods, String)]) -> Option<Goods> {
    let what = what.trim().to_lowercase();
    let named = |(goods, name): &&(Goods, String)| what == goods.name() || what.starts_with(name);
    names.iter().find(named).map(|(goods, _)| *goods)
}

/// A delivery in its line's measure; none where that cannot be known.
fn counted(delivery: &Delivery, line: &OrderLine, plan: &Plan) -> Option<Amount> {
    let goods = line.need.goods;
    let quantity = delivery.quantity;
    let measure = goods.measure();
    let of = |number: f64| Amount::of(measure, number);
    let sold = |wanted: &[SoldIn]| offer_of(line, &delivery.supplier, wanted);
    match (line.need.amount, delivery.unit) {
        (Amount::Mass(_), Unit::T) => Some(of(quantity * 1000.0)),
        (Amount::Mass(_), Unit::Kg)
        | (Amount::Volume(_), Unit::M3)
        | (Amount::Area(_), Unit::M2)
        | (Amount::Pieces(_), Unit::Pieces) => Some(of(quantity)),
        (Amount::Mass(_), Unit::M3) => {
            plan.loose_density(goods).map(|loose| of(quantity * loose.to_t_per_m3() * 1000.0))
        }
        (Amount::Pieces(_), Unit::M2) => Some(of(quantity / plan.block.module().to_m2())),
        (_, Unit::Bags) => {
            sold(&[SoldIn::Bag, SoldIn::BulkBag]).map(|offer| offer.holds.times(quantity))
        }
        (_, Unit::Packs) => sold(&[SoldIn::Pack]).map(|offer| offer.holds.times(quantity)),
        (Amount::Area(_), Unit::Pieces) => {
            sold(&[SoldIn::Roll]).map(|offer| offer.holds.times(quantity))
        }
        _ => None,
    }
}

/// The offer that says what one of these holds: that of the supplier who brought it, else the first.
fn offer_of<'a>(line: &'a OrderLine, supplier: &str, wanted: &[SoldIn]) -> Option<&'a Offer> {
    let offers = || {
        std::iter::once(&line.order)
            .chain(&line.others)
            .map(|quote| &quote.offer)
            .filter(|offer| wanted.contains(&offer.sold_in))
    };
    offers().find(|offer| !supplier.is_empty() && offer.supplier == supplier).or(offers().next())
}

/// An amount as people read it: tonnes from one up, else whole kilograms.
pub fn amount_says(amount: Amount) -> Phrase {
    let hundredths = |number: f64| (number * 100.0).round() / 100.0;
    match amount {
        Amount::Pieces(pieces) => Phrase::new("amount.pieces", [("count", pieces.ceil().into())]),
        Amount::Mass(mass) if mass.to_t() >= 1.0 => {
            Phrase::new("amount.t", [("t", hundredths(mass.to_t()).into())])
        }
        Amount::Mass(mass) => {
            Phrase::new("amount.kg", [("kg", ((mass.to_kg() * 10.0).round() / 10.0).into())])
        }
        Amount::Volume(volume) => {
            Phrase::new("amount.m3", [("m3", hundredths(volume.to_m3()).into())])
        }
        Amount::Area(area) => Phrase::new("amount.m2", [("m2", hundredths(area.to_m2()).into())]),
    }
}

/// What is needed and not yet here, in words; empty where everything is.
pub fn missing_says(lines: &[TickedLine]) -> String {
    let missing = lines.iter().filter(|ticked| !ticked.is_here()).map(|ticked| {
        let name = word(ticked.line.need.goods.word().trim_start_matches('@'));
        format!("{} {}", amount_says(ticked.missing()).text, name.to_lowercase())
    });
    missing.collect::<Vec<_>>().join(", ")
}
