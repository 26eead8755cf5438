//! What can be measured on a photo: how sharp it is, how it is exposed, what it resembles.

use crate::{Fingerprint, plane::Plane};

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

impl Look {
    pub(crate) fn of(luma: &Plane) -> Self {
        let mut histogram = [0_u32; 256];
        for &sample in &luma.samples {
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
fn laplacian_variance(luma: &Plane) -> f64 {
    let width = luma.width as usize;
    let rows: Vec<&[u8]> = luma.samples.chunks_exact(width).collect();
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
