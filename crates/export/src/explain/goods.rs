//! Materials, orders and marks: what they are made of, factor by factor.

use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::materials::{Material, Row, Use};
use tankwright_quantities::orders::Total;
use tankwright_quantities::sheet::Times;
use tankwright_quantities::steel::Mark;

use crate::format::{in_figures, in_names, inputs_of, metres, multiplier, quantity, say, value, word};
use crate::text::bars::{millimetres, two};
use crate::text::goods::{self, with_unit};
use crate::text::materials::{recipe, source, sums, uses, waste_inside};
use crate::text::orders::touched;
use crate::text::table::{Col, Page, Table};

/// A material: each stage's row, down to the quantity and the recipe of every use; then its orders.
pub(super) fn material(page: &mut Page, e: &Estimate, m: &Material) {
    let [.., gross] = sums(e, m);
    page.heading(&format!("{}   {}, {}", m.id, m.title, with_unit(gross, &m.unit)));
    page.line(0, 2, &say("paper-material-from", &[&m.supplier, &m.source.to_string()]));
    for r in e.materials.rows.iter().filter(|r| r.material == m.id) {
        row(page, e, m, r);
    }
    if let Some(t) = goods::total(e, &m.id) {
        order(page, e, t);
    }
}

fn row(page: &mut Page, e: &Estimate, m: &Material, r: &Row) {
    let mut text = if r.net == r.gross { String::new() } else { format!(" = {}", quantity(r.net, 0)) };
    if !r.over_break.is_zero() {
        text = say("paper-with-over-break", &[&quantity(r.net, 0), &quantity(r.over_break, 0)]);
    }
    let wasted = if waste_inside(e, r) {
        word("paper-source-inside").to_owned()
    } else if r.waste_percent.is_zero() {
        String::new()
    } else {
        say("paper-with-waste", &[&quantity(r.waste_percent, 0)])
    };
    let stage = goods::stage(r.stage);
    page.line(0, 2, &format!("{stage}   {}{text}{wasted}", with_unit(r.gross, &m.unit)));
    if r.present != r.gross {
        page.line(2, 4, &say("paper-row-at-once", &[&with_unit(r.present, &m.unit)]));
    }
    let mut all = uses(e, r).peekable();
    while let Some(u) = all.next() {
        page.line(2, 6, &format!("{} = {}", product(e, u), amount(u, &m.unit)));
        let from = source(u);
        if all.peek().is_none_or(|next| source(next) != from) {
            page.line(6, 6, &from);
        }
    }
}

/// Three places, as rows are rounded; more show as dots.
fn amount(u: &Use, unit: &str) -> String {
    format!("{}\u{a0}{unit}", value(u.amount, 0, 6))
}

/// `net quantity of concrete-base/1:2:4/base 1 x 320 (kg of cement in 1 m3)`.
fn product(e: &Estimate, u: &Use) -> String {
    let unit = e.sheet.find(&u.item).map_or_else(String::new, |i| format!("\u{a0}{}", i.work.unit.id()));
    let base = format!("{}{unit}", value(u.base, 0, 6));
    let of = if u.item.is_empty() { base } else { say("paper-net-of", &[&base, &u.item]) };
    let key = match (u.over_break, u.less) {
        (true, _) => "paper-use-over-break",
        (_, true) => "paper-use-less",
        _ => "plain",
    };
    format!("{} {}", say(key, &[&of]), if u.steps.is_empty() { String::new() } else { recipe(u) })
        .trim()
        .to_owned()
}

/// The orders of a material: the account stage by stage.
pub(super) fn order(page: &mut Page, e: &Estimate, t: &Total) {
    let unit = goods::unit(e, &t.material);
    let head = say(
        "paper-order-of",
        &[&goods::packs_of(e, &t.material, t.packs, t.ordered), &with_unit(t.ordered, unit), &t.material],
    );
    page.heading(&head);
    let size = with_unit(t.pack.size, unit);
    let from =
        if t.pack.default { say("paper-default-from", &[&t.pack.source]) } else { t.pack.source.clone() };
    page.line(2, 4, &say("paper-pack-is", &[&t.pack.title, &size, &from]));
    let cols = [Col::Left(0), Col::Right(10), Col::Right(10), Col::Right(10), Col::Right(10), Col::Left(0)];
    let mut table = Table::new(2, &cols);
    table.heads([
        "paper-for",
        "paper-in-store",
        "paper-delivered",
        "paper-used",
        "paper-left-over",
        "paper-to-order",
    ]);
    let lines = e.orders.stages.iter().flat_map(|o| o.lines.iter().map(|l| (o.stage, l)));
    for (stage, l) in lines.filter(|(_, l)| l.material == t.material && touched(l)) {
        let account = [l.opening, l.ordered, l.used, l.closing].map(goods::amount);
        table.row(std::iter::once(goods::stage(stage)).chain(account).chain([goods::ordered(e, l)]));
    }
    page.table(&table);
    if let (Some(rate), Some(cost)) = (t.rate, t.cost) {
        let [rate, cost] = [rate, cost].map(|d| crate::money::rate(d, &e.bill.currency));
        page.line(2, 4, &say("paper-order-cost", &[&t.packs.to_string(), &rate, &cost]));
    }
    if t.packs_uncarried > t.packs {
        page.line(2, 4, &say("paper-order-uncarried", &[&t.packs_uncarried.to_string()]));
    }
}

/// A mark: its number, dimensions, length and mass.
pub(super) fn mark(page: &mut Page, e: &Estimate, m: &Mark) {
    page.heading(&format!("{}   {}, {}", say("paper-mark-of", &[&m.mark]), m.member, goods::stage(m.stage)));
    let count = say(
        "paper-mark-number",
        &[&m.count.to_string(), &m.number.members.to_string(), &multiplier(&m.number.each)],
    );
    page.line(0, 2, &count);
    if let Times::Spaces { over, at, .. } = &m.number.each {
        page.line(11, 13, &say("paper-mark-spaces", &[&millimetres(at), &millimetres(over)]));
    }
    for (letter, len) in &m.dims {
        let mut text = format!("{letter}\u{a0}{}", millimetres(len));
        let mut used = std::collections::BTreeSet::new();
        inputs_of(len, &mut used);
        if let (Some(figures), Some(names), false) =
            (in_figures(len, &e.inputs), in_names(len, &e.inputs), used.is_empty())
        {
            text.push_str(&format!("   {} m = {figures}   [{names}]", metres(len.value())));
        }
        page.line(2, 6, &text);
    }
    let length = m.length_mm.to_string();
    page.line(0, 2, &say("paper-mark-length", &[m.shape, &millimetres(&m.sum), &length]));
    if let Some((_, kg)) = e.steel.mass_per_metre.iter().find(|(bar, _)| *bar == m.bar) {
        let metres = value(tankwright_geometry::Ratio::of(m.length_mm.into(), 1_000), 3, 3);
        let args = [&two(m.mass), &m.count.to_string(), &metres, &decimal::plain(*kg)];
        page.line(0, 2, &say("paper-mark-mass", &args.map(String::as_str)));
    }
    m.remarks.iter().for_each(|r| page.line(2, 4, &r.to_string()));
}
