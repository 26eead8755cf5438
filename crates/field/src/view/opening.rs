//! A job's opening page: the unit, what is fitted, what to bring, the cautions of the day.

use jiff::civil::Date;
use plan::HalfMinutes;
use quantity::UnitSystem;

use super::KitItem;
use crate::Visit;

/// The opening page.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// The job's number.
    pub number: String,
    /// Who asked for it.
    pub client: String,
    /// How to reach the client.
    pub contact: String,
    /// Where the unit stands.
    pub site: String,
    /// What was agreed to be examined.
    pub scope: String,
    /// What was agreed not to be.
    pub limits: String,
    /// Maker and model.
    pub unit: String,
    /// The kind of unit, as a word of the data files.
    pub kind: inspection::DwellingKind,
    /// Model year.
    pub model_year: Option<i16>,
    /// Day of building, or the first day that it can mean.
    pub built: Option<Date>,
    /// Identification number.
    pub identification: String,
    /// Length and width, as typed.
    pub size: (String, String),
    /// What can be fitted, and whether it is.
    pub equipment: Vec<EquipmentRow>,
    /// What to bring.
    pub kit: Vec<KitItem>,
    /// Cautions of the day, before anything is touched.
    pub cautions: Vec<String>,
    /// The plan's title.
    pub plan: String,
    /// Points of this unit.
    pub points: usize,
    /// Points done.
    pub done: usize,
    /// Hands-on time of all points together, whole minutes.
    pub minutes: u32,
}

/// One kind of equipment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EquipmentRow {
    /// Its word.
    pub id: String,
    /// What people read.
    pub title: String,
    /// Whether the unit has it.
    pub fitted: bool,
    /// How many points of the plan ask for it.
    pub points: usize,
}

impl Visit {
    /// The job's opening page on a day.
    #[must_use]
    pub fn opening(&self, day: Date, units: UnitSystem) -> Opening {
        let inspection = self.inspection();
        let (job, dwelling) = (&inspection.job, &inspection.dwelling);
        let line = self.line(units);
        let asks =
            |id: &str| self.plan().points.iter().filter(|point| point.fitted.contains(id)).count();
        let equipment = self
            .plan()
            .equipment
            .iter()
            .map(|known| EquipmentRow {
                id: known.id.clone(),
                title: known.title.clone(),
                fitted: dwelling.equipment.contains(&known.id),
                points: asks(&known.id),
            })
            .collect();
        Opening {
            number: job.number.clone(),
            client: job.client.name.clone(),
            contact: job.client.contact.clone(),
            site: job.site.address.clone(),
            scope: job.engagement.scope.clone(),
            limits: job.engagement.limits.clone(),
            unit: self.unit_name(),
            kind: dwelling.kind,
            model_year: dwelling.model_year,
            built: dwelling.built,
            identification: dwelling.identification.clone(),
            size: (dwelling.outline.length.clone(), dwelling.outline.width.clone()),
            equipment,
            kit: self.kit(day),
            cautions: self.plan().cautions.clone(),
            plan: self.plan().title.clone(),
            points: line.done + line.left,
            done: line.done,
            minutes: self.points().map(|point| point.minutes).sum::<HalfMinutes>().whole_minutes(),
        }
    }
}
