//! Figures and trails as people read them. Exact values in, text out; every rounding is half away from zero.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use tankwright_geometry::{Atom, InputId, Len, PI_TEXT, Ratio, Term};
use tankwright_quantities::decimal;
use tankwright_quantities::job::{Given, Input, Scale};
use tankwright_quantities::money::Grouping;
use tankwright_quantities::sheet::{Dim, Line, Times};
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_quantities::works::Unit;

use crate::money::group_as;

/// Keeps a figure on one line while text is wrapped; [`crate::text`] prints it as a plain space.
pub const NO_BREAK: char = '\u{a0}';

/// The words of a key with its arguments. Text of the user goes last: an argument may not fill another's place.
pub(crate) fn say(key: &'static str, args: &[&str]) -> String {
    Phrase::with(key, args).to_string()
}

/// The words of a key without arguments.
pub(crate) fn word(key: &str) -> &str {
    look_up(key)
}

/// Replaces control characters, and those that turn the direction of writing, which could falsify a terminal.
#[must_use]
pub fn clean(text: &str) -> String {
    let unfit = |c: char| {
        c.is_control()
            || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
    };
    text.chars().map(|c| if unfit(c) { '\u{fffd}' } else { c }).collect()
}

/// A decimal to exactly `places`, thousands set apart by a space that does not break.
#[must_use]
pub fn grouped(value: Decimal, places: u32) -> String {
    group(&decimal::shown(value, places))
}

/// Sets thousands of a plain number apart; digits after the point stay together.
#[must_use]
pub fn group(plain: &str) -> String {
    group_as(plain, Grouping::Thousands)
}

/// A quantity with all its places, at least `least` of them.
#[must_use]
pub fn quantity(value: Decimal, least: u32) -> String {
    grouped(value, value.normalize().scale().max(least))
}

/// Least places that look right for a unit: two for measures and weight, none for numbers.
#[must_use]
pub const fn least_places(unit: Unit) -> u32 {
    match unit {
        Unit::M3 | Unit::M2 | Unit::M | Unit::Kg => 2,
        Unit::Nr | Unit::Item => 0,
    }
}

/// A quantity for who reads it on the site: as the bill prints it, and with the unit's own places where that has more
/// than a tape shows.
pub(crate) fn legible(value: Decimal, unit: Unit) -> String {
    let least = least_places(unit);
    if value.normalize().scale() > TAPE { grouped(value, least) } else { quantity(value, least) }
}

/// Places of a metre that a tape shows.
const TAPE: u32 = 3;

/// An exact value with at least `least` and at most `most` places; "..." where it goes on, its digits not rounded.
#[must_use]
pub fn value(value: Ratio, least: u32, most: u32) -> String {
    value_as(value, least, most, Grouping::Thousands)
}

/// The same in groups of a kind.
pub(crate) fn value_as(value: Ratio, least: u32, most: u32, grouping: Grouping) -> String {
    let unknown = || word("paper-unknown").to_owned();
    let show = |d: Decimal, places: u32| group_as(&decimal::shown(d, places), grouping);
    let Some(d) = decimal::rounded(value, most) else { return unknown() };
    if decimal::ratio(d) == value {
        return show(d, d.normalize().scale().max(least));
    }
    let scale = 10_i128.checked_pow(most).map_or(Ratio::UNKNOWN, Ratio::int);
    let whole = (value.abs() * scale).floor() / scale;
    let sign = if value.signum() < 0 { "-" } else { "" };
    decimal::rounded(whole, most).map_or_else(unknown, |d| format!("{sign}{}...", show(d, most)))
}

/// A length in metres from tenths of a millimetre: at least two places, at most four.
#[must_use]
pub fn metres(tenths: Ratio) -> String {
    value(tenths / Ratio::int(10_000), 2, 4)
}

/// A booked dimension in metres as a plain decimal, for other programs.
#[must_use]
pub fn metres_plain(tenths: i64) -> String {
    decimal::plain(Ratio::from(tenths) / Ratio::int(10_000))
}

