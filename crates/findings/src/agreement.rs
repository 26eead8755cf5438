//! Whether the client has agreed to what is agreed now, and what to see to before the visit.

use inspection::{ChargeLine, Charges, ConsentId, Inspection, Job, Tax, Taxed};
use jiff::civil::Date;
use sha2::{Digest, Sha256};

use crate::{About, Gap, Missing};

/// Where the agreement with the client stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Agreed {
    /// Nothing was put to the client with this program, and no word of a consent is recorded.
    Nothing,
    /// How the client agreed is recorded in words alone.
    InWords,
    /// It waits for the client's first consent.
    Waiting,
    /// The client agreed to what is agreed now.
    Holds(ConsentId),
    /// The client agreed to something else since: the last consent there is.
    Otherwise(ConsentId),
}

/// Where the agreement stands. A consent holds only while what was agreed then is what is agreed now.
#[must_use]
pub fn agreed(job: &Job) -> Agreed {
    let engagement = &job.engagement;
    let last = |now: Option<&str>| {
        let matching = engagement
            .consents
            .iter()
            .filter(|(_, consent)| now.is_none_or(|now| consent.agreed == now));
        matching.max_by_key(|(id, consent)| (consent.at.instant(), *id)).map(|(id, _)| id.clone())
    };
    if let Some(id) = last(Some(&agreed_sha256(job))) {
        return Agreed::Holds(id);
    }
    if let Some(id) = last(None) {
        return Agreed::Otherwise(id);
    }
    match (&engagement.agreement, engagement.consent.trim()) {
        (Some(_), _) => Agreed::Waiting,
        (None, "") => Agreed::Nothing,
        (None, _) => Agreed::InWords,
    }
}

