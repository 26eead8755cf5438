//! What a report says of its release: the caller states the facts, the words are chosen here.

use plan::Phrases;
use quantity::UnitSystem;

use super::words;
use crate::content::{Accepted, Corrected, Issued, Released};

/// The release that a report belongs to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Issue {
    /// Which release of the job, from 1.
    pub number: u32,
    /// When.
    pub at: Issued,
    /// The release that it corrects; none for the first.
    pub corrects: Option<Correction>,
    /// Every matter that was open, in a sentence, and the words in which it was accepted.
    pub accepted: Vec<(String, String)>,
}

/// The release before it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Correction {
    /// Its number.
    pub number: u32,
    /// When it was released.
    pub at: Issued,
    /// What was changed and why.
    pub because: String,
}

pub(super) fn released(say: &Phrases, issue: &Issue, units: UnitSystem) -> Released {
    Released {
        number: issue.number,
        at: words::issued(say, issue.at, units),
        corrects: issue.corrects.as_ref().map(|corrects| Corrected {
            number: corrects.number,
            day: words::issued_day(say, corrects.at, units),
            because: corrects.because.clone(),
        }),
        accepted: accepted(&issue.accepted),
    }
}

/// The matters by the words in which they were accepted, in the order in which these come up.
fn accepted(all: &[(String, String)]) -> Vec<Accepted> {
    let mut by_words: Vec<Accepted> = Vec::new();
    for (matter, words) in all {
        match by_words.iter_mut().find(|one| one.words == *words) {
            Some(one) => one.matters.push(matter.clone()),
            None => {
                by_words.push(Accepted { words: words.clone(), matters: vec![matter.clone()] });
            }
        }
    }
    by_words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn matters_that_were_accepted_in_the_same_words_stand_together() {
        let pair = |matter: &str, words: &str| (matter.to_owned(), words.to_owned());
        let all = [pair("tires", "no key"), pair("roof", "told"), pair("sink", "no key")];
        let found: Vec<(String, String)> =
            accepted(&all).into_iter().map(|one| (one.words, one.matters.join(", "))).collect();
        assert_eq!(found, [pair("no key", "tires, sink"), pair("told", "roof")]);
    }
}
