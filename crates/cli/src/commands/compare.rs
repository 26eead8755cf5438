//! `nearside compare`: what differs between two states of a job.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;
use std::path::Path;

use bag::{Standing, State, place};
use clap::Args;
use serde_json::{Map, Value, json};

use crate::bags::{self, releases};
use crate::commands::assess;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::json;
use crate::open_job::{self, OpenJob};

/// Shows what differs between two releases: uses, findings, values and verdicts, what was not examined, what is missing,
/// photos, plan and program.
///
/// Each side is a bag (a folder or a zip file), `JOB@2` for a release in the data folder, or `JOB` for the job as it stands
/// now. A bag in which anything differs from what was packed is refused.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside compare 2026-001@1 2026-001@2\n  nearside compare 2026-001@1 2026-001\n  \
                        nearside compare 2026-001-release-1 2026-001-release-2.zip --json"
)]
pub(crate) struct CompareArguments {
    /// The earlier state
    earlier: String,
    /// The later state
    later: String,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// One side, as JSON files say it.
struct Side {
    name: String,
    assessment: Value,
    photos: BTreeMap<String, String>,
    state: Option<State>,
    heads: Vec<String>,
}

/// One line of a comparison.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Difference {
    /// `uses`, `findings`, `photos` …
    pub(crate) what: &'static str,
    /// Which one.
    pub(crate) key: String,
    /// As it was; none where it is new.
    pub(crate) before: Option<String>,
    /// As it is; none where it has gone.
    pub(crate) after: Option<String>,
}

pub(crate) fn run(place: &Place, arguments: &CompareArguments) -> Result<(), Failure> {
    let (earlier, later) = (side(place, &arguments.earlier)?, side(place, &arguments.later)?);
    let differences = differences(&earlier, &later);
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let lines: Vec<Value> = differences
            .iter()
            .map(|it| json!({"what": it.what, "key": it.key, "before": it.before, "after": it.after}))
            .collect();
        let object = json!({
            "earlier": earlier.name,
            "later": later.name,
            "same_record": earlier.heads == later.heads,
            "differences": lines,
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "{} against {}", earlier.name, later.name)?;
    if let Some(because) = because(&later) {
        writeln!(out, "because: {because}")?;
    }
    if differences.is_empty() {
        let record =
            if earlier.heads == later.heads { "the same record" } else { "another record" };
        writeln!(out, "nothing differs that a reader of the report would see ({record})")?;
    }
    let mut heading = "";
    for difference in &differences {
        if difference.what != heading {
            heading = difference.what;
            writeln!(out, "\n{heading}")?;
        }
        match (&difference.before, &difference.after) {
            (None, Some(after)) => writeln!(out, "  + {}: {after}", difference.key)?,
            (Some(before), None) => writeln!(out, "  - {}: {before}", difference.key)?,
            (Some(before), Some(after)) => {
                writeln!(out, "  ~ {}", difference.key)?;
                writeln!(out, "      was {before}")?;
                writeln!(out, "      is  {after}")?;
            }
            (None, None) => {}
        }
    }
    Ok(())
}

fn because(later: &Side) -> Option<&str> {
    let release = later.state.as_ref()?.release.as_ref()?;
    release.corrects.as_ref().map(|it| it.because.as_str())
}

/// What has changed from a release of a job to a later one, or to the job as it stands now; and whether both are of the same
/// record.
pub(crate) fn since(
    place: &Place,
    job: &str,
    release: u32,
    until: Option<u32>,
) -> Result<(bool, Vec<Difference>), Failure> {
    let earlier = side_of_release(place, job, release)?;
    let later = match until {
        Some(until) => side_of_release(place, job, until)?,
        None => side_of_job(place, job)?,
    };
    Ok((earlier.heads == later.heads, differences(&earlier, &later)))
}

fn side(place: &Place, words: &str) -> Result<Side, Failure> {
    if Path::new(words).exists() {
        return side_of_bag(words);
    }
    let Some((number, release)) = words.rsplit_once('@') else { return side_of_job(place, words) };
    let release: u32 = release.parse().map_err(|_| {
        Failure::input(format!("`{release}` is no release's number; write it like {number}@1"))
    })?;
    side_of_release(place, number, release)
}

fn side_of_release(place: &Place, number: &str, release: u32) -> Result<Side, Failure> {
    let store = place.store()?;
    let id = open_job::job_id(number)?;
    let known = releases::list(&store, &id)?;
    let kept = known
        .iter()
        .find(|one| one.number == release)
        .ok_or_else(|| Failure::input(format!("job {number} has no release {release}")))?;
    let bag = releases::bag(&store, kept)?;
    let state = releases::state(&store, &bag)?;
    let assessment = parsed(&releases::content(&store, &bag, place::ASSESSMENT)?)?;
    let record = parsed(&releases::content(&store, &bag, place::RECORD_JSON)?)?;
    Ok(Side {
        name: format!("{number}@{release}"),
        photos: photos(&record),
        heads: state.record_heads.clone(),
        assessment,
        state: Some(state),
    })
}

fn side_of_bag(words: &str) -> Result<Side, Failure> {
    let mut opened = bags::open(Path::new(words))?;
    if opened.verification.standing() == Standing::Differs {
        return Err(Failure::differs(format!("{words} is not what was packed"))
            .hint("`nearside verify` names what differs"));
    }
    let state = opened.verification.state.clone();
    let assessment = parsed(&opened.bytes(place::ASSESSMENT)?)?;
    let record = parsed(&opened.bytes(place::RECORD_JSON)?)?;
    Ok(Side {
        name: words.to_owned(),
        photos: photos(&record),
        heads: state.as_ref().map(|state| state.record_heads.clone()).unwrap_or_default(),
        assessment,
        state,
    })
}

fn side_of_job(place: &Place, words: &str) -> Result<Side, Failure> {
    let job = OpenJob::open(place, words)?;
    let inspection = job.inspection();
    let assessment = json::assessment(&job.plan, &inspection, &assess::assessed(&job, &inspection));
    let mut heads: Vec<String> = job.record.heads().iter().map(ToString::to_string).collect();
    heads.sort();
    Ok(Side {
        name: format!("{words} as it stands now"),
        photos: photos(&bag::record_json(&inspection, &[])),
        assessment,
        state: None,
        heads,
    })
}

fn parsed(bytes: &[u8]) -> Result<Value, Failure> {
    serde_json::from_slice(bytes)
        .map_err(|error| Failure::failed(format!("a file of the bag is no JSON: {error}")))
}

fn photos(record: &Value) -> BTreeMap<String, String> {
    let listed = record["photos"].as_array().into_iter().flatten();
    listed
        .map(|photo| {
            let caption = format!("{} {}", text(&photo["point"]), text(&photo["caption"]));
            (
                text(&photo["file_name"])
                    + " "
                    + &text(&photo["sha256"]).chars().take(12).collect::<String>(),
                caption,
            )
        })
        .collect()
}

/// A value as people read it: words bare, nothing as nothing, the rest as JSON writes it.
fn text(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(words) => words.clone(),
        other => other.to_string(),
    }
}