/// SHA-256 of everything that is agreed: whoever changes any of it needs a new consent. Not among it: what a visit teaches
/// (the unit's plate, the weather), how to reach the client, and the visits' days as they were kept.
#[must_use]
pub fn agreed_sha256(job: &Job) -> String {
    let agreement = job.engagement.agreement.clone().unwrap_or_default();
    let mut hash = Sha256::new();
    let mut add = |name: &str, value: &str| {
        // Lengths first, so that no two agreements give the same bytes.
        hash.update(format!("{name} {}\n", value.len()));
        hash.update(value);
    };
    add("nearside agreement", "1");
    add("job", &job.number);
    add("client", &job.client.name);
    add("inspector", &job.inspector);
    add("purpose", &job.purpose);
    add("site", &job.site.address);
    add("unit", &agreement.unit);
    add("day", &agreement.day.map_or_else(String::new, |day| day.to_string()));
    add("scope", &job.engagement.scope);
    add("limits", &job.engagement.limits);
    add("language", &agreement.language);
    add("plan", &job.plan_hash);
    for paragraph in &agreement.terms {
        add("term", paragraph);
    }
    add("payment", &agreement.payment);
    let Charges { currency, lines, taxes } = &agreement.charges;
    add("currency", currency.code());
    for Tax { name, rate } in taxes {
        add("tax", name);
        add("rate", &rate.millionths.to_string());
    }
    for ChargeLine { text, amount, taxed } in lines {
        add("line", text);
        add("amount", &amount.to_string());
        match taxed {
            Taxed::All => add("taxed", "all"),
            Taxed::Untaxed => add("taxed", "none"),
            Taxed::Only(name) => add("taxed by", name),
        }
    }
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

/// What the agreement still wants.
pub(crate) fn gaps(inspection: &Inspection) -> Option<Missing> {
    let (what, sentence) = match agreed(&inspection.job) {
        Agreed::Nothing | Agreed::InWords | Agreed::Holds(_) => return None,
        Agreed::Waiting => (
            Gap::NotAgreed,
            "the client has not agreed to the terms yet; let them read and sign the agreement"
                .to_owned(),
        ),
        Agreed::Otherwise(id) => {
            let last = inspection.job.engagement.consents.get(&id);
            let since = last.map_or_else(String::new, |consent| {
                format!(" since {} agreed on {}", consent.name, consent.at.local.date())
            });
            (
                Gap::AgreedOtherwise,
                format!("the agreement has changed{since}; it needs a new consent"),
            )
        }
    };
    Some(Missing { what, point: None, about: About::Agreement, sentence })
}

/// Instruments whose calibration will have run out on a day, or is not known, in sentences: for whoever packs the bag before
/// a visit. Unlike what an assessment misses, this asks of every instrument of the job, used or not.
#[must_use]
pub fn calibrations_before(inspection: &Inspection, day: Date) -> Vec<String> {
    let mut sentences = Vec::new();
    for (id, instrument) in &inspection.instruments {
        let name = if instrument.name.is_empty() {
            crate::values::words(id.as_str())
        } else {
            instrument.name.clone()
        };
        match instrument.calibration_due {
            Some(due) if due < day => sentences.push(format!(
                "{name}: its calibration runs out on {due}, before the visit on {day}; calibrate it, or take another"
            )),
            None if instrument.calibrated.is_none() => sentences.push(format!(
                "{name}: no calibration is recorded; add its date, or say that it has none"
            )),
            Some(_) | None => {}
        }
    }
    sentences
}

#[cfg(test)]
mod tests {
    use inspection::{Agreement, Consent, ConsentWay, Currency, DrawnSignature, Moment, TaxRate};

    use super::*;

    fn line() -> ChargeLine {
        ChargeLine { text: "a".into(), amount: 1, taxed: Taxed::All }
    }

    fn consent(job: &Job, at: &str) -> Consent {
        Consent {
            name: "A. Client".into(),
            at: Moment::parse(at).unwrap(),
            how: ConsentWay::Typed,
            address: "192.0.2.7".into(),
            drawn: DrawnSignature::default(),
            agreed: agreed_sha256(job),
            text: "the text".into(),
            by: String::new(),
        }
    }

    #[test]
    fn a_consent_holds_until_anything_that_was_agreed_changes() {
        let mut job = Job::default();
        assert_eq!(agreed(&job), Agreed::Nothing);
        job.engagement.consent = "by telephone".into();
        assert_eq!(agreed(&job), Agreed::InWords);
        job.engagement.agreement = Some(Agreement::default());
        assert_eq!(agreed(&job), Agreed::Waiting);
        let id = ConsentId::from("1");
        job.engagement.consents.insert(id.clone(), consent(&job, "2026-06-03T18:12-04:00"));
        assert_eq!(agreed(&job), Agreed::Holds(id.clone()));

        let changes: [fn(&mut Job); 13] = [
            |job| job.engagement.scope.push('x'),
            |job| job.engagement.limits.push('x'),
            |job| job.client.name.push('x'),
            |job| job.inspector.push('x'),
            |job| job.site.address.push('x'),
            |job| job.purpose.push('x'),
            |job| agreement(job).unit.push('x'),
            |job| agreement(job).day = Some(Date::constant(2026, 6, 11)),
            |job| agreement(job).terms.push("more".into()),
            |job| agreement(job).payment.push('x'),
            |job| agreement(job).charges.lines.push(line()),
            |job| {
                agreement(job)
                    .charges
                    .taxes
                    .push(Tax { name: "t".into(), rate: TaxRate::default() });
            },
            |job| agreement(job).charges.currency = Currency::from_code("EUR").unwrap(),
        ];
        for (at, change) in changes.into_iter().enumerate() {
            let mut changed = job.clone();
            change(&mut changed);
            assert_eq!(agreed(&changed), Agreed::Otherwise(id.clone()), "change {at}");
            let again = ConsentId::from("2");
            changed
                .engagement
                .consents
                .insert(again.clone(), consent(&changed, "2026-06-04T08:00-04:00"));
            assert_eq!(agreed(&changed), Agreed::Holds(again), "change {at}");
        }
        // What the visit teaches takes no consent back.
        job.weather.push('x');
        job.client.contact.push('x');
        job.visits.push(Date::constant(2026, 6, 12));
        assert_eq!(agreed(&job), Agreed::Holds(id));
    }

    fn agreement(job: &mut Job) -> &mut Agreement {
        job.engagement.agreement.get_or_insert_default()
    }

    #[test]
    fn what_is_not_agreed_is_missing() {
        let mut inspection = Inspection::default();
        assert_eq!(gaps(&inspection), None);
        inspection.job.engagement.agreement = Some(Agreement::default());
        assert_eq!(gaps(&inspection).unwrap().what, Gap::NotAgreed);
        let given = consent(&inspection.job, "2026-06-03T18:12-04:00");
        inspection.job.engagement.consents.insert("1".into(), given);
        assert_eq!(gaps(&inspection), None);
        inspection.job.engagement.scope = "the roof as well".into();
        let missing = gaps(&inspection).unwrap();
        assert_eq!(missing.what, Gap::AgreedOtherwise);
        assert_eq!(
            missing.sentence,
            "the agreement has changed since A. Client agreed on 2026-06-03; it needs a new consent"
        );
    }
}
