//! The load of a dwelling, as it is called by name.

use quantity::{Kind, Quantity, Value, Voltage};

use super::{ConnectedLoads, Nameplate, dwelling_load, supply_for, whole_amperes};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Output, Problem, Source};

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.dwelling_load",
    summary: "Load of a manufactured home or park trailer on each leg, and the supply it needs.",
    inputs: &[
        Input::quantity("length", Kind::Length, "outside, without the coupler")
            .accepting(Accepts::Above("0 ft")),
        Input::quantity("width", Kind::Length, "outside").accepting(Accepts::Above("0 ft")),
        Input::quantity("small_appliance_circuits", Kind::Number, "20 A circuits, usually 2")
            .accepting(Accepts::AtLeast("0")),
        Input::text("laundry", "yes, no, or how many laundry circuits; none if left out").optional(),
        Input::any_list(
            "first_leg",
            "nameplates of motors and heaters on the first leg alone, in A or VA",
        )
        .optional(),
        Input::any_list("second_leg", "the same on the second leg").optional(),
        Input::any_list(
            "both_legs",
            "the same across both legs; of heating and air conditioning the larger only, but a shared \
             blower counts",
        )
        .optional(),
        Input::any_quantity(
            "largest_motor",
            "the largest motor of the three lists, once more: a quarter of it is added",
        )
        .optional(),
        Input::any_list(
            "appliances",
            "disposer, dishwasher, water heater, dryer, wall oven, cooktop across both legs; 75 % is \
             counted if more than three",
        )
        .optional(),
        Input::any_quantity(
            "dryer",
            "the dryer's nameplate once more, if it stands among the appliances: 70 % of it is counted on the \
             neutral",
        )
        .optional(),
        Input::quantity("range", Kind::Power, "nameplate of a free-standing range")
            .accepting(Accepts::AtLeast("0 W"))
            .optional(),
        Input::quantity("voltage", Kind::Voltage, "of a leg; 120 V if left out")
            .accepting(Accepts::Between("100 V", "130 V"))
            .optional(),
    ],
    result: Gives::quantity("heavier_leg", "A", "exact load of the heavier leg"),
    parts: &[
        Gives::quantity("first_leg", "A", "exact load of the first leg"),
        Gives::quantity("second_leg", "A", "exact load of the second leg"),
        Gives::quantity("first_leg_rounded", "A", "each item rounded to whole amperes"),
        Gives::quantity("second_leg_rounded", "A", "each item rounded to whole amperes"),
        Gives::quantity("heavier_leg_whole", "A", "the exact load, rounded once to whole amperes"),
        Gives::quantity("total", "VA", "both legs together"),
        Gives::quantity("neutral", "A", "exact load of the neutral"),
        Gives::quantity("neutral_whole", "A", "the same, rounded once to whole amperes"),
        Gives::words("supply", "40 A, 50 A or over 50 A, by the exact load"),
        Gives::quantity("general_load", "VA", "lighting, small appliances and laundry, connected"),
        Gives::quantity("general_demand", "VA", "the same after the demand factor"),
        Gives::quantity("range_demand", "VA", "the range after its demand factor"),
    ],
    valid: "manufactured homes and park trailers on 120/240 V, ranges up to 17,500 W",
    sources: &[
        Source {
            document: "675 IAC 15-2-100",
            section: "lighting, small appliances, demand factors, motors, appliances, range",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "NFPA 70, 550.18 and 552.47; 24 CFR 3280.811",
            section: "the same method, with 1500 VA for laundry",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "NFPA 70 (2017), Annex D",
            section: "fractions under 0.5 A may be dropped; example D1(a): 70 % of range and dryer on the neutral",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[
        ("length", "70 ft"),
        ("width", "10 ft"),
        ("small_appliance_circuits", "2"),
        ("laundry", "yes"),
        ("first_leg", "200 VA"),
        ("second_leg", "400 VA"),
        ("both_legs", "1000 VA"),
        ("largest_motor", "200 VA"),
        ("range", "7 kW"),
    ],
    compute: |inputs| {
        let loads = read(inputs)?;
        let found = dwelling_load(&loads)?;
        let (first, second) = (found.first_leg, found.second_leg);
        let heavier = if first > second { first } else { second };
        let rounded = found.first_leg_rounded.base().max(found.second_leg_rounded.base());
        let mut outcome = Outcome::new(heavier)
            .part("first_leg", first)
            .part("second_leg", second)
            .part("first_leg_rounded", found.first_leg_rounded)
            .part("second_leg_rounded", found.second_leg_rounded)
            .part("heavier_leg_whole", whole_amperes(heavier))
            .part("total", found.total)
            .part("neutral", found.neutral)
            .part("neutral_whole", whole_amperes(found.neutral))
            .part("supply", Output::words(supply_for(heavier)))
            .part("general_load", found.general_load)
            .part("general_demand", found.general_demand)
            .part("range_demand", found.range_demand)
            .note(
                "a 40 A cord serves only homes with gas or oil heating and cooking; without air \
                 conditioning on one, allow 15 A a leg for it",
            )
            .note(
                "a load calculation is for those licensed to make it; here it tells whether the supply seen \
                 looks too small",
            );
        for size in [40.0, 50.0] {
            if (heavier.base() <= size) != (rounded <= size) {
                outcome = outcome.note(format!(
                    "rounding each item crosses {size} A; the exact load is what the supply is held against"
                ));
            }
        }
        Ok(outcome)
    },
};

fn read(inputs: &Inputs<'_>) -> Result<ConnectedLoads, Problem> {
    let largest = inputs.optional_value("largest_motor");
    Ok(ConnectedLoads {
        length: inputs.get("length")?,
        width: inputs.get("width")?,
        small_appliance_circuits: whole(
            "small_appliance_circuits",
            inputs.get("small_appliance_circuits")?,
        )?,
        laundry_circuits: laundry(inputs.optional_words("laundry").unwrap_or("no"))?,
        first_leg: nameplates(inputs, "first_leg")?,
        second_leg: nameplates(inputs, "second_leg")?,
        both_legs: nameplates(inputs, "both_legs")?,
        largest_motor: largest.map(|value| nameplate("largest_motor", value)).transpose()?,
        appliances: nameplates(inputs, "appliances")?
            .into_iter()
            .filter(|one| one.amperes(1.0) > 0.0)
            .collect(),
        dryer: inputs.optional_value("dryer").map(|value| nameplate("dryer", value)).transpose()?,
        range: inputs.optional("range")?,
        leg_voltage: inputs.optional("voltage")?.unwrap_or(Voltage::from_base(120.0)),
    })
}

fn nameplates(inputs: &Inputs<'_>, name: &str) -> Result<Vec<Nameplate>, Problem> {
    inputs.values(name).iter().map(|value| nameplate(name, *value)).collect()
}

fn nameplate(name: &str, value: Value) -> Result<Nameplate, Problem> {
    if value.base < 0.0 {
        return Err(Problem::input(name, "is below zero; accepted: zero or more"));
    }
    let current = value.typed().map(Nameplate::Current);
    current.or_else(|| value.typed().map(Nameplate::Power)).ok_or_else(|| {
        Problem::input(
            name,
            format!(
                "is a {}; accepted: nameplates in A, VA, W or kW",
                value.kind.word().replace('_', " ")
            ),
        )
    })
}

/// A small count.
fn whole(name: &str, number: f64) -> Result<u32, Problem> {
    (0..=50_u32)
        .find(|count| (f64::from(*count) - number).abs() < 1e-9)
        .ok_or_else(|| Problem::input(name, "is no count; accepted: a whole number from 0 to 50"))
}

fn laundry(text: &str) -> Result<u32, Problem> {
    match text {
        "yes" => Ok(1),
        "no" => Ok(0),
        _ => text.parse().map_or_else(
            |_| {
                Err(Problem::input(
                    "laundry",
                    format!(
                        "`{text}` is not accepted; accepted: yes, no, or a whole number of circuits"
                    ),
                ))
            },
            |number: f64| whole("laundry", number),
        ),
    }
}
