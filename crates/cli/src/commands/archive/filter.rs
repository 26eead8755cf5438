//! Which jobs count: options that list and figures share.

use ::archive::{AgeBand, Filter, FilterProblem, FilterWords};
use clap::Args;
use inspection::DwellingKind;

use crate::commands::near_hint;
use crate::failure::Failure;

/// Which jobs count.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct FilterArguments {
    /// Only this kind of unit: travel_trailer, fifth_wheel, park_trailer or manufactured_home
    #[arg(long, value_name = "KIND")]
    kind: Option<String>,
    /// Only units of this age at the first visit: 0-4, 5-9, 10-14, 15-19, 20-29, 30+ or unknown
    #[arg(long, value_name = "YEARS")]
    age: Option<String>,
    /// Only this region, as ISO 3166 codes it, such as US-VT, or unknown
    #[arg(long, value_name = "CODE")]
    region: Option<String>,
    /// Only inspections for this purpose, such as purchase
    #[arg(long, value_name = "WORD")]
    purpose: Option<String>,
    /// Only jobs first visited on this day or later, such as 2026-01-01
    #[arg(long, value_name = "DATE")]
    from: Option<String>,
    /// Only jobs first visited on this day or earlier
    #[arg(long, value_name = "DATE")]
    to: Option<String>,
}

impl FilterArguments {
    pub(crate) fn filter(&self) -> Result<Filter, Failure> {
        let typed = |text: &'_ Option<String>| text.clone().unwrap_or_default();
        let [kind, age, region, purpose, from, to] =
            [&self.kind, &self.age, &self.region, &self.purpose, &self.from, &self.to].map(typed);
        let words = FilterWords {
            kind: &kind,
            age: &age,
            region: &region,
            purpose: &purpose,
            from: &from,
            to: &to,
        };
        Filter::read(&words).map_err(|problem| match &problem {
            FilterProblem::Kind(word) => Failure::input(&problem)
                .hint(near_hint(word, DwellingKind::ALL.map(DwellingKind::word))),
            FilterProblem::Age(_) => {
                let known = AgeBand::ALL.map(AgeBand::word).join(", ");
                Failure::input(&problem).hint(format!("known: {known}"))
            }
            FilterProblem::From(_) => Failure::input(format!("--from: {problem}")),
            FilterProblem::To(_) => Failure::input(format!("--to: {problem}")),
            FilterProblem::NoDay { .. } => {
                Failure::input(&problem).hint("--from names the earlier day")
            }
        })
    }
}

/// What a filter says, in words; empty if it leaves nobody out.
pub(crate) fn in_words(filter: &Filter) -> String {
    let mut words = Vec::new();
    let Filter { kind, age, region, purpose, from, to } = filter;
    words.extend(kind.map(|kind| kind.title().to_owned()));
    words.extend(age.map(|age| format!("age {}", age.word())));
    words.extend(region.as_ref().map(|region| format!("region {region}")));
    words.extend(purpose.as_ref().map(|purpose| format!("for {purpose}")));
    words.extend(from.map(|day| format!("from {day}")));
    words.extend(to.map(|day| format!("to {day}")));
    words.join(", ")
}