/// One multiplier as plain text: `-2`, `1/4`, `3.1415926536`.
#[must_use]
pub fn multiplier(times: &Times) -> String {
    match times {
        Times::Count(n)
        | Times::Input(_, n)
        | Times::Strips { value: n, .. }
        | Times::Spaces { value: n, .. } => n.to_string(),
        Times::MassPerMetre(kg) => decimal::plain(*kg),
        Times::Fraction(f) if f.denom() == 1 => f.numer().to_string(),
        Times::Fraction(f) => format!("{}/{}", f.numer(), f.denom()),
        Times::Pi => PI_TEXT.to_owned(),
    }
}

/// All multipliers of a line: `2`, `-1/4 pi`, `2 x 3`. A bare 1 beside others is left out.
#[must_use]
pub fn multipliers(times: &[Times]) -> String {
    let (mut minus, mut text) = (false, String::new());
    for (i, t) in times.iter().enumerate() {
        match t {
            Times::Count(1) if times.len() > 1 => continue,
            Times::Count(-1) if i + 1 < times.len() => minus = !minus,
            Times::Pi => {
                text.push_str(if text.is_empty() { "" } else { " " });
                text.push_str("pi");
            }
            Times::MassPerMetre(_) => {
                text.push_str(if text.is_empty() { "" } else { " x " });
                text.push_str(&multiplier(t));
                text.push_str(" kg/m");
            }
            other => {
                text.push_str(if text.is_empty() { "" } else { " x " });
                text.push_str(&multiplier(other));
            }
        }
    }
    if text.is_empty() {
        text.push('1');
    }
    if minus { format!("-{text}") } else { text }
}

/// The dimensions that are multiplied: `1.94 x 0.22 x 0.76`.
#[must_use]
pub fn dimensions(line: &Line) -> String {
    let shown = line.dims.iter().filter(|d| !d.dropped).map(|d| metres(d.booked.into()));
    shown.collect::<Vec<_>>().join(" x ")
}

/// `2 / 1.94 x 0.22`, multipliers set to the right; a line of an item's quantity names the item.
#[must_use]
pub fn working(line: &Line) -> String {
    let times = multipliers(&line.times);
    match &line.of_item {
        Some(id) => format!("{times:>8} / {}", say("paper-of-item", &[id])),
        None if line.dims.iter().all(|d| d.dropped) => format!("{times:>8}"),
        None => format!("{times:>8} / {}", dimensions(line)),
    }
}

/// A line's value for a dimension sheet: four places for measures, as they come for numbers.
#[must_use]
pub fn line_value(value: Ratio, unit: Unit) -> String {
    let (least, most) = if least_places(unit) == 0 { (0, 4) } else { (4, 4) };
    decimal::rounded(value, most).map_or_else(|| word("paper-unknown").to_owned(), |d| quantity(d, least))
}

/// An input's name on papers: its path without `tank.`, positions counted from 1: `chambers 1`.
#[must_use]
pub fn short_name(path: &str) -> String {
    let path = path.strip_prefix("tank.").unwrap_or(path);
    let mut text = String::new();
    for piece in path.split('[') {
        let Some((index, rest)) = piece.split_once(']') else {
            text.push_str(piece);
            continue;
        };
        // A second position stands behind a point: `manholes[0][1]` is `manholes 1.2`.
        text.push(if text.ends_with(|c: char| c.is_ascii_digit()) { '.' } else { NO_BREAK });
        text.push_str(
            &index.parse::<u32>().map_or_else(|_| index.to_owned(), |i| i.saturating_add(1).to_string()),
        );
        text.push_str(rest);
    }
    text
}

/// An input's value with its unit.
#[must_use]
pub fn input_value(input: &Input) -> String {
    match input.scale {
        Scale::Length => format!("{}{NO_BREAK}m", metres(input.value)),
        Scale::Plain => decimal::plain(input.value),
    }
}

/// Where an input comes from: `job.toml:22`, or `default, source`.
#[must_use]
pub fn given(input: &Input) -> String {
    match &input.given {
        Given::Here(place) => format!("{}:{}", place.file, place.line),
        Given::Default(source) => say("paper-default-from", &[source]),
        Given::Nothing => word("paper-left-out").to_owned(),
    }
}

/// The inputs a length was made from, in the order of the job's fields.
pub fn inputs_of(len: &Len, into: &mut BTreeSet<InputId>) {
    for term in len.terms() {
        match &term.atom {
            Atom::Input(id) => {
                into.insert(*id);
            }
            Atom::Tenth => {}
            Atom::Share(pair, whole) => {
                pair.iter().chain(whole.as_deref()).for_each(|l| inputs_of(l, into));
            }
        }
    }
}

