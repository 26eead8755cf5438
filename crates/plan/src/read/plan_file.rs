//! One plan file: what it is for, its terms, and which points it has.

use super::words::id_of_file;
use super::{Spot, TomlFile};
use crate::Problem;

/// A plan file as read.
#[derive(Debug)]
pub(crate) struct PlanFile {
    pub id: String,
    pub title: String,
    pub purpose: String,
    pub terms: Vec<String>,
    pub cautions: Vec<String>,
    pub systems: Vec<(String, Spot)>,
    pub points: Vec<(String, Spot)>,
    pub without: Vec<(String, Spot)>,
    pub path: String,
}

/// Reads one file of `plans/<id>.toml`.
pub(crate) fn read_plan(path: &str, text: &str, problems: &mut Vec<Problem>) -> Option<PlanFile> {
    let file = TomlFile::open(path, text, problems)?;
    let root = file.root();
    let id = id_of_file(&root, path, "the file's name is the plan's id");
    let (title, purpose) = (root.required("title"), root.required("purpose"));
    let list = |key| root.texts(key).into_iter().map(|text| text.value).collect::<Vec<_>>();
    let placed =
        |key| root.texts(key).into_iter().map(|text| (text.value, text.spot)).collect::<Vec<_>>();
    let (terms, cautions) = (list("terms"), list("cautions"));
    let (systems, points, without) = (placed("systems"), placed("points"), placed("without"));
    if terms.is_empty() {
        root.problem("the plan has no `terms`", "say what the inspection is and is not");
    }
    if systems.is_empty() && points.is_empty() {
        root.problem("the plan has no points", "write systems = [\"…\"] or points = [\"…\"]");
    }
    root.finish();
    problems.extend(file.problems());
    Some(PlanFile {
        id: id?.value,
        title: title?.value,
        purpose: purpose?.value,
        terms,
        cautions,
        systems,
        points,
        without,
        path: path.to_owned(),
    })
}
