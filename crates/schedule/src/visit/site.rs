//! The states of a site that points name, as the planner counts them: values, and the work of changing them.

/// A word of `data/site_states.toml`, as a state and its value.
pub(super) struct SiteWord {
    pub(super) word: &'static str,
    pub(super) state: &'static str,
    pub(super) value: &'static str,
}

/// The words that are known; any other becomes a state of its own with the values `no` and `yes`.
pub(super) const WORDS: &[SiteWord] = &[
    SiteWord { word: "shore_power_on", state: "shore_power", value: "on" },
    SiteWord { word: "shore_power_off", state: "shore_power", value: "off" },
    SiteWord { word: "gas_on", state: "gas", value: "on" },
    SiteWord { word: "gas_off", state: "gas", value: "off" },
    SiteWord { word: "water_main_on", state: "water", value: "main" },
    SiteWord { word: "water_pump_on", state: "water", value: "pump" },
    SiteWord { word: "tanks_filled", state: "tanks", value: "filled" },
    SiteWord { word: "generator_on", state: "generator", value: "on" },
    SiteWord { word: "slide_outs_out", state: "slide_outs", value: "out" },
    SiteWord { word: "awnings_out", state: "awnings", value: "out" },
    SiteWord { word: "unit_level", state: "unit", value: "level" },
    SiteWord { word: "unit_coupled", state: "coupling", value: "coupled" },
];

/// The words by which plans and records call the values of a state, each with its value: a word and the value that
/// holds when it is said. A state that no table knows is its own word, and its value is `yes`.
#[must_use]
pub fn site_words(state: &str) -> Vec<(String, &'static str)> {
    let known = WORDS.iter().filter(|known| known.state == state);
    let words: Vec<(String, &str)> = known.map(|one| (one.word.to_owned(), one.value)).collect();
    if words.is_empty() { vec![(state.to_owned(), "yes")] } else { words }
}

/// A state of the site.
pub(super) struct Site {
    pub(super) state: &'static str,
    pub(super) title: &'static str,
    /// Its value unless the record says otherwise.
    pub(super) found: &'static str,
    /// Whether it is left as it was found.
    pub(super) restored: bool,
    pub(super) changes: &'static [SiteChange],
}

/// The work of bringing a state to a value. Minutes are our own estimates.
pub(super) struct SiteChange {
    pub(super) to: &'static str,
    pub(super) stop: &'static str,
    pub(super) minutes: i32,
    /// Other states that it needs, by words.
    pub(super) needs: &'static [&'static str],
    /// Points that are done before, where the plan has them.
    pub(super) after: &'static [&'static str],
    /// Channels that nobody may stir meanwhile.
    pub(super) clears: &'static [&'static str],
    pub(super) caution: &'static str,
}

/// Where somebody would be crushed or hit.
pub(super) const UNDER_OR_ON: &str = "underneath or on the roof";

const PLAIN: SiteChange =
    SiteChange { to: "", stop: "", minutes: 1, needs: &[], after: &[], clears: &[], caution: "" };

