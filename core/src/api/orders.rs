//! The order list: what is needed, what is ordered, what came, and what the dips say of the rest.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::plan_view::default_used;
use super::requests::{OfJob, PlanText};
use super::views::DefaultUsed;
use super::{Desk, Fault, job_view};
use crate::diary::Unit;
use crate::job::{
    DeliveryMade, JobState, MaterialStand, TickedLine, amount_says, material_stands, missing_says,
    ticked_order,
};
use crate::plan::Plan;
use crate::quantities::{
    Amount, Goods, Measure, Order, OrderLine, Quote, SoldIn, SupplierTotal, bags, loads,
};
use crate::units::{Mass, Money};
use crate::words::Phrase;

/// An order, with its deliveries where the job has begun.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct OrderListView {
    /// The currency of the prices; empty where there are none.
    pub currency: String,
    /// Line by line, in the order things are needed.
    pub lines: Vec<OrderLineView>,
    /// Deliveries of what is not on the order.
    pub others: Vec<DeliveredView>,
    /// What is ordered, together, as far as it has prices; none where that is beyond what can be
    /// held.
    #[ts(type = "number | null")]
    pub total_minor: Option<i64>,
    /// Lines without a price.
    pub unpriced: u32,
    /// Each supplier with what their offers come to.
    pub suppliers: Vec<SupplierView>,
    /// What is needed and not yet here, in words; empty where everything is.
    pub missing: String,
    /// Stone and bed sand by what was measured; empty before a job has begun.
    pub stands: Vec<MaterialView>,
    /// Every default that the order leans on.
    pub defaults: Vec<DefaultUsed>,
}

/// One line of an order. Amounts are in its measure.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct OrderLineView {
    /// What it is.
    pub what: Goods,
    /// Its measure.
    pub measure: Measure,
    /// What the job takes.
    pub need: f64,
    /// Ordered beyond it, per cent.
    pub allowance_percent: f64,
    /// The need with its allowance.
    pub with_allowance: f64,
    /// The need with its allowance, in words.
    pub says: Phrase,
    /// What is ordered.
    pub order: QuoteView,
    /// What others offer.
    pub others: Vec<QuoteView>,
    /// Delivered so far.
    pub delivered: f64,
    /// Ordered and not yet here.
    pub short: f64,
    /// Here and not ordered.
    pub over: f64,
    /// Needed and not yet here, the allowance left aside.
    pub missing: f64,
    /// Every delivery for it.
    pub deliveries: Vec<DeliveredView>,
}

/// What comes of one offer.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct QuoteView {
    /// Who; empty where that is not said.
    pub supplier: String,
    /// In what it is sold.
    pub sold_in: SoldIn,
    /// What one holds, in the line's measure.
    pub holds: f64,
    /// How many.
    pub count: u32,
    /// How many of what, in words.
    pub says: Phrase,
    /// What these hold together.
    pub ordered: f64,
    /// What is left of them when the need and its allowance are used.
    pub left_over: f64,
    /// What one costs, in minor units.
    #[ts(type = "number | null")]
    pub price_minor: Option<i64>,
    /// What they cost, in minor units.
    #[ts(type = "number | null")]
    pub total_minor: Option<i64>,
}

/// What one supplier would get.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct SupplierView {
    /// Who; empty for offers that name nobody.
    pub supplier: String,
    /// Lines of the order that this supplier can serve.
    pub lines: u32,
    /// How many of these have no price.
    pub unpriced: u32,
    /// Their prices together, in minor units.
    #[ts(type = "number | null")]
    pub total_minor: Option<i64>,
}

/// A delivery as the order list shows it.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct DeliveredView {
    /// The entry's identity.
    pub entry: String,
    /// When it came.
    pub at: String,
    /// Who logged it.
    pub who: String,
    /// What it was called.
    pub what: String,
    /// How much, as it was written down.
    pub quantity: f64,
    /// In which unit.
    pub unit: Unit,
    /// Number on the ticket.
    pub ticket: String,
    /// Who brought it.
    pub supplier: String,
    /// A kept photo by its SHA-256; empty without one.
    pub photo: String,
    /// The maker's batch.
    pub batch: String,
    /// Its colour.
    pub colour: String,
    /// Where it is stacked.
    pub stacked: String,
    /// What it counts for in the line's measure; none where that cannot be told.
    pub counts: Option<f64>,
}

