//! The rest of the desk, by keys: a word found in all jobs, a unit inspected again by the desk's own button, stock sentences, names
//! left over from another job, a photo cut. At a laptop and at the size of a phone.

use std::fs;

use serde_json::json;

use super::{
    World,
    access::{LAPTOP, PHONE, Report},
    go_in_job, pair,
};
use crate::{
    Outcome, Tools,
    axe::Axe,
    browser::Browser,
    keys::{DOWN, ENTER, ESCAPE, TAB},
};

const THEN: &str = "2026-001";
const AGAIN: &str = "2026-900";

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "again")?;
    earlier(&world)?;
    let browser = world.driver.laptop(&world.folder.join("laptop"))?;
    browser.go(&world.server.address())?;
    browser.wait_for("#code")?;
    pair(&browser, &world.server.code()?, "Dane Hollworth")?;
    browser.wait_for("#jobs-there button")?;
    let mut report = Report::new(Axe::read(tools)?, &LAPTOP);
    let pictures = tools.pictures.clone().unwrap_or_else(|| world.folder.join("pictures"));
    fs::create_dir_all(&pictures).map_err(|error| format!("{}: {error}", pictures.display()))?;
    let picture = |browser: &Browser, name: &str| {
        let file = pictures.join(format!("again-{name}.png"));
        fs::write(&file, browser.picture()?).map_err(|error| format!("{}: {error}", file.display()))
    };

    found_there(&browser)?;
    picture(&browser, "find")?;
    report.look(&browser, "search over all jobs")?;
    photo_of_then(&browser, &world)?;
    offered(&browser)?;
    picture(&browser, "offered")?;
    report.look(&browser, "inspecting again")?;
    made(&browser)?;
    other_client(&browser)?;
    go_in_job(&browser, &world, AGAIN, "line")?;
    browser.wait_for("ol.stops li")?;
    let marked = marked(&browser)?;
    picture(&browser, "again")?;
    report.look(&browser, "inspected again")?;
    sentence(&browser)?;
    picture(&browser, "sentence")?;
    report.look(&browser, "finding with stock sentences")?;
    left_over(&browser)?;
    picture(&browser, "left-over")?;
    report.look(&browser, "finding with a name left over")?;
    remark_leads_there(&browser)?;
    report.look(&browser, "finding that a remark led to")?;
    cut(&browser, &world)?;
    picture(&browser, "cut")?;
    report.look(&browser, "photo, cut")?;
    drop(browser);

    let phone = on_a_phone(tools, &mut world)?;
    report.problems.extend(phone.problems);
    if !report.problems.is_empty() {
        let problems = report.problems.join("\n  ");
        return Err(format!("{} problems:\n  {problems}", report.problems.len()));
    }
    Ok(format!(
        "{marked} findings of then marked; {} screens and themes without a violation; pictures in {}",
        report.screens + phone.screens,
        pictures.display()
    ))
}

/// A job with three findings, as the server has it.
fn earlier(world: &World) -> Outcome<()> {
    let new =
        "job new --kind manufactured_home --visit 2026-06-12 --equipment gas,mains,wheels --number";
    let mut new: Vec<&str> = new.split(' ').collect();
    new.extend([THEN, "--client", "Tamsin Quillfeather", "--inspector", "Dane Hollworth"]);
    world.server.run(&new)?;
    world.server.run(&["read", THEN, "regulator_lockup", "lockup", "15.2 inH2O"])?;
    world.server.run(&["point", THEN, "cladding", "--found", "puncture"])?;
    world.server.run(&[
        "finding",
        THEN,
        "add",
        "--title",
        "Wasps in the vent",
        "--stops",
        "stay",
    ])?;
    Ok(())
}

/// A photo of this colour, put into an input for files as a person would choose it.
fn choose(browser: &Browser, input: &str, name: &str, colour: &str) -> Outcome<()> {
    browser.script(
        "return (async (input, name, colour) => {
           const canvas = new OffscreenCanvas(320, 240), context = canvas.getContext('2d');
           context.fillStyle = colour;
           context.fillRect(0, 0, 320, 240);
           context.fillStyle = 'white';
           context.fillRect(40, 40, 80, 80);
           const blob = await canvas.convertToBlob({type: 'image/jpeg'});
           const chosen = new DataTransfer();
           chosen.items.add(new File([blob], name, {type: 'image/jpeg', lastModified: Date.now()}));
           document.querySelector(input).files = chosen.files;
           document.querySelector(input).dispatchEvent(new Event('change', {bubbles: true}));
         })(arguments[0], arguments[1], arguments[2])",
        &[json!(input), json!(name), json!(colour)],
    )?;
    Ok(())
}

