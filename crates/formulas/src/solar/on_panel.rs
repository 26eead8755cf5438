//! What a clear sky gives on a tilted panel.

use quantity::uom::si::{angle::degree, ratio::ratio};
use quantity::{Angle, Irradiance, Kind, Quantity, Ratio};

use super::clear_sky::{ALTITUDE, SKY, TURBIDITY_INPUT, sky_of, turbidity_of, with_notes};
use super::position::{ALGORITHM, LATITUDE, LONGITUDE, TIME, time_and_place};
use super::sun::{Sky, Sun, cosine, relative_air_mass, sine};
use crate::table::Table;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

static PEREZ: Table = Table::of(include_str!("../../../../data/tables/perez_1990.csv"));

/// How the light of the sky is spread over it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum SkyModel {
    /// Evenly: the simplest, and within about 1 % for roofs that lie nearly flat.
    Isotropic,
    /// Brighter about the sun (Hay and Davies 1980).
    HayDavies,
    /// Brighter about the sun and at the horizon (Perez and others 1990).
    Perez,
}

/// A panel and what lies before it.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Panel {
    /// From the level, degrees.
    tilt: f64,
    /// Direction it faces, degrees clockwise from north.
    azimuth: f64,
    /// Share of light that the ground returns.
    albedo: f64,
}

/// Irradiance on a panel by where it comes from, W/m².
#[derive(Clone, Copy, Debug, PartialEq)]
struct OnPanel {
    beam: f64,
    sky: f64,
    ground: f64,
    /// Cosine of the angle between the sun's rays and the panel's normal.
    cos_incidence: f64,
}

fn on_panel(
    zenith: f64,
    sun_azimuth: f64,
    sky: Sky,
    outside: f64,
    panel: Panel,
    model: SkyModel,
) -> OnPanel {
    let (cos_zenith, cos_tilt, sin_tilt) = (cosine(zenith), cosine(panel.tilt), sine(panel.tilt));
    let cos_incidence = (cos_tilt * cos_zenith
        + sin_tilt * sine(zenith) * cosine(sun_azimuth - panel.azimuth))
    .clamp(-1.0, 1.0); // the rounding of a product of sines
    let facing = cos_incidence.max(0.0);
    let view = 0.5 * (1.0 + cos_tilt);
    let from_sky = match model {
        SkyModel::Isotropic => sky.diffuse * view,
        SkyModel::HayDavies => {
            let share = sky.beam / outside;
            let about_the_sun = facing / cos_zenith.max(0.017_45);
            sky.diffuse * ((1.0 - share) * view + share * about_the_sun)
        }
        SkyModel::Perez => perez(zenith, sky, outside, facing, view, sin_tilt),
    };
    OnPanel {
        beam: sky.beam * facing,
        sky: from_sky,
        ground: sky.global * panel.albedo * 0.5 * (1.0 - cos_tilt),
        cos_incidence,
    }
}

/// Perez and others, Solar Energy 44 (1990) 271.
fn perez(zenith: f64, sky: Sky, outside: f64, facing: f64, view: f64, sin_tilt: f64) -> f64 {
    if sky.diffuse <= 0.0 {
        return 0.0;
    }
    let angle = zenith.to_radians();
    let cube = 1.041 * angle * angle * angle;
    let clearness = ((sky.diffuse + sky.beam) / sky.diffuse + cube) / (1.0 + cube);
    let brightness = sky.diffuse * relative_air_mass(zenith) / outside;
    let table = &PEREZ;
    let Some(row) = table.rows().filter(|row| row.number("clearness") <= clearness).last() else {
        return sky.diffuse * view;
    };
    let coefficient = |a: &str, b: &str, c: &str| {
        row.number(a) + row.number(b) * brightness + row.number(c) * angle
    };
    let f1 = coefficient("f11", "f12", "f13").max(0.0);
    let f2 = coefficient("f21", "f22", "f23");
    let about_the_sun = facing / cosine(zenith).max(cosine(85.0));
    (sky.diffuse * ((1.0 - f1) * view + f1 * about_the_sun + f2 * sin_tilt)).max(0.0)
}

