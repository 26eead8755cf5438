//! What the app shows of a job, held against the server's assessment and against the report: values with their units,
//! verdicts, findings, the five uses.

use std::{collections::BTreeMap, process::Command};

use serde_json::{Value, json};

use super::{World, go_in_job};
use crate::{Outcome, browser::Browser};

/// A value as one of the three has it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Shown {
    /// With unit and uncertainty, as people read it.
    value: String,
    /// What each limit says.
    verdicts: Vec<String>,
}

/// Values by point, and within it by the name of a reading or the title of what was computed, and the place.
type Values = BTreeMap<(String, String), Shown>;

/// What the app shows of a job, on its screens.
pub(super) struct OnPhone {
    values: Values,
    findings: Vec<Value>,
    uses: Vec<Value>,
}

impl OnPhone {
    /// Whether a reading of a point is shown with the number that was typed for it.
    pub(super) fn shows(&self, point: &str, reading: &str, typed: usize) -> bool {
        let at_a_place = format!("{reading} @ ");
        self.values.iter().any(|((at, what), shown)| {
            let number = shown.value.split(' ').next().unwrap_or_default().replace(',', "");
            at == point
                && (what == reading || what.starts_with(&at_a_place))
                && number
                    .parse::<f64>()
                    .is_ok_and(|number| format!("{number}") == typed.to_string())
        })
    }
}

/// Goes through the screens and notes what they show.
pub(super) fn on_phone(
    browser: &Browser,
    world: &World,
    job: &str,
    points: &[&str],
) -> Outcome<OnPhone> {
    let mut values = Values::new();
    for point in points {
        go_in_job(browser, world, job, &format!("point/{point}"))?;
        let there = format!(
            "location.hash.endsWith('/point/{point}') && document.querySelector('.act-bar.answered')"
        );
        browser.wait("the point", &there, 30)?;
        let shown = browser.script(VALUES, &[])?;
        for one in shown.as_array().ok_or("the point shows no list of values")? {
            let shown = Shown { value: text(one, "value"), verdicts: texts(&one["verdicts"]) };
            values.insert(((*point).to_owned(), text(one, "what")), shown);
        }
    }
    go_in_job(browser, world, job, "left")?;
    browser.wait("the uses", "document.querySelectorAll('.uses .use').length === 5", 30)?;
    let uses = browser.script(
        "return [...document.querySelectorAll('.uses .use')].map(it =>
           ({use: it.querySelector('span').innerText.trim(), state: it.querySelector('strong').innerText.trim()}))",
        &[],
    )?;
    go_in_job(browser, world, job, "findings")?;
    browser.wait_for(".finding")?;
    let findings = browser.script(
        "return [...document.querySelectorAll('.finding')].map(it => {
           const heading = it.querySelector('h2');
           const [, number, title] = heading.innerText.trim().match(/^(?:(\\d+) · )?([^]*)$/);
           return {number: number ? +number : null, title, statement: heading.nextElementSibling.innerText.trim()};
         })",
        &[],
    )?;
    let list = |value: Value| value.as_array().cloned().ok_or("a list was wanted");
    Ok(OnPhone { values, findings: list(findings)?, uses: list(uses)? })
}

/// Whether the assessment says the same of these points; answers how many values were held against each other, and of how
/// many of them the number itself, in the same unit.
pub(super) fn as_assessed(
    phone: &OnPhone,
    assessed: &Value,
    points: &[&str],
) -> Outcome<(usize, usize)> {
    let mut values = Values::new();
    let mut numbers = 0;
    for one in list(assessed, "values") {
        let point = text(&one, "point");
        if !points.contains(&point.as_str()) {
            continue;
        }
        let computed = !one["formula"].is_null();
        let what = what(
            &text(&one, if computed { "title" } else { "name" }),
            &text(&one, "position"),
            computed,
        );
        let verdicts = list(&one, "judgements").iter().map(|it| text(it, "verdict")).collect();
        let key = (point, what);
        let Some(shown) = phone.values.get(&key) else {
            return Err(format!("{key:?} is assessed, and the phone does not show it: {one}"));
        };
        numbers += usize::from(same_number(&key, shown, &one)?);
        // The words of a value are the phone's own; what they say was judged just now.
        values.insert(key, Shown { value: shown.value.clone(), verdicts });
    }
    same("values", &phone.values, &values)?;
    let of = |list: Vec<Value>, keys: &[&str]| -> Vec<Value> {
        let only = |one: &Value| keys.iter().map(|key| one[*key].clone()).collect::<Vec<_>>();
        list.iter().map(|one| json!(only(one))).collect()
    };
    for (name, shown, keys) in [
        ("findings", &phone.findings, &["number", "title", "statement"][..]),
        ("uses", &phone.uses, &["use", "state"][..]),
    ] {
        same(name, &of(shown.clone(), keys), &of(list(assessed, name), keys))?;
    }
    Ok((values.len(), numbers))
}

/// Whether the value that is shown is the one assessed; answers whether the two are numbers in one unit.
fn same_number(key: &(String, String), shown: &Shown, assessed: &Value) -> Outcome<bool> {
    let differ =
        || Err(format!("{key:?}: the phone shows {:?}, assessed is {assessed}", shown.value));
    let Some(number) = assessed["value"].as_f64() else {
        let words = assessed["value"].as_str().or(assessed["why"].as_str());
        return if words == Some(shown.value.as_str()) { Ok(false) } else { differ() };
    };
    let first = shown.value.split(" ± ").next().unwrap_or_default();
    let (digits, unit) = first.split_once(' ').unwrap_or((first, ""));
    let digits = digits.replace([',', '\u{202f}', '\u{a0}'], "").replace('−', "-");
    let Ok(seen) = digits.parse::<f64>() else { return differ() };
    if unit != assessed["unit"].as_str().unwrap_or_default() {
        // Written in the other system of units; the report writes it as the phone does.
        return Ok(false);
    }
    let places = digits.split_once('.').map_or(0, |(_, behind)| behind.len());
    let step = (0..places).fold(1.0_f64, |step, _| step / 10.0);
    // Five digits are written, or as many as the uncertainty leaves.
    let step = if places == 0 { step.max(number.abs() * 1e-4) } else { step };
    if (seen - number).abs() <= 0.5001 * step { Ok(true) } else { differ() }
}

