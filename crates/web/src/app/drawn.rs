//! What is made of a photo: an upright copy for report and screen, a thumbnail, and the figures measured on it. The photo itself
//! is never altered.

use inspection::Crop;
use js_sys::{Function, Promise};
use look::{Look, MEASURED};
use wasm_bindgen::{JsCast as _, JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, CanvasRenderingContext2d, HtmlCanvasElement, ImageBitmap};

use crate::browser::window;

/// The longer side of the copy and of the thumbnail, pixels; the same as where the program takes files in.
const COPY: u32 = 1600;
const THUMBNAIL: u32 = 320;
/// JPEG quality of both.
const QUALITY: f64 = 0.82;

/// What is shown instead of a photo.
pub(super) struct Pictures {
    /// Upright, at most 1600 pixels.
    pub(super) copy: Blob,
    /// Upright, at most 320 pixels.
    pub(super) thumbnail: Blob,
    /// Width and height of the copy, pixels.
    pub(super) size: (u32, u32),
    /// What was measured.
    pub(super) look: Option<Look>,
}

/// The pictures of a photo, if the browser can draw it.
pub(super) async fn pictures(photo: &Blob) -> Result<Pictures, JsValue> {
    let window = window().ok_or(JsValue::NULL)?;
    // Upright: browsers follow the camera's note about it by themselves.
    let bitmap = JsFuture::from(window.create_image_bitmap_with_blob(photo)?).await?;
    let bitmap: ImageBitmap = bitmap.dyn_into()?;
    let size = fit(bitmap.width(), bitmap.height(), COPY);
    let (canvas, context) = canvas(size)?;
    let (width, height) = (f64::from(size.0), f64::from(size.1));
    context.draw_image_with_image_bitmap_and_dw_and_dh(&bitmap, 0.0, 0.0, width, height)?;
    bitmap.close();
    let copy = jpeg(&canvas).await?;
    // Each from the one before: a browser that shrinks in one great step leaves pixels out.
    let measured_size = fit(size.0, size.1, MEASURED);
    let (measured, context) = shrunk(&canvas, measured_size)?;
    let (wide, high) = (f64::from(measured_size.0), f64::from(measured_size.1));
    let samples = context.get_image_data(0.0, 0.0, wide, high)?.data();
    let brightness: Vec<u8> = samples.chunks_exact(4).map(luma).collect();
    let look = Look::of(&brightness, measured_size.0, measured_size.1);
    let (small, _) = shrunk(&measured, fit(size.0, size.1, THUMBNAIL))?;
    let thumbnail = jpeg(&small).await?;
    Ok(Pictures { copy, thumbnail, size, look })
}

/// The part of a picture that is shown, turned, as a picture of its own.
pub(super) async fn cut(picture: &Blob, crop: Crop) -> Result<Blob, JsValue> {
    let window = window().ok_or(JsValue::NULL)?;
    let bitmap = JsFuture::from(window.create_image_bitmap_with_blob(picture)?).await?;
    let bitmap: ImageBitmap = bitmap.dyn_into()?;
    let whole = (bitmap.width(), bitmap.height());
    let (canvas, context) = canvas(crop.size(whole))?;
    let [left, top, ..] = crop.edges();
    let (from_x, from_y) = (left * f64::from(whole.0), top * f64::from(whole.1));
    let (wide, high) = Crop { turns: 0, ..crop }.size(whole);
    let (wide, high) = (f64::from(wide), f64::from(high));
    // Turned about the middle of what is shown.
    context.translate(f64::from(canvas.width()) / 2.0, f64::from(canvas.height()) / 2.0)?;
    context.rotate(f64::from(crop.turns) * std::f64::consts::FRAC_PI_2)?;
    context.draw_image_with_image_bitmap_and_sw_and_sh_and_dx_and_dy_and_dw_and_dh(
        &bitmap,
        from_x,
        from_y,
        wide,
        high,
        -wide / 2.0,
        -high / 2.0,
        wide,
        high,
    )?;
    bitmap.close();
    jpeg(&canvas).await
}

/// Brightness of a pixel (ITU-R BT.601), as JPEG files keep it.
fn luma(pixel: &[u8]) -> u8 {
    let [red, green, blue] = [0, 1, 2].map(|at| u32::from(pixel.get(at).copied().unwrap_or(0)));
    u8::try_from((299 * red + 587 * green + 114 * blue + 500) / 1000).unwrap_or(u8::MAX)
}

/// Width and height with the longer side at most `longest`: shrunk in proportion, never enlarged.
fn fit(width: u32, height: u32, longest: u32) -> (u32, u32) {
    let side = u64::from(width.max(height)).max(1);
    if side <= u64::from(longest) {
        return (width.max(1), height.max(1));
    }
    let scaled = |length: u32| {
        let rounded = (u64::from(length) * u64::from(longest) + side / 2) / side;
        u32::try_from(rounded.max(1)).unwrap_or(longest)
    };
    (scaled(width), scaled(height))
}

fn canvas(size: (u32, u32)) -> Result<(HtmlCanvasElement, CanvasRenderingContext2d), JsValue> {
    let document = window().and_then(|window| window.document()).ok_or(JsValue::NULL)?;
    let canvas: HtmlCanvasElement = document.create_element("canvas")?.dyn_into()?;
    canvas.set_width(size.0);
    canvas.set_height(size.1);
    let context = canvas.get_context("2d")?.ok_or(JsValue::NULL)?.dyn_into()?;
    Ok((canvas, context))
}

fn shrunk(
    from: &HtmlCanvasElement,
    size: (u32, u32),
) -> Result<(HtmlCanvasElement, CanvasRenderingContext2d), JsValue> {
    let (canvas, context) = canvas(size)?;
    let (width, height) = (f64::from(size.0), f64::from(size.1));
    context.draw_image_with_html_canvas_element_and_dw_and_dh(from, 0.0, 0.0, width, height)?;
    Ok((canvas, context))
}

async fn jpeg(canvas: &HtmlCanvasElement) -> Result<Blob, JsValue> {
    let promise = Promise::new(&mut |resolve: Function, reject: Function| {
        let done = Closure::once_into_js(move |blob: JsValue| {
            drop(resolve.call1(&JsValue::NULL, &blob));
        });
        let quality = JsValue::from_f64(QUALITY);
        let asked = canvas.to_blob_with_type_and_encoder_options(
            done.unchecked_ref(),
            "image/jpeg",
            &quality,
        );
        if let Err(error) = asked {
            drop(reject.call1(&JsValue::NULL, &error));
        }
    });
    JsFuture::from(promise).await?.dyn_into()
}
