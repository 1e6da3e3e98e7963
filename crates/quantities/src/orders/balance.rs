//! `orders`: at each stage opening + delivered = used + closing. Reckoned anew, in fractions, from the orders and from
//! the rows of the materials.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::{Line, Orders, Total};
use crate::decimal::{plain, ratio};
use crate::estimate::Balance;
use crate::materials::{Materials, Rounding};
use crate::stage::Stage;
use crate::words::Phrase;

/// Left: opening + delivered of every line; right: what the rows of the materials use in these stages + what is left.
/// Each line is held against its own stage and its neighbours, each total against its lines.
#[must_use]
pub fn balance(orders: &Orders, materials: &Materials) -> Balance {
    let mut check = Check::default();
    let mut lines: BTreeMap<&str, Vec<(Stage, &Line)>> = BTreeMap::new();
    let mut last = None;
    for order in &orders.stages {
        if last.is_some_and(|l| l >= order.stage) {
            check.tell(format!("{}: stages out of order", order.stage.id()));
        }
        last = Some(order.stage);
        for line in &order.lines {
            lines.entry(&line.material).or_default().push((order.stage, line));
        }
    }
    let mut uses: BTreeMap<(&str, Stage), Ratio> = BTreeMap::new();
    let mut at_once: BTreeMap<(&str, Stage), Ratio> = BTreeMap::new();
    for row in &materials.rows {
        for (sums, amount) in [(&mut uses, row.gross), (&mut at_once, row.present)] {
            let sum = sums.entry((&row.material, row.stage)).or_insert(Ratio::ZERO);
            *sum = *sum + ratio(amount);
        }
    }
    for ((material, stage), used) in uses.iter().filter(|(_, used)| !used.is_zero()) {
        let of = lines.get(material).into_iter().flatten().filter(|(s, _)| s == stage).count();
        if of != 1 {
            check.tell(format!("{material}, {}: {} is used, in {of} lines", stage.id(), plain(*used)));
        }
    }
    let (mut left, mut right) = (Ratio::ZERO, Ratio::ZERO);
    for (material, lines) in &lines {
        let mut store = Decimal::ZERO;
        for (stage, line) in lines {
            let what = format!("{material}, {}", stage.id());
            let used = uses.get(&(material, *stage)).copied().unwrap_or(Ratio::ZERO);
            let (had, gone) = (ratio(line.opening) + ratio(line.ordered), used + ratio(line.closing));
            check.same(&format!("{what}, used"), used, line.used);
            check.same(&format!("{what}, opening"), ratio(store), line.opening);
            if had != gone {
                check.tell(format!("{what}: {} in, {} out", plain(had), plain(gone)));
            }
            let present = at_once.get(&(material, *stage)).copied().unwrap_or(Ratio::ZERO);
            check.same(&format!("{what}, at once"), present, line.present);
            check.there(&what, orders, material, line, had);
            if line.reserve > line.packs {
                check.tell(format!("{what}: more packs in reserve than ordered"));
            }
            (left, right, store) = (left + had, right + gone, line.closing);
        }
        let planned = materials.materials.iter().any(|m| m.id == **material && m.rounding == Rounding::Plan);
        if planned && lines.iter().any(|(_, l)| l.closing.is_sign_negative() && !l.closing.is_zero()) {
            check.tell(format!("{material}: more is cut than bought"));
        }
        let totals: Vec<&Total> = orders.totals.iter().filter(|t| t.material == **material).collect();
        match totals[..] {
            [total] => check.total(total, lines),
            _ => check.tell(format!("{material}: {} totals", totals.len())),
        }
    }
    for total in orders.totals.iter().filter(|t| !lines.contains_key(t.material.as_str())) {
        check.total(total, &[]);
    }
    if let Some(cost) = orders.cost {
        check.money("all orders", cost, orders.totals.iter().map(|t| t.cost));
    }
    Balance {
        name: "orders",
        says: Phrase::new("balance-orders"),
        left,
        right,
        unit: "",
        breaks: check.breaks,
    }
}

#[derive(Default)]
struct Check {
    breaks: Vec<String>,
}

impl Check {
    fn tell(&mut self, what: String) {
        self.breaks.push(what);
    }

    fn same(&mut self, what: &str, must: Ratio, is: Decimal) {
        if !must.is_known() || ratio(is) != must {
            self.tell(format!("{what}: {is}, reckoned {}", plain(must)));
        }
    }

    /// Is there what must be there at once? Up to the part of a pack that is not rounded up.
    fn there(&mut self, what: &str, orders: &Orders, material: &str, line: &Line, had: Ratio) {
        let pack =
            orders.totals.iter().find(|t| t.material == material).map_or(Decimal::ZERO, |t| t.pack.size);
        if had + ratio(orders.tolerance) * ratio(pack) < ratio(line.present) {
            self.tell(format!("{what}: {} at once, {} there", line.present, plain(had)));
        }
    }

    fn money(&mut self, what: &str, is: Decimal, parts: impl Iterator<Item = Option<Decimal>>) {
        let sum = parts.map(|p| p.map_or(Ratio::UNKNOWN, ratio)).sum();
        self.same(&format!("{what}, cost"), sum, is);
    }

    fn total(&mut self, total: &Total, lines: &[(Stage, &Line)]) {
        let (name, size) = (&total.material, ratio(total.pack.size));
        let packs: i128 = lines.iter().map(|(_, l)| i128::from(l.packs)).sum();
        if packs != i128::from(total.packs) {
            self.tell(format!("{name}: {} packs, in its lines {packs}", total.packs));
        }
        for (stage, line) in lines {
            let must = Ratio::int(line.packs.into()) * size;
            self.same(&format!("{name}, {}, packs", stage.id()), must, line.ordered);
        }
        self.same(
            &format!("{name}, ordered"),
            lines.iter().map(|(_, l)| ratio(l.ordered)).sum(),
            total.ordered,
        );
        self.same(&format!("{name}, used"), lines.iter().map(|(_, l)| ratio(l.used)).sum(), total.used);
        if let Some(cost) = total.cost {
            self.money(name, cost, lines.iter().map(|(_, l)| l.cost));
        }
    }
}
