//! The darkroom: turns a picture's layers into pixels, looks at them through a camera held by hand,
//! and adds what a sensor adds.
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    reason = "pixel places and channel values are kept in range by the clamps beside them"
)]

use super::grain::{Dice, Grain};
use super::picture::{Layer, Light, Picture};
use super::pixels::{LANES, blur, enlarge_onto, roughen, spread};
use super::{DrawError, kit};
use resvg::tiny_skia::{Pixmap, PixmapPaint, Transform};
use resvg::usvg;
use std::sync::OnceLock;

/// The part of the scene that is seen, in view units, and how many pixels a unit takes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct View {
    pub(crate) left: f32,
    pub(crate) top: f32,
    pub(crate) scale: f32,
}

/// An exposed picture: upright rows of red, green, blue.
#[derive(Debug, Clone)]
pub(crate) struct Exposed {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) pixels: Vec<u8>,
}

/// Settings that belong to the shot, not to the subject.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Camera {
    pub(crate) portrait: bool,
    /// Pixels along the long side.
    pub(crate) long_side: usize,
    /// Blur in view units.
    pub(crate) blur: f32,
    /// Stops too bright (or, negative, too dark).
    pub(crate) exposure: f32,
    /// The whole seed: sensor noise and the shake of the hand.
    pub(crate) seed: u64,
}

/// Exposes a picture.
pub(crate) fn expose(picture: &Picture, camera: &Camera) -> Result<Exposed, DrawError> {
    let long = camera.long_side as f32;
    let scale = long / 800.0;
    let short = camera.long_side * 3 / 4;
    let (width, height, view) = if camera.portrait {
        (short, camera.long_side, View { left: 100.0, top: -100.0, scale })
    } else {
        (camera.long_side, short, View { left: 0.0, top: 0.0, scale })
    };
    let mut canvas = new_pixmap(width, height)?;
    canvas.fill(resvg::tiny_skia::Color::from_rgba8(96, 96, 96, 255));
    lay(&picture.layers, view, &mut canvas)?;
    if camera.blur > 0.0 {
        blur(&mut canvas, camera.blur * scale);
    }
    Ok(develop(&canvas, picture, camera))
}

fn new_pixmap(width: usize, height: usize) -> Result<Pixmap, DrawError> {
    Pixmap::new(width as u32, height as u32).ok_or(DrawError::Size { width, height })
}

/// The reader of SVG with the embedded letters, set up once.
fn options() -> &'static usvg::Options<'static> {
    static OPTIONS: OnceLock<usvg::Options<'static>> = OnceLock::new();
    OPTIONS.get_or_init(|| {
        let mut options =
            usvg::Options { font_family: "IBM Plex Sans".to_owned(), ..Default::default() };
        let letters = options.fontdb_mut();
        for font in [
            include_bytes!("../../../report/fonts/IBMPlexSans_400Regular.ttf").as_slice(),
            include_bytes!("../../../report/fonts/IBMPlexSans_400Regular_Italic.ttf").as_slice(),
            include_bytes!("../../../report/fonts/IBMPlexSans_600SemiBold.ttf").as_slice(),
            include_bytes!("../../../report/fonts/IBMPlexSans_700Bold.ttf").as_slice(),
        ] {
            letters.load_font_data(font.to_vec());
        }
        options
    })
}

fn parse(body: &str) -> Result<usvg::Tree, DrawError> {
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 800 600\" width=\"800\" height=\"600\">{}{body}</svg>",
        kit::PAINTS
    );
    usvg::Tree::from_str(&svg, options()).map_err(|error| DrawError::Svg(error.to_string()))
}

fn lay(layers: &[Layer], view: View, canvas: &mut Pixmap) -> Result<(), DrawError> {
    let place = Transform::from_row(
        view.scale,
        0.0,
        0.0,
        view.scale,
        -view.left * view.scale,
        -view.top * view.scale,
    );
    for layer in layers {
        match layer {
            Layer::Paint(body) => resvg::render(&parse(body)?, place, &mut canvas.as_mut()),
            Layer::Part(body, grains) => lay_part(body, grains, view, canvas)?,
            Layer::Soft(far, radius) => lay_soft(far, *radius, view, canvas)?,
            Layer::Grain(grain) => roughen(canvas, view, grain),
        }
    }
    Ok(())
}

