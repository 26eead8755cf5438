//! From plan, inspection and assessment to the content of the pages: chooses words, decides nothing.

mod again;
mod evidence;
mod judged;
mod pictures;
mod places;
mod readings;
mod released;
mod visit;
pub(crate) mod words;

use findings::{Agreed, Assessment};
use inspection::Inspection;
use plan::Plan;
use quantity::UnitSystem;

pub use released::{Correction, Issue};

use crate::content::{
    CalibrationState, Clause, Content, Fact, Form, Instrument, Issued, Job, MadeBy, Paper,
    Signature, Trail, Unit,
};

/// How the report is to look.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// Size of the pages.
    pub paper: Paper,
    /// Units of values, and the usual way of writing a day.
    pub units: UnitSystem,
    /// How much of it.
    pub form: Form,
}

/// What a report states of the record itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Release {
    /// When it was released, coordinated universal time; taken from the record, never from a clock, so that the same
    /// record gives the same file.
    pub issued: Issued,
    /// Digest of the record's history.
    pub trail: Trail,
    /// Program and version.
    pub program: String,
    /// When and how it was signed electronically; empty for a line to sign on.
    pub signed: String,
    /// Which release it is, and what it corrects; none for the job as it stands.
    pub issue: Option<Issue>,
    /// SHA-256 of the texts laid over the plan's own: another language's, or a firm's; empty where there are none.
    pub texts: String,
    /// The photo for the front page, by its id; none leaves the choice to the report.
    pub front_photo: Option<String>,
}

/// Everything that the pages show.
#[must_use]
pub fn compose(
    plan: &Plan,
    inspection: &Inspection,
    assessment: &Assessment,
    release: &Release,
    options: Options,
) -> Content {
    let source = Source { plan, inspection, assessment, units: options.units };
    let mut unused: Vec<String> =
        assessment.problems.iter().map(|problem| source.say(problem)).collect();
    let photos = evidence::photos(source, &mut unused);
    let readings = readings::readings(source, &photos);
    let not_examined = judged::not_examined(source);
    let uses = judged::uses(source, &not_examined);
    let findings = judged::findings(source, &photos, &readings);
    let again = again::again(source, &photos);
    let summary = judged::summary(&plan.words, &uses, &findings, &not_examined.list);
    Content {
        paper: options.paper,
        form: options.form,
        language: if plan.language == "en" { String::new() } else { plan.language.clone() },
        words: plan.words.clone(),
        drawn: plan.drawn.clone(),
        ident: format!("{} {}", inspection.job.number, release.trail.heads.join(" ")),
        issued: release.issued,
        issued_words: words::issued(&plan.words, release.issued, options.units),
        released: release
            .issue
            .as_ref()
            .map(|issue| released::released(&plan.words, issue, options.units)),
        title: judged::title(source),
        job: job(source),
        unit: unit(source, evidence::front_photo(source, &photos, release.front_photo.as_deref())),
        // What became of the earlier findings is what a re-inspection is for: it comes first.
        summary: words::joined(
            [again.as_ref().map_or("", |again| again.sentence.as_str()), summary.as_str()],
            " ",
        ),
        cautions: judged::cautions(&plan.words, &uses, &findings),
        stop_work: judged::stop_work(assessment),
        uses,
        again,
        findings,
        systems: readings.systems,
        pictures: pictures::pictures(source),
        not_examined: not_examined.list,
        examined: judged::examined(source),
        visit: visit::kept(source),
        photos: photos.list,
        instruments: instruments(source),
        sources: readings.sources,
        terms: terms(source),
        trail: Trail { span: source.say(&release.trail.span), ..release.trail.clone() },
        unused,
        made_by: MadeBy {
            program: release.program.clone(),
            data_revision: plan.data_revision.clone(),
            plan: plan.title.clone(),
            texts: release.texts.clone(),
        },
        signature: signature(source, release),
    }
}

/// What the content is composed from.
#[derive(Clone, Copy)]
pub(crate) struct Source<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) inspection: &'a Inspection,
    pub(crate) assessment: &'a Assessment,
    pub(crate) units: UnitSystem,
}

impl Source<'_> {
    /// A phrase or sentence in the report's language.
    pub(crate) fn say(&self, english: &str) -> String {
        self.plan.words.say(english)
    }

    /// A phrase with gaps in the report's language.
    pub(crate) fn say_with(&self, english: &str, with: &[(&str, &str)]) -> String {
        self.plan.words.say_with(english, with)
    }

    /// A day as it is written in the report's language.
    pub(crate) fn day(&self, day: jiff::civil::Date) -> String {
        words::day(&self.plan.words, day, self.units)
    }

    /// What people call the stop of a point; empty where the plan does not know the point.
    pub(crate) fn stop_title(&self, point: &str) -> String {
        let stop = self.plan.point(point).and_then(|point| self.plan.stop(&point.stop));
        stop.map_or_else(String::new, |stop| stop.title.clone())
    }

    /// What people call a point; its id where the plan does not know it.
    pub(crate) fn point_title(&self, point: &str) -> String {
        self.plan.point(point).map_or_else(|| words::plain(point), |point| point.title.clone())
    }
}

