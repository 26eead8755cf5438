//! Keys of the agreement, in the section `job`: what was put to the client, and each consent as one text.

use std::collections::BTreeMap;

use inspection::{
    Agreement, ChargeLine, Charges, Consent, ConsentId, ConsentWay, Currency, DrawnSignature,
    Moment, Tax, TaxRate, Taxed,
};

use super::{Entry, Fact, Facts, Writing, escaped, moment_text, one_line, unescaped};
use crate::{Refusal, RefusalKind};

const UNIT: &str = "agreement/unit";
const DAY: &str = "agreement/day";
const LANGUAGE: &str = "agreement/language";
const TERMS: &str = "agreement/terms";
const PAYMENT: &str = "agreement/payment";
const CHARGES: &str = "agreement/charges";
const CONSENT: &str = "consents/";

/// Before a line that all taxes are on.
const ALL: &str = "*";
/// Before one that none is on.
const UNTAXED: &str = "-";

pub(crate) fn agreement_facts(agreement: &Agreement) -> Result<Facts, Refusal> {
    let mut writing = Writing::default();
    let Agreement { unit, day, language, terms, payment, charges } = agreement;
    writing.text(UNIT, unit);
    writing.date(DAY, *day);
    writing.text(LANGUAGE, language);
    for paragraph in terms {
        one_line("a paragraph of the terms", paragraph)?;
    }
    writing.text(TERMS, &terms.join("\n"));
    writing.text(PAYMENT, payment);
    // Always there, so that an agreement with nothing else in it is one.
    writing.put(CHARGES, Fact::text(charges_text(charges)?));
    Ok(writing.facts)
}

/// Currency; then a line each: `line <minor units> <taxes> <words>` and `tax <millionths> <name>`. What was decided at
/// once is one text, so that a merge cannot mix two fees.
fn charges_text(charges: &Charges) -> Result<String, Refusal> {
    let Charges { currency, lines, taxes } = charges;
    let mut text = currency.code().to_owned();
    for Tax { name, rate } in taxes {
        one_line("the name of a tax", name)?;
        text.push_str(&format!("\ntax\t{}\t{name}", rate.millionths));
    }
    for ChargeLine { text: words, amount, taxed } in lines {
        one_line("a line of the fee", words)?;
        let taxed = match taxed {
            Taxed::All => ALL.to_owned(),
            Taxed::Untaxed => UNTAXED.to_owned(),
            Taxed::Only(name) => {
                let known = taxes.iter().any(|tax| tax.name == *name);
                if !known || name.contains('\t') {
                    return Err(RefusalKind::Gone
                        .refusal(format!("no tax is called `{name}`; name one of the fee's own")));
                }
                format!("={name}")
            }
        };
        text.push_str(&format!("\nline\t{amount}\t{taxed}\t{words}"));
    }
    Ok(text)
}

fn charges_from(text: &str) -> Option<Charges> {
    let mut rows = text.split('\n');
    let currency = Currency::from_code(rows.next()?)?;
    let mut charges = Charges { currency, lines: Vec::new(), taxes: Vec::new() };
    for row in rows {
        let (kind, rest) = row.split_once('\t')?;
        match kind {
            "tax" => {
                let (millionths, name) = rest.split_once('\t')?;
                let rate = TaxRate { millionths: millionths.parse().ok()? };
                charges.taxes.push(Tax { name: name.to_owned(), rate });
            }
            "line" => {
                let mut parts = rest.splitn(3, '\t');
                let amount = parts.next()?.parse().ok()?;
                let taxed = match parts.next()? {
                    ALL => Taxed::All,
                    UNTAXED => Taxed::Untaxed,
                    named => Taxed::Only(named.strip_prefix('=')?.to_owned()),
                };
                charges.lines.push(ChargeLine { text: parts.next()?.to_owned(), amount, taxed });
            }
            _ => return None,
        }
    }
    Some(charges)
}

/// The agreement, if any of it is there.
pub(super) fn take_agreement(entry: &mut Entry<'_, '_>) -> Option<Agreement> {
    let unit = entry.text_if_any(UNIT);
    let day = entry.date(DAY);
    let language = entry.text_if_any(LANGUAGE);
    let terms = entry.text_if_any(TERMS);
    let payment = entry.text_if_any(PAYMENT);
    let charges = entry.text_if_any(CHARGES);
    let any = [&unit, &language, &terms, &payment, &charges].into_iter().any(Option::is_some);
    if !any && day.is_none() {
        return None;
    }
    let charges = charges.and_then(|text| {
        let read = charges_from(&text);
        if read.is_none() {
            entry.trouble(format!("`{CHARGES}` cannot be read as a fee; it is left out"));
        }
        read
    });
    let lines = |text: String| text.split('\n').map(str::to_owned).collect();
    Some(Agreement {
        unit: unit.unwrap_or_default(),
        day,
        language: language.unwrap_or_default(),
        terms: terms.map(lines).unwrap_or_default(),
        payment: payment.unwrap_or_default(),
        charges: charges.unwrap_or_default(),
    })
}

/// The key of a consent.
pub(crate) fn consent_key(id: &ConsentId) -> String {
    format!("{CONSENT}{}", escaped(id.as_str()))
}

/// Time, person, way, network address, hash of what was agreed, who entered it, and the drawn signature, a line each;
/// then the very text.
pub(crate) fn consent_fact(consent: &Consent) -> Result<Fact, Refusal> {
    let Consent { name, at, how, address, drawn, agreed, text, by } = consent;
    if name.trim().is_empty() {
        return Err(RefusalKind::NoWords.refusal("a consent without a name; say who agreed"));
    }
    if at.offset_minutes.is_none() {
        return Err(RefusalKind::Time.refusal(format!(
            "the time {at} of a consent has no offset from universal time; write it like 2026-06-03T18:12-04:00"
        )));
    }
    if agreed.len() != 64 || !agreed.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f')) {
        return Err(RefusalKind::Unfit.refusal(format!(
            "`{agreed}` is no SHA-256; 64 lower-case hexadecimal digits are accepted"
        )));
    }
    let (at, how) = (moment_text(*at)?, how.word());
    let name = one_line("the name", name)?;
    let address = one_line("the address", address)?;
    let by = one_line("the name", by)?;
    Ok(Fact::text(format!("{at}\n{name}\n{how}\n{address}\n{agreed}\n{by}\n{drawn}\n{text}")))
}

fn consent_from(text: &str) -> Option<Consent> {
    let mut lines = text.splitn(8, '\n');
    let at = Moment::parse(lines.next()?).ok()?;
    let name = lines.next()?.to_owned();
    let how = ConsentWay::from_word(lines.next()?)?;
    let address = lines.next()?.to_owned();
    let agreed = lines.next()?.to_owned();
    let by = lines.next()?.to_owned();
    let drawn = DrawnSignature::read(lines.next()?).ok()?;
    Some(Consent { name, at, how, address, drawn, agreed, text: lines.next()?.to_owned(), by })
}

/// Takes the consents out of the job's entry.
pub(super) fn take_consents(entry: &mut Entry<'_, '_>) -> BTreeMap<ConsentId, Consent> {
    let mut consents = BTreeMap::new();
    for (id, fact) in entry.several(CONSENT) {
        let consent = match &fact {
            Fact::Text(text) => consent_from(text),
            _ => None,
        };
        match consent {
            Some(consent) => drop(consents.insert(ConsentId(unescaped(&id)), consent)),
            None => entry.trouble(format!("the consent `{id}` cannot be read; it is left out")),
        }
    }
    consents
}
