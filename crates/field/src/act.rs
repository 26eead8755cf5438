//! What a person does in the app: each act becomes one change of the record.

use inspection::{
    Crop, Dwelling, FindingId, Instrument, InstrumentId, Job, Mark, MemoId, Moment, Photo, PhotoId,
    PointId, ReadingId, Recheck, RecordedFinding, TimeToAct, Use, WaitId,
};

use crate::FeeTyped;

/// One act.
#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    /// Says what became of a point.
    Answer {
        /// The point.
        point: PointId,
        /// What became of it.
        answer: Answer,
    },
    /// Takes back what was said of a point.
    TakeBackAnswer {
        /// The point.
        point: PointId,
    },
    /// Says that a defect of the point's own list is there.
    See {
        /// The point.
        point: PointId,
        /// The defect's id.
        defect: String,
        /// Where; empty where there is only one place.
        position: String,
    },
    /// Says that it is not there after all.
    Unsee {
        /// The point.
        point: PointId,
        /// The defect's id.
        defect: String,
        /// Where; empty takes all its places back.
        position: String,
    },
    /// Writes a point's note anew.
    Note {
        /// The point.
        point: PointId,
        /// The whole note.
        text: String,
    },
    /// Enters a reading; an earlier one at the same place stays, and the new one counts.
    Enter(Entering),
    /// Enters a reading in place of one that was typed wrongly, which is struck out.
    Correct {
        /// The wrong one.
        reading: ReadingId,
        /// What should stand, as typed.
        text: String,
        /// The unit of a bare number; empty for the one that the plan usually writes.
        unit: String,
        /// The instrument.
        instrument: Option<InstrumentId>,
    },
    /// Strikes a reading out; it stays in the record.
    Strike {
        /// The reading.
        reading: ReadingId,
        /// Why.
        reason: String,
    },
    /// A photo was taken and is on disk.
    TakePhoto(PhotoTaken),
    /// Says what a photo shows.
    PlacePhoto {
        /// The photo.
        photo: PhotoId,
        /// The point; none for no point.
        point: Option<PointId>,
        /// Where at the point; empty where there is only one place.
        position: String,
        /// What it shows, in words; none leaves the caption.
        caption: Option<String>,
    },
    /// Says of several photos at once what they show.
    PlacePhotos(Vec<PhotoPlaced>),
    /// Draws a mark over a photo, or redraws one.
    MarkPhoto {
        /// The photo.
        photo: PhotoId,
        /// The mark that is redrawn, as from [`crate::view::PhotoSheet`]; none for a new one.
        mark_id: Option<String>,
        /// The mark.
        mark: Mark,
    },
    /// Takes a mark off a photo.
    EraseMark {
        /// The photo.
        photo: PhotoId,
        /// The mark.
        mark_id: String,
    },
    /// Says which part of a photo is shown, and how it is turned; none for all of it as it stands.
    CropPhoto {
        /// The photo.
        photo: PhotoId,
        /// The part.
        crop: Option<Crop>,
    },
    /// Corrects the times of photos whose camera's clock was off. What the camera wrote stays in the files.
    CorrectPhotoTimes {
        /// The photos.
        photos: Vec<PhotoId>,
        /// What is added, seconds.
        add_seconds: i64,
    },
    /// A voice memo was spoken and is on disk.
    AddMemo(MemoSpoken),
    /// Strikes a voice memo out; its entry stays in the record.
    StrikeMemo {
        /// The memo.
        memo: MemoId,
        /// Why.
        reason: String,
    },
    /// Writes a finding in free words.
    WriteFinding(FindingWritten),
    /// Writes a recorded finding anew.
    ChangeFinding {
        /// The finding.
        finding: FindingId,
        /// As it should stand.
        after: Box<RecordedFinding>,
    },
    /// Confirms a finding, drafted or recorded, by its key in the assessment.
    Confirm {
        /// The key.
        key: String,
    },
    /// Withdraws a finding, drafted or recorded, by its key in the assessment.
    Withdraw {
        /// The key.
        key: String,
        /// Why.
        reason: String,
    },
    /// Writes one thing of a finding anew, drafted or recorded, by its key in the assessment.
    EditFinding {
        /// The key.
        key: String,
        /// What changes.
        change: FindingChange,
    },
    /// Says that something shows a finding.
    Attach {
        /// The finding's key.
        key: String,
        /// What shows it.
        evidence: Evidence,
    },
    /// Says that something does not show a finding.
    Detach {
        /// The finding's key.
        key: String,
        /// What does not.
        evidence: Evidence,
    },
    /// Makes a finding a part of another, which speaks for both.
    Merge {
        /// The key of the one that becomes a part.
        key: String,
        /// The other's key.
        into: String,
    },
    /// Takes a finding out of the one that it is a part of.
    Unmerge {
        /// Its key.
        key: String,
    },
    /// Says what became of a finding that was carried from an earlier job; none takes back what was said.
    Recheck {
        /// Its key.
        key: String,
        /// What became of it.
        recheck: Option<Recheck>,
        /// What was seen of it, in words; empty for nothing to say.
        note: String,
    },
    /// Says that the unit has some equipment.
    Fit {
        /// Its word.
        equipment: String,
    },
    /// Says that the unit does not have it.
    Unfit {
        /// Its word.
        equipment: String,
    },
    /// Starts a point's wait.
    StartWait {
        /// The point.
        point: PointId,
    },
    /// Ends a wait.
    EndWait {
        /// The wait.
        wait: WaitId,
    },
    /// Says that a state of the site holds now.
    SetState {
        /// The state's word.
        state: String,
    },
    /// Says that a state of the site holds no more.
    UnsetState {
        /// The state's word.
        state: String,
    },
    /// Adds an instrument, or changes what is known of one.
    SetInstrument {
        /// Which one; its name as an id.
        id: InstrumentId,
        /// As it should stand.
        after: Instrument,
    },
    /// Takes an instrument out of the list.
    TakeOutInstrument {
        /// Which one.
        id: InstrumentId,
    },
    /// Takes instruments of another job over, as they are there.
    TakeOverInstruments(Vec<(InstrumentId, Instrument)>),
    /// Changes what is known of the unit.
    ChangeUnit {
        /// As it should stand.
        after: Box<Dwelling>,
    },
    /// Puts an agreement to the client, with what the job says of unit and day.
    PutAgreement {
        /// Its language, such as `es`.
        language: String,
        /// Its terms, one paragraph each.
        terms: Vec<String>,
    },
    /// Writes one thing of the engagement anew.
    ChangeEngagement(EngagementChange),
    /// Changes the engagement.
    ChangeJob {
        /// As it should stand.
        after: Box<Job>,
    },
}

