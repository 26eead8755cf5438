//! `nearside job`: make a job, print its sheet, take the filled one in, look at what is there, take one in from a bag.

mod again;
pub(crate) mod fill;
mod fill_photos;
mod import;
mod list;
pub(crate) mod new;
mod sheet;
mod show;

use clap::{Args, Subcommand};

use crate::data_folder::Place;
use crate::failure::Failure;

/// Makes jobs, prints the sheet of one to fill in, takes the filled sheet in.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside job new --kind travel_trailer --client \"A. Client\" --inspector \"B. Inspector\"\n  \
        nearside job sheet 2026-001 --out sheet.toml\n  \
        nearside job fill 2026-001 sheet.toml --photos photos\n  \
        nearside job show 2026-001\n  \
        nearside job again 2026-001 2026-009\n  \
        nearside job import 2026-001.zip")]
pub(crate) struct JobArguments {
    #[command(subcommand)]
    command: JobCommand,
}

#[derive(Subcommand, Debug)]
enum JobCommand {
    New(Box<new::NewArguments>),
    Again(Box<again::AgainArguments>),
    List(list::ListArguments),
    Show(show::ShowArguments),
    Sheet(sheet::SheetArguments),
    Fill(fill::FillArguments),
    Import(import::ImportArguments),
}

pub(crate) fn run(place: &Place, arguments: &JobArguments) -> Result<(), Failure> {
    match &arguments.command {
        JobCommand::New(arguments) => new::run(place, arguments),
        JobCommand::Again(arguments) => again::run(place, arguments),
        JobCommand::List(arguments) => list::run(place, arguments),
        JobCommand::Show(arguments) => show::run(place, arguments),
        JobCommand::Sheet(arguments) => sheet::run(place, arguments),
        JobCommand::Fill(arguments) => fill::run(place, arguments),
        JobCommand::Import(arguments) => import::run(place, arguments),
    }
}
