//! Keys of the job: the engagement as a whole, and the plan it was made with.

use inspection::{Client, Engagement, Job, Site};

use super::{
    Entry, Fact, Facts, Writing,
    agreement::{agreement_facts, take_agreement, take_consents},
    consent_fact, consent_key, finite,
};

const NUMBER: &str = "number";
const PURPOSE: &str = "purpose";
const INSPECTOR: &str = "inspector";
const CREDENTIALS: &str = "credentials";
const CLIENT_NAME: &str = "client/name";
const CLIENT_CONTACT: &str = "client/contact";
const CLIENT_ROLE: &str = "client/role";
const SITE_ADDRESS: &str = "site/address";
const SITE_POSITION: &str = "site/position";
const SITE_ALTITUDE: &str = "site/altitude_metres";
const VISITS: &str = "visits/";
const WEATHER: &str = "weather";
const SCOPE: &str = "engagement/scope";
const LIMITS: &str = "engagement/limits";
const FEE: &str = "engagement/fee";
const CONSENT: &str = "engagement/consent";
const PLAN: &str = "plan";
/// Key of the SHA-256 of the plan's text, in lower-case hexadecimal.
pub(crate) const PLAN_HASH: &str = "plan_hash";
/// Key of the plan's whole text, in the section `plan`.
pub(crate) const PLAN_TEXT: &str = "text";

pub(crate) fn job_facts(job: &Job) -> Result<Facts, String> {
    let Job {
        number,
        purpose,
        inspector,
        credentials,
        client,
        site,
        visits,
        weather,
        engagement,
        plan,
        plan_hash,
    } = job;
    let mut writing = Writing::default();
    writing.text(NUMBER, number);
    writing.text(PURPOSE, purpose);
    writing.text(INSPECTOR, inspector);
    writing.text(CREDENTIALS, credentials);
    writing.text(CLIENT_NAME, &client.name);
    writing.text(CLIENT_CONTACT, &client.contact);
    writing.text(CLIENT_ROLE, &client.role);
    writing.text(SITE_ADDRESS, &site.address);
    if let Some((latitude, longitude)) = site.position {
        let latitude = finite("the latitude", latitude)?;
        let longitude = finite("the longitude", longitude)?;
        writing.put(SITE_POSITION, Fact::text(format!("{latitude} {longitude}")));
    }
    if let Some(altitude) = site.altitude_metres {
        writing.number(SITE_ALTITUDE, altitude)?;
    }
    for visit in visits {
        writing.put(&format!("{VISITS}{visit}"), Fact::Yes(true));
    }
    writing.text(WEATHER, weather);
    writing.text(SCOPE, &engagement.scope);
    writing.text(LIMITS, &engagement.limits);
    writing.text(FEE, &engagement.fee);
    writing.text(CONSENT, &engagement.consent);
    if let Some(agreement) = &engagement.agreement {
        writing.facts.extend(agreement_facts(agreement)?);
    }
    for (id, consent) in &engagement.consents {
        writing.put(&consent_key(id), consent_fact(consent)?);
    }
    writing.text(PLAN, plan);
    writing.text(PLAN_HASH, plan_hash);
    Ok(writing.facts)
}

/// Visits come back in the order of their dates, each once.
pub(crate) fn read_job(mut entry: Entry<'_, '_>) -> Job {
    let mut visits = Vec::new();
    for (text, _) in entry.several(VISITS) {
        visits.extend(entry.date_from("visits", &text));
    }
    visits.sort();
    let job = Job {
        number: entry.text(NUMBER),
        purpose: entry.text(PURPOSE),
        inspector: entry.text(INSPECTOR),
        credentials: entry.text(CREDENTIALS),
        client: Client {
            name: entry.text(CLIENT_NAME),
            contact: entry.text(CLIENT_CONTACT),
            role: entry.text(CLIENT_ROLE),
        },
        site: Site {
            address: entry.text(SITE_ADDRESS),
            position: entry.pair(SITE_POSITION),
            altitude_metres: entry.number(SITE_ALTITUDE),
        },
        visits,
        weather: entry.text(WEATHER),
        engagement: Engagement {
            scope: entry.text(SCOPE),
            limits: entry.text(LIMITS),
            fee: entry.text(FEE),
            consent: entry.text(CONSENT),
            agreement: take_agreement(&mut entry),
            consents: take_consents(&mut entry),
        },
        plan: entry.text(PLAN),
        plan_hash: entry.text(PLAN_HASH),
    };
    entry.finish();
    job
}
