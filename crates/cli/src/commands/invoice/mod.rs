//! `nearside invoice`: what a job costs, numbered without a gap, and what was paid.

mod cancel;
mod list;
pub(crate) mod make;
mod paid;
mod seller;
pub(crate) mod show;

use clap::{Args, Subcommand};

use crate::arguments::print_help_of;
use crate::data_folder::Place;
use crate::failure::Failure;

/// Makes invoices, numbered without a gap, notes what was paid, and takes one back by a credit note.
///
/// What stands on an invoice never changes once its number is drawn, and none is ever deleted.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
    nearside invoice seller --name \"B. Inspector\" --address \"1 Ferry Road\" --payment \"By card or cheque\" --prefix 2026-\n  \
    nearside invoice make 2026-001 --days 14 --pdf invoice.pdf\n  \
    nearside invoice paid 2026-0001 --how card\n  \
    nearside invoice cancel 2026-0001 --because \"wrong client\"\n  \
    nearside invoice list")]
pub(crate) struct InvoiceArguments {
    #[command(subcommand)]
    command: Option<InvoiceCommand>,
}

#[derive(Subcommand, Debug)]
enum InvoiceCommand {
    Seller(seller::SellerArguments),
    Make(make::MakeArguments),
    Show(show::ShowArguments),
    List(list::ListArguments),
    Paid(paid::PaidArguments),
    Cancel(cancel::CancelArguments),
}

pub(crate) fn run(place: &Place, arguments: &InvoiceArguments) -> Result<(), Failure> {
    match &arguments.command {
        None => {
            print_help_of(&["invoice"]);
            Ok(())
        }
        Some(InvoiceCommand::Seller(seller)) => seller::run(place, seller),
        Some(InvoiceCommand::Make(make)) => make::run(place, make),
        Some(InvoiceCommand::Show(show)) => show::run(place, show),
        Some(InvoiceCommand::List(list)) => list::run(place, list),
        Some(InvoiceCommand::Paid(paid)) => paid::run(place, paid),
        Some(InvoiceCommand::Cancel(cancel)) => cancel::run(place, cancel),
    }
}
