//! Searching the words of jobs.

use super::Index;
use crate::{StoreError, error::During};

/// Columns that a job's words stand in; a search weighs them apart.
pub const COLUMNS: usize = 7;

/// What must be found in a job. Its words hold letters and digits only; whatever else is in them is left out, so that no
/// input is an instruction to the search.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Term {
    /// A word that begins so.
    Beginning(String),
    /// These words, one after the other.
    Phrase(Vec<String>),
}

/// A job that was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found {
    /// Its number in the index.
    pub number: i64,
    /// The lower, the better.
    pub rank: f64,
}

impl Index {
    /// The jobs in which every term is found, best first; none if there is no term.
    pub fn find(&self, terms: &[Term], weights: [f64; COLUMNS]) -> Result<Vec<Found>, StoreError> {
        let terms: Vec<String> = terms.iter().filter_map(expression).collect();
        if terms.is_empty() {
            return Ok(Vec::new());
        }
        let doing = "searching the index";
        let [w0, w1, w2, w3, w4, w5, w6] = weights;
        let mut statement = self
            .connection
            .prepare_cached(
                "select rowid, bm25(words, ?2, ?3, ?4, ?5, ?6, ?7, ?8) from words where words match ?1",
            )
            .during(doing)?;
        let mut rows =
            statement.query((terms.join(" AND "), w0, w1, w2, w3, w4, w5, w6)).during(doing)?;
        let mut found = Vec::new();
        while let Some(row) = rows.next().during(doing)? {
            found
                .push(Found { number: row.get(0).during(doing)?, rank: row.get(1).during(doing)? });
        }
        found.sort_by(|one, other| {
            one.rank.total_cmp(&other.rank).then(one.number.cmp(&other.number))
        });
        Ok(found)
    }
}

/// A term as the search engine writes it; none if no letter or digit is left of it.
fn expression(term: &Term) -> Option<String> {
    let words: Vec<String> = match term {
        Term::Beginning(word) => vec![letters(word)],
        Term::Phrase(words) => words.iter().map(|word| letters(word)).collect(),
    };
    let words: Vec<String> = words.into_iter().filter(|word| !word.is_empty()).collect();
    if words.is_empty() {
        return None;
    }
    let star = if matches!(term, Term::Beginning(_)) { " *" } else { "" };
    Some(format!("\"{}\"{star}", words.join(" ")))
}

fn letters(word: &str) -> String {
    word.chars().filter(|letter| letter.is_alphanumeric()).collect()
}