fn model_of(word: Option<&str>) -> SkyModel {
    match word {
        Some("hay_davies") => SkyModel::HayDavies,
        Some("perez") => SkyModel::Perez,
        _ => SkyModel::Isotropic,
    }
}

fn panel_irradiance(sun: Sun, sky: Sky, outside: f64, panel: Panel, model: SkyModel) -> OnPanel {
    if sun.apparent_zenith >= 90.0 {
        return OnPanel { beam: 0.0, sky: 0.0, ground: 0.0, cos_incidence: 0.0 };
    }
    on_panel(sun.apparent_zenith, sun.azimuth, sky, outside, panel, model)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "solar.on_panel",
    summary: "Irradiance of a clear sky on a tilted panel.",
    inputs: &[
        TIME,
        LATITUDE,
        LONGITUDE,
        ALTITUDE,
        Input::quantity("tilt", Kind::Angle, "of the panel from the level")
            .accepting(Accepts::Between("0 deg", "180 deg")),
        Input::quantity("azimuth", Kind::Angle, "that the panel faces, clockwise from north")
            .accepting(Accepts::Between("-180 deg", "360 deg")),
        Input::quantity("albedo", Kind::Ratio, "light that the ground returns; 20 % if left out")
            .accepting(Accepts::Between("0 %", "100 %"))
            .optional(),
        TURBIDITY_INPUT,
        Input::word(
            "model",
            &["isotropic", "hay_davies", "perez"],
            "how the sky's light is spread; isotropic if left out",
        )
        .optional(),
    ],
    result: Gives::quantity("irradiance", "W/m2", "on the panel"),
    parts: &[
        Gives::quantity("beam", "W/m2", "straight from the sun"),
        Gives::quantity("sky", "W/m2", "from the sky"),
        Gives::quantity("ground", "W/m2", "from the ground"),
        Gives::quantity("incidence", "deg", "between the sun's rays and the panel's normal"),
    ],
    valid: "a cloudless, unshaded sky, 1950 to 2100",
    sources: &[
        SKY,
        Source {
            document: "Liu and Jordan; Hay and Davies (1980); Perez and others, Solar Energy 44 (1990) 271",
            section: "isotropic sky, circumsolar share, brightness coefficients, as pvlib 0.16.1 carries them",
            confirmed: Confirmed::Quoted,
        },
        ALGORITHM,
    ],
    example: &[
        ("time", "2024-06-21T12:00:00-07:00"),
        ("latitude", "33.45 deg"),
        ("longitude", "-112.07 deg"),
        ("altitude", "331 m"),
        ("tilt", "30 deg"),
        ("azimuth", "180 deg"),
    ],
    compute: |inputs| {
        let (seconds, place) = time_and_place(inputs)?;
        let (sun, sky, outside) = sky_of(seconds, place, turbidity_of(inputs)?)?;
        let (tilt, azimuth): (Angle, Angle) = (inputs.get("tilt")?, inputs.get("azimuth")?);
        let albedo: Option<Ratio> = inputs.optional("albedo")?;
        let panel = Panel {
            tilt: tilt.get::<degree>(),
            azimuth: azimuth.get::<degree>(),
            albedo: albedo.map_or(0.2, |albedo| albedo.get::<ratio>()),
        };
        let model = model_of(inputs.optional_words("model"));
        let found = panel_irradiance(sun, sky, outside, panel, model);
        let irradiance = Irradiance::from_base;
        let mut outcome = Outcome::new(irradiance(found.beam + found.sky + found.ground))
            .part("beam", irradiance(found.beam))
            .part("sky", irradiance(found.sky))
            .part("ground", irradiance(found.ground));
        if sun.apparent_zenith < 90.0 {
            outcome = outcome.part("incidence", Angle::from_base(libm::acos(found.cos_incidence)));
        }
        Ok(with_notes(outcome, sun))
    },
};

#[cfg(test)]
mod tests {
    use super::{Panel, SkyModel, on_panel};
    use crate::solar::sun::{Sky, cosine};
    use crate::table::Table;
    use crate::tests::{check, check_part};

