//! Keys of what runs during a visit: unattended waits and changes of the site's state.

use inspection::{PointId, SiteStateChange, Wait};

use super::{Entry, Fact, Facts, Writing};
use crate::Refusal;

const POINT: &str = "point";
const STARTED: &str = "started";
/// When a wait was ended.
pub(crate) const ENDED: &str = "ended";
const BY: &str = "by";
const STATE: &str = "state";
const ON: &str = "on";
const AT: &str = "at";

pub(crate) fn wait_facts(wait: &Wait) -> Result<Facts, Refusal> {
    let Wait { point, started, ended, by } = wait;
    let mut writing = Writing::default();
    writing.put(POINT, Fact::text(point.as_str()));
    writing.moment(STARTED, *started)?;
    writing.moment(ENDED, *ended)?;
    writing.text(BY, by);
    Ok(writing.facts)
}

pub(crate) fn read_wait(mut entry: Entry<'_, '_>) -> Option<Wait> {
    let point = entry.needed_text(POINT);
    let started = entry.moment(STARTED);
    let ended = entry.moment(ENDED);
    let by = entry.text(BY);
    entry.finish();
    Some(Wait { point: PointId::from(point?), started, ended, by })
}

pub(crate) fn site_state_facts(change: &SiteStateChange) -> Result<Facts, Refusal> {
    let SiteStateChange { state, on, at, by } = change;
    let mut writing = Writing::default();
    writing.put(STATE, Fact::text(state));
    writing.put(ON, Fact::Yes(*on));
    writing.moment(AT, *at)?;
    writing.text(BY, by);
    Ok(writing.facts)
}

pub(crate) fn read_site_state(mut entry: Entry<'_, '_>) -> Option<SiteStateChange> {
    let state = entry.needed_text(STATE);
    let on = entry.yes_or_no(ON);
    if on.is_none() {
        entry.trouble("`on` is missing, so the entry is left out");
    }
    let at = entry.moment(AT);
    let by = entry.text(BY);
    entry.finish();
    Some(SiteStateChange { state: state?, on: on?, at, by })
}
