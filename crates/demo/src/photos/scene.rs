//! The scenes there are, each with the figures that its picture shows.

use super::picture::Picture;
use super::{
    DrawError, alarms, coupling, electric, exterior, gas, heating, inside, meters, plates,
    running_gear, shell, support, water,
};

/// A side of the unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Where the coupling is.
    Front,
    /// Opposite the coupling.
    Rear,
    /// The driver's side; no entry door.
    Street,
    /// The side with the entry door.
    Kerb,
}

/// What is in front of the camera.
#[derive(Debug, Clone, PartialEq)]
pub enum Scene {
    /// The whole trailer from one side.
    Exterior {
        /// Which side is seen.
        side: Side,
        /// The name on it; about eight letters fit.
        name: String,
        /// The model on it.
        model: String,
    },
    /// The maker's riveted plate.
    DataPlate {
        /// The title, then lines, `label: value` where there is a value.
        lines: Vec<String>,
    },
    /// The certification label inside the door jamb.
    CertificationLabel {
        /// The label's lines.
        lines: Vec<String>,
    },
    /// A number stamped into the frame.
    SerialStamp {
        /// The number.
        text: String,
    },
    /// Any other label.
    Label {
        /// A heading, then smaller lines.
        lines: Vec<String>,
    },
    /// A tyre's sidewall.
    TyreSidewall {
        /// Size and kind, as moulded.
        size: String,
        /// The date code, as moulded.
        code: String,
        /// Load and pressure, as moulded.
        pressure: String,
    },
    /// A depth gauge in the tread.
    TreadGauge {
        /// The depth shown, in 32nds of an inch, 0 to 20.
        thirty_seconds: f32,
    },
    /// An infrared thermometer aimed at a hub.
    HubInfrared {
        /// What the thermometer shows, in °F.
        reading: String,
    },
    /// A brake opened: shoes, springs, magnet.
    BrakeDrum,
    /// Leaf springs at their equaliser.
    SpringHanger {
        /// Whether its hanger is cracked.
        cracked: bool,
    },
    /// A round pressure gauge.
    PressureGauge {
        /// The reading.
        value: f32,
        /// The end of the scale, above 0.
        full_scale: f32,
        /// The unit printed on the dial.
        unit: String,
        /// What else is printed on the dial.
        label: String,
    },
    /// A U-tube of water.
    Manometer {
        /// How far the columns stand apart, in inches, 0 to 15.
        inches: f32,
    },
    /// A multimeter and its leads.
    Multimeter {
        /// The figures shown.
        reading: String,
        /// The unit shown.
        unit: String,
    },
    /// A pocket thermometer.
    ThermometerDisplay {
        /// The figures shown.
        reading: String,
        /// The unit shown.
        unit: String,
    },
    /// A pin meter pressed to a wall.
    MoistureMeter {
        /// The moisture shown, 0 to 99.9 %.
        percent: f32,
    },
    /// The display of a wheel scale.
    ScaleDisplay {
        /// The figures shown, in pounds.
        reading: String,
    },
    /// A spirit level on the floor.
    Level {
        /// The tilt; positive moves the bubble to the right.
        tilt_degrees: f32,
    },
    /// A screw jack on its pad.
    JackStand {
        /// Whether the pad under it is cracked.
        pad_cracked: bool,
    },
    /// A pier of blocks under the frame.
    PierBlocks {
        /// Whether the pier leans.
        tilted: bool,
    },
    /// A chock at a wheel.
    Chock,
    /// The folding entry step.
    Step,
    /// The ball coupler.
    Coupler {
        /// Whether it is rusted.
        rusted: bool,
    },
    /// The safety chains and their hooks.
    SafetyChains,
    /// The breakaway switch and its cable.
    BreakawaySwitch,
    /// The frame rail at a cross-member's weld.
    FrameRail {
        /// Whether the weld is cracked.
        cracked: bool,
    },
    /// A gas cylinder's collar and valve.
    GasCylinder {
        /// What is stamped into the collar.
        collar_lines: Vec<String>,
        /// Whether it is rusted.
        rusted: bool,
    },
    /// The gas regulator.
    Regulator,
    /// A flare joint in a gas pipe under leak fluid.
    CopperPipeJoint {
        /// Whether the leak fluid foams.
        bubbles: bool,
    },
    /// A burner alight.
    Range {
        /// Yellow and tall rather than blue.
        yellow_flames: bool,
    },
    /// A three-lamp tester in an outlet.
    OutletTester {
        /// Which lamps are lit, from the left.
        lamps: [bool; 3],
    },
    /// The breaker panel, its cover off.
    BreakerPanel {
        /// Amperes, the main first.
        ratings: Vec<u16>,
    },
    /// The plug of the shore cord.
    CordPlug {
        /// Whether a blade is scorched.
        scorched: bool,
    },
    /// A battery in its tray.
    Battery {
        /// Whether its terminals are corroded.
        terminals_corroded: bool,
    },
    /// A solar panel on the roof.
    SolarPanel {
        /// Whether part of it lies in shade.
        shaded: bool,
    },
    /// The city-water inlet with hose and regulator.
    WaterInlet,
    /// A tap running.
    TapRunning,
    /// The trap under a sink.
    DrainTrap {
        /// Whether it drips.
        leaks: bool,
    },
    /// The holding tanks' handles and outlet.
    HoldingTankValve,
    /// The underbelly cover.
    Underbelly {
        /// Whether it is holed, the insulation showing.
        hole: bool,
    },
    /// The water heater's door.
    WaterHeaterDoor,
    /// The water heater's relief valve, weeping.
    ReliefValve,
    /// The furnace's intake and exhaust.
    FurnaceExhaust {
        /// Whether soot marks the wall.
        sooted: bool,
    },
    /// The rooftop air conditioner.
    AirConditionerShroud {
        /// Whether the shroud is cracked.
        cracked: bool,
    },
    /// The refrigerator, open.
    Refrigerator {
        /// What the thermometer on its shelf shows, in °F.
        reading: String,
    },
    /// Sealant along the roof's edge moulding.
    RoofSeam {
        /// Whether the sealant is cracked.
        cracked: bool,
    },
    /// A roof vent's lid.
    RoofVent {
        /// Whether the lid is cracked.
        cracked: bool,
    },
    /// Cladding seen along the wall.
    WallPanel {
        /// Whether it bulges.
        delaminated: bool,
    },
    /// The awning let out.
    Awning {
        /// Whether the fabric is torn.
        torn: bool,
    },
    /// The corner of a slide-out.
    SlideOut {
        /// Whether its seal is torn.
        seal_torn: bool,
    },
    /// A stain on the ceiling.
    CeilingStain,
    /// A soft place in the floor.
    FloorSoftSpot,
    /// A window fogged between its panes.
    WindowFogged,
    /// The escape window.
    WindowEscape {
        /// The label's heading.
        label: String,
    },
    /// A smoke alarm.
    SmokeAlarm {
        /// The date line on its label.
        date: String,
    },
    /// A carbon-monoxide alarm.
    CarbonMonoxideAlarm {
        /// The date line on its label.
        date: String,
    },
    /// A gas alarm.
    GasAlarm,
    /// An extinguisher and its gauge.
    Extinguisher {
        /// Where the needle stands: 0 empty, 0.5 charged, 1 overcharged.
        needle: f32,
    },
}

