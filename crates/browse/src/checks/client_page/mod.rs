//! The client's page as a client opens it: from a disk, on a phone and on a laptop, in both languages, with axe-core, with
//! the filter and the large photos, printed, and once more without any script.

mod printed;
mod stands;
mod without_script;

use std::{
    fs,
    path::{Path, PathBuf},
    process::{Command, Stdio},
};

use serde_json::{Value, json};

use crate::{
    Outcome, Tools,
    axe::Axe,
    browser::{Browser, Driver},
};

/// A phone's width and a laptop's.
const WIDTHS: [(&str, u64); 2] = [("phone", 390), ("laptop", 1280)];
/// The files that a browser opens.
const LEAVES: [&str; 2] = ["index.html", "readings.html"];
/// What the first leaf may weigh before its photos.
const MOST_BYTES: u64 = 300_000;

pub(super) fn check(tools: &Tools) -> Outcome {
    let axe = Axe::read(tools)?;
    let folder = tools.scratch.join("client_page");
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(|error| said(&folder, &error))?;
    }
    fs::create_dir_all(&folder).map_err(|error| said(&folder, &error))?;
    let data = folder.join("data");
    run(tools, &["demo", "--into", &data.display().to_string()])?;
    let driver = Driver::start()?;
    let mut seen = Seen::default();
    for language in ["en", "es"] {
        let page = folder.join(language);
        let into = page.display().to_string();
        let data = data.display().to_string();
        let words = [
            "--data",
            &data,
            "page",
            "DEMO-2026",
            "--into",
            &into,
            "--without-pdf",
            "--language",
            language,
        ];
        run(tools, &words)?;
        let bytes = first_weight(&page)?;
        if bytes >= MOST_BYTES {
            return Err(format!("{language}: {bytes} bytes before photos"));
        }
        seen.bytes = seen.bytes.max(bytes);
        seen.whole = seen.whole.max(whole_weight(&page)?);
        let browser = driver.browser(&folder.join(format!("browser-{language}")))?;
        for leaf in LEAVES {
            look(&browser, &axe, &page.join(leaf), language, &mut seen)?;
        }
        browser.go(&address(&page.join(LEAVES[0])))?;
        filters(&browser)?;
        for (width_name, width) in WIDTHS {
            sized(&browser, width, width_name == "phone")?;
            let found = opens_a_photo(&browser, &axe)?;
            let at = format!("{language}, large photo, {width_name}");
            seen.problems.extend(found.into_iter().map(|it| format!("{at}: {it}")));
            seen.views += 1;
        }
        for leaf in LEAVES {
            seen.without_script += without_script::same(&browser, &page.join(leaf))?;
            let file = folder.join(format!("{language}-{leaf}.pdf"));
            seen.printed += printed::check(&browser, &page.join(leaf), &file)?;
        }
        if language == "es" {
            browser.go(&address(&page.join(LEAVES[0])))?;
            axe.prove(&browser)?;
        }
    }
    if !seen.problems.is_empty() {
        return Err(format!("{} problems:\n  {}", seen.problems.len(), seen.problems.join("\n  ")));
    }
    Ok(format!(
        "{} views without a violation; {} bytes before photos, {} with the other leaf, drawings and data; {} texts stand there without a script as with it; {} pages printed; pictures in {}",
        seen.views,
        seen.bytes,
        seen.whole,
        seen.without_script,
        seen.printed,
        folder.display()
    ))
}

/// What was looked at and found.
#[derive(Default)]
struct Seen {
    views: usize,
    bytes: u64,
    whole: u64,
    without_script: usize,
    /// Pages.
    printed: usize,
    problems: Vec<String>,
}

/// One leaf at both widths: axe, nothing wider than the window, a picture.
fn look(browser: &Browser, axe: &Axe, leaf: &Path, language: &str, seen: &mut Seen) -> Outcome<()> {
    let name = leaf.file_stem().and_then(|name| name.to_str()).unwrap_or_default();
    for (width_name, width) in WIDTHS {
        let mobile = width_name == "phone";
        browser.go(&address(leaf))?;
        // The driver makes the window a phone's with each page.
        sized(browser, width, mobile)?;
        let at = format!("{language}, {name}, {width_name}");
        seen.problems.extend(axe.violations(browser)?.into_iter().map(|it| format!("{at}: {it}")));
        let spoken = browser.script("return document.documentElement.lang", &[])?;
        if spoken.as_str() != Some(language) {
            seen.problems.push(format!("{at}: the page says that it is in {spoken}"));
        }
        let wide = browser.script("return document.documentElement.scrollWidth", &[])?;
        if wide.as_u64().is_none_or(|wide| wide > width) {
            seen.problems.push(format!("{at}: {wide} px wide"));
        }
        let file = leaf.with_file_name(format!("../{language}-{name}-{width_name}.png"));
        fs::write(&file, browser.picture()?).map_err(|error| said(&file, &error))?;
        seen.views += 1;
    }
    Ok(())
}

