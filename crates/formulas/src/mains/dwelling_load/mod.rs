//! The load of a manufactured home or park trailer, leg by leg, and the supply it needs.

mod formula;
#[cfg(test)]
mod tests;

pub(crate) use formula::FORMULA;

use quantity::uom::si::area::square_foot;
use quantity::{Current, Length, Power, Quantity, Voltage};

use crate::Problem;
use crate::table::Table;

static RANGES: Table = Table::of(include_str!("../../../../../data/tables/range_demand.csv"));

const LIGHTING: f64 = 3.0; // VA/ft²
const CIRCUIT: f64 = 1_500.0; // VA for each small-appliance or laundry circuit
const FIRST: f64 = 3_000.0; // VA at 100 %
const REST: f64 = 0.35;
const MOTOR: f64 = 1.25;
/// Share of a range and of a dryer that loads the neutral.
const NEUTRAL: f64 = 0.70;

/// What a nameplate states.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Nameplate {
    /// Amperes.
    Current(Current),
    /// Volt-amperes or watts.
    Power(Power),
}

impl Nameplate {
    fn amperes(self, volts: f64) -> f64 {
        match self {
            Self::Current(current) => current.base(),
            Self::Power(power) => power.base() / volts,
        }
    }
}

/// What is connected in a dwelling.
#[derive(Clone, Debug, PartialEq)]
pub struct ConnectedLoads {
    /// Outside length without the coupler.
    pub length: Length,
    /// Outside width.
    pub width: Length,
    /// 20 A small-appliance circuits.
    pub small_appliance_circuits: u32,
    /// Laundry circuits.
    pub laundry_circuits: u32,
    /// Motors, heaters and the like on the first leg alone.
    pub first_leg: Vec<Nameplate>,
    /// The same on the second leg.
    pub second_leg: Vec<Nameplate>,
    /// The same across both legs.
    pub both_legs: Vec<Nameplate>,
    /// The largest motor, which stands in one of the three lists.
    pub largest_motor: Option<Nameplate>,
    /// Disposer, dishwasher, water heater, dryer, wall oven, cooktop across both legs.
    pub appliances: Vec<Nameplate>,
    /// The dryer, which stands among the appliances too; for the neutral.
    pub dryer: Option<Nameplate>,
    /// Nameplate of a free-standing range.
    pub range: Option<Power>,
    /// Voltage of a leg: 120 V.
    pub leg_voltage: Voltage,
}

/// The load on each leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DwellingLoad {
    /// First leg.
    pub first_leg: Current,
    /// Second leg.
    pub second_leg: Current,
    /// First leg, each item rounded to whole amperes.
    pub first_leg_rounded: Current,
    /// Second leg, each item rounded to whole amperes.
    pub second_leg_rounded: Current,
    /// Both legs together.
    pub total: Power,
    /// Current of the neutral.
    pub neutral: Current,
    /// Lighting, small appliances and laundry before the demand factor.
    pub general_load: Power,
    /// The same after it.
    pub general_demand: Power,
    /// Demand of the range.
    pub range_demand: Power,
}

/// Demand of a free-standing range.
///
/// # Errors
/// [`Problem::OutOfRange`] above 17,500 W.
pub fn range_demand(nameplate: Power) -> Result<Power, Problem> {
    let watts = nameplate.base();
    if watts <= 10_000.0 {
        return Ok(nameplate * 0.8);
    }
    let table = &RANGES;
    let row = table.rows().find(|row| watts <= row.number("up_to"));
    row.map(|row| Power::from_base(row.number("demand"))).ok_or_else(|| {
        Problem::out_of_range("valid for ranges up to 17,500 W; the published steps end there")
    })
}

/// Whole amperes: fractions under half an ampere are dropped, the rest go up; a hair for the divisions.
fn whole(amperes: f64) -> f64 {
    (amperes + 0.5 + 1e-9).floor()
}

/// A current in whole amperes, as load calculations print it.
#[must_use]
pub fn whole_amperes(current: Current) -> Current {
    Current::from_base(whole(current.base()))
}

/// One leg's items, summed exactly and each rounded.
#[derive(Clone, Copy, Debug, Default)]
struct Leg {
    exact: f64,
    rounded: f64,
}

impl Leg {
    fn add(&mut self, amperes: f64) {
        self.exact += amperes;
        self.rounded += whole(amperes);
    }
}

