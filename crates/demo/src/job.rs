//! The invented job as it was agreed before the visit: client, inspector, site, and the unit as it was advertised.
//!
//! What was learnt at the visit stands in the filled sheet alone, so nothing is said twice.

use inspection::{Client, Dwelling, DwellingKind, Engagement, Job, Site};
use jiff::civil::{Date, date};

/// The identification number on the label and the frame. No maker has the invented beginning.
pub(crate) const VIN: &str = "7X9TT2627HA000417";

/// The only day of the visit.
pub(crate) const VISIT: Date = date(2026, 6, 11);

/// Where the unit stands, degrees north and east.
pub(crate) const PLACE: (f64, f64) = (43.5214, -73.2361);

/// The maker, as on the plate.
pub(crate) const MAKER: &str = "Quillhaven Coach Works";

/// The model's word, as painted on the sides.
pub(crate) const MODEL_WORD: &str = "Plover";

/// The model's figure, as painted on the sides.
pub(crate) const MODEL_FIGURE: &str = "26RB";

/// What `nearside job new` is told before the visit.
#[must_use]
pub fn job() -> (Job, Dwelling) {
    let text = str::to_owned;
    let job = Job {
        number: text("DEMO-2026"),
        purpose: text("purchase"),
        inspector: text("Dane Hollworth"),
        credentials: text("invented inspector, licence number DEMO-0417"),
        client: Client {
            name: text("Marisol Etterby"),
            contact: text("marisol.etterby@example.com, 802-555-0143"),
            role: text("buyer"),
        },
        site: Site {
            address: text("Pitch 14, Alder Bend Campground, 210 Ferry Hollow Road, Vermont"),
            position: None,
            altitude_metres: None,
        },
        visits: vec![VISIT],
        weather: String::new(),
        engagement: Engagement {
            scope: text(
                "Examination of the whole unit for a buyer, with the seller present: papers, \
                 running gear, shell, gas, power, water, appliances, interior, life safety.",
            ),
            limits: text(
                "No dismantling, nobody on the roof, no road test. Air, water and mould are not \
                 sampled.",
            ),
            fee: text("425 US dollars, paid in advance"),
            consent: text("Agreed in writing by Marisol Etterby on 3 June 2026"),
        },
        plan: text("purchase"),
        plan_hash: String::new(),
    };
    let dwelling = Dwelling {
        kind: DwellingKind::TravelTrailer,
        maker: text(MAKER),
        model: format!("{MODEL_WORD} {MODEL_FIGURE}"),
        model_year: Some(2017),
        ..Dwelling::default()
    };
    (job, dwelling)
}

/// The sheet as it was filled in at the visit, in the form that `nearside job fill` reads.
#[must_use]
pub fn sheet() -> &'static str {
    include_str!("scenario.toml")
}
