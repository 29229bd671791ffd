//! What an entry says, in a sentence.

use super::site_view::site_says;
use crate::buildup::Layer;
use crate::diary::{Body, Delivery, Entry, Role, SignedPaper, Unit};
use crate::job::{DipTaken, JobState};
use crate::levels::Word;
use crate::words::{Phrase, Value, word};

/// A layer or lift as a place: "the bed", "lift 2".
pub(crate) fn place(layer: Layer, lift: Option<u32>) -> String {
    match (layer, lift) {
        (Layer::SubBase, Some(lift)) => Phrase::new("where.lift", [("lift", lift.into())]).text,
        (Layer::SubBase, None) => word("where.sub_base"),
        (Layer::Formation, _) => word("where.formation"),
        (Layer::Bed, _) => word("where.bed"),
        (Layer::Surface, _) => word("where.surface"),
    }
}

/// What an entry says. `first` is whether no plan stands before it.
pub(crate) fn says(entry: &Entry, state: &JobState, first: bool) -> Phrase {
    match entry.read() {
        Err(_) => Phrase::new("entry.unknown", [("kind", entry.kind.as_str().into())]),
        Ok(body) => body_says(&body, entry, state, first),
    }
}

fn body_says(body: &Body, entry: &Entry, state: &JobState, first: bool) -> Phrase {
    let text = |text: &str| Value::from(text);
    match body {
        Body::Plan(revision) => {
            let title = revision.plan.get("title").and_then(serde_json::Value::as_str);
            let code = if first { "entry.plan" } else { "entry.plan_revised" };
            Phrase::new(code, [("title", text(title.unwrap_or_default()))])
        }
        Body::Note(note) => Phrase::new("entry.note", [("text", text(&note.text))]),
        Body::Dip(dip) => {
            let answered = state.dips.iter().find(|d| d.entry == entry.id);
            dip_says(answered, dip)
        }
        Body::Pass(pass) => {
            let code = match pass.still_moving {
                None => "entry.pass",
                Some(true) => "entry.pass_moving",
                Some(false) => "entry.pass_firm",
            };
            let place = place(pass.layer, pass.lift);
            Phrase::new(code, [("where", place.into()), ("plant", text(&pass.plant))])
        }
        Body::Photo(photo) => {
            let code = match (photo.caption.is_empty(), photo.pin.is_empty()) {
                (true, true) => "entry.photo",
                (false, true) => "entry.photo_caption",
                (true, false) => "entry.photo_pin",
                (false, false) => "entry.photo_pin_caption",
            };
            let values = [
                ("stage", photo.stage.word().into()),
                ("caption", text(&photo.caption)),
                ("pin", text(&photo.pin)),
            ];
            Phrase::new(code, values)
        }
        Body::Check(check) => {
            let what = format!("@gate.{}", check.check.name()).into();
            if check.text.is_empty() {
                Phrase::new("entry.check", [("what", what)])
            } else {
                Phrase::new("entry.check_text", [("what", what), ("text", text(&check.text))])
            }
        }
        Body::Stage(closed) => {
            let code = match (closed.done, closed.reason.is_empty()) {
                (true, true) => "entry.stage_done",
                (true, false) => "entry.stage_reason",
                (false, true) => "entry.stage_open",
                (false, false) => "entry.stage_open_reason",
            };
            let stage = closed.stage.word().into();
            Phrase::new(code, [("stage", stage), ("reason", text(&closed.reason))])
        }
        Body::Delivery(delivery) => {
            let code =
                if delivery.ticket.is_empty() { "entry.delivery" } else { "entry.delivery_ticket" };
            let values = [
                ("what", text(&delivery.what)),
                ("quantity", delivery.quantity.into()),
                ("unit", text(delivery.unit.sign())),
                ("ticket", text(&delivery.ticket)),
                ("more", more_of(delivery).into()),
            ];
            Phrase::new(code, values)
        }
        Body::Record(record) => Phrase::new("entry.record", [("number", record.number.into())]),
        Body::Strike(strike) => Phrase::new("entry.strike", [("reason", text(&strike.reason))]),
        Body::Change(change) => {
            let planned = state.plan.supply.currency.as_str();
            let currency = if change.currency.is_empty() { planned } else { &change.currency };
            let price = change.price_minor().map_or_else(String::new, |p| money(p, currency));
            let values = [
                ("what", text(&change.what)),
                ("quantity", change.quantity.into()),
                ("unit", text(change.unit.sign())),
                ("rate", money(change.rate_minor, currency).into()),
                ("price", price.into()),
            ];
            let sum = change.unit == Unit::Sum;
            Phrase::new(if sum { "entry.change_sum" } else { "entry.change" }, values)
        }
        Body::Signature(signature) => {
            let role = match signature.role {
                Role::Customer => "@role.customer",
                Role::Layer => "@role.layer",
            };
            let paper = match signature.paper {
                SignedPaper::CompletionRecord => "@paper.completion_record",
                SignedPaper::ChangeNote => "@paper.change_note",
            };
            let values =
                [("name", text(&signature.name)), ("role", text(role)), ("paper", text(paper))];
            let typed = signature.typed;
            Phrase::new(if typed { "entry.signature_typed" } else { "entry.signature" }, values)
        }
        Body::SoftSpot(_)
        | Body::SoftSpotFilled(_)
        | Body::Weather(_)
        | Body::Spread(_)
        | Body::EdgeConcrete(_)
        | Body::DropRound(_)
        | Body::Snag(_)
        | Body::SnagClosed(_)
        | Body::PackOpened(_)
        | Body::PackEmptied(_)
        | Body::Forecast(_)
        | Body::DayClosed(_) => site_says(body, state),
    }
}

