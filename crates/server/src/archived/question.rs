//! What is asked, as it stands in an address.

use archive::{By, Counted, Filter, FilterProblem, FilterWords, Question};
use axum::{
    extract::{Query, rejection::QueryRejection},
    http::StatusCode,
};
use serde::Deserialize;
use sync::Refusal;

use crate::problem::Problem;

/// Everything that may be asked; what is left out leaves nobody out.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(crate) struct Asked {
    kind: String,
    age: String,
    region: String,
    purpose: String,
    from: String,
    to: String,
    /// The point; every one if empty.
    point: String,
    /// What is told apart: `kind`, `age`, `region`, with commas between.
    per: String,
    /// What is counted; `found` if empty.
    of: String,
    /// So many are left out at the beginning.
    after: usize,
    /// So many at most.
    most: Option<usize>,
}

/// What stands in the address.
pub(super) fn asked(query: Result<Query<Asked>, QueryRejection>) -> Result<Asked, Problem> {
    match query {
        Ok(Query(asked)) => Ok(asked),
        Err(rejection) => Err(Refusal::Unreadable { why: rejection.body_text() }.into()),
    }
}

/// No job's plan has the point that was asked for.
pub(super) fn no_point() -> Problem {
    refused("no_point", "no job's plan has that point".to_owned())
}

impl Asked {
    pub(super) fn filter(&self) -> Result<Filter, Problem> {
        let words = FilterWords {
            kind: &self.kind,
            age: &self.age,
            region: &self.region,
            purpose: &self.purpose,
            from: &self.from,
            to: &self.to,
        };
        Filter::read(&words).map_err(|problem| {
            let reason = match &problem {
                FilterProblem::Kind(_) => "no_kind",
                FilterProblem::Age(_) => "no_age",
                FilterProblem::From(_) | FilterProblem::To(_) => "no_day",
                FilterProblem::NoDay { .. } => "turned_days",
            };
            refused(reason, problem.to_string())
        })
    }

    pub(super) fn question(&self) -> Result<Question, Problem> {
        let by = self.per.split(',').map(str::trim).filter(|word| !word.is_empty());
        let by = by.map(|word| match word {
            "kind" => Ok(By::Kind),
            "age" => Ok(By::Age),
            "region" => Ok(By::Region),
            other => Err(refused("no_group", format!("jobs are not told apart by `{other}`"))),
        });
        let mut by = by.collect::<Result<Vec<By>, Problem>>()?;
        by.sort_unstable();
        by.dedup();
        let point = Some(self.point.trim().to_owned()).filter(|point| !point.is_empty());
        Ok(Question { point, by, filter: self.filter()? })
    }

    pub(super) fn counted(&self) -> Result<Counted, Problem> {
        match self.of.trim() {
            "" => Ok(Counted::default()),
            word => Counted::from_word(word)
                .ok_or_else(|| refused("no_count", format!("`{word}` is not counted"))),
        }
    }

    /// So many are left out, and at most so many given.
    pub(super) fn part(&self, (usual, most): (usize, usize)) -> (usize, usize) {
        (self.after, self.most.unwrap_or(usual).min(most))
    }
}

fn refused(reason: &str, detail: String) -> Problem {
    Problem::new(StatusCode::UNPROCESSABLE_ENTITY, reason, detail)
}
