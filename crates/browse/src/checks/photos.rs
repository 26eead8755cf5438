//! Two hundred photos of one job, chosen at once: each with its own bytes and a small picture, kept and then copied.

use std::time::Instant;

use serde_json::json;

use super::{World, count, go_in_job, make_job};
use crate::{Outcome, Tools};

const PHOTOS: u64 = 200;

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "photos")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    let job = make_job(&browser, "2026-062")?;
    go_in_job(&browser, &world, &job, "line")?;
    browser.wait_for(".act-bar .primary")?;
    browser.tap(".act-bar .primary")?;
    browser.wait_for("#files")?;
    let start = Instant::now();
    // Drawn in the page, some at a time: no two alike, and hard to compress like a photo.
    browser.script("window.chosen = new DataTransfer(); return true", &[])?;
    for from in (0..PHOTOS).step_by(20) {
        browser.script(
            "return (async from => {
               const canvas = new OffscreenCanvas(1024, 768), context = canvas.getContext('2d');
               for (let at = from; at < from + 20; at++) {
                 const noise = context.createImageData(128, 96);
                 for (let byte = 0; byte < noise.data.length; byte++) noise.data[byte] = byte % 4 === 3 ? 255 : Math.random() * 256;
                 context.putImageData(noise, 0, 0);
                 context.drawImage(canvas, 0, 0, 128, 96, 0, 0, 1024, 768);
                 const blob = await canvas.convertToBlob({type: 'image/jpeg', quality: 0.8});
                 window.chosen.items.add(new File([blob], `photo-${at}.jpg`, {type: 'image/jpeg', lastModified: 1781190000000 + at * 1000}));
               }
               return true;
             })(arguments[0])",
            &[json!(from)],
        )?;
    }
    browser.script(
        "const input = document.querySelector('#files');
         input.files = window.chosen.files;
         window.bytesChosen = [...window.chosen.files].reduce((sum, file) => sum + file.size, 0);
         input.dispatchEvent(new Event('change', {bubbles: true}))",
        &[],
    )?;
    let drawn = start.elapsed().as_secs_f64();
    let start = Instant::now();
    browser.wait(
        "every photo",
        &format!("document.querySelectorAll('.photos .tile').length === {PHOTOS}"),
        400,
    )?;
    browser.wait_until_kept()?;
    let kept = start.elapsed().as_secs_f64();
    browser.wait_until_copied(400)?;
    let copied = start.elapsed().as_secs_f64();
    let blobs = count(&browser, "blobs")?;
    if blobs != 2 * PHOTOS {
        return Err(format!(
            "{blobs} files on the device; {} photos and small pictures were made",
            2 * PHOTOS
        ));
    }
    let bytes = browser.script("return window.bytesChosen", &[])?.as_f64().unwrap_or_default();
    Ok(format!(
        "{PHOTOS} photos of {:.0} MB in all (drawn in {drawn:.0} s): all kept after {kept:.1} s, all copied after {copied:.1} s",
        bytes / 1e6
    ))
}