/// Whether the report says the same: the data that travels inside its PDF, taken out by another program.
pub(super) fn as_reported(
    phone: &OnPhone,
    world: &World,
    job: &str,
    assessed: &Value,
    points: &[&str],
) -> Outcome<usize> {
    let (pdf, file) = (world.folder.join("report.pdf"), world.folder.join("report.json"));
    world.server.run(&["report", job, "--out", &pdf.display().to_string()])?;
    let taken = Command::new("pdfdetach")
        .args(["-savefile", "report.json", "-o"])
        .args([&file, &pdf])
        .output()
        .map_err(|error| format!("pdfdetach: {error}"))?;
    let report = std::fs::read_to_string(&file).map_err(|error| {
        format!("{}: {error}: {}", file.display(), String::from_utf8_lossy(&taken.stderr))
    })?;
    let report: Value =
        serde_json::from_str(&report).map_err(|error| format!("report.json: {error}"))?;

    // The report calls points and readings by their titles: the assessment says which is which, and in the same order.
    let printed: Vec<Value> =
        list(&report, "systems").iter().flat_map(|system| list(system, "readings")).collect();
    let mut compared = 0;
    for one in list(assessed, "values") {
        let point = text(&one, "point");
        if !points.contains(&point.as_str()) {
            continue;
        }
        let computed = !one["formula"].is_null();
        let key = (
            point,
            what(
                &text(&one, if computed { "title" } else { "name" }),
                &text(&one, "position"),
                computed,
            ),
        );
        let shown = &phone.values[&key];
        let expected = if one["value"].is_null() { "not computed" } else { &shown.value };
        let found = printed.iter().any(|it| {
            let unit = text(it, "unit");
            let with =
                |number: String| if unit.is_empty() { number } else { format!("{number} {unit}") };
            let value = with(text(it, "value"));
            let value = match text(it, "uncertainty") {
                none if none.is_empty() => value,
                uncertainty => format!("{value} ± {}", with(uncertainty)),
            };
            let verdicts: Vec<String> =
                list(it, "judged").iter().map(|it| text(it, "words")).collect();
            it["name"] == one["title"]
                && text(it, "position") == plain(&text(&one, "position"))
                && value == expected
                && verdicts == shown.verdicts
        });
        if !found {
            return Err(format!("{key:?} is shown as {shown:?}, and the report has no such value"));
        }
        compared += 1;
    }
    let findings: Vec<Value> = (1..)
        .zip(list(&report, "findings"))
        .map(|(number, it)| json!({"number": number, "title": it["title"], "statement": it["statement"]}))
        .collect();
    same("findings, in the report", &phone.findings, &findings)?;
    let uses: Vec<Value> = list(&report, "uses")
        .iter()
        .map(|it| json!({"use": it["kind"], "state": plain(&text(it, "state"))}))
        .collect();
    same("uses, in the report", &phone.uses, &uses)?;
    Ok(compared)
}

/// Says where two lists part.
fn same<T: PartialEq + std::fmt::Debug>(name: &str, phone: &T, other: &T) -> Outcome<()> {
    if phone == other {
        return Ok(());
    }
    Err(format!("{name}: the phone has {phone:?}\n  and beside it stands {other:?}"))
}

/// What a value is called on the phone's screen of its point.
fn what(name: &str, position: &str, computed: bool) -> String {
    match plain(position).as_str() {
        "" => name.to_owned(),
        place if computed => format!("{name}, {place}"),
        place => format!("{name} @ {place}"),
    }
}

fn plain(words: &str) -> String {
    words.replace('_', " ")
}

fn list(of: &Value, key: &str) -> Vec<Value> {
    of[key].as_array().cloned().unwrap_or_default()
}

fn texts(list: &Value) -> Vec<String> {
    list.as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
}

fn text(of: &Value, key: &str) -> String {
    of[key].as_str().unwrap_or_default().to_owned()
}

/// The values that a point shows, each place of a reading tapped in turn.
const VALUES: &str = "return (async () => {
    const drawn = () => new Promise(done => requestAnimationFrame(() => setTimeout(done, 0)));
    const words = it => it.innerText.trim();
    const verdicts = box => [...box.querySelectorAll('.judged .verdict strong')].map(words);
    const shown = [];
    for (const section of document.querySelectorAll('section.reading')) {
      const name = section.querySelector('h3').id.slice('reading-'.length);
      const pads = [...section.querySelectorAll('.pads .pad:not(.more)')];
      for (const pad of pads.length ? pads.filter(it => !it.querySelector('.pad-value.quiet')) : [null]) {
        if (pad) { pad.click(); await drawn(); }
        const stored = section.querySelector('.stored');
        if (!stored) continue;
        const place = pad ? words(pad.querySelector('.pad-label')) : '';
        shown.push({what: place ? `${name} @ ${place}` : name, value: words(stored.querySelector('.figure')), verdicts: verdicts(stored)});
      }
    }
    for (const box of document.querySelectorAll('.valued')) {
      shown.push({what: words(box.querySelector('.valued-title')), value: words(box.querySelector('.figure')), verdicts: verdicts(box)});
    }
    return shown;
  })()";
