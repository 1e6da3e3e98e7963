//! Uses summed to rows, and the materials they are of.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::decimal::{ratio, rounded};
use crate::materials::{Material, Row, Use};
use crate::rates::Stock;
use crate::stage::Stage;

/// Places of the amounts of a row.
pub const PLACES: u32 = 3;

/// Key of a row: place of the goods, material, stage, waste.
type Key = (usize, String, Stage, Decimal);

/// Rows in the order of the goods, then material, stage, waste; nothing where a sum is beyond what can be reckoned.
pub(super) fn rows(uses: &[Use], stock: &Stock) -> Option<Vec<Row>> {
    let mut by_key: BTreeMap<Key, Vec<usize>> = BTreeMap::new();
    for (place, u) in uses.iter().enumerate() {
        let percent = rounded(u.waste_percent, 6)?;
        let goods = stock.recipes.place(&u.material).unwrap_or(usize::MAX);
        by_key.entry((goods, u.material.clone(), u.stage, percent)).or_default().push(place);
    }
    let row = |((_, material, stage, waste_percent), places): (Key, Vec<usize>)| {
        let sum = |over: bool, amount: fn(&Use) -> Ratio| {
            let of = places.iter().filter_map(|p| uses.get(*p)).filter(|u| u.over_break == over);
            rounded(of.map(amount).sum(), PLACES)
        };
        let used = |u: &Use| u.amount;
        let (net, over_break) = (sum(false, used)?, sum(true, used)?);
        let gross_of = gross(net, over_break, waste_percent)?;
        let present = gross(sum(false, Use::at_once)?, sum(true, Use::at_once)?, waste_percent)?;
        Some(Row { material, stage, uses: places, net, over_break, waste_percent, gross: gross_of, present })
    };
    by_key.into_iter().map(row).collect()
}

/// (net + over-break) x (1 + waste), three places.
pub(super) fn gross(net: Decimal, over_break: Decimal, waste_percent: Decimal) -> Option<Decimal> {
    let whole = Ratio::ONE + ratio(waste_percent) / Ratio::int(100);
    rounded((ratio(net) + ratio(over_break)) * whole, PLACES)
}

/// The materials of rows, in their order.
pub(super) fn materials(rows: &[Row], stock: &Stock) -> Vec<Material> {
    let mut found: Vec<Material> = Vec::new();
    for row in rows {
        if found.last().is_some_and(|m| m.id == row.material) {
            continue;
        }
        found.extend(super::one::material(stock, &row.material));
    }
    found
}
