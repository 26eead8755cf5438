//! What a fee comes to: lines, taxes, total.

use inspection::{ChargeLine, Charges, TaxRate, Taxed};

/// What a fee comes to, in minor units of its currency.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Totals {
    /// All lines, without tax.
    pub net: i64,
    /// Each tax, in the fee's order.
    pub taxes: Vec<TaxTotal>,
    /// All taxes.
    pub tax: i64,
    /// With tax.
    pub total: i64,
}

/// What one tax comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TaxTotal {
    /// The tax.
    pub name: String,
    /// Its rate.
    pub rate: TaxRate,
    /// The sum of the lines that it is on.
    pub base: i64,
    /// The tax on that sum, rounded.
    pub amount: i64,
}

/// Adds a fee up.
///
/// Each tax is the rate times the sum of the lines it is on, rounded once to the minor unit, half away from zero; the
/// total is the lines and the rounded taxes. These are the rules of EN 16931-1:2017 for an invoice: BR-CO-10 (sum of
/// lines), BR-CO-14 (sum of taxes), BR-CO-15 (total with tax), BR-CO-17 (tax of one category and rate, rounded to the
/// minor unit); the numbers are from memory. The standard rounds to two decimal places; here it is the currency's own
/// number of them, and that a half goes away from zero is our choice where the standard says only "rounded".
///
/// # Errors
/// A sentence where the sums are larger than any fee, or a line names a tax that is not there.
pub fn totals(charges: &Charges) -> Result<Totals, String> {
    let too_large = || "the fee's sums are too large to be added up".to_owned();
    let mut net: i64 = 0;
    for line in &charges.lines {
        net = net.checked_add(line.amount).ok_or_else(too_large)?;
        if let Taxed::Only(name) = &line.taxed
            && !charges.taxes.iter().any(|tax| tax.name == *name)
        {
            return Err(format!(
                "the line “{}” names a tax `{name}` that the fee does not have",
                line.text
            ));
        }
    }
    let mut taxes = Vec::with_capacity(charges.taxes.len());
    let mut tax_sum: i64 = 0;
    for tax in &charges.taxes {
        let on = |line: &&ChargeLine| match &line.taxed {
            Taxed::All => true,
            Taxed::Untaxed => false,
            Taxed::Only(name) => *name == tax.name,
        };
        let mut base: i64 = 0;
        for line in charges.lines.iter().filter(on) {
            base = base.checked_add(line.amount).ok_or_else(too_large)?;
        }
        let amount = taxed(base, tax.rate).ok_or_else(too_large)?;
        tax_sum = tax_sum.checked_add(amount).ok_or_else(too_large)?;
        taxes.push(TaxTotal { name: tax.name.clone(), rate: tax.rate, base, amount });
    }
    let total = net.checked_add(tax_sum).ok_or_else(too_large)?;
    Ok(Totals { net, taxes, tax: tax_sum, total })
}

/// `base · rate`, to the minor unit, half away from zero.
fn taxed(base: i64, rate: TaxRate) -> Option<i64> {
    const WHOLE: i128 = 1_000_000;
    let exact = i128::from(base) * i128::from(rate.millionths);
    let away = if exact < 0 { exact - WHOLE / 2 } else { exact + WHOLE / 2 };
    i64::try_from(away / WHOLE).ok()
}

#[cfg(test)]
mod tests {
    use inspection::{Currency, Tax};

    use super::*;

    fn line(text: &str, amount: i64, taxed: Taxed) -> ChargeLine {
        ChargeLine { text: text.into(), amount, taxed }
    }

    fn tax(name: &str, rate: &str) -> Tax {
        Tax { name: name.into(), rate: TaxRate::read(rate).unwrap() }
    }

    fn sums(code: &str, lines: Vec<ChargeLine>, taxes: Vec<Tax>) -> (i64, Vec<i64>, i64) {
        let currency = Currency::from_code(code).unwrap();
        let totals = totals(&Charges { currency, lines, taxes }).unwrap();
        assert_eq!(totals.tax, totals.taxes.iter().map(|one| one.amount).sum::<i64>());
        assert_eq!(totals.total, totals.net + totals.tax);
        (totals.net, totals.taxes.iter().map(|one| one.amount).collect(), totals.total)
    }

    #[test]
    fn the_tax_is_taken_of_the_sum_and_not_line_by_line() {
        // Three lines of 0.33 at 5 %: 0.0495 → 0.05 of the sum; line by line it would be 3 × 0.02 = 0.06.
        let lines =
            vec![line("a", 33, Taxed::All), line("b", 33, Taxed::All), line("c", 33, Taxed::All)];
        assert_eq!(sums("USD", lines, vec![tax("VAT", "5 %")]), (99, vec![5], 104));
    }

    #[test]
    fn a_half_goes_away_from_zero_on_both_sides() {
        let once =
            |amount| sums("USD", vec![line("a", amount, Taxed::All)], vec![tax("t", "5 %")]).1[0];
        // 5 % of 0.10 is half a cent, of 0.30 one and a half, of 0.09 less than half.
        assert_eq!([once(10), once(30), once(9), once(11)], [1, 2, 0, 1]);
        assert_eq!([once(-10), once(-30), once(-9)], [-1, -2, 0]);
    }

    #[test]
    fn each_tax_is_on_its_own_lines() {
        let lines = vec![
            line("Inspection", 42_500, Taxed::All),
            line("Book", 2_000, Taxed::Only("reduced".into())),
            line("Toll", 1_250, Taxed::Untaxed),
            line("Rebate", -2_500, Taxed::All),
        ];
        let taxes = vec![tax("full", "20 %"), tax("reduced", "5.5 %")];
        // 20 % of 400.00; 5.5 % of 420.00.
        assert_eq!(sums("EUR", lines, taxes), (43_250, vec![8_000, 2_310], 53_560));
    }

    #[test]
    fn a_currency_without_a_minor_unit_is_rounded_to_its_whole() {
        assert_eq!(
            sums("JPY", vec![line("a", 12_345, Taxed::All)], vec![tax("t", "10 %")]),
            (12_345, vec![1_235], 13_580)
        );
    }

    #[test]
    fn sums_that_no_fee_has_are_refused() {
        let charges = |amount, count| Charges {
            currency: Currency::USD,
            lines: vec![line("a", amount, Taxed::All); count],
            taxes: Vec::new(),
        };
        assert!(totals(&charges(i64::MAX, 2)).unwrap_err().contains("too large"));
        let odd =
            Charges { lines: vec![line("a", 1, Taxed::Only("none".into()))], ..Charges::default() };
        assert!(totals(&odd).unwrap_err().contains("`none`"));
    }
}
