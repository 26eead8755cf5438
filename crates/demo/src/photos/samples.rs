//! One of every scene, for looking and for tests.

use super::{Scene, Side};

fn lines(text: &str) -> Vec<String> {
    text.split('|').map(str::to_owned).collect()
}

fn exterior(side: Side) -> Scene {
    Scene::Exterior { side, name: "Heron".to_owned(), model: "24RB".to_owned() }
}

/// One of every scene with a short name; where a scene has a fault to show, it shows it.
pub fn samples() -> Vec<(&'static str, Scene)> {
    vec![
        ("exterior-front", exterior(Side::Front)),
        ("exterior-rear", exterior(Side::Rear)),
        ("exterior-street", exterior(Side::Street)),
        ("exterior-kerb", exterior(Side::Kerb)),
        (
            "data-plate",
            Scene::DataPlate {
                lines: lines(
                    "NEARSIDE DEMO COACHWORKS|MODEL: Heron 24RB|SERIAL: 0DEMO24RBK1004417|DATE OF MANUFACTURE: 03/2019|LP GAS: 11 in. w.c.|ELECTRICAL: 120 V AC  30 A",
                ),
            },
        ),
        (
            "certification-label",
            Scene::CertificationLabel {
                lines: lines(
                    "MANUFACTURED BY: NEARSIDE DEMO COACHWORKS|DATE: 03/2019   GVWR: 3447 KG (7600 LB)|GAWR FRONT: 1588 KG (3500 LB) WITH ST205/75R14|GAWR REAR: 1588 KG (3500 LB) WITH ST205/75R14|COLD INFLATION: 345 kPa (50 PSI) SINGLE|THIS VEHICLE CONFORMS TO ALL APPLICABLE STANDARDS|VIN: 0DEMO24RBK1004417  TYPE: TRAVEL TRAILER",
                ),
            },
        ),
        ("serial-stamp", Scene::SerialStamp { text: "0DEMO24RBK1004417".to_owned() }),
        (
            "label",
            Scene::Label {
                lines: lines("CAUTION|Shut off LP gas before refuelling|Keep vents clear"),
            },
        ),
        (
            "tyre-sidewall",
            Scene::TyreSidewall {
                size: "ST205/75R14".to_owned(),
                code: "DOT W4KM 7HR 3117".to_owned(),
                pressure: "MAX LOAD 800 KG (1760 LBS) AT 450 kPa (65 PSI) COLD".to_owned(),
            },
        ),
        ("tread-gauge", Scene::TreadGauge { thirty_seconds: 5.0 }),
        ("hub-infrared", Scene::HubInfrared { reading: "112.4".to_owned() }),
        ("brake-drum", Scene::BrakeDrum),
        ("spring-hanger", Scene::SpringHanger { cracked: true }),
        (
            "pressure-gauge",
            Scene::PressureGauge {
                value: 52.0,
                full_scale: 160.0,
                unit: "psi".to_owned(),
                label: "WATER".to_owned(),
            },
        ),
        ("manometer", Scene::Manometer { inches: 11.2 }),
        ("multimeter", Scene::Multimeter { reading: "118.6".to_owned(), unit: "V~".to_owned() }),
        (
            "thermometer-display",
            Scene::ThermometerDisplay { reading: "58.3".to_owned(), unit: "°F".to_owned() },
        ),
        ("moisture-meter", Scene::MoistureMeter { percent: 23.4 }),
        ("scale-display", Scene::ScaleDisplay { reading: "1745".to_owned() }),
        ("level", Scene::Level { tilt_degrees: 1.2 }),
        ("jack-stand", Scene::JackStand { pad_cracked: true }),
        ("pier-blocks", Scene::PierBlocks { tilted: true }),
        ("chock", Scene::Chock),
        ("step", Scene::Step),
        ("coupler", Scene::Coupler { rusted: true }),
        ("safety-chains", Scene::SafetyChains),
        ("breakaway-switch", Scene::BreakawaySwitch),
        ("frame-rail", Scene::FrameRail { cracked: true }),
        (
            "gas-cylinder",
            Scene::GasCylinder {
                collar_lines: lines(
                    "DOT 4BA240  W.C. 47.6 LB|T.W. 17.2 LB   D.T. 4.0|MFG 05 12   KD 77120|LP GAS",
                ),
                rusted: true,
            },
        ),
        ("regulator", Scene::Regulator),
        ("copper-pipe-joint", Scene::CopperPipeJoint { bubbles: true }),
        ("range", Scene::Range { yellow_flames: true }),
        ("outlet-tester", Scene::OutletTester { lamps: [false, true, true] }),
        ("breaker-panel", Scene::BreakerPanel { ratings: vec![30, 20, 15, 15, 20, 15] }),
        ("cord-plug", Scene::CordPlug { scorched: true }),
        ("battery", Scene::Battery { terminals_corroded: true }),
        ("solar-panel", Scene::SolarPanel { shaded: true }),
        ("water-inlet", Scene::WaterInlet),
        ("tap-running", Scene::TapRunning),
        ("drain-trap", Scene::DrainTrap { leaks: true }),
        ("holding-tank-valve", Scene::HoldingTankValve),
        ("underbelly", Scene::Underbelly { hole: true }),
        ("water-heater-door", Scene::WaterHeaterDoor),
        ("relief-valve", Scene::ReliefValve),
        ("furnace-exhaust", Scene::FurnaceExhaust { sooted: true }),
        ("air-conditioner-shroud", Scene::AirConditionerShroud { cracked: true }),
        ("refrigerator", Scene::Refrigerator { reading: "38.5".to_owned() }),
        ("roof-seam", Scene::RoofSeam { cracked: true }),
        ("roof-vent", Scene::RoofVent { cracked: true }),
        ("wall-panel", Scene::WallPanel { delaminated: true }),
        ("awning", Scene::Awning { torn: true }),
        ("slide-out", Scene::SlideOut { seal_torn: true }),
        ("ceiling-stain", Scene::CeilingStain),
        ("floor-soft-spot", Scene::FloorSoftSpot),
        ("window-fogged", Scene::WindowFogged),
        ("window-escape", Scene::WindowEscape { label: "EMERGENCY EXIT".to_owned() }),
        ("smoke-alarm", Scene::SmokeAlarm { date: "MFG 2018 NOV 06".to_owned() }),
        (
            "carbon-monoxide-alarm",
            Scene::CarbonMonoxideAlarm { date: "REPLACE BY 2025 MAR".to_owned() },
        ),
        ("gas-alarm", Scene::GasAlarm),
        ("extinguisher", Scene::Extinguisher { needle: 0.2 }),
    ]
}
