//! The plan for the one who cuts.

use tankwright_cutting::plan::KEPT;

use super::report::{Report, Source, money};
use crate::show::clean;

/// No line is longer.
const WIDTH: usize = 100;
/// Columns before the pieces.
const BEFORE: usize = 29;

pub(super) fn text(r: &Report, timed: bool) -> String {
    let mut out = format!("CUTTING LIST of {}\n", clean(&r.list));
    let stocks: Vec<String> = r.sources.iter().map(source).collect();
    wrapped(&mut out, &format!("From {}.", stocks.join(", ")), 0);
    let cut = format!("Pieces: {}. Each cut takes {} mm; lengths in mm.", r.number, r.kerf);
    wrapped(&mut out, &cut, 0);
    out.push_str("\n nr     times   from         left  pieces\n");
    let mut shared = false;
    for (i, p) in r.patterns.iter().enumerate() {
        let (mm, offcut) = r.sources.get(p.source).map_or((0, false), |s| (s.mm, s.offcut));
        let from = if offcut { format!("offcut {mm}") } else { format!("bar {mm}") };
        let head = format!("{:>3} {:>7} x  {from:<13}{:>5}  ", i + 1, p.times, p.offcut);
        let mut line = head;
        let mut width = line.chars().count().max(BEFORE);
        for (n, piece) in p.pieces.iter().enumerate() {
            let marks = marks(&piece.marks);
            shared = shared || piece.marks.len() > 1;
            let comma = if n + 1 < p.pieces.len() { "," } else { "" };
            let mark = if marks.is_empty() { String::new() } else { format!(" ({})", clean(&marks)) };
            let cell = format!("{} x {}{mark}{comma}", piece.number, piece.mm);
            let long = cell.chars().count() + 1;
            if n > 0 && width + long > WIDTH {
                line.push('\n');
                line.push_str(&" ".repeat(BEFORE + 2));
                width = BEFORE + 2;
            } else if n > 0 {
                line.push(' ');
            }
            line.push_str(&cell);
            width += long;
        }
        out.push_str(&line);
        out.push('\n');
    }
    if shared {
        out.push_str("\nWhere a length has several marks, their numbers are over all bars of the pattern.\n");
    }
    out.push('\n');
    result(&mut out, r, timed);
    aims(&mut out, r);
    kept(&mut out, r);
    sums(&mut out, r);
    out
}

fn source(s: &Source) -> String {
    let limit = s.limit.map_or_else(String::new, |n| format!(", {n} of them"));
    let price = s.price.map_or_else(String::new, |p| format!(" at {}", money(i128::from(p))));
    let what = if s.offcut { "offcuts" } else { "bars" };
    format!("{what} of {} mm{price}{limit}", s.mm)
}

/// `A1`, or `4 A1, 2 A2`.
pub(super) fn marks(marks: &[(String, u64)]) -> String {
    let word = |mark: &str| if mark.is_empty() { "no mark".to_owned() } else { mark.to_owned() };
    match marks {
        [] => String::new(),
        [(mark, _)] => mark.clone(),
        many => many.iter().map(|(m, n)| format!("{n} {}", word(m))).collect::<Vec<_>>().join(", "),
    }
}

fn result(out: &mut String, r: &Report, timed: bool) {
    let bought: Vec<String> = r
        .sources
        .iter()
        .zip(&r.used)
        .filter(|(s, n)| !s.offcut && **n > 0)
        .map(|(s, n)| format!("{n} of {} mm", s.mm))
        .collect();
    let bought = if bought.is_empty() { "none".to_owned() } else { bought.join(", ") };
    let mut buy = format!("Bars to buy: {bought}");
    if r.totals.free > 0 {
        buy.push_str(&format!("; offcuts used: {}", r.totals.free));
    }
    if let Some((cost, _)) = r.cost {
        buy.push_str(&format!("; cost {}", money(cost)));
    }
    wrapped(out, &format!("{buy}."), 0);
    let bars = i128::from(r.totals.bought);
    let (unit, bound, over) = match r.cost.filter(|_| r.by_cost) {
        Some((cost, bound)) => ("costs less than", money(bound), money(cost - bound)),
        None => ("needs fewer than", r.bars_bound.to_string(), (bars - r.bars_bound).to_string()),
    };
    let words = if r.proved {
        format!("Proved least: no plan {unit} {bound}.")
    } else {
        let hint = if timed { "A longer --time may close the gap." } else { "--time 60s searches longer." };
        format!("Not proved least: within {over} of the bound; no plan {unit} {bound}. {hint}")
    };
    wrapped(out, &words, 0);
    out.push_str("Checked: every piece is cut once, no bar is overfull, no stock is used up twice.\n");
}

fn aims(out: &mut String, r: &Report) {
    let first = if r.by_cost { "the least cost of the bars bought" } else { "the fewest bars bought" };
    let stores = if r.sources.iter().any(|s| s.offcut) { ", offcuts in the store cost nothing" } else { "" };
    let words = format!(
        "Aims, in this order: 1 {first}{stores}; 2 a pattern that fits a cheaper or shorter stock is cut from it. \
         The number of patterns is not weighed."
    );
    wrapped(out, &words, 0);
}

fn kept(out: &mut String, r: &Report) {
    if r.kept.is_empty() {
        out.push_str(&format!("Offcuts to keep ({KEPT} mm and more): none.\n"));
        return;
    }
    let all: Vec<String> = r.kept.iter().map(|(mm, n)| format!("{n} x {mm}")).collect();
    wrapped(out, &format!("Offcuts to keep ({KEPT} mm and more): {}.", all.join(", ")), 2);
}

fn sums(out: &mut String, r: &Report) {
    let s = &r.sums;
    out.push('\n');
    let rows = [
        ("stock used", s.stock),
        ("pieces", s.pieces),
        ("cuts", s.cuts),
        ("offcuts to keep", s.kept),
        ("waste", s.waste),
    ];
    for (name, mm) in rows {
        // Tenths of a percent, half away from zero.
        let tenths = if s.stock == 0 { 0 } else { (2 * 1000 * mm + s.stock) / (2 * s.stock) };
        out.push_str(&format!("{name:<16}{mm:>14} mm {:>4}.{} %\n", tenths / 10, tenths % 10));
    }
}

/// Words in lines, the later ones set in.
fn wrapped(out: &mut String, text: &str, indent: usize) {
    let mut width = 0;
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        let long = word.chars().count();
        if width > 0 && width + 1 + long > WIDTH {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            width = indent;
        } else if width > 0 {
            out.push(' ');
            width += 1;
        }
        out.push_str(word);
        width += long;
    }
    out.push('\n');
}
