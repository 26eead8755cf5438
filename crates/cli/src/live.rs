//! Parts of a job's report for the desk's screen: the job stays open between two askings, so that an edit is on the page at once.

use std::sync::{Arc, Mutex, PoisonError};

use findings::Assessment;
use inspection::{FindingId, FindingState, Inspection, PhotoId, RecordedFinding, TimeToAct, Use};
use plan::Plan;
use quantity::UnitSystem;
use record::Record;
use report::content::{Content, Form, Paper};
use report::{Options, Part, Release};
use server::{LivePages, LivePart, PagesRefused, PagesWanted};
use store::Store;

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job;
use crate::report_pages::{handed_out, release};
use crate::speaking::{Speaking, Spoken};

/// So many jobs stay open.
const OPEN: usize = 3;
/// Stands where a heading will.
const NO_HEADING: &str = "…";
/// The key of a finding that is being written and has none yet.
const NEW: &str = "new";

/// What lays out parts of the jobs in a data folder.
pub(crate) fn live(place: Place) -> server::Live {
    let open: Mutex<Vec<Warm>> = Mutex::default();
    server::Live(Arc::new(move |job, wanted| {
        // What a panic of an earlier asking left is put away, not used.
        let mut open = open.lock().unwrap_or_else(PoisonError::into_inner);
        let mut warm = match open.iter().position(|one| one.id == job) {
            Some(at) => open.remove(at),
            None => Warm::open(&place, job)?,
        };
        let pages = warm.pages(&place, wanted);
        open.insert(0, warm);
        open.truncate(OPEN);
        pages
    }))
}

/// A job that stays open.
struct Warm {
    id: String,
    store: Store,
    record: Record,
    plan: Plan,
    inspection: Inspection,
    release: Release,
    /// How many changes of the log were read.
    read_to: u64,
    /// The plan as it speaks the language that was asked for last.
    spoken: Option<(String, Spoken)>,
}

impl Warm {
    fn open(place: &Place, job: &str) -> Result<Self, Failure> {
        let store = place.store()?;
        let id = open_job::known_job(&store, job)?;
        let (record, read_to) = open_job::load(&store, &id)?;
        let plan = open_job::plan_of(&record)?;
        let (inspection, _) = record.inspection();
        let release = release(&record.trail());
        Ok(Self {
            id: job.to_owned(),
            store,
            record,
            plan,
            inspection,
            release,
            read_to,
            spoken: None,
        })
    }

    /// Takes in what was added since.
    fn catch_up(&mut self) -> Result<(), Failure> {
        let id = open_job::job_id(&self.id)?;
        let changes = self.store.changes(&id, self.read_to, usize::MAX)?;
        for change in &changes {
            self.record.apply(&change.bytes)?;
            self.read_to = change.seq;
        }
        if !changes.is_empty() {
            self.inspection = self.record.inspection().0;
            self.release = release(&self.record.trail());
        }
        Ok(())
    }

    fn pages(&mut self, place: &Place, wanted: &PagesWanted) -> Result<LivePages, PagesRefused> {
        self.catch_up()?;
        let language = if wanted.language.is_empty() { "en" } else { &wanted.language };
        if self.spoken.as_ref().is_none_or(|(known, _)| known != language) {
            let speaking = Speaking::in_language(language);
            let spoken = speaking.of(place, &self.plan)?;
            self.spoken = Some((language.to_owned(), spoken));
        }
        let Some((_, spoken)) = &self.spoken else { return Err(no_part(wanted)) };
        let options = Options {
            units: if wanted.units == "si" { UnitSystem::Si } else { UnitSystem::Us },
            paper: if wanted.paper == "a4" { Paper::A4 } else { Paper::Letter },
            form: Form::Full,
        };
        let typed;
        let inspection = if wanted.finding.is_some() || wanted.photo.is_some() {
            typed = with_typed(&self.plan, &self.inspection, wanted, options.units)?;
            &typed
        } else {
            &self.inspection
        };
        let assessment = findings::assess_in(&spoken.plan, inspection, options.units);
        let texts = spoken.texts.clone().unwrap_or_default();
        let release = Release { texts, ..self.release.clone() };
        let content = report::compose(&spoken.plan, inspection, &assessment, &release, options);
        let parts = parts(&content, &assessment);
        let part = part(wanted, &content, &assessment).ok_or_else(|| no_part(wanted))?;
        // A thumbnail is enough for a screen, and travels inside the page: what is drawn from a page fetches nothing.
        let photo = |id: &str| {
            let photo = inspection.photos.get(&PhotoId::from(id))?;
            let of_screen = if photo.thumbnail.is_empty() { &photo.copy } else { &photo.thumbnail };
            handed_out(&self.store, photo, of_screen)
        };
        let address =
            |id: &str| photo(id).map_or_else(String::new, |jpeg| report::as_address(&jpeg));
        let laid_out = report::live(&content, part, &photo, &address)
            .map_err(|error| PagesRefused::Failed(error.to_string()))?;
        let title = parts
            .iter()
            .find(|(known, _)| *known == part)
            .map_or_else(String::new, |(_, one)| one.title.clone());
        Ok(LivePages {
            head: self.read_to,
            title,
            pages: laid_out.pages,
            remarks: laid_out.remarks,
            parts: parts.into_iter().map(|(_, part)| part).collect(),
        })
    }
}