/// Decimals of a currency's minor unit by ISO 4217: a hundredth, but for those that have none, or
/// thousandths.
pub(crate) fn money_decimals(currency: &str) -> u32 {
    match currency {
        "JPY" | "KRW" | "ISK" | "CLP" | "VND" | "XAF" | "XOF" | "UGX" | "PYG" => 0,
        "KWD" | "BHD" | "OMR" | "JOD" | "TND" | "IQD" | "LYD" => 3,
        _ => 2,
    }
}

/// An amount in whole minor units with its currency's code: "43.43 GBP".
pub fn money(minor: u64, currency: &str) -> String {
    let decimals = money_decimals(currency);
    let one = 10_u64.pow(decimals);
    let (whole, part) = (minor / one, minor % one);
    let figure = match decimals {
        0 => whole.to_string(),
        _ => format!("{whole}.{part:0width$}", width = decimals as usize),
    };
    format!("{figure} {currency}").trim_end().to_owned()
}

/// What else is known of a delivery, as it follows the rest.
fn more_of(delivery: &Delivery) -> String {
    [
        ("entry.delivery_supplier", &delivery.supplier),
        ("entry.delivery_colour", &delivery.colour),
        ("entry.delivery_batch", &delivery.batch),
        ("entry.delivery_stacked", &delivery.stacked),
    ]
    .into_iter()
    .filter(|(_, text)| !text.is_empty())
    .map(|(code, text)| Phrase::new(code, [("text", text.as_str().into())]).text)
    .collect()
}

/// What is done about a layer that is high or low, as a key of the catalogue. What was dug too deep
/// is never filled with spoil; blocks are not scraped.
const fn act(layer: Layer, word: Word) -> &'static str {
    match (layer, word) {
        (_, Word::Right) => "@do.leave",
        (Layer::Formation, Word::Low) => "@do.fill_with_stone",
        (Layer::Surface, Word::Low) => "@do.lift_and_rebed",
        (Layer::Surface, Word::High) => "@do.plate_again",
        (_, Word::Low) => "@do.bring_up",
        (_, Word::High) => "@do.take_off",
    }
}

fn dip_says(answered: Option<&DipTaken>, dip: &crate::diary::Dip) -> Phrase {
    let code = match answered.map(|d| d.word) {
        Some(Word::High) => "entry.dip_high",
        Some(Word::Low) => "entry.dip_low",
        Some(Word::Right) => "entry.dip_right",
        None => "entry.dip_plain",
    };
    let off = answered.map_or(0.0, |d| d.high.to_mm().round().abs());
    let values = [
        ("where", place(dip.layer, dip.lift).into()),
        ("from", dip.from.as_str().into()),
        ("to", dip.to.as_str().into()),
        ("at", dip.at_m.into()),
        ("reading", dip.reading_mm.into()),
        ("off", off.into()),
        ("act", answered.map_or("", |d| act(dip.layer, d.word)).into()),
    ];
    Phrase::new(code, values)
}

#[cfg(test)]
mod tests {
    use super::money;

    #[test]
    fn amounts_have_the_decimals_of_their_currency() {
        assert_eq!(money(4343, "GBP"), "43.43 GBP");
        assert_eq!(money(5, ""), "0.05");
        assert_eq!(money(1200, "JPY"), "1200 JPY");
        assert_eq!(money(1200, "KWD"), "1.200 KWD");
    }
}
