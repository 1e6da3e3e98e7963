//! Materials, orders and bars: the workbook's figures against the estimate's.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::materials::Row;
use tankwright_quantities::orders::Line;
use tankwright_quantities::steel::Mark;

use super::Check;
use crate::book::{GoodsAt, MarkAt, OrderAt, RowAt};
use crate::cells::At;
use crate::pages::net;

impl Check<'_> {
    /// All of them.
    pub(super) fn goods(&mut self, places: &GoodsAt, estimate: &Estimate) {
        let materials = &estimate.materials;
        self.count("rows of materials", places.rows.len(), materials.rows.len());
        for (row, at) in materials.rows.iter().zip(&places.rows) {
            self.row(row, at, estimate);
        }
        let mut busy = 0;
        for total in &estimate.orders.totals {
            let mut before: Option<At> = None;
            for stage in &estimate.orders.stages {
                for line in stage.lines.iter().filter(|l| l.material == total.material) {
                    let at = places.orders.get(&(line.material.clone(), stage.stage));
                    busy += usize::from(at.is_some());
                    let what = || format!("orders of {} for {}", line.material, stage.stage.id());
                    self.order(&what, line, at, before);
                    before = at.map_or(before, |at| at.closing);
                }
            }
        }
        self.count("orders", places.orders.len(), busy);
        self.count("materials ordered", places.totals.len(), estimate.orders.totals.len());
        for (total, at) in estimate.orders.totals.iter().zip(&places.totals) {
            let id = &total.material;
            self.money(|| format!("orders of {id}, packs"), at.packs, Some(total.packs.into()));
            self.none_or(|| format!("orders of {id}"), at.ordered, total.ordered);
            self.none_or(|| format!("use of {id}"), at.used, total.used);
            self.none_or(|| format!("orders of {id}, cost"), at.cost, total.cost.unwrap_or_default());
        }
        self.money(|| "cost of all orders".into(), places.cost, estimate.orders.cost);
        self.bars(places, estimate);
    }

    /// A figure that has no cell where it is nothing.
    fn none_or(&mut self, what: impl FnOnce() -> String, at: Option<At>, ours: Decimal) {
        if at.is_some() || !ours.is_zero() {
            self.money(what, at, Some(ours));
        }
    }

    fn row(&mut self, row: &Row, at: &RowAt, estimate: &Estimate) {
        let what = format!("{} for {}", row.material, row.stage.id());
        if !at.uses.is_empty() {
            self.count(&what, at.uses.len(), row.uses.len());
        }
        let uses = row.uses.iter().filter_map(|u| estimate.materials.uses.get(*u));
        for (used, at) in uses.zip(&at.uses) {
            self.same(|| format!("{what}: {}", used.item), Some(*at), Some(used.amount));
        }
        let [net, over] = at.parts;
        self.none_or(|| format!("{what}, net"), net, row.net);
        self.none_or(|| format!("{what}, over-break"), over, row.over_break);
        self.none_or(|| format!("{what}, waste"), at.waste, row.waste_percent);
        self.money(|| format!("{what}, with waste"), at.gross, Some(row.gross));
        self.money(|| format!("{what}, at once"), at.present.or(at.gross), Some(row.present));
    }

    /// A stage in which goods only lie in store has no cells: what it opens and closes with stands above it.
    fn order(&mut self, what: &impl Fn() -> String, line: &Line, at: Option<&OrderAt>, before: Option<At>) {
        let nothing = OrderAt { closing: before, ..OrderAt::default() };
        let at = at.unwrap_or(&nothing);
        let named = |part: &str| format!("{}, {part}", what());
        self.none_or(|| named("in store"), at.opening.or(before), line.opening);
        self.none_or(|| named("packs"), at.packs, line.packs.into());
        self.none_or(|| named("ordered"), at.ordered, line.ordered);
        self.none_or(|| named("used"), at.used, line.used);
        self.none_or(|| named("at once"), at.present.or(at.used), line.present);
        self.none_or(|| named("left"), at.closing, line.closing);
        if at.packs.is_some() {
            self.none_or(|| named("cost"), at.cost, line.cost.unwrap_or_default());
        }
    }

    fn bars(&mut self, places: &GoodsAt, estimate: &Estimate) {
        let steel = &estimate.steel;
        self.count("marks", places.marks.len(), steel.marks.len());
        for (mark, at) in steel.marks.iter().zip(&places.marks) {
            self.mark(mark, at);
        }
        let kinds = if steel.marks.is_empty() { 0 } else { steel.mass_per_metre.len() };
        self.count("diameters", places.masses.len(), kinds);
        for ((bar, _), [marks, sheets]) in steel.mass_per_metre.iter().zip(&places.masses) {
            let id = bar.id();
            let own: Ratio = steel.marks.iter().filter(|m| m.bar == *bar).map(|m| m.mass).sum();
            let items = || estimate.sheet.items.iter().filter(|i| net::is_of(i, bar));
            let net: Ratio = items().map(|i| decimal::ratio(i.net)).sum();
            self.same(|| format!("kg of {id}"), Some(*marks), Some(own));
            self.same(|| format!("kg of {id} in the schedule, net on the sheets"), Some(*marks), Some(net));
            let booked: Decimal = items().map(|i| i.quantity).sum();
            self.money(|| format!("kg of {id} on the sheets"), Some(*sheets), Some(booked));
        }
        self.count("cutting plans", places.bars.len(), steel.cutting.len());
        for (plan, at) in steel.cutting.iter().zip(&places.bars) {
            self.money(|| format!("bars of {}", plan.bar.id()), *at, Some(plan.bars.into()));
            let material = format!("bars/{}", plan.bar.id());
            for (stage, bought) in &plan.bought {
                let at = places.bought.get(&(material.clone(), *stage)).copied();
                self.money(|| format!("{material} for {}", stage.id()), at, Some((*bought).into()));
            }
        }
    }

    fn mark(&mut self, mark: &Mark, at: &MarkAt) {
        let what = |part: &str| format!("mark {}, {part}", mark.mark);
        let mm = |tenths: Ratio| Some(tenths / Ratio::int(10));
        self.money(|| what("number"), at.count, Some(mark.count.into()));
        self.count(&what("dimensions"), at.dims.len(), mark.dims.len());
        for ((letter, len), at) in mark.dims.iter().zip(&at.dims) {
            self.same(|| what(&letter.to_string()), Some(*at), mm(len.value()));
        }
        self.same(|| what("sum"), at.sum, mm(mark.sum.value()));
        self.money(|| what("length"), at.length, Some(mark.length_mm.into()));
        self.same(|| what("kg"), at.mass, Some(mark.mass));
    }
}