/// All inputs of a line: its dimensions' and its multipliers'.
#[must_use]
pub fn inputs_of_line(line: &Line) -> BTreeSet<InputId> {
    let mut all = BTreeSet::new();
    line.dims.iter().for_each(|d| inputs_of(&d.len, &mut all));
    for t in &line.times {
        match t {
            Times::Input(id, _) => {
                all.insert(*id);
            }
            Times::Strips { lift, course, every, .. } => {
                inputs_of(lift, &mut all);
                inputs_of(course, &mut all);
                all.insert(every.0);
            }
            Times::Spaces { over, at, .. } => {
                inputs_of(over, &mut all);
                inputs_of(at, &mut all);
            }
            Times::Count(_) | Times::Fraction(_) | Times::Pi | Times::MassPerMetre(_) => {}
        }
    }
    all
}

/// A trail in figures: `2.00 + 0.11 + 2 x 0.22`; `None` where none was kept.
#[must_use]
pub fn in_figures(len: &Len, inputs: &[Input]) -> Option<String> {
    trail(len, &|id| match inputs.get(id.0 as usize) {
        Some(i) if i.scale == Scale::Length => metres(i.value),
        Some(i) => decimal::plain(i.value),
        None => word("paper-unknown").to_owned(),
    })
}

/// A trail in names: `chambers 1 + partitions.thickness + 2 walls.thickness`; `None` where none was kept.
#[must_use]
pub fn in_names(len: &Len, inputs: &[Input]) -> Option<String> {
    trail(len, &|id| match inputs.get(id.0 as usize) {
        Some(i) => short_name(&i.path),
        None => word("paper-unknown").to_owned(),
    })
}

fn trail(len: &Len, name: &dyn Fn(InputId) -> String) -> Option<String> {
    // What is added comes before what is taken off: a sum reads better so.
    let (added, taken): (Vec<_>, Vec<_>) = len.terms().iter().partition(|t| t.coef.signum() >= 0);
    let mut text = String::new();
    for term in added.into_iter().chain(taken) {
        let minus = term.coef.signum() < 0;
        text.push_str(match (text.is_empty(), minus) {
            (true, true) => "-",
            (true, false) => "",
            (false, true) => " - ",
            (false, false) => " + ",
        });
        text.push_str(&product(term, name));
    }
    (!text.is_empty()).then_some(text)
}

/// One term without its sign.
fn product(term: &Term, name: &dyn Fn(InputId) -> String) -> String {
    let coef = term.coef.abs();
    let of = |len: &Len| {
        let text = trail(len, name).unwrap_or_else(|| metres(len.value()));
        if len.terms().len() > 1 { format!("({text})") } else { text }
    };
    let atom = match &term.atom {
        Atom::Tenth => return metres(coef),
        Atom::Input(id) => name(*id),
        Atom::Share(pair, Some(whole)) => {
            format!("{} x {} / {}", of(&pair[0]), metres(pair[1].value()), metres(whole.value()))
        }
        // The factor is a plain number (a batter).
        Atom::Share(pair, None) => {
            let factor = match pair[1].terms() {
                [Term { coef, atom: Atom::Input(id) }] if *coef == Ratio::ONE => name(*id),
                _ => decimal::plain(pair[1].value()),
            };
            format!("{} x {factor}", of(&pair[0]))
        }
    };
    if coef == Ratio::ONE { atom } else { format!("{} x {atom}", decimal_or_fraction(coef)) }
}

/// `2`, `1/2`: coefficients are short fractions.
fn decimal_or_fraction(value: Ratio) -> String {
    if value.denom() == 1 {
        value.numer().to_string()
    } else {
        format!("{}/{}", value.numer(), value.denom())
    }
}

