//! An evening at the desk, by keys alone: 150 photos of a camera whose clock is off are placed, the report's pages follow what
//! is typed, the job is released, charged for and paid, and 1,000 photos stay smooth. At the size of a laptop's screen.

use std::{collections::BTreeMap, fs, path::Path, time::Instant};

use serde_json::{Value, json};

use super::{
    World,
    access::{LAPTOP, PHONE, Report},
    desk_release, engagement, go_in_job, pair,
};
use crate::{
    Outcome, Tools,
    axe::Axe,
    browser::Browser,
    keys::{ENTER, ESCAPE},
};

/// How much the evening has to do.
struct Extent {
    /// Photos that come in: so many groups of three of the same thing.
    groups: usize,
    /// Photos of the large tray.
    many: usize,
}

/// What is promised.
const WHOLE: Extent = Extent { groups: 50, many: 1_000 };
/// Where the app was built quickly, as in continuous integration: the same steps, in a few minutes.
const SMALL: Extent = Extent { groups: 6, many: 150 };
/// The camera's clock is behind by so many milliseconds: an hour and seven minutes.
const CLOCK_BEHIND: i64 = 67 * 60_000;
/// Budget of the longest task while the tray is scrolled, milliseconds.
const TASK: f64 = 100.0;
/// Budget until the tray's first screen is there, milliseconds.
const FIRST_SCREEN: f64 = 1_000.0;
/// Budget from the last key of a statement until its page shows it, milliseconds, in a report of so many pages.
const FOLLOW: f64 = 400.0;
const PAGES: usize = 100;
/// Of the photos so many in a hundred must stand where they were taken.
const RIGHT: usize = 90;

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "desk")?;
    let made = world.server.run(&["demo", "--json", "--into", &world.server.data_folder()])?;
    let made: Value = serde_json::from_str(&made).map_err(|error| error.to_string())?;
    let job = made["job"].as_str().ok_or("the demo names no job")?.to_owned();
    desk_release::make_key(&world)?;
    let bag = made["bag"].as_str().ok_or("the demo names no bag")?;
    let extent = if tools.quick { SMALL } else { WHOLE };
    let entries = entries(Path::new(bag), extent.groups)?;
    let chosen = 3 * extent.groups;
    let browser = world.driver.laptop(&world.folder.join("laptop"))?;
    browser.go(&world.server.address())?;
    browser.wait_for("#code")?;
    pair(&browser, &world.server.code()?, "Dane Hollworth")?;
    browser.wait_for("#jobs-there button")?;
    go_in_job(&browser, &world, &job, "line")?;
    browser.wait_for("ol.stops li")?;

    let axe = Axe::read(tools)?;
    let mut report = Report::new(axe, &LAPTOP);
    let pictures = tools.pictures.clone().unwrap_or_else(|| world.folder.join("pictures"));
    fs::create_dir_all(&pictures).map_err(|error| format!("{}: {error}", pictures.display()))?;
    let picture = |name: &str| {
        let file = pictures.join(format!("desk-{name}.png"));
        fs::write(&file, browser.picture()?).map_err(|error| format!("{}: {error}", file.display()))
    };

    // The photos come in, are kept, and wait for their places.
    browser.press("p")?;
    browser.wait_for("#tray-list")?;
    let start = Instant::now();
    let there = open_photos(&browser)?;
    choose(&browser, &entries)?;
    browser.wait("every photo", &format!("{PHOTOS_OPEN} === {}", there + chosen), 300)?;
    browser.wait_until_kept()?;
    let kept = start.elapsed().as_secs_f64();
    report.look(&browser, "tray, to place")?;
    picture("tray")?;

    // Then nothing but keys.
    let start = Instant::now();
    browser.tab_to("the camera's clock", "it.matches('.tray-clock-correct')")?;
    browser.press(ENTER)?;
    browser.wait("the times corrected", "!document.querySelector('.tray-clock')", 30)?;
    let placed = place_all(&browser, &entries)?;
    let placing = start.elapsed().as_secs_f64();
    browser.wait_until_kept()?;
    let right = right(&browser, &entries)?;
    if right * 100 < RIGHT * chosen {
        return Err(format!("{right} of {chosen} photos stand where they were taken"));
    }
    picture("tray-placed")?;
    report.look(&browser, "tray, placed")?;
    marks(&browser)?;
    picture("photo-marked")?;
    report.look(&browser, "photo with marks")?;

    // Three drafts come from another device, and are settled; then what is missing.
    let settled = settle(&browser, &world, &job)?;
    picture("findings")?;
    report.look(&browser, "findings at the desk")?;
    let missing = missing(&browser)?;
    picture("missing")?;
    report.look(&browser, "what is missing")?;

    // The list of keys, and the report.
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("?")?;
    browser.wait("the list of keys", "document.querySelector('#keys')?.open", 10)?;
    picture("keys")?;
    report.look(&browser, "keys")?;
    browser.press(ESCAPE)?;
    browser.wait("no list of keys", "!document.querySelector('#keys')?.open", 10)?;
    let pages = pages(&browser, &world, &job)?;
    picture("report")?;
    report.look(&browser, "report")?;
    let typing = typing(&browser, &world, &job)?;
    picture("finding-live")?;
    report.look(&browser, "finding, with its pages")?;

    // What is open is accepted, and the job released: on a phone the same screen can be used.
    let released = desk_release::release(&browser, &world, &job, &mut |screen| {
        report.look(&browser, screen)?;
        picture(&screen.replace(", ", "-").replace(' ', "-"))
    })?;
    let mut phone = Report::new(Axe::read(tools)?, &PHONE);
    phone.look(&browser, "release on a phone")?;
    picture("release-phone")?;
    report.problems.append(&mut phone.problems);
    report.screens += phone.screens;
    browser.command("Emulation.clearDeviceMetricsOverride", &json!({}))?;

    // The visit is charged for and paid.
    let invoice = engagement::invoice_and_pay(&browser, &world, &job)?;
    picture("invoice")?;
    report.look(&browser, "invoice, paid")?;

    let (first, longest) = many(&browser, &world, &job, extent.many)?;
    picture("tray-many")?;
    if !report.problems.is_empty() {
        let problems = report.problems.join("\n  ");
        return Err(format!("{} problems:\n  {problems}", report.problems.len()));
    }
    let typed = typing.iter().map(|took| format!("{took:.0}")).collect::<Vec<_>>().join(", ");
    let slowest = typing.iter().copied().fold(0.0, f64::max);
    let measured = format!(
        "{chosen} photos kept in {kept:.0} s; by keys alone placed in {placing:.0} s with {placed} presses, {right} where they \
         were taken; {settled} findings settled, {missing} things missing worked through; pages of the report after {pages:.0} ms; after the last key of a statement its page after {typed} ms \
         (budget {FOLLOW} ms in a report of {PAGES} pages; it has {}); {} open matters accepted, released in {:.0} s, the bag {}; invoice {invoice} paid; {} photos: first screen after {first:.0} ms (budget {FIRST_SCREEN} ms), longest task while scrolling \
         {longest:.0} ms (budget {TASK} ms); {} screens and themes without a violation; pictures in {}",
        released.pages,
        released.open,
        released.seconds,
        released.verified,
        extent.many,
        report.screens,
        pictures.display()
    );
    // What was built quickly is told, not judged; the large tray is promised in either.
    let followed = tools.quick || (slowest <= FOLLOW && released.pages >= PAGES);
    if first > FIRST_SCREEN || longest > TASK || !followed {
        return Err(measured);
    }
    Ok(measured)
}

