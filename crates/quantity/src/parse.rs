//! Reading what people write: `32 psi`, `1/4 in`, `5 ft 6 in`, `-40 degF`, `117.3 V ± 0.05`.

use std::fmt;

use crate::{Kind, Unit, Value, units};

/// Why a text is no value of the wanted kind, in a sentence that says what is accepted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParseError {
    /// What is wrong.
    pub message: String,
    /// What is accepted.
    pub hint: String,
}

impl fmt::Display for ParseError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}; {}", self.message, self.hint)
    }
}

impl std::error::Error for ParseError {}

/// Reads a value of a kind, with its unit and, after `±` or `+/-`, its standard uncertainty.
///
/// Numbers may be decimals, fractions (`1/4`), mixed (`1 1/4`, `1-1/4`), grouped by commas
/// (`1,200`), and lengths and masses may be in several parts (`5 ft 6 in`). A bare number is
/// accepted for plain numbers and for ratios only. The uncertainty is in the value's own unit unless
/// it names another; `± 1 %` of anything but a ratio is relative.
///
/// # Errors
/// A sentence that names the text and says what is accepted.
pub fn parse_value(text: &str, kind: Kind) -> Result<Value, ParseError> {
    let text = text.trim();
    let inner = text.strip_prefix('(').and_then(|rest| rest.split_once(')'));
    // `(117.3 ± 0.05) V` is the same as `117.3 ± 0.05 V`.
    let joined = inner.map(|(inside, unit)| format!("{inside} {unit}"));
    let whole = joined.as_deref().unwrap_or(text);
    let Some((quantity, uncertainty)) = split_uncertainty(whole) else {
        let (base, _) = parse_quantity(whole, kind)?;
        return Ok(Value::new(kind, base));
    };
    let unit = uncertainty.trim_start_matches(|c: char| c.is_ascii_digit() || ".,/ ".contains(c));
    let bare = split_number(quantity).is_some_and(|(_, rest)| rest.trim().is_empty());
    let (base, unit) = match parse_quantity(quantity, kind) {
        // `9 ± 1 %` is 9 %, not 900 %.
        Ok(_) if kind == Kind::Ratio && bare && !unit.trim().is_empty() => {
            parse_quantity(&format!("{quantity} {unit}"), kind)?
        }
        Ok(parsed) => parsed,
        Err(error) => {
            // `117.3 ± 0.05 V`: the unit behind the uncertainty is meant for both.
            if unit.is_empty() || unit.trim() == "%" {
                return Err(error);
            }
            parse_quantity(&format!("{quantity} {unit}"), kind).map_err(|_| error)?
        }
    };
    let standard = parse_uncertainty(uncertainty, base, unit)?;
    Ok(Value::new(kind, base).with_uncertainty(standard))
}

/// Reads a list of values of one kind.
///
/// Values are separated by `;`, or by commas, or written as a JSON list of texts; a unit behind the
/// last one serves for those that have none: `0, 1/4, 3/8 in`.
///
/// # Errors
/// A sentence that names the faulty value and says what is accepted.
pub fn parse_list(text: &str, kind: Kind) -> Result<Vec<Value>, ParseError> {
    let plain = text.trim().trim_start_matches('[').trim_end_matches(']');
    let separator = if plain.contains(';') { ';' } else { ',' };
    let items: Vec<String> = plain
        .split(separator)
        .map(|item| item.trim().trim_matches('"').trim().to_owned())
        .collect();
    if items.iter().all(String::is_empty) {
        return Err(ParseError {
            message: "the list is empty".to_owned(),
            hint: format!("write values separated by commas, such as {}", example(kind)),
        });
    }
    let last = items.last().map_or("", String::as_str);
    let shared_unit =
        split_number(last).map_or("", |(_, rest)| rest).split(['±']).next().unwrap_or("").trim();
    items
        .iter()
        .map(|item| {
            // Before a bare ratio or number is read as such: `9, 11 %` is not 900 % and 11 %.
            let bare = split_number(item).is_some_and(|(_, rest)| rest.trim().is_empty());
            if bare && !shared_unit.is_empty() {
                parse_value(&format!("{item} {shared_unit}"), kind)
            } else {
                parse_value(item, kind)
            }
        })
        .collect()
}