/// The trails of a line's multiplied dimensions by name, in brackets; empty where no input made any of them.
#[must_use]
pub fn bracketed(line: &Line, inputs: &[Input]) -> String {
    let named = line.dims.iter().filter(|d| !d.dropped).collect::<Vec<_>>();
    let mut used = BTreeSet::new();
    named.iter().for_each(|d| inputs_of(&d.len, &mut used));
    if used.is_empty() {
        return String::new();
    }
    let one = |d: &Dim| in_names(&d.len, inputs).unwrap_or_else(|| metres(d.len.value()));
    format!("[{}]", named.into_iter().map(one).collect::<Vec<_>>().join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quantity_is_read_with_the_places_of_a_tape() {
        let read = |text: &str, unit| text.parse().map(|value| legible(value, unit));
        assert_eq!(read("15.278993364446", Unit::M2), Ok("15.28".to_owned()));
        assert_eq!(read("9.8174770425", Unit::M2), Ok("9.82".to_owned()));
        // As the bill prints it where a tape shows as much.
        assert_eq!(read("1.305", Unit::M3), Ok("1.305".to_owned()));
        assert_eq!(read("1234.5", Unit::M), Ok("1\u{a0}234.50".to_owned()));
        assert_eq!(read("4", Unit::Nr), Ok("4".to_owned()));
    }

    #[test]
    fn thousands_stand_apart() {
        assert_eq!(group("1234567.8901"), "1\u{a0}234\u{a0}567.8901");
        assert_eq!(group("-123456"), "-123\u{a0}456");
        assert_eq!(group("999"), "999");
    }

    #[test]
    fn lengths_and_endless_values() {
        assert_eq!(metres(20_000.into()), "2.00");
        assert_eq!(metres(16_514.into()), "1.6514");
        assert_eq!(metres(Ratio::of(20_000, 3)), "0.6666...");
        assert_eq!(value(Ratio::of(-2, 3), 2, 4), "-0.6666...");
        assert_eq!(value(Ratio::UNKNOWN, 2, 4), "unknown");
        assert_eq!(metres_plain(16_500), "1.65");
    }

    #[test]
    fn names_count_from_one() {
        assert_eq!(short_name("tank.chambers[0]"), "chambers\u{a0}1");
        assert_eq!(short_name("tank.cover.manholes[0][1]"), "cover.manholes\u{a0}1.2");
        assert_eq!(short_name("tank.ring_beams[0].depth"), "ring_beams\u{a0}1.depth");
        assert_eq!(short_name("soak_pit.diameter"), "soak_pit.diameter");
    }

    #[test]
    fn multipliers_as_a_surveyor_writes_them() {
        let quarter = || Times::Fraction(Ratio::of(1, 4));
        assert_eq!(multipliers(&[Times::Count(-1), quarter(), Times::Pi]), "-1/4 pi");
        assert_eq!(multipliers(&[Times::Count(-2), quarter(), Times::Pi]), "-2 x 1/4 pi");
        assert_eq!(multipliers(&[Times::Count(1)]), "1");
        assert_eq!(multipliers(&[Times::Count(-1)]), "-1");
        assert_eq!(multipliers(&[Times::Pi]), "pi");
        assert_eq!(multipliers(&[Times::Count(2), Times::Input(InputId(0), 3)]), "2 x 3");
        assert_eq!(multipliers(&[]), "1");
    }

    #[test]
    fn trails_add_first_and_scale_by_name() {
        let input = |path: &str, value: Ratio, scale| Input {
            path: path.to_owned(),
            value,
            scale,
            any_sign: false,
            given: Given::Nothing,
        };
        let inputs = [
            input("tank.width", 15_000.into(), Scale::Length),
            input("tank.plaster.thickness", 200.into(), Scale::Length),
            input("tank.pit.batter", Ratio::of(1, 2), Scale::Plain),
        ];
        let of = |i: u32| Len::input(InputId(i), inputs[i as usize].value, true);
        let less = &of(0) - &of(1).times(2);
        assert_eq!(in_figures(&less, &inputs).as_deref(), Some("1.50 - 2 x 0.02"));
        assert_eq!(in_names(&less, &inputs).as_deref(), Some("width - 2 x plaster.thickness"));
        let out = less.scaled(&of(2));
        assert_eq!(in_names(&out, &inputs).as_deref(), Some("(width - 2 x plaster.thickness) x pit.batter"));
        assert_eq!(in_figures(&out, &inputs).as_deref(), Some("(1.50 - 2 x 0.02) x 0.5"));
        assert_eq!(in_names(&Len::ZERO, &inputs), None);
    }
}
