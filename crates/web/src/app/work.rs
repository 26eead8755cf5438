//! The part of the program that works in a job: record, plan, judgement, and the job's screens. It is a file of its own,
//! and the start does not wait for it.
//!
//! What the rest of the program reaches through [`Work`] alone, and whatever only that reaches, lies in the other file.
//! So nothing but `file` here may name what the pointers point to: it would else have to be there from the start.

use std::cell::Cell;

use field::{Act, JobTexts, NewJob, Now, Plans, Said, UnitSystem, Visit, new_job};
use leptos::prelude::*;
use record::Author;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use super::App;

/// What can be done in a job.
#[derive(Clone, Copy)]
pub(crate) struct Work {
    /// Opens a visit from its changes.
    pub(super) open: fn(&[Vec<u8>], Author) -> Result<Visit, Said>,
    /// Does what a person did.
    pub(super) act: fn(&mut Visit, Act, Now) -> Made,
    /// Takes changes of other devices in; what is wrong with them, in sentences.
    pub(super) arrived: fn(&mut Visit, &[Vec<u8>]) -> Vec<Said>,
    /// Reads the plans that ship.
    pub(super) read_plans: fn(&str) -> Result<Plans, Said>,
    /// Reads what they say in another language.
    pub(super) read_texts: fn(&str) -> plan::Texts,
    /// Shows a visit's plan with these texts, as the job carries it without any.
    pub(super) speak: fn(&mut Visit, Option<&plan::Texts>),
    /// Makes a job's first changes.
    pub(super) new_job: fn(&Author, Now, &NewJob, &Plans) -> Made,
    /// Takes the texts out of a job, for searching.
    pub(super) texts_of: TextsOf,
    /// The screen of the open job.
    pub(crate) screen: fn() -> AnyView,
    /// The screen of all jobs together.
    pub(crate) archive: fn() -> AnyView,
}

/// Changes that were made, or why not.
type Made = Result<Vec<Vec<u8>>, Said>;
type TextsOf = fn(&[Vec<u8>], Author, Option<&plan::Texts>, UnitSystem) -> Result<JobTexts, Said>;

thread_local! {
    static HERE: Cell<Option<Work>> = const { Cell::new(None) };
}

/// It, if it has come; so wherever a job is open.
pub(crate) fn work_here() -> Option<Work> {
    HERE.get()
}

impl App {
    /// It, as soon as it has come; else why it cannot be had, in a sentence.
    pub(crate) async fn work(self) -> Result<Work, String> {
        if let Some(work) = work_here() {
            return Ok(work);
        }
        let work = file().await.map_err(|Missing| self.texts().say("shell-work-missing"))?;
        HERE.set(Some(work));
        Ok(work)
    }
}

/// The file cannot be had.
struct Missing;

impl From<SplitLoaderError> for Missing {
    fn from(_: SplitLoaderError) -> Self {
        Self
    }
}

/// Everything behind these pointers is in the other file, and is fetched when this is called first.
#[wasm_split(work, fallible)]
fn file() -> Result<Work, Missing> {
    Ok(Work {
        open: Visit::open,
        act: Visit::act,
        arrived: Visit::arrived,
        read_plans: |text| Plans::read(&plan::Files::from_text(text)),
        read_texts: plan::Texts::from_text,
        speak: Visit::speak,
        new_job,
        texts_of: JobTexts::read,
        screen: crate::screens::job_screen,
        archive: crate::screens::archive_screen,
    })
}
