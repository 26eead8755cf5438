//! What the order of a visit owes to safety, and which acts disturb which waits.

use plan::Point;

use super::site::UNDER_OR_ON;

/// Points that make others safe. Where one of them is not examined, what comes after it by the plan is not
/// silently set free but blocked.
pub(super) const PROTECTIVE: &[&str] = &[
    "gas_smell",
    "gas_hoses",
    "gas_leak_check",
    "gas_alarm",
    "carbon_monoxide_alarm",
    "pedestal",
    "cord_and_inlet",
    "skin_voltage",
];

/// The first use of a supply, after which alone everything else may use it: state word and point.
pub(super) const FIRST_USE: &[(&str, &str)] =
    &[("shore_power_on", "skin_voltage"), ("gas_on", "gas_leak_check")];

/// Points that come before everything else, in this order, except for what they wait for themselves and what
/// is done away from the unit: nobody works on a unit before the nose and the test of its skin. Where one of them is
/// left out, only what rests on it by [`PROTECTIVE`] is blocked.
pub(super) const BEFORE_ALL: &[&str] = &["gas_smell", "skin_voltage"];

/// Stops away from the unit.
pub(super) const AWAY: &[&str] = &["papers", "site"];

/// Drawing water or letting it drain.
const WATER: &str = "water moving";
/// Using gas or turning its valves.
const GAS: &str = "gas flowing";
/// Heating or cooling the rooms.
const CLIMATE: &str = "heating or cooling";
/// Using or charging the battery.
const BATTERY: &str = "twelve-volt loads";

/// What an act at this point disturbs.
pub(super) fn stirs(point: &Point) -> Vec<&'static str> {
    let mut stirs = Vec::new();
    let needs = |word: &str| point.needs.iter().any(|need| need == word);
    let water = matches!(point.system.as_str(), "water" | "waste" | "hot_water");
    if water && (!point.operate.is_empty() || needs("water_main_on") || needs("water_pump_on")) {
        stirs.push(WATER);
    }
    if needs("gas_on") || (point.system == "gas" && !point.operate.is_empty()) {
        stirs.push(GAS);
    }
    if matches!(point.id.as_str(), "thermostat" | "furnace" | "air_conditioner" | "heat_pump")
        || point.id == "electric_heat"
    {
        stirs.push(CLIMATE);
    }
    if (point.system == "battery_sun" && !point.operate.is_empty())
        || matches!(point.id.as_str(), "lights_and_usb" | "water_pump" | "slide_out" | "breakaway")
    {
        stirs.push(BATTERY);
    }
    if matches!(point.stop.as_str(), "underneath" | "roof") {
        stirs.push(UNDER_OR_ON);
    }
    stirs
}

/// Words of what must not be touched, and the channel that they mean.
const UNTOUCHED: &[(&str, &str)] = &[
    ("tap", WATER),
    ("toilet", WATER),
    ("drain", WATER),
    ("dump valve", WATER),
    ("water heater", WATER),
    ("gas valve", GAS),
    ("burner", GAS),
    ("container", GAS),
    ("thermostat", CLIMATE),
    ("register", CLIMATE),
    ("twelve-volt", BATTERY),
    ("charger", BATTERY),
    ("switches", BATTERY),
];

/// The channels that a wait wants quiet, from the words of what must not be touched. What no channel stands
/// for is only told to the person.
pub(super) fn quiet(untouched: &[String]) -> Vec<&'static str> {
    let mut quiet = Vec::new();
    for (word, channel) in UNTOUCHED {
        if untouched.iter().any(|words| words.contains(word)) && !quiet.contains(channel) {
            quiet.push(*channel);
        }
    }
    quiet
}
