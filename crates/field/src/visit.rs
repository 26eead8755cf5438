//! A visit under way: the job's record, the plan it carries, and what follows from both, kept in step.

use std::cell::RefCell;
use std::rc::Rc;

use findings::{Assessment, PointAssessment, assess_in, assess_point, counts_over};
use inspection::{Inspection, Outcome, PointId, Reading, ReadingId};
use plan::{Plan, Point};
use quantity::UnitSystem;
use record::{Author, Edit, Record, RecordError};

use crate::entry::words;
use crate::undo::{self, Step};
use crate::{Act, Now, Said, edits, label, trouble};

/// How many acts can be taken back.
const STEPS: usize = 200;

/// A visit under way on one device.
#[derive(Debug)]
pub struct Visit {
    record: Record,
    /// The plan as the job carries it: what is recorded of it is always in its words.
    plan: Plan,
    /// The same with another language's texts laid over it, where one is chosen.
    shown: Option<Box<Plan>>,
    author: Author,
    inspection: Inspection,
    /// How many entries or fields of the record could not be read.
    unread: usize,
    done: Vec<Step>,
    undone: Vec<Step>,
    /// The whole assessment in each system of units, made when first asked for after a change.
    assessments: RefCell<[Option<Rc<Assessment>>; 2]>,
}

impl Visit {
    /// A visit from the job's changes as they are kept on the device, in any order.
    ///
    /// # Errors
    /// A sentence, if the changes hold no record or its plan cannot be read.
    pub fn open(changes: &[Vec<u8>], author: Author) -> Result<Self, Said> {
        let record = Record::load(changes.iter().map(Vec::as_slice))
            .map_err(|error| trouble::of_record(&error))?;
        Self::of(record, author)
    }

    /// A visit of a record.
    ///
    /// # Errors
    /// A sentence, if the record's plan cannot be read.
    pub fn of(record: Record, author: Author) -> Result<Self, Said> {
        let text = record.plan().map_err(|error| trouble::of_record(&error))?;
        let plan = plan::thaw(&text).map_err(|problems| trouble::of_plan(&problems))?;
        let mut visit = Self {
            record,
            plan,
            shown: None,
            author,
            inspection: Inspection::default(),
            unread: 0,
            done: Vec::new(),
            undone: Vec::new(),
            assessments: RefCell::default(),
        };
        visit.look_again();
        Ok(visit)
    }

    /// Shows the plan, and what follows from it, with these texts laid over it; as the job carries it without any. What is
    /// recorded stays the same.
    pub fn speak(&mut self, texts: Option<&plan::Texts>) {
        self.shown = texts.map(|texts| Box::new(self.plan.with_texts(texts).0));
        self.assessments = RefCell::default();
    }

    /// Does what the person did: at most one change, as bytes to be kept; none where the record says it already.
    ///
    /// # Errors
    /// A sentence that says why it cannot be; then nothing changed.
    pub fn act(&mut self, act: Act, now: Now) -> Result<Vec<Vec<u8>>, Said> {
        let label = label::of(self, &act);
        let edits = edits::of(self, act, now)?;
        let inverse = undo::inverse(&edits, &self.inspection, &self.record);
        let changes = self.make(edits, now)?;
        if !changes.is_empty() {
            self.undone.clear();
            if let Some(inverse) = inverse {
                if self.done.len() == STEPS {
                    self.done.remove(0);
                }
                self.done.push(Step { inverse, label });
            }
        }
        Ok(changes)
    }

    /// The edits that an act needs, for who makes them otherwise; none where the record says it already.
    ///
    /// # Errors
    /// A sentence that says why it cannot be.
    pub fn edits_of(&self, act: Act, now: Now) -> Result<Vec<Edit>, Said> {
        edits::of(self, act, now)
    }

    /// Takes the last act of this device back, by new edits.
    ///
    /// # Errors
    /// A sentence, if there is none or somebody else has changed the same since.
    pub fn undo(&mut self, now: Now) -> Result<Vec<Vec<u8>>, Said> {
        let step = self.done.pop().ok_or_else(|| Said::new("refusal-nothing-to-undo"))?;
        let (changes, back) = self.step(step, now)?;
        self.undone.extend(back);
        Ok(changes)
    }

    /// Does again what was last taken back.
    ///
    /// # Errors
    /// A sentence, if there is nothing or somebody else has changed the same since.
    pub fn redo(&mut self, now: Now) -> Result<Vec<Vec<u8>>, Said> {
        let step = self.undone.pop().ok_or_else(|| Said::new("refusal-nothing-to-redo"))?;
        let (changes, back) = self.step(step, now)?;
        self.done.extend(back);
        Ok(changes)
    }

    /// What undo would take back.
    #[must_use]
    pub fn undo_label(&self) -> Option<&Said> {
        self.done.last().map(|step| &step.label)
    }

    /// What redo would do again.
    #[must_use]
    pub fn redo_label(&self) -> Option<&Said> {
        self.undone.last().map(|step| &step.label)
    }

    /// Takes in changes of other devices, which are kept here already. What could not be taken in is said in
    /// sentences.
    pub fn arrived(&mut self, changes: &[Vec<u8>]) -> Vec<Said> {
        let mut refused = Vec::new();
        for change in changes {
            if let Err(error) = self.record.apply(change) {
                refused.push(trouble::of_record(&error));
            }
        }
        self.look_again();
        refused
    }

    /// Says who is at the device from now on.
    pub fn set_person(&mut self, person: String) {
        self.author.person = person;
    }

    /// The job in one line: its number, and the unit.
    #[must_use]
    pub fn title(&self) -> String {
        let job = &self.inspection.job;
        let unit = self.unit_name();
        if job.number.is_empty() { unit } else { format!("{} · {unit}", job.number) }
    }

