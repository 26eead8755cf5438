//! `nearside invoice seller`: who charges, as it stands on every invoice from then on.

use std::io::Write;

use clap::Args;
use report::letter::Seller;

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::invoices;

/// Says who charges; whatever is left out stays as it is, and without options it is shown.
///
/// Invoices that were made before keep what stood there then. Another prefix begins to count at 1.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside invoice seller\n  nearside invoice seller --name \"B. Inspector\" \
                        --address \"1 Ferry Road\" --address \"Alder, Vermont\" --tax-number \"Tax number 00-0000000\" \
                        --payment \"By card or cheque within 14 days\" --prefix 2026-"
)]
pub(crate) struct SellerArguments {
    /// Name of the person or firm
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// A line of the address; once for each, and all together replace the lines there were
    #[arg(long, value_name = "LINE")]
    address: Vec<String>,
    /// How to reach you
    #[arg(long, value_name = "WORDS")]
    contact: Option<String>,
    /// Tax number, with what it is called
    #[arg(long, value_name = "WORDS")]
    tax_number: Option<String>,
    /// How to pay
    #[arg(long, value_name = "WORDS")]
    payment: Option<String>,
    /// What stands before the number of each invoice
    #[arg(long, value_name = "PREFIX")]
    prefix: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &SellerArguments) -> Result<(), Failure> {
    let store = place.store()?;
    let before = invoices::seller(&store)?;
    let mut seller = before.clone().unwrap_or_default();
    for (option, given, field) in [
        ("--name", &arguments.name, &mut seller.name),
        ("--contact", &arguments.contact, &mut seller.contact),
        ("--tax-number", &arguments.tax_number, &mut seller.tax_number),
        ("--payment", &arguments.payment, &mut seller.payment),
        ("--prefix", &arguments.prefix, &mut seller.prefix),
    ] {
        if let Some(text) = given {
            *field = one_line(option, text)?;
        }
    }
    if !arguments.address.is_empty() {
        seller.address = arguments
            .address
            .iter()
            .map(|line| one_line("--address", line))
            .collect::<Result<_, _>>()?;
    }
    if seller.prefix.chars().count() > 20 {
        return Err(Failure::input("--prefix: at most 20 characters are accepted, such as 2026-"));
    }
    let changed = before.as_ref() != Some(&seller) && seller != Seller::default();
    if changed {
        if seller.name.is_empty() {
            return Err(
                Failure::input("an invoice names who charges").hint("add --name \"B. Inspector\"")
            );
        }
        invoices::keep_seller(&store, &seller)?;
    }
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = serde_json::to_string(&seller)
            .map_err(|error| Failure::failed(format!("who charges cannot be written: {error}")))?;
        writeln!(out, "{object}")?;
        return Ok(());
    }
    if seller == Seller::default() {
        writeln!(
            out,
            "nobody is named yet; say who charges with --name, --address, --payment, --prefix"
        )?;
        return Ok(());
    }
    writeln!(out, "{}", seller.name)?;
    for line in &seller.address {
        writeln!(out, "{line}")?;
    }
    for (what, text) in [
        ("contact", &seller.contact),
        ("tax number", &seller.tax_number),
        ("payment", &seller.payment),
        ("numbers begin with", &seller.prefix),
    ] {
        if !text.is_empty() {
            writeln!(out, "{what}: {text}")?;
        }
    }
    Ok(())
}

fn one_line(option: &str, text: &str) -> Result<String, Failure> {
    let text = text.trim();
    if text.chars().any(char::is_control) {
        return Err(Failure::input(format!(
            "{option}: write it on one line, without control characters"
        )));
    }
    Ok(text.to_owned())
}