impl From<Failure> for PagesRefused {
    fn from(failure: Failure) -> Self {
        Self::Failed(failure.message().to_owned())
    }
}

fn no_part(wanted: &PagesWanted) -> PagesRefused {
    PagesRefused::NoSuchPart(format!(
        "the report has no part `{}` `{}` now",
        wanted.part, wanted.about
    ))
}

/// The record's facts with what is typed and not entered yet in their place.
fn with_typed(
    plan: &Plan,
    inspection: &Inspection,
    wanted: &PagesWanted,
    units: UnitSystem,
) -> Result<Inspection, PagesRefused> {
    let mut typed = inspection.clone();
    if let Some(photo) = &wanted.photo
        && let Some(entry) = typed.photos.get_mut(&PhotoId::from(photo.id.as_str()))
    {
        entry.caption.clone_from(&photo.caption);
    }
    let Some(finding) = &wanted.finding else { return Ok(typed) };
    let stops = finding.stops.as_deref().map(uses_typed).transpose()?;
    let when = finding.when.as_deref().map(time_to_act_typed).transpose()?;
    // A heading that is not written yet leaves its place empty on the page.
    let title = if finding.title.trim().is_empty() { NO_HEADING } else { &finding.title };
    let known = typed.findings.iter().find(|(id, known)| {
        known.draft.as_deref() == Some(finding.key.as_str()) || id.as_str() == finding.key
    });
    let id = known.map(|(id, _)| id.clone());
    if let Some(entry) = id.and_then(|id| typed.findings.get_mut(&id)) {
        title.clone_into(&mut entry.title);
        entry.statement.clone_from(&finding.statement);
        entry.who.clone_from(&finding.who);
        entry.stops = stops.unwrap_or_else(|| entry.stops.clone());
        entry.when = when.unwrap_or(entry.when);
        return Ok(typed);
    }
    let assessment = findings::assess_in(plan, inspection, units);
    let draft = assessment.findings.iter().find(|one| one.key == finding.key);
    let of_new = plan.point(&finding.point).map(|point| point.id.as_str().into());
    let entry = RecordedFinding {
        point: draft.map_or(of_new, |draft| draft.point.clone()),
        draft: draft.map(|draft| draft.key.clone()),
        title: title.to_owned(),
        statement: finding.statement.clone(),
        stops: stops.unwrap_or_else(|| draft.map(|draft| draft.stops.clone()).unwrap_or_default()),
        when: when.unwrap_or_else(|| draft.map_or(TimeToAct::Soon, |draft| draft.when)),
        who: finding.who.clone(),
        state: FindingState::Confirmed,
        ..RecordedFinding::blank("", None)
    };
    typed.findings.insert(FindingId::from(NEW), entry);
    Ok(typed)
}

fn uses_typed(words: &[String]) -> Result<Vec<Use>, PagesRefused> {
    let known = words.iter().map(|word| {
        Use::from_word(word)
            .ok_or_else(|| PagesRefused::Failed(format!("no use is called `{word}`")))
    });
    known.collect()
}

fn time_to_act_typed(words: &str) -> Result<TimeToAct, PagesRefused> {
    TimeToAct::from_words(words)
        .ok_or_else(|| PagesRefused::Failed(format!("`{words}` is no time to act")))
}

