//! `nearside invoice paid`: what came in.

use std::io::Write;

use clap::Args;

use super::list;
use crate::commands::agreement::day;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::invoices;
use crate::today;

/// Notes a payment: the whole of what is left, today, unless said otherwise.
///
/// A page that waits for payment (`nearside share new --after-payment`) opens by itself once everything is paid. A slip is
/// put right by another entry with the opposite sign: both stay.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside invoice paid 2026-0001 --how card\n  \
                        nearside invoice paid 2026-0001 --amount 200 --on 2026-06-12 --how \"cheque 1043\"\n  \
                        nearside invoice paid 2026-0001 --amount -200 --how \"entered by mistake\"")]
pub(crate) struct PaidArguments {
    /// The invoice's number
    number: String,
    /// How it was paid: card, cheque, cash …
    #[arg(long, value_name = "WORDS")]
    how: String,
    /// How much, in the invoice's currency; all that is left if left out
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    amount: Option<String>,
    /// The day it was paid; today if left out
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &PaidArguments) -> Result<(), Failure> {
    let store = place.store()?;
    let kept = invoices::with_number(&store, &arguments.number)?;
    let money = kept.facts.money();
    let how = arguments.how.trim();
    if how.is_empty() || how.chars().any(char::is_control) {
        return Err(Failure::input("--how: say how it was paid, on one line"));
    }
    let amount = match &arguments.amount {
        Some(text) => money.read(text).map_err(|why| Failure::input(format!("--amount: {why}")))?,
        None => kept.left(),
    };
    if amount == 0 {
        return Err(Failure::input(format!("nothing is left to be paid on {}", arguments.number))
            .hint("name what came in with --amount"));
    }
    let on = arguments.on.as_deref().map(|text| day(text, "--on")).transpose()?;
    let on = on.unwrap_or_else(today::today).to_string();
    store.add_payment(&kept.stored.id, &on, amount, how)?;
    let now = invoices::with_number(&store, &arguments.number)?;
    if now.stored.paid() > now.stored.due {
        let over = now.stored.paid().saturating_sub(now.stored.due);
        eprintln!("note: that is {} more than the invoice", money.write_with_code(over));
    }
    let mut out = std::io::stdout().lock();
    if arguments.json {
        writeln!(out, "{}", list::object(&now))?;
    } else {
        writeln!(out, "{}", list::in_words(&now))?;
    }
    Ok(())
}
