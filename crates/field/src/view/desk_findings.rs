//! Findings at the desk: by where they stand with counts, and one of them with its evidence and all that may be done with it.

use findings::{Assessment, Content, Finding, OtherJob, assess_point, write_content};
use inspection::{FindingState, Inspection, PhotoId, PointId, ReadingId, TimeToAct, Use};
use quantity::UnitSystem;

use super::{FindingRow, FindingStanding, Remark, Target};
use crate::entry::words;
use crate::finding::recorded;
use crate::{Said, Visit};

/// All findings with those of one standing together.
#[derive(Clone, Debug, PartialEq)]
pub struct FindingList {
    /// Drafted, confirmed, merged, withdrawn; those without findings are left out.
    pub groups: Vec<FindingGroup>,
    /// How many stand in the report.
    pub standing: usize,
}

/// Findings of one standing.
#[derive(Clone, Debug, PartialEq)]
pub struct FindingGroup {
    /// The standing.
    pub kind: FindingKind,
    /// In words, with their count.
    pub heading: Said,
    /// They, in the report's order.
    pub rows: Vec<FindingRow>,
}

/// Where a finding stands, without its reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FindingKind {
    /// Brought up by a reading or an answer; nobody decided on it.
    Drafted,
    /// A person wrote or confirmed it.
    Confirmed,
    /// A part of another.
    Merged,
    /// Carried from an earlier job, and there no more.
    Corrected,
    /// Withdrawn.
    Withdrawn,
}

/// One finding with all that may be done with it.
#[derive(Clone, Debug, PartialEq)]
pub struct FindingCard {
    /// The finding as the list has it.
    pub row: FindingRow,
    /// What it is drafted as, where readings or an answer bring it up.
    pub drafted: Option<Drafted>,
    /// A person's own statement; empty where the draft's stands, which follows the readings.
    pub own_statement: String,
    /// Readings that show it.
    pub readings: Vec<ReadingEvidence>,
    /// Photos that show it.
    pub photos: Vec<PhotoEvidence>,
    /// Readings of its point that are no evidence yet.
    pub further_readings: Vec<ReadingEvidence>,
    /// Photos of its point, and those of no point, that are no evidence yet.
    pub further_photos: Vec<PhotoEvidence>,
    /// Findings that are parts of it: key and heading.
    pub parts: Vec<(String, String)>,
    /// Findings that it may become a part of: key and heading.
    pub others: Vec<(String, String)>,
    /// Whether it has neither reading nor photo.
    pub no_evidence: bool,
    /// Remarks on its texts.
    pub remarks: Vec<Remark>,
    /// What may be done with it.
    pub may: May,
}

/// A finding as its point's file words it, with the figures of now.
#[derive(Clone, Debug, PartialEq)]
pub struct Drafted {
    /// Heading.
    pub title: String,
    /// The statement.
    pub statement: String,
    /// Uses it stops.
    pub stops: Vec<Use>,
    /// How soon to act.
    pub when: TimeToAct,
    /// Whom to call.
    pub who: String,
}

/// A reading beside a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadingEvidence {
    /// The reading.
    pub id: ReadingId,
    /// What was read, with its place.
    pub title: String,
    /// The value with its uncertainty, or the entry as it was typed where it does not count.
    pub value: String,
    /// Whether the reading brought the finding up: it cannot be taken away, only struck out.
    pub brought_up: bool,
}

/// A photo beside a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoEvidence {
    /// The photo.
    pub id: PhotoId,
    /// What it shows, in words; else the file's name.
    pub title: String,
    /// Whether it is a photo of the finding's point.
    pub at_point: bool,
}

/// What may be done with a finding.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct May {
    /// It can be confirmed.
    pub confirm: bool,
    /// It can be withdrawn.
    pub withdraw: bool,
    /// Its words, uses, when, who and evidence can be changed.
    pub edit: bool,
    /// It can be made a part of another.
    pub merge: bool,
    /// It can be taken out of the one that it is a part of.
    pub unmerge: bool,
    /// It was carried from an earlier job, and it can be said what became of it.
    pub recheck: bool,
}

