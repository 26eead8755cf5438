//! A new job on the phone: the engagement, the unit, and the plan as it stands now.

use inspection::{Dwelling, Job};
use plan::{Files, Library};
use record::{Author, Record};

use crate::{Now, Said, trouble};

/// What a new job begins with.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct NewJob {
    /// The engagement; its plan is one of [`Plans`], and its day that of now if it has none.
    pub job: Job,
    /// The unit; with no equipment it starts with what such a unit usually has.
    pub dwelling: Dwelling,
}

/// The plans that a new job may follow. The caller brings their files: on the phone they are no part of the program, which
/// starts without them.
#[derive(Debug)]
pub struct Plans {
    shipped: Library,
}

impl Plans {
    /// Those of data files.
    ///
    /// # Errors
    /// How many problems the files have, and where the first of them stands.
    pub fn read(files: &Files) -> Result<Self, Said> {
        let shipped = plan::load(files).map_err(|problems| trouble::of_plans(&problems))?;
        Ok(Self { shipped })
    }

    /// Id and title of each, the title in the language of these texts where they have it.
    #[must_use]
    pub fn titles(&self, texts: Option<&plan::Texts>) -> Vec<(String, String)> {
        let own = |id: &str| Some(texts?.title_of_plan(id)?.to_owned());
        let plans = self.shipped.plans();
        plans.map(|(id, title)| (id.to_owned(), own(id).unwrap_or(title.to_owned()))).collect()
    }
}

/// A new job's first changes.
///
/// # Errors
/// A sentence that says what is missing.
pub fn new_job(
    author: &Author,
    now: Now,
    new: &NewJob,
    plans: &Plans,
) -> Result<Vec<Vec<u8>>, Said> {
    let library = &plans.shipped;
    let (mut job, mut dwelling) = (new.job.clone(), new.dwelling.clone());
    if job.number.trim().is_empty() {
        return Err(Said::new("refusal-no-number"));
    }
    if job.plan.is_empty() {
        job.plan = library.plans().map(|(id, _)| id.to_owned()).next().unwrap_or_default();
    }
    let text = library
        .frozen(&job.plan)
        .ok_or_else(|| Said::new("refusal-no-plan").with("plan", &job.plan))?;
    if job.purpose.is_empty() {
        job.purpose.clone_from(&job.plan);
    }
    if job.inspector.is_empty() {
        job.inspector.clone_from(&author.person);
    }
    if job.visits.is_empty() {
        job.visits.push(now.moment.local.date());
    }
    if dwelling.equipment.is_empty() {
        dwelling.equipment = library.typical(dwelling.kind);
    }
    let record = Record::create(author, now.unix_seconds, &job, &dwelling, &text)
        .map_err(|error| trouble::of_record(&error))?;
    Ok(record.changes_after(&[]).into_iter().map(|change| change.bytes).collect())
}