/// A photo at the lock-up of the earlier job.
fn photo_of_then(browser: &Browser, world: &World) -> Outcome<()> {
    go_in_job(browser, world, THEN, "point/regulator_lockup")?;
    browser.wait_for("#files")?;
    choose(browser, "#files", "then.jpg", "firebrick")?;
    browser.wait("the photo", "document.querySelector('.photos img')", 30)?;
    browser.wait_until_kept()?;
    browser.wait_until_copied(60)
}

/// The server says what a job would carry that inspects the unit of then again.
fn offered(browser: &Browser) -> Outcome<()> {
    browser.press("o")?;
    let here = "document.querySelector('#inspect-again-standing')?.dataset.standing === 'here'";
    browser.wait("what would be carried", here, 60)
}

/// The button makes that job and opens it where its findings of then are.
fn made(browser: &Browser) -> Outcome<()> {
    browser.tab_to("its number", "it.id === 'inspect-again-number'")?;
    browser.press(AGAIN)?;
    browser.tab_to("its day", "it.id === 'inspect-again-day'")?;
    browser.press("08032026")?;
    let day = "document.querySelector('#inspect-again-day').value === '2026-08-03'";
    browser.wait("the day typed", day, 10)?;
    browser.tab_to("who inspects", "it.id === 'inspect-again-inspector'")?;
    browser.press(ENTER)?;
    let there = format!(
        "location.hash === '#/job/{AGAIN}/again' && document.querySelector('#again-list [role=option]')"
    );
    browser.wait("the new job", &there, 60)
}

/// Somebody else asks for it now.
fn other_client(browser: &Browser) -> Outcome<()> {
    browser.press("b")?;
    browser.tab_to("beginning an agreement", "it.id === 'put-agreement'")?;
    browser.press(ENTER)?;
    browser.wait("the agreement", "document.querySelector('#agreed-client')", 20)?;
    browser.tab_to("the client", "it.id === 'agreed-client'")?;
    browser.press(&format!("Ola Brandtmoor{TAB}"))?;
    browser.wait(
        "the client entered",
        "document.querySelector('#agreed-client').closest('.field').dataset.unsaved !== 'true'",
        10,
    )?;
    browser.wait_until_kept()
}

/// A word is found in a job that only the server has, marked, and leads to its place.
fn found_there(browser: &Browser) -> Outcome<()> {
    browser.press("/")?;
    browser.wait("the box", "document.activeElement.id === 'find'", 5)?;
    browser.press("lock")?;
    // The archive follows the jobs by some seconds.
    for _ in 0..20 {
        let there =
            browser.script("return document.querySelectorAll('#found mark').length", &[])?;
        if there.as_u64().is_some_and(|count| count > 0) {
            break;
        }
        std::thread::sleep(std::time::Duration::from_secs(1));
        browser.press(" ")?;
    }
    browser.wait(
        "a marked word",
        "document.querySelector('#found mark')?.innerText.toLowerCase().startsWith('lock')",
        5,
    )?;
    browser.press(DOWN)?;
    browser.wait("the first result", "document.activeElement.matches('#found button')", 5)?;
    browser.press(ENTER)?;
    browser.wait(
        "its place",
        "location.hash.startsWith('#/job/') && document.querySelector('nav.tabs')",
        60,
    )?;
    browser.press("/")?;
    browser.wait("the box again", "document.activeElement.id === 'find' && document.querySelector('#find').value.startsWith('lock')", 10)?;
    browser.wait("the results again", "document.querySelector('#found mark')", 20)
}

const LEFT: &str = "+document.querySelector('#again-left').dataset.left";

