//! `nearside archive`: all jobs together: listed, searched, counted, written out for other programs.

mod export;
mod figures;
mod filter;
mod list;
mod rebuild;
mod search;

use ::archive::{Archive, ArchiveError, Updated};
use clap::{Args, Subcommand};
use store::Store;

use crate::arguments::print_help_of;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::progress;

/// All jobs together: lists them, finds words in any of them, counts how often what was found wrong.
///
/// What these commands look in is worked out from the jobs and kept beside them; each first brings up to date what has
/// changed. Figures are of your own jobs alone.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside archive list --kind fifth_wheel --from 2026-01-01\n  \
        nearside archive search regulator \"lock up\"\n  \
        nearside archive figures\n  \
        nearside archive figures tyres --per age --plot tyres.svg\n  \
        nearside archive export figures")]
pub(crate) struct ArchiveArguments {
    #[command(subcommand)]
    command: Option<ArchiveCommand>,
}

#[derive(Subcommand, Debug)]
enum ArchiveCommand {
    List(list::ListArguments),
    Search(search::SearchArguments),
    Figures(Box<figures::FiguresArguments>),
    Export(export::ExportArguments),
    Rebuild(rebuild::RebuildArguments),
}

pub(crate) fn run(place: &Place, arguments: &ArchiveArguments) -> Result<(), Failure> {
    match &arguments.command {
        None => {
            print_help_of(&["archive"]);
            Ok(())
        }
        Some(ArchiveCommand::List(list)) => list::run(place, list),
        Some(ArchiveCommand::Search(search)) => search::run(place, search),
        Some(ArchiveCommand::Figures(figures)) => figures::run(place, figures),
        Some(ArchiveCommand::Export(export)) => export::run(place, export),
        Some(ArchiveCommand::Rebuild(rebuild)) => rebuild::run(place, rebuild),
    }
}

/// The archive, up to date.
fn up_to_date(place: &Place) -> Result<Archive, Failure> {
    let store = place.store()?;
    let archive = Archive::open(&store)?;
    let updated = bring_up_to_date(&archive, &store)?;
    tell_trouble(&updated);
    Ok(archive)
}

fn bring_up_to_date(archive: &Archive, store: &Store) -> Result<Updated, Failure> {
    let bar = progress::bar(0, "working out");
    let updated = archive.update(store, &mut |at| show(&bar, at));
    bar.finish_and_clear();
    Ok(updated?)
}

fn show(bar: &indicatif::ProgressBar, at: ::archive::Progress) {
    let number = |count: usize| u64::try_from(count).unwrap_or(u64::MAX);
    bar.set_length(number(at.total));
    bar.set_position(number(at.done));
}

fn tell_trouble(updated: &Updated) {
    for (job, why) in &updated.troubled {
        eprintln!("note: job {job} is listed and not counted: {why}");
    }
}

impl From<ArchiveError> for Failure {
    fn from(error: ArchiveError) -> Self {
        match error {
            ArchiveError::NoWords | ArchiveError::TooManyWords { found: _, most: _ } => {
                Self::input(error)
            }
            ArchiveError::Damaged { what } => Self::failed(format!(
                "what was worked out from the jobs cannot be read: {what}"
            ))
            .hint(
                "the jobs themselves are not touched; `nearside archive rebuild` works it out anew",
            ),
            ArchiveError::Disk(_) => Self::failed(error),
            ArchiveError::Store(error) => error.into(),
        }
    }
}
