//! Readers of small values: numbers with a sign, units, quantities, bounds, lists of lists.

use std::ops::Range;

use tankwright_geometry::{Ratio, parse::decimal};
use tankwright_quantities::rates::entry::Fields;
use tankwright_quantities::source::Source;
use toml::Spanned;
use toml::de::DeValue;

use crate::rule::Bound;
use crate::unit::{Quantity, Unit};

/// A decimal number with or without a minus sign.
pub(super) fn signed(text: &str) -> Option<Ratio> {
    match text.strip_prefix('-') {
        Some(rest) => decimal(rest).map(|n| -n),
        None => decimal(text),
    }
}

/// A number under a key that must be there.
pub(super) fn number<'d>(f: &Fields<'_, 'd>, key: &'d str) -> Option<Ratio> {
    let text = f.text(key)?;
    let number = signed(&text);
    if number.is_none() {
        f.report("P010", f.span_of(key), format!("`{key}` is not a number"), "as \"1.25\", in quotes");
    }
    number
}

/// A number that may be left out; the outer option is `None` where it is wrong.
pub(super) fn number_if_any<'d>(f: &Fields<'_, 'd>, key: &'d str) -> Option<Option<Ratio>> {
    if f.get(key).is_none() { Some(None) } else { number(f, key).map(Some) }
}

/// Yes or no, no where it is left out.
pub(super) fn flag<'d>(f: &Fields<'_, 'd>, key: &'d str) -> bool {
    f.get(key).is_some() && f.flag(key).unwrap_or(false)
}

/// A unit as text.
pub(super) fn unit_of(f: &Fields<'_, '_>, span: Range<usize>, text: &str) -> Option<Unit> {
    let unit = Unit::parse(text);
    if unit.is_none() {
        let hint = "as 1, l, m3/d, l/p/d, min/25mm, ft2, usgal, degC, yr";
        f.report("P030", span, format!("`{text}` is not a unit"), hint);
    }
    unit
}

/// A number with its unit under a key that may be left out.
pub(super) fn quantity_if_any<'d>(f: &Fields<'_, 'd>, key: &'d str) -> Option<Option<Quantity>> {
    if f.get(key).is_none() {
        return Some(None);
    }
    let text = f.text(key)?;
    let read = Quantity::parse(&text);
    if read.is_none() {
        f.report("P010", f.span_of(key), format!("`{key}` is not a number with a unit"), "as \"750 mm\"");
    }
    read.map(Some)
}

fn cells<'d>(f: &Fields<'_, 'd>, key: &str, cell: &'d Spanned<DeValue<'_>>) -> Option<Vec<&'d str>> {
    let found =
        cell.get_ref().as_array().map(|list| list.iter().map(|v| v.get_ref().as_str().map(str::trim)));
    let texts: Option<Vec<_>> = found.and_then(Iterator::collect);
    if texts.is_none() {
        f.report(
            "P004",
            cell.span(),
            format!("`{key}` should be a list of texts in quotes"),
            "as [\"5\", \"1.50\"]",
        );
    }
    texts
}

/// Texts under a key that may be left out, as they are written.
pub(super) fn texts<'d>(f: &Fields<'_, 'd>, key: &'d str) -> Option<Vec<String>> {
    let Some(cell) = f.get(key) else { return Some(Vec::new()) };
    cells(f, key, cell).map(|all| all.into_iter().map(str::to_owned).collect())
}

/// Lists of texts with their places.
pub(super) fn rows<'d>(f: &Fields<'_, 'd>, key: &'d str) -> Option<Vec<(Range<usize>, Vec<&'d str>)>> {
    let list = f.get(key).and_then(|c| c.get_ref().as_array());
    let Some(list) = list.filter(|l| !l.is_empty()) else {
        f.report(
            "P004",
            f.span_of(key),
            format!("`{key}` should be a list of lists"),
            "[ [\"5\", \"1.50\"], .. ]",
        );
        return None;
    };
    let read: Vec<_> = list.iter().map(|cell| Some((cell.span(), cells(f, key, cell)?))).collect();
    read.into_iter().collect()
}

/// `10` (10 still belongs to it), `below 10`, `more` (no end).
pub(super) fn bound(f: &Fields<'_, '_>, span: Range<usize>, text: &str) -> Option<Bound> {
    if text == "more" {
        return Some(Bound { at: None, included: true });
    }
    let (included, digits) = text.strip_prefix("below ").map_or((true, text), |rest| (false, rest.trim()));
    let at = signed(digits);
    if at.is_none() {
        f.report("P010", span, format!("`{text}` ends no row"), "as \"10\", \"below 10\" or \"more\"");
    }
    at.map(|at| Bound { at: Some(at), included })
}

/// Bounds must go up.
pub(super) fn going_up(f: &Fields<'_, '_>, span: Range<usize>, bounds: &[Bound]) -> bool {
    let key = |b: &Bound| (b.at.is_none(), b.at.unwrap_or(Ratio::ZERO), b.included);
    let up = bounds.is_sorted_by(|a, b| key(a) < key(b));
    if !up {
        f.report("P033", span, "the rows do not go up".into(), "each bound more than the one before");
    }
    up
}

/// The source of a part of a rule: what it does not say, the rule says.
pub(super) fn source(f: &Fields<'_, '_>, rule: &Source) -> Source {
    let (text, seen) = (f.text_or_empty("source"), f.text_or_empty("seen"));
    let (recalled, note) = (flag(f, "recalled"), f.text_or_empty("note"));
    if recalled && !seen.is_empty() {
        let hint = "`seen` says where it was read, `recalled` that it was not";
        f.report("P007", f.span_of("recalled"), "seen and recalled at once".into(), hint);
    }
    let own = recalled || !seen.is_empty();
    Source {
        text: if text.is_empty() { rule.text.clone() } else { text },
        seen: if own { seen } else { rule.seen.clone() },
        recalled: if own { recalled } else { rule.recalled },
        from: rule.from.clone(),
        note,
    }
}

/// Whether a part says anything about its source.
pub(super) fn has_source(f: &Fields<'_, '_>) -> bool {
    ["source", "seen", "recalled", "note"].iter().any(|k| f.get(k).is_some())
}