/// Draws a part on a sheet just large enough, roughens it there, and lays it on.
fn lay_part(
    body: &str,
    grains: &[Grain],
    view: View,
    canvas: &mut Pixmap,
) -> Result<(), DrawError> {
    let tree = parse(body)?;
    let bounds = tree.root().abs_layer_bounding_box();
    let edge = |value: f32, limit: u32| value.clamp(0.0, limit as f32) as usize;
    let left = edge(((bounds.left() - view.left) * view.scale).floor() - 1.0, canvas.width());
    let top = edge(((bounds.top() - view.top) * view.scale).floor() - 1.0, canvas.height());
    let right = edge(((bounds.right() - view.left) * view.scale).ceil() + 1.0, canvas.width());
    let bottom = edge(((bounds.bottom() - view.top) * view.scale).ceil() + 1.0, canvas.height());
    if right <= left || bottom <= top {
        return Ok(());
    }
    let near = View {
        left: view.left + left as f32 / view.scale,
        top: view.top + top as f32 / view.scale,
        scale: view.scale,
    };
    let mut sheet = new_pixmap(right - left, bottom - top)?;
    let place = Transform::from_row(
        near.scale,
        0.0,
        0.0,
        near.scale,
        -near.left * near.scale,
        -near.top * near.scale,
    );
    resvg::render(&tree, place, &mut sheet.as_mut());
    for grain in grains {
        roughen(&mut sheet, near, grain);
    }
    canvas.draw_pixmap(
        left as i32,
        top as i32,
        sheet.as_ref(),
        &PixmapPaint::default(),
        Transform::identity(),
        None,
    );
    Ok(())
}

/// Pixels of the canvas to one pixel of a soft layer: what is blurred needs no detail.
pub(crate) const COARSE: usize = 4;

fn lay_soft(
    layers: &[Layer],
    radius: f32,
    view: View,
    canvas: &mut Pixmap,
) -> Result<(), DrawError> {
    let coarse = View { scale: view.scale / COARSE as f32, ..view };
    let width = canvas.width() as usize / COARSE;
    let mut sheet = new_pixmap(width, canvas.height() as usize / COARSE)?;
    lay(layers, coarse, &mut sheet)?;
    blur(&mut sheet, radius * coarse.scale);
    enlarge_onto(&sheet, canvas);
    Ok(())
}

/// The straight-line projection that takes the output's unit square to four points of the canvas
/// (Heckbert 1989, *Fundamentals of Texture Mapping and Image Warping*, section 2.2.3).
fn projection(corners: [(f32, f32); 4]) -> [f32; 8] {
    let [(x0, y0), (x1, y1), (x2, y2), (x3, y3)] = corners;
    let (dx1, dx2, sx) = (x1 - x2, x3 - x2, x0 - x1 + x2 - x3);
    let (dy1, dy2, sy) = (y1 - y2, y3 - y2, y0 - y1 + y2 - y3);
    let area = dx1 * dy2 - dx2 * dy1;
    let g = (sx * dy2 - dx2 * sy) / area;
    let h = (dx1 * sy - sx * dy1) / area;
    [x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h]
}

/// Where the camera's corners fall on the scene, in shares of the view: clockwise from top left.
fn corners(picture: &Picture, camera: &Camera) -> [(f32, f32); 4] {
    let mut stance = Dice::new((camera.seed >> 8) ^ 0x57A2CE);
    let mut shake = Dice::new(camera.seed ^ 0x5A4E);
    let (left, right) = (picture.yaw.max(0.0) / 2.0, (-picture.yaw).max(0.0) / 2.0);
    let (bottom, top) = (picture.pitch.max(0.0) / 2.0, (-picture.pitch).max(0.0) / 2.0);
    let roll = (picture.roll + stance.between(-1.1, 1.1)).to_radians();
    let (sine, cosine) = (libm::sinf(roll), libm::cosf(roll));
    let aspect = if camera.portrait { 0.75 } else { 4.0 / 3.0 };
    let (shift_x, shift_y) = (shake.between(-0.004, 0.004), shake.between(-0.004, 0.004));
    // Margin and roll keep the view on the canvas; this makes sure of it.
    let inside = |share: f32| share.clamp(0.001, 0.999);
    let margin = 0.028 + roll.abs() * 0.45;
    [(top, left), (1.0 - top, right), (1.0 - bottom, 1.0 - right), (bottom, 1.0 - left)].map(
        |(x, y)| {
            let (x, y) = ((x - 0.5) * (1.0 - 2.0 * margin), (y - 0.5) * (1.0 - 2.0 * margin));
            let turned_x = x * cosine - y * sine / aspect;
            let turned_y = x * sine * aspect + y * cosine;
            (
                inside(0.5 + turned_x + shift_x + stance.between(-0.008, 0.008)),
                inside(0.5 + turned_y + shift_y + stance.between(-0.008, 0.008)),
            )
        },
    )
}

