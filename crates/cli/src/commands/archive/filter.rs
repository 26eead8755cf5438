//! Which jobs count: options that list and figures share.

use ::archive::{AgeBand, Filter};
use clap::Args;
use inspection::DwellingKind;
use jiff::civil::Date;

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
        let day = |text: &Option<String>, option: &str| -> Result<Option<Date>, Failure> {
            let Some(text) = text else { return Ok(None) };
            let day = text.trim().parse().map_err(|_| {
                Failure::input(format!("{option}: `{text}` is no day; write it like 2026-06-12"))
            });
            day.map(Some)
        };
        let kind = self.kind.as_deref().map(|word| {
            DwellingKind::from_word(word).ok_or_else(|| {
                Failure::input(format!("there is no kind of unit `{word}`"))
                    .hint(near_hint(word, DwellingKind::ALL.map(DwellingKind::word)))
            })
        });
        let age = self.age.as_deref().map(|word| {
            AgeBand::from_word(word).ok_or_else(|| {
                let known = AgeBand::ALL.map(AgeBand::word).join(", ");
                Failure::input(format!("ages are not told apart by `{word}`"))
                    .hint(format!("known: {known}"))
            })
        });
        let filter = Filter {
            kind: kind.transpose()?,
            age: age.transpose()?,
            region: self.region.clone(),
            purpose: self.purpose.clone(),
            from: day(&self.from, "--from")?,
            to: day(&self.to, "--to")?,
        };
        match (filter.from, filter.to) {
            (Some(from), Some(to)) if from > to => {
                Err(Failure::input(format!("no day lies from {from} to {to}"))
                    .hint("--from names the earlier day"))
            }
            _ => Ok(filter),
        }
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
