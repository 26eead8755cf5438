//! The client's page as a client opens it: from a disk, on a phone and on a laptop, in both languages, with axe-core, with
//! the filter and the large photos, and once more without any script.

use std::{
    fs,
    path::Path,
    process::{Command, Stdio},
    thread,
    time::{Duration, Instant},
};

use serde_json::{Value, json};

use crate::{
    Outcome, Tools,
    axe::Axe,
    browser::{Browser, Driver},
    page::too_long,
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
        let browser = driver.browser(&folder.join(format!("browser-{language}")))?;
        for leaf in LEAVES {
            look(&browser, &axe, &page.join(leaf), language, &mut seen)?;
        }
        browser.go(&address(&page.join(LEAVES[0])))?;
        filters(&browser)?;
        opens_a_photo(&browser)?;
        seen.without_script += without_script(&browser, &page)?;
        seen.printed = seen.printed.max(print(&browser, &folder.join(format!("{language}.pdf")))?);
        if language == "es" {
            browser.go(&address(&page.join(LEAVES[0])))?;
            axe.prove(&browser)?;
        }
    }
    if !seen.problems.is_empty() {
        return Err(format!("{} problems:\n  {}", seen.problems.len(), seen.problems.join("\n  ")));
    }
    Ok(format!(
        "{} views without a violation; {} bytes before photos; {} texts read without a script; {} bytes printed; pictures in {}",
        seen.views,
        seen.bytes,
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
    without_script: usize,
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
        browser.command(
            "Emulation.setDeviceMetricsOverride",
            &json!({"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": mobile}),
        )?;
        browser.wait(
            "the width",
            &format!("document.querySelector('h1') && innerWidth === {width}"),
            30,
        )?;
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

/// A photo opens large, by keyboard, and closes again with the focus where it was.
fn opens_a_photo(browser: &Browser) -> Outcome<()> {
    browser.script("document.querySelector('figure.photo .shot').focus()", &[])?;
    browser.press(crate::keys::ENTER)?;
    browser.wait(
        "a large photo",
        "document.querySelector('dialog[open] img')?.naturalWidth > 0",
        20,
    )?;
    browser.press("\u{e00c}")?;
    browser.wait(
        "the photo closed",
        "!document.querySelector('dialog[open]') && document.activeElement.matches('.shot')",
        20,
    )
}

/// Every heading of the first leaf is told to a screen reader without a script, too, and the filter, which would then do
/// nothing, is not; answers how many texts are told.
fn without_script(browser: &Browser, page: &Path) -> Outcome<usize> {
    let headings = browser.script(
        "return [...document.querySelectorAll('h1, h2, h3')].map(it => it.textContent)",
        &[],
    )?;
    let headings: Vec<String> =
        headings.as_array().into_iter().flatten().filter_map(Value::as_str).map(plain).collect();
    if headings.len() < 20 {
        return Err(format!("only {} headings on the page", headings.len()));
    }
    browser.command("Emulation.setScriptExecutionDisabled", &json!({"value": true}))?;
    let told = told_after_a_load(browser, &page.join(LEAVES[0]), headings.len());
    browser.command("Emulation.setScriptExecutionDisabled", &json!({"value": false}))?;
    let told = told?;
    for heading in &headings {
        if !told.iter().any(|(_, name)| name == heading) {
            return Err(format!("without a script nobody is told {heading:?}"));
        }
    }
    match told.iter().find(|(role, _)| role == "radio") {
        Some((_, name)) => Err(format!("without a script the filter is offered: {name:?}")),
        None => Ok(told.len()),
    }
}

/// Loads a file anew, so that nothing is left of what a script did, and reads the tree that a screen reader gets: role and
/// name of whatever has a name.
fn told_after_a_load(
    browser: &Browser,
    file: &Path,
    headings: usize,
) -> Outcome<Vec<(String, String)>> {
    browser.command("Page.navigate", &json!({"url": "about:blank"}))?;
    browser.command("Page.navigate", &json!({"url": address(file)}))?;
    let start = Instant::now();
    loop {
        let tree = browser.command("Accessibility.getFullAXTree", &json!({}))?;
        let nodes = tree["nodes"].as_array().into_iter().flatten();
        let told: Vec<(String, String)> = nodes
            .filter(|node| node["ignored"] != json!(true))
            .filter_map(|node| {
                let role = node["role"]["value"].as_str()?;
                Some((role.to_owned(), plain(node["name"]["value"].as_str()?)))
            })
            .collect();
        let there = told.iter().filter(|(role, _)| role == "heading").count();
        if there >= headings {
            return Ok(told);
        }
        if too_long(start, 30) {
            return Err(format!("without a script {there} of {headings} headings are told"));
        }
        thread::sleep(Duration::from_millis(100));
    }
}

/// A text with single spaces.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Prints the page as a client would; answers the size of the file.
fn print(browser: &Browser, file: &Path) -> Outcome<usize> {
    let printed = browser.command("Page.printToPDF", &json!({"printBackground": false}))?;
    let bytes = printed["data"].as_str().and_then(crate::base64::read).unwrap_or_default();
    if !bytes.starts_with(b"%PDF") {
        return Err("the browser printed no PDF".to_owned());
    }
    fs::write(file, &bytes).map_err(|error| said(file, &error))?;
    Ok(bytes.len())
}

/// What a browser fetches before the first photo: the leaf, its style and its script.
fn first_weight(page: &Path) -> Outcome<u64> {
    ["index.html", "page.css", "page.js"].into_iter().try_fold(0, |sum, name| {
        let file = page.join(name);
        fs::metadata(&file).map(|it| sum + it.len()).map_err(|error| said(&file, &error))
    })
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
