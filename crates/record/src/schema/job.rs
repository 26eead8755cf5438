//! Keys of the job: the engagement as a whole, and the plan it was made with.

use inspection::{ChangeHash, Client, EarlierJob, Engagement, Job, Site};

use super::{
    Entry, Fact, Facts, Writing,
    agreement::{agreement_facts, take_agreement, take_consents},
    consent_fact, consent_key, finite,
};
use crate::Refusal;

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
const EARLIER: &str = "earlier/job";
const EARLIER_VISIT: &str = "earlier/visit";
/// Heads of the earlier job's record, with spaces between.
const EARLIER_HEADS: &str = "earlier/heads";
/// Number of its last release, and the SHA-256 of everything in it, with a space between.
const EARLIER_RELEASE: &str = "earlier/release";
/// Key of the SHA-256 of the plan's text, in lower-case hexadecimal.
pub(crate) const PLAN_HASH: &str = "plan_hash";
/// Key of the plan's whole text, in the section `plan`.
pub(crate) const PLAN_TEXT: &str = "text";

pub(crate) fn job_facts(job: &Job) -> Result<Facts, Refusal> {
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
        earlier,
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
    if let Some(EarlierJob { number, visited, heads, release }) = earlier {
        writing.text(EARLIER, number);
        writing.date(EARLIER_VISIT, *visited);
        let heads: Vec<&str> = heads.iter().map(ChangeHash::as_str).collect();
        writing.text(EARLIER_HEADS, &heads.join(" "));
        if let Some((number, sha256)) = release {
            writing.text(EARLIER_RELEASE, &format!("{number} {sha256}"));
        }
    }
    Ok(writing.facts)
}

/// The earlier job; none where its number is not there.
fn read_earlier(entry: &mut Entry<'_, '_>) -> Option<EarlierJob> {
    let number = entry.text_if_any(EARLIER);
    let visited = entry.date(EARLIER_VISIT);
    let heads = entry.text(EARLIER_HEADS);
    let release = entry.text_if_any(EARLIER_RELEASE).and_then(|text| {
        let read = text
            .split_once(' ')
            .and_then(|(number, sha256)| Some((number.parse().ok()?, sha256.to_owned())));
        if read.is_none() {
            entry.trouble(format!(
                "`{EARLIER_RELEASE}` says `{text}`, where a number and a hash belong; it is left out"
            ));
        }
        read
    });
    Some(EarlierJob {
        number: number?,
        visited,
        heads: heads.split_whitespace().map(ChangeHash::from).collect(),
        release,
    })
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
        earlier: read_earlier(&mut entry),
    };
    entry.finish();
    job
}