/// Stone or bed sand as it stands.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct MaterialView {
    /// Which.
    pub what: Goods,
    /// The need as planned.
    pub planned_t: f64,
    /// The need by what was measured.
    pub needed_t: f64,
    /// Dips of the layer below that this rests on.
    pub dips: u32,
    /// Their mean depth to fill beyond the plan; none before the first.
    pub mean_short_mm: Option<f64>,
    /// Two standard errors, for what lies between the dips; none before the second.
    pub uncertainty_t: Option<f64>,
    /// Delivered so far.
    pub delivered_t: f64,
    /// In the ground, by the lifts that are measured whole; none before one is.
    pub placed_t: Option<f64>,
    /// How much more is needed than was delivered; negative where there is more.
    pub short_t: f64,
    /// That many more of what it is sold in; 0 where nothing is short.
    pub short_units: u32,
    /// That many barrows; 0 where nothing is short.
    pub short_barrows: u32,
    /// The area that what is here and not yet placed covers to its full depth.
    pub covers_m2: f64,
    /// In words.
    pub says: Phrase,
}

/// The order list of a job with its deliveries ticked against it.
///
/// # Errors
/// `not_found` for an unknown job.
pub fn order_list(desk: &mut Desk, arguments: OfJob) -> Result<OrderListView, Fault> {
    let (_, _, state) = job_view::load(desk, &arguments.job)?;
    Ok(of_state(&state))
}

/// The order list of a job as it stands.
pub(crate) fn of_state(state: &JobState) -> OrderListView {
    let ticked = ticked_order(state);
    let order = Order { lines: ticked.lines.iter().map(|ticked| ticked.line.clone()).collect() };
    let stands = material_stands(state, &ticked);
    OrderListView {
        lines: ticked.lines.iter().map(ticked_view).collect(),
        others: ticked.others.iter().map(|made| delivered(made, None)).collect(),
        missing: missing_says(&ticked.lines),
        stands: stands.iter().map(|stand| material(state, &ticked.lines, stand)).collect(),
        ..list(&state.plan, &order)
    }
}

/// The order list of a plan that is still being written.
///
/// # Errors
/// `bad_input` with every problem of the plan.
pub fn order_of_plan(_: &mut Desk, arguments: PlanText) -> Result<OrderListView, Fault> {
    let plan = Plan::parse(&arguments.text)?;
    let order = plan.order_alone();
    let nothing = |line: &OrderLine| TickedLine {
        line: line.clone(),
        deliveries: Vec::new(),
        delivered: Amount::of(line.need.goods.measure(), 0.0),
    };
    let lines: Vec<TickedLine> = order.lines.iter().map(nothing).collect();
    Ok(OrderListView {
        lines: lines.iter().map(ticked_view).collect(),
        missing: missing_says(&lines),
        ..list(&plan, &order)
    })
}

/// What an order says before any delivery, its lines left empty.
fn list(plan: &Plan, order: &Order) -> OrderListView {
    OrderListView {
        currency: plan.supply.currency.clone(),
        lines: Vec::new(),
        others: Vec::new(),
        total_minor: minor(order.total()),
        unpriced: order.unpriced(),
        suppliers: order.suppliers().into_iter().map(supplier).collect(),
        missing: String::new(),
        stands: Vec::new(),
        defaults: plan.every_default().map(default_used).filter(is_of_orders).collect(),
    }
}

/// Hours and vehicles change nothing that is ordered.
fn is_of_orders(default: &DefaultUsed) -> bool {
    let key = default.key.trim_start_matches('/');
    !(key.starts_with("rates") || key.starts_with("vehicles"))
}

fn minor(money: Option<Money>) -> Option<i64> {
    money.map(Money::to_minor)
}

fn supplier(total: SupplierTotal) -> SupplierView {
    SupplierView {
        supplier: total.supplier,
        lines: total.lines,
        unpriced: total.unpriced,
        total_minor: minor(total.total),
    }
}

