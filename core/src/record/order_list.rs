//! What an order list says, as plain data.

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};

use crate::api::orders::{DeliveredView, OrderLineView, OrderListView, QuoteView};
use crate::api::views::DefaultUsed;
use crate::api::{money, orders};
use crate::job::{JobState, amount_says};
use crate::quantities::{Amount, Measure};
use crate::words::word;

/// An order list: for the merchant, and for whoever stands by when things come.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OrderList {
    /// The job's title.
    pub title: String,
    /// Where it goes; empty where the plan does not say.
    pub place: String,
    /// Who orders; empty where the plan does not say.
    pub by: String,
    /// When this paper was made, RFC 3339 with offset.
    pub made_at: String,
    /// The lines by who serves them, in the order things are needed.
    pub suppliers: Vec<FromSupplier>,
    /// What is ordered, together; empty without a price.
    pub total: String,
    /// Lines without a price.
    pub unpriced: u32,
    /// What others offer for the same lines.
    pub others: Vec<OtherOffer>,
    /// Everything delivered so far, what is not on the order last.
    pub delivered: Vec<Delivered>,
    /// What is needed and not yet here, in words; empty where everything is.
    pub missing: String,
    /// Every default that the order leans on.
    pub defaults: Vec<DefaultUsed>,
}

/// What is ordered from one supplier.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct FromSupplier {
    /// Who; empty where that is not said.
    pub supplier: String,
    /// What.
    pub lines: Vec<OrderedLine>,
    /// Together; empty without a price.
    pub total: String,
}

/// One line of an order, every amount with its unit.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OrderedLine {
    /// What it is.
    pub what: String,
    /// What the job takes.
    pub need: String,
    /// Ordered beyond it, per cent.
    pub allowance_percent: f64,
    /// The need with its allowance.
    pub with_allowance: String,
    /// How many of what it is sold in.
    pub order: String,
    /// What one of these holds; empty where it is sold by its own measure.
    pub holds: String,
    /// What is left when need and allowance are used.
    pub left_over: String,
    /// What one costs; empty without a price.
    pub price: String,
    /// What they cost; empty without a price.
    pub total: String,
    /// Delivered so far; empty where nothing was.
    pub delivered: String,
    /// Needed and not yet here, the allowance left aside; empty where it is.
    pub missing: String,
}

/// What another supplier offers for a line.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OtherOffer {
    /// What.
    pub what: String,
    /// Who; empty where that is not said.
    pub supplier: String,
    /// How many of what it is sold in.
    pub order: String,
    /// What is left when need and allowance are used.
    pub left_over: String,
    /// What they cost; empty without a price.
    pub total: String,
}

/// A delivery on the order list.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Delivered {
    /// When, RFC 3339 with offset.
    pub at: String,
    /// What it was called.
    pub what: String,
    /// How much, as it was written down.
    pub quantity: String,
    /// Number on the ticket; empty where none was noted.
    pub ticket: String,
    /// What it counts for; empty where that cannot be told, or it is not on the order.
    pub counts: String,
    /// Whether it is on the order.
    pub on_order: bool,
}

/// The order list of a job.
pub fn order_list(state: &JobState, made_at: DateTime<FixedOffset>) -> OrderList {
    let view = orders::of_state(state);
    let parties = &state.plan.parties;
    let currency = &view.currency;
    let ticked = view.lines.iter().flat_map(|line| {
        line.deliveries.iter().map(|delivery| delivered(delivery, Some(line.measure)))
    });
    OrderList {
        title: state.plan.title.clone(),
        place: parties.place.clone(),
        by: parties.by.clone(),
        made_at: made_at.to_rfc3339(),
        suppliers: suppliers(&view),
        total: if priced(&view) { cost(view.total_minor, currency) } else { String::new() },
        unpriced: view.unpriced,
        others: view.lines.iter().flat_map(|line| others(line, currency)).collect(),
        delivered: ticked.chain(view.others.iter().map(|other| delivered(other, None))).collect(),
        missing: view.missing.clone(),
        defaults: view.defaults.clone(),
    }
}

/// Whether anything has a price.
fn priced(view: &OrderListView) -> bool {
    view.lines.iter().any(|line| line.order.price_minor.is_some())
}

fn cost(minor: Option<i64>, currency: &str) -> String {
    minor.and_then(|m| u64::try_from(m).ok()).map_or_else(String::new, |m| money(m, currency))
}

/// The lines under whoever is first ordered from first.
fn suppliers(view: &OrderListView) -> Vec<FromSupplier> {
    let mut all: Vec<(FromSupplier, Option<i64>)> = Vec::new();
    for line in &view.lines {
        let supplier = &line.order.supplier;
        let (total, ordered) = (line.order.total_minor, ordered(line, &view.currency));
        match all.iter_mut().find(|(from, _)| from.supplier == *supplier) {
            Some((from, sum)) => {
                from.lines.push(ordered);
                *sum = match (*sum, total) {
                    (Some(sum), Some(more)) => sum.checked_add(more),
                    (one, other) => one.or(other),
                };
            }
            None => {
                let supplier = supplier.clone();
                let from = FromSupplier { supplier, lines: vec![ordered], total: String::new() };
                all.push((from, total));
            }
        }
    }
    let together = |(from, sum)| FromSupplier { total: cost(sum, &view.currency), ..from };
    all.into_iter().map(together).collect()
}

fn ordered(line: &OrderLineView, currency: &str) -> OrderedLine {
    let amount = |number: f64| amount_says(Amount::of(line.measure, number)).text;
    let unless_none = |number: f64| if number > 0.0 { amount(number) } else { String::new() };
    OrderedLine {
        what: name(line),
        need: amount(line.need),
        allowance_percent: line.allowance_percent,
        with_allowance: line.says.text.clone(),
        order: line.order.says.text.clone(),
        holds: holds(&line.order, line.measure),
        left_over: amount(line.order.left_over),
        price: cost(line.order.price_minor, currency),
        total: cost(line.order.total_minor, currency),
        delivered: unless_none(line.delivered),
        missing: unless_none(line.missing),
    }
}

fn name(line: &OrderLineView) -> String {
    word(line.what.word().trim_start_matches('@'))
}

/// What one holds, where the name of what it is sold in does not say it.
fn holds(quote: &QuoteView, measure: Measure) -> String {
    use crate::quantities::SoldIn;
    match quote.sold_in {
        SoldIn::Piece | SoldIn::Tonne | SoldIn::CubicMetre => String::new(),
        SoldIn::Pack | SoldIn::Bag | SoldIn::BulkBag | SoldIn::Roll => {
            amount_says(Amount::of(measure, quote.holds)).text
        }
    }
}

fn others(line: &OrderLineView, currency: &str) -> Vec<OtherOffer> {
    let offer = |quote: &QuoteView| OtherOffer {
        what: name(line),
        supplier: quote.supplier.clone(),
        order: quote.says.text.clone(),
        left_over: amount_says(Amount::of(line.measure, quote.left_over)).text,
        total: cost(quote.total_minor, currency),
    };
    line.others.iter().map(offer).collect()
}

/// A delivery; with the measure of its line where it is on the order.
fn delivered(delivery: &DeliveredView, line: Option<Measure>) -> Delivered {
    let counts = line.zip(delivery.counts);
    Delivered {
        at: delivery.at.clone(),
        what: delivery.what.clone(),
        quantity: format!("{} {}", delivery.quantity, delivery.unit.sign()),
        ticket: delivery.ticket.clone(),
        counts: counts.map(|(m, n)| amount_says(Amount::of(m, n)).text).unwrap_or_default(),
        on_order: line.is_some(),
    }
}
