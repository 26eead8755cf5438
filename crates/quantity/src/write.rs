//! Writing a value with the digits that its uncertainty allows.

use crate::{Unit, Value};

/// The value with its unit and, where known, its expanded uncertainty (k = 2): `117.30 V ± 0.10 V`.
///
/// The uncertainty is written with two significant digits and the value to the same place
/// (JCGM 100:2008, 7.2.6); without an uncertainty the value has five significant digits at most.
/// A unit of another kind gives the value in SI base units, so that nothing is ever printed as
/// something it is not.
#[must_use]
pub fn write_value(value: Value, unit: &Unit) -> String {
    let Some(number) = value.to_unit(unit) else {
        return format!("{} (SI base units of {})", value.base, value.kind.word());
    };
    let suffix = suffix(unit);
    match value.standard_uncertainty() {
        Some(standard) if standard > 0.0 => {
            let expanded = 2.0 * standard / unit.step();
            let place = place_of_second_digit(expanded);
            format!("{}{suffix} ± {}{suffix}", at_place(number, place), at_place(expanded, place))
        }
        _ => format!("{}{suffix}", write_number(number)),
    }
}

/// A number with five significant digits at most, without trailing zeros, grouped by thousands from
/// five digits on.
#[must_use]
pub fn write_number(number: f64) -> String {
    if number == 0.0 {
        return "0".to_owned();
    }
    let place = magnitude(number) - 4;
    let text = at_place(number, place.min(0));
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

fn suffix(unit: &Unit) -> String {
    let symbol = unit.symbol();
    if symbol.is_empty() { String::new() } else { format!(" {symbol}") }
}

/// Power of ten of the leading digit.
fn magnitude(number: f64) -> i32 {
    let text = format!("{:e}", number.abs());
    text.split_once('e').and_then(|(_, power)| power.parse().ok()).unwrap_or(0)
}

/// Power of ten of the second significant digit, after rounding to two digits.
fn place_of_second_digit(uncertainty: f64) -> i32 {
    let text = format!("{:.1e}", uncertainty.abs());
    text.split_once('e').and_then(|(_, power)| power.parse::<i32>().ok()).unwrap_or(0) - 1
}

/// Rounds to a power of ten and writes all digits down to it.
fn at_place(number: f64, place: i32) -> String {
    let text = if place < 0 {
        let decimals = usize::try_from(-place).unwrap_or(0).min(12);
        format!("{number:.decimals$}")
    } else {
        let mut step = 1.0_f64;
        for _ in 0..place {
            step *= 10.0;
        }
        format!("{:.0}", (number / step).round() * step)
    };
    let text = if text.trim_start_matches('-').trim_matches(['0', '.']).is_empty() {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    };
    grouped(&text)
}

fn grouped(text: &str) -> String {
    let (sign, unsigned) = text.strip_prefix('-').map_or(("", text), |rest| ("-", rest));
    let (whole, decimals) =
        unsigned.split_once('.').map_or((unsigned, None), |(w, d)| (w, Some(d)));
    let mut out = sign.to_owned();
    if whole.len() < 5 {
        out.push_str(whole);
    } else {
        for (at, digit) in whole.chars().enumerate() {
            if at > 0 && (whole.len() - at).is_multiple_of(3) {
                out.push(',');
            }
            out.push(digit);
        }
    }
    if let Some(decimals) = decimals {
        out.push('.');
        out.push_str(decimals);
    }
    out
}
