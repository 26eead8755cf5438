//! The engagement at the desk: what is put to the client, and where their consent stands.

use findings::{Agreed, agreed, agreed_sha256};
use inspection::{Agreement, Consent, ConsentId, ConsentWay, Moment};

use crate::fee::{sums, typed};
use crate::{FeeSums, FeeTyped, Visit};

/// What was agreed, of whom and what.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EngagementSheet {
    /// The job's number.
    pub number: String,
    /// Who asked for it.
    pub client: String,
    /// How to reach them.
    pub contact: String,
    /// Where the unit stands.
    pub site: String,
    /// What the inspection is for.
    pub purpose: String,
    /// What will be examined.
    pub scope: String,
    /// What will not, or only in part.
    pub limits: String,
    /// What is put to the client; none where nothing is.
    pub agreement: Option<AgreementSheet>,
    /// Where the consent stands.
    pub standing: AgreementStanding,
    /// Every consent that was given, the last one first.
    pub consents: Vec<ConsentRow>,
}

/// What is put to the client beside that.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AgreementSheet {
    /// The unit, as the two speak of it.
    pub unit: String,
    /// The day agreed for the visit, `2026-06-12`; empty for none.
    pub day: String,
    /// Its language's code.
    pub language: String,
    /// The terms, paragraphs with an empty line between.
    pub terms: String,
    /// When and how the fee is paid.
    pub payment: String,
    /// The fee as it would be typed.
    pub fee: FeeTyped,
    /// The fee added up; nothing where there is none, or where it cannot be added up.
    pub sums: Option<FeeSums>,
}

/// Where the consent stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum AgreementStanding {
    /// Nothing was put to the client.
    #[default]
    Nothing,
    /// How the client agreed is recorded in words.
    InWords(String),
    /// It waits for the client's consent.
    Waiting,
    /// The client agreed to what is agreed now.
    Agreed(ConsentRow),
    /// It was changed since the client agreed, and needs a new consent.
    Changed(ConsentRow),
}

/// A consent that was given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ConsentRow {
    /// Its id.
    pub id: String,
    /// Who agreed.
    pub name: String,
    /// When, as people read it: `2026-06-03 18:12 (UTC−04:00)`.
    pub at: String,
    /// How: the key of a text.
    pub how: &'static str,
    /// The network address that it came from; empty where it came over none.
    pub address: String,
    /// Who entered it; empty for the client's own page.
    pub by: String,
    /// The drawn signature as the path of a drawing 1000 wide and 300 high; empty where none was drawn.
    pub drawn: String,
    /// Whether what it was given to is what is agreed now.
    pub holds: bool,
}

impl Visit {
    /// The engagement at the desk.
    #[must_use]
    pub fn engagement(&self) -> EngagementSheet {
        let job = &self.inspection().job;
        let engagement = &job.engagement;
        let now = agreed_sha256(job);
        let row = |id: &ConsentId| {
            engagement.consents.get(id).map(|consent| consent_row(id, consent, &now))
        };
        let mut given: Vec<(&ConsentId, &Consent)> = engagement.consents.iter().collect();
        given.sort_by_key(|(id, consent)| (consent.at.instant(), *id));
        let standing = match agreed(job) {
            Agreed::Nothing => AgreementStanding::Nothing,
            Agreed::InWords => AgreementStanding::InWords(engagement.consent.clone()),
            Agreed::Waiting => AgreementStanding::Waiting,
            Agreed::Holds(id) => row(&id).map_or_else(Default::default, AgreementStanding::Agreed),
            Agreed::Otherwise(id) => {
                row(&id).map_or_else(Default::default, AgreementStanding::Changed)
            }
        };
        EngagementSheet {
            number: job.number.clone(),
            client: job.client.name.clone(),
            contact: job.client.contact.clone(),
            site: job.site.address.clone(),
            purpose: job.purpose.clone(),
            scope: engagement.scope.clone(),
            limits: engagement.limits.clone(),
            agreement: engagement.agreement.as_ref().map(agreement_sheet),
            standing,
            consents: given
                .into_iter()
                .rev()
                .map(|(id, consent)| consent_row(id, consent, &now))
                .collect(),
        }
    }
}

fn agreement_sheet(agreement: &Agreement) -> AgreementSheet {
    let language = match agreement.language.as_str() {
        "" => "en",
        other => other,
    };
    AgreementSheet {
        unit: agreement.unit.clone(),
        day: agreement.day.map_or_else(String::new, |day| day.to_string()),
        language: language.to_owned(),
        terms: agreement.terms.join("\n\n"),
        payment: agreement.payment.clone(),
        fee: typed(&agreement.charges),
        sums: sums(&agreement.charges).ok().flatten(),
    }
}

fn consent_row(id: &ConsentId, consent: &Consent, now: &str) -> ConsentRow {
    let lines = consent.drawn.lines.iter().map(|line| {
        let points: Vec<String> =
            line.iter().map(|(right, down)| format!("{right} {down}")).collect();
        // A dot is a line of no length, which round ends show.
        format!("M{}L{}", points.join("L"), points.last().map_or("", String::as_str))
    });
    ConsentRow {
        id: id.to_string(),
        name: consent.name.clone(),
        at: moment(consent.at),
        how: match consent.how {
            ConsentWay::Typed => "consent-typed",
            ConsentWay::Drawn => "consent-drawn",
            ConsentWay::OnPaper => "consent-on-paper",
        },
        address: consent.address.clone(),
        by: if consent.by == consent.name { String::new() } else { consent.by.clone() },
        drawn: lines.collect(),
        holds: consent.agreed == now,
    }
}

/// A time with its offset from universal time, which belongs to a consent.
fn moment(at: Moment) -> String {
    let zone = at.offset_minutes.map_or_else(String::new, |minutes| {
        let sign = if minutes < 0 { '−' } else { '+' };
        let minutes = minutes.unsigned_abs();
        format!(" (UTC{sign}{:02}:{:02})", minutes / 60, minutes % 60)
    });
    let local = at.local;
    format!("{} {:02}:{:02}{zone}", local.date(), local.hour(), local.minute())
}
