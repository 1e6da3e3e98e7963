//! The paper of `cheapest`.

use rust_decimal::Decimal;
use tankwright_cheapest::{Axis, Beyond, Chosen, How, Report, shown};
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;
use tankwright_sizing::rule::MeasuredTo;
use tankwright_sizing::sized::short;

use super::{lost, several};
use crate::format::{NO_BREAK, group, say, word};
use crate::money::money;
use crate::text::table::{Col, Page, Table};

/// So many tanks of the frontier are shown.
const FRONTIER: usize = 12;

/// The report as a paper of at most 100 columns.
#[must_use]
pub fn text(r: &Report) -> String {
    let mut page = Page::default();
    let head = say("paper-cheapest-head", &[&r.title]);
    page.apart(&head, &format!("{}   {}   {}", r.date, r.profile, r.currency.code));
    let asked = r.sized.capacity_l().map(|l| group(&short(l))).unwrap_or_default();
    let level = match r.sized.about.measured_to {
        Some(MeasuredTo::Inlet) => "paper-size-to-inlet",
        _ => "paper-size-to-water",
    };
    page.line(0, 2, &say("paper-cheapest-rule", &[&r.sized.about.rule, &asked, word(level)]));
    searched(&mut page, r);
    let [missed, refused] = lost(r);
    let counts = [r.candidates, r.tally.priced, missed, refused].map(|n| group(&n.to_string()));
    page.blank();
    let key = if r.candidates == 1 { "paper-cheapest-counts-one" } else { "paper-cheapest-counts" };
    page.line(0, 2, &say(key, &[&counts[0], &counts[1], &counts[2], &counts[3]]));
    if r.best.is_empty() {
        page.blank();
        page.line(0, 2, word("paper-cheapest-none"));
        losses(&mut page, r);
        page.blank();
    } else {
        page.heading(&say("paper-cheapest-best", &[&counts[1]]));
        tanks(&mut page, r, &r.best, true);
        page.heading(word("paper-cheapest-frontier"));
        tanks(&mut page, r, r.frontier.get(..FRONTIER).unwrap_or(&r.frontier), false);
        if let Some(more) = r.frontier.len().checked_sub(FRONTIER).filter(|n| *n > 0) {
            page.line(2, 4, &say("paper-cheapest-more", &[&more.to_string()]));
        }
        if !r.choices.is_empty() {
            page.heading(word("paper-cheapest-choices"));
            tanks(&mut page, r, &r.choices, false);
        }
    }
    drawn(&mut page, r);
    bounds(&mut page, r);
    if !r.best.is_empty() {
        losses(&mut page, r);
    }
    list(&mut page, word("paper-size-not-checked"), &r.sized.not_checked);
    let told = cautions(r);
    list(&mut page, &say("paper-size-cautions", &[&told.len().to_string()]), &told);
    if !r.best.is_empty() {
        page.blank();
        page.line(0, 2, &say("paper-cheapest-write", &[&r.file]));
    }
    page.done()
}

/// What a reader must be told.
pub(super) fn cautions(r: &Report) -> Vec<String> {
    let own = ["size-local-code", "paper-cheapest-structure", "paper-cheapest-stays"];
    let mut all: Vec<String> = own.map(|key| word(key).to_owned()).to_vec();
    let of_rule = r.sized.cautions.iter().filter(|c| ["status", "recalled"].contains(&c.id));
    all.extend(of_rule.map(|c| c.words.clone()));
    all
}

fn list(page: &mut Page, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    page.heading(title);
    lines.iter().for_each(|l| page.line(2, 4, l));
}

/// The name of what is searched.
fn name(axis: &str) -> &'static str {
    word_of(match axis {
        "length" => "paper-cheapest-length",
        "first" => "paper-cheapest-first",
        "width" => "paper-cheapest-width",
        "depth" => "paper-cheapest-depth",
        "step" => "paper-cheapest-step",
        "chambers" => "paper-cheapest-chambers",
        "units" => "paper-cheapest-units",
        "covers" => "paper-cheapest-covers",
        "span_beam" => "paper-cheapest-span-beam",
        "faces" => "paper-cheapest-faces",
        _ => "paper-cheapest-max-plan",
    })
}

