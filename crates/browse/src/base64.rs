//! Base64 (RFC 4648, section 4), as the driver sends pictures.

const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// The bytes of a text; `None` if it is no base64.
pub(crate) fn read(text: &str) -> Option<Vec<u8>> {
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3);
    let (mut held, mut bits) = (0_u32, 0_u32);
    for letter in text.trim_end_matches('=').bytes() {
        let value = LETTERS.iter().position(|known| *known == letter)?;
        held = held << 6 | u32::try_from(value).ok()?;
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            bytes.push(u8::try_from(held >> bits & 0xff).ok()?);
            held &= (1 << bits) - 1;
        }
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn the_examples_of_the_standard_are_read() {
        // RFC 4648, section 10.
        for (bytes, text) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(read(text).as_deref(), Some(bytes.as_bytes()), "{text}");
        }
        assert_eq!(read("Zm9*"), None);
    }
}
