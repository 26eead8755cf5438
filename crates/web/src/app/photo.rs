//! A photo from the camera: its own bytes and a small picture of it on the disk first, then its entry in the record.

use std::cell::RefCell;

use field::Act;
use inspection::{Moment, PhotoId};
use js_sys::{ArrayBuffer, Date, Function, Promise, Uint8Array};
use leptos::prelude::*;
use sync::{BlobHash, NewBlob, Rank};
use wasm_bindgen::{JsCast as _, JsValue, closure::Closure};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{
    Blob, BlobPropertyBag, CanvasRenderingContext2d, File, HtmlCanvasElement, ImageBitmap,
};

use super::{App, core::core};
use crate::browser::{moment_of, said, sha256, window};

/// The longer side of a small picture, pixels.
const SMALL: f64 = 320.0;

/// A photo that is on the disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct NewPhoto {
    /// The SHA-256 of the original.
    pub(crate) id: PhotoId,
    /// The SHA-256 of the small picture; empty where none could be made.
    pub(crate) thumbnail: String,
    /// The file's name.
    pub(crate) file_name: String,
    /// When the file was made.
    pub(crate) taken: Moment,
    /// Width and height, pixels; 0 where they are not known.
    pub(crate) size: (u32, u32),
}

impl App {
    /// Keeps a photo and then does the act that `make_act` makes of it. Evidence travels before other photos.
    pub(crate) fn add_photo(
        self,
        file: File,
        evidence: bool,
        make_act: impl FnOnce(NewPhoto) -> Act + 'static,
    ) {
        self.photos_under_way.update(|count| *count += 1);
        spawn_local(async move {
            let done = turn().await;
            match self.keep_photo(&file, evidence).await {
                Ok((photo, blobs)) => {
                    let act = make_act(photo);
                    self.change(blobs, |visit, now| visit.act(act, now));
                }
                Err(why) => {
                    self.say(self.texts().say_with("shell-photo-not-kept", &[("why", &why)]));
                }
            }
            self.photos_under_way.update(|count| *count = count.saturating_sub(1));
            drop(done.call0(&JsValue::NULL));
        });
    }

    async fn keep_photo(
        self,
        file: &File,
        evidence: bool,
    ) -> Result<(NewPhoto, Vec<NewBlob>), String> {
        let core = core().ok_or("the app has not started")?;
        // The bytes themselves: the camera's file may be gone when they are needed.
        let bytes = bytes_of(file).await?;
        let id = BlobHash(sha256(&bytes).await?);
        let original = blob_of(&bytes, &file.type_())?;
        let rank = if evidence { Rank::Evidence } else { Rank::Photo };
        let mut kept = vec![(id, original.clone())];
        let mut new = vec![NewBlob { blob: id, size: u64::from(bytes.byte_length()), rank }];
        let mut photo = NewPhoto {
            id: PhotoId(id.to_string()),
            thumbnail: String::new(),
            file_name: file.name(),
            taken: moment_of(&Date::new(&file.last_modified().into())),
            size: (0, 0),
        };
        // A picture that the browser cannot draw is kept all the same.
        if let Ok((small, size)) = small_picture(&original).await {
            let bytes = bytes_of(&small).await?;
            let thumbnail = BlobHash(sha256(&bytes).await?);
            photo.size = size;
            photo.thumbnail = thumbnail.to_string();
            let size = u64::from(bytes.byte_length());
            new.push(NewBlob { blob: thumbnail, size, rank: Rank::Thumbnail });
            kept.push((thumbnail, blob_of(&bytes, "image/jpeg")?));
        }
        core.disk.keep_blobs(&kept).await?;
        Ok((photo, new))
    }
}

/// Waits until the photos and memos before are done: a phone has not the memory for many at once. Whoever has had its turn calls
/// what is answered.
pub(super) async fn turn() -> Function {
    thread_local! {
        static LAST: RefCell<Option<Promise>> = const { RefCell::new(None) };
    }
    let mut done = None;
    let mine = Promise::new(&mut |resolve: Function, _| done = Some(resolve));
    let before = LAST.replace(Some(mine));
    if let Some(before) = before {
        drop(JsFuture::from(before).await);
    }
    done.unwrap_or_default()
}

async fn bytes_of(blob: &Blob) -> Result<ArrayBuffer, String> {
    let bytes = JsFuture::from(blob.array_buffer()).await.map_err(|error| said(&error))?;
    bytes.dyn_into().map_err(|_| super::app().texts().say("browser-no-bytes"))
}

fn blob_of(bytes: &ArrayBuffer, kind: &str) -> Result<Blob, String> {
    let options = BlobPropertyBag::new();
    options.set_type(kind);
    let parts = js_sys::Array::of1(&Uint8Array::new(bytes));
    Blob::new_with_u8_array_sequence_and_options(&parts, &options).map_err(|error| said(&error))
}

/// A small upright JPEG of a picture, and the size of the whole one.
async fn small_picture(blob: &Blob) -> Result<(Blob, (u32, u32)), JsValue> {
    let window = window().ok_or(JsValue::NULL)?;
    // Upright: browsers follow the camera's note about it by themselves.
    let promise = window.create_image_bitmap_with_blob(blob)?;
    let bitmap: ImageBitmap = JsFuture::from(promise).await?.dyn_into()?;
    let whole = (bitmap.width(), bitmap.height());
    let (width, height) = (f64::from(whole.0), f64::from(whole.1));
    let scale = (SMALL / width.max(height)).min(1.0);
    let (width, height) = ((width * scale).round().max(1.0), (height * scale).round().max(1.0));
    let document = window.document().ok_or(JsValue::NULL)?;
    let canvas: HtmlCanvasElement = document.create_element("canvas")?.dyn_into()?;
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 1 and 320 pixels"
    )]
    {
        canvas.set_width(width as u32);
        canvas.set_height(height as u32);
    }
    let context: CanvasRenderingContext2d =
        canvas.get_context("2d")?.ok_or(JsValue::NULL)?.dyn_into()?;
    context.draw_image_with_image_bitmap_and_dw_and_dh(&bitmap, 0.0, 0.0, width, height)?;
    bitmap.close();
    let promise = Promise::new(&mut |resolve: Function, reject: Function| {
        let done = Closure::once_into_js(move |blob: JsValue| {
            drop(resolve.call1(&JsValue::NULL, &blob));
        });
        let asked = canvas.to_blob_with_type_and_encoder_options(
            done.unchecked_ref(),
            "image/jpeg",
            &JsValue::from_f64(0.8),
        );
        if let Err(error) = asked {
            drop(reject.call1(&JsValue::NULL, &error));
        }
    });
    let small: Blob = JsFuture::from(promise).await?.dyn_into()?;
    Ok((small, whole))
}
