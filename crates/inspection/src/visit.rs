//! Things that run during a visit: unattended waits and the site's state.

use crate::{Moment, PointId};

/// An unattended span: a refrigerator cooling, a gas pressure test running.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wait {
    /// The point it belongs to.
    pub point: PointId,
    /// When it was started.
    pub started: Option<Moment>,
    /// When it was ended; none while it runs.
    pub ended: Option<Moment>,
    /// Who started it.
    pub by: String,
}

/// The site's state was changed: shore power on, gas off …
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SiteStateChange {
    /// Which state, by the words of `data/site_states.toml`.
    pub state: String,
    /// On or off.
    pub on: bool,
    /// When.
    pub at: Option<Moment>,
    /// Who.
    pub by: String,
}