/// How many photos stand at no point, as the page says.
const PHOTOS_OPEN: &str =
    "+document.querySelector('.tray-head .figures').innerText.match(/· (\\d+) at no/)[1]";

fn open_photos(browser: &Browser) -> Outcome<usize> {
    browser.wait_for(".tray-head .figures")?;
    let open = browser.script(&format!("return {PHOTOS_OPEN}"), &[])?;
    open.as_u64()
        .and_then(|open| usize::try_from(open).ok())
        .ok_or_else(|| "the tray does not say how many photos are open".to_owned())
}

/// What was entered when: a point and its time, apart from each other, in time.
fn entries(bag: &Path, groups: usize) -> Outcome<Vec<(String, String)>> {
    let file = bag.join("data/record.json");
    let text = fs::read_to_string(&file).map_err(|error| format!("{}: {error}", file.display()))?;
    let record: Value = serde_json::from_str(&text).map_err(|error| error.to_string())?;
    let mut times: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for point in record["points"].as_array().into_iter().flatten() {
        if let (Some(id), Some(at)) = (point["point"].as_str(), point["at"].as_str()) {
            times.entry(at.to_owned()).or_default().push(id.to_owned());
        }
    }
    // Of points entered at one moment nothing can be told apart.
    let alone = times.into_iter().filter(|(_, points)| points.len() == 1);
    let all: Vec<(String, String)> =
        alone.flat_map(|(at, points)| points.into_iter().map(move |id| (id, at.clone()))).collect();
    if all.len() < groups {
        return Err(format!("the demo has {} times of points, {groups} are wanted", all.len()));
    }
    let step = all.len() / groups;
    Ok(all.into_iter().step_by(step).take(groups).collect())
}

