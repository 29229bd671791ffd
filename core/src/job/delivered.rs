//! Deliveries ticked against the order: what came, what is short, what is over.

use super::fold::{DeliveryMade, JobState};
use crate::diary::{Delivery, Unit};
use crate::plan::Plan;
use crate::quantities::{Amount, Goods, Offer, OrderLine, SoldIn};
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
    let mut lines: Vec<TickedLine> = state
        .plan
        .order_alone()
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
    TickedOrder { lines, others }
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

/// Every good with what it is called: its name in the catalogue, and its name in the plan file.
fn names() -> Vec<(Goods, String)> {
    let called = |goods: Goods| {
        let in_words = word(goods.word().trim_start_matches('@'));
        [(goods, plain(&in_words)), (goods, plain(goods.name()))]
    };
    Goods::ALL.into_iter().flat_map(called).collect()
}

/// A name without the differences that people do not mind: case, hyphens, underlines.
fn plain(name: &str) -> String {
    name.trim().to_lowercase().replace(['-', '_'], " ")
}

/// What the words of a delivery begin with: the longest of the names that ends where a word ends.
fn goods_of(what: &str, names: &[(Goods, String)]) -> Option<Goods> {
    let what = plain(what);
    let begins = |(_, name): &&(Goods, String)| {
        let rest = what.strip_prefix(name.as_str());
        rest.is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
    };
    names.iter().filter(begins).max_by_key(|(_, name)| name.len()).map(|(goods, _)| *goods)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn deliveries_are_known_by_what_they_are_called() {
        let names = names();
        let known = [
            ("Graded crushed stone", Some(Goods::SubBase)),
            ("sub-base stone", Some(Goods::SubBase)),
            ("Sub-base, second load", Some(Goods::SubBase)),
            ("bed sand", Some(Goods::Bed)),
            ("Concrete blocks, 80 mm", Some(Goods::Blocks)),
            ("blocks", Some(Goods::Blocks)),
            ("concrete", Some(Goods::Concrete)),
            ("joint sand", Some(Goods::JointSand)),
            ("Sand for concrete", Some(Goods::FineAggregate)),
            ("Bedding plants", None),
            ("Concreted posts", None),
            ("", None),
        ];
        for (what, goods) in known {
            assert_eq!(goods_of(what, &names), goods, "{what}");
        }
    }
}
