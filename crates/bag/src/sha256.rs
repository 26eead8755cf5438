//! The SHA-256 of a file.

use sha2::Digest;

/// A SHA-256; it is written as 64 lower-case hexadecimal digits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Sha256(pub [u8; 32]);

impl Sha256 {
    /// The hash of some bytes.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        Self(sha2::Sha256::digest(bytes).into())
    }

    /// The hash that these digits write; none unless they are 64 of `0` to `9` and `a` to `f`.
    #[must_use]
    pub fn parse(digits: &str) -> Option<Self> {
        let digits = digits.as_bytes();
        if digits.len() != 64 {
            return None;
        }
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(digits.chunks_exact(2)) {
            let [high, low] = pair else { return None };
            *byte = nibble(*high)? << 4 | nibble(*low)?;
        }
        Some(Self(bytes))
    }
}

/// Upper case is refused: a hash has one way of being written.
fn nibble(digit: u8) -> Option<u8> {
    match digit {
        b'0'..=b'9' => Some(digit - b'0'),
        b'a'..=b'f' => Some(digit - b'a' + 10),
        _ => None,
    }
}

impl std::fmt::Display for Sha256 {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.iter().try_for_each(|byte| write!(formatter, "{byte:02x}"))
    }
}

impl std::fmt::Debug for Sha256 {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "Sha256({self})")
    }
}

impl serde::Serialize for Sha256 {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> serde::Deserialize<'de> for Sha256 {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let digits = String::deserialize(deserializer)?;
        Self::parse(&digits).ok_or_else(|| {
            serde::de::Error::custom(format!("`{digits}` is no SHA-256 in lower-case hexadecimal"))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::Sha256;

    /// FIPS 180-4, as published with its example values: the message `abc`.
    #[test]
    fn the_published_example_is_met_and_read_back() {
        let digits = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(Sha256::of(b"abc").to_string(), digits);
        assert_eq!(Sha256::parse(digits), Some(Sha256::of(b"abc")));
        assert_eq!(Sha256::parse(&digits.to_uppercase()), None);
        assert_eq!(Sha256::parse(&digits[1..]), None);
    }
}
