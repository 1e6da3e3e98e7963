//! Figures as people print them: `1,234.50`, `1 234,50`, `12,34,567`; what is printed decides how far it is known.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;

/// More places than this are a spreadsheet's own, not its writer's; so many are kept then.
const MOST_PLACES: u32 = 9;
const KEPT: u32 = 6;

/// A printed figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Figure {
    /// Its value.
    pub value: Ratio,
    /// Places after the point, as printed.
    pub places: u32,
}

impl Figure {
    /// Is this the amount, printed to these places? Halves go away from zero.
    #[must_use]
    pub fn prints(self, amount: Ratio) -> bool {
        amount.is_known() && self.rounds(amount) == self.value
    }

    /// An amount to the places of this figure.
    #[must_use]
    pub fn rounds(self, amount: Ratio) -> Ratio {
        amount.round_half_away(step(self.places))
    }

    /// Is it the amount cut off after the last place, not rounded?
    #[must_use]
    pub fn cut_off(self, amount: Ratio) -> bool {
        let at = step(self.places);
        (amount.abs() / at).floor() * at == self.value.abs() && !self.prints(amount)
    }

    /// As a decimal.
    #[must_use]
    pub fn decimal(self) -> Decimal {
        decimal::rounded(self.value, self.places).unwrap_or_default()
    }

    /// Below nothing, however its sign was written.
    #[must_use]
    pub fn taken_off(self) -> Self {
        Self { value: -self.value.abs(), ..self }
    }

    /// Two figures added: known to the finer of both.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self { value: self.value + other.value, places: self.places.max(other.places) }
    }

    /// As printed: all its places.
    #[must_use]
    pub fn shown(self) -> String {
        decimal::shown(self.decimal(), self.places)
    }

    /// Digits that say something: without zeros in front.
    #[must_use]
    pub fn digits(self) -> usize {
        let text = self.shown();
        text.chars().filter(char::is_ascii_digit).skip_while(|c| *c == '0').count()
    }
}

/// One in the last of so many places.
#[must_use]
pub fn step(places: u32) -> Ratio {
    Ratio::of(1, 10_i128.checked_pow(places).unwrap_or(0))
}

/// Reads a figure. A mark before the last one or two or four digits is a decimal mark; before three, groups; brackets
/// or a sign make it negative. `None` where it is no figure.
#[must_use]
pub fn read(text: &str) -> Option<Figure> {
    let text: String = text.chars().filter(|c| !c.is_whitespace() && *c != '\u{a0}' && *c != '\'').collect();
    let (minus, text) = match text.strip_prefix('(').and_then(|t| t.strip_suffix(')')) {
        Some(inner) => (true, inner.to_owned()),
        None => match text.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (true, rest.to_owned()),
            None => (false, text),
        },
    };
    let text = text.trim_end_matches("/=").trim_end_matches("/-");
    let points = text.matches('.').count();
    let commas = text.matches(',').count();
    let last = |mark: char| text.rfind(mark).map_or(0, |i| text.len() - i - 1);
    let mark = match (points, commas) {
        (0, 0) => None,
        (_, 0) if points > 1 => None,
        (1, 0) => Some('.'),
        (0, 1) if last(',') != 3 || text.starts_with("0,") => Some(','),
        (0, _) => None,
        _ if text.rfind('.') > text.rfind(',') && points == 1 => Some('.'),
        _ if text.rfind(',') > text.rfind('.') && commas == 1 => Some(','),
        _ => return None,
    };
    let (whole, part) = mark.map_or((text, ""), |m| text.rsplit_once(m).unwrap_or((text, "")));
    let digits: String = whole.chars().filter(|c| !matches!(c, ',' | '.')).chain(part.chars()).collect();
    let sound = !digits.is_empty() && digits.len() <= 24 && digits.bytes().all(|b| b.is_ascii_digit());
    let number: i128 = sound.then(|| digits.parse().ok()).flatten()?;
    let places = u32::try_from(part.len()).ok()?;
    let sign = if minus { -1 } else { 1 };
    let value = Ratio::int(sign * number) * step(places);
    // Spreadsheets write 14.948200000000001: nobody means so many places.
    if places > MOST_PLACES {
        return Some(Figure { value: value.round_half_away(step(KEPT)), places: KEPT });
    }
    Some(Figure { value, places })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_as_people_print_them() {
        for (text, value, places) in [
            ("1,234.50", "1234.50", 2),
            ("1 234,50", "1234.50", 2),
            ("12,34,567", "1234567", 0),
            ("1.234.567", "1234567", 0),
            ("0.341", "0.341", 3),
            ("3,5", "3.5", 1),
            ("(0.33)", "-0.33", 2),
            ("450000/=", "450000", 0),
            ("14.948200000000001", "14.948200", 6),
        ] {
            let figure = read(text).map(|f| (f.shown(), f.places));
            assert_eq!(figure, Some((value.to_owned(), places)), "{text}");
        }
        assert!(["", "-", "m3", "1.2.3,4,5", "12a", "nil"].iter().all(|t| read(t).is_none()));
    }

    #[test]
    fn printed_digits_decide() {
        let f = read("0.34").unwrap_or(Figure { value: Ratio::ZERO, places: 0 });
        // 0.335 rounds to 0.34, 0.345 to 0.35
        assert!(f.prints(Ratio::of(335, 1000)) && !f.prints(Ratio::of(345, 1000)));
        assert!(f.cut_off(Ratio::of(349, 1000)) && !f.cut_off(Ratio::of(34, 100)));
        assert_eq!(f.digits(), 2);
    }
}
