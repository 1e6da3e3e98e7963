//! From uses to orders: one material after the other, then stage by stage.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::settings::{self, Settings};
use super::{Good, Line, Orders, Pack, StageOrder, Step, Total, carry, cost, packs};
use crate::decimal;
use crate::job::Job;
use crate::materials::{Material, Materials, Rounding};
use crate::problem::Problem;
use crate::programme::title;
use crate::rates::{PriceList, Stock};
use crate::site::Site;
use crate::stage::Stage;
use crate::steel::{Cutting, Schedule};
use crate::words::Phrase;

/// Orders for the materials of a job.
///
/// # Errors
/// A pack, tolerance, group or lead time of the job file that does not hold, each with its place (`J110` to `J119`);
/// amounts beyond what can be reckoned exactly.
pub fn place(
    site: &Site<'_>,
    materials: &Materials,
    schedule: &Schedule,
    prices: Option<&PriceList>,
) -> Result<Orders, Vec<Problem>> {
    let mut problems = Vec::new();
    packs::check(site.job, site.stock, materials, &mut problems);
    let settings = settings::read(site.job, site.stock, materials, &mut problems);
    if !problems.is_empty() {
        return Err(problems);
    }
    let buyer = Buyer { job: site.job, stock: site.stock, materials, schedule, prices, settings };
    buyer.orders().ok_or_else(|| {
        let what = "the materials grow beyond what can be ordered exactly";
        vec![Problem::error("J071", None, what).hint("look for a slip in the units of a length or a pack")]
    })
}

struct Buyer<'a> {
    job: &'a Job,
    stock: &'a Stock,
    materials: &'a Materials,
    schedule: &'a Schedule,
    prices: Option<&'a PriceList>,
    settings: Settings,
}

/// One material, bought.
struct Bought {
    steps: Vec<Step>,
    serves: Vec<Vec<Stage>>,
    uncarried: u64,
}

