//! The bar of site states, and what a point needs that is not so.

use plan::Point;

use crate::{Visit, states};

/// One state of the site.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StateRow {
    /// Its word.
    pub id: String,
    /// What people read.
    pub title: String,
    /// Whether it holds; none if nothing was said of it.
    pub holds: Option<bool>,
    /// Points that need it and are not done.
    pub needed_by: usize,
    /// Points that need its opposite and are not done.
    pub against: usize,
}

/// A state that a point needs and that does not hold, or of which nothing was said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StateNeed {
    /// The state's word, for [`crate::Act::SetState`].
    pub id: String,
    /// What people read.
    pub title: String,
    /// It was said not to hold; else nothing was said of it.
    pub known: bool,
}

impl Visit {
    /// The states of the site, one row a switch.
    #[must_use]
    pub fn states(&self) -> Vec<StateRow> {
        let rows = self.point_rows();
        let open: Vec<&Point> = rows
            .iter()
            .filter(|(_, row)| !row.state.is_done())
            .filter_map(|(_, row)| self.plan().point(row.id.as_str()))
            .collect();
        let needing = |state: &str| {
            open.iter().filter(|point| point.needs.iter().any(|need| need == state)).count()
        };
        self.plan()
            .site_states
            .iter()
            .filter(|known| states::recorded_as(self.plan(), &known.id).0 == known.id)
            .map(|known| {
                let opposite = known.id.strip_suffix("_on").map(|stem| format!("{stem}_off"));
                StateRow {
                    id: known.id.clone(),
                    title: known.title.clone(),
                    holds: states::holds(self.inspection(), &known.id),
                    needed_by: needing(&known.id),
                    against: opposite.map_or(0, |opposite| needing(&opposite)),
                }
            })
            .collect()
    }

    /// What a point needs that is not so, as far as was said.
    pub(crate) fn needs(&self, point: &Point) -> Vec<StateNeed> {
        let mut needs = Vec::new();
        for id in &point.needs {
            let holds = states::holds(self.inspection(), id);
            if holds == Some(true) {
                continue;
            }
            let title = self.plan().site_states.iter().find(|known| known.id == *id);
            needs.push(StateNeed {
                id: id.clone(),
                title: title.map_or_else(|| crate::entry::words(id), |known| known.title.clone()),
                known: holds.is_some(),
            });
        }
        needs
    }
}
