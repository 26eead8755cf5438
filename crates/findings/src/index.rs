//! A plan's points by their ids: a full record asks for them thousands of times.

use std::collections::BTreeMap;

use plan::{Plan, Point};

/// Points by id, each with its number in the plan.
pub(crate) struct Index<'a> {
    by_id: BTreeMap<&'a str, usize>,
    points: &'a [Point],
}

impl<'a> Index<'a> {
    pub(crate) fn of(plan: &'a Plan) -> Self {
        let mut by_id = BTreeMap::new();
        for (number, point) in plan.points.iter().enumerate() {
            // Of two points with one id the first counts, as in the plan itself.
            by_id.entry(point.id.as_str()).or_insert(number);
        }
        Self { by_id, points: &plan.points }
    }

    /// The number of the point with this id.
    pub(crate) fn number(&self, id: &str) -> Option<usize> {
        self.by_id.get(id).copied()
    }

    /// The point with this id.
    pub(crate) fn point(&self, id: &str) -> Option<&'a Point> {
        self.number(id).and_then(|number| self.at(number))
    }

    /// The point with this number.
    pub(crate) fn at(&self, number: usize) -> Option<&'a Point> {
        self.points.get(number)
    }
}