impl Buyer<'_> {
    fn orders(&self) -> Option<Orders> {
        let mut orders = Orders {
            tolerance: self.settings.tolerance,
            groups: self.settings.groups.clone(),
            ..Orders::default()
        };
        if self.job.text("job.supply") == "labour-only" && !self.materials.materials.is_empty() {
            orders.remarks.push(Phrase::new("orders-client-buys"));
        }
        orders.remarks.extend(packs::idle(self.job, self.materials));
        let lids = self.materials.materials.iter().any(|m| packs::names(&m.id).any(|n| n == "manhole-cover"));
        if lids && !self.job.has("tank.manhole_shafts") {
            orders.remarks.push(Phrase::new("orders-frames"));
        }
        let stages = self.stages();
        let mut by_stage: BTreeMap<Stage, Vec<Line>> = BTreeMap::new();
        for material in &self.materials.materials {
            let pack = self.pack(material, &mut orders.remarks);
            let bought = self.buy(material, &pack, &stages, &mut orders.remarks)?;
            let rate = self.prices.and_then(|p| cost::per_pack(p, material, &pack, &mut orders.remarks));
            let lines = self.lines(material, &pack, &stages, &bought, rate, &mut orders.remarks)?;
            orders.totals.push(self.total(material, pack, &lines, bought.uncarried, rate)?);
            orders.goods.push(self.good(material));
            for (stage, line) in lines {
                by_stage.entry(stage).or_default().push(line);
            }
        }
        orders.stages = by_stage.into_iter().map(|(stage, lines)| StageOrder { stage, lines }).collect();
        orders.remarks = merged(orders.remarks);
        let priced = self.prices.is_some() && !orders.totals.is_empty();
        orders.cost = if priced { sum(orders.totals.iter().map(|t| t.cost)) } else { None };
        Some(orders)
    }

    /// Stages that use or receive anything, in order.
    fn stages(&self) -> Vec<Stage> {
        let used = self.materials.rows.iter().map(|r| r.stage);
        let bars = self.schedule.cutting.iter().flat_map(|c| c.bought.iter().map(|(stage, _)| *stage));
        let mut stages: Vec<Stage> = used.chain(bars).collect();
        stages.sort_unstable();
        stages.dedup();
        stages
    }

    fn cutting(&self, material: &Material) -> Option<&Cutting> {
        let of_bars = material.id.strip_prefix("bars/").filter(|_| material.rounding == Rounding::Plan)?;
        self.schedule.cutting.iter().find(|c| c.bar.id() == of_bars)
    }

    fn pack(&self, material: &Material, remarks: &mut Vec<Phrase>) -> Pack {
        let Some(cutting) = self.cutting(material) else {
            return packs::of(self.job, self.stock, material, remarks);
        };
        packs::of_bars(self.job, Decimal::new(cutting.stock_mm, 3).normalize())
    }

    fn uses(&self, material: &Material, stages: &[Stage]) -> Option<Vec<Decimal>> {
        let of = |stage: &Stage| {
            let rows = self.materials.rows.iter().filter(|r| r.material == material.id && r.stage == *stage);
            rows.map(|r| r.gross).try_fold(Decimal::ZERO, |sum, gross| sum.checked_add(gross))
        };
        stages.iter().map(of).collect()
    }

    /// What must be on the site at once.
    fn present(&self, material: &Material, stages: &[Stage]) -> Option<Vec<Decimal>> {
        let of = |stage: &Stage| {
            let rows = self.materials.rows.iter().filter(|r| r.material == material.id && r.stage == *stage);
            rows.map(|r| r.present).try_fold(Decimal::ZERO, |sum, present| sum.checked_add(present))
        };
        stages.iter().map(of).collect()
    }

    fn buy(
        &self,
        material: &Material,
        pack: &Pack,
        stages: &[Stage],
        remarks: &mut Vec<Phrase>,
    ) -> Option<Bought> {
        let uses = self.uses(material, stages)?;
        if let Some(cutting) = self.cutting(material) {
            return self.by_plan(cutting, pack, stages, &uses);
        }
        let own: Vec<usize> = (0..stages.len()).collect();
        let together = |stage: &Stage| {
            let at = self.settings.groups.iter().position(|g| g.contains(stage));
            at.unwrap_or(self.settings.groups.len())
        };
        let bulk = material.rounding == Rounding::Bulk;
        let groups = if bulk { stages.iter().map(together).collect() } else { own };
        let reserve = self.reserve(material, stages, &uses, remarks);
        // Bars without a plan: a missing piece is missing.
        let plan = material.rounding == Rounding::Plan;
        let tolerance = if plan { Decimal::ZERO } else { self.settings.tolerance };
        let present = self.present(material, stages)?;
        let steps = carry::carry(&uses, &present, pack.size, tolerance, &groups, &reserve)?;
        let served = |at: usize| {
            let step = steps.get(at)?;
            let here =
                |j: &usize| groups.get(*j) == groups.get(at) && uses.get(*j).is_some_and(|u| !u.is_zero());
            let of = |j: usize| stages.get(j).copied();
            Some(if step.packs == 0 {
                Vec::new()
            } else {
                (at..stages.len()).filter(here).filter_map(of).collect()
            })
        };
        let serves = (0..stages.len()).map(served).collect::<Option<Vec<_>>>()?;
        let alone: Vec<Decimal> =
            uses.iter().zip(&present).map(|(used, present)| *used.max(present)).collect();
        let uncarried = carry::uncarried(&alone, pack.size)?;
        Some(Bought { steps, serves, uncarried })
    }

    /// Bags in hand at each stage; only cement, and only where it is used.
    fn reserve(
        &self,
        material: &Material,
        stages: &[Stage],
        uses: &[Decimal],
        remarks: &mut Vec<Phrase>,
    ) -> Vec<u64> {
        if packs::names(&material.id).all(|n| n != "cement") {
            return Vec::new();
        }
        for stage in self.settings.reserve.keys() {
            let at = stages.iter().position(|s| s == stage);
            if at.and_then(|at| uses.get(at)).is_none_or(Decimal::is_zero) {
                remarks.push(Phrase::with("orders-reserve-idle", &[title(*stage)]));
            }
        }
        let of = |(stage, used): (&Stage, &Decimal)| {
            self.settings.reserve.get(stage).copied().filter(|_| !used.is_zero()).unwrap_or(0)
        };
        stages.iter().zip(uses).map(of).collect()
    }

    /// Bars as the cutting plan buys them; what is not used stays in the store as offcuts.
    fn by_plan(&self, cutting: &Cutting, pack: &Pack, stages: &[Stage], uses: &[Decimal]) -> Option<Bought> {
        let (mut opening, mut steps, mut serves, mut all) = (Decimal::ZERO, Vec::new(), Vec::new(), 0_u64);
        for (stage, used) in stages.iter().zip(uses) {
            let mut bought = cutting.bought.iter().filter(|(s, _)| s == stage).map(|(_, n)| *n);
            let bought = bought.try_fold(0_u64, u64::checked_add)?;
            let ordered = decimal::product(bought.into(), pack.size)?;
            let closing = opening.checked_add(ordered)?.checked_sub(*used)?;
            let let_off = Decimal::ZERO;
            steps.push(Step { opening, packs: bought, reserve: 0, ordered, used: *used, closing, let_off });
            (opening, all) = (closing, all.checked_add(bought)?);
            let pieces = cutting.patterns.iter().filter(|p| p.stage == *stage).flat_map(|p| &p.pieces);
            let mut served: Vec<Stage> = pieces.map(|(_, stage)| *stage).collect();
            served.sort_unstable();
            served.dedup();
            serves.push(if bought == 0 { Vec::new() } else { served });
        }
        // Cutting each stage by itself is not planned: nothing is claimed to be saved.
        Some(Bought { steps, serves, uncarried: all })
    }

    fn lines(
        &self,
        material: &Material,
        pack: &Pack,
        stages: &[Stage],
        bought: &Bought,
        rate: Option<Decimal>,
        remarks: &mut Vec<Phrase>,
    ) -> Option<Vec<(Stage, Line)>> {
        let digits = self.stock.currencies.get(self.job.text("job.currency")).map_or(0, |(c, _)| c.digits);
        let present = self.present(material, stages)?;
        let mut lines = Vec::new();
        for (((stage, step), serves), present) in
            stages.iter().zip(&bought.steps).zip(&bought.serves).zip(present)
        {
            let Step { opening, packs, reserve, ordered, used, closing, let_off } = step.clone();
            if packs == 0 && [opening, used, closing].iter().all(Decimal::is_zero) {
                continue;
            }
            if !let_off.is_zero() {
                let (off, tolerance) = (let_off.normalize().to_string(), self.settings.tolerance.to_string());
                let [word, _] = &pack.words;
                let args = [&material.title, title(*stage), &off, &material.unit, word, &tolerance];
                remarks.push(Phrase::with("orders-let-off", &args));
            }
            let cost = match rate {
                Some(rate) => Some(cost::money(packs, rate, digits)?),
                None => None,
            };
            let material = material.id.clone();
            let serves = serves.clone();
            let line = Line {
                material,
                opening,
                ordered,
                used,
                present,
                closing,
                packs,
                reserve,
                let_off,
                serves,
                cost,
            };
            lines.push((*stage, line));
        }
        Some(lines)
    }

    fn total(
        &self,
        material: &Material,
        pack: Pack,
        lines: &[(Stage, Line)],
        packs_uncarried: u64,
        rate: Option<Decimal>,
    ) -> Option<Total> {
        let add = |of: fn(&Line) -> Decimal| {
            lines.iter().try_fold(Decimal::ZERO, |sum, (_, line)| sum.checked_add(of(line)))
        };
        Some(Total {
            material: material.id.clone(),
            ordered: add(|l| l.ordered)?,
            used: add(|l| l.used)?,
            packs: lines.iter().try_fold(0_u64, |sum, (_, line)| sum.checked_add(line.packs))?,
            packs_uncarried,
            rate,
            cost: if rate.is_some() { sum(lines.iter().map(|(_, l)| l.cost)) } else { None },
            pack,
        })
    }

    fn good(&self, material: &Material) -> Good {
        let own = packs::names(&material.id).find_map(|n| self.settings.leads.get(n).copied());
        let usual = self.stock.times.waits.iter().find(|w| w.kind == "order" && w.used);
        Good {
            material: material.id.clone(),
            title: material.title.clone(),
            unit: material.unit.clone(),
            supplier: material.supplier.clone(),
            lead_days: own.or_else(|| usual.map(|w| w.days)).unwrap_or(0),
            lead_default: own.is_none(),
        }
    }
}

