//! How much cargo the weight label of a trailer leaves, by the rule of the label's era.

use quantity::exact::mass_density::pound_per_us_gallon;
use quantity::uom::si::f64::MassDensity;
use quantity::{Kind, Mass, Quantity, Volume};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source, table::Table};

static ERAS: Table = Table::of(include_str!("../../../../data/tables/cargo_capacity_eras.csv"));

/// Density of water on the federal label, 1 kg/L there and this in pounds.
const LABEL_WATER: f64 = 8.3; // lb/gal

/// Which rule the label follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LabelEra {
    /// The federal label since 2 June 2008, where water is cargo.
    Federal2008,
    /// The Canadian label since 2008, which subtracts full water.
    Canada2008,
    /// The industry's label of about 2000 to 2008, which subtracts full water.
    Industry2000,
    /// The industry's label of 1996 to 2000: net carrying capacity.
    Net1996,
}

impl LabelEra {
    const WORDS: &'static [&'static str] = &["2008", "2008_canada", "2000", "1996"];

    fn from_word(word: &str) -> Option<Self> {
        [Self::Federal2008, Self::Canada2008, Self::Industry2000, Self::Net1996]
            .into_iter()
            .find(|era| era.word() == word)
    }

    fn word(self) -> &'static str {
        match self {
            Self::Federal2008 => "2008",
            Self::Canada2008 => "2008_canada",
            Self::Industry2000 => "2000",
            Self::Net1996 => "1996",
        }
    }

    /// Whether this label subtracts what stands in a column of the table of eras.
    fn subtracts(self, column: &str) -> bool {
        let table = &ERAS;
        table.rows().any(|row| row.text("era") == self.word() && row.text(column) == "yes")
    }
}

/// What a trailer's tanks and cylinders hold when full.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Contents {
    /// Liquefied petroleum gas in full cylinders.
    pub lp_gas: Option<Mass>,
    /// The fresh-water tank.
    pub fresh_water: Option<Volume>,
    /// The water heater.
    pub heater_water: Option<Volume>,
}

/// Gross rating minus unloaded weight minus what the label of that era subtracts; it may come out
/// negative, where the unit as built leaves nothing.
///
/// # Errors
/// [`Problem::Input`] if the unloaded weight exceeds the rating, or something the label subtracts is
/// missing.
pub fn cargo_capacity(
    gross_rating: Mass,
    unloaded: Mass,
    contents: Contents,
    era: LabelEra,
) -> Result<Mass, Problem> {
    if unloaded > gross_rating {
        return Err(Problem::input(
            "unloaded",
            "is more than the gross rating; re-read both labels",
        ));
    }
    let mut capacity = gross_rating - unloaded;
    if era.subtracts("lp_gas") {
        capacity -= contents.lp_gas.ok_or_else(|| missing("lp_gas"))?;
    }
    if era.subtracts("water") {
        let fresh = contents.fresh_water.ok_or_else(|| missing("fresh_water"))?;
        let heater = contents.heater_water.ok_or_else(|| missing("heater_water"))?;
        let water: Mass = (fresh + heater) * MassDensity::new::<pound_per_us_gallon>(LABEL_WATER);
        capacity -= water;
    }
    Ok(capacity)
}

fn missing(name: &str) -> Problem {
    Problem::input(name, "is missing: the label of this era subtracts it; give 0 if there is none")
}