fn ticked_view(ticked: &TickedLine) -> OrderLineView {
    let need = &ticked.line.need;
    OrderLineView {
        what: need.goods,
        measure: need.goods.measure(),
        need: need.amount.number(),
        allowance_percent: need.allowance_percent,
        with_allowance: need.with_allowance().number(),
        says: amount_says(need.with_allowance()),
        order: quote(&ticked.line.order),
        others: ticked.line.others.iter().map(quote).collect(),
        delivered: ticked.delivered.number(),
        short: ticked.short().number(),
        over: ticked.over().number(),
        missing: ticked.missing().number(),
        deliveries: ticked
            .deliveries
            .iter()
            .map(|(made, counts)| delivered(made, counts.map(Amount::number)))
            .collect(),
    }
}

fn quote(quote: &Quote) -> QuoteView {
    let holds = quote.offer.holds.number();
    QuoteView {
        supplier: quote.offer.supplier.clone(),
        sold_in: quote.offer.sold_in,
        holds,
        count: quote.count,
        says: Phrase::new(
            quote.offer.sold_in.word(),
            [("count", quote.count.into()), ("holds", holds.into())],
        ),
        ordered: quote.ordered.number(),
        left_over: quote.left_over.number(),
        price_minor: minor(quote.offer.price),
        total_minor: minor(quote.total),
    }
}

fn delivered(made: &DeliveryMade, counts: Option<f64>) -> DeliveredView {
    let delivery = &made.delivery;
    DeliveredView {
        entry: made.entry.to_string(),
        at: made.at.to_rfc3339(),
        who: made.who.clone(),
        what: delivery.what.clone(),
        quantity: delivery.quantity,
        unit: delivery.unit,
        ticket: delivery.ticket.clone(),
        supplier: delivery.supplier.clone(),
        photo: delivery.photo.clone(),
        batch: delivery.batch.clone(),
        colour: delivery.colour.clone(),
        stacked: delivery.stacked.clone(),
        counts,
    }
}

fn material(state: &JobState, lines: &[TickedLine], stand: &MaterialStand) -> MaterialView {
    let short = stand.short.max(Mass::ZERO);
    let line = lines.iter().find(|ticked| ticked.line.need.goods == stand.goods);
    let sold = line.and_then(|ticked| match ticked.line.order.offer.holds {
        Amount::Mass(holds) => Some(bags(short, holds).0),
        Amount::Pieces(_) | Amount::Volume(_) | Amount::Area(_) => None,
    });
    let barrows = state.plan.kit.barrow().zip(state.plan.loose_density(stand.goods));
    MaterialView {
        what: stand.goods,
        planned_t: stand.planned.to_t(),
        needed_t: stand.needed.to_t(),
        dips: stand.forecast.map_or(0, |forecast| forecast.dips),
        mean_short_mm: stand.forecast.map(|forecast| forecast.mean.to_mm()),
        uncertainty_t: stand.forecast.and_then(|f| f.uncertainty).map(Mass::to_t),
        delivered_t: stand.delivered.to_t(),
        placed_t: stand.placed.map(Mass::to_t),
        short_t: stand.short.to_t(),
        short_units: sold.unwrap_or(0),
        short_barrows: barrows
            .map_or(0, |(barrow, loose)| loads(short / loose, short, barrow).count),
        covers_m2: stand.covers.to_m2(),
        says: stand_says(stand),
    }
}

fn stand_says(stand: &MaterialStand) -> Phrase {
    let hundredths = |mass: Mass| (mass.to_t() * 100.0).round() / 100.0;
    let uncertainty = stand.forecast.and_then(|forecast| forecast.uncertainty);
    let code = match (stand.forecast, uncertainty, stand.short > Mass::ZERO) {
        (None, _, true) => "stand.short_as_planned",
        (None, _, false) => "stand.over_as_planned",
        (Some(_), None, true) => "stand.short_one_dip",
        (Some(_), None, false) => "stand.over_one_dip",
        (Some(_), Some(_), true) => "stand.short",
        (Some(_), Some(_), false) => "stand.over",
    };
    Phrase::new(
        code,
        [
            ("what", stand.goods.word().into()),
            ("short", hundredths(stand.short.abs()).into()),
            ("off", hundredths(uncertainty.unwrap_or(Mass::ZERO)).into()),
            ("covers", ((stand.covers.to_m2() * 10.0).round() / 10.0).into()),
            ("count", stand.forecast.map_or(0, |forecast| forecast.dips).into()),
        ],
    )
}
