//! Reading one entry: its fields are taken out one by one, and what does not fit becomes a problem.

use std::borrow::Cow;

use inspection::Moment;
use jiff::civil::Date;

use super::{Fact, unescaped};
use crate::Problem;

/// One entry's fields on their way into plain data.
#[derive(Debug)]
pub(crate) struct Entry<'d, 'p> {
    place: String,
    facts: Vec<(Cow<'d, str>, Fact)>,
    problems: &'p mut Vec<Problem>,
}

impl<'d, 'p> Entry<'d, 'p> {
    pub(crate) fn new(
        place: String,
        facts: Vec<(Cow<'d, str>, Fact)>,
        problems: &'p mut Vec<Problem>,
    ) -> Self {
        Self { place, facts, problems }
    }

    /// Reports something that is wrong with this entry.
    pub(crate) fn trouble(&mut self, trouble: impl Into<String>) {
        self.problems.push(Problem { place: self.place.clone(), trouble: trouble.into() });
    }

    /// Takes a field's fact out; nothing if it is not there or was emptied.
    fn take(&mut self, field: &str) -> Option<Fact> {
        let index = self.facts.iter().position(|(name, _)| name == field)?;
        let (_, fact) = self.facts.swap_remove(index);
        (fact != Fact::Nothing).then_some(fact)
    }

    fn wrong_type(&mut self, field: &str, fact: &Fact, wanted: &str) {
        self.trouble(format!(
            "`{field}` is {}, where {wanted} belongs; it is left out",
            fact.type_in_words()
        ));
    }

    pub(crate) fn text_if_any(&mut self, field: &str) -> Option<String> {
        match self.take(field)? {
            Fact::Text(text) => Some(text),
            other => {
                self.wrong_type(field, &other, "a text");
                None
            }
        }
    }

    pub(crate) fn text(&mut self, field: &str) -> String {
        self.text_if_any(field).unwrap_or_default()
    }

    /// A text without which the entry means nothing.
    pub(crate) fn needed_text(&mut self, field: &str) -> Option<String> {
        let text = self.text_if_any(field);
        if text.is_none() {
            self.trouble(format!("`{field}` is missing, so the entry is left out"));
        }
        text
    }

    pub(crate) fn number(&mut self, field: &str) -> Option<f64> {
        match self.take(field)? {
            Fact::Number(number) if number.is_finite() => Some(number),
            Fact::Number(number) => {
                self.trouble(format!("`{field}` is {number}, no finite number; it is left out"));
                None
            }
            other => {
                self.wrong_type(field, &other, "a number");
                None
            }
        }
    }

    /// A whole number that fits its place.
    pub(crate) fn whole<N: TryFrom<i64>>(&mut self, field: &str) -> Option<N> {
        match self.take(field)? {
            Fact::Whole(number) => {
                let fitting = N::try_from(number).ok();
                if fitting.is_none() {
                    self.trouble(format!("`{field}` is {number}, which cannot be; it is left out"));
                }
                fitting
            }
            other => {
                self.wrong_type(field, &other, "a whole number");
                None
            }
        }
    }

    pub(crate) fn bits(&mut self, field: &str) -> Option<u64> {
        match self.take(field)? {
            Fact::Bits(bits) => Some(bits),
            other => {
                self.wrong_type(field, &other, "a pattern of bits");
                None
            }
        }
    }

    pub(crate) fn yes_or_no(&mut self, field: &str) -> Option<bool> {
        match self.take(field)? {
            Fact::Yes(yes) => Some(yes),
            other => {
                self.wrong_type(field, &other, "yes or no");
                None
            }
        }
    }

    pub(crate) fn date(&mut self, field: &str) -> Option<Date> {
        let text = self.text_if_any(field)?;
        self.date_from(field, &text)
    }

    pub(crate) fn date_from(&mut self, field: &str, text: &str) -> Option<Date> {
        let date = text.parse().ok();
        if date.is_none() {
            self.trouble(format!(
                "`{field}` says `{text}`, where a date like 2026-06-12 belongs; it is left out"
            ));
        }
        date
    }

    pub(crate) fn moment(&mut self, field: &str) -> Option<Moment> {
        let text = self.text_if_any(field)?;
        self.moment_from(field, &text)
    }

    pub(crate) fn moment_from(&mut self, field: &str, text: &str) -> Option<Moment> {
        match Moment::parse(text) {
            Ok(moment) => Some(moment),
            Err(sentence) => {
                self.trouble(format!("`{field}`: {sentence}; it is left out"));
                None
            }
        }
    }

    /// Two numbers written as one text, so that a merge cannot mix them.
    pub(crate) fn pair(&mut self, field: &str) -> Option<(f64, f64)> {
        let text = self.text_if_any(field)?;
        let pair = two_numbers(&text);
        if pair.is_none() {
            self.trouble(format!(
                "`{field}` says `{text}`, where two numbers like `0.25 0.5` belong; it is left out"
            ));
        }
        pair
    }

    /// Takes all fields with this prefix: what stands behind it, and the fact.
    pub(crate) fn several(&mut self, prefix: &str) -> Vec<(String, Fact)> {
        let mut taken = Vec::new();
        self.facts.retain_mut(|(name, fact)| match name.strip_prefix(prefix) {
            Some(rest) => {
                if *fact != Fact::Nothing {
                    taken.push((rest.to_owned(), fact.clone()));
                }
                false
            }
            None => true,
        });
        // Taking single fields out has shuffled the others.
        taken.sort_by(|(one, _), (other, _)| one.cmp(other));
        taken
    }

    /// Several things with a rank, in the order of rank and then of name.
    pub(crate) fn ranked(&mut self, prefix: &str) -> Vec<String> {
        let mut ranked = Vec::new();
        for (rest, fact) in self.several(prefix) {
            match fact {
                Fact::Whole(rank) => ranked.push((rank, rest)),
                other => self.wrong_type(&format!("{prefix}{rest}"), &other, "a whole number"),
            }
        }
        ranked.sort();
        ranked.into_iter().map(|(_, rest)| rest).collect()
    }

    /// As [`Self::ranked`], for things whose name is one part of the key.
    pub(crate) fn ranked_names(&mut self, prefix: &str) -> Vec<String> {
        self.ranked(prefix).iter().map(|name| unescaped(name)).collect()
    }

    /// Reports every field that nobody took: a newer version may have written it.
    pub(crate) fn finish(mut self) {
        let mut left: Vec<_> = std::mem::take(&mut self.facts)
            .into_iter()
            .filter(|(_, fact)| *fact != Fact::Nothing)
            .map(|(field, _)| field.into_owned())
            .collect();
        left.sort();
        for field in left {
            self.trouble(format!("`{field}` is unknown to this version; it is kept but not shown"));
        }
    }
}

/// Two finite numbers with a space between.
pub(crate) fn two_numbers(text: &str) -> Option<(f64, f64)> {
    let (first, second) = text.split_once(' ')?;
    let number = |text: &str| text.parse::<f64>().ok().filter(|number| number.is_finite());
    Some((number(first)?, number(second)?))
}