fn split_uncertainty(text: &str) -> Option<(&str, &str)> {
    // Most have none, and every sign begins with one of two bytes.
    if !text.bytes().any(|byte| byte == b'+' || byte == 0xc2) {
        return None;
    }
    ["±", "+/-", "+-"]
        .into_iter()
        .find_map(|sign| text.split_once(sign))
        .map(|(value, uncertainty)| (value.trim(), uncertainty.trim()))
}

fn parse_uncertainty(text: &str, base: f64, unit: &Unit) -> Result<f64, ParseError> {
    let refuse = |why: &str| ParseError {
        message: format!("the uncertainty `{text}` {why}"),
        hint: format!("write the standard uncertainty as a number of {}", name_of(unit)),
    };
    let (number, rest) = split_number(text).ok_or_else(|| refuse("is no number"))?;
    if number < 0.0 {
        return Err(refuse("is below zero"));
    }
    let rest = rest.trim();
    let standard = if rest.is_empty() {
        number * unit.step()
    } else if rest == "%" && unit.kind != Kind::Ratio {
        (base * number / 100.0).abs()
    } else {
        let own = units::find_of(unit.kind, rest);
        let difference = (unit.kind == Kind::Temperature)
            .then(|| units::find_of(Kind::TemperatureDifference, rest))
            .flatten();
        let other = own.or(difference).ok_or_else(|| refuse("has another kind of unit"))?;
        number * other.step()
    };
    if standard.is_finite() { Ok(standard) } else { Err(refuse("is too large")) }
}

/// A quantity without uncertainty: its base value, and the unit of its last part.
fn parse_quantity(text: &str, kind: Kind) -> Result<(f64, &'static Unit), ParseError> {
    let text = text.trim();
    let Some((number, rest)) = split_number(text) else {
        return Err(ParseError {
            message: if text.is_empty() {
                "there is no value".to_owned()
            } else {
                format!("`{text}` does not begin with a number")
            },
            hint: format!("write {}", wanted(kind)),
        });
    };
    let (mut base, mut unit, mut rest) = parse_part(text, number, rest, kind)?;
    let negative = text.starts_with('-');
    while !rest.is_empty() {
        // Only what adds up may be written in parts.
        let (number, after) = split_number(rest)
            .filter(|_| matches!(kind, Kind::Length | Kind::Mass | Kind::Time | Kind::Volume))
            .ok_or_else(|| unknown_unit(text, rest, kind))?;
        let (part, part_unit, remaining) = parse_part(text, number, after, kind)?;
        base += if negative { -part } else { part };
        unit = part_unit;
        rest = remaining;
    }
    if !base.is_finite() {
        return Err(ParseError {
            message: format!("`{text}` is too large to compute with"),
            hint: format!("write {}", wanted(kind)),
        });
    }
    Ok((base, unit))
}

/// One number with its unit; what is left is another part.
fn parse_part<'a>(
    text: &str,
    number: f64,
    rest: &'a str,
    kind: Kind,
) -> Result<(f64, &'static Unit, &'a str), ParseError> {
    let rest = rest.trim();
    if rest.is_empty() {
        let bare = match kind {
            Kind::Number => units::find_of(kind, ""),
            Kind::Ratio => units::find_of(kind, "ratio"),
            _ => None,
        };
        return match bare {
            Some(unit) => Ok((unit.to_base(number), unit, "")),
            None => Err(ParseError {
                message: format!("`{text}` has no unit"),
                hint: format!("write {}", wanted(kind)),
            }),
        };
    }
    if let Some(unit) = units::find_of(kind, rest) {
        return Ok((unit.to_base(number), unit, ""));
    }
    // Another part may follow the unit: `5 ft 6 in`, `5'6"`.
    for (at, letter) in rest.char_indices().skip(1) {
        if !(letter.is_ascii_digit() || letter == '.') {
            continue;
        }
        if let Some(unit) = units::find_of(kind, &rest[..at]) {
            return Ok((unit.to_base(number), unit, &rest[at..]));
        }
    }
    Err(unknown_unit(text, rest, kind))
}