    const NAME: &str = "solar.on_panel";
    const MODELS: [(SkyModel, &str); 3] = [
        (SkyModel::Isotropic, "isotropic"),
        (SkyModel::HayDavies, "hay_davies"),
        (SkyModel::Perez, "perez"),
    ];

    /// Computed with pvlib 0.16.1, `get_total_irradiance` with albedo 0.2, on 30° facing south.
    #[test]
    fn panels_under_clear_skies_agree_with_the_library() {
        for (time, latitude, longitude, altitude, totals, incidence) in [
            (
                "2003-10-17T12:30:30-07:00",
                "39.742476 deg",
                "-105.1786 deg",
                "1830 m",
                [988.77, 1024.57, 1021.54],
                22.0175,
            ),
            (
                "2024-06-21T12:00:00-07:00",
                "33.45 deg",
                "-112.07 deg",
                "331 m",
                [971.39, 972.82, 977.70],
                21.2836,
            ),
            (
                "2024-12-21T12:00:00-05:00",
                "41.68 deg",
                "-85.98 deg",
                "229 m",
                [681.06, 716.61, 721.23],
                36.5780,
            ),
            (
                "2024-03-20T09:00:00-05:00",
                "25.76 deg",
                "-80.19 deg",
                "2 m",
                [589.01, 597.31, 607.57],
                52.1319,
            ),
            (
                "2024-06-21T23:00:00-09:00",
                "64.84 deg",
                "-147.72 deg",
                "136 m",
                [1.05, 1.04, 0.77],
                115.51,
            ),
            (
                "2024-09-22T16:30:00-07:00",
                "39.74 deg",
                "-104.99 deg",
                "1609 m",
                [280.24, 288.17, 293.23],
                69.7227,
            ),
            (
                "2024-12-21T13:00:00+10:00",
                "-33.87 deg",
                "151.21 deg",
                "39 m",
                [839.29, 827.72, 836.34],
                41.9088,
            ),
        ] {
            for ((_, model), total) in MODELS.into_iter().zip(totals) {
                let pairs = [
                    ("time", time),
                    ("latitude", latitude),
                    ("longitude", longitude),
                    ("altitude", altitude),
                    ("tilt", "30 deg"),
                    ("azimuth", "180 deg"),
                    ("model", model),
                ];
                check(NAME, &pairs, total, "W/m2", 0.1);
                check_part(NAME, &pairs, "incidence", incidence, "deg", 0.01);
            }
        }
    }

    /// Computed with pvlib 0.16.1 from given beam, diffuse and extraterrestrial irradiance.
    #[test]
    fn tilting_given_skies_agrees_with_the_library() {
        for (zenith, azimuth, tilt, beam, diffuse, outside, global, on_beam, totals) in [
            (
                50.0,
                180.0,
                30.0,
                900.0,
                70.0,
                1367.0,
                648.5088,
                845.7234,
                [919.7226, 944.0972, 945.0764],
            ),
            (
                60.0,
                240.0,
                5.0,
                700.0,
                80.0,
                1367.0,
                430.0,
                375.0858,
                [455.0972, 458.1113, 459.9046],
            ),
            (
                75.0,
                100.0,
                45.0,
                400.0,
                60.0,
                1400.0,
                163.5276,
                120.6466,
                [176.6495, 181.9947, 193.5791],
            ),
            (
                30.0,
                120.0,
                0.0,
                850.0,
                110.0,
                1367.0,
                846.1216,
                736.1216,
                [846.1216, 846.1216, 846.1216],
            ),
        ] {
            let panel = Panel { tilt, azimuth: 180.0, albedo: 0.2 };
            let sky = Sky { global, beam, diffuse };
            for ((model, _), total) in MODELS.into_iter().zip(totals) {
                let found = on_panel(zenith, azimuth, sky, outside, panel, model);
                assert!((found.beam - on_beam).abs() < 1e-3, "{zenith}: {found:?}");
                let sum = found.beam + found.sky + found.ground;
                assert!((sum - total).abs() < 1e-3, "{zenith} {model:?}: {sum} {total}");
            }
        }
    }

