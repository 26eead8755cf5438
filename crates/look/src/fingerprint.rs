//! A short description of what a photo looks like, which small changes leave nearly as it was.

use std::{f64::consts::PI, fmt, str::FromStr};

use crate::Brightness;

/// 64 bits of which similar pictures share most.
///
/// The brightness is averaged to 32 × 32 boxes and taken apart into waves (discrete cosine
/// transform, type II); the 8 × 8 longest waves each give a bit, set if the wave is stronger
/// than their median. The mean brightness is left out. Common practice under the name pHash.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Fingerprint(pub u64);

const BOXES: usize = 32;
const WAVES: usize = 8;

impl Fingerprint {
    /// How many bits differ, 0 to 64.
    #[must_use]
    pub fn distance(self, other: Self) -> u32 {
        (self.0 ^ other.0).count_ones()
    }

    pub(crate) fn of(luma: &Brightness<'_>) -> Self {
        let waves = longest_waves(&box_means(luma));
        let mut sorted = waves;
        // The first is the mean brightness.
        let ranked = &mut sorted[1..];
        ranked.sort_by(f64::total_cmp);
        let median = ranked[ranked.len() / 2];
        let bits = waves.iter().skip(1).fold(0, |bits, &wave| bits << 1 | u64::from(wave > median));
        Self(bits)
    }
}

/// Means of 32 × 32 boxes. A picture with fewer pixels than boxes gives some of them twice.
fn box_means(luma: &Brightness<'_>) -> [[f64; BOXES]; BOXES] {
    let (width, height) = (luma.width, luma.height);
    let span = |index: usize, length: usize| {
        let start = index * length / BOXES;
        start..((index + 1) * length / BOXES).max(start + 1)
    };
    let mut means = [[0.0; BOXES]; BOXES];
    for (row, line) in means.iter_mut().enumerate() {
        for (column, mean) in line.iter_mut().enumerate() {
            let (mut sum, mut count) = (0_u32, 0_u32);
            for y in span(row, height) {
                for &sample in &luma.samples[y * width..][span(column, width)] {
                    sum += u32::from(sample);
                    count += 1;
                }
            }
            *mean = f64::from(sum) / f64::from(count);
        }
    }
    means
}

/// The 8 × 8 longest waves, row by row.
fn longest_waves(means: &[[f64; BOXES]; BOXES]) -> [f64; WAVES * WAVES] {
    let mut cosines = [[0.0; BOXES]; WAVES];
    for (wave, line) in (0_u32..).zip(cosines.iter_mut()) {
        for (place, cosine) in (0_u32..).zip(line.iter_mut()) {
            *cosine = libm::cos(f64::from((2 * place + 1) * wave) * PI / 64.0);
        }
    }
    let mut across = [[0.0; WAVES]; BOXES];
    for (line, strengths) in means.iter().zip(across.iter_mut()) {
        for (cosine, strength) in cosines.iter().zip(strengths.iter_mut()) {
            *strength = line.iter().zip(cosine).map(|(mean, cosine)| mean * cosine).sum();
        }
    }
    let mut waves = [0.0; WAVES * WAVES];
    for (index, wave) in waves.iter_mut().enumerate() {
        let (down, right) = (index / WAVES, index % WAVES);
        let column = across.iter().map(|strengths| strengths[right]);
        let strength: f64 = column.zip(cosines[down]).map(|(value, cosine)| value * cosine).sum();
        // Rounding keeps noise in the last bits of an even picture from setting bits.
        *wave = (strength * 1e-3).round();
    }
    waves
}

impl fmt::Display for Fingerprint {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:016x}", self.0)
    }
}

impl fmt::Debug for Fingerprint {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "Fingerprint({self})")
    }
}

impl FromStr for Fingerprint {
    type Err = String;

    /// Reads the 16 hex digits that `Display` writes.
    fn from_str(text: &str) -> Result<Self, String> {
        let plain = text.len() == 16 && text.bytes().all(|letter| letter.is_ascii_hexdigit());
        let number = u64::from_str_radix(text, 16).ok().filter(|_| plain);
        number
            .map(Self)
            .ok_or_else(|| format!("\"{text}\" is not a photo's fingerprint; write 16 hex digits"))
    }
}