/// The part that is wanted, if the report has it.
fn part(wanted: &PagesWanted, content: &Content, assessment: &Assessment) -> Option<Part> {
    let number = || wanted.about.parse::<usize>().ok();
    let finding = |key: &str| {
        let key = if key.is_empty() { NEW } else { key };
        assessment.findings.iter().find(|one| one.key == key).map(|one| Part::Finding(one.number))
    };
    Some(match wanted.part.as_str() {
        "front" => Part::Front,
        "overview" => Part::Overview,
        "finding" => finding(&wanted.about)?,
        // A photo stands beside the first finding that names it, else among the further ones.
        "photo" => {
            let at = content.photos.iter().position(|photo| photo.id == wanted.about)? + 1;
            let shown = content.findings.iter().position(|one| one.photos.contains(&at));
            shown.map_or(Part::FurtherPhotos, |finding| Part::Finding(finding + 1))
        }
        "further_photos" => Part::FurtherPhotos,
        "readings" => {
            number().filter(|at| (1..=content.systems.len()).contains(at)).map(Part::Readings)?
        }
        "not_examined" => Part::NotExamined,
        "examined" => Part::Examined,
        "visit" => Part::Visit,
        "instruments" => Part::Instruments,
        "sources" => Part::Sources,
        "terms" => Part::Terms,
        "signature" => Part::Signature,
        _ => return None,
    })
}

/// The parts that the report has, in its order. Those without a title of their own are named by whoever shows them.
fn parts(content: &Content, assessment: &Assessment) -> Vec<(Part, LivePart)> {
    let plain = |part, name: &str| {
        (part, LivePart { part: name.to_owned(), about: String::new(), title: String::new() })
    };
    let mut parts = vec![plain(Part::Front, "front"), plain(Part::Overview, "overview")];
    for finding in &assessment.findings {
        let about = if finding.key == NEW { String::new() } else { finding.key.clone() };
        let title = format!("{} · {}", finding.number, finding.title);
        parts.push((
            Part::Finding(finding.number),
            LivePart { part: "finding".to_owned(), about, title },
        ));
    }
    let named = |photo: usize| content.findings.iter().any(|one| one.photos.contains(&photo));
    if (1..=content.photos.len()).any(|photo| !named(photo)) {
        parts.push(plain(Part::FurtherPhotos, "further_photos"));
    }
    for (at, system) in content.systems.iter().enumerate() {
        let part = LivePart {
            part: "readings".to_owned(),
            about: (at + 1).to_string(),
            title: system.name.clone(),
        };
        parts.push((Part::Readings(at + 1), part));
    }
    parts.extend([
        plain(Part::NotExamined, "not_examined"),
        plain(Part::Examined, "examined"),
        plain(Part::Visit, "visit"),
        plain(Part::Instruments, "instruments"),
        plain(Part::Sources, "sources"),
        plain(Part::Terms, "terms"),
        plain(Part::Signature, "signature"),
    ]);
    parts
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;

    /// A new finding as it is recorded for its page, with this typed.
    fn typed(chosen: &Value) -> Result<RecordedFinding, String> {
        let mut finding = json!({"key": "", "title": "Soot", "statement": "", "who": "me"});
        for (name, value) in chosen.as_object().into_iter().flatten() {
            finding[name] = value.clone();
        }
        let wanted = json!({"part": "finding", "finding": finding});
        let wanted: PagesWanted = serde_json::from_value(wanted).map_err(|why| why.to_string())?;
        let library = plan::load(&plan::Files::embedded()).expect("the shipped plans are right");
        let plan = library.plan("purchase").expect("it ships");
        let typed = with_typed(&plan, &Inspection::default(), &wanted, UnitSystem::Us);
        match typed {
            Ok(typed) => Ok(typed.findings[NEW].clone()),
            Err(PagesRefused::Failed(why) | PagesRefused::NoSuchPart(why)) => Err(why),
        }
    }

    #[test]
    fn uses_time_and_point_of_a_new_finding_are_on_its_page_while_they_are_chosen() {
        let begun = typed(&json!({})).expect("nothing is wrong with it");
        assert_eq!((begun.stops, begun.when, begun.point), (vec![], TimeToAct::Soon, None));
        let chosen =
            json!({"stops": ["gas", "stay"], "when": "before use", "point": "regulator_lockup"});
        let chosen = typed(&chosen).expect("nothing is wrong with it");
        assert_eq!(chosen.stops, [Use::Gas, Use::Stay]);
        assert_eq!(chosen.when, TimeToAct::BeforeUse);
        assert_eq!(chosen.point, Some("regulator_lockup".into()));
    }

    #[test]
    fn a_use_or_a_time_that_is_not_known_is_refused_in_a_sentence() {
        let swim = typed(&json!({"stops": ["swim"]}));
        assert_eq!(swim.expect_err("no such use"), "no use is called `swim`");
        let later = typed(&json!({"when": "later"}));
        assert_eq!(later.expect_err("no such time"), "`later` is no time to act");
    }
}
