//! The invoice and the credit note: what was frozen when the number was drawn, and how it is printed.

use inspection::{ChargeLine, Charges, Currency, Tax, TaxRate, Taxed};
use jiff::civil::Date;
use plan::Phrases;
use quantity::UnitSystem;
use serde::{Deserialize, Serialize};

use super::agreement::{lines, sums};
use super::{Attached, Letter, Party, Section, SumLine, Sums};
use crate::compose::words::day;
use crate::content::{Fact, Issued, Paper};

/// Everything that stands on an invoice. Kept as it is when the number is drawn, and attached to the PDF as JSON.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct InvoiceFacts {
    /// Its number as printed.
    pub number: String,
    /// Invoice or credit note.
    pub kind: InvoiceKind,
    /// Number of the invoice that a credit note cancels; empty for an invoice.
    #[serde(default)]
    pub cancels: String,
    /// Why it is cancelled, in words.
    #[serde(default)]
    pub because: String,
    /// Language of its sentences, such as `en`.
    pub language: String,
    /// The day it was made, `2026-06-12`.
    pub issued: String,
    /// The day by which it is to be paid; empty where none was agreed.
    #[serde(default)]
    pub due: String,
    /// The day of the visit that it is for; empty where there was none yet.
    #[serde(default)]
    pub visited: String,
    /// Who charges.
    pub seller: Seller,
    /// Who pays.
    pub buyer: Buyer,
    /// The job's number.
    pub job: String,
    /// The unit, in words.
    #[serde(default)]
    pub unit: String,
    /// Where it stands.
    #[serde(default)]
    pub site: String,
    /// Currency of every amount (ISO 4217).
    pub currency: String,
    /// Decimal places of the currency: amounts are whole numbers of its minor unit.
    pub decimals: u8,
    /// What is charged for.
    pub lines: Vec<InvoiceLine>,
    /// The taxes with what they came to.
    pub taxes: Vec<InvoiceTax>,
    /// All lines without tax, minor units.
    pub net: i64,
    /// With tax.
    pub total: i64,
}

/// Invoice or credit note.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum InvoiceKind {
    /// Asks for money.
    #[default]
    Invoice,
    /// Takes an invoice back, line for line.
    CreditNote,
}

/// Who charges: a setting of the data folder.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seller {
    /// Name of the person or firm.
    pub name: String,
    /// Address, a line each.
    #[serde(default)]
    pub address: Vec<String>,
    /// How to reach them.
    #[serde(default)]
    pub contact: String,
    /// Tax number, with what it is called.
    #[serde(default)]
    pub tax_number: String,
    /// How to pay, in words.
    #[serde(default)]
    pub payment: String,
    /// What stands before the number of each invoice, such as `2026-`.
    #[serde(default)]
    pub prefix: String,
}

/// Who pays.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Buyer {
    /// Name.
    pub name: String,
    /// Address or other ways to reach them.
    #[serde(default)]
    pub contact: String,
}

/// One line.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct InvoiceLine {
    /// What it is for.
    pub text: String,
    /// Without tax, minor units.
    pub amount: i64,
    /// Names of the taxes on it.
    pub taxes: Vec<String>,
}

/// One tax.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct InvoiceTax {
    /// Its name.
    pub name: String,
    /// Its rate in millionths.
    pub millionths: u32,
    /// The sum that it is on, minor units.
    pub base: i64,
    /// What it came to, minor units.
    pub amount: i64,
}

/// A payment, as printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PaidOn {
    /// The day, `2026-06-12`.
    pub day: String,
    /// How much, minor units.
    pub amount: i64,
    /// How.
    pub how: String,
}

impl InvoiceFacts {
    /// Puts a fee in, added up.
    ///
    /// # Errors
    /// A sentence where it cannot be added up.
    pub fn charge(&mut self, charges: &Charges) -> Result<(), String> {
        let totals = findings::totals(charges)?;
        charges.currency.code().clone_into(&mut self.currency);
        self.decimals = charges.currency.decimals();
        self.lines = charges
            .lines
            .iter()
            .map(|line| InvoiceLine {
                text: line.text.clone(),
                amount: line.amount,
                taxes: match &line.taxed {
                    Taxed::All => charges.taxes.iter().map(|tax| tax.name.clone()).collect(),
                    Taxed::Untaxed => Vec::new(),
                    Taxed::Only(name) => vec![name.clone()],
                },
            })
            .collect();
        self.taxes = totals
            .taxes
            .iter()
            .map(|tax| InvoiceTax {
                name: tax.name.clone(),
                millionths: tax.rate.millionths,
                base: tax.base,
                amount: tax.amount,
            })
            .collect();
        (self.net, self.total) = (totals.net, totals.total);
        Ok(())
    }

    /// The currency.
    #[must_use]
    pub fn money(&self) -> Currency {
        Currency::from_code(&self.currency).unwrap_or_default()
    }

