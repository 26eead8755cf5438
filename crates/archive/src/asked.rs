//! What is asked of the archive in words, and its answers for whoever shows them: the command line and the server.

use std::collections::BTreeMap;

use inspection::DwellingKind;
use jiff::civil::Date;
use serde_json::{Value as Json, json};

use crate::AgeBand;
use crate::figures::{Counts, FEW, Figure, Filter, Question, Share};
use crate::plot::Axis;

/// Which jobs count, as somebody typed it; empty leaves nobody out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FilterWords<'a> {
    /// Kind of unit.
    pub kind: &'a str,
    /// Band of ages.
    pub age: &'a str,
    /// Region.
    pub region: &'a str,
    /// Purpose.
    pub purpose: &'a str,
    /// The first day.
    pub from: &'a str,
    /// The last day.
    pub to: &'a str,
}

/// What of such words cannot be.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FilterProblem {
    /// No kind is called so.
    #[error("there is no kind of unit `{0}`")]
    Kind(String),
    /// No band of ages is called so.
    #[error("ages are not told apart by `{0}`")]
    Age(String),
    /// The first day is none.
    #[error("`{0}` is no day; write it like 2026-06-12")]
    From(String),
    /// The last day is none.
    #[error("`{0}` is no day; write it like 2026-06-12")]
    To(String),
    /// The last day lies before the first.
    #[error("no day lies from {from} to {to}")]
    NoDay {
        /// The first day.
        from: Date,
        /// The last.
        to: Date,
    },
}

impl Filter {
    /// Reads the words.
    ///
    /// # Errors
    /// What of them cannot be.
    pub fn read(words: &FilterWords<'_>) -> Result<Self, FilterProblem> {
        let typed = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
        let kind = typed(words.kind)
            .map(|word| DwellingKind::from_word(&word).ok_or(FilterProblem::Kind(word)));
        let age =
            typed(words.age).map(|word| AgeBand::from_word(&word).ok_or(FilterProblem::Age(word)));
        let day = |text: &str, problem: fn(String) -> FilterProblem| {
            typed(text).map(|text| text.parse::<Date>().map_err(|_| problem(text))).transpose()
        };
        let filter = Self {
            kind: kind.transpose()?,
            age: age.transpose()?,
            region: typed(words.region),
            purpose: typed(words.purpose),
            from: day(words.from, FilterProblem::From)?,
            to: day(words.to, FilterProblem::To)?,
        };
        match (filter.from, filter.to) {
            (Some(from), Some(to)) if from > to => Err(FilterProblem::NoDay { from, to }),
            _ => Ok(filter),
        }
    }

    /// As JSON.
    #[must_use]
    pub fn json(&self) -> Json {
        json!({
            "kind": self.kind.map(DwellingKind::word),
            "age": self.age.map(AgeBand::word),
            "region": self.region,
            "purpose": self.purpose,
            "from": self.from.map(|day| day.to_string()),
            "to": self.to.map(|day| day.to_string()),
        })
    }
}

/// What is counted of a point, among the jobs in which it was examined.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Counted {
    /// Findings that a person confirmed.
    #[default]
    Found,
    /// Values that do not conform.
    NotConforming,
    /// Uses that a standing finding stops.
    Held,
}

impl Counted {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Found, Self::NotConforming, Self::Held];

    /// The word in options, addresses and files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Found => "found",
            Self::NotConforming => "not-conforming",
            Self::Held => "held",
        }
    }

    /// The one with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.word() == word)
    }

    /// Its share of the examined.
    #[must_use]
    pub fn share(self, counts: &Counts) -> Share {
        let part = match self {
            Self::Found => counts.found,
            Self::NotConforming => counts.not_conforming,
            Self::Held => counts.held,
        };
        Share { part, whole: counts.examined }
    }
}

/// The answer to a question: its lines, those of all points the worst first.
#[derive(Clone, Debug, PartialEq)]
pub struct Answered {
    /// What was asked.
    pub question: Question,
    /// What was counted.
    pub counted: Counted,
    /// The lines.
    pub figures: Vec<Figure>,
    /// What plans call the points, by their ids.
    pub titles: BTreeMap<String, String>,
}