/// All states.
pub(super) const SITES: &[Site] = &[
    Site {
        state: "shore_power",
        title: "shore power",
        found: "off",
        restored: true,
        changes: &[
            SiteChange {
                to: "on",
                stop: "utilities",
                minutes: 2,
                after: &["pedestal", "cord_and_inlet"],
                caution: "Main breaker off, the pedestal tested before the plug goes in. Nobody touches the unit's \
                          metal until the test for voltage on its skin is done, and after each change again.",
                ..PLAIN
            },
            SiteChange { to: "off", stop: "utilities", minutes: 1, ..PLAIN },
        ],
    },
    Site {
        state: "gas",
        title: "gas",
        found: "off",
        restored: true,
        changes: &[
            SiteChange {
                to: "on",
                stop: "gas_locker",
                minutes: 1,
                after: &["gas_smell", "gas_hoses", "gas_alarm", "carbon_monoxide_alarm"],
                caution: "Every burner shut, no flame, no switch, doors open. Opened slowly; with a smell of gas shut \
                          it, everybody out, call for help from outside.",
                ..PLAIN
            },
            SiteChange { to: "off", stop: "gas_locker", minutes: 1, ..PLAIN },
        ],
    },
    Site {
        state: "water",
        title: "water",
        found: "off",
        restored: true,
        changes: &[
            SiteChange {
                to: "main",
                stop: "utilities",
                minutes: 2,
                after: &["water_inlet", "water_winterised", "water_low_drains"],
                caution: "Taps shut, a regulator on the hose; somebody watches inside while the pressure comes up.",
                ..PLAIN
            },
            SiteChange {
                to: "pump",
                stop: "galley",
                minutes: 1,
                needs: &["tanks_filled"],
                caution: "The pump starts by itself: fingers out of its cover.",
                ..PLAIN
            },
            SiteChange { to: "off", stop: "utilities", minutes: 1, ..PLAIN },
        ],
    },
    Site {
        state: "tanks",
        title: "tanks",
        found: "empty",
        restored: false,
        changes: &[SiteChange {
            to: "filled",
            stop: "utilities",
            minutes: 5,
            needs: &["water_main_on"],
            caution: "Nobody under filled tanks.",
            ..PLAIN
        }],
    },
    Site {
        state: "generator",
        title: "generator",
        found: "off",
        restored: true,
        changes: &[
            SiteChange {
                to: "on",
                stop: "right_side",
                minutes: 3,
                after: &["carbon_monoxide_alarm"],
                clears: &[UNDER_OR_ON],
                caution: "Exhaust kills: outdoors, doors and windows shut, the carbon-monoxide alarm working, nobody \
                          asleep inside.",
                ..PLAIN
            },
            SiteChange { to: "off", stop: "right_side", minutes: 1, ..PLAIN },
        ],
    },
    Site {
        state: "slide_outs",
        title: "slide-outs",
        found: "in",
        restored: true,
        changes: &[
            SiteChange {
                to: "out",
                stop: "living",
                minutes: 3,
                needs: &["unit_level"],
                clears: &[UNDER_OR_ON],
                caution: "The way clear inside and out, nobody under it or in its path, hands off the edges.",
                ..PLAIN
            },
            SiteChange {
                to: "in",
                stop: "living",
                minutes: 3,
                clears: &[UNDER_OR_ON],
                caution: "The way clear inside and out, nobody under it or in its path, hands off the edges.",
                ..PLAIN
            },
        ],
    },
    Site {
        state: "awnings",
        title: "awnings",
        found: "in",
        restored: true,
        changes: &[
            SiteChange {
                to: "out",
                stop: "right_side",
                minutes: 2,
                caution: "Not in wind; arms under spring tension.",
                ..PLAIN
            },
            SiteChange { to: "in", stop: "right_side", minutes: 2, ..PLAIN },
        ],
    },
    Site {
        state: "unit",
        title: "unit",
        found: "as parked",
        restored: false,
        changes: &[SiteChange {
            to: "level",
            stop: "coupling",
            minutes: 10,
            clears: &[UNDER_OR_ON],
            caution: "Wheels chocked first; nobody under it or inside while jacks move.",
            ..PLAIN
        }],
    },
    Site {
        state: "coupling",
        title: "coupling",
        found: "uncoupled",
        restored: true,
        changes: &[
            SiteChange {
                to: "coupled",
                stop: "coupling",
                minutes: 8,
                clears: &[UNDER_OR_ON],
                caution: "Wheels chocked; nobody between the unit and the tow vehicle.",
                ..PLAIN
            },
            SiteChange {
                to: "uncoupled",
                stop: "coupling",
                minutes: 8,
                clears: &[UNDER_OR_ON],
                caution: "Wheels chocked before anything is undone.",
                ..PLAIN
            },
        ],
    },
];
