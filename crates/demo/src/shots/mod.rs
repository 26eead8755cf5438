//! The photos of the invented visit: file names, times, and scenes with the figures of the sheet.
//!
//! Every scene shows the figures that the sheet has for its point; a test compares them.

mod arrival;
mod inside;
mod round;

use crate::job::{MODEL_FIGURE, MODEL_WORD, PLACE, VIN, VISIT};
use crate::photos::{Scene, Shot, ShotExif, Side, Turn};

/// Vermont in June: four hours behind universal time.
const OFFSET_MINUTES: i16 = -240;

/// A shot under its file name.
struct Frame {
    name: &'static str,
    shot: Shot,
}

impl Frame {
    /// The camera had found its place.
    fn located(mut self) -> Self {
        if let Some(beside) = &mut self.shot.exif {
            beside.position = Some(PLACE);
        }
        self
    }

    /// Held as a portrait.
    fn turned(mut self, turn: Turn) -> Self {
        self.shot.turn = turn;
        self
    }

    /// The camera shook.
    fn blurred(mut self) -> Self {
        self.shot.blur = 7.0;
        self
    }

    /// Against the light.
    fn dark(mut self) -> Self {
        self.shot.exposure = -2.6;
        self
    }

    /// Passed on by a messenger, which strips what the camera wrote.
    fn passed_on(mut self) -> Self {
        self.shot.exif = None;
        self
    }

    /// The button pressed twice: the same picture a moment later.
    fn again(mut self) -> Self {
        self.shot.seed += 1;
        self
    }
}

/// All photos of the visit with their file names, in time.
#[must_use]
pub fn shots() -> Vec<(String, Shot)> {
    let frames = arrival::frames().into_iter().chain(round::frames()).chain(inside::frames());
    frames.map(|frame| (frame.name.to_owned(), frame.shot)).collect()
}

/// A sharp, level picture by a camera that writes time and offset, and no place.
fn frame(
    name: &'static str,
    number: u64,
    (hour, minute, second): (i8, i8, i8),
    scene: Scene,
) -> Frame {
    Frame {
        name,
        shot: Shot {
            scene,
            turn: Turn::Upright,
            exif: Some(ShotExif {
                taken: VISIT.at(hour, minute, second, 0),
                offset_minutes: Some(OFFSET_MINUTES),
                position: None,
            }),
            seed: number << 8,
            blur: 0.0,
            exposure: 0.0,
        },
    }
}

fn lines(lines: &[&str]) -> Vec<String> {
    lines.iter().map(|line| (*line).to_owned()).collect()
}

fn exterior(side: Side) -> Scene {
    Scene::Exterior { side, name: MODEL_WORD.to_owned(), model: MODEL_FIGURE.to_owned() }
}

/// A sidewall of the unit's one size with its date code.
fn tyre(code: &str) -> Scene {
    Scene::TyreSidewall {
        size: "ST225/75R15".to_owned(),
        code: format!("DOT 7R4K QH2 {code}"),
        pressure: "MAX LOAD 1150 KG (2540 LBS) AT 450 kPa (65 PSI) COLD".to_owned(),
    }
}

fn cylinder(collar: &[&str], rusted: bool) -> Scene {
    Scene::GasCylinder { collar_lines: lines(collar), rusted }
}

fn volts(reading: &str, unit: &str) -> Scene {
    Scene::Multimeter { reading: reading.to_owned(), unit: unit.to_owned() }
}

/// A dial in psi.
fn gauge(value: f32, full_scale: f32, label: &str) -> Scene {
    Scene::PressureGauge { value, full_scale, unit: "psi".to_owned(), label: label.to_owned() }
}
