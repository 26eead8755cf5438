//! Chance and roughness: the dice that place each speck and the cloud pattern that roughens each
//! surface, the same on every run.
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    reason = "lattice points and grey steps are small whole numbers by construction"
)]

use std::sync::OnceLock;

/// A small generator of chance numbers (xorshift, Marsaglia 2003), so that a seed gives the same
/// picture for ever.
#[derive(Debug, Clone)]
pub(crate) struct Dice(u64);

impl Dice {
    /// Dice for one seed; neighbouring seeds give unrelated throws.
    pub(crate) fn new(seed: u64) -> Self {
        // One round of splitmix64, because xorshift starts badly from small seeds and not at all from 0.
        let mut mixed = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        Self((mixed ^ (mixed >> 31)) | 1)
    }

    /// The next 32 chance bits.
    pub(crate) fn bits(&mut self) -> u32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 32) as u32
    }

    /// A number between `low` and `high`.
    pub(crate) fn between(&mut self, low: f32, high: f32) -> f32 {
        low + (high - low) * ((self.bits() >> 8) as f32 / 16_777_216.0)
    }
}

/// Pixels along a side of the cloud tile; a power of two, so that it wraps with a mask.
pub(crate) const TILE: usize = 512;

/// What a surface's roughness does to the colour beneath it.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Effect {
    /// Makes it lighter and darker by up to half of this share.
    Shade(f32),
    /// Covers a share of the surface with a colour that varies between two.
    Stain {
        /// The share of the surface covered, 0 to 1.
        cover: f32,
        /// How slowly the edge of a stain fades, 0.02 (crisp) to 1.
        soft: f32,
        /// How little shows through, 0 to 1.
        opacity: f32,
        /// The stain's thin edge.
        edge: [u8; 3],
        /// The stain's middle.
        middle: [u8; 3],
    },
}

/// Roughness laid over what has been painted.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Grain {
    /// How wide and tall one tile is, in view units; unequal sides give brushed or woody surfaces.
    pub(crate) size: (f32, f32),
    /// Turned by so many degrees.
    pub(crate) degrees: f32,
    /// Only the finest specks, no clouds.
    pub(crate) fine: bool,
    /// What it does.
    pub(crate) effect: Effect,
}

/// Cloudy lightness, the same in both directions.
pub(crate) fn cloud(size: f32, amount: f32) -> Grain {
    Grain { size: (size, size), degrees: 0.0, fine: false, effect: Effect::Shade(amount) }
}

/// Fine specks about one view unit wide.
pub(crate) fn specks(amount: f32) -> Grain {
    Grain { size: (420.0, 420.0), degrees: 0.0, fine: true, effect: Effect::Shade(amount) }
}

/// Lines drawn out along one direction: brushed metal, wood, cloth.
pub(crate) fn brushed(along: f32, across: f32, degrees: f32, amount: f32) -> Grain {
    Grain { size: (along, across), degrees, fine: false, effect: Effect::Shade(amount) }
}

/// Blotches of a colour.
pub(crate) fn stain(size: f32, cover: f32, opacity: f32, edge: [u8; 3], middle: [u8; 3]) -> Grain {
    let effect = Effect::Stain { cover, soft: 0.25, opacity, edge, middle };
    Grain { size: (size, size), degrees: 0.0, fine: false, effect }
}

/// Rust over a share of the surface.
pub(crate) fn rust(size: f32, cover: f32) -> Grain {
    stain(size, cover, 0.92, [158, 92, 48], [84, 42, 24])
}

/// Dust and road dirt over a share of the surface.
pub(crate) fn dirt(size: f32, cover: f32) -> Grain {
    let effect = Effect::Stain {
        cover,
        soft: 0.9,
        opacity: 0.55,
        edge: [128, 112, 90],
        middle: [74, 62, 48],
    };
    Grain { size: (size, size), degrees: 0.0, fine: false, effect }
}

/// The cloud tile and the speck tile, each evenly spread over 0 to 255 so that a cut at any level
/// covers just that share of the surface.
pub(crate) fn tiles() -> &'static (Vec<u8>, Vec<u8>) {
    static TILES: OnceLock<(Vec<u8>, Vec<u8>)> = OnceLock::new();
    TILES.get_or_init(|| {
        let cloud = spread_evenly(&layered(&[
            (5, 1.0),
            (11, 0.6),
            (23, 0.42),
            (47, 0.3),
            (97, 0.2),
            (199, 0.13),
        ]));
        let specks = spread_evenly(&layered(&[(151, 0.5), (233, 0.8), (511, 0.7)]));
        (cloud, specks)
    })
}

/// Adds up value noise of several finenesses; each entry is lattice cells a tile and weight.
fn layered(octaves: &[(usize, f32)]) -> Vec<f32> {
    let mut sum = vec![0.0f32; TILE * TILE];
    for (number, &(cells, weight)) in octaves.iter().enumerate() {
        let mut dice = Dice::new(0xC10D + number as u64);
        let lattice: Vec<f32> = (0..cells * cells).map(|_| dice.between(0.0, 1.0)).collect();
        let step: Vec<(usize, usize, f32)> = (0..TILE)
            .map(|pixel| {
                let place = pixel as f32 * cells as f32 / TILE as f32;
                let cell = place as usize;
                let t = place - cell as f32;
                (cell % cells, (cell + 1) % cells, t * t * (3.0 - 2.0 * t))
            })
            .collect();
        for (row, &(top, bottom, down)) in sum.chunks_exact_mut(TILE).zip(&step) {
            for (value, &(left, right, across)) in row.iter_mut().zip(&step) {
                let upper = lattice[top * cells + left] * (1.0 - across)
                    + lattice[top * cells + right] * across;
                let lower = lattice[bottom * cells + left] * (1.0 - across)
                    + lattice[bottom * cells + right] * across;
                *value += weight * (upper * (1.0 - down) + lower * down);
            }
        }
    }
    sum
}

/// Replaces every value by its rank among all, 0 to 255.
fn spread_evenly(values: &[f32]) -> Vec<u8> {
    let mut order: Vec<u32> = (0..values.len() as u32).collect();
    order.sort_unstable_by(|&a, &b| {
        values[a as usize].total_cmp(&values[b as usize]).then(a.cmp(&b))
    });
    let mut grey = vec![0u8; values.len()];
    for (rank, &place) in order.iter().enumerate() {
        grey[place as usize] = (rank * 256 / values.len()) as u8;
    }
    grey
}
