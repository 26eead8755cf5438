//! A value at run time: its kind, its number and what is known of its uncertainty.

use crate::{Kind, Quantity, Unit};

/// A value of some kind, in SI base units, with its uncertainty where that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Value {
    /// What it is a quantity of.
    pub kind: Kind,
    /// The number, in SI base units (kelvins for a temperature).
    pub base: f64,
    /// What is known of its uncertainty.
    pub uncertainty: Option<Uncertainty>,
}

/// Standard uncertainty in two parts (JCGM 100:2008, 5.2): one of this reading alone, and one shared
/// by all readings of the same instrument, such as its gain error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertainty {
    /// Standard uncertainty of this reading alone, SI base units.
    pub independent: f64,
    /// Standard uncertainty shared with other readings of the same source, SI base units.
    pub shared: f64,
    /// Which source shares it; 0 where nothing is shared.
    pub source: u32,
}

impl Uncertainty {
    /// An uncertainty that nothing else shares.
    #[must_use]
    pub fn independent(standard: f64) -> Self {
        Self { independent: standard, shared: 0.0, source: 0 }
    }

    /// Both parts together: the standard uncertainty.
    #[must_use]
    pub fn standard(self) -> f64 {
        (self.independent * self.independent + self.shared * self.shared).sqrt()
    }
}

impl Value {
    /// A value whose uncertainty is not known.
    #[must_use]
    pub fn new(kind: Kind, base: f64) -> Self {
        Self { kind, base, uncertainty: None }
    }

    /// A number in some unit, its uncertainty not known.
    #[must_use]
    pub fn in_unit(number: f64, unit: &Unit) -> Self {
        Self::new(unit.kind, unit.to_base(number))
    }

    /// From a typed quantity.
    #[must_use]
    pub fn of<Q: Quantity>(quantity: Q) -> Self {
        Self::new(Q::KIND, quantity.base())
    }

    /// The same value with this standard uncertainty (SI base units), independent of all others.
    #[must_use]
    pub fn with_uncertainty(self, standard: f64) -> Self {
        Self { uncertainty: Some(Uncertainty::independent(standard)), ..self }
    }

    /// The typed quantity, if the kind is the asked one.
    #[must_use]
    pub fn typed<Q: Quantity>(self) -> Option<Q> {
        (self.kind == Q::KIND).then(|| Q::from_base(self.base))
    }

    /// The number in a unit of the same kind; none if the unit is of another kind.
    #[must_use]
    pub fn to_unit(self, unit: &Unit) -> Option<f64> {
        (unit.kind == self.kind).then(|| unit.from_base(self.base))
    }

    /// Standard uncertainty in SI base units, if known.
    #[must_use]
    pub fn standard_uncertainty(self) -> Option<f64> {
        self.uncertainty.map(Uncertainty::standard)
    }
}
