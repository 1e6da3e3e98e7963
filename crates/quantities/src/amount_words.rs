//! Amounts in English words, as an offer writes them beside the figures.

use rust_decimal::Decimal;

use crate::decimal;
use crate::money::{Currency, Grouping};

const SMALL: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 10] =
    ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];
/// Powers of a thousand; a decimal holds less than 10^29.
const POWERS: [&str; 10] = [
    "",
    "thousand",
    "million",
    "billion",
    "trillion",
    "quadrillion",
    "quintillion",
    "sextillion",
    "septillion",
    "octillion",
];
/// An amount in words: "two thousand and five shillings and fifty cents", grouped as the currency says.
///
/// Minor units are told where there are any; a whole amount of nothing is "zero shillings". A smallest part without a
/// name is a fraction: "five ouguiyas and 50/100".
#[must_use]
pub fn amount_words(amount: Decimal, currency: &Currency) -> String {
    let grouping = currency.grouping;
    let amount = decimal::round(amount, currency.digits);
    let whole = amount.abs().trunc();
    let minor = decimal::shown(amount.abs() - whole, currency.digits);
    let minor = minor.split_once('.').map_or("", |(_, d)| d);
    let parts_of_one = minor.parse::<u128>().unwrap_or(0);
    let whole = u128::try_from(whole.mantissa()).unwrap_or(0) / 10_u128.pow(whole.scale());
    let unnamed = currency.minor.is_empty();
    let mut parts = Vec::new();
    if whole > 0 || parts_of_one == 0 || unnamed {
        parts.push(counted(whole, currency.unit_for(whole), grouping));
    }
    if parts_of_one > 0 {
        parts.push(if unnamed {
            format!("{minor}/1{}", "0".repeat(minor.len()))
        } else {
            counted(parts_of_one, currency.minor_for(parts_of_one), grouping)
        });
    }
    let text = parts.join(" and ");
    if amount < Decimal::ZERO { format!("minus {text}") } else { text }
}

fn counted(n: u128, name: &str, grouping: Grouping) -> String {
    format!("{} {name}", in_words(n, grouping)).trim_end().to_owned()
}

/// A whole number in words.
#[must_use]
pub fn in_words(n: u128, grouping: Grouping) -> String {
    if n == 0 {
        return below_hundred(0);
    }
    let mut words = match grouping {
        Grouping::Thousands => by_thousands(n / 1000),
        Grouping::LakhCrore => by_lakhs(n),
    };
    let rest = n % 1000;
    if rest >= 100 {
        words.push(hundreds(rest));
    } else if rest > 0 {
        let and = if words.is_empty() { "" } else { "and " };
        words.push(format!("{and}{}", below_hundred(rest)));
    }
    words.join(" ")
}

/// Whole thousands and up; `n` counts thousands.
fn by_thousands(mut n: u128) -> Vec<String> {
    let mut words = Vec::new();
    for power in POWERS.iter().skip(1) {
        if !n.is_multiple_of(1000) {
            words.push(format!("{} {power}", hundreds(n % 1000)));
        }
        n /= 1000;
    }
    words.reverse();
    words
}

/// Crores, lakhs and thousands; above a hundred crore the crores are counted in the same way.
fn by_lakhs(n: u128) -> Vec<String> {
    let mut words = Vec::new();
    let crores = n / 10_000_000;
    if crores > 0 {
        words.push(format!("{} crore", in_words(crores, Grouping::LakhCrore)));
    }
    for (size, name) in [(100_000, "lakh"), (1000, "thousand")] {
        let many = n / size % 100;
        if many > 0 {
            words.push(format!("{} {name}", below_hundred(many)));
        }
    }
    words
}

/// 1 to 999.
fn hundreds(n: u128) -> String {
    match (n / 100, n % 100) {
        (0, rest) => below_hundred(rest),
        (h, 0) => format!("{} hundred", below_hundred(h)),
        (h, rest) => format!("{} hundred and {}", below_hundred(h), below_hundred(rest)),
    }
}

