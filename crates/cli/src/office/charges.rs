//! A fee as it is typed: lines, taxes, currency.

use clap::Args;
use inspection::{ChargeLine, Charges, Currency, Tax, TaxRate, Taxed};

use crate::commands::near_hint;
use crate::failure::Failure;

/// The parts of a fee.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct ChargeArguments {
    /// What is charged for: `WORDS = AMOUNT`, behind it `; untaxed`, or `; only TAX` where not every tax is on it; once for
    /// each line, and all together replace the lines there were
    #[arg(long, value_name = "LINE", allow_hyphen_values = true)]
    line: Vec<String>,
    /// A tax: `NAME = RATE`, such as `State sales tax = 6 %`; once for each, and all together replace the taxes there were
    #[arg(long, value_name = "TAX")]
    tax: Vec<String>,
    /// No tax at all
    #[arg(long, conflicts_with = "tax")]
    no_tax: bool,
    /// Currency of every amount, its three letters (ISO 4217); US dollars at first
    #[arg(long, value_name = "CODE")]
    currency: Option<String>,
}

impl ChargeArguments {
    /// Whether nothing was said.
    pub(crate) fn is_empty(&self) -> bool {
        self.line.is_empty() && self.tax.is_empty() && !self.no_tax && self.currency.is_none()
    }

    /// A fee with what was said put over what stood there.
    pub(crate) fn over(&self, before: &Charges) -> Result<Charges, Failure> {
        let mut charges = before.clone();
        if let Some(code) = &self.currency {
            charges.currency = Currency::from_code(code.trim()).ok_or_else(|| {
                Failure::input(format!("--currency: no currency has the code `{code}`"))
                    .hint("three letters of ISO 4217, such as USD, MXN, CAD or EUR")
            })?;
            let same = charges.currency.decimals() == before.currency.decimals();
            if !same && !before.lines.is_empty() && self.line.is_empty() {
                return Err(Failure::input(format!(
                    "--currency: the amounts were written with {} decimal places and {} has {}; give every --line again",
                    before.currency.decimals(),
                    charges.currency.code(),
                    charges.currency.decimals()
                )));
            }
        }
        if !self.line.is_empty() {
            charges.lines = self
                .line
                .iter()
                .map(|text| line(charges.currency, text))
                .collect::<Result<_, _>>()?;
        }
        if !self.tax.is_empty() || self.no_tax {
            charges.taxes = self.tax.iter().map(|text| tax(text)).collect::<Result<_, _>>()?;
        }
        check(&charges)?;
        Ok(charges)
    }
}

/// Refuses a fee that cannot be added up, or that names a tax twice.
fn check(charges: &Charges) -> Result<(), Failure> {
    for (at, one) in charges.taxes.iter().enumerate() {
        if charges.taxes.iter().take(at).any(|other| other.name == one.name) {
            return Err(Failure::input(format!(
                "--tax: `{}` is named twice; name it once",
                one.name
            )));
        }
    }
    for line in &charges.lines {
        if let Taxed::Only(name) = &line.taxed
            && !charges.taxes.iter().any(|tax| tax.name == *name)
        {
            let known = charges.taxes.iter().map(|tax| tax.name.as_str());
            return Err(Failure::input(format!(
                "the line “{}” is taxed by `{name}` alone, and there is no such tax",
                line.text
            ))
            .hint(near_hint(name, known)));
        }
    }
    findings::totals(charges).map_err(Failure::input)?;
    Ok(())
}

fn line(currency: Currency, text: &str) -> Result<ChargeLine, Failure> {
    let form = "write it like \"Inspection = 425.00\", \"Toll = 12.50; untaxed\" or \"Book = 20; only State sales tax\"";
    let refuse =
        |why: &dyn std::fmt::Display| Failure::input(format!("--line `{text}`: {why}")).hint(form);
    let (words, rest) =
        text.rsplit_once('=').ok_or_else(|| refuse(&"it has no = before an amount"))?;
    let words = plain(words).ok_or_else(|| refuse(&"it says nothing that is charged for"))?;
    let (amount, taxed) =
        rest.split_once(';').map_or((rest, ""), |(amount, taxed)| (amount, taxed.trim()));
    let taxed = match (taxed, taxed.strip_prefix("only ")) {
        ("", _) => Taxed::All,
        ("untaxed", _) => Taxed::Untaxed,
        (_, Some(name)) => Taxed::Only(name.trim().to_owned()),
        (other, None) => return Err(refuse(&format!("`{other}` does not say how it is taxed"))),
    };
    let amount = currency.read(amount).map_err(|why| refuse(&why))?;
    Ok(ChargeLine { text: words, amount, taxed })
}

fn tax(text: &str) -> Result<Tax, Failure> {
    let refuse = |why: &dyn std::fmt::Display| {
        Failure::input(format!("--tax `{text}`: {why}"))
            .hint("write it like \"State sales tax = 6 %\"")
    };
    let (name, rate) = text.rsplit_once('=').ok_or_else(|| refuse(&"it has no = before a rate"))?;
    let name = plain(name).ok_or_else(|| refuse(&"the tax has no name"))?;
    let rate = TaxRate::read(rate).map_err(|why| refuse(&why))?;
    Ok(Tax { name, rate })
}

/// Words on one line; none where there are none.
fn plain(text: &str) -> Option<String> {
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    (!words.is_empty() && !words.chars().any(char::is_control)).then_some(words)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given(lines: &[&str], taxes: &[&str]) -> Result<Charges, String> {
        let texts = |all: &[&str]| all.iter().map(|&it| it.to_owned()).collect();
        let arguments =
            ChargeArguments { line: texts(lines), tax: texts(taxes), ..ChargeArguments::default() };
        arguments.over(&Charges::default()).map_err(|failure| failure.message().to_owned())
    }

    #[test]
    fn a_fee_is_read_as_it_is_typed() {
        let charges = given(
            &[
                "Inspection =  425.00",
                "Two = one = 10; only City tax",
                "Toll=12.5 ; untaxed",
                "Rebate = -20",
            ],
            &["State sales tax = 6 %", "City tax = 1.25"],
        )
        .unwrap();
        let read: Vec<(&str, i64)> =
            charges.lines.iter().map(|line| (line.text.as_str(), line.amount)).collect();
        assert_eq!(
            read,
            [("Inspection", 42_500), ("Two = one", 1_000), ("Toll", 1_250), ("Rebate", -2_000)]
        );
        assert_eq!(charges.lines[1].taxed, Taxed::Only("City tax".into()));
        assert_eq!(charges.lines[2].taxed, Taxed::Untaxed);
        assert_eq!(charges.taxes[1].rate.millionths, 12_500);
    }

    #[test]
    fn what_cannot_be_a_fee_is_refused_with_its_line() {
        let check = |lines: &[&str], taxes: &[&str], words: &str| {
            let said = given(lines, taxes).unwrap_err();
            assert!(said.contains(words), "{said}");
        };
        check(&["Inspection 425"], &[], "no =");
        check(&[" = 425"], &[], "says nothing");
        check(&["Inspection = 425.001"], &[], "2 decimal places");
        check(&["Inspection = 425; taxed"], &[], "`taxed`");
        check(&["Inspection = 425; only City tax"], &["State = 6"], "no such tax");
        check(&["Inspection = 425"], &["State = six"], "no rate");
        check(&["Inspection = 425"], &["State = 6", "State = 7"], "twice");
    }
}
