//! JSON with one way of being written (RFC 8785), so that two programs hash the same bytes.

use serde_json::Value;

/// A value as canonical JSON: no spaces, keys in order of their UTF-16 code units, strings escaped no more than needed.
///
/// Numbers must be integers within ±(2⁵³ − 1): what is signed here holds no others, and the writing of the rest (RFC
/// 8785, 3.2.2.3) is a thing of its own. None for any other number.
#[must_use]
pub fn canonical_json(value: &Value) -> Option<String> {
    let mut out = String::new();
    write(value, &mut out)?;
    Some(out)
}

fn write(value: &Value, out: &mut String) -> Option<()> {
    match value {
        Value::Null | Value::Bool(_) => out.push_str(&value.to_string()),
        Value::Number(number) => {
            const LARGEST: i64 = (1 << 53) - 1;
            let whole = number.as_i64().filter(|whole| (-LARGEST..=LARGEST).contains(whole))?;
            out.push_str(&whole.to_string());
        }
        Value::String(text) => string(text, out)?,
        Value::Array(items) => {
            out.push('[');
            for (at, item) in items.iter().enumerate() {
                if at > 0 {
                    out.push(',');
                }
                write(item, out)?;
            }
            out.push(']');
        }
        Value::Object(object) => {
            let mut members: Vec<(&String, &Value)> = object.iter().collect();
            members.sort_by(|(one, _), (other, _)| one.encode_utf16().cmp(other.encode_utf16()));
            out.push('{');
            for (at, (key, member)) in members.into_iter().enumerate() {
                if at > 0 {
                    out.push(',');
                }
                string(key, out)?;
                out.push(':');
                write(member, out)?;
            }
            out.push('}');
        }
    }
    Some(())
}

/// `serde_json` escapes strings exactly as RFC 8785, 3.2.2.2 asks; the test below holds it to that.
fn string(text: &str, out: &mut String) -> Option<()> {
    out.push_str(&serde_json::to_string(text).ok()?);
    Some(())
}

#[cfg(test)]
mod tests {
    use super::canonical_json;
    use serde_json::json;

    /// RFC 8785, 3.2.3: the order of keys by UTF-16, in which an emoji comes before U+FB33.
    #[test]
    fn the_published_order_of_keys_is_met() {
        let value = json!({
            "\u{20ac}": "Euro Sign", "\r": "Carriage Return", "\u{fb33}": "Hebrew Letter Dalet With Dagesh",
            "1": "One", "\u{1f600}": "Emoji: Grinning Face", "\u{80}": "Control", "\u{f6}": "Latin Small Letter O With Diaeresis"
        });
        let canonical = canonical_json(&value).unwrap();
        let expected = [
            "Carriage Return",
            "One",
            "Control",
            "Latin Small Letter O With Diaeresis",
            "Euro Sign",
            "Emoji: Grinning Face",
            "Hebrew Letter Dalet With Dagesh",
        ];
        let places: Vec<usize> =
            expected.iter().map(|word| canonical.find(word).unwrap()).collect();
        assert!(places.is_sorted(), "{canonical}");
    }

    #[test]
    fn a_number_with_a_fraction_or_beyond_the_safe_range_is_refused() {
        assert_eq!(canonical_json(&json!([1.5])), None);
        assert_eq!(canonical_json(&json!(9_007_199_254_740_992_i64)), None);
        assert_eq!(
            canonical_json(&json!(-9_007_199_254_740_991_i64)).unwrap(),
            "-9007199254740991"
        );
    }

    /// RFC 8785, 3.2.2.2: the string of its sample, escaped as published in 3.2.3.
    #[test]
    fn the_published_sample_string_is_escaped_as_published() {
        let value = json!("\u{20ac}$\u{f}\nA'\u{42}\"\\\\\"/");
        assert_eq!(canonical_json(&value).unwrap(), r#""€$\u000f\nA'B\"\\\\\"/""#);
    }
}
