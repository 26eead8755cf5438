//! The job: one engagement with a client, for a dwelling at a site.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::{Agreement, ChangeHash, Consent, ConsentId};

/// The engagement as a whole.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Job {
    /// The job's number, as the inspector counts.
    pub number: String,
    /// What the inspection is for, such as `purchase`; the plan is chosen by it.
    pub purpose: String,
    /// The inspector who signs.
    pub inspector: String,
    /// The inspector's licence, certificate or membership, as it should be printed.
    pub credentials: String,
    /// Who asked for it.
    pub client: Client,
    /// Where the unit stands.
    pub site: Site,
    /// Days of the visits, in order.
    pub visits: Vec<Date>,
    /// Weather during the visit, in words.
    pub weather: String,
    /// What was agreed.
    pub engagement: Engagement,
    /// Id of the plan, such as `purchase`.
    pub plan: String,
    /// SHA-256 of the plan's whole text when the job was made: an old job reads the same for ever.
    pub plan_hash: String,
    /// The job whose unit this one inspects again; none for a first inspection.
    pub earlier: Option<EarlierJob>,
}

/// The job that another one inspects again, as it stood when that one was made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct EarlierJob {
    /// Its number.
    pub number: String,
    /// The day of its last visit, if it had one.
    pub visited: Option<Date>,
    /// The heads of its record: together they name everything that it said.
    pub heads: Vec<ChangeHash>,
    /// Its last release: number, and SHA-256 of everything in it; none if it was never released.
    pub release: Option<(u32, String)>,
}

/// Who asked for the inspection.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Client {
    /// Name as the report is addressed.
    pub name: String,
    /// How to reach the client.
    pub contact: String,
    /// What the client is to the unit: buyer, owner, lender …
    pub role: String,
}

/// Where the unit stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Site {
    /// Postal address or description of the pitch.
    pub address: String,
    /// Latitude in degrees north and longitude in degrees east, if known.
    pub position: Option<(f64, f64)>,
    /// Height above sea level, metres, if known.
    pub altitude_metres: Option<f64>,
}

/// What was agreed before the visit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Engagement {
    /// What will be inspected.
    pub scope: String,
    /// What will not, or only in part.
    pub limits: String,
    /// The fee, as agreed, in words with its currency.
    pub fee: String,
    /// How and when the client agreed, in words: for consents that this program did not take.
    pub consent: String,
    /// What was put to the client for consent; none where nothing was.
    pub agreement: Option<Agreement>,
    /// Every consent that the client gave. Which one holds is derived.
    pub consents: BTreeMap<ConsentId, Consent>,
}
