//! A voice memo: recorded, kept, played, copied, in the job's list and its bag; a blocked microphone is said plainly.

use std::fs;

use serde_json::{Value, json};

use super::{World, count, go_in_job, make_job};
use crate::{Outcome, Tools, browser::Browser};

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "memos")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    let job = make_job(&browser, "2026-071")?;
    go_in_job(&browser, &world, &job, "point/tyres")?;
    microphone(&browser, &world, "denied")?;
    browser.wait_for("#record")?;
    browser.tap_words("Record a memo")?;
    browser.wait_for_words("#sentences", "The browser blocks the microphone", 10)?;
    browser.tap("#sentences .sentence button")?;
    if count(&browser, "blobs")? != 0 {
        return Err("something was kept though the microphone was blocked".to_owned());
    }

    microphone(&browser, &world, "granted")?;
    record(&browser, 1)?;
    browser.wait_until_copied(60)?;
    let kept = sounds(&browser)?;
    let [first] = kept.as_slice() else {
        return Err(format!("one recording on disk, not {kept:?}"));
    };
    if first["name"] != first["sha256"] {
        return Err(format!("a recording is not named by its SHA-256: {first}"));
    }
    let seconds = first["seconds"].as_f64().unwrap_or_default();
    if !(1.0..20.0).contains(&seconds) {
        return Err(format!("the recording does not play for the time it was spoken: {first}"));
    }
    browser.tap(".memo .play")?;
    browser.wait_for_words(".memo .play", "Stop", 10)?;
    browser.wait_for_words(".memo .play", "Play", 30)?;

    // Without a server, then killed as soon as it says that it is kept.
    world.server.stop()?;
    record(&browser, 2)?;
    browser.kill()?;
    let browser = world.browser("phone")?;
    microphone(&browser, &world, "granted")?;
    go_in_job(&browser, &world, &job, "point/tyres")?;
    browser.wait("both memos", "document.querySelectorAll('.memo').length === 2", 30)?;
    // Leaving the job ends a recording and loses nothing of it.
    browser.tap_words("Record a memo")?;
    browser.wait_for("#end-memo")?;
    std::thread::sleep(std::time::Duration::from_millis(1500));
    browser.tap(".back")?;
    browser.wait_for("#jobs-here .row")?;
    browser.wait("no recording", "!document.querySelector('#recording .bar')", 20)?;
    browser.tap("#jobs-here .row")?;
    go_in_job(&browser, &world, &job, "point/tyres")?;
    browser.wait("all memos", "document.querySelectorAll('.memo').length === 3", 30)?;
    // Struck out, taken back.
    browser.tap_words("Strike out")?;
    browser.wait("one memo fewer", "document.querySelectorAll('.memo').length === 2", 10)?;
    browser.tap(".step")?;
    browser.wait("the memo again", "document.querySelectorAll('.memo').length === 3", 10)?;
    browser.tap_words("Strike out")?;
    browser.wait("one memo fewer", "document.querySelectorAll('.memo').length === 2", 10)?;
    browser.wait_until_kept()?;

    world.server.start_again()?;
    browser.script("window.dispatchEvent(new Event('online'))", &[])?;
    browser.wait_until_copied(60)?;
    let listed = listed(&world, &job)?;
    let bag = world.folder.join("bag");
    world.server.run(&["export", &job, "--into", &bag.display().to_string()])?;
    // Taken in only where every file is what was packed.
    world.server.run(&["job", "import", &bag.display().to_string()])?;
    let mut packed: Vec<String> = fs::read_dir(bag.join("data/memos"))
        .map_err(|error| format!("the bag has no memos: {error}"))?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .collect();
    packed.sort();
    if packed != listed {
        return Err(format!("the bag holds {packed:?}, the job lists {listed:?}"));
    }
    Ok(format!(
        "blocked and said; {seconds:.1} s recorded and played; kept through a kill and a job that was left; struck out and taken back; {} in the bag",
        packed.len()
    ))
}

/// Records for a moment and waits until there are so many memos, all kept.
fn record(browser: &Browser, memos: usize) -> Outcome<()> {
    browser.tap_words("Record a memo")?;
    browser.wait_for("#end-memo")?;
    std::thread::sleep(std::time::Duration::from_millis(2200));
    browser.tap("#end-memo")?;
    let there = format!("document.querySelectorAll('.memo').length === {memos}");
    browser.wait("the memo", &there, 30)?;
    browser.wait_until_kept()
}

/// What the browser answers when it is asked for the microphone.
pub(super) fn microphone(browser: &Browser, world: &World, setting: &str) -> Outcome<()> {
    let origin = world.server.address();
    let wanted = json!({
        "permission": {"name": "microphone"},
        "setting": setting,
        "origin": origin.trim_end_matches('/'),
    });
    browser.command("Browser.setPermission", &wanted).map(drop)
}

/// The files on the device: name, SHA-256 and, decoded by the browser, how long each sounds.
fn sounds(browser: &Browser) -> Outcome<Vec<Value>> {
    let kept = browser.script(
        "return (async () => {
           const asked = request => new Promise((done, fail) => { request.onsuccess = () => done(request.result); request.onerror = () => fail(request.error); });
           const database = await asked(indexedDB.open('nearside'));
           const table = database.transaction('blobs').objectStore('blobs');
           const [names, blobs] = await Promise.all([asked(table.getAllKeys()), asked(table.getAll())]);
           database.close();
           const sounds = [];
           for (const [at, blob] of blobs.entries()) {
             const bytes = await blob.arrayBuffer();
             const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
             const sound = await new OfflineAudioContext(1, 48000, 48000).decodeAudioData(bytes);
             sounds.push({name: names[at], sha256: [...hash].map(it => it.toString(16).padStart(2, '0')).join(''), seconds: sound.duration, type: blob.type});
           }
           return sounds;
         })()",
        &[],
    )?;
    kept.as_array().cloned().ok_or_else(|| "the device tells no files".to_owned())
}

/// The files that the job's list says its memos are.
fn listed(world: &World, job: &str) -> Outcome<Vec<String>> {
    let text = world.server.run(&["job", "show", job, "--json"])?;
    let shown: Value =
        serde_json::from_str(&text).map_err(|error| format!("job show --json: {error}"))?;
    let memos = shown["memos"].as_array().cloned().unwrap_or_default();
    if memos.len() != 2 {
        return Err(format!("two memos stand, but the job lists {memos:?}"));
    }
    let mut names = Vec::new();
    for memo in &memos {
        let seconds = memo["seconds"].as_u64().unwrap_or_default();
        if memo["point"] != "tyres" || memo["by"] != "Dane Hollworth" || !(1..20).contains(&seconds)
        {
            return Err(format!("the job lists a memo wrongly: {memo}"));
        }
        let ending = match memo["media_type"].as_str() {
            Some("audio/webm") => "webm",
            Some("audio/mp4") => "m4a",
            Some("audio/ogg") => "ogg",
            _ => return Err(format!("no recording has this media type: {memo}")),
        };
        names.push(format!("{}.{ending}", memo["sha256"].as_str().unwrap_or_default()));
    }
    names.sort();
    Ok(names)
}
