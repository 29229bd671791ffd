//! The order list: for the merchant, and for ticking off what comes.

use fairfall_core::record::{Delivered, FromSupplier, OrderList, OrderedLine, OtherOffer};
use serde::Serialize;

use super::{Head, Prepared};
use crate::defaults::{self, DefaultWords};
use crate::error::PapersError;
use crate::paper::PaperSize;
use crate::words;

const TEMPLATE: &str = include_str!("../../templates/order-list.typ");

#[derive(Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
struct Page<'a> {
    #[serde(flatten)]
    head: Head,
    place: String,
    by: String,
    /// Whether anything has a price.
    priced: bool,
    suppliers: Vec<SupplierWords<'a>>,
    total: &'a str,
    unpriced: String,
    others: &'a [OtherOffer],
    delivered: Vec<DeliveredWords<'a>>,
    missing: &'a str,
    defaults: Vec<DefaultWords>,
}

#[derive(Debug, Serialize)]
struct SupplierWords<'a> {
    name: String,
    lines: Vec<LineWords<'a>>,
    total: &'a str,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
struct LineWords<'a> {
    what: &'a str,
    need: &'a str,
    allowance: String,
    with_allowance: &'a str,
    order: &'a str,
    holds: &'a str,
    left_over: &'a str,
    price: &'a str,
    total: &'a str,
    /// What came and what is still missing, in words; empty before the first delivery.
    came: String,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
struct DeliveredWords<'a> {
    at: String,
    what: &'a str,
    quantity: &'a str,
    ticket: Option<&'a str>,
    counts: &'a str,
    on_order: bool,
}

pub(super) fn prepared(list: &OrderList, size: PaperSize) -> Result<Prepared, PapersError> {
    let unpriced = words::count(list.unpriced, "line has no price", "lines have no price");
    let page = Page {
        head: Head::new("Order list".to_owned(), &list.title, &list.by, &list.made_at, size),
        place: words::stated(&list.place),
        by: words::stated(&list.by),
        priced: !list.total.is_empty(),
        suppliers: list.suppliers.iter().map(supplier).collect(),
        total: &list.total,
        unpriced: if list.unpriced > 0 { unpriced } else { String::new() },
        others: &list.others,
        delivered: list.delivered.iter().map(delivered).collect(),
        missing: &list.missing,
        defaults: list.defaults.iter().map(defaults::words).collect(),
    };
    Ok(Prepared {
        template: TEMPLATE,
        data: serde_json::to_value(page)?,
        files: Vec::new(),
        identity: format!("order list {} {}", list.made_at, list.title),
        made_at: list.made_at.clone(),
    })
}

fn supplier(from: &FromSupplier) -> SupplierWords<'_> {
    let named = from.supplier.trim();
    SupplierWords {
        name: if named.is_empty() { "Supplier not named".to_owned() } else { named.to_owned() },
        lines: from.lines.iter().map(line).collect(),
        total: &from.total,
    }
}

fn line(line: &OrderedLine) -> LineWords<'_> {
    let came = match (line.delivered.as_str(), line.missing.as_str()) {
        ("", _) => String::new(),
        (came, "") => format!("{came} came"),
        (came, missing) => format!("{came} came, {missing} still missing"),
    };
    LineWords {
        what: &line.what,
        need: &line.need,
        allowance: words::plain(line.allowance_percent),
        with_allowance: &line.with_allowance,
        order: &line.order,
        holds: &line.holds,
        left_over: &line.left_over,
        price: &line.price,
        total: &line.total,
        came,
    }
}

fn delivered(delivery: &Delivered) -> DeliveredWords<'_> {
    DeliveredWords {
        at: words::when(&delivery.at),
        what: &delivery.what,
        quantity: &delivery.quantity,
        ticket: (!delivery.ticket.is_empty()).then_some(delivery.ticket.as_str()),
        counts: &delivery.counts,
        on_order: delivery.on_order,
    }
}
