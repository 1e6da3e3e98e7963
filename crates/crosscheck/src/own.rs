//! A line held against its own dimensions: what it should have come to, and which slip gives what is printed.

use tankwright_geometry::{PI, Ratio};
use tankwright_quantities::decimal;
use tankwright_quantities::words::Phrase;

use crate::figure::{Figure, step};
use crate::read::Entry;
use crate::report::{Explanation, Slip};
use crate::wording::Column;

/// What a line's own dimensions come to, in its own unit; with each usual pi where it has a diameter.
pub(crate) fn products(entry: &Entry) -> Vec<Ratio> {
    if entry.dims.is_empty() {
        return Vec::new();
    }
    let pis = [PI, Ratio::of(314, 100), Ratio::of(22, 7), Ratio::of(31_416, 10_000)];
    let round = entry.dims.iter().any(|(c, _)| *c == Column::Diameter);
    let pis = if round { &pis[..] } else { &pis[..1] };
    pis.iter().map(|pi| product(&entry.dims, times(entry), *pi)).collect()
}

fn times(entry: &Entry) -> Ratio {
    let sign = if entry.less { -1 } else { 1 };
    entry.times.map_or(Ratio::int(sign), |t| t.value)
}

/// A diameter with a breadth is a ring of that thickness, by its mean circumference; without one a circle.
fn product(dims: &[(Column, Figure)], times: Ratio, pi: Ratio) -> Ratio {
    let ring = dims.iter().any(|(c, _)| *c == Column::Breadth);
    let value = |(c, f): &(Column, Figure)| match c {
        Column::Diameter if ring => pi * f.value,
        Column::Diameter => pi * f.value * f.value / Ratio::int(4),
        _ => f.value,
    };
    dims.iter().map(value).fold(times, |a, b| a * b)
}

/// The slip of a line whose dimensions do not give its quantity.
pub(crate) fn slip(entry: &Entry) -> Option<Slip> {
    let printed = entry.quantity?;
    let right = products(entry);
    let first = *right.first()?;
    if right.iter().any(|r| printed.prints(*r)) {
        return None;
    }
    let mut explained = Vec::new();
    let mut add = |id: &'static str, says: Phrase| {
        explained.push(Explanation { mistakes: vec![id], says: vec![says] });
    };
    let gives = |dims: &[(Column, Figure)], times: Ratio| {
        [PI, Ratio::of(314, 100)].iter().any(|pi| printed.prints(product(dims, times, *pi)))
    };
    let all = times(entry);
    for i in (0..entry.dims.len()).rev().filter(|_| entry.dims.len() > 1) {
        let mut rest = entry.dims.clone();
        let (_, gone) = rest.remove(i);
        if gives(&rest, all) {
            add("depth-left-out", Phrase::with("cross-own-left-out", &[&gone.shown()]));
        }
    }
    let one = Ratio::int(all.signum().max(-1));
    if all != one && gives(&entry.dims, one) {
        add("times-left-out", Phrase::with("cross-own-times", &[&decimal::plain(all)]));
    }
    if right.iter().any(|r| printed.prints(*r * Ratio::int(2))) {
        add("counted-twice", Phrase::new("cross-row-twice"));
    }
    for i in 0..entry.dims.len() {
        if let Some(value) = needed(entry, i, printed) {
            let was = entry.dims.get(i).map(|d| d.1.shown()).unwrap_or_default();
            add("dimension-misprinted", Phrase::with("cross-own-misprint", &[&was, &value.shown()]));
        }
    }
    if right.iter().any(|r| printed.cut_off(*r)) {
        add("cut-not-rounded", Phrase::new("cross-cut"));
    }
    explained.extend(right.iter().find_map(|r| of_digits(printed, *r)));
    Some(made("dimensions", entry, printed, first, explained))
}

/// The value that a dimension must have for the line to come out, where one with the same places does it.
fn needed(entry: &Entry, i: usize, printed: Figure) -> Option<Figure> {
    let (column, was) = entry.dims.get(i)?;
    if *column == Column::Diameter {
        return None;
    }
    let places = was.places.min(2);
    [PI, Ratio::of(314, 100)].iter().find_map(|pi| {
        let rest: Vec<_> = entry.dims.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, d)| *d).collect();
        // A breadth makes a diameter a ring, also where it is the one that is asked for.
        let rest = if *column == Column::Breadth {
            product(&entry.dims, times(entry), *pi) / was.value
        } else {
            product(&rest, times(entry), *pi)
        };
        let value = (printed.value / rest).round_half_away(step(places));
        let fits = value.signum() > 0 && value != was.value && printed.prints(rest * value);
        fits.then_some(Figure { value, places })
    })
}