/// The entries of a list by their key, each in words.
fn entries(
    assessment: &Value,
    list: &str,
    key: impl Fn(&Map<String, Value>) -> String,
    words: impl Fn(&Map<String, Value>) -> String,
) -> BTreeMap<String, String> {
    let listed = assessment[list].as_array().into_iter().flatten();
    listed.filter_map(Value::as_object).map(|entry| (key(entry), words(entry))).collect()
}

fn field(entry: &Map<String, Value>, name: &str) -> String {
    entry.get(name).map(text).unwrap_or_default()
}

fn fields(entry: &Map<String, Value>, names: &[&str]) -> String {
    let words = names.iter().map(|name| field(entry, name)).filter(|words| !words.is_empty());
    words.collect::<Vec<_>>().join("; ")
}

fn value_words(entry: &Map<String, Value>) -> String {
    let judged = entry.get("judgements").and_then(Value::as_array).into_iter().flatten();
    let verdicts: Vec<String> =
        judged.map(|it| format!("{} ({})", text(&it["verdict"]), text(&it["limit"]))).collect();
    let number = match entry.get("value").and_then(Value::as_f64) {
        // The last digits of a converted number are noise that nobody sees in the report.
        Some(number) => quantity::write_number(number),
        None => field(entry, "value"),
    };
    format!("{number} {}; {}", field(entry, "unit"), verdicts.join(", "))
}

fn differences(earlier: &Side, later: &Side) -> Vec<Difference> {
    let mut all = Vec::new();
    let mut both = |what, of: &dyn Fn(&Side) -> BTreeMap<String, String>| {
        between(what, &of(earlier), &of(later), &mut all);
    };
    both("uses", &|side| {
        entries(&side.assessment, "uses", |it| field(it, "use"), |it| field(it, "state"))
    });
    both("findings", &|side| {
        let shown =
            ["title", "position", "statement", "when", "who", "stops", "stop_work", "ground"];
        entries(&side.assessment, "findings", |it| field(it, "key"), |it| fields(it, &shown))
    });
    both("values and verdicts", &|side| {
        let key = |it: &Map<String, Value>| {
            format!("{} {} {}", field(it, "point"), field(it, "name"), field(it, "position"))
                .trim()
                .to_owned()
        };
        entries(&side.assessment, "values", key, value_words)
    });
    both("not examined", &|side| {
        entries(&side.assessment, "not_examined", |it| field(it, "point"), |it| field(it, "reason"))
    });
    both("missing or open", &|side| {
        entries(&side.assessment, "missing", |it| field(it, "sentence"), |it| field(it, "what"))
    });
    both("unit", &|side| {
        let unit = side.assessment["unit"].as_object();
        unit.into_iter().flatten().map(|(name, value)| (name.clone(), text(value))).collect()
    });
    both("photos", &|side| side.photos.clone());
    // A job as it stands has accepted nothing yet: that says nothing of what has changed.
    let released = |side: &Side| side.state.as_ref().is_some_and(|state| state.release.is_some());
    if released(earlier) && released(later) {
        both("accepted", &|side| {
            let release = side.state.as_ref().and_then(|state| state.release.as_ref());
            let accepted = release.map(|release| release.accepted.as_slice()).unwrap_or_default();
            accepted.iter().map(|it| (it.matter.clone(), it.words.clone())).collect()
        });
    }
    both("program and data", &|side| {
        ["version", "data_revision"]
            .map(|name| (name.to_owned(), text(&side.assessment[name])))
            .into()
    });
    all
}

fn between(
    what: &'static str,
    earlier: &BTreeMap<String, String>,
    later: &BTreeMap<String, String>,
    all: &mut Vec<Difference>,
) {
    let keys: BTreeSet<&String> = earlier.keys().chain(later.keys()).collect();
    for key in keys {
        let (before, after) = (earlier.get(key), later.get(key));
        if before != after {
            let (before, after) = (before.cloned(), after.cloned());
            all.push(Difference { what, key: key.clone(), before, after });
        }
    }
}
