//! One cell as text: numbers without the dust of binary fractions, dates as year-month-day.

use calamine::{DataRef, ExcelDateTime};
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use crate::Cell;

/// The last day that spreadsheets know, 9999-12-31, as they number days.
const LAST_DAY: f64 = 2_958_466.0;

/// The cell; nothing where it is empty.
pub(crate) fn of(data: &DataRef<'_>) -> Option<Cell> {
    let text = |text: &str| Cell { text: one_line(text), number: false };
    let cell = match data {
        DataRef::Empty => return None,
        DataRef::Int(n) => Cell { text: n.to_string(), number: true },
        DataRef::Float(n) => Cell { text: number(*n), number: true },
        DataRef::String(t) => text(t),
        DataRef::SharedString(t) => text(t),
        DataRef::Bool(true) => text("TRUE"),
        DataRef::Bool(false) => text("FALSE"),
        DataRef::DateTime(day) => date(day),
        DataRef::DateTimeIso(t) => text(t.split('T').next().unwrap_or_default()),
        DataRef::DurationIso(t) => text(t),
        DataRef::Error(e) => text(&e.to_string()),
    };
    (!cell.text.is_empty()).then_some(cell)
}

/// The decimal of at most 15 digits that the binary number stands for: spreadsheets keep no more.
fn number(n: f64) -> String {
    Decimal::from_f64(n).map_or_else(|| format!("{n:e}"), |d| d.normalize().to_string())
}

/// Year-month-day; the time of day is left out.
fn date(day: &ExcelDateTime) -> Cell {
    let serial = day.as_f64();
    if day.is_duration() || !(1.0..LAST_DAY).contains(&serial) {
        return Cell { text: number(serial), number: true };
    }
    let (y, m, d, ..) = day.to_ymd_hms_milli();
    Cell { text: format!("{y:04}-{m:02}-{d:02}"), number: false }
}

/// Without line breaks and blanks at the ends.
fn one_line(text: &str) -> String {
    let text: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    text.trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_without_dust() {
        for (n, want) in [
            (0.1, "0.1"),
            (0.300_000_000_000_000_04, "0.3"),
            (5.008_999_999_999_999_5, "5.009"),
            (18_000.0, "18000"),
            (1_234.5, "1234.5"),
            (1.234, "1.234"),
            (-2.5, "-2.5"),
            (123_456_789_012.25, "123456789012.25"),
            (1e300, "1e300"),
            (f64::NAN, "NaN"),
        ] {
            assert_eq!(number(n), want);
        }
    }

    #[test]
    fn empty_cells_are_none() {
        assert_eq!(of(&DataRef::Empty), None);
        assert_eq!(of(&DataRef::String("  \n".to_owned())), None);
        let two = of(&DataRef::String("two\r\nlines".to_owned()));
        assert_eq!(two.map(|c| c.text), Some("two  lines".to_owned()));
    }
}
