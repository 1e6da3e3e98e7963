//! What orders cost: rows of kind `material` of a price list, by pack or by the material's own unit.

use rust_decimal::Decimal;

use super::size::OWN_UNITS;
use super::{Pack, Size, packs};
use crate::decimal::{product, round};
use crate::materials::Material;
use crate::rates::{PriceKind, PriceList, PriceRow};
use crate::words::Phrase;

/// The rate of a pack, not rounded; nothing where the list has none that fits, which is told.
pub(super) fn per_pack(
    prices: &PriceList,
    material: &Material,
    pack: &Pack,
    remarks: &mut Vec<Phrase>,
) -> Option<Decimal> {
    let of = |code: &str| -> Vec<&PriceRow> {
        prices.rows.iter().filter(|r| r.kind == PriceKind::Material && r.code == code).collect()
    };
    let rows = packs::names(&material.id).map(of).find(|rows| !rows.is_empty()).unwrap_or_default();
    let Some(first) = rows.first() else {
        remarks.push(Phrase::with("orders-no-rate", &[&prices.name, &material.id]));
        return None;
    };
    let line = |row: &PriceRow| row.line.to_string();
    let by_pack = rows.iter().find(|r| r.unit != material.unit && is_pack(&r.unit, pack));
    let by_unit = rows.iter().find(|r| r.unit == material.unit);
    let (row, per) = match (by_pack, by_unit) {
        (Some(row), by_unit) => match (speaks_of(row, pack, material), by_unit) {
            (Some(other), None) => {
                let args = [&prices.name, &line(row), &material.id, &other, &pack.title];
                remarks.push(Phrase::with("orders-rate-size", &args.map(String::as_str)));
                return None;
            }
            (Some(_), Some(by_unit)) => (by_unit, pack.size),
            (None, _) => (row, Decimal::ONE),
        },
        (None, Some(row)) => (row, pack.size),
        (None, None) => {
            let args =
                [&prices.name, &line(first), &material.id, &first.unit, &material.unit, &pack.words[0]];
            remarks.push(Phrase::with("orders-rate-unit", &args.map(String::as_str)));
            return None;
        }
    };
    let Some(rate) = row.rate else {
        remarks.push(Phrase::with("orders-rate-empty", &[&prices.name, &line(row), &material.id]));
        return None;
    };
    product(rate, per)
}

/// Is a row's unit the pack: `bag`, `bags`, `50 kg bag`, or `nr` of what is counted?
fn is_pack(unit: &str, pack: &Pack) -> bool {
    let unit = unit.to_lowercase();
    let counted = !OWN_UNITS.iter().any(|own| pack.words.contains(&(*own).to_owned()));
    pack.words.contains(&unit) || unit == pack.title.to_lowercase() || (unit == "nr" && counted)
}

/// A size in a row's own words that is not the pack's: a bag of 50 kg does not price one of 25.
fn speaks_of(row: &PriceRow, pack: &Pack, material: &Material) -> Option<String> {
    let words: Vec<&str> =
        row.description.split(|c: char| c.is_whitespace() || c == ',').filter(|w| !w.is_empty()).collect();
    let alone = words.iter().map(|w| (*w).to_owned());
    let pairs = words.windows(2).map(|w| w.join(" "));
    let sizes = alone.chain(pairs).filter_map(|text| Size::read(&text).ok());
    let sizes: Vec<(Decimal, String)> =
        sizes.filter_map(|s| Some((s.in_unit(&material.unit)?, s.text))).collect();
    // A bar's diameter or a sheet's thickness is no pack.
    let ten = Decimal::TEN;
    let like = |size: Decimal| size * ten >= pack.size && size <= pack.size * ten && size != pack.size;
    let other = sizes.iter().find(|(size, _)| like(*size))?;
    (!sizes.iter().any(|(size, _)| *size == pack.size)).then(|| other.1.clone())
}

/// Money for so many packs, rounded once.
pub(super) fn money(packs: u64, rate: Decimal, digits: u32) -> Option<Decimal> {
    Some(round(product(packs.into(), rate)?, digits))
}