impl FindingStanding {
    /// The standing without its reason.
    #[must_use]
    pub fn kind(&self) -> FindingKind {
        match self {
            Self::Drafted => FindingKind::Drafted,
            Self::Confirmed => FindingKind::Confirmed,
            Self::Merged(_) => FindingKind::Merged,
            Self::Corrected => FindingKind::Corrected,
            Self::Withdrawn(_) => FindingKind::Withdrawn,
        }
    }
}

impl Visit {
    /// All findings by where they stand.
    #[must_use]
    pub fn finding_list(&self, units: UnitSystem) -> FindingList {
        let all = self.findings(units);
        let standing = all.iter().filter(|row| row.number.is_some()).count();
        let kinds = [
            (FindingKind::Drafted, "findings-drafted"),
            (FindingKind::Confirmed, "findings-confirmed"),
            (FindingKind::Merged, "findings-merged"),
            (FindingKind::Corrected, "findings-corrected"),
            (FindingKind::Withdrawn, "findings-withdrawn"),
        ];
        let groups = kinds
            .into_iter()
            .filter_map(|(kind, key)| {
                let own = |row: &&FindingRow| row.standing.kind() == kind;
                let rows: Vec<FindingRow> = all.iter().filter(own).cloned().collect();
                let heading = Said::new(key).counting("count", rows.len());
                (!rows.is_empty()).then_some(FindingGroup { kind, heading, rows })
            })
            .collect();
        FindingList { groups, standing }
    }

    /// One finding with its evidence and all that may be done with it; none if there is none with this key. `others` is
    /// what of other jobs its texts must not say.
    #[must_use]
    pub fn finding_card(
        &self,
        key: &str,
        others: &[OtherJob],
        units: UnitSystem,
    ) -> Option<FindingCard> {
        let assessment = self.assessment(units);
        let all = self.findings(units);
        let row = all.iter().find(|row| row.key == key)?.clone();
        let finding = assessment.findings.iter().find(|finding| finding.key == key);
        let own = recorded(self, key).map(|(_, finding)| finding);
        let kind = row.standing.kind();
        let stands = finding.is_some();
        let written = |key: &String| {
            let title = all.iter().find(|row| row.key == *key).map(|row| row.title.clone());
            (key.clone(), title.unwrap_or_default())
        };
        let target = Target::Finding(key.to_owned());
        Some(FindingCard {
            drafted: self.drafted(&row, units),
            own_statement: own.map_or_else(String::new, |own| own.statement.clone()),
            readings: self.readings_of(
                finding,
                own.map(|own| own.readings.as_slice()),
                &assessment,
                units,
            ),
            photos: finding.map_or_else(Vec::new, |finding| {
                finding
                    .photos
                    .iter()
                    .map(|id| self.photo_evidence(id, row.point.as_ref()))
                    .collect()
            }),
            further_readings: self.further_readings(&row, finding, &assessment, units),
            further_photos: self.further_photos(&row, finding),
            parts: finding.map_or_else(Vec::new, |finding| {
                finding.merged.iter().map(written).filter(|(_, title)| !title.is_empty()).collect()
            }),
            others: assessment
                .findings
                .iter()
                .filter(|other| stands && other.key != key)
                .map(|other| (other.key.clone(), other.title.clone()))
                .collect(),
            no_evidence: finding
                .is_some_and(|finding| finding.readings.is_empty() && finding.photos.is_empty()),
            remarks: self
                .remarks(others)
                .into_iter()
                .filter(|remark| remark.target == target)
                .collect(),
            may: May {
                confirm: !matches!(kind, FindingKind::Confirmed | FindingKind::Corrected),
                withdraw: kind != FindingKind::Withdrawn,
                edit: kind != FindingKind::Merged,
                merge: stands && assessment.findings.len() > 1,
                recheck: own.is_some_and(|own| own.carried.is_some()),
                unmerge: own.is_some_and(|own| matches!(own.state, FindingState::Merged { .. })),
            },
            row,
        })
    }

