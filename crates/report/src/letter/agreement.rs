//! The agreement: what was put to the client, in the words that they read and sign.

use findings::{Totals, agreed_sha256, totals};
use inspection::{Charges, Consent, ConsentWay, Job, Moment, Taxed};
use plan::{Phrases, Plan};
use quantity::UnitSystem;

use super::{Attached, Letter, Party, Section, SignedBy, SumLine, Sums};
use crate::compose::words::{self, day, plain, sentence_case};
use crate::content::{Fact, Issued, Paper};

/// The agreement of a job. `plan` speaks the agreement's language; `program` and `issued` do not change what is agreed.
/// A consent that holds stands under it.
///
/// # Errors
/// A sentence where the fee cannot be added up.
pub fn agreement(
    plan: &Plan,
    job: &Job,
    consent: Option<&Consent>,
    made: (Paper, Issued, String),
) -> Result<Letter, String> {
    let say = &plan.words;
    let terms = job.engagement.agreement.clone().unwrap_or_default();
    let (paper, issued, program) = made;
    let mut facts = vec![
        Fact::new(&say.say("Unit"), &terms.unit),
        Fact::new(&say.say("Site"), &job.site.address),
        Fact::new(&say.say("Purpose"), &sentence_case(&say.say(&plain(&job.purpose)))),
        Fact::new(
            &say.say("Day of the visit"),
            &terms.day.map_or_else(String::new, |date| day(say, date, UnitSystem::Us)),
        ),
        Fact::new(&say.say("Reference of these terms"), &agreed_sha256(job)),
    ];
    facts.retain(|fact| !fact.value.trim().is_empty());
    let section = |heading: String, text: &str| Section {
        heading,
        paragraphs: text.split('\n').map(str::to_owned).collect(),
        numbered: false,
    };
    let mut before = vec![
        section(say.say("What will be examined"), &job.engagement.scope),
        section(say.say("What will not be examined, or only in part"), &job.engagement.limits),
    ];
    let mut after = vec![
        section(say.say("Payment"), &terms.payment),
        Section {
            heading: say.say("Terms"),
            paragraphs: if terms.terms.is_empty() { plan.terms.clone() } else { terms.terms.clone() },
            numbered: true,
        },
        section(
            say.say("What agreeing means"),
            &say.say(
                "Whoever agrees confirms having read this text, and orders the inspection on these terms. If any of it is changed, the client is asked again, and nothing new holds before they agree.",
            ),
        ),
    ];
    for sections in [&mut before, &mut after] {
        for one in sections.iter_mut() {
            one.paragraphs.retain(|paragraph| !paragraph.trim().is_empty());
        }
        sections.retain(|one| !one.paragraphs.is_empty());
    }
    let mut letter = Letter {
        paper,
        language: if plan.language == "en" { String::new() } else { plan.language.clone() },
        words: say.clone(),
        ident: format!("agreement {} {}", job.number, agreed_sha256(job)),
        issued,
        kind: say.say("Agreement"),
        number: say.say_with("Job {number}", &[("number", &job.number)]),
        title: say.say("Agreement on an inspection"),
        from: Party {
            role: say.say("Inspector"),
            name: job.inspector.clone(),
            lines: lines([job.credentials.as_str()]),
        },
        to: Party {
            role: say.say("Client"),
            name: job.client.name.clone(),
            lines: lines([job.client.contact.as_str(), job.client.role.as_str()]),
        },
        facts,
        before,
        sums: sums(say, &terms.charges)?,
        after,
        signatures: Vec::new(),
        program,
        attached: None,
    };
    // What was read and agreed to is the text as it was then, whatever the program would write today.
    let text = consent.map_or_else(|| letter.text(), |consent| consent.text.clone());
    letter.attached = Some(Attached {
        name: "agreement.txt".into(),
        media_type: "text/plain".into(),
        what: say.say("The text of this agreement, to the letter"),
        text,
    });
    letter.signatures = vec![
        match consent {
            Some(consent) => signed_by(say, consent),
            None => SignedBy {
                role: say.say("Client"),
                name: job.client.name.clone(),
                ..SignedBy::default()
            },
        },
        SignedBy { role: say.say("Inspector"), name: job.inspector.clone(), ..SignedBy::default() },
    ];
    Ok(letter)
}

