//! Work on pixels: roughening, blurring, laying a coarse sheet over a fine one. Four channels travel
//! together in one 64-bit word, sixteen bits each.
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    reason = "pixel places and channel values are kept in range by the clamps beside them"
)]

use super::darkroom::{COARSE, View};
use super::grain::{Effect, Grain, TILE, tiles};
use resvg::tiny_skia::Pixmap;

/// A pixel's four bytes spread over the four lanes of a word.
#[inline]
pub(crate) fn spread(pixel: &[u8]) -> u64 {
    let bytes = [pixel[0], pixel[1], pixel[2], pixel[3]];
    let word = u64::from(u32::from_le_bytes(bytes));
    let halves = (word | (word << 16)) & 0x0000_ffff_0000_ffff;
    (halves | (halves << 8)) & 0x00ff_00ff_00ff_00ff
}

/// Keeps the high byte of each lane.
const HIGH: u64 = 0xff00_ff00_ff00_ff00;

/// One in each lane.
const ONES: u64 = 0x0001_0001_0001_0001;

/// Keeps the low byte of each lane.
pub(crate) const LANES: u64 = 0x00ff_00ff_00ff_00ff;

/// The lanes' low bytes as a pixel's four bytes; the lanes must hold nothing else.
#[inline]
fn gather(lanes: u64, pixel: &mut [u8]) {
    let halves = (lanes | (lanes >> 8)) & 0x0000_ffff_0000_ffff;
    let word = (halves | (halves >> 16)) as u32;
    pixel.copy_from_slice(&word.to_le_bytes());
}

/// Lays a coarse sheet over the canvas, smoothly enlarged.
pub(crate) fn enlarge_onto(sheet: &Pixmap, canvas: &mut Pixmap) {
    let width = sheet.width() as usize;
    let source: Vec<u64> = sheet.data().chunks_exact(4).map(spread).collect();
    let lines: Vec<&[u64]> = source.chunks_exact(width).collect();
    let filled: Vec<bool> = lines.iter().map(|line| line.iter().any(|&pixel| pixel != 0)).collect();
    let canvas_width = canvas.width() as usize;
    let step = |place: usize, limit: usize| {
        // The fine pixel's middle in eighths of a coarse pixel.
        let at = (2 * place as i64 + 1) - COARSE as i64;
        let low = at.div_euclid(2 * COARSE as i64);
        let part = at.rem_euclid(2 * COARSE as i64) as u64;
        let last = limit as i64 - 1;
        (low.clamp(0, last) as usize, (low + 1).clamp(0, last) as usize, part)
    };
    let columns: Vec<(usize, usize, u64)> = (0..canvas_width).map(|x| step(x, width)).collect();
    let mut between = vec![0u64; width];
    for (y, row) in canvas.data_mut().chunks_exact_mut(canvas_width * 4).enumerate() {
        let (top, bottom, down) = step(y, lines.len());
        if !filled[top] && !filled[bottom] {
            continue;
        }
        for ((value, upper), lower) in between.iter_mut().zip(lines[top]).zip(lines[bottom]) {
            *value = upper * (8 - down) + lower * down;
        }
        for (pixel, &(left, right, across)) in row.chunks_exact_mut(4).zip(&columns) {
            // 64 times the mean, in 14 bits a lane.
            let sum = between[left] * (8 - across) + between[right] * across;
            if sum == 0 {
                continue;
            }
            let mean = (sum >> 6) & LANES;
            let through = 255 - (mean >> 48);
            // No channel is above its opacity, so that the sum stays within a byte.
            let under = (spread(pixel) * through + (127 * ONES)) >> 8;
            gather((mean + (under & LANES)) & LANES, pixel);
        }
    }
}