pub(crate) static FORMULA: Formula = Formula {
    name: "identity.cargo_capacity",
    summary: "Cargo capacity of a trailer by the rule of its weight label's era.",
    inputs: &[
        Input::quantity("gross_rating", Kind::Mass, "gross vehicle weight rating")
            .accepting(Accepts::Above("0 lb")),
        Input::quantity("unloaded", Kind::Mass, "unloaded vehicle weight as built")
            .accepting(Accepts::Above("0 lb")),
        Input::quantity("lp_gas", Kind::Mass, "gas in full cylinders; eras 2008 and 2000 need it")
            .optional()
            .accepting(Accepts::AtLeast("0 lb")),
        Input::quantity(
            "fresh_water",
            Kind::Volume,
            "fresh-water tank; eras 2000 and 2008_canada need it",
        )
        .optional()
        .accepting(Accepts::AtLeast("0 gal")),
        Input::quantity(
            "heater_water",
            Kind::Volume,
            "water heater; eras 2000 and 2008_canada need it",
        )
        .optional()
        .accepting(Accepts::AtLeast("0 gal")),
        Input::word(
            "label_era",
            LabelEra::WORDS,
            "2008: federal label from 2 June 2008; 2000: industry label until then; 1996: net carrying capacity, to 2000",
        ),
    ],
    result: Gives::quantity("cargo_capacity", "lb", "what may still be loaded"),
    parts: &[],
    valid: "trailers; a motor home's label subtracts its sleepers too",
    sources: &[
        Source {
            document: "72 FR 68442 (FMVSS 110 and 120, S10)",
            section: "labels from 2 June 2008",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "trailer makers' owner's manuals",
            section: "what each label subtracts; water at 8.3 lb/gal",
            confirmed: Confirmed::Quoted,
        },
    ],
    example: &[
        ("gross_rating", "7600 lb"),
        ("unloaded", "6010 lb"),
        ("lp_gas", "60 lb"),
        ("label_era", "2008"),
    ],
    compute: |inputs| {
        let word = inputs.words("label_era")?;
        let era = LabelEra::from_word(word)
            .ok_or_else(|| Problem::input("label_era", "is no era of the table"))?;
        let contents = Contents {
            lp_gas: inputs.optional("lp_gas")?,
            fresh_water: inputs.optional("fresh_water")?,
            heater_water: inputs.optional("heater_water")?,
        };
        let capacity =
            cargo_capacity(inputs.get("gross_rating")?, inputs.get("unloaded")?, contents, era)?;
        let mut outcome = Outcome::new(capacity);
        let water_given = contents.fresh_water.is_some() || contents.heater_water.is_some();
        if !era.subtracts("water") && water_given {
            outcome = outcome.note(
                "water is not subtracted by this label: what is in the tanks counts as cargo",
            );
        }
        if !era.subtracts("lp_gas") && contents.lp_gas.is_some() {
            outcome = outcome.note(
                "gas is not subtracted by this label: what is in the cylinders counts as cargo",
            );
        }
        if capacity.base() < 0.0 {
            outcome = outcome.note("nothing is left: the unit is over its rating before any cargo; re-read both labels and weigh it");
        }
        Ok(outcome.note(
            "what was added since the label was printed must be subtracted too: only a scale tells",
        ))
    },
};

#[cfg(test)]
mod tests {
    use super::{ERAS, LabelEra};
    use crate::tests::{call, check, refuses};

    const NAME: &str = "identity.cargo_capacity";

    fn pairs<'a>(era: &'a str, unloaded: &'a str) -> [(&'a str, &'a str); 6] {
        [
            ("gross_rating", "7600 lb"),
            ("unloaded", unloaded),
            ("lp_gas", "60 lb"),
            ("fresh_water", "40 gal"),
            ("heater_water", "6 gal"),
            ("label_era", era),
        ]
    }

    #[test]
    fn every_era_of_the_table_has_its_word() {
        let table = &ERAS;
        let eras: Vec<&str> = table.rows().map(|row| row.text("era")).collect();
        assert_eq!(eras, LabelEra::WORDS);
        for era in eras {
            assert_eq!(LabelEra::from_word(era).unwrap().word(), era);
        }
    }

    /// 7600 lb rating, 6010 lb unloaded, 60 lb of gas and 46 gal of water at 8.3 lb/gal, worked from
    /// each label's rule.
    #[test]
    fn the_same_unit_has_another_capacity_under_each_label() {
        for (era, pounds) in
            [("2008", 1_530.0), ("2000", 1_148.2), ("2008_canada", 1_148.2), ("1996", 1_590.0)]
        {
            check(NAME, &pairs(era, "6010 lb"), pounds, "lb", 1e-6);
        }
    }

    #[test]
    fn water_that_counts_as_cargo_is_said() {
        let outcome = call(NAME, &pairs("2008", "6010 lb")).unwrap();
        assert!(outcome.notes[0].contains("water is not subtracted"));
    }

    #[test]
    fn a_unit_that_leaves_nothing_comes_out_negative() {
        check(NAME, &pairs("2008", "7590 lb"), -50.0, "lb", 1e-6);
    }

    #[test]
    fn contradictions_and_gaps_are_refused() {
        refuses(NAME, &pairs("2008", "7601 lb"), "re-read both labels");
        refuses(
            NAME,
            &[("gross_rating", "7600 lb"), ("unloaded", "6010 lb"), ("label_era", "2008")],
            "lp_gas: is missing",
        );
        refuses(NAME, &pairs("1990", "6010 lb"), "accepted: 2008");
    }
}