/// Two digits changed places, the point moved, or one digit is wrong, one too many or one too few.
pub(crate) fn of_digits(printed: Figure, right: Ratio) -> Option<Explanation> {
    let is = |id: &'static str, key: &'static str, was: String| {
        Some(Explanation { mistakes: vec![id], says: vec![Phrase::with(key, &[&was])] })
    };
    let whole =
        |figure: Figure| -> Vec<char> { figure.shown().chars().filter(char::is_ascii_digit).collect() };
    let rounded = Figure { value: printed.rounds(right), places: printed.places };
    let (a, b) = (whole(printed), whole(rounded));
    if swapped(&a, &b) {
        return is("digits-swapped", "cross-swapped", rounded.shown());
    }
    for tens in [10, 100, 1000] {
        let by = Ratio::int(tens);
        if !right.is_zero() && (printed.prints(right * by) || printed.prints(right / by)) {
            return is("point-shifted", "cross-shifted", rounded.shown());
        }
    }
    // More or fewer digits: the right figure to all its places, zeros at the end apart.
    let exact = (0..=6).map(|p| Figure { value: right.round_half_away(step(p)), places: p });
    for figure in exact.filter(|f| f.places >= printed.places.saturating_sub(1)) {
        let (x, y) = (trimmed(&whole(printed)), trimmed(&whole(figure)));
        if y.len() >= 3 && one_apart(&x, &y) && near(printed.value, figure.value) {
            return is("digit-wrong", "cross-digit", figure.shown());
        }
    }
    None
}

/// Not further apart than a figure and its half or double.
fn near(a: Ratio, b: Ratio) -> bool {
    let two = Ratio::int(2);
    a * two >= b && b * two >= a
}

fn trimmed(digits: &[char]) -> Vec<char> {
    let end = digits.iter().rposition(|d| *d != '0').map_or(0, |i| i + 1);
    let all = digits.get(..end).unwrap_or_default();
    all.iter().copied().skip_while(|d| *d == '0').collect()
}

pub(crate) fn swapped(a: &[char], b: &[char]) -> bool {
    let different: Vec<usize> = (0..a.len().min(b.len())).filter(|i| a[*i] != b[*i]).collect();
    match different[..] {
        [i, j] => a.len() == b.len() && j == i + 1 && a[i] == b[j] && a[j] == b[i],
        _ => false,
    }
}

/// One digit replaced, put in or left out.
fn one_apart(a: &[char], b: &[char]) -> bool {
    let same_front = a.iter().zip(b).take_while(|(x, y)| x == y).count();
    let same_back = a.iter().rev().zip(b.iter().rev()).take_while(|(x, y)| x == y).count();
    let (short, long) = (a.len().min(b.len()), a.len().max(b.len()));
    match long - short {
        0 => same_front + 1 + same_back >= long && same_front < long,
        1 => same_front + same_back >= short,
        _ => false,
    }
}

/// A slip of a line.
pub(crate) fn made(
    what: &'static str,
    entry: &Entry,
    printed: Figure,
    right: Ratio,
    explained: Vec<Explanation>,
) -> Slip {
    let should_be = Figure { value: printed.rounds(right), places: printed.places }.decimal();
    let text = entry.text.clone();
    let printed = printed.decimal();
    Slip { line: entry.line, what, text, printed, should_be, difference: printed - should_be, explained }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::read;
    use crate::rows::of_csv;
    use crate::wording::builtin;

    fn slips(csv: &str) -> Vec<(String, Vec<&'static str>)> {
        let theirs = read("x.csv", &of_csv(csv), builtin()).unwrap_or_default();
        let all = theirs.entries.iter().filter_map(slip);
        all.map(|s| (s.should_be.to_string(), s.explained.iter().map(|e| e.mistakes[0]).collect())).collect()
    }

    #[test]
    fn a_line_against_its_own_dimensions() {
        let head = "item,nr,dia,l,b,h,qty\n";
        // pi/4 x 3.4 x 3.4 = 9.08 without the 0.3, or with 1.0 in its place
        assert_eq!(
            slips(&format!("{head}lower dig,,3.4,,,0.3,9.08\n")),
            [("2.72".into(), vec!["depth-left-out", "dimension-misprinted"])]
        );
        // A ring pi x 3.2 x 0.2 x 0.1 = 0.20; 2.01 needs 1.0, as if the point had moved
        let ring = slips(&format!("{head}ring,,3.2,,0.2,0.1,2.01\n"));
        assert!(ring[0].1.contains(&"dimension-misprinted"), "{ring:?}");
        // 3.70 x 1.70 x 0.30 = 1.887
        assert_eq!(
            slips(&format!("{head}fill,,,3.70,1.70,0.30,1.1887\n")),
            [("1.887".into(), vec!["digit-wrong"])]
        );
        assert!(slips(&format!("{head}wall,2,,3.70,0.30,1.20,2.664\n")).is_empty());
        let times = slips(&format!("{head}wall,2,,3.70,0.30,1.20,1.332\n"));
        assert!(times[0].1.contains(&"times-left-out"), "{times:?}");
    }

    #[test]
    fn digits() {
        let d = |t: &str| t.chars().collect::<Vec<_>>();
        assert!(swapped(&d("1635"), &d("1365")) && !swapped(&d("1653"), &d("1365")));
        assert!(one_apart(&d("133032"), &d("13332")) && one_apart(&d("1234"), &d("1534")));
        assert!(!one_apart(&d("1234"), &d("1234")) && !one_apart(&d("12"), &d("1234")));
    }
}