/// Roughens what is drawn; clear places stay clear.
pub(crate) fn roughen(canvas: &mut Pixmap, view: View, grain: &Grain) {
    let (cloud, specks) = tiles();
    let tile = if grain.fine { specks } else { cloud };
    let (sine, cosine) =
        (libm::sinf(grain.degrees.to_radians()), libm::cosf(grain.degrees.to_radians()));
    // 256 steps between two tile pixels.
    let steps = (TILE * 256) as f32;
    let along = steps / (grain.size.0 * view.scale);
    let across = steps / (grain.size.1 * view.scale);
    // A pattern much coarser than the pixels is worked out for blocks of pixels.
    let block = match along.max(across) {
        finest if finest < 80.0 => 4usize,
        finest if finest < 200.0 => 2,
        _ => 1,
    };
    let effect = Prepared::new(&grain.effect);
    let width = canvas.width() as usize;
    let mut levels = vec![0u8; width];
    for (y, row) in canvas.data_mut().chunks_exact_mut(width * 4).enumerate() {
        if y % block == 0 {
            let (view_x, view_y) = (view.left * view.scale, y as f32 + view.top * view.scale);
            let u = (view_x * cosine + view_y * sine) * along;
            let v = (view_y * cosine - view_x * sine) * across;
            let u_step = cosine * along * block as f32;
            let v_step = -sine * across * block as f32;
            fill_levels(
                tile,
                &mut levels,
                block,
                (u as i32, v as i32),
                (u_step as i32, v_step as i32),
            );
        }
        effect.touch(row, &levels);
    }
}

/// Reads a line of roughness from the tile, in steps of 1/256 tile pixel.
fn fill_levels(tile: &[u8], levels: &mut [u8], block: usize, start: (i32, i32), step: (i32, i32)) {
    const MASK: usize = TILE - 1;
    let (mut u, mut v) = start;
    for run in levels.chunks_mut(block) {
        let (column, line) = ((u >> 8) as usize & MASK, (v >> 8) as usize & MASK);
        let (right, below) = ((column + 1) & MASK, (line + 1) & MASK);
        let (fu, fv) = (u & 255, v & 255);
        let at = |line: usize, column: usize| i32::from(tile[line * TILE + column]);
        let upper = at(line, column) * (256 - fu) + at(line, right) * fu;
        let lower = at(below, column) * (256 - fu) + at(below, right) * fu;
        run.fill(((upper * (256 - fv) + lower * fv) >> 16) as u8);
        u = u.wrapping_add(step.0);
        v = v.wrapping_add(step.1);
    }
}

/// An effect worked out for each of the 256 levels of roughness.
enum Prepared {
    /// The factor at each level, in 128ths, at most 255.
    Shade(Box<[u16; 256]>),
    /// What shows through at each level, in 256ths, and the covering colour in the lanes of a word.
    Stain(Box<[(u16, u64); 256]>),
}

impl Prepared {
    fn new(effect: &Effect) -> Self {
        match effect {
            Effect::Shade(amount) => {
                let mut factors = Box::new([0u16; 256]);
                for (level, factor) in factors.iter_mut().enumerate() {
                    let share = 1.0 + amount * (level as f32 / 255.0 - 0.5);
                    *factor = (share * 128.0).clamp(0.0, 255.0) as u16;
                }
                Self::Shade(factors)
            }
            Effect::Stain { cover, soft, opacity, edge, middle } => {
                let mut table = Box::new([(256u16, 0u64); 256]);
                for (level, entry) in table.iter_mut().enumerate() {
                    let above = level as f32 / 255.0 - (1.0 - cover);
                    let share = (above / soft.max(0.01)).clamp(0.0, 1.0) * opacity;
                    let tone = (above / cover.max(0.01)).clamp(0.0, 1.0);
                    let covered = (share * 256.0) as u16;
                    let mut colour = u64::from(covered * 255) << 48;
                    for channel in 0..3 {
                        let mixed = f32::from(edge[channel]) * (1.0 - tone)
                            + f32::from(middle[channel]) * tone;
                        colour |=
                            ((mixed * f32::from(covered)) as u64).min(65_280) << (16 * channel);
                    }
                    *entry = (256 - covered, colour);
                }
                Self::Stain(table)
            }
        }
    }