/// Sum of amounts; nothing where one is missing.
fn sum(mut amounts: impl Iterator<Item = Option<Decimal>>) -> Option<Decimal> {
    amounts.try_fold(Decimal::ZERO, |sum, amount| sum.checked_add(amount?))
}

/// Remarks that differ in the material alone, and where it stands in them.
const ALIKE: [(&str, usize); 4] =
    [("orders-idle", 0), ("orders-no-rate", 1), ("orders-no-load", 0), ("orders-no-pack", 0)];

/// One remark for all materials of which the same is to be said, where the first of them stood.
fn merged(remarks: Vec<Phrase>) -> Vec<Phrase> {
    let mut all: Vec<Phrase> = Vec::new();
    for remark in remarks {
        let at = ALIKE.iter().find(|(key, _)| *key == remark.key).map(|(_, at)| *at);
        let rest = |p: &Phrase| -> Vec<String> {
            p.args.iter().enumerate().filter(|(i, _)| Some(*i) != at).map(|(_, a)| a.clone()).collect()
        };
        let same = |p: &&mut Phrase| at.is_some() && p.key == remark.key && rest(p) == rest(&remark);
        let earlier = all.iter_mut().find(same).and_then(|p| p.args.get_mut(at?));
        match (earlier, at.and_then(|at| remark.args.get(at))) {
            (Some(names), Some(name)) => {
                names.push_str(", ");
                names.push_str(name);
            }
            _ => all.push(remark),
        }
    }
    all
}
