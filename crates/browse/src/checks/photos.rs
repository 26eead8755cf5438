//! Two hundred photos of one job, chosen at once: each with its own bytes and the pictures made of it, kept and then copied.
//! And photos that are still on their way when another job is opened: they belong to the one in which they were chosen.

use std::time::Instant;

use serde_json::json;

use super::{World, count, go_in_job, make_job};
use crate::{Outcome, Tools, browser::Browser};

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
               // All at once: the browser encodes when it is idle, and waits a second for that each time.
               const files = await Promise.all(Array.from({length: 20}, async (_, place) => {
                 const at = from + place;
                 const canvas = new OffscreenCanvas(1024, 768), context = canvas.getContext('2d');
                 const noise = context.createImageData(128, 96);
                 for (let byte = 0; byte < noise.data.length; byte++) noise.data[byte] = byte % 4 === 3 ? 255 : Math.random() * 256;
                 context.putImageData(noise, 0, 0);
                 context.drawImage(canvas, 0, 0, 128, 96, 0, 0, 1024, 768);
                 const blob = await canvas.convertToBlob({type: 'image/jpeg', quality: 0.8});
                 return new File([blob], `photo-${at}.jpg`, {type: 'image/jpeg', lastModified: 1781190000000 + at * 1000});
               }));
               for (const file of files) window.chosen.items.add(file);
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
    if blobs != 3 * PHOTOS {
        return Err(format!(
            "{blobs} files on the device; {} photos, copies and thumbnails were made",
            3 * PHOTOS
        ));
    }
    into_the_right_job(&browser, &world, &job)?;
    let bytes = browser.script("return window.bytesChosen", &[])?.as_f64().unwrap_or_default();
    Ok(format!(
        "{PHOTOS} photos of {:.0} MB in all (drawn in {drawn:.0} s): all kept after {kept:.1} s, all copied after {copied:.1} s",
        bytes / 1e6
    ))
}

/// Chooses photos in a new job, and goes on to the other one before they are kept.
fn into_the_right_job(browser: &Browser, world: &World, other: &str) -> Outcome<()> {
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for("#jobs-here")?;
    let job = make_job(browser, "2026-063")?;
    go_in_job(browser, world, &job, "photos")?;
    browser.wait_for("#tray-files")?;
    browser.script(
        "return (async other => {
           const canvas = new OffscreenCanvas(2400, 1800), context = canvas.getContext('2d');
           const chosen = new DataTransfer();
           for (let at = 0; at < 6; at++) {
             context.fillStyle = `hsl(${at * 50} 80% 50%)`;
             context.fillRect(0, 0, 2400, 1800);
             context.fillStyle = 'black';
             context.fillRect(at * 300, 0, 200, 1800);
             const blob = await canvas.convertToBlob({type: 'image/jpeg', quality: 0.9});
             chosen.items.add(new File([blob], `late-${at}.jpg`, {type: 'image/jpeg', lastModified: 1781190000000}));
           }
           const input = document.querySelector('#tray-files');
           input.files = chosen.files;
           input.dispatchEvent(new Event('change', {bubbles: true}));
           location.hash = `#/job/${other}/photos`;
           return true;
         })(arguments[0])",
        &[json!(other)],
    )?;
    browser.wait_for("#tray-list")?;
    browser.wait(
        "the other job's photos",
        &format!(
            "document.querySelector('.tray-head .figures')?.innerText.startsWith('{PHOTOS} ')"
        ),
        60,
    )?;
    go_in_job(browser, world, &job, "photos")?;
    browser.wait(
        "the photos in the job in which they were chosen",
        "document.querySelector('.tray-head .figures')?.innerText.startsWith('6 ')",
        60,
    )?;
    go_in_job(browser, world, other, "photos")?;
    browser.wait(
        "none of them in the other job",
        &format!(
            "document.querySelector('.tray-head .figures')?.innerText.startsWith('{PHOTOS} ')"
        ),
        60,
    )
}