    /// The fee again, as it was charged.
    fn charges(&self) -> Charges {
        let all = self.taxes.len();
        Charges {
            currency: self.money(),
            lines: self
                .lines
                .iter()
                .map(|line| ChargeLine {
                    text: line.text.clone(),
                    amount: line.amount,
                    taxed: match line.taxes.as_slice() {
                        [] => Taxed::Untaxed,
                        several if several.len() == all => Taxed::All,
                        [one, ..] => Taxed::Only(one.clone()),
                    },
                })
                .collect(),
            taxes: self
                .taxes
                .iter()
                .map(|tax| Tax {
                    name: tax.name.clone(),
                    rate: TaxRate { millionths: tax.millionths },
                })
                .collect(),
        }
    }
}

/// An invoice as a paper; `paid` is what came in since, which the frozen facts do not know.
///
/// # Errors
/// A sentence where its sums are not what is added up from its lines.
pub fn invoice(
    words: &Phrases,
    facts: &InvoiceFacts,
    paid: &[PaidOn],
    paper: Paper,
    program: String,
) -> Result<Letter, String> {
    let say = words;
    let written = |text: &str| {
        text.parse::<Date>().map_or_else(|_| text.to_owned(), |date| day(say, date, UnitSystem::Us))
    };
    let (kind, title) = match facts.kind {
        InvoiceKind::Invoice => {
            (say.say("Invoice"), say.say_with("Invoice {number}", &[("number", &facts.number)]))
        }
        InvoiceKind::CreditNote => (
            say.say("Credit note"),
            say.say_with("Credit note {number}", &[("number", &facts.number)]),
        ),
    };
    let mut about = vec![
        Fact::new(&say.say("Date"), &written(&facts.issued)),
        Fact::new(&say.say("For"), &say.say("Inspection of a dwelling on wheels")),
        Fact::new(&say.say("Unit"), &facts.unit),
        Fact::new(&say.say("Site"), &facts.site),
        Fact::new(&say.say("Day of the visit"), &written(&facts.visited)),
        Fact::new(&say.say("To be paid by"), &written(&facts.due)),
        Fact::new(&say.say("Cancels invoice"), &facts.cancels),
        Fact::new(&say.say("Reason"), &facts.because),
    ];
    about.retain(|fact| !fact.value.trim().is_empty());
    let table = sums(say, &facts.charges())?
        .ok_or_else(|| "an invoice without a line; say what is charged for".to_owned())?;
    let table = with_payments(say, table, facts, paid);
    let payment = match facts.kind {
        InvoiceKind::Invoice => facts.seller.payment.clone(),
        InvoiceKind::CreditNote => say.say_with(
            "This credit note takes back invoice {number} in full. Nothing is to be paid on that invoice; what was paid on it is returned.",
            &[("number", &facts.cancels)],
        ),
    };
    let after = Section {
        heading: say.say("Payment"),
        paragraphs: lines([payment.as_str()]),
        numbered: false,
    };
    let seller = &facts.seller;
    let address = seller.address.iter().map(String::as_str);
    let json = serde_json::to_string_pretty(facts).map_err(|error| error.to_string())?;
    Ok(Letter {
        paper,
        language: if facts.language == "en" { String::new() } else { facts.language.clone() },
        words: say.clone(),
        ident: format!("invoice {}", facts.number),
        issued: midday(&facts.issued),
        kind,
        number: say.say_with("Job {number}", &[("number", &facts.job)]),
        title,
        from: Party {
            role: say.say("From"),
            name: seller.name.clone(),
            lines: lines(address.chain([seller.contact.as_str(), seller.tax_number.as_str()])),
        },
        to: Party {
            role: say.say("Client"),
            name: facts.buyer.name.clone(),
            lines: lines([facts.buyer.contact.as_str()]),
        },
        facts: about,
        before: Vec::new(),
        sums: Some(table),
        after: if after.paragraphs.is_empty() { Vec::new() } else { vec![after] },
        signatures: Vec::new(),
        program,
        attached: Some(Attached {
            name: "invoice.json".into(),
            media_type: "application/json".into(),
            what: say.say("What stands on this paper, as data"),
            text: json,
        }),
    })
}

/// The sums with what was paid, and what is left.
fn with_payments(say: &Phrases, table: Sums, facts: &InvoiceFacts, paid: &[PaidOn]) -> Sums {
    if paid.is_empty() || facts.kind == InvoiceKind::CreditNote {
        return table;
    }
    let money = facts.money();
    let mut totals = table.totals;
    let mut left = facts.total;
    for one in paid {
        left = left.saturating_sub(one.amount);
        let date = one.day.parse::<Date>();
        let date = date.map_or_else(|_| one.day.clone(), |date| day(say, date, UnitSystem::Us));
        totals.push(SumLine {
            text: say.say_with("Paid on {day}", &[("day", &date)]),
            remark: one.how.clone(),
            amount: money.write(-one.amount),
            strong: false,
        });
    }
    totals.push(SumLine {
        text: say.say_with("Still to be paid in {currency}", &[("currency", money.code())]),
        remark: String::new(),
        amount: money.write(left),
        strong: true,
    });
    Sums { totals, ..table }
}

/// Noon of a day, which no time zone turns into another day.
fn midday(text: &str) -> Issued {
    let Ok(date) = text.parse::<Date>() else { return Issued::default() };
    let part = |number: i8| u8::try_from(number).unwrap_or(1);
    Issued {
        year: i32::from(date.year()),
        month: part(date.month()),
        day: part(date.day()),
        hour: 12,
        minute: 0,
        second: 0,
    }
}
