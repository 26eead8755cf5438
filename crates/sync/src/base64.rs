//! Bytes in JSON: base64 with the usual alphabet and padding (RFC 4648, section 4).

const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

pub(crate) fn write(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let value = group.iter().fold(0_u32, |value, byte| value << 8 | u32::from(*byte))
            << (8 * (3 - group.len()));
        for place in 0..4 {
            if place > group.len() {
                text.push('=');
            } else {
                let digit = usize::try_from(value >> (18 - 6 * place) & 63).unwrap_or_default();
                text.push(char::from(ALPHABET[digit]));
            }
        }
    }
    text
}

/// The bytes that `text` spells; `None` unless it is spelled exactly as [`write()`] does.
pub(crate) fn read(text: &str) -> Option<Vec<u8>> {
    let digits = text.as_bytes();
    if !digits.len().is_multiple_of(4) {
        return None;
    }
    let padding = digits.iter().rev().take_while(|digit| **digit == b'=').count();
    if padding > 2 {
        return None;
    }
    let mut bytes = Vec::with_capacity(digits.len() / 4 * 3);
    let mut groups = digits.chunks_exact(4).peekable();
    while let Some(group) = groups.next() {
        let padding = if groups.peek().is_some() { 0 } else { padding };
        let mut value = 0_u32;
        for digit in &group[..4 - padding] {
            value = value << 6 | u32::from(digit_value(*digit)?);
        }
        value <<= 6 * padding;
        let [_, first, second, third] = value.to_be_bytes();
        let group = [first, second, third];
        let (kept, dropped) = group.split_at(3 - padding);
        if dropped.iter().any(|byte| *byte != 0) {
            return None;
        }
        bytes.extend_from_slice(kept);
    }
    Some(bytes)
}

fn digit_value(digit: u8) -> Option<u8> {
    match digit {
        b'A'..=b'Z' => Some(digit - b'A'),
        b'a'..=b'z' => Some(digit - b'a' + 26),
        b'0'..=b'9' => Some(digit - b'0' + 52),
        b'+' => Some(62),
        b'/' => Some(63),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4648, section 10.
    #[test]
    fn the_published_examples_are_written_and_read() {
        for (bytes, text) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(write(bytes.as_bytes()), text);
            assert_eq!(read(text).unwrap(), bytes.as_bytes());
        }
    }

    #[test]
    fn anything_comes_back_and_nothing_else_is_taken() {
        let all: Vec<u8> = (0..=255).collect();
        for length in 0..=256 {
            assert_eq!(read(&write(&all[..length])).unwrap(), &all[..length]);
        }
        for wrong in ["Z", "Zg", "Zg=", "Zg= ", "Zh==", "Zm9=", "Z===", "====", "Zg==Zg==", "Zm 9"]
        {
            assert_eq!(read(wrong), None, "{wrong}");
        }
    }
}
