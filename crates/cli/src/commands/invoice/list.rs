//! `nearside invoice list`: all invoices and credit notes, and what is open.

use std::io::Write;

use clap::Args;
use serde_json::{Value as Json, json};

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::invoices::{self, Kept};
use crate::open_job;

/// Lists invoices and credit notes by number: for whom, how much, paid or open.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside invoice list\n  nearside invoice list --job 2026-001 --json"
)]
pub(crate) struct ListArguments {
    /// Those of one job alone
    #[arg(long, value_name = "JOB")]
    job: Option<String>,
    /// Print a JSON array
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &ListArguments) -> Result<(), Failure> {
    let store = place.store()?;
    let job = arguments.job.as_deref().map(|job| open_job::known_job(&store, job)).transpose()?;
    let mut all = invoices::all(&store)?;
    all.retain(|one| job.as_ref().is_none_or(|job| one.stored.job == *job));
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let all: Vec<Json> = all.iter().map(object).collect();
        writeln!(out, "{}", Json::Array(all))?;
        return Ok(());
    }
    if all.is_empty() {
        writeln!(out, "there is no invoice; `nearside invoice make JOB` makes one")?;
    }
    for one in &all {
        writeln!(out, "{}", in_words(one))?;
    }
    Ok(())
}

/// One line: number, job, who, how much, where it stands.
pub(crate) fn in_words(kept: &Kept) -> String {
    let facts = &kept.facts;
    let money = facts.money();
    let standing = match kept.state() {
        "credit_note" => format!("credit note for {}", facts.cancels),
        "cancelled" => "cancelled by a credit note".to_owned(),
        "open" if kept.stored.paid() == 0 => "open".to_owned(),
        "open" => format!("open, {} left", money.write_with_code(kept.left())),
        _ => {
            let last = kept.stored.payments.last();
            last.map_or_else(
                || "nothing to pay".to_owned(),
                |one| format!("paid {}, {}", one.day, one.how),
            )
        }
    };
    format!(
        "{}  {}  job {}, {}  {}; {standing}",
        facts.number,
        facts.issued,
        facts.job,
        facts.buyer.name,
        money.write_with_code(kept.stored.due)
    )
}

/// One as JSON; amounts in minor units.
pub(crate) fn object(kept: &Kept) -> Json {
    let facts = &kept.facts;
    let payments: Vec<Json> = kept
        .stored
        .payments
        .iter()
        .map(|one| json!({"day": one.day, "amount": one.amount, "how": one.how}))
        .collect();
    json!({
        "invoice": facts.number,
        "job": facts.job,
        "client": facts.buyer.name,
        "issued": facts.issued,
        "due": facts.due,
        "currency": facts.currency,
        "decimals": facts.decimals,
        "total": kept.stored.due,
        "paid": kept.stored.paid(),
        "left": kept.left(),
        "state": kept.state(),
        "cancels": facts.cancels,
        "payments": payments,
    })
}
