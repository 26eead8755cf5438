//! Photos from camera or files: their own bytes and the pictures made of them on the disk first, then their entries in the record.
//!
//! A photo belongs to the job that was open when it was chosen, whichever is open when its bytes are on the disk: between
//! the two its entry lies among the settings, and comes into the record when that job is opened next.

use std::cell::RefCell;

use field::{Act, CAMERA_NOTES_WITHIN, Evidence, PhotoTaken, camera_notes, view::UNDRAWN};
use inspection::{Moment, Photo, PhotoId, PointId};
use js_sys::{ArrayBuffer, Date, Function, Promise, Uint8Array};
use leptos::prelude::*;
use look::{Fingerprint, Look};
use serde::{Deserialize, Serialize};
use sync::{BlobHash, JobId, NewBlob, Rank};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{Blob, BlobPropertyBag, File};

use super::{App, core::core, drawn, work_here};
use crate::browser::{moment_of, said, sha256};

/// The setting that holds photos on their way into the record.
const PENDING: &str = "photos";

/// A photo whose bytes are on the disk and whose entry is not in the record yet.
#[derive(Debug, Clone, Serialize, Deserialize)]
struct Pending {
    job: String,
    photo: String,
    file_name: String,
    taken: String,
    point: Option<String>,
    /// The key of the finding that it shows; absent in older ones.
    #[serde(default)]
    shows: Option<String>,
    copy: String,
    thumbnail: String,
    size: (u32, u32),
    damage: String,
    camera: String,
    /// Sharpness, brightness, blown and black share, fingerprint.
    look: Option<(f64, f64, f64, f64, u64)>,
    /// Each file: its hash, its size, and how soon it travels.
    files: Vec<(String, u64, u8)>,
}

/// Photos that were chosen and are on their way to the disk.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct UnderWay {
    /// How many are left.
    pub(crate) left: usize,
    /// How many were chosen since none was under way.
    pub(crate) chosen: usize,
}

impl App {
    /// Photos that are on their way to the disk.
    pub(crate) fn photos_under_way(self) -> Signal<UnderWay> {
        self.photos_under_way.into()
    }

    /// Keeps photos and enters them in the job that is open now. Evidence travels before other photos.
    pub(crate) fn add_photos(self, files: Vec<File>, evidence: bool, point: Option<&PointId>) {
        self.add(files, evidence, point, None);
    }

    /// The same, as photos that show the finding with this key.
    pub(crate) fn add_photos_showing(self, files: Vec<File>, point: Option<&PointId>, key: &str) {
        self.add(files, true, point, Some(key.to_owned()));
    }

    fn add(self, files: Vec<File>, evidence: bool, point: Option<&PointId>, shows: Option<String>) {
        let Some(job) = self.open.get_untracked() else { return };
        self.photos_under_way.update(|it| {
            it.chosen = if it.left == 0 { files.len() } else { it.chosen + files.len() };
            it.left += files.len();
        });
        let point = point.cloned();
        spawn_local(async move {
            for file in files {
                let done = turn().await;
                let keeping =
                    self.keep_photo(&file, evidence, &job, point.as_ref(), shows.as_ref());
                if let Err(why) = keeping.await {
                    let with = [("file", file.name()), ("why", why)];
                    let with = [("file", with[0].1.as_str()), ("why", with[1].1.as_str())];
                    self.say(self.texts().say_with("shell-photo-not-kept", &with));
                }
                self.photos_under_way.update(|it| it.left = it.left.saturating_sub(1));
                drop(done.call0(&JsValue::NULL));
            }
        });
    }

