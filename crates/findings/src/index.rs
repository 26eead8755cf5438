//! A plan's points by their ids: a full record asks for them thousands of times.

use std::collections::BTreeMap;

use plan::{Plan, Point};

/// Points by id.
pub(crate) struct Index<'a>(BTreeMap<&'a str, &'a Point>);

impl<'a> Index<'a> {
    pub(crate) fn of(plan: &'a Plan) -> Self {
        let mut points = BTreeMap::new();
        for point in &plan.points {
            // Of two points with one id the first counts, as in the plan itself.
            points.entry(point.id.as_str()).or_insert(point);
        }
        Self(points)
    }

    /// The point with this id.
    pub(crate) fn point(&self, id: &str) -> Option<&'a Point> {
        self.0.get(id).copied()
    }
}