/// Load of a manufactured home or park trailer by the method of 24 CFR 3280.811 and its likes.
///
/// Lighting at 3 VA/ft², 1500 VA for each small-appliance and laundry circuit, the first 3000 VA in full and
/// the rest at 35 %; nameplates of motors and heaters, a quarter more for the largest motor; appliances, at
/// 75 % if more than three; the range by its steps. What is across both legs is divided by twice the leg's
/// voltage. The neutral carries the lighting, the heavier leg's own items, and 70 % of range and dryer.
///
/// # Errors
/// [`Problem::Input`] if the largest motor or the dryer stands in no list; [`Problem::OutOfRange`] for a range above
/// 17,500 W.
pub fn dwelling_load(loads: &ConnectedLoads) -> Result<DwellingLoad, Problem> {
    let leg_volts = loads.leg_voltage.base();
    let across = 2.0 * leg_volts;
    let floor = (loads.length * loads.width).get::<square_foot>();
    let circuits = f64::from(loads.small_appliance_circuits) + f64::from(loads.laundry_circuits);
    let general = LIGHTING * floor + CIRCUIT * circuits;
    let demand = general.min(FIRST) + REST * (general - FIRST).max(0.0);
    let range = loads.range.map_or(Ok(Power::from_base(0.0)), range_demand)?;
    let share = if loads.appliances.len() > 3 { 0.75 } else { 1.0 };
    let appliances: f64 =
        loads.appliances.iter().map(|one| one.amperes(across)).sum::<f64>() * share;

    let mut motor = Motor { sought: loads.largest_motor, found: false };
    let both = motor.items(&loads.both_legs, across);
    let first = motor.items(&loads.first_leg, leg_volts);
    let second = motor.items(&loads.second_leg, leg_volts);
    if loads.largest_motor.is_some() && !motor.found {
        return Err(Problem::input(
            "largest_motor",
            "stands in no list; accepted: a value that first_leg, second_leg or both_legs has too",
        ));
    }
    let dryer = match loads.dryer {
        Some(dryer) if !stands_in(&loads.appliances, dryer, across) => {
            return Err(Problem::input(
                "dryer",
                "does not stand among the appliances; accepted: a value that appliances has too",
            ));
        }
        dryer => dryer.map_or(0.0, |dryer| dryer.amperes(across)),
    };
    // The neutral carries the lighting, what the legs do not share, and a part of range and dryer.
    let unshared = first.iter().sum::<f64>().max(second.iter().sum());
    let neutral = demand / across + unshared + NEUTRAL * (range.base() / across + dryer);
    let sum = |own: &[f64]| {
        let mut leg = Leg::default();
        for item in both.iter().chain(own).chain(&[demand / across, appliances]) {
            leg.add(*item);
        }
        leg.add(range.base() / across);
        leg
    };
    let (first, second) = (sum(&first), sum(&second));
    Ok(DwellingLoad {
        first_leg: Current::from_base(first.exact),
        second_leg: Current::from_base(second.exact),
        first_leg_rounded: Current::from_base(first.rounded),
        second_leg_rounded: Current::from_base(second.rounded),
        total: Power::from_base(leg_volts * (first.exact + second.exact)),
        neutral: Current::from_base(neutral),
        general_load: Power::from_base(general),
        general_demand: Power::from_base(demand),
        range_demand: range,
    })
}

/// Whether a nameplate stands in a list; amperes and volt-amperes of one nameplate agree to its digits.
fn stands_in(list: &[Nameplate], sought: Nameplate, volts: f64) -> bool {
    list.iter().any(|one| (one.amperes(volts) / sought.amperes(volts) - 1.0).abs() < 0.005)
}

/// The largest motor, looked for in the lists; a quarter is added where it stands.
struct Motor {
    sought: Option<Nameplate>,
    found: bool,
}

impl Motor {
    fn items(&mut self, nameplates: &[Nameplate], volts: f64) -> Vec<f64> {
        let mut here = self.sought.map(|motor| motor.amperes(volts)).filter(|it| *it > 0.0);
        self.found |= self.sought.is_some_and(|motor| motor.amperes(volts) <= 0.0);
        nameplates
            .iter()
            .map(|nameplate| {
                let amperes = nameplate.amperes(volts);
                match here {
                    // Once a list; amperes and volt-amperes of one nameplate agree to its digits.
                    Some(motor) if (amperes / motor - 1.0).abs() < 0.005 => {
                        here = None;
                        self.found = true;
                        amperes * MOTOR
                    }
                    _ => amperes,
                }
            })
            .collect()
    }
}

/// The smallest of the usual supplies that carries a leg's load: `40 A`, `50 A` or `over 50 A`.
#[must_use]
pub fn supply_for(heavier_leg: Current) -> &'static str {
    // A hair for the divisions.
    let amperes = heavier_leg.base() - 1e-9;
    if amperes <= 40.0 {
        "40 A"
    } else if amperes <= 50.0 {
        "50 A"
    } else {
        "over 50 A"
    }
}