/// Looks at the canvas through the camera: projection, fall-off towards the rim, exposure, tint, noise.
fn develop(canvas: &Pixmap, picture: &Picture, camera: &Camera) -> Exposed {
    let (width, height) = (canvas.width() as usize, canvas.height() as usize);
    let (reach_x, reach_y) = ((width - 2) as f32, (height - 2) as f32);
    let [a, b, c, d, e, f, g, h] =
        projection(corners(picture, camera).map(|(x, y)| (x * reach_x, y * reach_y)));
    let (fall_off, tint, roughness) = match picture.light {
        Light::Sun => (0.16, [1.03, 1.0, 0.95], 2.0),
        Light::Shade => (0.22, [0.985, 1.0, 1.02], 2.6),
        Light::Lamp => (0.34, [1.04, 0.985, 0.91], 3.6),
        Light::Flash => (0.62, [1.0, 1.0, 0.98], 4.4),
    };
    let brightness = libm::exp2f(camera.exposure / 2.2);
    let curves = tint.map(|share| tone_curve(brightness * share));
    let noise = sensor_noise(roughness * (1.0 + (-camera.exposure).max(0.0)));
    let mut chance = Dice::new(camera.seed ^ 0x5E25_0000);
    // Fall-off in 256ths: a part for the column, a part for the row.
    let fall =
        |share: f32, middle: f32| (fall_off * 512.0 * (share - middle) * (share - middle)) as u32;
    let column_fall: Vec<u32> = (0..width).map(|x| fall(x as f32 / width as f32, 0.48)).collect();
    let mut pixels = vec![0u8; width * height * 3];
    let source = canvas.data();
    for (y, row) in pixels.chunks_exact_mut(width * 3).enumerate() {
        let v = y as f32 / height as f32;
        let (row_x, row_y, row_w) = (b * v + c, e * v + f, h * v + 1.0);
        let row_light = 266 - fall(v, 0.47);
        let start = chance.bits() as usize % (NOISE - width);
        // The projection is exact at every sixteenth pixel and a straight line between, to 1/256 pixel.
        let exact = |x: usize| {
            let u = x as f32 / width as f32;
            let over = 256.0 / (g * u + row_w);
            (((a * u + row_x) * over) as i32, ((d * u + row_y) * over) as i32)
        };
        let mut from = exact(0);
        let groups =
            row.chunks_mut(16 * 3).zip(column_fall.chunks(16)).zip(noise[start..].chunks(16));
        for (run, ((group, falls), rough)) in groups.enumerate() {
            let to = exact(run * 16 + 16);
            let (step_x, step_y) = (to.0 - from.0, to.1 - from.1);
            let (mut at_x, mut at_y) = (from.0 << 4, from.1 << 4);
            for ((pixel, fall), rough) in group.chunks_exact_mut(3).zip(falls).zip(rough) {
                let (fine_x, fine_y) = ((at_x >> 4) as usize, (at_y >> 4) as usize);
                at_x += step_x;
                at_y += step_y;
                let (across, down) = ((fine_x & 255) as u64, (fine_y & 255) as u64);
                let first = ((fine_y >> 8) * width + (fine_x >> 8)) * 4;
                let upper = &source[first..first + 8];
                let lower = &source[first + width * 4..first + width * 4 + 8];
                let between = |upper: &[u8], lower: &[u8]| {
                    ((spread(upper) * (256 - down) + spread(lower) * down) >> 8) & LANES
                };
                let (left, right) =
                    (between(&upper[..4], &lower[..4]), between(&upper[4..], &lower[4..]));
                let seen = left * (256 - across) + right * across;
                let light = row_light - fall;
                for channel in 0..3 {
                    let value = (seen >> (16 * channel)) as u32 & 0xffff;
                    let index = ((value * light) >> 14) + u32::from(rough[channel]);
                    pixel[channel] = curves[channel][index as usize & (CURVE - 1)];
                }
            }
            from = to;
        }
    }
    Exposed { width, height, pixels }
}

/// How many pixels of noise are worked out; rows start anywhere among them.
const NOISE: usize = 1 << 16;

/// Steps of the tone curve: what noise can take away, four for each grey step up to 272, and what
/// noise can add.
const CURVE: usize = 2048;

/// The step that stands for black, so that noise may go below it.
const BLACK: f32 = 255.0;

/// What a sensor adds, in quarters of a grey step, counted from [`BLACK`]: mostly common to the three
/// colours.
fn sensor_noise(roughness: f32) -> Vec<[u16; 3]> {
    let mut chance = Dice::new(0x5E25);
    (0..NOISE)
        .map(|_| {
            let common = chance.between(-1.0, 1.0) + chance.between(-1.0, 1.0);
            [0; 3].map(|_: u8| {
                let added = (common * 0.62 + chance.between(-0.6, 0.6)) * roughness * 4.0;
                (BLACK + added.clamp(-BLACK, BLACK)) as u16
            })
        })
        .collect()
}

/// How the camera maps light, in quarters of a grey step from [`BLACK`], to the file: a little more
/// contrast in the middle, a soft shoulder where it would burn out, and never quite black.
fn tone_curve(brightness: f32) -> Box<[u8; CURVE]> {
    let mut curve = Box::new([0u8; CURVE]);
    for (quarter, out) in curve.iter_mut().enumerate() {
        let x = (quarter as f32 - BLACK).max(0.0) / 1020.0 * brightness;
        let contrast = x + 0.045 * libm::sinf((x.min(1.0) - 0.5) * std::f32::consts::TAU);
        let shoulder = if contrast > 0.82 {
            0.82 + 0.18 * (1.0 - libm::expf(-(contrast - 0.82) / 0.18))
        } else {
            contrast
        };
        *out = (6.0 + shoulder.clamp(0.0, 1.0) * 249.0) as u8;
    }
    curve
}
