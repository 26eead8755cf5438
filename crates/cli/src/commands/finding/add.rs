//! `nearside finding JOB add`: a finding of one's own, begun with what its point's own defects say.

use clap::Args;
use findings::{Defaults, defaults_at};
use inspection::{Inspection, PointId, TimeToAct, Use};

use super::change::sentence;
use crate::commands::{mark, near_hint, point_of};
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::sheet::{FilledFinding, apply};
use crate::today;

/// Adds a finding that no point's list has
///
/// Uses, when and who that are left out are those of most defects of its point.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside finding 2026-001 add --title \"Wasps in the vent\" --statement \"…\" --stops gas --who owner\n  nearside finding 2026-001 add --point furnace --title \"Soot behind the furnace\" --sentence gas-off"
)]
pub(super) struct AddArguments {
    /// The point it belongs to
    #[arg(long)]
    point: Option<String>,
    /// Short heading
    #[arg(long)]
    title: String,
    /// The statement for the report
    #[arg(long, default_value = "")]
    statement: String,
    #[command(flatten)]
    weight: WeightArguments,
    /// Whom to call
    #[arg(long)]
    who: Option<String>,
    /// A photo that shows it, by its file's name or the beginning of its SHA-256
    #[arg(long, value_name = "PHOTO")]
    photo: Vec<String>,
}

// A sentence of one's own, what the finding stops and how soon: the same for a new finding and one that is there. Not the
// documentation of the type, which would become that of the command.
#[derive(Args, Debug)]
pub(super) struct WeightArguments {
    /// A stock sentence of your own behind the statement, by its name
    #[arg(long, value_name = "NAME")]
    pub(super) sentence: Option<String>,
    /// What a gap of the sentence is filled with: WORD=TEXT
    #[arg(long, value_name = "WORD=TEXT", requires = "sentence")]
    pub(super) with: Vec<String>,
    /// Uses that it stops, separated by commas: tow, power, gas, water, stay; `none` for none
    #[arg(long, value_delimiter = ',')]
    pub(super) stops: Option<Vec<String>>,
    /// How soon to act: before use, soon, in time
    #[arg(long)]
    pub(super) when: Option<String>,
}

/// The heading, and what was done.
pub(super) fn run(
    place: &Place,
    job: &mut OpenJob,
    inspection: &Inspection,
    add: &AddArguments,
) -> Result<(String, &'static str), Failure> {
    let mut finding = own(job, inspection, add)?;
    if let Some(name) = &add.weight.sentence {
        let text = sentence(place, job, name, &add.weight.with, None, finding.point.as_ref())?;
        finding.statement = [finding.statement.as_str(), &text].join(" ").trim().to_owned();
    }
    let photos: Result<Vec<_>, Failure> =
        add.photo.iter().map(|word| Ok(mark::find(inspection, word)?.0.clone())).collect();
    let photos = photos?;
    let made = job.edit(|record, author| {
        let inspection = record.inspection().0;
        apply::finding_edit(&finding, &photos, &inspection, record, author, today::now())
            .into_iter()
            .collect()
    })?;
    Ok((finding.title, if made { "added" } else { "was there already" }))
}

fn own(
    job: &OpenJob,
    inspection: &Inspection,
    add: &AddArguments,
) -> Result<FilledFinding, Failure> {
    let point = match &add.point {
        None => None,
        Some(id) => Some(point_of(&job.plan, &inspection.dwelling, id)?),
    };
    if add.title.trim().is_empty() {
        return Err(Failure::input("the finding has no title").hint("write --title \"…\""));
    }
    let Defaults { stops, when, who } = point.map_or(
        Defaults { stops: Vec::new(), when: TimeToAct::Soon, who: String::new() },
        defaults_at,
    );
    Ok(FilledFinding {
        id: None,
        point: point.map(|point| PointId::from(point.id.as_str())),
        title: add.title.trim().to_owned(),
        statement: add.statement.trim().to_owned(),
        stops: add.weight.stops.as_deref().map_or(Ok(stops), uses)?,
        when: add.weight.when.as_deref().map_or(Ok(when), time_to_act)?,
        who: add.who.as_deref().map_or(who, |who| who.trim().to_owned()),
        photos: Vec::new(),
    })
}

/// Uses by their words; `none` is none.
pub(super) fn uses(words: &[String]) -> Result<Vec<Use>, Failure> {
    let mut stops = Vec::new();
    for word in words.iter().map(|word| word.trim()).filter(|word| !["", "none"].contains(word)) {
        let one = Use::from_word(word).ok_or_else(|| {
            Failure::input(format!("no use is called `{word}`"))
                .hint(near_hint(word, Use::ALL.map(Use::word)))
        })?;
        if !stops.contains(&one) {
            stops.push(one);
        }
    }
    Ok(stops)
}

/// How soon to act, by its words.
pub(super) fn time_to_act(words: &str) -> Result<TimeToAct, Failure> {
    TimeToAct::from_words(words.trim()).ok_or_else(|| {
        Failure::input(format!("`{words}` is no time to act"))
            .hint("write \"before use\", \"soon\" or \"in time\"")
    })
}
