//! `nearside invoice cancel`: an invoice taken back by a credit note with a number of its own.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use serde_json::json;

use super::show::write_pdf;
use crate::commands::agreement::day;
use crate::commands::report::PaperSize;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::invoices;
use crate::office::new_invoice::credit;
use crate::today;

/// Takes an invoice back: a credit note of the same lines under the next number. The invoice stays.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: nearside invoice cancel 2026-0001 --because \"wrong client\" --pdf credit.pdf"
)]
pub(crate) struct CancelArguments {
    /// The invoice's number
    number: String,
    /// Why, in words for the credit note
    #[arg(long, value_name = "WORDS")]
    because: String,
    /// The day of the credit note; today if left out
    #[arg(long, value_name = "DATE")]
    date: Option<String>,
    /// Write the credit note as a PDF as well
    #[arg(long, value_name = "FILE")]
    pdf: Option<PathBuf>,
    /// Size of the PDF's pages
    #[arg(long, value_enum, default_value_t = PaperSize::Letter)]
    paper: PaperSize,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &CancelArguments) -> Result<(), Failure> {
    let store = place.store()?;
    let kept = invoices::with_number(&store, &arguments.number)?;
    let because = arguments.because.trim();
    if because.is_empty() || because.chars().any(char::is_control) {
        return Err(Failure::input("--because: say why the invoice is taken back, on one line"));
    }
    let date = arguments.date.as_deref().map(|text| day(text, "--date")).transpose()?;
    let made = credit(&store, &kept, because, date.unwrap_or_else(today::today))?;
    if let Some(file) = &arguments.pdf {
        write_pdf(place, &made, &[], arguments.paper.paper(), file)?;
    }
    let paid = kept.stored.paid();
    if paid > 0 {
        eprintln!(
            "note: {} was paid on {} and is to be returned; note it with --amount -{}",
            made.money().write_with_code(paid),
            kept.facts.number,
            made.money().write(paid)
        );
    }
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({"credit_note": made.number, "cancels": made.cancels, "total": -made.total, "currency": made.currency});
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "credit note {} takes back invoice {}", made.number, made.cancels)?;
    Ok(())
}
