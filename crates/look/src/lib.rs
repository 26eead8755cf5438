//! What can be measured on a photo: how sharp it is, how it is exposed, what it resembles.
//!
//! The same arithmetic for files that the program takes in and for those that a browser has drawn: whoever has the
//! upright picture's brightness, shrunk to at most [`MEASURED`] pixels along its longest side, gets the same figures.

mod fingerprint;

pub use fingerprint::Fingerprint;

/// Longest side of the picture that is measured; it is not kept.
pub const MEASURED: u32 = 800;
/// Bits in which two fingerprints may differ and still count as nearly alike: 10 of 64, common
/// practice.
pub const NEARLY_ALIKE_BITS: u32 = 10;
/// Seconds between two photos beyond which they are not the same shot taken twice, however alike:
/// the same place before and after a repair is two findings. Two minutes, common practice.
pub const SAME_MOMENT_SECONDS: i64 = 120;

/// Brightness at and above which a pixel counts as blown, of 255.
const BLOWN: u8 = 250;
/// Brightness at and below which a pixel counts as black, of 255.
const BLACK: u8 = 5;

/// Figures that help to sort photos. They compare photos with each other; none is a verdict.
///
/// All are measured on the brightness of the upright picture, shrunk to at most 800 pixels along
/// its longest side, so that cameras of different resolution can be compared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Variance of the Laplacian, the sum of the four differences from a pixel's neighbours.
    /// Larger is sharper, for photos of the same thing (Pech-Pacheco et al., "Diatom
    /// autofocusing in brightfield microscopy", ICPR 2000).
    pub sharpness: f64,
    /// Mean brightness, 0 black to 1 white.
    pub brightness: f64,
    /// Share of pixels that are blown out, 0 to 1; cut-off at 250 of 255 (common practice).
    pub blown: f64,
    /// Share of pixels that are black, 0 to 1; cut-off at 5 of 255 (common practice).
    pub black: f64,
    /// For finding near duplicates.
    pub fingerprint: Fingerprint,
}

/// A picture's brightness, row by row without gaps. Neither side is zero.
struct Brightness<'a> {
    samples: &'a [u8],
    width: usize,
    height: usize,
}

impl Look {
    /// The figures of a picture's brightness, row by row without gaps; none where the samples are not so many, or there are none.
    #[must_use]
    pub fn of(samples: &[u8], width: u32, height: u32) -> Option<Self> {
        let count = u64::from(width) * u64::from(height);
        if count == 0 || u64::try_from(samples.len()) != Ok(count) {
            return None;
        }
        let luma = Brightness { samples, width: width as usize, height: height as usize };
        Some(Self::measured(&luma))
    }

    fn measured(luma: &Brightness<'_>) -> Self {
        let mut histogram = [0_u32; 256];
        for &sample in luma.samples {
            histogram[usize::from(sample)] += 1;
        }
        let samples = f64::from(histogram.iter().sum::<u32>());
        let total: f64 = (0_u32..)
            .zip(histogram)
            .map(|(value, count)| f64::from(value) * f64::from(count))
            .sum();
        let share = |values: &[u32]| f64::from(values.iter().sum::<u32>()) / samples;
        Self {
            sharpness: laplacian_variance(luma),
            brightness: total / samples / 255.0,
            blown: share(&histogram[usize::from(BLOWN)..]),
            black: share(&histogram[..=usize::from(BLACK)]),
            fingerprint: Fingerprint::of(luma),
        }
    }
}

/// Variance of the Laplacian over all pixels that have four neighbours; zero if none has.
fn laplacian_variance(luma: &Brightness<'_>) -> f64 {
    let rows: Vec<&[u8]> = luma.samples.chunks_exact(luma.width).collect();
    let (mut count, mut sum, mut squares) = (0.0, 0.0, 0.0);
    for three in rows.windows(3) {
        let [above, row, below] = [three[0], three[1], three[2]];
        // A row has at most 800 pixels and a Laplacian at most 1020, so a row's sums fit.
        let (mut row_count, mut row_sum, mut row_squares) = (0_u32, 0_i32, 0_u32);
        for (x, middle) in row.windows(3).enumerate() {
            let around = [middle[0], middle[2], above[x + 1], below[x + 1]];
            let around: i32 = around.into_iter().map(i32::from).sum();
            let laplacian = 4 * i32::from(middle[1]) - around;
            row_count += 1;
            row_sum += laplacian;
            row_squares += laplacian.unsigned_abs() * laplacian.unsigned_abs();
        }
        count += f64::from(row_count);
        sum += f64::from(row_sum);
        squares += f64::from(row_squares);
    }
    if count < 1.0 {
        return 0.0;
    }
    let mean = sum / count;
    (squares / count - mean * mean).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::Look;

    /// Eight by six patches, each as bright as none beside it; no two rows or columns are alike.
    fn patches(width: u32, height: u32) -> Vec<u8> {
        let patch = |x: u32, y: u32| {
            let (column, row) = (x * 8 / width, y * 6 / height);
            u8::try_from(20 + (column * 37 + row * 91 + column * row * 53) % 200).unwrap()
        };
        (0..height).flat_map(|y| (0..width).map(move |x| patch(x, y))).collect()
    }

    #[test]
    fn a_picture_and_its_half_are_alike_and_its_mirror_is_not() {
        let of = |samples: &[u8], width, height| Look::of(samples, width, height).unwrap();
        let whole = of(&patches(128, 96), 128, 96);
        let half: Vec<u8> = patches(128, 96)
            .chunks(128)
            .step_by(2)
            .flat_map(|row| row.iter().step_by(2).copied())
            .collect();
        let half = of(&half, 64, 48);
        assert!(whole.fingerprint.distance(half.fingerprint) <= 4);
        let mirror: Vec<u8> =
            patches(128, 96).chunks(128).flat_map(|row| row.iter().rev().copied()).collect();
        assert!(whole.fingerprint.distance(of(&mirror, 128, 96).fingerprint) > 10);
        assert!(whole.sharpness > of(&[128; 128 * 96], 128, 96).sharpness + 100.0);
    }

    #[test]
    fn what_is_no_picture_has_no_figures() {
        assert_eq!(Look::of(&[], 0, 5), None);
        assert_eq!(Look::of(&[1, 2, 3], 2, 2), None);
        assert!(Look::of(&[1], 1, 1).is_some());
        assert_eq!(Look::of(&[], u32::MAX, u32::MAX), None);
    }
}
