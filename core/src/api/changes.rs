//! Extra work and signatures on a screen: the price while it is typed, and what is signed by whom.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Desk, Fault, money_decimals};
use crate::diary::{Change, Entry, SignedPaper, Unit};
use crate::job::JobState;
use crate::plan::Problem;
use crate::record::{self, ChangeNote, RecordSignature};

/// Extra work as the papers screen lists it.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct ChangeView {
    /// The entry's identity.
    pub entry: String,
    /// The number of its note, from 1.
    pub number: u32,
    /// When it was noted.
    pub at: String,
    /// Who noted it.
    pub who: String,
    /// What is to be done, and why.
    pub what: String,
    /// How and with whom it was agreed; empty where it does not say.
    pub agreed: String,
    /// How much of it, with its unit; empty for one sum.
    pub quantity: String,
    /// The agreed price of one unit; empty for one sum.
    pub rate: String,
    /// The price; empty where it is beyond what is counted.
    pub price: String,
    /// Who signed its note.
    pub signatures: Vec<SignatureView>,
}

/// A signature as a screen shows it: by whom, as whom, when. The strokes stand on the paper.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
pub struct SignatureView {
    /// The signer's name in letters.
    pub name: String,
    /// As whom, in words.
    pub role: String,
    /// When.
    pub at: String,
    /// Whether it was drawn; else the name was typed.
    pub drawn: bool,
    /// Entries other than signatures that were logged after it.
    pub logged_since: u32,
}

/// A price as it is typed.
#[derive(Debug, Clone, Deserialize, TS)]
pub struct PriceTyped {
    /// How much, in its unit.
    pub quantity: String,
    /// In which unit.
    pub unit: Unit,
    /// The price of one unit: "96.50".
    pub rate: String,
    /// The currency's code; empty for none.
    pub currency: String,
}

/// What a typed price comes to.
#[derive(Debug, Clone, Serialize, TS)]
pub struct PriceLook {
    /// How much; none while it is no number.
    pub quantity: Option<f64>,
    /// The price of one unit in whole minor units; none while it is no amount.
    #[ts(type = "number | null")]
    pub rate_minor: Option<u64>,
    /// The price in words; empty while something is missing.
    pub price: String,
    /// What is wrong with what is typed; nothing is said of what is empty.
    pub problems: Vec<Problem>,
}

/// The price of extra work while it is typed.
///
/// # Errors
/// None; what is wrong is part of the answer.
pub fn change_price(_: &mut Desk, typed: PriceTyped) -> Result<PriceLook, Fault> {
    let mut problems = Vec::new();
    let mut wrong = |at: &str, problem: &str, right: &str| {
        problems.push(Problem::new(at, problem, right));
    };
    // One sum is one.
    let quantity = if typed.unit == Unit::Sum { "1" } else { typed.quantity.trim() };
    let number = quantity.replace(',', ".").parse::<f64>().ok();
    let number = number.filter(|number| *number > 0.0 && *number <= 1e6);
    if number.is_none() && !quantity.is_empty() {
        wrong("/quantity", "this is no quantity", "a number above 0, at most 1000000");
    }
    let currency = typed.currency.trim();
    let rate_minor = minor(&typed.rate, currency);
    if rate_minor.is_none() && !typed.rate.trim().is_empty() {
        let decimals = money_decimals(currency);
        let right = match decimals {
            0 => "a whole amount".to_owned(),
            some => format!("an amount with at most {some} decimals, such as 96.50"),
        };
        wrong("/rate", "this is no amount of money", &right);
    }
    let change = number.zip(rate_minor).map(|(quantity, rate_minor)| Change {
        what: String::new(),
        quantity,
        unit: typed.unit,
        rate_minor,
        currency: currency.to_owned(),
        photo: None,
        agreed: String::new(),
    });
    let price = change.and_then(|change| change.price_minor());
    let price = price.map(|price| super::money(price, currency)).unwrap_or_default();
    Ok(PriceLook { quantity: number, rate_minor, price, problems })
}

/// An amount of money as it is typed, in whole minor units; none where it is no amount, or finer than
/// the currency's minor unit.
fn minor(text: &str, currency: &str) -> Option<u64> {
    let text = text.trim().replace(',', ".");
    let (whole, part) = text.split_once('.').unwrap_or((&text, ""));
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    let decimals = money_decimals(currency) as usize;
    if whole.is_empty() || !digits(whole) || !digits(part) || part.len() > decimals {
        return None;
    }
    format!("{whole}{part:0<decimals$}").parse().ok()
}

/// Every change of a job that is not struck, with who signed it.
pub(super) fn changes(state: &JobState, entries: &[Entry]) -> Vec<ChangeView> {
    let view = |made: &crate::job::ChangeMade| {
        let ChangeNote { number, at, who, what, agreed, quantity, rate, price, signatures, .. } =
            record::change_note(state, entries, made, made.at);
        let signatures = signatures.iter().map(signature).collect();
        let entry = made.entry.to_string();
        ChangeView { entry, number, at, who, what, agreed, quantity, rate, price, signatures }
    };
    state.changes.iter().map(view).collect()
}

/// Who signed the issue of the completion record that had so many issues before it.
pub(super) fn signed_by(state: &JobState, entries: &[Entry], before: u32) -> Vec<SignatureView> {
    let paper = SignedPaper::CompletionRecord;
    let drawn = record::signatures(state, entries, paper, None, before);
    drawn.iter().map(signature).collect()
}

/// Signatures that the next issue of the completion record will carry.
pub(super) fn record_signatures(state: &JobState, entries: &[Entry]) -> Vec<SignatureView> {
    signed_by(state, entries, state.issues())
}

fn signature(signature: &RecordSignature) -> SignatureView {
    SignatureView {
        name: signature.name.clone(),
        role: signature.role.clone(),
        at: signature.at.clone(),
        drawn: !signature.strokes.is_empty(),
        logged_since: signature.logged_since,
    }
}

/// The currency that prices of a job are in: that of the newest change, else of the plan's order.
pub(super) fn currency(state: &JobState) -> String {
    let newest = state.changes.last().map(|made| made.change.currency.clone());
    newest.unwrap_or_else(|| state.plan.supply.currency.clone())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn money_is_read_to_the_minor_unit_and_no_finer() {
        // Minor units by ISO 4217: the pound has a hundredth, the yen none, the dinar of Kuwait a
        // thousandth.
        assert_eq!(minor("96.50", "GBP"), Some(9650));
        assert_eq!(minor(" 96,5 ", "GBP"), Some(9650));
        assert_eq!(minor("96", ""), Some(9600));
        assert_eq!(minor("96.505", "GBP"), None);
        assert_eq!(minor("9650", "JPY"), Some(9650));
        assert_eq!(minor("1.5", "JPY"), None);
        assert_eq!(minor("1.5", "KWD"), Some(1500));
        for nothing in ["", ".", ".5", "-1", "1e3", "1.2.3", "99999999999999999999", "£5"] {
            assert_eq!(minor(nothing, "GBP"), None, "{nothing}");
        }
    }
}