/// Every finding of then is marked by keys, one not seen with its reason, one with a photo of now.
fn marked(browser: &Browser) -> Outcome<u64> {
    browser.press("o")?;
    browser.wait_for("#again-list")?;
    browser.wait("the list", "document.activeElement.id === 'again-list'", 10)?;
    let all = browser.script(&format!("return {LEFT}"), &[])?.as_u64().ok_or("no count")?;
    choose(browser, "#again-choose", "now.jpg", "teal")?;
    browser.wait(
        "a photo of now",
        "document.querySelectorAll('.then-now .marked img').length === 2",
        30,
    )?;
    browser.wait("the list again", "document.activeElement.id === 'again-list'", 10)?;
    browser.press("e")?;
    browser.wait("the note", "document.activeElement.id === 'again-note'", 10)?;
    browser.press(&format!("new sealant, dry today{ESCAPE}"))?;
    browser.press("c")?;
    browser.wait("one fewer", &format!("{LEFT} === {}", all - 1), 10)?;
    browser.press("s")?;
    browser.wait("the reason", "document.activeElement.id === 'again-note'", 10)?;
    browser.press(&format!("the cover was locked{ENTER}"))?;
    browser.wait("two fewer", &format!("{LEFT} === {}", all - 2), 10)?;
    for left in (0..all - 2).rev() {
        browser.press("n")?;
        browser.wait("one fewer", &format!("{LEFT} === {left}"), 10)?;
    }
    browser.press("\u{e011}")?;
    browser.wait(
        "what was said",
        "document.querySelector('#again-note').value === 'new sealant, dry today'",
        10,
    )?;
    browser.wait_until_kept()?;
    Ok(all)
}

/// The present words become a stock sentence, which is offered in another finding.
fn sentence(browser: &Browser) -> Outcome<()> {
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("f")?;
    browser.wait_for("#finding-list")?;
    browser.press("e")?;
    browser.wait("the statement", "document.activeElement.id === 'finding-statement'", 10)?;
    browser.tab_to(
        "keeping a sentence",
        "it.matches('summary') && it.closest('details').querySelector('#stock-name')",
    )?;
    browser.press(ENTER)?;
    browser.script(
        "const it = document.querySelector('#finding-statement'); it.setSelectionRange(0, it.value.indexOf(' ', 12))",
        &[],
    )?;
    browser.tab_to("the name", "it.id === 'stock-name'")?;
    browser.press(&format!("found-then{ENTER}"))?;
    browser.wait(
        "it is kept",
        "document.querySelector('#stock-kept').innerText.includes('found-then')",
        10,
    )?;
    browser.press(ESCAPE)?;
    browser.press(&format!("{DOWN}t"))?;
    browser.wait("the sentences", "document.activeElement.id === 'stock-find'", 10)?;
    browser.press("found")?;
    browser.wait("it is offered", "document.querySelector('#stock-list [role=option]')", 10)?;
    Ok(())
}

/// The sentence is put in, and the name of another job's client behind it is remarked on beside the finding.
fn left_over(browser: &Browser) -> Outcome<()> {
    let before =
        browser.script("return document.querySelector('#finding-statement').value", &[])?;
    browser.press(ENTER)?;
    browser.wait(
        "the sentence in the statement",
        &format!("document.activeElement.id === 'finding-statement' && document.querySelector('#finding-statement').value.length > {}", before.as_str().map_or(0, str::len)),
        10,
    )?;
    browser.press(&format!(" Quillfeather says so.{ESCAPE}"))?;
    let remark = "[...document.querySelectorAll('.finding-one .flag')].some(it => it.innerText.includes('Quillfeather'))";
    browser.wait("the remark", remark, 60)
}

/// Before a release every remark is listed, one press from the text it is about.
fn remark_leads_there(browser: &Browser) -> Outcome<()> {
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("R")?;
    browser.wait(
        "the remark before a release",
        "[...document.querySelectorAll('#release-remarks button')].some(it => it.innerText.includes('Quillfeather'))",
        120,
    )?;
    browser.tab_to(
        "the remark",
        "it.closest('#release-remarks') && it.innerText.includes('Quillfeather')",
    )?;
    browser.press(ENTER)?;
    browser.wait(
        "the finding",
        "location.hash.includes('/finding/') && document.querySelector('.finding-one .flag')",
        60,
    )
}