fn unknown_unit(text: &str, rest: &str, kind: Kind) -> ParseError {
    let message = match units::find(rest) {
        Some(other) => format!(
            "`{text}` is a {}, not a {}",
            other.kind.word().replace('_', " "),
            kind.word().replace('_', " ")
        ),
        None => format!("`{}` is no unit", rest.trim()),
    };
    ParseError { message, hint: format!("write {}", wanted(kind)) }
}

/// The number at the beginning of a text, and what follows it.
fn split_number(text: &str) -> Option<(f64, &str)> {
    let text = text.trim_start();
    let (sign, unsigned) = match text.chars().next()? {
        minus @ ('-' | '−') => (-1.0, &text[minus.len_utf8()..]),
        '+' => (1.0, &text[1..]),
        _ => (1.0, text),
    };
    let (first, rest) = decimal(unsigned)?;
    if let Some((fraction, rest)) = vulgar(rest) {
        return Some((sign * (first + fraction), rest));
    }
    if let Some(denominator) = rest.strip_prefix('/') {
        let (denominator, rest) = whole(denominator)?;
        return (denominator > 0.0).then_some((sign * first / denominator, rest));
    }
    // `1 1/4` and `1-1/4`.
    if let Some(mixed) = rest.strip_prefix([' ', '-'])
        && let Some((numerator, after)) = whole(mixed)
        && let Some(denominator) = after.strip_prefix('/')
        && let Some((denominator, after)) = whole(denominator)
        && denominator > 0.0
    {
        return Some((sign * (first + numerator / denominator), after));
    }
    Some((sign * first, rest))
}

/// ½, ¼ and ¾, alone or behind a whole number.
fn vulgar(text: &str) -> Option<(f64, &str)> {
    let letter = text.chars().next()?;
    let value = match letter {
        '¼' => 0.25,
        '½' => 0.5,
        '¾' => 0.75,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    };
    Some((value, &text[letter.len_utf8()..]))
}

fn whole(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let number = text[..end].parse().ok()?;
    Some((number, &text[end..]))
}

fn decimal(text: &str) -> Option<(f64, &str)> {
    if let Some(fraction) = vulgar(text) {
        return Some(fraction);
    }
    let bytes = text.as_bytes();
    let mut end = 0;
    let mut digits = String::new();
    while let Some(&byte) = bytes.get(end) {
        match byte {
            b'0'..=b'9' | b'.' => digits.push(char::from(byte)),
            // A comma groups three digits: `1,200`.
            b',' if grouped(bytes, end) => {}
            b'e' | b'E' if exponent(bytes, end) => {
                digits.push('e');
                end += 1;
                digits.push(char::from(bytes[end]));
            }
            _ => break,
        }
        end += 1;
    }
    let number: f64 = digits.parse().ok()?;
    number.is_finite().then_some((number, &text[end..]))
}

fn grouped(bytes: &[u8], comma: usize) -> bool {
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    comma > 0
        && digit(comma - 1)
        && (1..=3).all(|offset| digit(comma + offset))
        && !digit(comma + 4)
}

fn exponent(bytes: &[u8], at: usize) -> bool {
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    at > 0 && (digit(at + 1) || (matches!(bytes.get(at + 1), Some(b'+' | b'-')) && digit(at + 2)))
}

fn name_of(unit: &Unit) -> &'static str {
    if unit.spelling.is_empty() { "1" } else { unit.spelling }
}

/// What is accepted for a kind, in words.
fn wanted(kind: Kind) -> String {
    if kind == Kind::Number {
        return "a plain number, such as 0.5".to_owned();
    }
    let spellings: Vec<&str> = units::of_kind(kind).map(|unit| unit.spelling).collect();
    format!(
        "a {} with its unit, such as {} (units: {})",
        kind.word().replace('_', " "),
        example(kind),
        spellings.join(", ")
    )
}

fn example(kind: Kind) -> String {
    units::of_kind(kind)
        .next()
        .map_or_else(|| "1".to_owned(), |unit| format!("12 {}", unit.spelling).trim().to_owned())
}