    async fn keep_photo(
        self,
        file: &File,
        evidence: bool,
        job: &JobId,
        point: Option<&PointId>,
        shows: Option<&String>,
    ) -> Result<(), String> {
        let core = core().ok_or_else(|| self.texts().say("browser-not-started"))?;
        // The bytes themselves: the camera's file may be gone when they are needed.
        let bytes = bytes_of(file).await?;
        let id = BlobHash(sha256(&bytes).await?);
        let original = blob_of(&bytes, &file.type_())?;
        let within = bytes.byte_length().min(CAMERA_NOTES_WITHIN);
        let beginning = Uint8Array::new_with_byte_offset_and_length(&bytes, 0, within).to_vec();
        let notes = camera_notes(&beginning);
        let taken =
            notes.taken.unwrap_or_else(|| moment_of(&Date::new(&file.last_modified().into())));
        let rank = if evidence { Rank::Evidence } else { Rank::Photo };
        let mut kept = vec![(id, original.clone())];
        let mut photo = Pending {
            job: job.to_string(),
            photo: id.to_string(),
            file_name: file.name(),
            taken: taken.to_string(),
            point: point.map(ToString::to_string),
            shows: shows.cloned(),
            copy: String::new(),
            thumbnail: String::new(),
            size: (0, 0),
            damage: String::new(),
            camera: notes.camera,
            look: None,
            files: vec![(id.to_string(), u64::from(bytes.byte_length()), rank.number())],
        };
        // A picture that the browser cannot draw is kept all the same.
        match drawn::pictures(&original).await {
            Ok(pictures) => {
                photo.size = pictures.size;
                photo.look = pictures.look.map(|look| {
                    (look.sharpness, look.brightness, look.blown, look.black, look.fingerprint.0)
                });
                for (picture, name, rank) in [
                    (&pictures.thumbnail, &mut photo.thumbnail, Rank::Thumbnail),
                    (&pictures.copy, &mut photo.copy, rank),
                ] {
                    let bytes = bytes_of(picture).await?;
                    let hash = BlobHash(sha256(&bytes).await?);
                    *name = hash.to_string();
                    photo.files.push((
                        hash.to_string(),
                        u64::from(bytes.byte_length()),
                        rank.number(),
                    ));
                    kept.push((hash, blob_of(&bytes, "image/jpeg")?));
                }
            }
            Err(_) => {
                UNDRAWN.clone_into(&mut photo.damage);
                self.say(self.texts().say_with("shell-photo-undrawn", &[("file", &file.name())]));
            }
        }
        core.disk.keep_blobs(&kept).await?;
        let mut all = pending_photos(core).await?;
        all.push(photo);
        set_pending(core, &all).await?;
        self.enter_pending_photos().await
    }

    /// Enters the photos of the open job that are on their way into the record.
    pub(super) async fn enter_photos(self) -> Result<(), String> {
        let done = turn().await;
        let entered = self.enter_pending_photos().await;
        drop(done.call0(&JsValue::NULL));
        entered
    }

    /// The same, by whoever has the turn: two at once would forget each other's.
    async fn enter_pending_photos(self) -> Result<(), String> {
        let Some(core) = core() else { return Ok(()) };
        let all = pending_photos(core).await?;
        if all.is_empty() {
            return Ok(());
        }
        let mut left = Vec::new();
        for photo in all {
            let open = self.open.get_untracked().map(|job| job.to_string());
            let (true, Some(work)) = (open.as_ref() == Some(&photo.job), work_here()) else {
                left.push(photo);
                continue;
            };
            let id = PhotoId(photo.photo.clone());
            let there = self.visit_untracked(|it| it.inspection().photos.contains_key(&id));
            if there == Some(true) {
                continue;
            }
            let blobs = photo.files.iter().filter_map(|(hash, size, rank)| {
                let blob = BlobHash::new(hash).ok()?;
                Some(NewBlob { blob, size: *size, rank: Rank::from_number(*rank)? })
            });
            let (blobs, act) = (blobs.collect(), Act::TakePhoto(entry(id.clone(), &photo)));
            // A refusal is told; the bytes stay on the disk, and the entry is tried again at the next opening.
            if !self.change(blobs, |visit, now| (work.act)(visit, act, now)) {
                left.push(photo);
                continue;
            }
            if let Some(key) = photo.shows {
                let act = Act::Attach { key, evidence: Evidence::Photo(id) };
                self.change(Vec::new(), |visit, now| (work.act)(visit, act, now));
            }
        }
        set_pending(core, &left).await
    }
}

fn entry(id: PhotoId, photo: &Pending) -> PhotoTaken {
    PhotoTaken {
        id,
        photo: Box::new(Photo {
            file_name: photo.file_name.clone(),
            taken: Moment::parse(&photo.taken).ok(),
            point: photo.point.as_deref().map(PointId::from),
            copy: photo.copy.clone(),
            thumbnail: photo.thumbnail.clone(),
            size: photo.size,
            damage: photo.damage.clone(),
            camera: photo.camera.clone(),
            ..Photo::default()
        }),
        look: photo.look.map(|(sharpness, brightness, blown, black, fingerprint)| Look {
            sharpness,
            brightness,
            blown,
            black,
            fingerprint: Fingerprint(fingerprint),
        }),
    }
}

async fn pending_photos(core: &super::core::Core) -> Result<Vec<Pending>, String> {
    let text = core.disk.setting(PENDING).await?;
    Ok(text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default())
}

async fn set_pending(core: &super::core::Core, all: &[Pending]) -> Result<(), String> {
    let text = serde_json::to_string(all).map_err(|error| error.to_string())?;
    core.disk.set(&[(PENDING, (!all.is_empty()).then_some(&text))]).await
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
