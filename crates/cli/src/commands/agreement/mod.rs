//! `nearside agreement`: what is agreed with the client before the visit, and their consent to it.

mod set;
mod share;
mod show;
mod sign;

pub(crate) use set::day;

use clap::{Args, Subcommand};

use crate::arguments::print_help_of;
use crate::data_folder::Place;
use crate::failure::Failure;

/// Says what is put to the client before the visit, lets them read and sign it, and shows where that stands.
///
/// A consent is given to one text. Whoever changes scope, limits, fee, terms, client, site, unit or day afterwards needs a
/// new one, and every command that looks at the job says so until then.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
    nearside agreement set 2026-001 --scope \"The whole unit\" --line \"Inspection = 425.00\" --tax \"Sales tax = 6 %\"\n  \
    nearside agreement show 2026-001 --pdf agreement.pdf\n  \
    nearside agreement share 2026-001 --days 14\n  \
    nearside agreement sign 2026-001 --name \"A. Client\"")]
pub(crate) struct AgreementArguments {
    #[command(subcommand)]
    command: Option<AgreementCommand>,
}

#[derive(Subcommand, Debug)]
enum AgreementCommand {
    Set(set::SetArguments),
    Show(show::ShowArguments),
    Sign(sign::SignArguments),
    Share(share::ShareArguments),
}

pub(crate) fn run(place: &Place, arguments: &AgreementArguments) -> Result<(), Failure> {
    match &arguments.command {
        None => {
            print_help_of(&["agreement"]);
            Ok(())
        }
        Some(AgreementCommand::Set(set)) => set::run(place, set),
        Some(AgreementCommand::Show(show)) => show::run(place, show),
        Some(AgreementCommand::Sign(sign)) => sign::run(place, sign),
        Some(AgreementCommand::Share(share)) => share::run(place, share),
    }
}
