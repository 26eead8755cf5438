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

/// The rectangle (left, top, right, bottom, the last two excluded) outside which a sheet is clear.
fn filled(sheet: &Pixmap) -> Option<[usize; 4]> {
    let width = sheet.width() as usize;
    let (mut left, mut right, mut top, mut bottom) = (width, 0, usize::MAX, 0);
    for (y, row) in sheet.data().chunks_exact(width * 4).enumerate() {
        let is_filled = |pixel: &[u8]| pixel[3] != 0;
        if let Some(first) = row.chunks_exact(4).position(is_filled) {
            let last = row.chunks_exact(4).rposition(is_filled).unwrap_or(first);
            left = left.min(first);
            right = right.max(last + 1);
            top = top.min(y);
            bottom = y + 1;
        }
    }
    (right > left).then_some([left, top, right, bottom])
}

/// Lays a coarse sheet over the canvas, smoothly enlarged.
pub(crate) fn enlarge_onto(sheet: &Pixmap, canvas: &mut Pixmap) {
    let Some([left, top, right, bottom]) = filled(sheet) else { return };
    let width = sheet.width() as usize;
    let source: Vec<u64> = sheet.data().chunks_exact(4).map(spread).collect();
    let lines: Vec<&[u64]> = source.chunks_exact(width).collect();
    let (canvas_width, canvas_height) = (canvas.width() as usize, canvas.height() as usize);
    let step = |place: usize, limit: usize| {
        // The fine pixel's middle in eighths of a coarse pixel.
        let at = (2 * place as i64 + 1) - COARSE as i64;
        let low = at.div_euclid(2 * COARSE as i64);
        let part = at.rem_euclid(2 * COARSE as i64) as u64;
        let last = limit as i64 - 1;
        (low.clamp(0, last) as usize, (low + 1).clamp(0, last) as usize, part)
    };
    // A filled coarse pixel reaches one and a half of its widths from its middle.
    let reach = |low: usize, high: usize, limit: usize| {
        (low * COARSE).saturating_sub(COARSE)..((high + 1) * COARSE).min(limit)
    };
    let across = reach(left, if right == width { canvas_width } else { right }, canvas_width);
    let down =
        reach(top, if bottom == lines.len() { canvas_height } else { bottom }, canvas_height);
    let columns: Vec<(usize, usize, u64)> = across.clone().map(|x| step(x, width)).collect();
    let mut between = vec![0u64; width];
    let rows = canvas.data_mut().chunks_exact_mut(canvas_width * 4).enumerate();
    for (y, row) in rows.skip(down.start).take(down.len()) {
        let (upper, lower, part) = step(y, lines.len());
        for ((value, upper), lower) in between.iter_mut().zip(lines[upper]).zip(lines[lower]) {
            *value = upper * (8 - part) + lower * part;
        }
        let row = &mut row[across.start * 4..across.end * 4];
        for (pixel, &(left, right, part)) in row.chunks_exact_mut(4).zip(&columns) {
            // 64 times the mean, in 14 bits a lane.
            let sum = between[left] * (8 - part) + between[right] * part;
            if sum == 0 {
                continue;
            }
            let mean = (sum >> 6) & LANES;
            let through = 255 - (mean >> 48);
            if through == 0 {
                gather(mean, pixel);
                continue;
            }
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
        finest if finest < 200.0 && !grain.fine => 2,
        _ => 1,
    };
    let effect = Prepared::new(&grain.effect);
    let width = canvas.width() as usize;
    let mut line = Line { factors: vec![[0; 4]; width], addends: vec![[0; 4]; width] };
    for (y, row) in canvas.data_mut().chunks_exact_mut(width * 4).enumerate() {
        if y % block == 0 {
            let (view_x, view_y) = (view.left * view.scale, y as f32 + view.top * view.scale);
            let u = (view_x * cosine + view_y * sine) * along;
            let v = (view_y * cosine - view_x * sine) * across;
            let walk = Walk {
                start: (u as i32, v as i32),
                step: (
                    (cosine * along * block as f32) as i32,
                    (-sine * across * block as f32) as i32,
                ),
                block,
                smooth: !grain.fine,
            };
            walk.fill(tile, &effect, &mut line);
        }
        effect.touch(row, &line);
    }
}

/// What is done to each pixel of a row: sixteen-bit factors and addends for its four channels.
struct Line {
    factors: Vec<[u16; 4]>,
    addends: Vec<[u16; 4]>,
}

/// A walk over the tile, in steps of 1/256 tile pixel.
struct Walk {
    start: (i32, i32),
    step: (i32, i32),
    block: usize,
    smooth: bool,
}

impl Walk {
    /// Looks up what is to be done along the walk.
    fn fill(&self, tile: &[u8], effect: &Prepared, line: &mut Line) {
        const MASK: usize = TILE - 1;
        let (mut u, mut v) = self.start;
        let runs = line.factors.chunks_mut(self.block).zip(line.addends.chunks_mut(self.block));
        for (factors, addends) in runs {
            let (column, row) = ((u >> 8) as usize & MASK, (v >> 8) as usize & MASK);
            let at = |row: usize, column: usize| i32::from(tile[row * TILE + column]);
            let level = if self.smooth {
                let (right, below) = ((column + 1) & MASK, (row + 1) & MASK);
                let (fu, fv) = (u & 255, v & 255);
                let upper = at(row, column) * (256 - fu) + at(row, right) * fu;
                let lower = at(below, column) * (256 - fu) + at(below, right) * fu;
                (upper * (256 - fv) + lower * fv) >> 16
            } else {
                at(row, column)
            };
            let (factor, addend) = effect.table[level as usize & 255];
            factors.fill(factor);
            if effect.adds {
                addends.fill(addend);
            }
            u = u.wrapping_add(self.step.0);
            v = v.wrapping_add(self.step.1);
        }
    }
}

/// An effect worked out for each of the 256 levels of roughness.
struct Prepared {
    /// Whether anything is added, or all is only multiplied.
    adds: bool,
    /// For each level and channel, a factor (in 128ths, if nothing is added, else in 256ths) and an
    /// addend in 256ths.
    table: Box<[([u16; 4], [u16; 4]); 256]>,
}

impl Prepared {
    fn new(effect: &Effect) -> Self {
        let mut table = Box::new([([0; 4], [0; 4]); 256]);
        let mut adds = false;
        for (level, (factors, addends)) in table.iter_mut().enumerate() {
            let level = level as f32 / 255.0;
            match effect {
                Effect::Shade(amount) => {
                    let share = 1.0 + amount * (level - 0.5);
                    let factor = (share * 128.0).clamp(0.0, 255.0) as u16;
                    *factors = [factor, factor, factor, 128];
                }
                Effect::Stain { cover, soft, opacity, edge, middle } => {
                    adds = true;
                    let above = level - (1.0 - cover);
                    let share = (above / soft.max(0.01)).clamp(0.0, 1.0) * opacity;
                    let tone = (above / cover.max(0.01)).clamp(0.0, 1.0);
                    let covered = (share * 256.0) as u16;
                    *factors = [256 - covered; 4];
                    addends[3] = covered * 255;
                    for channel in 0..3 {
                        let colour = f32::from(edge[channel]) * (1.0 - tone)
                            + f32::from(middle[channel]) * tone;
                        addends[channel] = (colour * f32::from(covered)) as u16;
                    }
                }
            }
        }
        Self { adds, table }
    }

    /// Changes a row of pixels. A clear pixel stays clear: what would be laid on a whole pixel is laid
    /// on its share.
    fn touch(&self, row: &mut [u8], line: &Line) {
        let factors = line.factors.as_flattened();
        let addends = line.addends.as_flattened();
        let opaque = row.chunks_exact(4).all(|pixel| pixel[3] == 255);
        if !opaque {
            self.touch_partly_clear(row, line);
        } else if self.adds {
            for ((value, factor), addend) in row.iter_mut().zip(factors).zip(addends) {
                *value = ((u16::from(*value) * factor + addend) >> 8) as u8;
            }
        } else {
            for (value, factor) in row.iter_mut().zip(factors) {
                *value = ((u16::from(*value) * factor) >> 7).min(255) as u8;
            }
        }
    }

    fn touch_partly_clear(&self, row: &mut [u8], line: &Line) {
        let shift = if self.adds { 8 } else { 7 };
        let actions = line.factors.iter().zip(&line.addends);
        for (pixel, (factors, addends)) in row.chunks_exact_mut(4).zip(actions) {
            let alpha = u32::from(pixel[3]);
            if alpha == 0 {
                continue;
            }
            for channel in 0..3 {
                let under = u32::from(pixel[channel]) * u32::from(factors[channel]);
                let over = if self.adds { u32::from(addends[channel]) * alpha / 255 } else { 0 };
                pixel[channel] = ((under + over) >> shift).min(alpha) as u8;
            }
        }
    }
}

/// Blurs in two passes of a running mean, which comes close enough to a lens's soft spot.
pub(crate) fn blur(sheet: &mut Pixmap, radius: f32) {
    let reach = (radius * 0.6 + 0.5) as usize;
    let (width, height) = (sheet.width() as usize, sheet.height() as usize);
    let Some([left, top, right, bottom]) = filled(sheet) else { return };
    if reach == 0 {
        return;
    }
    let columns = left.saturating_sub(2 * reach)..(right + 2 * reach).min(width);
    let rows = top.saturating_sub(2 * reach)..(bottom + 2 * reach).min(height);
    let mut before = Vec::new();
    for _ in 0..2 {
        for row in sheet.data_mut().chunks_exact_mut(width * 4).skip(rows.start).take(rows.len()) {
            let row = &mut row[columns.start * 4..columns.end * 4];
            before.clear();
            before.extend_from_slice(row);
            mean_along(&before, row, reach, 4);
        }
        before.clear();
        before.extend_from_slice(&sheet.data()[rows.start * width * 4..rows.end * width * 4]);
        let after = &mut sheet.data_mut()[rows.start * width * 4..rows.end * width * 4];
        mean_along(&before, after, reach, width * 4);
    }
}

/// The mean of `reach` groups either side; a group is `size` values, and the end ones are repeated.
fn mean_along(before: &[u8], after: &mut [u8], reach: usize, size: usize) {
    let last = before.len() / size - 1;
    let group = |place: usize| &before[place.min(last) * size..(place.min(last) + 1) * size];
    let count = 2 * reach as u32 + 1;
    // Dividing by multiplying, in 2⁻²⁰; exact enough for spans under 2,000 values.
    let inverse = (1 << 20) / count;
    let mut sums = vec![count / 2; size];
    for offset in 0..=2 * reach {
        for (sum, value) in sums.iter_mut().zip(group(offset.saturating_sub(reach))) {
            *sum += u32::from(*value);
        }
    }
    for (place, means) in after.chunks_exact_mut(size).enumerate() {
        let (enters, leaves) = (group(place + reach + 1), group(place.saturating_sub(reach)));
        for (((mean, sum), enters), leaves) in
            means.iter_mut().zip(&mut sums).zip(enters).zip(leaves)
        {
            *mean = ((*sum * inverse) >> 20) as u8;
            *sum += u32::from(*enters);
            *sum -= u32::from(*leaves);
        }
    }
}
