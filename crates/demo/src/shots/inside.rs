//! Inside, and the last readings before leaving.

use super::{Frame, frame, gauge, volts};
use crate::photos::{Scene, Turn};

/// The shots of this part of the visit, in time.
pub(super) fn frames() -> Vec<Frame> {
    vec![
        frame("IMG_0352.jpg", 43, (11, 0, 10), Scene::HoldingTankValve),
        frame("IMG_0353.jpg", 44, (11, 1, 15), Scene::Extinguisher { needle: 0.5 }),
        frame(
            "IMG_0354.jpg",
            45,
            (11, 4, 20),
            Scene::BreakerPanel { ratings: vec![30, 20, 15, 15, 15] },
        ),
        frame("IMG_0355.jpg", 46, (11, 6, 30), Scene::Battery { terminals_corroded: false }),
        frame(
            "IMG_0356.jpg",
            47,
            (11, 8, 40),
            Scene::ThermometerDisplay { reading: "57.4".to_owned(), unit: "°F".to_owned() },
        ),
        frame("IMG_0357.jpg", 48, (11, 12, 50), Scene::OutletTester { lamps: [false, true, true] }),
        frame("IMG_0358.jpg", 49, (11, 18, 10), Scene::DrainTrap { leaks: true }),
        frame("IMG_0359.jpg", 50, (11, 20, 30), volts("110.3", "V~")),
        frame("alarm-1.jpg", 51, (11, 24, 10), Scene::GasAlarm).passed_on(),
        frame("IMG_0360.jpg", 52, (11, 26, 30), Scene::Range { yellow_flames: true }),
        frame("IMG_0361.jpg", 53, (11, 29, 20), Scene::Manometer { inches: 10.9 }),
        frame(
            "IMG_0362.jpg",
            54,
            (11, 31, 10),
            Scene::OutletTester { lamps: [false, false, false] },
        ),
        frame(
            "alarm-2.jpg",
            55,
            (11, 34, 5),
            Scene::SmokeAlarm { date: "MFG 2016 NOV 06".to_owned() },
        )
        .passed_on(),
        frame(
            "alarm-3.jpg",
            56,
            (11, 35, 10),
            Scene::CarbonMonoxideAlarm { date: "REPLACE BY 2029 MAR".to_owned() },
        )
        .passed_on(),
        frame(
            "IMG_0363.jpg",
            57,
            (11, 37, 5),
            Scene::WindowEscape { label: "EMERGENCY EXIT".to_owned() },
        )
        .turned(Turn::QuarterAnticlockwise),
        frame("IMG_0364.jpg", 58, (11, 42, 10), Scene::MoistureMeter { percent: 26.8 }),
        frame("IMG_0365.jpg", 59, (11, 42, 50), Scene::MoistureMeter { percent: 24.5 }),
        frame("IMG_0366.jpg", 59, (11, 42, 54), Scene::MoistureMeter { percent: 24.5 }).again(),
        frame("ceiling.jpg", 61, (11, 44, 20), Scene::CeilingStain).passed_on(),
        frame("IMG_0367.jpg", 62, (11, 46, 30), Scene::FurnaceExhaust { sooted: false }),
        frame("IMG_0368.jpg", 63, (11, 58, 10), Scene::Refrigerator { reading: "43.8".to_owned() }),
        frame("IMG_0369.jpg", 64, (12, 3, 10), gauge(60.5, 100.0, "TIRE")),
        frame("IMG_0370.jpg", 65, (12, 4, 5), gauge(41.0, 100.0, "TIRE")),
    ]
}
