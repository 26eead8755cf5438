//! A fee as it is typed: lines, taxes and currency, read exactly and added up; nothing is rounded before the end.

use findings::totals;
use inspection::{ChargeLine, Charges, Currency, Tax, TaxRate, Taxed};

use crate::Said;

/// A fee as it is typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FeeTyped {
    /// Three letters of the currency.
    pub currency: String,
    /// What is charged for; a line with nothing in it is none.
    pub lines: Vec<LineTyped>,
    /// The taxes; one with nothing in it is none.
    pub taxes: Vec<TaxTyped>,
}

/// A line of a fee.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LineTyped {
    /// What it is.
    pub text: String,
    /// Its amount without tax, such as `425.00`.
    pub amount: String,
    /// Which taxes are on it.
    pub taxed: Taxed,
}

/// A tax of a fee.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TaxTyped {
    /// Its name.
    pub name: String,
    /// Its rate, such as `6 %`.
    pub rate: String,
}

/// A fee added up, as people read it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FeeSums {
    /// Each line and its amount.
    pub lines: Vec<(String, String)>,
    /// The lines together, without tax.
    pub net: String,
    /// The taxes.
    pub taxes: Vec<TaxSum>,
    /// With tax, and the currency.
    pub total: String,
    /// With tax, minor units.
    pub total_minor: i64,
}

/// What a tax comes to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TaxSum {
    /// Its name.
    pub name: String,
    /// Its rate.
    pub rate: String,
    /// The sum that it is on.
    pub base: String,
    /// What it comes to.
    pub amount: String,
}

/// A fee as it is typed, added up; nothing where it has no line.
///
/// # Errors
/// A sentence that says which part of it cannot be read.
pub fn fee_sums(typed: &FeeTyped) -> Result<Option<FeeSums>, Said> {
    sums(&charges(typed)?)
}

/// An amount in the currency with this code as it is typed, minor units.
///
/// # Errors
/// A sentence that says what is accepted.
pub fn amount_typed(code: &str, text: &str) -> Result<i64, Said> {
    amount(currency(code)?, text)
}

/// The fee of what was typed.
pub(crate) fn charges(typed: &FeeTyped) -> Result<Charges, Said> {
    let currency = currency(&typed.currency)?;
    let mut charges = Charges { currency, lines: Vec::new(), taxes: Vec::new() };
    for TaxTyped { name, rate } in &typed.taxes {
        let (name, rate) = (plain(name), rate.trim());
        match (name.as_str(), rate) {
            ("", "") => continue,
            ("", rate) => return Err(Said::new("refusal-tax-no-name").with("rate", rate)),
            _ => {}
        }
        if charges.taxes.iter().any(|tax| tax.name == name) {
            return Err(Said::new("refusal-tax-twice").with("name", name));
        }
        let rate = TaxRate::read(rate)
            .map_err(|_| Said::new("refusal-no-rate").with("name", &name).with("entry", rate))?;
        charges.taxes.push(Tax { name, rate });
    }
    for line in &typed.lines {
        let (text, entry) = (plain(&line.text), line.amount.trim());
        match (text.as_str(), entry) {
            ("", "") => continue,
            ("", entry) => return Err(Said::new("refusal-line-no-words").with("amount", entry)),
            _ => {}
        }
        let amount = amount(currency, entry)?;
        if let Taxed::Only(name) = &line.taxed
            && !charges.taxes.iter().any(|tax| tax.name == *name)
        {
            return Err(Said::new("refusal-line-no-tax").with("line", text).with("name", name));
        }
        charges.lines.push(ChargeLine { text, amount, taxed: line.taxed.clone() });
    }
    sums(&charges)?;
    Ok(charges)
}

/// A fee as it would be typed.
pub(crate) fn typed(charges: &Charges) -> FeeTyped {
    let Charges { currency, lines, taxes } = charges;
    FeeTyped {
        currency: currency.code().to_owned(),
        lines: lines
            .iter()
            .map(|line| LineTyped {
                text: line.text.clone(),
                amount: currency.write(line.amount),
                taxed: line.taxed.clone(),
            })
            .collect(),
        taxes: taxes
            .iter()
            .map(|tax| TaxTyped { name: tax.name.clone(), rate: tax.rate.to_string() })
            .collect(),
    }
}

/// A fee added up; nothing where it has no line.
pub(crate) fn sums(charges: &Charges) -> Result<Option<FeeSums>, Said> {
    let currency = charges.currency;
    let totals = totals(charges).map_err(|_| Said::new("refusal-fee-large"))?;
    if charges.lines.is_empty() {
        return Ok(None);
    }
    let lines = charges.lines.iter();
    Ok(Some(FeeSums {
        lines: lines.map(|line| (line.text.clone(), currency.write(line.amount))).collect(),
        net: currency.write(totals.net),
        taxes: totals
            .taxes
            .iter()
            .map(|tax| TaxSum {
                name: tax.name.clone(),
                rate: tax.rate.to_string(),
                base: currency.write(tax.base),
                amount: currency.write(tax.amount),
            })
            .collect(),
        total: currency.write_with_code(totals.total),
        total_minor: totals.total,
    }))
}

fn currency(code: &str) -> Result<Currency, Said> {
    let code = code.trim();
    Currency::from_code(code).ok_or_else(|| Said::new("refusal-no-currency").with("code", code))
}

fn amount(currency: Currency, text: &str) -> Result<i64, Said> {
    currency.read(text).map_err(|_| {
        Said::new("refusal-no-amount")
            .with("entry", text.trim())
            .with("currency", currency.code())
            .with("places", currency.decimals().to_string())
            .with("example", currency.write(42_500))
            .with("most", currency.write(Currency::MOST))
    })
}

/// Words on one line, without what no paper can show.
pub(crate) fn plain(text: &str) -> String {
    let seen = text.split(|letter: char| letter.is_whitespace() || letter.is_control());
    seen.filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}