/// One thing of the engagement. What was agreed to in another form needs a new consent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum EngagementChange {
    /// Who asked for it.
    Client(String),
    /// How to reach them.
    Contact(String),
    /// Where the unit stands.
    Site(String),
    /// What the inspection is for.
    Purpose(String),
    /// What will be examined.
    Scope(String),
    /// What will not, or only in part.
    Limits(String),
    /// The unit, as the two speak of it.
    Unit(String),
    /// The day agreed for the visit, as typed; empty for none.
    Day(String),
    /// When and how the fee is paid.
    Payment(String),
    /// The terms, paragraphs with an empty line between, and their language.
    Terms {
        /// Its code, such as `es`.
        language: String,
        /// The paragraphs.
        text: String,
    },
    /// The fee.
    Fee(FeeTyped),
}

/// One thing of a finding.
#[derive(Clone, Debug, PartialEq)]
pub enum FindingChange {
    /// Its heading; empty for that of the draft.
    Title(String),
    /// Its statement; empty for that of the draft, which follows the readings.
    Statement(String),
    /// Uses it stops.
    Stops(Vec<Use>),
    /// How soon to act.
    When(TimeToAct),
    /// Whom to call; empty for whom the draft names.
    Who(String),
    /// The point of a finding that a person wrote.
    Point(Option<PointId>),
}

/// What shows a finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Evidence {
    /// A reading.
    Reading(ReadingId),
    /// A photo.
    Photo(PhotoId),
}

/// What became of a point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Its acts were done.
    Examined,
    /// They were not.
    NotExamined {
        /// Why, in words for the report.
        reason: String,
    },
    /// The unit has no such thing.
    NotFitted,
}

/// A reading that is entered.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Entering {
    /// The point.
    pub point: PointId,
    /// Which of its readings.
    pub reading: String,
    /// Where; empty where there is only one place.
    pub position: String,
    /// What was typed.
    pub text: String,
    /// The unit of a bare number; empty for the one that the plan usually writes.
    pub unit: String,
    /// The instrument.
    pub instrument: Option<InstrumentId>,
}

/// A photo that is on disk.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PhotoTaken {
    /// The SHA-256 of the original.
    pub id: PhotoId,
    /// Its entry as it comes into the record. One without a time was taken now; of measured things only what `look` says is
    /// entered, and neither marks, nor a part to show, nor another job's number.
    pub photo: Box<Photo>,
    /// What was measured on the picture; none where it could not be drawn.
    pub look: Option<look::Look>,
}

/// Where a photo belongs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhotoPlaced {
    /// The photo.
    pub photo: PhotoId,
    /// The point; none for no point.
    pub point: Option<PointId>,
    /// Where at the point; empty where there is only one place.
    pub position: String,
}

/// A voice memo that is on disk.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MemoSpoken {
    /// The SHA-256 of the recording.
    pub id: MemoId,
    /// The point at which it was spoken.
    pub point: PointId,
    /// What the browser calls its kind, such as `audio/webm;codecs=opus`.
    pub media_type: String,
    /// How long it is, milliseconds.
    pub milliseconds: u64,
    /// When it began; none for now.
    pub began: Option<Moment>,
}

/// A finding in a person's own words.
#[derive(Clone, Debug, PartialEq)]
pub struct FindingWritten {
    /// The point, if it belongs to one.
    pub point: Option<PointId>,
    /// Heading.
    pub title: String,
    /// The statement for the report.
    pub statement: String,
    /// Uses it stops.
    pub stops: Vec<Use>,
    /// How soon to act.
    pub when: TimeToAct,
    /// Whom to call.
    pub who: String,
    /// Photos that show it.
    pub photos: Vec<PhotoId>,
}
