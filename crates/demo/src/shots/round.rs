//! Gas, water and the round outside, while the slow tests run.

use super::{Frame, exterior, frame, gauge};
use crate::photos::{Scene, Side, Turn};

/// The shots of this part of the visit, in time.
pub(super) fn frames() -> Vec<Frame> {
    vec![
        frame("IMG_0336.jpg", 27, (10, 2, 20), Scene::Regulator),
        frame("IMG_0337.jpg", 28, (10, 16, 10), Scene::Manometer { inches: 9.1 }),
        frame("IMG_0338.jpg", 29, (10, 18, 12), Scene::Manometer { inches: 12.7 }),
        frame("IMG_0339.jpg", 30, (10, 20, 45), Scene::CopperPipeJoint { bubbles: false }),
        frame("IMG_0340.jpg", 31, (10, 22, 30), Scene::WindowFogged).turned(Turn::QuarterClockwise),
        frame("IMG_0341.jpg", 32, (10, 25, 15), Scene::Awning { torn: true }).located(),
        frame("IMG_0342.jpg", 33, (10, 30, 5), exterior(Side::Rear)).dark(),
        frame("IMG_0343.jpg", 34, (10, 36, 10), Scene::WallPanel { delaminated: true }),
        frame("IMG_0344.jpg", 34, (10, 36, 14), Scene::WallPanel { delaminated: true }).again(),
        frame("IMG_0345.jpg", 36, (10, 42, 20), Scene::SlideOut { seal_torn: true }),
        frame("IMG_0346.jpg", 37, (10, 47, 10), Scene::RoofSeam { cracked: true }),
        frame("IMG_0347.jpg", 38, (10, 47, 40), Scene::RoofVent { cracked: false }).blurred(),
        frame("IMG_0348.jpg", 39, (10, 50, 10), Scene::WaterInlet),
        frame("IMG_0349.jpg", 40, (10, 52, 15), gauge(52.0, 160.0, "WATER")),
        frame("IMG_0350.jpg", 41, (10, 58, 20), Scene::WaterHeaterDoor),
        frame("IMG_0351.jpg", 42, (10, 58, 50), Scene::ReliefValve).located(),
    ]
}
