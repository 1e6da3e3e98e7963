//! What orders cost: rows of kind `material` of a price list, by pack or by the material's own unit.

use rust_decimal::Decimal;

use super::size::OWN_UNITS;
use super::{Pack, Size, packs};
use crate::decimal::{product, round};
use crate::materials::Material;
use crate::rates::{PriceKind, PriceList, PriceRow};
use crate::words::Phrase;

/// Why a list does not price a pack.
#[derive(Clone, Debug)]
pub(crate) enum NoRate<'a> {
    /// No row for the material.
    Missing,
    /// The first of its rows is for another unit.
    Unit(&'a PriceRow),
    /// Its row is for a pack of another size, in the row's own words.
    Size(&'a PriceRow, String),
    /// Its row is left empty.
    Empty(&'a PriceRow),
    /// Beyond what can be reckoned exactly.
    TooLarge,
}

/// The rows of a list that price a material; the most specific code counts.
pub(crate) fn rows<'a>(prices: &'a PriceList, material: &Material) -> Vec<&'a PriceRow> {
    let of = |code: &str| -> Vec<&PriceRow> {
        prices.rows.iter().filter(|r| r.kind == PriceKind::Material && r.code == code).collect()
    };
    packs::names(&material.id).map(of).find(|rows| !rows.is_empty()).unwrap_or_default()
}

/// The rate of a pack, not rounded, and the row that gives it.
pub(crate) fn rate<'a>(
    prices: &'a PriceList,
    material: &Material,
    pack: &Pack,
) -> Result<(Decimal, &'a PriceRow), NoRate<'a>> {
    let rows = rows(prices, material);
    let first = rows.first().ok_or(NoRate::Missing)?;
    let by_pack = rows.iter().find(|r| r.unit != material.unit && is_pack(&r.unit, pack));
    let by_unit = rows.iter().find(|r| r.unit == material.unit);
    let (row, per) = match (by_pack, by_unit) {
        (Some(row), by_unit) => match (speaks_of(row, pack, material), by_unit) {
            (Some(other), None) => return Err(NoRate::Size(row, other)),
            (Some(_), Some(by_unit)) => (by_unit, pack.size),
            (None, _) => (row, Decimal::ONE),
        },
        (None, Some(row)) => (row, pack.size),
        (None, None) => return Err(NoRate::Unit(first)),
    };
    let rate = row.rate.ok_or(NoRate::Empty(row))?;
    Ok((product(rate, per).ok_or(NoRate::TooLarge)?, row))
}

/// The rate of a pack, not rounded; nothing where the list has none that fits, which is told.
pub(super) fn per_pack(
    prices: &PriceList,
    material: &Material,
    pack: &Pack,
    remarks: &mut Vec<Phrase>,
) -> Option<Decimal> {
    let line = |row: &PriceRow| row.line.to_string();
    let (name, id) = (prices.name.as_str(), material.id.as_str());
    remarks.push(match rate(prices, material, pack) {
        Ok((rate, _)) => return Some(rate),
        Err(NoRate::TooLarge) => return None,
        Err(NoRate::Missing) => Phrase::with("orders-no-rate", &[name, id]),
        Err(NoRate::Empty(row)) => Phrase::with("orders-rate-empty", &[name, &line(row), id]),
        Err(NoRate::Size(row, other)) => {
            Phrase::with("orders-rate-size", &[name, &line(row), id, &other, &pack.title])
        }
        Err(NoRate::Unit(row)) => {
            let args = [name, &line(row), id, &row.unit, &material.unit, &pack.words[0]];
            Phrase::with("orders-rate-unit", &args)
        }
    });
    None
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