impl Scene {
    /// Puts the picture together; the seed chooses its chance details.
    pub(crate) fn compose(&self, seed: u64) -> Picture {
        let mut picture = Picture::new(seed);
        let p = &mut picture;
        match self {
            Self::Exterior { side, name, model } => exterior::exterior(p, *side, (name, model)),
            Self::DataPlate { lines } => plates::data_plate(p, lines),
            Self::CertificationLabel { lines } => plates::certification_label(p, lines),
            Self::SerialStamp { text } => plates::serial_stamp(p, text),
            Self::Label { lines } => plates::label(p, lines),
            Self::TyreSidewall { size, code, pressure } => {
                running_gear::tyre_sidewall(p, size, code, pressure);
            }
            Self::TreadGauge { thirty_seconds } => running_gear::tread_gauge(p, *thirty_seconds),
            Self::HubInfrared { reading } => running_gear::hub_infrared(p, reading),
            Self::BrakeDrum => running_gear::brake_drum(p),
            Self::SpringHanger { cracked } => running_gear::spring_hanger(p, *cracked),
            Self::PressureGauge { value, full_scale, unit, label } => {
                meters::pressure_gauge(p, *value, *full_scale, unit, label);
            }
            Self::Manometer { inches } => meters::manometer(p, *inches),
            Self::Multimeter { reading, unit } => meters::multimeter(p, reading, unit),
            Self::ThermometerDisplay { reading, unit } => meters::thermometer(p, reading, unit),
            Self::MoistureMeter { percent } => meters::moisture_meter(p, *percent),
            Self::ScaleDisplay { reading } => meters::scale_display(p, reading),
            Self::Level { tilt_degrees } => meters::level(p, *tilt_degrees),
            Self::JackStand { pad_cracked } => support::jack_stand(p, *pad_cracked),
            Self::PierBlocks { tilted } => support::pier_blocks(p, *tilted),
            Self::Chock => support::chock(p),
            Self::Step => support::step(p),
            Self::Coupler { rusted } => coupling::coupler(p, *rusted),
            Self::SafetyChains => coupling::safety_chains(p),
            Self::BreakawaySwitch => coupling::breakaway_switch(p),
            Self::FrameRail { cracked } => coupling::frame_rail(p, *cracked),
            Self::GasCylinder { collar_lines, rusted } => {
                gas::gas_cylinder(p, collar_lines, *rusted);
            }
            Self::Regulator => gas::regulator(p),
            Self::CopperPipeJoint { bubbles } => gas::copper_pipe_joint(p, *bubbles),
            Self::Range { yellow_flames } => gas::range(p, *yellow_flames),
            Self::OutletTester { lamps } => electric::outlet_tester(p, *lamps),
            Self::BreakerPanel { ratings } => electric::breaker_panel(p, ratings),
            Self::CordPlug { scorched } => electric::cord_plug(p, *scorched),
            Self::Battery { terminals_corroded } => electric::battery(p, *terminals_corroded),
            Self::SolarPanel { shaded } => electric::solar_panel(p, *shaded),
            Self::WaterInlet => water::water_inlet(p),
            Self::TapRunning => water::tap_running(p),
            Self::DrainTrap { leaks } => water::drain_trap(p, *leaks),
            Self::HoldingTankValve => water::holding_tank_valve(p),
            Self::Underbelly { hole } => water::underbelly(p, *hole),
            Self::WaterHeaterDoor => heating::water_heater_door(p),
            Self::ReliefValve => heating::relief_valve(p),
            Self::FurnaceExhaust { sooted } => heating::furnace_exhaust(p, *sooted),
            Self::AirConditionerShroud { cracked } => heating::air_conditioner_shroud(p, *cracked),
            Self::Refrigerator { reading } => heating::refrigerator(p, reading),
            Self::RoofSeam { cracked } => shell::roof_seam(p, *cracked),
            Self::RoofVent { cracked } => shell::roof_vent(p, *cracked),
            Self::WallPanel { delaminated } => shell::wall_panel(p, *delaminated),
            Self::Awning { torn } => shell::awning(p, *torn),
            Self::SlideOut { seal_torn } => shell::slide_out(p, *seal_torn),
            Self::CeilingStain => inside::ceiling_stain(p),
            Self::FloorSoftSpot => inside::floor_soft_spot(p),
            Self::WindowFogged => inside::window_fogged(p),
            Self::WindowEscape { label } => inside::window_escape(p, label),
            Self::SmokeAlarm { date } => alarms::smoke_alarm(p, date),
            Self::CarbonMonoxideAlarm { date } => alarms::carbon_monoxide_alarm(p, date),
            Self::GasAlarm => alarms::gas_alarm(p),
            Self::Extinguisher { needle } => alarms::extinguisher(p, *needle),
        }
        picture
    }