/// The window in a width.
fn sized(browser: &Browser, width: u64, mobile: bool) -> Outcome<()> {
    browser.command(
        "Emulation.setDeviceMetricsOverride",
        &json!({"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": mobile}),
    )?;
    browser.wait(
        "the width",
        &format!("document.querySelector('h1') && innerWidth === {width}"),
        30,
    )
}

/// Each use shows its own findings, fewer than all of them in at least one case, and all come back.
fn filters(browser: &Browser) -> Outcome<()> {
    let counts = browser.script(
        "const all = [...document.querySelectorAll('.finding')];
         const shown = () => all.filter(it => it.offsetParent !== null).length;
         const uses = [...document.querySelectorAll('#filter input[name=use]')];
         const counts = uses.map(use => { use.click(); return shown(); });
         uses[0].click();
         return [all.length, shown(), ...counts]",
        &[],
    )?;
    let counts: Vec<u64> =
        counts.as_array().into_iter().flatten().filter_map(Value::as_u64).collect();
    let [all, again, by_use @ ..] = &counts[..] else {
        return Err(format!("the filter gave no counts: {counts:?}"));
    };
    if *all == 0 || again != all || by_use.len() < 2 || !by_use.iter().any(|count| count < all) {
        return Err(format!("the filter shows {by_use:?}, then {again}, of {all} findings"));
    }
    Ok(())
}

/// A photo opens large, by keyboard, and closes again with the focus where it was; what axe finds meanwhile. Its caption
/// leads back to the finding.
fn opens_a_photo(browser: &Browser, axe: &Axe) -> Outcome<Vec<String>> {
    browser.script("document.querySelector('.finding figure.photo .shot').focus()", &[])?;
    browser.press(crate::keys::ENTER)?;
    browser.wait(
        "a large photo",
        "document.querySelector('dialog[open] img')?.naturalWidth > 0",
        20,
    )?;
    let found = axe.violations(browser)?;
    let leads = browser.script(
        "const link = document.querySelector('dialog[open] figcaption a[href^=\"#finding-\"]');
         return link && document.querySelector(link.getAttribute('href')) !== null",
        &[],
    )?;
    if leads != Value::Bool(true) {
        return Err("the large photo's caption leads to no finding".to_owned());
    }
    browser.press("\u{e00c}")?;
    browser.wait(
        "the photo closed",
        "!document.querySelector('dialog[open]') && document.activeElement.matches('.shot')",
        20,
    )?;
    Ok(found)
}

/// What a browser fetches before the first photo: the leaf, its style and its script. The other leaf, its drawings and the
/// data come when somebody asks for them.
fn first_weight(page: &Path) -> Outcome<u64> {
    ["index.html", "page.css", "page.js"].into_iter().try_fold(0, |sum, name| {
        let file = page.join(name);
        fs::metadata(&file).map(|it| sum + it.len()).map_err(|error| said(&file, &error))
    })
}

/// What everything in the folder weighs but the photos.
fn whole_weight(page: &Path) -> Outcome<u64> {
    let mut sum = 0;
    let mut waiting: Vec<PathBuf> = vec![page.to_owned()];
    while let Some(next) = waiting.pop() {
        for entry in fs::read_dir(&next).map_err(|error| said(&next, &error))? {
            let path = entry.map_err(|error| said(&next, &error))?.path();
            if path.is_dir() && !path.ends_with("photos") {
                waiting.push(path);
            } else if path.is_file() {
                sum += fs::metadata(&path).map_err(|error| said(&path, &error))?.len();
            }
        }
    }
    Ok(sum)
}

fn address(file: &Path) -> String {
    format!("file://{}", file.display())
}

fn run(tools: &Tools, words: &[&str]) -> Outcome<()> {
    let output = Command::new(&tools.nearside)
        .args(words)
        .stdin(Stdio::null())
        .output()
        .map_err(|error| format!("{}: {error}", tools.nearside.display()))?;
    if output.status.success() {
        return Ok(());
    }
    let said = String::from_utf8_lossy(&output.stderr);
    Err(format!("nearside {}: {}", words.join(" "), said.trim()))
}

fn said(path: &Path, error: &dyn std::fmt::Display) -> String {
    format!("{}: {error}", path.display())
}