impl Answered {
    pub(crate) fn new(
        question: Question,
        counted: Counted,
        mut figures: Vec<Figure>,
        titles: BTreeMap<String, String>,
    ) -> Self {
        if question.point.is_none() {
            figures.sort_by(|one, other| {
                let [one, other] = [one, other].map(|it| counted.share(&it.counts));
                other.at_least().total_cmp(&one.at_least()).then(other.whole.cmp(&one.whole))
            });
        }
        Self { question, counted, figures, titles }
    }

    /// Leaves out the lines of points that were never examined, which are many and say nothing where all points are asked
    /// for; how many those were.
    pub fn without_never_examined(&mut self) -> usize {
        let all = self.figures.len();
        if self.question.point.is_none() {
            self.figures.retain(|figure| figure.counts.examined > 0);
        }
        all - self.figures.len()
    }

    /// As JSON: the lines from `after` on, at most so many of them. Beside each share as numbers stands how it is written:
    /// rounded here, and nowhere else.
    #[must_use]
    pub fn json(&self, after: usize, most: usize) -> Json {
        let shown: Vec<&Figure> = self.figures.iter().skip(after).take(most).collect();
        let axis = Axis::of(shown.iter().map(|figure| self.counted.share(&figure.counts)));
        let lines: Vec<Json> = shown.into_iter().map(|figure| self.line(figure)).collect();
        json!({
            "of": self.counted.word(),
            "interval": "Wilson score interval, 95 %",
            "too_few_below": FEW,
            "filter": self.question.filter.json(),
            "axis": {"end": axis.end, "steps": axis.steps},
            "figures": lines,
        })
    }

    fn line(&self, figure: &Figure) -> Json {
        let counts = &figure.counts;
        let share = self.counted.share(counts);
        let interval = share.interval();
        let written = share.written().map(|[share, low, high]| json!([share, low, high]));
        json!({
            "point": figure.point,
            "title": self.titles.get(&figure.point),
            "kind": figure.group.kind.map(DwellingKind::word),
            "age": figure.group.age.map(AgeBand::word),
            "region": figure.group.region,
            "jobs": counts.jobs(),
            "examined": counts.examined,
            "not_examined": counts.not_examined,
            "not_fitted": counts.not_fitted,
            "nothing_entered": counts.nothing_entered,
            "found": counts.found,
            "draft": counts.draft,
            "not_conforming": counts.not_conforming,
            "held": counts.held,
            "part": share.part,
            "share": share.value(),
            "too_few": share.is_of_few(),
            "low": interval.map(|it| it.low),
            "high": interval.map(|it| it.high),
            "percent": written,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_become_a_filter_or_it_is_said_which_of_them_cannot() {
        let words =
            FilterWords { kind: " fifth_wheel ", from: "2026-01-01", ..FilterWords::default() };
        let filter = Filter::read(&words).unwrap();
        assert_eq!((filter.kind, filter.region), (Some(DwellingKind::FifthWheel), None));
        assert_eq!(Filter::read(&FilterWords::default()), Ok(Filter::default()));
        let check = |words: FilterWords<'_>, said: &str| {
            assert_eq!(Filter::read(&words).unwrap_err().to_string(), said);
        };
        let none = FilterWords::default();
        check(FilterWords { kind: "boat", ..none.clone() }, "there is no kind of unit `boat`");
        check(FilterWords { age: "7", ..none.clone() }, "ages are not told apart by `7`");
        check(
            FilterWords { to: "June", ..none.clone() },
            "`June` is no day; write it like 2026-06-12",
        );
        check(
            FilterWords { from: "2026-02-01", to: "2026-01-01", ..none },
            "no day lies from 2026-02-01 to 2026-01-01",
        );
    }

    #[test]
    fn every_word_of_what_is_counted_reads_back() {
        for one in Counted::ALL {
            assert_eq!(Counted::from_word(one.word()), Some(one));
        }
    }
}