/// Draws three photos for each entry, taken shortly before it by a clock that is behind, and chooses them all at once.
fn choose(browser: &Browser, entries: &[(String, String)]) -> Outcome<()> {
    browser.script("window.chosen = new DataTransfer(); window.seed = 7; return true", &[])?;
    // Some at a time: a script has two minutes.
    for (part, some) in entries.chunks(5).enumerate() {
        browser.script(
            "return (async (entries, first, behind) => {
               // All at once: the browser encodes when it is idle, and waits a second for that each time.
               const files = [];
               const random = () => (window.seed = (window.seed * 16807) % 2147483647) / 2147483647;
               for (const [at, [point, entered]] of entries.entries()) {
                 const group = first + at;
                 const blocks = Array.from({length: 30}, () => [random() * 960, random() * 720, 60 + random() * 240, 40 + random() * 200, `hsl(${random() * 360} 60% ${20 + random() * 60}%)`]);
                 for (let shot = 0; shot < 3; shot++) {
                   const canvas = new OffscreenCanvas(960, 720), context = canvas.getContext('2d');
                   context.fillStyle = 'gray';
                   context.fillRect(0, 0, 960, 720);
                   for (const [x, y, width, height, colour] of blocks) {
                     context.fillStyle = colour;
                     context.fillRect(x + shot * 3, y, width, height);
                   }
                   if (shot === 1) { context.drawImage(canvas, 0, 0, 60, 45); context.drawImage(canvas, 0, 0, 60, 45, 0, 0, 960, 720); }
                   if (group === 7) { context.fillStyle = 'rgb(0 0 0 / 92%)'; context.fillRect(0, 0, 960, 720); }
                   const name = `desk-${String(group).padStart(2, '0')}-${shot}.jpg`;
                   const lastModified = Date.parse(entered) - 24000 + shot * 6000 - behind;
                   const encoded = canvas.convertToBlob({type: 'image/jpeg', quality: 0.85});
                   files.push(encoded.then(blob => new File([blob], name, {type: 'image/jpeg', lastModified})));
                 }
               }
               for (const file of await Promise.all(files)) window.chosen.items.add(file);
             })(arguments[0], arguments[1], arguments[2])",
            &[json!(some), json!(part * 5), json!(CLOCK_BEHIND)],
        )?;
    }
    browser.script(
        "const input = document.querySelector('#tray-files');
         input.files = window.chosen.files;
         input.dispatchEvent(new Event('change', {bubbles: true}))",
        &[],
    )?;
    Ok(())
}

