//! How often a point was found wrong: counts by kind of unit, age and region, and what share that is.

use inspection::DwellingKind;
use jiff::civil::Date;

use crate::AgeBand;
use crate::interval::{Interval, wilson};
use crate::rows::JobRow;

/// Fewer examined than this are too few for a percentage.
pub const FEW: u32 = 10;

/// What to tell apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum By {
    /// The kind of unit.
    Kind,
    /// The band of its age at the first visit.
    Age,
    /// State, province or country.
    Region,
}

/// Which jobs count; none of a field leaves nobody out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Filter {
    /// Of this kind of unit.
    pub kind: Option<DwellingKind>,
    /// Of this age.
    pub age: Option<AgeBand>,
    /// In this region.
    pub region: Option<String>,
    /// For this purpose.
    pub purpose: Option<String>,
    /// First visited on this day or later.
    pub from: Option<Date>,
    /// First visited on this day or earlier.
    pub to: Option<Date>,
}

impl Filter {
    /// Whether a job counts.
    #[must_use]
    pub fn takes(&self, job: &JobRow) -> bool {
        let Self { kind, age, region, purpose, from, to } = self;
        kind.is_none_or(|kind| kind == job.kind)
            && age.is_none_or(|age| age == job.age_band())
            && region.as_ref().is_none_or(|region| *region == job.region)
            && purpose.as_ref().is_none_or(|purpose| *purpose == job.purpose)
            && from.is_none_or(|from| job.visited.is_some_and(|day| day >= from))
            && to.is_none_or(|to| job.visited.is_some_and(|day| day <= to))
    }
}

/// A question to the archive.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Question {
    /// Of this point alone; of every point if none.
    pub point: Option<String>,
    /// What is told apart.
    pub by: Vec<By>,
    /// Which jobs count.
    pub filter: Filter,
}

/// Jobs that are counted together; none of what is not told apart.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Group {
    /// Kind of unit.
    pub kind: Option<DwellingKind>,
    /// Age.
    pub age: Option<AgeBand>,
    /// Region.
    pub region: Option<String>,
}

/// How often what became of a point. What was found is counted where the point was examined.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Nothing was entered.
    pub nothing_entered: u32,
    /// Examined.
    pub examined: u32,
    /// Not examined.
    pub not_examined: u32,
    /// Not fitted.
    pub not_fitted: u32,
    /// Examined, with a finding that a person confirmed.
    pub found: u32,
    /// Examined, with a finding that nobody confirmed, and none that was.
    pub draft: u32,
    /// Examined, with a value that does not conform.
    pub not_conforming: u32,
    /// Examined, with a standing finding that stops a use.
    pub held: u32,
}

impl Counts {
    /// All jobs whose units have the point.
    #[must_use]
    pub fn jobs(&self) -> u32 {
        self.nothing_entered + self.examined + self.not_examined + self.not_fitted
    }

    /// How often a finding was confirmed where the point was examined.
    #[must_use]
    pub fn found_share(&self) -> Share {
        Share { part: self.found, whole: self.examined }
    }

    /// How often a use was held where the point was examined.
    #[must_use]
    pub fn held_share(&self) -> Share {
        Share { part: self.held, whole: self.examined }
    }
}

/// A point's counts in a group.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// The point's id.
    pub point: String,
    /// Which jobs.
    pub group: Group,
    /// The counts.
    pub counts: Counts,
}

/// So many of so many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share {
    /// How many.
    pub part: u32,
    /// Of how many.
    pub whole: u32,
}

impl Share {
    /// Whether there are too few for a percentage.
    #[must_use]
    pub fn is_of_few(self) -> bool {
        self.whole < FEW
    }

    /// The share, from 0 to 1; none of too few.
    #[must_use]
    pub fn value(self) -> Option<f64> {
        (!self.is_of_few()).then(|| f64::from(self.part) / f64::from(self.whole))
    }

    /// Where the share of all such inspections lies, at 95 %, if these are like them; none of nothing.
    #[must_use]
    pub fn interval(self) -> Option<Interval> {
        wilson(self.part, self.whole)
    }

    /// The lower end of that interval: what to sort by, so that a few of a few do not come before many of many.
    #[must_use]
    pub fn at_least(self) -> f64 {
        self.interval().map_or(0.0, |interval| interval.low)
    }

    /// Share and both ends of its interval in percent, as they are written; none of too few.
    #[must_use]
    pub fn written(self) -> Option<[String; 3]> {
        let interval = self.interval()?;
        Some([self.value()?, interval.low, interval.high].map(percent))
    }

    /// `12 of 80: 15 % (9 to 24 %)`, and of few `2 of 7 (too few for a percentage)`.
    #[must_use]
    pub fn words(self) -> String {
        let Self { part, whole } = self;
        match self.written() {
            Some([share, low, high]) => format!("{part} of {whole}: {share} % ({low} to {high} %)"),
            None if whole == 0 => "never examined".to_owned(),
            None => format!("{part} of {whole} (too few for a percentage)"),
        }
    }
}

/// A share in whole percent; with one decimal place near none and near all, where whole ones would hide it.
fn percent(share: f64) -> String {
    let percent = 100.0 * share;
    let plain = percent <= 0.0 || percent >= 100.0 || (1.0..=99.0).contains(&percent);
    if plain { format!("{percent:.0}") } else { format!("{percent:.1}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_of_few_is_never_a_percentage() {
        let check =
            |part, whole, expected: &str| assert_eq!(Share { part, whole }.words(), expected);
        check(0, 0, "never examined");
        check(2, 7, "2 of 7 (too few for a percentage)");
        check(9, 9, "9 of 9 (too few for a percentage)");
        check(12, 80, "12 of 80: 15 % (9 to 24 %)");
        check(0, 400, "0 of 400: 0 % (0 to 1.0 %)");
        check(400, 400, "400 of 400: 100 % (99.0 to 100 %)");
        check(3, 1000, "3 of 1000: 0.3 % (0.1 to 0.9 %)");
        assert_eq!(Share { part: 2, whole: 7 }.value(), None);
        assert!(Share { part: 2, whole: 7 }.interval().is_some());
    }

    #[test]
    fn many_of_many_come_before_a_few_of_a_few() {
        let many = Share { part: 60, whole: 100 };
        let few = Share { part: 2, whole: 2 };
        assert!(many.at_least() > few.at_least());
        assert!(Share { part: 0, whole: 0 }.at_least() < many.at_least());
    }
}
