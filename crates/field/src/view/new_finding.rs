//! What a finding of a person's own begins with: what most of the defects of its point say.

use findings::{Defaults, defaults_at};
use inspection::{PointId, TimeToAct, Use};

use crate::Visit;

/// A finding before its first word is typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewFinding {
    /// Heading of its point; empty for none.
    pub point_title: String,
    /// Uses it stops.
    pub stops: Vec<Use>,
    /// How soon to act.
    pub when: TimeToAct,
    /// Whom to call, in the words that are shown.
    pub who: String,
}

impl Default for NewFinding {
    fn default() -> Self {
        Self {
            point_title: String::new(),
            stops: Vec::new(),
            when: TimeToAct::Soon,
            who: String::new(),
        }
    }
}

impl Visit {
    /// What a person's own finding begins with, at a point if there is one; all of it can be changed.
    #[must_use]
    pub fn new_finding(&self, point: Option<&PointId>) -> NewFinding {
        let known = point.and_then(|point| self.plan().point(point.as_str()));
        known.map_or_else(NewFinding::default, |point| {
            let Defaults { stops, when, who } = defaults_at(point);
            NewFinding { point_title: point.title.clone(), stops, when, who }
        })
    }

    /// Whom to call as it is recorded: what was offered in another language is recorded in the plan's own words, and said
    /// in the report's language again.
    pub(crate) fn who_recorded(&self, point: Option<&PointId>, who: &str) -> String {
        let offered = self.new_finding(point).who;
        let own = point.and_then(|point| self.plan_as_carried().point(point.as_str()));
        match own {
            Some(point) if who == offered => defaults_at(point).who,
            _ => who.to_owned(),
        }
    }
}
