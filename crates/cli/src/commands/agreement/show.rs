//! `nearside agreement show`: the text, where it stands, and the PDF.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use findings::{Agreed, agreed, agreed_sha256, calibrations_before, totals};
use inspection::{Charges, Consent, ConsentId, Inspection};
use report::letter::letter_pdf;
use serde_json::{Value as Json, json};
use store::Sha256Hex;

use crate::commands::report::PaperSize;
use crate::data_folder::{Place, write_file};
use crate::failure::Failure;
use crate::office::agreements;
use crate::open_job::OpenJob;

/// Shows the agreement as the client reads it, whether they agreed to it, and what to see to before the visit.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside agreement show 2026-001\n  nearside agreement show 2026-001 --pdf agreement.pdf \
                        --paper a4\n  nearside agreement show 2026-001 --json"
)]
pub(crate) struct ShowArguments {
    /// The job's number
    job: String,
    /// Write it as a PDF as well, archival and accessible, with its text attached
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
    let job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let letter = agreements::letter(place, &job, arguments.paper.paper())?;
    if let Some(file) = &arguments.pdf {
        let made = letter_pdf(&letter)
            .map_err(|error| Failure::failed(format!("the PDF could not be made: {error}")))?;
        for remark in &made.remarks {
            eprintln!("note: {remark}");
        }
        write_file(file, &made.pdf)?;
    }
    let mut out = std::io::stdout().lock();
    if arguments.json {
        writeln!(out, "{}", object(&inspection, &letter.text(), arguments.pdf.as_ref())?)?;
        return Ok(());
    }
    if inspection.job.engagement.agreement.is_some() {
        writeln!(out, "{}", letter.text())?;
    }
    writeln!(out, "agreement: {}", agreements::state_in_words(&inspection.job))?;
    let engagement = &inspection.job.engagement;
    for (id, consent) in &engagement.consents {
        writeln!(out, "  {}", consent_in_words(&inspection, id, consent))?;
    }
    if !engagement.consent.is_empty() && !matches!(agreed(&inspection.job), Agreed::InWords) {
        writeln!(out, "  in words: {}", engagement.consent)?;
    }
    for sentence in to_see_to(&inspection) {
        writeln!(out, "before the visit: {sentence}")?;
    }
    if let Some(file) = &arguments.pdf {
        writeln!(out, "PDF: {}", file.display())?;
    }
    Ok(())
}

/// Instruments that want calibrating before the day that was agreed, or the first visit.
fn to_see_to(inspection: &Inspection) -> Vec<String> {
    let agreement = inspection.job.engagement.agreement.as_ref();
    let day = agreement.and_then(|it| it.day).or(inspection.job.visits.first().copied());
    day.map_or_else(Vec::new, |day| calibrations_before(inspection, day))
}

fn consent_in_words(inspection: &Inspection, id: &ConsentId, consent: &Consent) -> String {
    let holds = match agreed(&inspection.job) {
        Agreed::Holds(_) if consent.agreed == agreed_sha256(&inspection.job) => "holds",
        _ => "was given to an earlier text",
    };
    let from = if consent.address.is_empty() {
        String::new()
    } else {
        format!(", from {}", consent.address)
    };
    let how = consent.how.word().replace('_', " ");
    format!("{} on {}, {how}{from}; {holds} ({id})", consent.name, consent.at)
}

fn object(inspection: &Inspection, text: &str, pdf: Option<&PathBuf>) -> Result<Json, Failure> {
    let job = &inspection.job;
    let engagement = &job.engagement;
    let now = agreed_sha256(job);
    let consents: Vec<Json> = engagement
        .consents
        .iter()
        .map(|(id, consent)| {
            json!({
                "id": id.as_str(),
                "name": consent.name,
                "at": consent.at.to_string(),
                "how": consent.how.word(),
                "address": consent.address,
                "drawn": !consent.drawn.is_empty(),
                "entered_by": consent.by,
                "agreed_sha256": consent.agreed,
                "text_sha256": Sha256Hex::of(consent.text.as_bytes()).as_str(),
                "text": consent.text,
                "holds": consent.agreed == now,
            })
        })
        .collect();
    let agreement = engagement.agreement.as_ref();
    Ok(json!({
        "job": job.number,
        "state": agreements::state_word(job),
        "agreed_sha256": now,
        "scope": engagement.scope,
        "limits": engagement.limits,
        "unit": agreement.map(|it| it.unit.as_str()),
        "day": agreement.and_then(|it| it.day).map(|day| day.to_string()),
        "payment": agreement.map(|it| it.payment.as_str()),
        "language": agreement.map(|it| if it.language.is_empty() { "en" } else { &it.language }),
        "fee": agreement.map(|it| fee(&it.charges)).transpose()?,
        "text": agreement.map(|_| text),
        "consents": consents,
        "consent_in_words": engagement.consent,
        "before_the_visit": to_see_to(inspection),
        "pdf": pdf.map(|file| file.display().to_string()),
    }))
}

/// A fee in minor units.
pub(crate) fn fee(charges: &Charges) -> Result<Json, Failure> {
    let sums = totals(charges).map_err(Failure::input)?;
    let taxes: Vec<Json> = sums
        .taxes
        .iter()
        .map(|tax| {
            json!({"name": tax.name, "rate_millionths": tax.rate.millionths, "base": tax.base, "amount": tax.amount})
        })
        .collect();
    Ok(json!({
        "currency": charges.currency.code(),
        "decimals": charges.currency.decimals(),
        "lines": charges.lines.iter().map(|line| json!({"text": line.text, "amount": line.amount})).collect::<Vec<_>>(),
        "net": sums.net,
        "taxes": taxes,
        "total": sums.total,
    }))
}
