//! Order lines: what is needed, what is sold, how many, what is left over, what it costs.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Amount, Goods, whole};
use crate::units::Money;

/// What something is sold in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum SoldIn {
    /// Single pieces.
    Piece,
    /// Packs.
    Pack,
    /// Bags that a person lifts.
    Bag,
    /// Bulk bags that a crane lifts.
    BulkBag,
    /// Loose, by the tonne.
    Tonne,
    /// By the cubic metre.
    CubicMetre,
    /// Rolls.
    Roll,
}

impl SoldIn {
    /// Every one by its name in the plan file.
    pub const NAMED: [(&'static str, SoldIn); 7] = [
        ("piece", SoldIn::Piece),
        ("pack", SoldIn::Pack),
        ("bag", SoldIn::Bag),
        ("bulk_bag", SoldIn::BulkBag),
        ("tonne", SoldIn::Tonne),
        ("cubic_metre", SoldIn::CubicMetre),
        ("roll", SoldIn::Roll),
    ];

    /// The key of its name in the catalogue of words; it counts.
    pub const fn word(self) -> &'static str {
        match self {
            SoldIn::Piece => "sold.piece",
            SoldIn::Pack => "sold.pack",
            SoldIn::Bag => "sold.bag",
            SoldIn::BulkBag => "sold.bulk_bag",
            SoldIn::Tonne => "sold.tonne",
            SoldIn::CubicMetre => "sold.cubic_metre",
            SoldIn::Roll => "sold.roll",
        }
    }
}

/// How a supplier sells something.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// What.
    pub goods: Goods,
    /// Who; empty where that is not said.
    pub supplier: String,
    /// In what.
    pub sold_in: SoldIn,
    /// How much one holds; above nothing.
    pub holds: Amount,
    /// What one costs, where that is known.
    pub price: Option<Money>,
}

/// What a job needs of something, and how much beyond it is ordered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Need {
    /// What.
    pub goods: Goods,
    /// How much the job takes.
    pub amount: Amount,
    /// Beyond it, per cent.
    pub allowance_percent: f64,
}

impl Need {
    /// The need with its allowance; pieces are whole ones.
    pub fn with_allowance(&self) -> Amount {
        match self.amount.times(1.0 + self.allowance_percent / 100.0) {
            Amount::Pieces(pieces) => Amount::Pieces(f64::from(whole(pieces))),
            other => other,
        }
    }
}

/// What comes of one offer.
#[derive(Debug, Clone, PartialEq)]
pub struct Quote {
    /// The offer.
    pub offer: Offer,
    /// How many: the fewest that hold the need with its allowance.
    pub count: u32,
    /// What these hold together.
    pub ordered: Amount,
    /// What is left of them when the need and its allowance are used.
    pub left_over: Amount,
    /// What they cost; none without a price, or where the sum is beyond what can be held.
    pub total: Option<Money>,
}

/// One line of an order.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderLine {
    /// What is needed.
    pub need: Need,
    /// The first offer, which is ordered.
    pub order: Quote,
    /// What others offer.
    pub others: Vec<Quote>,
}

/// What one supplier would get.
#[derive(Debug, Clone, PartialEq)]
pub struct SupplierTotal {
    /// Who; empty for offers that name nobody.
    pub supplier: String,
    /// How many lines of the order this supplier can serve.
    pub lines: u32,
    /// How many of these have no price.
    pub unpriced: u32,
    /// Their prices together; none where the sum is beyond what can be held.
    pub total: Option<Money>,
}

/// An order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Order {
    /// Its lines.
    pub lines: Vec<OrderLine>,
}

impl Order {
    /// An order for needs. The first offer of something is the one that is ordered; a need without
    /// an offer makes no line. Needs of nothing are left out.
    pub fn new(needs: &[Need], offers: &[Offer]) -> Order {
        let lines = needs
            .iter()
            .filter(|need| need.amount.number() > 0.0)
            .filter_map(|need| {
                let mut quotes = offers
                    .iter()
                    .filter(|offer| offer.goods == need.goods)
                    .map(|offer| quote(need, offer));
                let order = quotes.next()?;
                Some(OrderLine { need: *need, order, others: quotes.collect() })
            })
            .collect();
        Order { lines }
    }

    /// What is ordered, together, as far as it has prices; none where the sum is beyond what can be
    /// held.
    pub fn total(&self) -> Option<Money> {
        self.lines.iter().try_fold(Money::ZERO, |sum, line| match line.order.offer.price {
            None => Some(sum),
            Some(_) => sum.checked_add(line.order.total?),
        })
    }

    /// Lines without a price.
    pub fn unpriced(&self) -> u32 {
        let none = self.lines.iter().filter(|line| line.order.offer.price.is_none());
        u32::try_from(none.count()).unwrap_or(u32::MAX)
    }

    /// Every supplier with what their offers come to, so that two can be compared.
    pub fn suppliers(&self) -> Vec<SupplierTotal> {
        let mut list: Vec<SupplierTotal> = Vec::new();
        for line in &self.lines {
            let mut served: Vec<&str> = Vec::new();
            for quote in std::iter::once(&line.order).chain(&line.others) {
                let supplier = quote.offer.supplier.as_str();
                if !served.contains(&supplier) {
                    served.push(supplier);
                    add_to(&mut list, quote);
                }
            }
        }
        list
    }
}