    #[test]
    fn a_level_panel_gets_the_global_irradiance_and_mirrored_panels_the_same() {
        let beam = 700.0;
        for zenith in [5.0, 30.0, 60.0, 80.0] {
            let sky = Sky { global: beam * cosine(zenith) + 90.0, beam, diffuse: 90.0 };
            for (model, _) in MODELS {
                let level = Panel { tilt: 0.0, azimuth: 37.0, albedo: 0.2 };
                let found = on_panel(zenith, 140.0, sky, 1_367.0, level, model);
                let sum = found.beam + found.sky + found.ground;
                assert!((sum - sky.global).abs() < 1e-9, "{zenith} {model:?}");
                let east = Panel { tilt: 35.0, azimuth: 140.0 - 50.0, albedo: 0.2 };
                let west = Panel { azimuth: 140.0 + 50.0, ..east };
                let east = on_panel(zenith, 140.0, sky, 1_367.0, east, model);
                let west = on_panel(zenith, 140.0, sky, 1_367.0, west, model);
                assert!((east.beam - west.beam).abs() < 1e-9 && (east.sky - west.sky).abs() < 1e-9);
                let away = Panel { tilt: 90.0, azimuth: 320.0, albedo: 0.2 };
                let found = on_panel(zenith, 140.0, sky, 1_367.0, away, model);
                assert!(found.beam <= 0.0 && found.sky >= 0.0, "{zenith} {model:?}");
            }
        }
    }

    /// Computed with pvlib 0.16.1: at 89° of zenith the sky model of 1990 falls short on the level, 1.08 W/m² of
    /// 1.46.
    #[test]
    fn near_the_horizon_the_sky_model_of_1990_falls_short_on_the_level() {
        for (model, total) in [("isotropic", 1.46), ("hay_davies", 1.46), ("perez", 1.08)] {
            let pairs = [
                ("time", "2024-06-21T23:00:00-09:00"),
                ("latitude", "64.84 deg"),
                ("longitude", "-147.72 deg"),
                ("altitude", "136 m"),
                ("tilt", "0 deg"),
                ("azimuth", "180 deg"),
                ("model", model),
            ];
            check(NAME, &pairs, total, "W/m2", 0.02);
        }
    }

    #[test]
    fn at_night_a_panel_gets_nothing() {
        let pairs = [
            ("time", "2024-01-15T20:00:00-08:00"),
            ("latitude", "47.61 deg"),
            ("longitude", "-122.33 deg"),
            ("altitude", "56 m"),
            ("tilt", "30 deg"),
            ("azimuth", "180 deg"),
        ];
        check(NAME, &pairs, 0.0, "W/m2", 1e-12);
    }

    /// Computed with pvlib 0.16.1: 200 skies, each on the level and on a panel by three models.
    #[test]
    fn two_hundred_skies_and_panels_agree_with_the_library() {
        let table = Table::of(include_str!("../../../../reference/sun/skies.csv"));
        assert_eq!(table.rows().count(), 200);
        for row in table.rows() {
            let at = |column: &str, unit: &str| format!("{} {unit}", row.text(column));
            let texts = [
                ("time", at("time", "").trim().to_owned()),
                ("latitude", at("latitude", "deg")),
                ("longitude", at("longitude", "deg")),
                ("altitude", at("altitude", "m")),
                ("turbidity", at("turbidity", "").trim().to_owned()),
                ("tilt", at("tilt", "deg")),
                ("azimuth", at("panel_azimuth", "deg")),
                ("albedo", at("albedo", "ratio")),
            ];
            let pairs: Vec<(&str, &str)> =
                texts.iter().map(|(name, text)| (*name, text.as_str())).collect();
            let sky = &pairs[..5];
            check("solar.clear_sky", sky, row.number("global"), "W/m2", 0.5);
            check_part("solar.clear_sky", sky, "beam", row.number("beam"), "W/m2", 0.5);
            check_part("solar.clear_sky", sky, "diffuse", row.number("diffuse"), "W/m2", 0.5);
            for (_, model) in MODELS {
                let mut pairs = pairs.clone();
                pairs.push(("model", model));
                check(NAME, &pairs, row.number(model), "W/m2", 0.5);
            }
        }
    }
}