    /// Refuses figures that the picture could not show.
    pub(crate) fn check(&self) -> Result<(), DrawError> {
        let within = |what, value: f32, low: f32, high: f32, accepted| {
            if (low..=high).contains(&value) {
                Ok(())
            } else {
                Err(DrawError::Figure { what, value, accepted })
            }
        };
        match self {
            Self::TreadGauge { thirty_seconds } => {
                within("the tread depth in 32nds of an inch", *thirty_seconds, 0.0, 20.0, "0 to 20")
            }
            Self::PressureGauge { value, full_scale, .. } => {
                within(
                    "the end of the gauge's scale",
                    *full_scale,
                    0.1,
                    10_000.0,
                    "0.1 to 10,000",
                )?;
                within("the gauge's reading", *value / *full_scale, 0.0, 1.0, "0 to 1 of the scale")
            }
            Self::Manometer { inches } => {
                within("the manometer's reading in inches", *inches, 0.0, 15.0, "0 to 15")
            }
            Self::MoistureMeter { percent } => {
                within("the moisture in percent", *percent, 0.0, 99.9, "0 to 99.9")
            }
            Self::Level { tilt_degrees } => {
                within("the tilt in degrees", *tilt_degrees, -45.0, 45.0, "-45 to 45")
            }
            Self::Extinguisher { needle } => {
                within("the needle's place", *needle, 0.0, 1.0, "0 to 1")
            }
            _ => Ok(()),
        }
    }
}
