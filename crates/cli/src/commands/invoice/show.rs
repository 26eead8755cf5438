//! `nearside invoice show`: one invoice or credit note, in words or as a PDF.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use report::content::Paper;
use report::letter::{InvoiceFacts, Letter, PaidOn, invoice, letter_pdf};
use serde_json::json;

use super::list;
use crate::commands::report::PaperSize;
use crate::data_folder::{Place, write_file};
use crate::failure::Failure;
use crate::office::{agreements::program, invoices};

/// Shows an invoice or a credit note; with --pdf it is written as one, archival and accessible.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside invoice show 2026-0001\n  nearside invoice show 2026-0001 --pdf invoice.pdf --paper a4"
)]
pub(crate) struct ShowArguments {
    /// Its number, as `list` shows it
    number: String,
    /// Write it as a PDF as well, with its data attached
    #[arg(long, value_name = "FILE")]
    pdf: Option<PathBuf>,
    /// Size of the PDF's pages
    #[arg(long, value_enum, default_value_t = PaperSize::Letter)]
    paper: PaperSize,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &ShowArguments) -> Result<(), Failure> {
    let kept = invoices::with_number(&place.store()?, &arguments.number)?;
    if let Some(file) = &arguments.pdf {
        write_pdf(place, &kept.facts, &kept.paid(), arguments.paper.paper(), file)?;
    }
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let mut object = list::object(&kept);
        let facts = serde_json::to_value(&kept.facts)
            .map_err(|error| Failure::failed(format!("the invoice cannot be written: {error}")))?;
        object["facts"] = facts;
        object["pdf"] = json!(arguments.pdf.as_ref().map(|file| file.display().to_string()));
        writeln!(out, "{object}")?;
        return Ok(());
    }
    let paper = arguments.paper.paper();
    writeln!(out, "{}", letter(place, &kept.facts, &kept.paid(), paper)?.text())?;
    writeln!(out, "{}", list::in_words(&kept))?;
    if let Some(file) = &arguments.pdf {
        writeln!(out, "PDF: {}", file.display())?;
    }
    Ok(())
}

/// An invoice as a paper.
pub(crate) fn letter(
    place: &Place,
    facts: &InvoiceFacts,
    paid: &[PaidOn],
    paper: Paper,
) -> Result<Letter, Failure> {
    let words = invoices::words(place, facts)?;
    invoice(&words, facts, paid, paper, program()).map_err(Failure::failed)
}

/// Writes an invoice as a PDF.
pub(crate) fn write_pdf(
    place: &Place,
    facts: &InvoiceFacts,
    paid: &[PaidOn],
    paper: Paper,
    file: &Path,
) -> Result<(), Failure> {
    let made = letter_pdf(&letter(place, facts, paid, paper)?)
        .map_err(|error| Failure::failed(format!("the PDF could not be made: {error}")))?;
    for remark in &made.remarks {
        eprintln!("note: {remark}");
    }
    write_file(file, &made.pdf)
}
