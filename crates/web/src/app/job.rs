//! Opening a job, making one, and acting in it.

use field::{Act, NewJob, Now, Plans, Said, Visit};
use leptos::prelude::*;
use sync::{Event, JobId, Link, NewBlob};
use wasm_bindgen_futures::spawn_local;

use super::{App, Place, Spoken, core::core, say, texts, work::Work};
use crate::screens::Screen;

/// The setting under which a job's title is kept for the list.
const TITLE: &str = "title/";
/// The setting that says where the person was.
pub(super) const PLACE: &str = "place";

impl App {
    /// Does what the person did. It takes effect at once and goes to the disk; whether it is there, [`App::kept`]
    /// says. A refusal is shown as a sentence.
    pub(crate) fn act(self, act: Act) -> bool {
        self.change(Vec::new(), |visit, now| visit.act(act, now))
    }

    /// Takes the last act back.
    pub(crate) fn undo(self) -> bool {
        self.change(Vec::new(), Visit::undo)
    }

    /// Does again what was taken back.
    pub(crate) fn redo(self) -> bool {
        self.change(Vec::new(), Visit::redo)
    }

    /// One change of the open visit, kept together with photos whose bytes are on the disk already.
    pub(super) fn change(
        self,
        blobs: Vec<NewBlob>,
        make: impl FnOnce(&mut Visit, Now) -> Result<Vec<Vec<u8>>, Said>,
    ) -> bool {
        let Some(core) = core() else { return false };
        let made = {
            let mut visit = core.visit.borrow_mut();
            let Some((job, visit)) = visit.as_mut() else { return false };
            make(visit, self.now()).map(|changes| (job.clone(), changes, visit.title()))
        };
        match made {
            Ok((job, changes, title)) => {
                if !changes.is_empty() || !blobs.is_empty() {
                    self.happened(Event::Edited { job: job.clone(), changes, blobs });
                }
                self.set_title(job, title);
                self.revision.update(|count| *count += 1);
                true
            }
            Err(said) => {
                self.say(texts().of(&said));
                false
            }
        }
    }

    /// Opens a job: one that is here from the disk, one that is only on the server as soon as it has arrived.
    pub(super) fn open_job(self, job: JobId) {
        let Some(core) = core() else { return };
        let already =
            |one: &Option<(JobId, Vec<Vec<u8>>)>| one.as_ref().is_some_and(|it| it.0 == job);
        let open = core.visit.borrow().as_ref().is_some_and(|(open, _)| *open == job);
        if open || already(&core.opening.borrow()) {
            return;
        }
        self.close_job();
        *core.opening.borrow_mut() = Some((job.clone(), Vec::new()));
        self.happened(Event::Followed { job: job.clone() });
        spawn_local(self.read_job(job));
    }

    async fn read_job(self, job: JobId) {
        let Some(core) = core() else { return };
        let work = self.work().await;
        let spoken = self.plan_texts().await;
        let read = core.disk.changes(&job).await;
        // Another job was opened meanwhile.
        let still =
            |one: &Option<(JobId, Vec<Vec<u8>>)>| one.as_ref().is_some_and(|it| it.0 == job);
        if !still(&core.opening.borrow()) {
            return;
        }
        let (work, mut changes) = match work.and_then(|work| Ok((work, read?))) {
            Ok(both) => both,
            Err(why) => {
                *core.opening.borrow_mut() = None;
                self.say(why);
                return self.go(Place::Jobs);
            }
        };
        let arrived = |core: &super::core::Core| {
            core.opening
                .borrow_mut()
                .as_mut()
                .map(|it| std::mem::take(&mut it.1))
                .unwrap_or_default()
        };
        changes.extend(arrived(core));
        // A job of the server that has just been followed: its beginning is on the way.
        while changes.is_empty() {
            crate::browser::wait(200).await;
            if !still(&core.opening.borrow()) {
                return;
            }
            changes.extend(arrived(core));
        }
        *core.opening.borrow_mut() = None;
        let author = self.author(&core.identity.borrow());
        match (work.open)(&changes, author) {
            Ok(mut visit) => {
                let (title, trouble) = (visit.title(), visit.trouble());
                (work.speak)(&mut visit, spoken.texts.as_deref());
                *core.visit.borrow_mut() = Some((job.clone(), visit));
                self.set_title(job.clone(), title);
                self.open.set(Some(job));
                self.revision.update(|count| *count += 1);
                if let Some(said) = trouble {
                    self.say(self.texts().of(&said));
                }
                if spoken.language != self.settings.with_untracked(|settings| settings.language) {
                    self.speak_plan();
                }
                if let Err(why) = self.enter_memos().await {
                    self.say(why);
                }
                if let Err(why) = self.enter_photos().await {
                    self.say(why);
                }
            }
            Err(said) => {
                self.say(self.texts().of(&said));
                self.go(Place::Jobs);
            }
        }
    }

