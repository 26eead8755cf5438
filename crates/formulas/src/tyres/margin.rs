//! What is left of a tyre's capacity at its load.

use quantity::{Kind, Mass, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// What a passenger-car tyre's rating is divided by on a trailer.
const PASSENGER_DIVISOR: f64 = 1.10;

/// What kind of tyre stands under the trailer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TyreKind {
    /// A special trailer or light-truck tyre, which counts at its rating.
    Trailer,
    /// A passenger-car tyre, which counts at its rating divided by 1.10 (49 CFR 571.110 S4.2, 571.120
    /// S5.1.2, from memory).
    Passenger,
}

/// What the capacity leaves over the load, negative where it is exceeded, and the share used.
#[must_use]
pub fn margin(capacity: Mass, load: Mass, kind: TyreKind) -> (Mass, Ratio) {
    let counted = match kind {
        TyreKind::Trailer => capacity,
        TyreKind::Passenger => capacity / PASSENGER_DIVISOR,
    };
    (counted - load, load / counted)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.margin",
    summary: "Capacity of a tyre, or of the tyres of an axle, left over its load.",
    inputs: &[
        Input::quantity("capacity", Kind::Mass, "rating at the measured cold pressure")
            .accepting(Accepts::Above("0 lb")),
        Input::quantity("load", Kind::Mass, "weight on the tyre, or on the axle")
            .accepting(Accepts::AtLeast("0 lb")),
        Input::word(
            "tyre_kind",
            &["trailer", "passenger"],
            "a passenger-car tyre counts at its rating divided by 1.10; without it, trailer",
        )
        .optional(),
    ],
    result: Gives::quantity("margin", "lb", "capacity left; negative where it is exceeded"),
    parts: &[Gives::quantity("used_percent", "%", "share of the capacity that is used")],
    valid: "",
    sources: &[
        Source {
            document: "definition: capacity less load",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "49 CFR 571.110 and 571.120",
            section: "S4.2 and S5.1.2: passenger-car tyres divided by 1.10",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("capacity", "1820 lb"), ("load", "1650 lb")],
    compute: |inputs| {
        let kind = match inputs.optional_words("tyre_kind") {
            Some("passenger") => TyreKind::Passenger,
            _ => TyreKind::Trailer,
        };
        let (left, used) = margin(inputs.get("capacity")?, inputs.get("load")?, kind);
        let mut outcome = Outcome::new(left).part("used_percent", used).note(
            "the two sides of an axle differ: weigh each wheel; where only the axle is known, the \
             heavier side may carry 55 % of it (common practice)",
        );
        if kind == TyreKind::Passenger {
            outcome = outcome.note("the rating was divided by 1.10, as for a passenger-car tyre on a trailer (from memory)");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "tyres.margin";

    /// Two tyres of 1820 lb under a 3500 lb axle, of 2540 lb under 5200 lb; four of 1610 lb and two of
    /// them under one side of a tandem, which even sums would hide; the same with 1820 lb: worked from the
    /// definition.
    #[test]
    fn margin_is_capacity_less_load() {
        for (capacity, load, left) in [
            ("3640 lb", "3500 lb", 140.0),
            ("5080 lb", "5200 lb", -120.0),
            ("6440 lb", "6000 lb", 440.0),
            ("3220 lb", "3300 lb", -80.0),
            ("7280 lb", "6000 lb", 1_280.0),
            ("3640 lb", "3300 lb", 340.0),
        ] {
            check(NAME, &[("capacity", capacity), ("load", load)], left, "lb", 1e-6);
        }
        check_part(
            NAME,
            &[("capacity", "1820 lb"), ("load", "1650 lb")],
            "used_percent",
            90.659,
            "%",
            5e-4,
        );
    }

    /// 2 × 1929 / 1.1 = 3507.3 lb under a 3500 lb axle.
    #[test]
    fn a_passenger_tyre_counts_for_less() {
        let pairs = [("capacity", "3858 lb"), ("load", "3500 lb"), ("tyre_kind", "passenger")];
        check(NAME, &pairs, 7.27, "lb", 0.005);
    }

    #[test]
    fn no_capacity_is_refused() {
        refuses(NAME, &[("capacity", "0 lb"), ("load", "1 lb")], "not possible");
        refuses(NAME, &[("capacity", "1 lb"), ("load", "-1 lb")], "not possible");
    }
}
