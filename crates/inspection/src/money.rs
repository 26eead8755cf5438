//! Money: whole minor units of a named currency, and rates of tax as exact decimals; never a floating point number.

/// A currency of ISO 4217: its three letters, and how many decimal places its minor unit has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Currency {
    code: &'static str,
    decimals: u8,
}

/// The letters of ISO 4217 by the decimal places of the minor unit: states' currencies in use, no funds, metals or test
/// codes. From memory; the standard's own list (table A.1) is the authority.
const CODES: [(u8, &str); 3] = [
    (0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"),
    (
        2,
        "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP CRC \
         CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD \
         KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO \
         NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SYP SZL THB \
         TJS TMT TOP TRY TTD TWD TZS UAH USD UYU UZS VES WST XCD YER ZAR ZMW",
    ),
    (3, "BHD IQD JOD KWD LYD OMR TND"),
];

impl Currency {
    /// The most that one amount may be, in minor units: sums of many still fit, and nobody charges more for an inspection.
    pub const MOST: i64 = 1_000_000_000_000;

    /// The dollar of the United States.
    pub const USD: Self = Self { code: "USD", decimals: 2 };

    /// The currency with these three letters, in capitals or not.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        CODES.iter().find_map(|(decimals, codes)| {
            let code = codes.split_whitespace().find(|known| known.eq_ignore_ascii_case(code))?;
            Some(Self { code, decimals: *decimals })
        })
    }

    /// Its three letters.
    #[must_use]
    pub fn code(self) -> &'static str {
        self.code
    }

    /// Decimal places of its minor unit.
    #[must_use]
    pub fn decimals(self) -> u8 {
        self.decimals
    }

    /// An amount in minor units as people write it, without the currency: `425.00`, `-30.00`, `1,250.00`.
    #[must_use]
    pub fn write(self, minor: i64) -> String {
        let sign = if minor < 0 { "-" } else { "" };
        let digits = minor.unsigned_abs().to_string();
        let places = usize::from(self.decimals);
        let padded = format!("{digits:0>width$}", width = places + 1);
        let (whole, part) = padded.split_at(padded.len() - places);
        let mut grouped = String::new();
        for (at, digit) in whole.chars().enumerate() {
            if at > 0 && (whole.len() - at).is_multiple_of(3) {
                grouped.push(',');
            }
            grouped.push(digit);
        }
        if part.is_empty() { format!("{sign}{grouped}") } else { format!("{sign}{grouped}.{part}") }
    }

    /// An amount with its currency: `425.00 USD`.
    #[must_use]
    pub fn write_with_code(self, minor: i64) -> String {
        format!("{} {}", self.write(minor), self.code)
    }

    /// Reads `425`, `425.5`, `1,250.00` or `-30.00` as minor units.
    ///
    /// # Errors
    /// A sentence that says what is accepted: more decimal places than the currency has are refused, not rounded.
    pub fn read(self, text: &str) -> Result<i64, String> {
        let refuse = || {
            let example = self.write(42_500);
            format!(
                "`{text}` is no amount in {}; write it with at most {} decimal places, such as {example}",
                self.code, self.decimals
            )
        };
        let text = text.trim();
        let (sign, unsigned) = match text.strip_prefix(['-', '−']) {
            Some(rest) => (-1, rest),
            None => (1, text),
        };
        let (whole, part) = unsigned.split_once('.').unwrap_or((unsigned, ""));
        let whole = ungrouped(whole).ok_or_else(refuse)?;
        let places = usize::from(self.decimals);
        let figures = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
        if part.len() > places || !figures(part) || unsigned.ends_with('.') {
            return Err(refuse());
        }
        let minor: i64 = format!("{whole}{part:0<places$}").parse().map_err(|_| refuse())?;
        if minor > Self::MOST {
            return Err(format!(
                "`{text}` is more than {}, the most that one amount may be",
                self.write_with_code(Self::MOST)
            ));
        }
        Ok(sign * minor)
    }
}

impl Default for Currency {
    fn default() -> Self {
        Self::USD
    }
}

/// Digits without the commas between thousands; none where the commas stand elsewhere.
fn ungrouped(whole: &str) -> Option<String> {
    let groups: Vec<&str> = whole.split(',').collect();
    let (first, rest) = groups.split_first()?;
    let figures =
        |group: &str| !group.is_empty() && group.bytes().all(|byte| byte.is_ascii_digit());
    let grouped = rest.is_empty() || first.len() <= 3;
    let sound =
        figures(first) && grouped && rest.iter().all(|group| group.len() == 3 && figures(group));
    sound.then(|| groups.concat())
}