    /// Puts the open job away; everything of it is kept or on its way to the disk.
    pub(super) fn close_job(self) {
        let Some(core) = core() else { return };
        *core.opening.borrow_mut() = None;
        // What was recorded so far is kept, and comes into the record when the job is opened next.
        self.end_memo();
        self.stop_playing();
        if core.visit.borrow_mut().take().is_some() {
            self.open.set(None);
            self.forget_pictures();
        }
    }

    /// Makes a job, as soon as the plans are here, and goes there. A refusal is shown as a sentence.
    pub(crate) fn make_job(self, new: NewJob) {
        spawn_local(async move {
            let plans = self.plans_here().await;
            let work = self.work().await;
            let spoken = self.plan_texts().await;
            // Left meanwhile, or made already by the same button.
            if self.place.get_untracked() != Place::NewJob {
                return;
            }
            match plans.and_then(|plans| Ok((plans, work?))) {
                Ok((plans, work)) => self.make_job_of(&new, &plans, work, &spoken),
                Err(why) => self.say(why),
            }
        });
    }

    fn make_job_of(self, new: &NewJob, plans: &Plans, work: Work, spoken: &Spoken) {
        let Some(core) = core() else { return };
        let author = self.author(&core.identity.borrow());
        let made = (work.new_job)(&author, self.now(), new, plans)
            .map_err(|said| self.texts().of(&said))
            .and_then(|changes| Ok((id_of(&new.job.number, &changes)?, changes)));
        match made {
            Ok((job, changes)) => {
                let visit = (work.open)(&changes, author);
                self.happened(Event::Edited { job: job.clone(), changes, blobs: Vec::new() });
                self.close_job();
                match visit {
                    Ok(mut visit) => {
                        (work.speak)(&mut visit, spoken.texts.as_deref());
                        self.set_title(job.clone(), visit.title());
                        *core.visit.borrow_mut() = Some((job.clone(), visit));
                        self.open.set(Some(job.clone()));
                        self.revision.update(|count| *count += 1);
                    }
                    Err(said) => self.say(self.texts().of(&said)),
                }
                self.go(Place::Job(job, Screen::default()));
            }
            Err(why) => self.say(why),
        }
    }

    /// The name of the person at the device has changed.
    pub(super) fn person_is(self, person: String) {
        let Some(core) = core() else { return };
        if let Some((_, visit)) = core.visit.borrow_mut().as_mut() {
            visit.set_person(person);
        }
    }

    /// Keeps a job's title for the list. It follows from the record, so its loss is harmless.
    fn set_title(self, job: JobId, title: String) {
        if self.titles.with_untracked(|titles| titles.get(&job) == Some(&title)) {
            return;
        }
        let name = format!("{TITLE}{job}");
        self.remember(name, title.clone());
        self.titles.update(|titles| drop(titles.insert(job, title)));
    }

    /// Reads the titles of the jobs that are on this device.
    pub(super) async fn restore_titles(self) {
        let Some(core) = core() else { return };
        let jobs: Vec<JobId> = core.replica.borrow().jobs().cloned().collect();
        for job in jobs {
            let title = core.disk.setting(&format!("{TITLE}{job}")).await.ok().flatten();
            let title = title.unwrap_or_else(|| job.to_string());
            self.titles.update(|titles| drop(titles.insert(job, title)));
        }
    }

    /// Keeps where the person is: after the app was killed it opens there.
    pub(super) fn remember_place(self, place: &Place) {
        if !matches!(place, Place::Pairing(_)) {
            self.remember(PLACE.to_owned(), place.to_path());
        }
    }

    pub(super) fn remember(self, name: String, text: String) {
        let Some(core) = core() else { return };
        spawn_local(async move {
            if let Err(why) = core.disk.set(&[(&name, Some(&text))]).await {
                self.say(why);
            }
        });
    }
}

/// A job's id: its number as far as an address takes it, and the beginning of its first change's hash, so that two
/// phones without a signal never give two jobs one id.
fn id_of(number: &str, changes: &[Vec<u8>]) -> Result<JobId, String> {
    let none = || say("browser-no-job-id");
    let links = changes.first().and_then(|first| Link::read(first).ok());
    let first = links.as_ref().and_then(|links| links.first()).ok_or_else(none)?;
    let hash = first.hash.to_string();
    let slug: String = number
        .chars()
        .map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '-' })
        .take(40)
        .collect();
    let slug = slug.trim_matches('-');
    let hash = hash.get(..8).unwrap_or_default();
    JobId::new(&format!("{slug}-{hash}")).map_err(|_| none())
}