/// Takes what is suggested, and finds the point of what is not; how many keys that took.
fn place_all(browser: &Browser, entries: &[(String, String)]) -> Outcome<usize> {
    browser.tab_to("the list of photos", "it.id === 'tray-list'")?;
    let mut presses = 0;
    let mut press = |keys: &str| {
        presses += keys.chars().count();
        browser.press(keys)
    };
    press("a")?;
    browser.wait("the sure ones placed", &format!("{PHOTOS_OPEN} < {}", 3 * entries.len()), 60)?;
    for _ in 0..200 {
        let open = open_photos(browser)?;
        if open == 0 {
            return Ok(presses);
        }
        let at_hand = browser.script(
            "const it = document.querySelector('.tray-photo.at-hand');
             return it ? [it.dataset.suggested ?? '', it.dataset.name] : null",
            &[],
        )?;
        let suggested = at_hand[0].as_str().ok_or("no photo is at hand")?;
        let name = at_hand[1].as_str().unwrap_or_default();
        if suggested.is_empty() {
            let group = name.get(5..7).and_then(|group| group.parse::<usize>().ok());
            let point = group.and_then(|group| entries.get(group)).map(|(point, _)| point.as_str());
            press("p")?;
            browser.wait("the field", "document.activeElement.id === 'tray-wanted'", 5)?;
            press(point.unwrap_or("tyres"))?;
        }
        press(ENTER)?;
        browser.wait("one placed", &format!("{PHOTOS_OPEN} < {open}"), 20)?;
        browser.wait("the list again", "document.activeElement.id === 'tray-list'", 5)?;
    }
    Err("after 200 more photos some are still at no point".to_owned())
}

/// How many of the photos stand at the point before whose entry they were taken: every row of the tray is looked at.
fn right(browser: &Browser, entries: &[(String, String)]) -> Outcome<usize> {
    browser.script(
        "document.querySelector('.tray-times .choice-buttons button:last-child').click()",
        &[],
    )?;
    let found = browser.script(
        "return (async () => {
           const list = document.querySelector('#tray-list'), found = {};
           for (let at = 0; at <= list.scrollHeight; at += 300) {
             list.scrollTop = at;
             await new Promise(done => setTimeout(done, 60));
             for (const row of list.querySelectorAll('.tray-photo'))
               for (const name of row.dataset.all.split(' ')) found[name] = row.dataset.point;
           }
           list.scrollTop = 0;
           return found;
         })()",
        &[],
    )?;
    let mut right = 0;
    for (group, (point, _)) in entries.iter().enumerate() {
        for shot in 0..3 {
            let name = format!("desk-{group:02}-{shot}.jpg");
            let at = found[&name].as_str().ok_or_else(|| format!("{name} is not in the tray"))?;
            right += usize::from(at == point);
        }
    }
    Ok(right)
}

/// An arrow and words on a photo, by keys.
fn marks(browser: &Browser) -> Outcome<()> {
    browser.tab_to("the list of photos", "it.id === 'tray-list'")?;
    browser.press("d")?;
    browser.wait_for("#mark-board img")?;
    browser.tab_to("the photo", "it.id === 'mark-board'")?;
    browser.press(ENTER)?;
    browser.press(&"\u{e014}".repeat(8))?;
    browser.press(ENTER)?;
    browser.wait("an arrow", "document.querySelectorAll('.mark-list li').length === 1", 10)?;
    browser.script("document.querySelector('h1').parentElement.focus()", &[])?;
    browser
        .tab_to("words", "it.innerText?.trim() === 'Words' && it.matches('.mark-tools button')")?;
    browser.press(ENTER)?;
    browser.tab_to("the words", "it.id === 'mark-text'")?;
    browser.press("15.8 and rising")?;
    browser.tab_to("the photo", "it.id === 'mark-board'")?;
    browser.press(ENTER)?;
    browser.wait("words", "document.querySelectorAll('.mark-list li').length === 2", 10)?;
    browser.wait_until_kept()
}