fn add_to(list: &mut Vec<SupplierTotal>, quote: &Quote) {
    let known = list.iter().position(|total| total.supplier == quote.offer.supplier);
    let mut total = match known {
        Some(index) => list.remove(index),
        None => SupplierTotal {
            supplier: quote.offer.supplier.clone(),
            lines: 0,
            unpriced: 0,
            total: Some(Money::ZERO),
        },
    };
    total.lines += 1;
    match quote.offer.price {
        None => total.unpriced += 1,
        Some(_) => {
            total.total =
                total.total.zip(quote.total).and_then(|(sum, more)| sum.checked_add(more));
        }
    }
    list.insert(known.unwrap_or(list.len()), total);
}

fn quote(need: &Need, offer: &Offer) -> Quote {
    let wanted = need.with_allowance();
    let count = whole(wanted.number() / offer.holds.number());
    let ordered = offer.holds.times(f64::from(count));
    Quote {
        count,
        ordered,
        left_over: ordered.beyond(wanted),
        total: offer.price.and_then(|price| price.checked_times(count)),
        offer: offer.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn offer(goods: Goods, supplier: &str, holds: f64, minor: Option<i64>) -> Offer {
        Offer {
            goods,
            supplier: supplier.to_owned(),
            sold_in: SoldIn::Bag,
            holds: Amount::of(goods.measure(), holds),
            price: minor.map(Money::from_minor),
        }
    }

    fn need(goods: Goods, number: f64, allowance_percent: f64) -> Need {
        Need { goods, amount: Amount::of(goods.measure(), number), allowance_percent }
    }

    #[test]
    fn bags_of_cement_by_hand() {
        // Hand arithmetic: 63 kg and 5 % are 66.15 kg: 3 bags of 25 kg, 8.85 kg left, 3 x 6.49.
        let order = Order::new(
            &[need(Goods::Cement, 63.0, 5.0)],
            &[offer(Goods::Cement, "yard", 25.0, Some(649))],
        );
        let quote = &order.lines[0].order;
        assert_eq!((quote.count, quote.ordered.number()), (3, 75.0));
        assert!((quote.left_over.number() - 8.85).abs() < 1e-9);
        assert_eq!(order.total(), Some(Money::from_minor(1947)));
    }

    #[test]
    fn two_suppliers_side_by_side() {
        // Hand arithmetic: 2.4 t in bulk bags of 850 kg: 3 at 52.00; loose by the tonne: 3 at 38.50.
        // Cement: the second supplier alone, unpriced.
        let order = Order::new(
            &[need(Goods::SubBase, 2400.0, 0.0), need(Goods::Cement, 20.0, 0.0)],
            &[
                offer(Goods::SubBase, "A", 850.0, Some(5200)),
                offer(Goods::SubBase, "B", 1000.0, Some(3850)),
                offer(Goods::Cement, "B", 25.0, None),
            ],
        );
        assert_eq!((order.total(), order.unpriced()), (Some(Money::from_minor(15_600)), 1));
        let totals: Vec<_> = order
            .suppliers()
            .into_iter()
            .map(|s| (s.supplier, s.lines, s.unpriced, s.total.map(Money::to_minor)))
            .collect();
        let expected = [("A".to_owned(), 1, 0, Some(15_600)), ("B".to_owned(), 2, 1, Some(11_550))];
        assert_eq!(totals, expected);
    }

    #[test]
    fn prices_that_would_overflow_have_no_total() {
        let order = Order::new(
            &[need(Goods::Cement, 1e6, 0.0)],
            &[offer(Goods::Cement, "", 1.0, Some(i64::MAX / 2))],
        );
        assert_eq!(order.lines[0].order.total, None);
        assert_eq!(order.total(), None);
        assert_eq!(order.suppliers()[0].total, None);
    }

    proptest! {
        #[test]
        fn an_order_holds_the_need_and_less_than_one_more(
            number in 0.001_f64..1e6, percent in 0.0_f64..50.0, holds in 0.1_f64..2000.0,
        ) {
            for goods in [Goods::Blocks, Goods::Bed, Goods::Concrete, Goods::MembraneUnderBed] {
                let need = need(goods, number, percent);
                let order = Order::new(&[need], &[offer(goods, "", holds, None)]);
                let quote = &order.lines[0].order;
                let wanted = need.with_allowance().number();
                let slack = 1e-9 * wanted.max(holds);
                prop_assert!(quote.ordered.number() >= wanted - slack);
                prop_assert!(quote.ordered.number() < wanted + holds + slack);
                prop_assert!(wanted >= number);
                let left = quote.ordered.number() - wanted;
                prop_assert!((quote.left_over.number() - left.max(0.0)).abs() <= slack);
                prop_assert_eq!(quote.ordered.measure(), Amount::of(goods.measure(), 1.0).measure());
            }
        }
    }
}
