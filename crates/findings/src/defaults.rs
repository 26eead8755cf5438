//! What a finding that a person writes at a point begins with: what most of the point's own defects say.

use inspection::{TimeToAct, Use};
use plan::{Defect, Point};

/// Uses, when and who, to be corrected by the person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Defaults {
    /// Uses that at least half of the point's defects stop.
    pub stops: Vec<Use>,
    /// How soon: what most of them say, the sooner of two that are as many.
    pub when: TimeToAct,
    /// Whom to call: what most of them say, the first of two that are as many; empty where they say nothing.
    pub who: String,
}

/// What a person's own finding at this point begins with.
#[must_use]
pub fn defaults_at(point: &Point) -> Defaults {
    let defects = &point.defects;
    let stops = Use::ALL.into_iter().filter(|one| {
        let stopping = defects.iter().filter(|defect| defect.stops.contains(one)).count();
        stopping > 0 && 2 * stopping >= defects.len()
    });
    let times =
        TimeToAct::ALL.into_iter().map(|when| (when, how_many(defects, |it| it.when == when)));
    let callers = defects
        .iter()
        .filter(|defect| !defect.who.is_empty())
        .map(|defect| (defect.who.as_str(), how_many(defects, |other| other.who == defect.who)));
    Defaults {
        stops: stops.collect(),
        when: most(times).filter(|_| !defects.is_empty()).unwrap_or(TimeToAct::Soon),
        who: most(callers).unwrap_or_default().to_owned(),
    }
}

fn how_many(defects: &[Defect], is: impl Fn(&Defect) -> bool) -> usize {
    defects.iter().filter(|defect| is(defect)).count()
}

/// What is counted most often, the first of several that are as many.
fn most<T>(counted: impl Iterator<Item = (T, usize)>) -> Option<T> {
    let first = |best: (T, usize), other: (T, usize)| if other.1 > best.1 { other } else { best };
    counted.reduce(first).map(|(one, _)| one)
}