/// Settles what is drafted: two confirmed, one worded and withdrawn; how many.
fn settle(browser: &Browser, world: &World, job: &str) -> Outcome<usize> {
    browser.wait_until_copied(300)?;
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("f")?;
    browser.wait_for("#finding-list")?;
    let drafted =
        "document.querySelectorAll('[role=group][aria-label^=Drafted] .finding-row').length";
    let before = browser
        .script(&format!("return {drafted}"), &[])?
        .as_u64()
        .ok_or("no drafts were counted")?;
    world.server.run(&[
        "--by",
        "A. Helper",
        "point",
        job,
        "clearances",
        "--examined",
        "--found",
        "combustibles",
        "--found",
        "no_vents",
        "--found",
        "storage_under",
    ])?;
    browser.wait("the drafts of another device", &format!("{drafted} === {}", before + 3), 60)?;
    // Whoever comes here begins with the first that nobody decided on.
    browser.press("l")?;
    browser.wait_for("ol.stops li")?;
    browser.press("f")?;
    browser.wait_for("#finding-list")?;
    browser.wait("the list", "document.activeElement.id === 'finding-list'", 10)?;
    browser.press("e")?;
    browser.wait("the statement", "document.activeElement.id === 'finding-statement'", 10)?;
    browser.press(" It was dry.")?;
    browser.press(ESCAPE)?;
    browser.wait(
        "its own words",
        "document.querySelector('#finding-statement').value.endsWith('It was dry.')",
        10,
    )?;
    browser.wait("the list", "document.activeElement.id === 'finding-list'", 10)?;
    browser.press("y")?;
    browser.wait("one confirmed", &format!("{drafted} === {}", before + 2), 10)?;
    browser.press("y")?;
    browser.wait("two confirmed", &format!("{drafted} === {}", before + 1), 10)?;
    browser.press("w")?;
    browser.wait("the reason", "document.activeElement.id === 'withdraw'", 10)?;
    browser.press(&format!("belongs to the neighbour{ENTER}"))?;
    browser.wait("one withdrawn", &format!("{drafted} === {before}"), 10)?;
    browser.wait_until_kept()?;
    Ok(3)
}

/// Goes to what is missing with one key, closes the first gap that a point's answer closes, and comes back; how many fewer
/// things are missing.
fn missing(browser: &Browser) -> Outcome<u64> {
    let count = "+document.querySelector('#missing-count').innerText.match(/\\d+/)[0]";
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("m")?;
    browser.wait_for("#missing-count")?;
    browser.wait("the first gap", "document.activeElement.id === 'missing-first'", 10)?;
    let before = browser.script(&format!("return {count}"), &[])?.as_u64().ok_or("no count")?;
    browser.press(ENTER)?;
    browser.wait(
        "where it is closed",
        "!document.querySelector('#missing-count') && document.querySelector('main h1')",
        10,
    )?;
    // A photo that is wanted is not needed where the point was not examined.
    browser.tab_to("taking the answer back", "it.innerText?.trim() === 'Take back'")?;
    browser.press(ENTER)?;
    browser.wait("no answer", "document.querySelector('.act-bar.answers')", 10)?;
    browser.tab_to("can't examine", "it.innerText?.trim() === 'Can’t examine'")?;
    browser.press(ENTER)?;
    browser.wait("the reasons", "document.querySelector('.act-bar.reasons')", 10)?;
    browser.wait("the first reason", "document.activeElement.closest('.act-bar.reasons')", 10)?;
    browser.press(ENTER)?;
    browser.wait("the answer", "document.querySelector('.act-bar.answered')", 10)?;
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("m")?;
    browser.wait(
        "fewer gaps",
        &format!("document.querySelector('#missing-count') && {count} < {before}"),
        20,
    )?;
    let after = browser.script(&format!("return {count}"), &[])?.as_u64().ok_or("no count")?;
    Ok(before - after)
}

/// Milliseconds until the report's front page is there.
fn pages(browser: &Browser, world: &World, job: &str) -> Outcome<f64> {
    browser.wait_until_copied(300)?;
    go_in_job(browser, world, job, "report")?;
    let start = Instant::now();
    browser.wait(
        "a page of the report",
        "document.querySelector('#live-standing')?.dataset.standing === 'fresh' && document.querySelector('.live-page')?.complete && document.querySelector('.live-page').naturalWidth > 0",
        120,
    )?;
    Ok(start.elapsed().as_secs_f64() * 1000.0)
}

