//! The state, province or country that a site's address names, if it plainly does.
//!
//! Codes are those of ISO 3166: `US-VT`, `CA-ON`, `MX-SON`, `ES`. Only the end of an address is looked at, and only what
//! is spelled as people write it there: a name, or a postal abbreviation in capitals behind a comma or before a
//! postal code. Everything else is `unknown`; nothing is looked up and nothing guessed from the position.

use crate::fold::folded;

mod names;
use names::{COUNTRIES, STATES};

/// What stands for a region that is not known.
pub(crate) const UNKNOWN: &str = "unknown";

/// The region that the end of an address names; `unknown` if it names none.
#[must_use]
pub fn region(address: &str) -> &'static str {
    let mut parts: Vec<&str> =
        address.split([',', '\n', ';']).map(str::trim).filter(|part| !part.is_empty()).collect();
    let country = parts.last().and_then(|last| country_named(last));
    if country.is_some() {
        parts.pop();
    }
    // A postal code may stand in a part of its own, before or behind the state.
    while parts.len() > 1 && parts.last().is_some_and(|last| is_postal_code(last)) {
        let code = parts.pop().unwrap_or_default();
        if let Some(state) = parts.last().and_then(|last| state_named(last, country, Some(code))) {
            return state;
        }
    }
    let alone = parts.len() < 2;
    let state = parts.last().and_then(|last| {
        let (name, code) = without_postal_code(last);
        // A lone abbreviation is no address: `IN`, `OR` and `ME` are words as well.
        if alone
            && code.is_none()
            && country.is_none()
            && name.chars().filter(|letter| letter.is_alphabetic()).count() < 4
        {
            return None;
        }
        state_named(name, country, code)
    });
    state.or(country).unwrap_or(UNKNOWN)
}

/// Every code that [`region`] can answer.
#[cfg(test)]
pub(crate) fn codes() -> impl Iterator<Item = &'static str> {
    STATES.iter().map(|state| state.0).chain(COUNTRIES.iter().map(|country| country.0))
}

fn country_named(text: &str) -> Option<&'static str> {
    let name = folded(text);
    COUNTRIES.iter().find(|(_, names)| names.contains(&name.as_str())).map(|(code, _)| *code)
}

fn state_named(
    text: &str,
    country: Option<&'static str>,
    code: Option<&str>,
) -> Option<&'static str> {
    let (text, code) = match code {
        Some(code) => (text, Some(code)),
        None => without_postal_code(text),
    };
    let letters: String = text.chars().filter(|letter| *letter != '.').collect();
    let name = folded(&letters);
    let fits = |state: &&(&'static str, &'static str, &[&str])| {
        let (iso, abbreviation, names) = **state;
        let by_abbreviation = !abbreviation.is_empty() && letters.trim() == abbreviation;
        let by_name = names.contains(&name.as_str());
        let in_country = country.is_none_or(|country| iso.starts_with(country));
        let postal = code.is_none_or(|code| postal_code_fits(iso, code));
        (by_abbreviation || by_name) && in_country && postal
    };
    let found: Vec<&(&str, &str, &[&str])> = STATES.iter().filter(fits).collect();
    // There is a country of that name too.
    let doubtful = country.is_none() && code.is_none() && name == "georgia";
    match found.as_slice() {
        [state] if !doubtful => Some(state.0),
        _ => None,
    }
}

/// A text without the postal code behind it, and that code.
fn without_postal_code(text: &str) -> (&str, Option<&str>) {
    let text = text.trim();
    let cuts = text.char_indices().filter(|(_, letter)| letter.is_whitespace()).map(|(at, _)| at);
    for cut in cuts {
        let (name, code) = text.split_at(cut);
        if is_postal_code(code) {
            return (name.trim(), Some(code.trim()));
        }
    }
    (text, None)
}

/// Five digits, five and four (United States), or three and three signs as in Canada.
fn is_postal_code(text: &str) -> bool {
    is_digits_code(text.trim()) || is_canadian(text.trim())
}

fn is_digits_code(text: &str) -> bool {
    let digits = |text: &str, count: usize| {
        text.len() == count && text.bytes().all(|letter| letter.is_ascii_digit())
    };
    match text.split_once('-') {
        Some((five, four)) => digits(five, 5) && digits(four, 4),
        None => digits(text, 5),
    }
}

fn is_canadian(text: &str) -> bool {
    let letters: Vec<char> = text.chars().filter(|letter| *letter != ' ').collect();
    letters.len() == 6
        && letters.iter().enumerate().all(|(at, letter)| match at % 2 {
            0 => letter.is_ascii_uppercase(),
            _ => letter.is_ascii_digit(),
        })
}

fn postal_code_fits(iso: &str, code: &str) -> bool {
    if iso.starts_with("CA-") { is_canadian(code) } else { is_digits_code(code) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_end_of_an_address_says_the_region_if_it_plainly_does() {
        let check =
            |address: &str, expected: &str| assert_eq!(region(address), expected, "{address}");
        check("12 Invented Road, Some Town, VT 05701", "US-VT");
        check("12 Invented Road, Some Town, VT 05701-1234, USA", "US-VT");
        check("12 Invented Road\nSome Town, Vermont", "US-VT");
        check("Pitch 4, Some Town, New York", "US-NY");
        check("Some Town, ON K1A 0B1", "CA-ON");
        check("Some Town, ON, K1A 0B1, Canada", "CA-ON");
        check("Some Town, Québec", "CA-QC");
        check("Some Town, CA 90210", "US-CA");
        check("Some Town, CA", "US-CA");
        check("Calle Inventada 3, Un Pueblo, Sonora, México", "MX-SON");
        check("Calle Inventada 3, Un Pueblo, España", "ES");
        check("Some Town, Georgia", "unknown");
        check("Some Town, Georgia 30301", "US-GA");
        check("Some Town, Georgia, United States", "US-GA");
        check("Tbilisi, Georgia", "unknown");
        check("D.C.", "unknown");
        check("Washington, D.C. 20001", "US-DC");
    }

    #[test]
    fn what_only_looks_like_a_region_is_unknown() {
        for address in [
            "",
            "  ,, ;",
            "Pitch 12",
            "behind the barn, or",
            "come IN",
            "IN",
            "ME",
            "Lot 7, vt",
            "Some Town, VT K1A 0B1",
            "Some Town, ON 12345",
            "Vermont Street 4, Some Town",
            "12345",
            "😀, \u{202e}",
        ] {
            assert_eq!(region(address), UNKNOWN, "{address}");
        }
    }

    #[test]
    fn no_name_stands_for_two_states_of_one_country_and_no_code_twice() {
        let mut all: Vec<&str> = codes().collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
        for (code, _, names) in STATES {
            for name in *names {
                assert_eq!(folded(name), *name, "{code}: names stand here as they are compared");
            }
        }
        for (code, names) in COUNTRIES {
            for name in *names {
                assert_eq!(folded(name), *name, "{code}");
            }
        }
    }
}