/// A photo is cut and turned by keys, and shown whole again by the button.
fn cut(browser: &Browser, world: &World) -> Outcome<()> {
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("p")?;
    browser.wait_for("#tray-list")?;
    browser.tab_to("all photos", "it.matches('.tray-times .choice-buttons button:last-child')")?;
    browser.press(ENTER)?;
    browser.wait(
        "the photo of now",
        "document.querySelector('.tray-photo[data-name=\"now.jpg\"]')",
        20,
    )?;
    browser.tab_to("the list of photos", "it.id === 'tray-list'")?;
    let at_hand = "document.querySelector('.tray-photo.at-hand')?.dataset.name";
    for _ in 0..20 {
        if browser.script(&format!("return {at_hand}"), &[])? == json!("now.jpg") {
            break;
        }
        browser.press(DOWN)?;
    }
    browser.wait("the photo at hand", &format!("{at_hand} === 'now.jpg'"), 10)?;
    browser.press("d")?;
    browser.wait_for("#mark-board img.whole")?;
    browser
        .tab_to("cutting", "it.innerText?.trim() === 'Cut' && it.matches('.mark-tools button')")?;
    browser.press(ENTER)?;
    browser.tab_to("the photo", "it.id === 'mark-board'")?;
    browser.press(ENTER)?;
    browser.press(&"\u{e014}\u{e015}".repeat(12))?;
    browser.press(ENTER)?;
    browser.wait("the part", "document.querySelector('.cut-off')", 10)?;
    browser.press("t")?;
    browser.wait("it is turned", "(it => it.naturalHeight > it.naturalWidth)(document.querySelector('#mark-board img.whole'))", 20)?;
    browser.tab_to("leaving it", "it === document.querySelector('.mark-tools button')")?;
    browser.press(ENTER)?;
    browser.wait(
        "the part alone",
        "(it => it.naturalWidth > 0 && it.naturalWidth < 100 && it.naturalHeight < 100)(document.querySelector('#mark-board img.whole'))",
        20,
    )?;
    browser.wait_until_kept()?;
    browser.wait_until_copied(120)?;
    let photos = world.server.run(&["mark", AGAIN, "now.jpg", "list"])?;
    if photos.contains("turned by 90 degrees") {
        Ok(())
    } else {
        Err(format!("the record says {photos}"))
    }
}

/// The same screens on a phone without a line: what is there is found, and what is not is said.
fn on_a_phone(tools: &Tools, world: &mut World) -> Outcome<Report> {
    let browser = world.paired("phone", "Dane Hollworth")?;
    let mut report = Report::new(Axe::read(tools)?, &PHONE);
    go_in_job(&browser, world, AGAIN, "again")?;
    browser.wait("photos of then", "document.querySelector('.then-now .marked img')", 60)?;
    let pictures = tools.pictures.clone().unwrap_or_else(|| world.folder.join("pictures"));
    let picture = |name: &str| {
        let file = pictures.join(format!("again-phone-{name}.png"));
        fs::write(&file, browser.picture()?).map_err(|error| format!("{}: {error}", file.display()))
    };
    picture("again")?;
    report.look(&browser, "inspected again, on a phone")?;
    browser.script(
        "document.querySelector('#again-not-corrected').scrollIntoView({block: 'center'})",
        &[],
    )?;
    browser.tap("#again-not-corrected")?;
    browser.wait_until_kept()?;
    go_in_job(&browser, world, AGAIN, "new-finding")?;
    browser.wait_for("#stock-find")?;
    browser.type_into("#stock-find", "found")?;
    browser.wait(
        "the sentence of the other device",
        "document.querySelector('#stock-list [role=option]')",
        30,
    )?;
    picture("sentence")?;
    report.look(&browser, "new finding with stock sentences, on a phone")?;
    browser.script("document.querySelector('#stock-find').value = ''", &[])?;
    world.server.stop()?;
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for("#find")?;
    browser.type_into("#find", "brandtmoor")?;
    browser.wait(
        "what is on this device",
        "document.querySelector('#found mark')?.innerText === 'Brandtmoor'",
        60,
    )?;
    browser.wait(
        "that the server is out of reach",
        "document.querySelector('#find-said').innerText.includes('out of reach')",
        60,
    )?;
    picture("find")?;
    report.look(&browser, "search over all jobs, on a phone without a line")?;
    go_in_job(&browser, world, AGAIN, "again")?;
    browser.wait_for_words("#inspect-again-standing", "needs the server", 60)?;
    Ok(report)
}