/// Milliseconds from the last key of a statement until its page shows it, a few times.
fn typing(browser: &Browser, world: &World, job: &str) -> Outcome<Vec<f64>> {
    go_in_job(browser, world, job, "new-finding")?;
    browser.wait_for("#finding-heading")?;
    browser.fill("#finding-heading", "Loose skirting")?;
    browser.wait(
        "a page",
        "document.querySelector('#live-standing')?.dataset.standing === 'fresh'",
        120,
    )?;
    let mut times = Vec::new();
    for words in ["The skirting ", "on the right side ", "is loose."] {
        browser.tab_to("the statement", "it.id === 'finding-statement'")?;
        browser.press(words)?;
        let took = browser.script(
            "return new Promise((done, fail) => {
               const start = performance.now();
               const before = performance.getEntriesByName('pages').length;
               const look = () => {
                 const fresh = document.querySelector('#live-standing')?.dataset.standing === 'fresh';
                 if (fresh && performance.getEntriesByName('pages').length > before) done(performance.now() - start);
                 else if (performance.now() - start > 60000) fail(new Error('no newer page'));
                 else setTimeout(look, 10);
               };
               look();
             })",
            &[],
        )?;
        times.push(took.as_f64().ok_or("no time was taken")?);
        browser.script("document.activeElement?.blur()", &[])?;
    }
    Ok(times)
}

/// Fills the tray up, and answers how long its first screen takes and the longest task while it is scrolled, milliseconds.
fn many(browser: &Browser, world: &World, job: &str, many: usize) -> Outcome<(f64, f64)> {
    go_in_job(browser, world, job, "photos")?;
    browser.wait_for("#tray-list")?;
    let there = browser.script(
        "return +document.querySelector('.tray-head .figures').innerText.match(/^(\\d+)/)[1]",
        &[],
    )?;
    let there = there.as_u64().and_then(|it| usize::try_from(it).ok()).ok_or("no count")?;
    browser.script("window.chosen = new DataTransfer(); return true", &[])?;
    for from in (there..many).step_by(50) {
        browser.script(
            "return (async (from, to) => {
           // All at once: the browser encodes when it is idle, and waits a second for that each time.
           const files = await Promise.all(Array.from({length: to - from}, async (_, place) => {
             const at = from + place;
             const canvas = new OffscreenCanvas(240, 180), context = canvas.getContext('2d');
             for (let block = 0; block < 30; block++) {
               context.fillStyle = `hsl(${Math.random() * 360} 60% 50%)`;
               context.fillRect(Math.random() * 240, Math.random() * 180, 60, 40);
             }
             const blob = await canvas.convertToBlob({type: 'image/jpeg'});
             return new File([blob], `many-${at}.jpg`, {type: 'image/jpeg', lastModified: 1781270000000 + at * 9000});
           }));
           for (const file of files) window.chosen.items.add(file);
         })(arguments[0], arguments[1])",
            &[json!(from), json!((from + 50).min(many))],
        )?;
    }
    browser.script(
        "const input = document.querySelector('#tray-files');
         input.files = window.chosen.files;
         input.dispatchEvent(new Event('change', {bubbles: true}))",
        &[],
    )?;
    browser.wait(
        "the large tray",
        &format!("document.querySelector('.tray-head .figures').innerText.startsWith('{many} ')"),
        580,
    )?;
    browser.wait_until_kept()?;
    go_in_job(browser, world, job, "line")?;
    browser.wait_for("ol.stops li")?;
    let first = browser.script(
        "return (async () => {
           await new Promise(done => setTimeout(done, 2000));
           const start = performance.now();
           [...document.querySelectorAll('nav.tabs button')].find(it => it.innerText.includes('Photos')).click();
           while (document.querySelectorAll('.tray-photo img').length < 4) await new Promise(done => setTimeout(done, 10));
           await new Promise(done => requestAnimationFrame(() => setTimeout(done)));
           return performance.now() - start;
         })()",
        &[],
    )?;
    let longest = browser.script(
        "return (async () => {
           await new Promise(done => setTimeout(done, 1500));
           let longest = 0;
           const watch = new PerformanceObserver(list => { for (const task of list.getEntries()) longest = Math.max(longest, task.duration); });
           watch.observe({type: 'longtask'});
           const list = document.querySelector('#tray-list');
           for (let at = 0; at <= list.scrollHeight; at += 240) {
             list.scrollTop = at;
             await new Promise(done => requestAnimationFrame(done));
           }
           await new Promise(done => setTimeout(done, 300));
           watch.disconnect();
           return longest;
         })()",
        &[],
    )?;
    Ok((
        first.as_f64().ok_or("no first screen was timed")?,
        longest.as_f64().ok_or("no task was timed")?,
    ))
}