    /// Changes a row of pixels. A clear pixel stays clear: what would be laid on a whole pixel is laid
    /// on its share.
    fn touch(&self, row: &mut [u8], levels: &[u8]) {
        match self {
            Self::Shade(factors) => {
                for (pixel, &level) in row.chunks_exact_mut(4).zip(levels) {
                    let alpha = pixel[3];
                    // Nine bits a lane; the ninth says that it ran over.
                    let product = (spread(pixel) * u64::from(factors[usize::from(level)])) >> 7;
                    let over = (product >> 8) & ONES;
                    gather((product & LANES) | (over * 255), pixel);
                    if alpha != 255 {
                        for value in &mut pixel[..3] {
                            *value = (*value).min(alpha);
                        }
                    }
                    pixel[3] = alpha;
                }
            }
            Self::Stain(table) => {
                for (pixel, &level) in row.chunks_exact_mut(4).zip(levels) {
                    let (through, colour) = table[usize::from(level)];
                    let alpha = pixel[3];
                    if through == 256 || alpha == 0 {
                        continue;
                    }
                    let over = if alpha == 255 {
                        colour
                    } else {
                        (((colour >> 8) & LANES) * u64::from(alpha)) & HIGH
                    };
                    let sum = spread(pixel) * u64::from(through) + over;
                    gather((sum >> 8) & LANES, pixel);
                    if alpha != 255 {
                        for value in &mut pixel[..3] {
                            *value = (*value).min(alpha);
                        }
                        pixel[3] = alpha;
                    }
                }
            }
        }
    }
}

/// Blurs in two passes of a running mean, which comes close enough to a lens's soft spot.
pub(crate) fn blur(sheet: &mut Pixmap, radius: f32) {
    let reach = (radius * 0.6 + 0.5) as usize;
    if reach == 0 {
        return;
    }
    let (width, height) = (sheet.width() as usize, sheet.height() as usize);
    let mut line = vec![[0u8; 4]; width.max(height)];
    for _ in 0..2 {
        let pixels = sheet.data_mut();
        for row in pixels.chunks_exact_mut(width * 4) {
            let mean = |x: usize| [row[x * 4], row[x * 4 + 1], row[x * 4 + 2], row[x * 4 + 3]];
            running_mean(mean, width, reach, &mut line);
            for (pixel, value) in row.chunks_exact_mut(4).zip(&line) {
                pixel.copy_from_slice(value);
            }
        }
        for x in 0..width {
            let place = |y: usize| (y * width + x) * 4;
            let mean = |y: usize| {
                let p = place(y);
                [pixels[p], pixels[p + 1], pixels[p + 2], pixels[p + 3]]
            };
            running_mean(mean, height, reach, &mut line);
            for (y, value) in line[..height].iter().enumerate() {
                pixels[place(y)..place(y) + 4].copy_from_slice(value);
            }
        }
    }
}

/// The mean of `reach` pixels either side, along one row or column; ends are repeated.
fn running_mean(
    pixel: impl Fn(usize) -> [u8; 4],
    length: usize,
    reach: usize,
    out: &mut [[u8; 4]],
) {
    let last = length - 1;
    let count = (2 * reach + 1) as u32;
    let mut sum = [0u32; 4];
    for offset in 0..=2 * reach {
        let value = pixel(offset.saturating_sub(reach).min(last));
        for (total, channel) in sum.iter_mut().zip(value) {
            *total += u32::from(channel);
        }
    }
    for (place, mean) in out.iter_mut().enumerate().take(length) {
        *mean = sum.map(|total| ((total + count / 2) / count) as u8);
        let (enters, leaves) =
            (pixel((place + reach + 1).min(last)), pixel(place.saturating_sub(reach)));
        for channel in 0..4 {
            sum[channel] += u32::from(enters[channel]);
            sum[channel] -= u32::from(leaves[channel]);
        }
    }
}