/// A rate of tax, exact to a ten-thousandth of a percent: `9.975 %` is 99,750 millionths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TaxRate {
    /// Millionths of what is taxed.
    pub millionths: u32,
}

impl TaxRate {
    /// Reads `6`, `6 %`, `8.8125 %`.
    ///
    /// # Errors
    /// A sentence that says what is accepted.
    pub fn read(text: &str) -> Result<Self, String> {
        let refuse = || {
            format!(
                "`{text}` is no rate of tax; write percent with at most four decimal places, from 0 to 100, such as 8.8125 %"
            )
        };
        let number = text.trim().trim_end_matches('%').trim_end();
        let (whole, part) = number.split_once('.').unwrap_or((number, ""));
        let figures = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
        if whole.is_empty()
            || !figures(whole)
            || !figures(part)
            || part.len() > 4
            || number.ends_with('.')
        {
            return Err(refuse());
        }
        let millionths: u32 = format!("{whole}{part:0<4}").parse().map_err(|_| refuse())?;
        if millionths > 1_000_000 {
            return Err(refuse());
        }
        Ok(Self { millionths })
    }
}

impl std::fmt::Display for TaxRate {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (whole, part) = (self.millionths / 10_000, self.millionths % 10_000);
        if part == 0 {
            return write!(formatter, "{whole} %");
        }
        let part = format!("{part:04}");
        write!(formatter, "{whole}.{} %", part.trim_end_matches('0'))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_read_back_as_they_are_written() {
        let check = |code: &str, minor: i64, text: &str| {
            let currency = Currency::from_code(code).unwrap();
            assert_eq!(currency.write(minor), text);
            assert_eq!(currency.read(text), Ok(minor));
        };
        check("USD", 42_500, "425.00");
        check("usd", -3_005, "-30.05");
        check("USD", 7, "0.07");
        check("USD", 0, "0.00");
        check("USD", 123_456_789, "1,234,567.89");
        check("JPY", 12_000, "12,000");
        check("KWD", 1_005, "1.005");
        assert_eq!(Currency::USD.read("425"), Ok(42_500));
        assert_eq!(Currency::USD.read(" 425.5 "), Ok(42_550));
        assert_eq!(Currency::USD.write_with_code(42_500), "425.00 USD");
    }

    #[test]
    fn what_is_no_amount_is_refused_and_never_rounded() {
        for text in [
            "",
            "free",
            "425.005",
            "4,25.00",
            ",425",
            "1,2",
            "425.",
            "--5",
            "1e3",
            "10000,000",
            "99999999999999",
        ] {
            let said = Currency::USD.read(text).unwrap_err();
            assert!(
                said.contains(text) && (said.contains("425.00") || said.contains("the most")),
                "{said}"
            );
        }
        assert!(Currency::from_code("JPY").unwrap().read("12.5").is_err());
        assert_eq!(Currency::from_code("XXX"), None);
    }

    #[test]
    fn every_code_has_three_letters_and_stands_once() {
        let mut codes: Vec<&str> =
            CODES.iter().flat_map(|(_, codes)| codes.split_whitespace()).collect();
        assert!(
            codes
                .iter()
                .all(|code| code.len() == 3 && code.bytes().all(|byte| byte.is_ascii_uppercase()))
        );
        let count = codes.len();
        codes.sort_unstable();
        codes.dedup();
        assert_eq!(codes.len(), count);
    }

    #[test]
    fn rates_are_exact() {
        let check = |text: &str, millionths: u32, written: &str| {
            let rate = TaxRate::read(text).unwrap();
            assert_eq!((rate.millionths, rate.to_string().as_str()), (millionths, written));
        };
        check("6", 60_000, "6 %");
        check("8.8125 %", 88_125, "8.8125 %");
        check("9.975%", 99_750, "9.975 %");
        check("0", 0, "0 %");
        check("100 %", 1_000_000, "100 %");
        for text in ["", "-1", "100.1", "six", "5.12345", "5.", ".5"] {
            assert!(TaxRate::read(text).unwrap_err().contains("such as"), "{text}");
        }
    }
}
