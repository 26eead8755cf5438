//! `nearside invoice make`: the invoice of a job, under the next number.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use findings::{Agreed, agreed};
use jiff::civil::Date;
use report::letter::InvoiceFacts;
use serde_json::json;

use super::show::write_pdf;
use crate::commands::agreement::day;
use crate::commands::report::PaperSize;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::charges::ChargeArguments;
use crate::office::new_invoice::{self, NotMade, Wanted};
use crate::open_job::OpenJob;
use crate::today;

/// Makes the invoice of a job: the fee as it was agreed, under the next number.
///
/// The number is drawn and the invoice kept in one step, so that no number is ever missing or given twice, also when
/// several commands run at once. With --line the fee is what is said here instead of what was agreed.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside invoice make 2026-001 --days 14 --pdf invoice.pdf\n  \
                        nearside invoice make 2026-002 --line \"Second visit = 180.00\" --tax \"Sales tax = 6 %\""
)]
pub(crate) struct MakeArguments {
    /// The job's number
    job: String,
    /// The day it is made; today if left out
    #[arg(long, value_name = "DATE")]
    date: Option<String>,
    /// Days until it is to be paid
    #[arg(long, value_name = "DAYS", value_parser = clap::value_parser!(u16).range(0..=366))]
    days: Option<u16>,
    #[command(flatten)]
    charges: ChargeArguments,
    /// Make another one, though the job has an invoice that stands
    #[arg(long)]
    another: bool,
    /// Write it as a PDF as well, archival and accessible, with its data attached
    #[arg(long, value_name = "FILE")]
    pdf: Option<PathBuf>,
    /// Size of the PDF's pages
    #[arg(long, value_enum, default_value_t = PaperSize::Letter)]
    paper: PaperSize,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &MakeArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    let date = arguments.date.as_deref().map(|text| day(text, "--date")).transpose()?;
    let asked = Asked {
        date: date.unwrap_or_else(today::today),
        days: arguments.days,
        charges: &arguments.charges,
        another: arguments.another,
    };
    let made = make(&job, &asked)?;
    if let Some(file) = &arguments.pdf {
        write_pdf(place, &made, &[], arguments.paper.paper(), file)?;
    }
    let total = made.money().write_with_code(made.total);
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "invoice": made.number,
            "job": made.job,
            "total": made.total,
            "currency": made.currency,
            "decimals": made.decimals,
            "due": made.due,
            "pdf": arguments.pdf.as_ref().map(|file| file.display().to_string()),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "invoice {}: {total}, for {}", made.number, made.buyer.name)?;
    match &arguments.pdf {
        Some(file) => writeln!(out, "PDF: {}", file.display())?,
        None => writeln!(out, "next: nearside invoice show {} --pdf FILE", made.number)?,
    }
    Ok(())
}

/// What was asked for.
pub(crate) struct Asked<'a> {
    pub(crate) date: Date,
    pub(crate) days: Option<u16>,
    pub(crate) charges: &'a ChargeArguments,
    pub(crate) another: bool,
}

/// Makes the invoice and keeps it.
pub(crate) fn make(job: &OpenJob, asked: &Asked<'_>) -> Result<InvoiceFacts, Failure> {
    let inspection = job.inspection();
    let agreed_fee = inspection.job.engagement.agreement.clone().unwrap_or_default().charges;
    let wanted = Wanted {
        date: asked.date,
        days: asked.days,
        charges: asked.charges.over(&agreed_fee)?,
        another: asked.another,
        seen: None,
    };
    let made = new_invoice::make(job, &wanted).map_err(|why| in_words(job, why))?;
    if asked.charges.is_empty() && !matches!(agreed(&inspection.job), Agreed::Holds(_)) {
        eprintln!("note: the client has not agreed to this fee as it stands");
    }
    Ok(made)
}

/// Why there is none, with what to type.
fn in_words(job: &OpenJob, why: NotMade) -> Failure {
    match why {
        NotMade::NoFee => Failure::input(format!("no fee was agreed for job {}", job.id)).hint(
            "say it with `nearside agreement set`, or here with --line \"Inspection = 425.00\"",
        ),
        NotMade::NoSeller => {
            Failure::input("an invoice names who charges, and nobody is named yet").hint(
                "say it once: nearside invoice seller --name \"B. Inspector\" --address … --payment … --prefix 2026-",
            )
        }
        NotMade::NoClient => {
            Failure::input("an invoice names who pays, and the job has no client")
                .hint("enter the client on the job's sheet")
        }
        NotMade::LessThanNothing => Failure::input(
            "the fee is less than nothing; a credit note takes an invoice back",
        )
        .hint("nearside invoice cancel NUMBER --because WORDS"),
        NotMade::Stands(number) => {
            Failure::input(format!("job {} has invoice {number} already", job.id)).hint(
                "cancel that one with `nearside invoice cancel`, or make another one with --another",
            )
        }
        NotMade::Changed => Failure::input("the job's invoices have changed meanwhile"),
        NotMade::Other(failure) => failure,
    }
}