/// The texts that are not empty.
pub(super) fn lines<'a>(texts: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    let texts = texts.into_iter().flat_map(|text| text.split('\n'));
    texts.map(str::trim).filter(|text| !text.is_empty()).map(str::to_owned).collect()
}

/// A consent in words: who, when, how, from where.
#[must_use]
pub fn signed_by(say: &Phrases, consent: &Consent) -> SignedBy {
    let moment = moment(say, consent.at);
    let how = match consent.how {
        ConsentWay::Typed => {
            say.say_with("Agreed on {moment} by typing the name", &[("moment", &moment)])
        }
        ConsentWay::Drawn => say.say_with(
            "Agreed on {moment} by typing the name and drawing a signature",
            &[("moment", &moment)],
        ),
        ConsentWay::OnPaper => say.say_with("Signed on paper on {moment}", &[("moment", &moment)]),
    };
    let mut words = vec![how];
    if !consent.address.is_empty() {
        words.push(
            say.say_with("From the network address {address}", &[("address", &consent.address)]),
        );
    }
    if !consent.by.is_empty() && consent.by != consent.name {
        words.push(say.say_with("Entered by {person}", &[("person", &consent.by)]));
    }
    SignedBy {
        role: say.say("Client"),
        name: consent.name.clone(),
        words,
        drawn: consent.drawn.to_string(),
    }
}

/// `June 3, 2026, 18:12 (UTC−04:00)`.
fn moment(say: &Phrases, at: Moment) -> String {
    let zone = at.offset_minutes.map_or_else(String::new, |minutes| {
        let sign = if minutes < 0 { '−' } else { '+' };
        let minutes = minutes.unsigned_abs();
        format!(" (UTC{sign}{:02}:{:02})", minutes / 60, minutes % 60)
    });
    format!("{}{zone}", words::moment(say, at, UnitSystem::Us))
}

/// A fee as a table; none where nothing is charged.
pub(super) fn sums(say: &Phrases, charges: &Charges) -> Result<Option<Sums>, String> {
    if charges.lines.is_empty() {
        return Ok(None);
    }
    let currency = charges.currency;
    let Totals { net, taxes, tax: _, total } = totals(charges)?;
    let lines = charges
        .lines
        .iter()
        .map(|line| SumLine {
            text: line.text.clone(),
            remark: match &line.taxed {
                Taxed::Untaxed if !taxes.is_empty() => say.say("without tax"),
                Taxed::Only(name) if taxes.len() > 1 => {
                    say.say_with("{tax} only", &[("tax", name)])
                }
                Taxed::All | Taxed::Untaxed | Taxed::Only(_) => String::new(),
            },
            amount: currency.write(line.amount),
            strong: false,
        })
        .collect();
    let mut rows = Vec::new();
    if !taxes.is_empty() {
        rows.push(SumLine {
            text: say.say("Sum without tax"),
            amount: currency.write(net),
            ..SumLine::default()
        });
    }
    for tax in &taxes {
        rows.push(SumLine {
            text: say.say_with(
                "{tax}, {rate} of {amount}",
                &[
                    ("tax", &tax.name),
                    ("rate", &tax.rate.to_string()),
                    ("amount", &currency.write(tax.base)),
                ],
            ),
            amount: currency.write(tax.amount),
            ..SumLine::default()
        });
    }
    rows.push(SumLine {
        text: say.say_with("Total in {currency}", &[("currency", currency.code())]),
        amount: currency.write(total),
        strong: true,
        ..SumLine::default()
    });
    let note = if taxes.is_empty() {
        String::new()
    } else {
        say.say("Each tax is computed on the sum of the lines it applies to and rounded once, half away from zero.")
    };
    Ok(Some(Sums {
        heading: say.say("Fee"),
        columns: [say.say("For"), say.say("Amount")],
        lines,
        totals: rows,
        note,
    }))
}