fn word_of(key: &'static str) -> &'static str {
    tankwright_quantities::words::look_up(key)
}

fn searched(page: &mut Page, r: &Report) {
    page.heading(word("paper-cheapest-searched"));
    let mut table = Table::new(2, &[Col::Left(20), Col::Fill(40)]);
    for a in &r.space.axes {
        let how = match a.how {
            How::Option => word("paper-cheapest-how-option").to_owned(),
            How::Job => word("paper-cheapest-how-job").to_owned(),
            How::Default(key) => say("paper-cheapest-how-default", &[word(key)]),
        };
        table.row([name(a.name), &say("paper-cheapest-value", &[&values(a), &how])]);
    }
    page.table(&table);
}

fn values(a: &Axis) -> String {
    let held: Vec<String> = a.values.iter().map(|v| v.replace(' ', &NO_BREAK.to_string())).collect();
    match &held[..] {
        [least, most] if a.count > held.len() => {
            say("paper-cheapest-to", &[least, most, &a.count.to_string()])
        }
        _ => held.join(", "),
    }
}

/// Tanks as a table, the drawn one under the best.
fn tanks(page: &mut Page, r: &Report, rows: &[Chosen], drawn: bool) {
    let mut cols = vec![Col::Right(2), Col::Right(12), Col::Right(12), Col::Left(10)];
    cols.extend([Col::Right(5), Col::Right(6), Col::Right(7), Col::Right(6)]);
    let mut table = Table::new(2, &cols);
    let total = say("paper-cheapest-total", &[&r.currency.code]);
    let heads = [
        "paper-cheapest-difference",
        "paper-cheapest-clear",
        "paper-cheapest-wide",
        "paper-cheapest-high",
        "paper-cheapest-plan",
        "paper-cheapest-litres",
    ];
    let heads = heads.into_iter().map(|h| word(h).to_owned());
    table.row([word("paper-cheapest-nr").to_owned(), total].into_iter().chain(heads));
    for (i, c) in rows.iter().enumerate() {
        table.row([
            (i + 1).to_string(),
            money(c.row.total, &r.currency),
            signed(r, c.row.total - r.drawn.total),
            clear(&c.chambers),
            metres(c.width),
            metres(c.height),
            plan(c.row.plan),
            group(&short(c.row.litres.floor())),
        ]);
        if several(r) {
            table.across_at(4, &built(r, c));
        }
    }
    if drawn {
        let d = &r.drawn;
        table.row([
            String::new(),
            money(d.total, &r.currency),
            word("paper-cheapest-drawn").to_owned(),
            clear(&d.chambers),
            metres(d.width),
            metres(d.height),
            plan(d.plan),
            d.litres.map(|l| group(&short(l.floor()))).unwrap_or_default(),
        ]);
    }
    page.table(&table);
}

/// What of a tank differs from structure to structure.
fn built(r: &Report, c: &Chosen) -> String {
    let all = &r.space.grid.structures;
    let s = &c.structure;
    let differs = |same: &dyn Fn(&tankwright_cheapest::Structure) -> bool| all.iter().any(|o| !same(o));
    let mut parts = Vec::new();
    if differs(&|o| (&o.unit, o.wall) == (&s.unit, s.wall)) {
        parts.push(format!("{} {}", s.unit, shown(s.wall)));
    }
    if differs(&|o| o.open == s.open) {
        parts.push(word(if s.open { "paper-cheapest-open" } else { "paper-cheapest-tight" }).to_owned());
    }
    if differs(&|o| o.cover == s.cover) {
        parts.push(say("paper-cheapest-cover", &[&shown(s.cover)]));
    }
    if differs(&|o| o.beam == s.beam) {
        parts.push(word(if s.beam { "paper-cheapest-beam" } else { "paper-cheapest-no-beam" }).to_owned());
    }
    if parts.is_empty() {
        parts.push(say("paper-size-answer", &[word("paper-cheapest-chambers"), &s.chambers.to_string()]));
    }
    say("paper-size-answer", &[word("paper-cheapest-built"), &parts.join(", ")])
}

/// To a hundredth of a square metre.
fn plan(area: Ratio) -> String {
    decimal::rounded(area, 2).map_or_else(|| word("paper-unknown").to_owned(), |d| decimal::shown(d, 2))
}

fn metres(tenths: i64) -> String {
    crate::format::metres(tenths.into())
}

fn clear(lengths: &[i64]) -> String {
    let sign = format!("{NO_BREAK}+{NO_BREAK}");
    lengths.iter().map(|l| metres(*l)).collect::<Vec<_>>().join(&sign)
}

fn signed(r: &Report, difference: Decimal) -> String {
    let text = money(difference, &r.currency);
    if difference > Decimal::ZERO { format!("+{text}") } else { text }
}

fn drawn(page: &mut Page, r: &Report) {
    let cheaper = r.best.first().is_some_and(|c| r.drawn.total < c.row.total);
    match (&r.sized.verdict, r.drawn.complies) {
        (Some(v), Some(false)) => {
            page.line(0, 2, &say("paper-cheapest-drawn-fails", &[&v.reasons.join("; ")]));
        }
        (_, Some(true)) if cheaper => page.line(0, 2, word("paper-cheapest-drawn-cheaper")),
        _ => {}
    }
}

fn bounds(page: &mut Page, r: &Report) {
    page.heading(word("paper-cheapest-bounds"));
    page.line(2, 2, &say("paper-cheapest-bounds-how", &[&shown(r.space.step)]));
    let mut table = Table::new(2, &[Col::Left(34), Col::Left(10), Col::Fill(30)]);
    for b in &r.beyond {
        table.row([end(b), say("paper-cheapest-at", &[&shown(b.at)]), cost(r, b.best)]);
    }
    for l in &r.looser {
        let limit = l.name.replace('_', " ");
        let area = || r.space.max_plan.map(decimal::plain).unwrap_or_default();
        let name = match l.name.as_str() {
            "max_plan" => say("paper-cheapest-looser-plan", &[&format!("{} m2", area())]),
            _ => say("paper-cheapest-looser", &[&limit]),
        };
        table.row([name, String::new(), cost(r, Some(l.total))]);
    }
    page.table(&table);
}

fn end(b: &Beyond) -> String {
    let key = if b.over { "paper-cheapest-most" } else { "paper-cheapest-least" };
    say(key, &[name(b.name), &shown(b.end)])
}

fn cost(r: &Report, there: Option<Decimal>) -> String {
    let amount = |d| money(d, &r.currency);
    let Some(there) = there else { return word("paper-cheapest-nothing-there").to_owned() };
    match r.best.first().map(|c| c.row.total) {
        None => say("paper-cheapest-only-there", &[&amount(there)]),
        Some(best) if there < best => say("paper-cheapest-saves", &[&amount(best - there), &amount(there)]),
        Some(_) => say("paper-cheapest-costs-nothing", &[&amount(there)]),
    }
}

fn losses(page: &mut Page, r: &Report) {
    if !r.tally.missed.is_empty() {
        page.heading(word("paper-cheapest-missed"));
        let mut table = Table::new(2, &[Col::Left(20), Col::Right(14)]);
        for (what, times) in &r.tally.missed {
            let times = say("paper-cheapest-times", &[&group(&times.to_string())]);
            table.row([what.replace('_', " "), times]);
        }
        page.table(&table);
    }
    if !r.tally.refused.is_empty() {
        page.heading(word("paper-cheapest-not-built"));
        let mut table = Table::new(2, &[Col::Left(4), Col::Right(14), Col::Fill(40)]);
        for (code, c) in &r.tally.refused {
            let times = say("paper-cheapest-times", &[&group(&c.times.to_string())]);
            let first = (c.first + 1).to_string();
            table.row([(*code).to_owned(), times, say("paper-cheapest-first-of", &[&first, &c.words])]);
        }
        page.table(&table);
    }
}