fn facts(source: Source<'_>, pairs: impl IntoIterator<Item = (&'static str, String)>) -> Vec<Fact> {
    pairs
        .into_iter()
        .filter(|(_, value)| !value.trim().is_empty())
        .map(|(name, value)| Fact { name: source.say(name), value })
        .collect()
}

fn job(source: Source<'_>) -> Job {
    let job = &source.inspection.job;
    let inspector = [job.inspector.as_str(), job.credentials.as_str()];
    Job {
        number: job.number.clone(),
        client: job.client.name.clone(),
        site: job.site.address.clone(),
        visits: job.visits.iter().map(|day| source.day(*day)).collect(),
        weather: job.weather.clone(),
        inspector: words::joined(inspector, ", "),
        particulars: facts(
            source,
            [
                ("Client's role", job.client.role.clone()),
                ("Purpose", words::sentence_case(&source.say(&words::plain(&job.purpose)))),
                ("What was agreed", job.engagement.scope.clone()),
                ("Limits agreed", job.engagement.limits.clone()),
                ("Consent", consent(source)),
            ],
        ),
    }
}

/// How the client agreed: in words, and as it was given.
fn consent(source: Source<'_>) -> String {
    let engagement = &source.inspection.job.engagement;
    let given = |id: &inspection::ConsentId| {
        engagement.consents.get(id).map_or_else(String::new, |consent| {
            let signed = crate::letter::signed_by(&source.plan.words, consent);
            let how = signed.words.first().cloned().unwrap_or_default();
            format!("{}. {how}.", signed.name)
        })
    };
    let (given, changed) = match findings::agreed(&source.inspection.job) {
        Agreed::Holds(id) => (given(&id), String::new()),
        Agreed::Otherwise(id) => (
            given(&id),
            source.say("The agreement was changed afterwards, and has no new consent."),
        ),
        Agreed::Nothing | Agreed::InWords | Agreed::Waiting => (String::new(), String::new()),
    };
    words::joined([engagement.consent.as_str(), given.as_str(), changed.as_str()], "\n")
}

fn unit(source: Source<'_>, photo: Option<usize>) -> Unit {
    let dwelling = &source.inspection.dwelling;
    let outline = &dwelling.outline;
    let size = [outline.length.as_str(), outline.width.as_str()];
    let year = dwelling.model_year.map_or_else(String::new, |year| year.to_string());
    let fitted: Vec<&str> = dwelling
        .equipment
        .iter()
        .map(|word| {
            let named = source.plan.equipment.iter().find(|named| named.id == *word);
            named.map_or(word.as_str(), |named| named.title.as_str())
        })
        .collect();
    let mut particulars: Vec<Fact> = dwelling
        .ratings
        .iter()
        .map(|(name, value)| Fact {
            name: source.say(&words::sentence_case(&words::plain(name))),
            value: value.clone(),
        })
        .collect();
    particulars.extend(facts(source, [("Fitted", fitted.join(", "))]));
    let maker_and_model = words::joined([dwelling.maker.as_str(), dwelling.model.as_str()], " ");
    Unit {
        headline: judged::headline(source),
        facts: facts(
            source,
            [
                ("Kind", source.say(dwelling.kind.title())),
                ("Maker and model", maker_and_model),
                ("Model year", year),
                (
                    "Built",
                    dwelling
                        .built
                        .map_or_else(String::new, |day| words::month(&source.plan.words, day)),
                ),
                ("Identification no.", dwelling.identification.clone()),
                ("Length, width", words::joined(size, ", ")),
                (
                    "Axles",
                    if outline.axles > 0 { outline.axles.to_string() } else { String::new() },
                ),
            ],
        ),
        particulars,
        photo,
        outline: places::outline(source),
    }
}

fn instruments(source: Source<'_>) -> Vec<Instrument> {
    let visit = source.inspection.job.visits.last().copied();
    source
        .inspection
        .instruments
        .values()
        .map(|instrument| {
            let day = |day: Option<jiff::civil::Date>| {
                day.map_or_else(String::new, |day| source.day(day))
            };
            Instrument {
                name: words::joined([instrument.kind.as_str(), instrument.name.as_str()], ", "),
                serial: instrument.serial.clone(),
                accuracy: words::accuracy(&source.plan.words, instrument),
                calibrated: day(instrument.calibrated),
                due: day(instrument.calibration_due),
                calibration: match (instrument.calibration_due, visit) {
                    (Some(due), Some(visit)) if due < visit => CalibrationState::Overdue,
                    (Some(_), Some(_)) => CalibrationState::InDate,
                    (None, _) | (_, None) => CalibrationState::Unknown,
                },
            }
        })
        .collect()
}

fn terms(source: Source<'_>) -> Vec<Clause> {
    let clause = |text: &String| Clause { title: String::new(), text: text.clone() };
    source.plan.terms.iter().map(clause).collect()
}

fn signature(source: Source<'_>, release: &Release) -> Signature {
    let job = &source.inspection.job;
    Signature {
        name: job.inspector.clone(),
        credentials: job.credentials.clone(),
        statement: source.say(
            "I examined the unit named in this report on the days stated, as far as the report says, and report what I found.",
        ),
        signed: release.signed.clone(),
    }
}