    /// The draft as nobody had decided on it.
    fn drafted(&self, row: &FindingRow, units: UnitSystem) -> Option<Drafted> {
        let undecided =
            Inspection { findings: std::collections::BTreeMap::new(), ..self.inspection().clone() };
        let point = row.point.as_ref()?;
        let assessed = assess_point(self.plan(), &undecided, point.as_str(), units)?;
        let draft = assessed.findings.into_iter().find(|finding| finding.key == row.key)?;
        Some(Drafted {
            title: draft.title,
            statement: draft.statement,
            stops: draft.stops,
            when: draft.when,
            who: draft.who,
        })
    }

    fn readings_of(
        &self,
        finding: Option<&Finding>,
        attached: Option<&[ReadingId]>,
        assessment: &Assessment,
        units: UnitSystem,
    ) -> Vec<ReadingEvidence> {
        let Some(finding) = finding else { return Vec::new() };
        finding
            .readings
            .iter()
            .filter_map(|id| {
                let brought_up = !attached.is_some_and(|attached| attached.contains(id));
                self.reading_evidence(id, brought_up, assessment, units)
            })
            .collect()
    }

    fn reading_evidence(
        &self,
        id: &ReadingId,
        brought_up: bool,
        assessment: &Assessment,
        units: UnitSystem,
    ) -> Option<ReadingEvidence> {
        let reading = self.inspection().readings.get(id)?;
        let planned = self.plan().point(reading.point.as_str());
        let title = planned.and_then(|point| point.reading(&reading.name));
        let title = title.map_or_else(|| words(&reading.name), |reading| reading.title.clone());
        let title = match reading.position.as_str() {
            "" => title,
            position => format!("{title}, {}", words(position)),
        };
        let counted = assessment
            .points
            .iter()
            .filter(|result| result.point == reading.point)
            .flat_map(|result| &result.values)
            .find(|value| value.origin == findings::Origin::Read(id.clone()));
        let value = counted.filter(|value| !matches!(value.content, Content::None(_)));
        Some(ReadingEvidence {
            id: id.clone(),
            title,
            value: value.map_or_else(|| reading.entry.clone(), |value| write_content(value, units)),
            brought_up,
        })
    }

    fn further_readings(
        &self,
        row: &FindingRow,
        finding: Option<&Finding>,
        assessment: &Assessment,
        units: UnitSystem,
    ) -> Vec<ReadingEvidence> {
        let Some(point) = &row.point else { return Vec::new() };
        let shown = |id: &ReadingId| finding.is_some_and(|finding| finding.readings.contains(id));
        self.inspection()
            .readings
            .iter()
            .filter(|(id, reading)| {
                reading.point == *point && reading.struck_out.is_none() && !shown(id)
            })
            .filter_map(|(id, _)| self.reading_evidence(id, false, assessment, units))
            .collect()
    }

    pub(super) fn photo_evidence(&self, id: &PhotoId, point: Option<&PointId>) -> PhotoEvidence {
        let photo = self.inspection().photos.get(id);
        let title = photo.map_or_else(
            || id.to_string(),
            |photo| {
                let words = [&photo.caption, &photo.file_name];
                words.into_iter().find(|text| !text.is_empty()).cloned().unwrap_or_default()
            },
        );
        let at_point = point.is_some() && photo.is_some_and(|photo| photo.point.as_ref() == point);
        PhotoEvidence { id: id.clone(), title, at_point }
    }

    fn further_photos(&self, row: &FindingRow, finding: Option<&Finding>) -> Vec<PhotoEvidence> {
        let shown = |id: &PhotoId| finding.is_some_and(|finding| finding.photos.contains(id));
        let mut photos: Vec<_> = self
            .inspection()
            .photos
            .iter()
            .filter(|(id, photo)| {
                photo.earlier.is_empty()
                    && (photo.point.is_none() || photo.point == row.point)
                    && !shown(id)
            })
            .collect();
        photos.sort_by_key(|(id, photo)| (photo.point.is_none(), photo.taken, *id));
        photos.into_iter().map(|(id, _)| self.photo_evidence(id, row.point.as_ref())).collect()
    }
}
