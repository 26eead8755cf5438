//! Hashes as 64 lower-case hexadecimal digits.

/// The 32 bytes that `text` spells; `None` if it is anything else than 64 lower-case digits.
pub(crate) fn read(text: &str) -> Option<[u8; 32]> {
    let digit = |byte: u8| match byte {
        b'0'..=b'9' => Some(byte - b'0'),
        b'a'..=b'f' => Some(byte - b'a' + 10),
        _ => None,
    };
    let digits = text.as_bytes();
    if digits.len() != 64 {
        return None;
    }
    let mut bytes = [0; 32];
    for (byte, pair) in bytes.iter_mut().zip(digits.chunks_exact(2)) {
        *byte = digit(pair[0])? << 4 | digit(pair[1])?;
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    #[test]
    fn only_64_lower_case_digits_spell_a_hash() {
        let text = "00ff".repeat(16);
        assert_eq!(super::read(&text), Some([0, 255].repeat(16).try_into().unwrap()));
        for wrong in ["", "00", &text[1..], &text.to_uppercase(), &text.replace('f', "g")] {
            assert_eq!(super::read(wrong), None, "{wrong}");
        }
    }
}
