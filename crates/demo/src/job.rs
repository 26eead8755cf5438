//! The invented job as it was agreed before the visit: client, inspector, site, and the unit as it was advertised.
//!
//! What was learnt at the visit stands in the filled sheet alone, so nothing is said twice.

use std::collections::BTreeMap;

use inspection::{
    Agreement, ChargeLine, Charges, Client, Currency, DrawnSignature, Dwelling, DwellingKind,
    Engagement, Job, Moment, Site, Tax, TaxRate, Taxed,
};
use jiff::civil::{Date, date};

/// The identification number on the label and the frame. No maker has the invented beginning.
pub(crate) const VIN: &str = "7X9TT2627HA000417";

/// The only day of the visit.
pub const VISIT: Date = date(2026, 6, 11);

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
            fee: text("425.00 US dollars with tax, by card on the day of the visit"),
            consent: String::new(),
            agreement: Some(agreement()),
            consents: BTreeMap::new(),
        },
        plan: text("purchase"),
        plan_hash: String::new(),
        earlier: None,
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

/// What was put to the client; its terms are the plan's, which whoever makes the job puts in.
fn agreement() -> Agreement {
    let line = |text: &str, amount, taxed| ChargeLine { text: text.to_owned(), amount, taxed };
    Agreement {
        unit: "2017 travel trailer, as advertised: Quillhaven Plover 26RB".to_owned(),
        day: Some(VISIT),
        language: String::new(),
        terms: Vec::new(),
        payment: "By card, on the day of the visit.".to_owned(),
        charges: Charges {
            currency: Currency::USD,
            lines: vec![
                line("Inspection of a travel trailer, with its report", 38_000, Taxed::All),
                line("Travel, 37 miles at 0.60", 2_220, Taxed::Untaxed),
            ],
            taxes: vec![Tax {
                name: "Sales tax (invented)".to_owned(),
                rate: TaxRate { millionths: 60_000 },
            }],
        },
    }
}

/// How the client agreed: who, when, from which network address (one of those kept for documentation, RFC 5737), and the
/// signature that they drew.
#[must_use]
pub fn consent() -> (String, Moment, String, DrawnSignature) {
    let at = Moment {
        local: jiff::civil::datetime(2026, 6, 3, 18, 12, 0, 0),
        offset_minutes: Some(-240),
    };
    let drawn = DrawnSignature::read(SIGNATURE).unwrap_or_default();
    (job().0.client.name, at, "192.0.2.44".to_owned(), drawn)
}

/// A name in one run, as a pen would go, and a stroke beneath.
const SIGNATURE: &str = "70,55 85,60 100,74 113,95 123,121 130,149 134,178 135,204 133,224 129,237 125,241 119,237 115,224 \
     112,204 112,179 114,152 120,124 129,100 140,80 154,67 169,63 185,67 200,79 213,97 225,121 233,147 \
     239,173 241,197 241,216 238,228 234,233 228,230 224,219 220,201 218,179 219,154 223,129 230,106 \
     241,88 253,76 268,71 283,74 299,84 313,100 326,122 336,145 343,169 347,191 348,209 346,220 342,225 \
     338,223 332,213 328,198 325,178 325,155 327,133 333,112 342,95 353,84 367,79 382,81 398,90 413,104 \
     427,123 438,144 447,165 452,185 454,201 454,212 451,217 447,216 441,208 437,194 433,177 431,157 \
     432,136 436,118 444,102 454,92 467,87 481,88 497,95 512,108 527,124 539,143 549,162 556,180 560,194 \
     561,204 559,209 555,208 550,202 545,190 541,175 538,157 538,140 541,123 546,109 555,99 567,95 581,96 \
     596,102 611,112 626,126 640,142 651,159 660,175 665,188 668,197 667,201 664,201 660,195 654,186 \
     649,173 646,158 644,142 645,128 650,116 657,107 667,103 680,103 695,108 710,117 726,129 740,142 \
     753,156 763,170 770,181 773,189 774,193 772,193 768,189 763,181 758,170 754,158 751,145 751,132 \
     754,122 760,115 769,111 780,111 794,114 809,122 825,131 840,143 853,154 865,165 873,175 878,182 \
     881,185;90,268 132,270 173,271 214,272 256,271 298,269 339,266 380,262 422,258 464,253 505,247 \
     546,243 588,239 630,236 671,234 712,234 754,234 796,236 837,238 878,239 920,241";

/// The sheet as it was filled in at the visit, in the form that `nearside job fill` reads.
#[must_use]
pub fn sheet() -> &'static str {
    include_str!("scenario.toml")
}