/// 0 to 99.
fn below_hundred(n: u128) -> String {
    let at = |list: &[&'static str], i: u128| {
        usize::try_from(i).ok().and_then(|i| list.get(i).copied()).unwrap_or("")
    };
    match (n / 10, n % 10) {
        (0 | 1, _) => at(&SMALL, n).to_owned(),
        (tens, 0) => at(&TENS, tens).to_owned(),
        (tens, ones) => format!("{}-{}", at(&TENS, tens), at(&SMALL, ones)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shillings(digits: u32) -> Currency {
        let minor = if digits == 0 { "" } else { "cents" };
        Currency { digits, unit: "shillings".into(), minor: minor.into(), ..Currency::default() }
    }

    fn words(amount: &str, digits: u32) -> String {
        amount_words(amount.parse().unwrap_or_default(), &shillings(digits))
    }

    #[test]
    fn whole_amounts_against_a_list_written_by_hand() {
        for (amount, want) in [
            ("0", "zero shillings"),
            ("1", "one shilling"),
            ("13", "thirteen shillings"),
            ("20", "twenty shillings"),
            ("42", "forty-two shillings"),
            ("100", "one hundred shillings"),
            ("101", "one hundred and one shillings"),
            ("999", "nine hundred and ninety-nine shillings"),
            ("1000", "one thousand shillings"),
            ("1001", "one thousand and one shillings"),
            ("1100", "one thousand one hundred shillings"),
            ("12012", "twelve thousand and twelve shillings"),
            ("100000", "one hundred thousand shillings"),
            ("1000005", "one million and five shillings"),
            ("1050000", "one million fifty thousand shillings"),
            ("14359400", "fourteen million three hundred and fifty-nine thousand four hundred shillings"),
            ("2000000019", "two billion and nineteen shillings"),
            ("1000000000000", "one trillion shillings"),
            ("1000000000000000", "one quadrillion shillings"),
            (
                "987654321098765",
                "nine hundred and eighty-seven trillion six hundred and fifty-four billion three hundred and \
                 twenty-one million ninety-eight thousand seven hundred and sixty-five shillings",
            ),
        ] {
            assert_eq!(words(amount, 0), want, "{amount}");
        }
    }

    #[test]
    fn minor_units() {
        for (amount, digits, want) in [
            ("12.50", 2, "twelve shillings and fifty cents"),
            ("12.5", 2, "twelve shillings and fifty cents"),
            ("12.05", 2, "twelve shillings and five cents"),
            ("1005.01", 2, "one thousand and five shillings and one cent"),
            ("0.99", 2, "ninety-nine cents"),
            ("3.00", 2, "three shillings"),
            ("1.250", 3, "one shilling and two hundred and fifty cents"),
            ("0.0001", 4, "one cent"),
            ("2.5", 0, "three shillings"), // a half goes up
            ("-2.25", 2, "minus two shillings and twenty-five cents"),
        ] {
            assert_eq!(words(amount, digits), want, "{amount}");
        }
    }

    fn stored(code: &str, amount: &str) -> String {
        let (stock, _) = crate::rates::builtin();
        let currency = stock.currencies.get(code).map(|(c, _)| c.clone()).unwrap_or_default();
        amount_words(amount.parse().unwrap_or_default(), &currency)
    }

    #[test]
    fn one_of_a_kind() {
        for (code, amount, want) in [
            ("GBP", "1.01", "one pound and one penny"),
            ("INR", "1.01", "one rupee and one paisa"),
            ("ETB", "1.01", "one birr and one santim"),
            ("NGN", "1.01", "one naira and one kobo"),
            ("RON", "1.01", "one leu and one ban"),
            ("KWD", "1.001", "one dinar and one fils"),
            ("BHD", "2.250", "two dinars and two hundred and fifty fils"),
            ("JPY", "1", "one yen"),
        ] {
            assert_eq!(stored(code, amount), want, "{code}");
        }
    }

    #[test]
    fn a_part_without_a_name_is_a_fraction() {
        assert_eq!(stored("MRU", "5.50"), "five ouguiyas and 50/100");
        assert_eq!(stored("MRU", "0.05"), "zero ouguiyas and 05/100");
        assert_eq!(stored("CLF", "1.0250"), "one unidad de fomento and 0250/10000");
        assert_eq!(stored("MRU", "7"), "seven ouguiyas");
    }

    #[test]
    fn lakhs_and_crores() {
        for (n, want) in [
            (99_999, "ninety-nine thousand nine hundred and ninety-nine"),
            (100_000, "one lakh"),
            (100_005, "one lakh and five"),
            (14_359_400, "one crore forty-three lakh fifty-nine thousand four hundred"),
            (
                1_234_567_890,
                "one hundred and twenty-three crore forty-five lakh sixty-seven thousand eight hundred and ninety",
            ),
            (1_000_000_000_000, "one lakh crore"),
            (1_000_000_000_000_000, "ten crore crore"),
        ] {
            assert_eq!(in_words(n, Grouping::LakhCrore), want, "{n}");
        }
    }

    #[test]
    fn the_currency_says_how_amounts_are_grouped() {
        let rupees = Currency { grouping: Grouping::LakhCrore, ..shillings(2) };
        let text = amount_words(Decimal::new(123_456_750, 2), &rupees);
        assert_eq!(
            text,
            "twelve lakh thirty-four thousand five hundred and sixty-seven shillings and fifty cents"
        );
        assert_eq!(
            words("1234567.50", 2),
            "one million two hundred and thirty-four thousand five hundred and sixty-seven shillings and fifty cents"
        );
    }

    #[test]
    fn the_largest_decimal_has_words() {
        let text = amount_words(Decimal::MAX, &shillings(2));
        assert!(text.starts_with("seventy-nine octillion two hundred and twenty-eight septillion"), "{text}");
        // 7 92 28 162 crore crore crore and more
        let lakh = Currency { grouping: Grouping::LakhCrore, ..shillings(2) };
        let text = amount_words(Decimal::MAX, &lakh);
        assert!(
            text.starts_with(
                "seven crore ninety-two lakh twenty-eight thousand one hundred and sixty-two crore"
            ),
            "{text}"
        );
    }
}