    /// Maker and model; the kind where neither is known.
    #[must_use]
    pub fn unit_name(&self) -> String {
        let dwelling = &self.inspection.dwelling;
        let name = format!("{} {}", dwelling.maker, dwelling.model);
        match name.trim() {
            "" => dwelling.kind.title().to_owned(),
            name => name.to_owned(),
        }
    }

    /// The job's record.
    #[must_use]
    pub fn record(&self) -> &Record {
        &self.record
    }

    /// The plan that the job carries, in the words it is shown in.
    #[must_use]
    pub fn plan(&self) -> &Plan {
        self.shown.as_deref().unwrap_or(&self.plan)
    }

    /// The same in the words that are recorded.
    pub(crate) fn plan_as_carried(&self) -> &Plan {
        &self.plan
    }

    /// A place at a point, as people read it.
    pub(crate) fn place_read(&self, position: &str) -> String {
        self.plan().words.say(&words(position))
    }

    /// Who is at the device.
    #[must_use]
    pub fn author(&self) -> &Author {
        &self.author
    }

    /// Everything recorded.
    #[must_use]
    pub fn inspection(&self) -> &Inspection {
        &self.inspection
    }

    /// That something of the record could not be read here, if so.
    #[must_use]
    pub fn trouble(&self) -> Option<Said> {
        (self.unread > 0).then(|| Said::new("record-unread").counting("count", self.unread))
    }

    /// The assessment in the words that are recorded.
    pub(crate) fn assessment_as_recorded(&self) -> Rc<Assessment> {
        match self.shown {
            None => self.assessment(UnitSystem::Us),
            Some(_) => Rc::new(assess_in(&self.plan, &self.inspection, UnitSystem::Us)),
        }
    }

    /// The whole assessment, made once after each change.
    #[must_use]
    pub fn assessment(&self, units: UnitSystem) -> Rc<Assessment> {
        let slot = match units {
            UnitSystem::Us => 0,
            UnitSystem::Si => 1,
        };
        let mut assessments = self.assessments.borrow_mut();
        let made = assessments[slot]
            .get_or_insert_with(|| Rc::new(assess_in(self.plan(), &self.inspection, units)));
        Rc::clone(made)
    }

    /// One point's part of the assessment, as it stands.
    #[must_use]
    pub(crate) fn assessed(&self, point: &PointId, units: UnitSystem) -> Option<PointAssessment> {
        assess_point(self.plan(), &self.inspection, point.as_str(), units)
    }

    /// The points that the unit has, in walking order.
    pub fn points(&self) -> impl Iterator<Item = &Point> {
        let dwelling = &self.inspection.dwelling;
        self.plan().points_for(dwelling.kind, &dwelling.equipment)
    }

    /// A point that the unit has.
    pub(crate) fn point_here(&self, id: &PointId) -> Result<&Point, Said> {
        let Some(point) = self.plan().point(id.as_str()) else {
            return Err(Said::new("refusal-no-point").with("point", id.as_str()));
        };
        let dwelling = &self.inspection.dwelling;
        if point.exists_on(dwelling.kind, &dwelling.equipment) {
            Ok(point)
        } else {
            Err(Said::new("refusal-point-not-here").with("point", &point.title))
        }
    }

    /// A point that the unit has and that was not said to be missing.
    pub(crate) fn point_fitted(&self, id: &PointId) -> Result<&Point, Said> {
        let point = self.point_here(id)?;
        match self.inspection.points.get(id).map(|entry| &entry.outcome) {
            Some(Outcome::NotFitted) => {
                Err(Said::new("refusal-not-fitted").with("point", &point.title))
            }
            Some(Outcome::Examined | Outcome::NotExamined { .. }) | None => Ok(point),
        }
    }

    /// The reading that counts at a place.
    #[must_use]
    pub fn counting(
        &self,
        point: &PointId,
        name: &str,
        position: &str,
    ) -> Option<(&ReadingId, &Reading)> {
        self.inspection
            .readings
            .iter()
            .filter(|(_, reading)| {
                reading.point == *point
                    && reading.name == name
                    && reading.position == position
                    && reading.struck_out.is_none()
            })
            .reduce(|one, other| if counts_over(other, one) { other } else { one })
    }

    fn step(&mut self, step: Step, now: Now) -> Result<(Vec<Vec<u8>>, Option<Step>), Said> {
        let fresh = undo::fresh(&step.inverse, &self.inspection, &self.record, &self.author, now)
            .ok_or_else(|| Said::new("refusal-changed-since"))?;
        let back = undo::inverse(&fresh.edits, &self.inspection, &self.record);
        let changes = self.make(fresh.edits, now)?;
        for step in self.done.iter_mut().chain(&mut self.undone) {
            undo::rename(step, &fresh.renamed);
        }
        Ok((changes, back.map(|inverse| Step { inverse, label: step.label })))
    }

    fn make(&mut self, edits: Vec<Edit>, now: Now) -> Result<Vec<Vec<u8>>, Said> {
        if edits.is_empty() {
            return Ok(Vec::new());
        }
        let change =
            self.record.edit_together(&self.author, now.unix_seconds, edits).map_err(|error| {
                match error {
                    RecordError::NewerSchema { .. } => Said::new("refusal-record-newer"),
                    RecordError::DeviceTwice { .. } => Said::new("refusal-device-twice"),
                    other => trouble::of_record(&other),
                }
            })?;
        self.look_again();
        Ok(change.map(|change| change.bytes).into_iter().collect())
    }

    fn look_again(&mut self) {
        let (inspection, problems) = self.record.inspection();
        self.inspection = inspection;
        self.unread = problems.len();
        self.assessments = RefCell::default();
    }
}
