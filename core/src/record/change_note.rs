//! What a change note says, as plain data.

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};

use super::build::signatures;
use super::data::RecordSignature;
use crate::api::money;
use crate::diary::{Entry, SignedPaper, Unit};
use crate::job::{ChangeMade, JobState};

/// A change note: extra work that was found, measured, priced and agreed.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ChangeNote {
    /// Its number, from 1.
    pub number: u32,
    /// The job's title.
    pub title: String,
    /// Where it is; empty where the plan does not say.
    pub place: String,
    /// For whom; empty where the plan does not say.
    pub customer: String,
    /// Who lays it; empty where the plan does not say.
    pub by: String,
    /// When this paper was made, RFC 3339 with offset.
    pub made_at: String,
    /// When the change was noted, RFC 3339 with offset.
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
    /// The price.
    pub price: String,
    /// A photo of it: SHA-256 of the kept bytes.
    pub photo: Option<String>,
    /// Signatures drawn under it, the customer's first; none leaves lines to sign on.
    pub signatures: Vec<RecordSignature>,
}

/// What the note of a change says.
pub fn change_note(
    state: &JobState,
    entries: &[Entry],
    made: &ChangeMade,
    made_at: DateTime<FixedOffset>,
) -> ChangeNote {
    let (parties, change) = (&state.plan.parties, &made.change);
    let sum = change.unit == Unit::Sum;
    let own = change.currency.as_str();
    let currency = if own.is_empty() { &state.plan.supply.currency } else { own };
    let unless_sum = |text: String| if sum { String::new() } else { text };
    ChangeNote {
        number: made.number,
        title: state.plan.title.clone(),
        place: parties.place.clone(),
        customer: parties.customer.clone(),
        by: parties.by.clone(),
        made_at: made_at.to_rfc3339(),
        at: made.at.to_rfc3339(),
        who: made.who.clone(),
        what: change.what.clone(),
        agreed: change.agreed.clone(),
        quantity: unless_sum(format!("{} {}", change.quantity, change.unit.sign())),
        rate: unless_sum(money(change.rate_minor, currency)),
        price: change.price_minor().map_or_else(String::new, |p| money(p, currency)),
        photo: change.photo.clone(),
        signatures: signatures(state, entries, SignedPaper::ChangeNote, Some(made.entry), 0),
    }
}
