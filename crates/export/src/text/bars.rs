//! The bar schedule and the cutting plan as a paper.

use tankwright_geometry::{Len, Ratio};
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::steel::{BarKind, Cutting, Mark};
use tankwright_quantities::words::Phrase;

use super::goods;
use super::table::{Col, Page, Table};
use crate::format::{group, grouped, say, value, word};

/// Schedule by stage, totals by diameter, and how the bars are cut.
#[must_use]
pub fn bars(e: &Estimate) -> String {
    let mut page = Page::default();
    super::head(&mut page, e);
    if e.steel.marks.is_empty() {
        page.line(0, 2, word("paper-bars-none"));
        return page.done();
    }
    page.line(0, 2, word("paper-bars-head"));
    schedule(&mut page, &e.steel.marks);
    totals(&mut page, e);
    e.steel.cutting.iter().for_each(|c| plan(&mut page, c));
    if !e.steel.cutting.is_empty() {
        page.blank();
        page.line(0, 2, word("paper-cut-aims"));
    }
    remarks(&mut page, e);
    cautions(&mut page, &e.steel.marks);
    page.done()
}

/// Letters that any mark uses.
fn letters(marks: &[Mark]) -> Vec<char> {
    let mut all: Vec<char> = marks.iter().flat_map(|m| &m.dims).map(|d| d.0).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// A dimension in whole millimetres or tenths; not grouped, as on drawings.
pub(crate) fn millimetres(len: &Len) -> String {
    let mm = decimal::rounded(len.value() / Ratio::int(10), 1);
    mm.map_or_else(|| "?".to_owned(), |mm| mm.normalize().to_string())
}

/// Marks stage by stage, remarks under each.
fn schedule(page: &mut Page, marks: &[Mark]) {
    let letters = letters(marks);
    let mut cols = vec![Col::Left(4), Col::Fill(20), Col::Left(3), Col::Left(5), Col::Right(6)];
    cols.extend(letters.iter().map(|_| Col::Right(4)));
    cols.extend([Col::Right(6), Col::Right(8)]);
    let mut last = None;
    let mut table = Table::new(2, &cols);
    let heads = ["paper-mark", "paper-member", "paper-bar", "paper-shape", "paper-number"];
    let heads = heads.map(|h| word(h).to_owned()).into_iter();
    let heads = heads.chain(letters.iter().map(char::to_string));
    table.row(heads.chain(["paper-length", "paper-kg"].map(|h| word(h).to_owned())));
    for mark in marks {
        if last != Some(mark.stage) {
            last = Some(mark.stage);
            table.row([""]);
            table.across_at(0, &goods::stage(mark.stage).to_uppercase());
        }
        let first = [
            mark.mark.clone(),
            mark.member.to_string(),
            mark.bar.id(),
            mark.shape.to_owned(),
            group(&mark.count.to_string()),
        ];
        let dim = |l: &char| {
            let len = mark.dims.iter().find(|d| d.0 == *l);
            len.map_or_else(String::new, |d| millimetres(&d.1))
        };
        let last = [mark.length_mm.to_string(), two(mark.mass)];
        table.row(first.into_iter().chain(letters.iter().map(dim)).chain(last));
        if !mark.remarks.is_empty() {
            let remarks: Vec<_> = mark.remarks.iter().map(ToString::to_string).collect();
            table.across_at(8, &remarks.join("; "));
        }
    }
    page.blank();
    page.table(&table);
}

/// What the pieces of a kind come to: number, metres, kilograms.
pub(crate) fn pieces(e: &Estimate, kind: &BarKind) -> (u64, Ratio, Ratio) {
    let marks = || e.steel.marks.iter().filter(|m| m.bar == *kind);
    let metres = marks().map(|m| Ratio::from(m.length_mm) * Ratio::int(m.count.into())).sum::<Ratio>();
    (marks().map(|m| m.count).sum(), metres / Ratio::int(1_000), marks().map(|m| m.mass).sum())
}

/// Grades and diameters of the schedule, in order.
pub(crate) fn kinds(e: &Estimate) -> Vec<&BarKind> {
    let mut kinds: Vec<_> = e.steel.marks.iter().map(|m| &m.bar).collect();
    kinds.sort();
    kinds.dedup();
    kinds
}

/// Kilograms of all bars.
pub(crate) fn mass(e: &Estimate) -> Ratio {
    e.steel.marks.iter().map(|m| m.mass).sum()
}

fn totals(page: &mut Page, e: &Estimate) {
    page.heading(word("paper-bars-totals"));
    let cols = [Col::Left(4), Col::Right(7), Col::Right(10), Col::Right(7), Col::Right(10), Col::Left(0)];
    let mut table = Table::new(2, &cols);
    table.heads(["paper-bar", "paper-pieces", "paper-metres", "paper-kg-per-m", "paper-kg", "paper-to-buy"]);
    for kind in kinds(e) {
        let (n, metres, kg) = pieces(e, kind);
        let per = e.steel.mass_per_metre.iter().find(|m| m.0 == *kind).map(|m| value(m.1, 3, 3));
        let buy = e.steel.cutting.iter().find(|c| c.bar == *kind).map(|c| of_length(c.bars, c.stock_mm));
        table.row([
            kind.id(),
            group(&n.to_string()),
            value(metres, 3, 3),
            per.unwrap_or_default(),
            two(kg),
            buy.unwrap_or_default(),
        ]);
    }
    table.row(["", "", "", "", &two(mass(e)), word("paper-bars-mass")]);
    page.table(&table);
}

/// Kilograms to two places: the ledger and the bill keep them all.
pub(crate) fn two(kg: Ratio) -> String {
    decimal::rounded(kg, 2).map_or_else(|| value(kg, 2, 2), |d| grouped(d, 2))
}

/// `12 bars of 12 m`.
pub(crate) fn of_length(n: u64, mm: i64) -> String {
    let metres = value(Ratio::of(mm.into(), 1_000), 0, 3);
    let key = if n == 1 { "paper-one-bar-of" } else { "paper-bars-of" };
    say(key, &[&group(&n.to_string()), &metres]).replace(' ', "\u{a0}")
}

/// `3 x 1850, 1 x 1400`: pieces of one bar, equal ones together.
pub(crate) fn cut(pieces: &[(i64, Stage)]) -> String {
    let mut runs: Vec<(i64, u64)> = Vec::new();
    for (mm, _) in pieces {
        match runs.last_mut() {
            Some((length, n)) if length == mm => *n += 1,
            _ => runs.push((*mm, 1)),
        }
    }
    runs.iter().map(|(mm, n)| format!("{n}\u{a0}x\u{a0}{mm}")).collect::<Vec<_>>().join(" + ")
}

/// How the bars of one kind are cut, and the proof that there are no fewer.
fn plan(page: &mut Page, c: &Cutting) {
    let kerf = say("paper-cut-kerf", &[&c.kerf_mm.to_string()]);
    let head = say("paper-cut-head", &[&c.bar.id(), &of_length(c.bars, c.stock_mm), &proof(c), &kerf]);
    page.heading(&head);
    let cols = [Col::Left(12), Col::Right(6), Col::Fill(40), Col::Right(8), Col::Fill(16)];
    let mut table = Table::new(2, &cols);
    table.heads([
        "paper-cut-bought-for",
        "paper-cut-times",
        "paper-cut-pieces",
        "paper-cut-left",
        "paper-cut-later",
    ]);
    for p in &c.patterns {
        let mut later: Vec<Stage> = p.pieces.iter().map(|(_, s)| *s).filter(|s| *s != p.stage).collect();
        later.sort_unstable();
        later.dedup();
        table.row([
            goods::stage(p.stage),
            format!("{}\u{a0}x", p.times),
            cut(&p.pieces),
            p.offcut_mm.to_string(),
            goods::stage_list(&later),
        ]);
    }
    page.table(&table);
    let bought: Vec<_> = c.bought.iter().map(|(s, n)| format!("{} {n}", goods::stage(*s))).collect();
    let key = if c.latest { "paper-cut-latest" } else { "paper-cut-late" };
    page.line(2, 4, &say(key, &[&bought.join("; ")]));
    page.line(2, 4, &kept(c));
}

/// `proved least`, or how far from the bound.
pub(crate) fn proof(c: &Cutting) -> String {
    if c.proved_least() {
        return word("paper-cut-proved").to_owned();
    }
    let over = c.bars.saturating_sub(c.bound);
    say("paper-cut-within", &[&over.to_string(), &c.bound.to_string()])
}

fn kept(c: &Cutting) -> String {
    if c.kept.is_empty() {
        return word("paper-cut-none-kept").to_owned();
    }
    let kept: Vec<_> = c.kept.iter().map(|(mm, n)| format!("{n}\u{a0}x\u{a0}{mm}")).collect();
    say("paper-cut-kept", &[&kept.join(", ")])
}

fn remarks(page: &mut Page, e: &Estimate) {
    if e.steel.remarks.is_empty() {
        return;
    }
    page.heading(word("paper-remarks"));
    e.steel.remarks.iter().for_each(|r| page.line(2, 4, &r.to_string()));
}

/// Remarks at marks that somebody has to decide on.
const CAUTIONS: [&str; 3] = ["bars-tight", "bars-leg", "bars-span-up"];

/// Each of them once, with the marks it stands at.
fn cautions(page: &mut Page, marks: &[Mark]) {
    let mut all: Vec<(&Phrase, Vec<&str>)> = Vec::new();
    for mark in marks {
        for remark in mark.remarks.iter().filter(|r| CAUTIONS.contains(&r.key)) {
            match all.iter_mut().find(|(says, _)| *says == remark) {
                Some((_, named)) if named.last() == Some(&mark.mark.as_str()) => {}
                Some((_, named)) => named.push(&mark.mark),
                None => all.push((remark, vec![&mark.mark])),
            }
        }
    }
    if !all.is_empty() {
        page.heading(word("paper-bars-cautions"));
    }
    for (says, named) in all {
        let key = if named.len() == 1 { "paper-bars-caution-one" } else { "paper-bars-caution" };
        page.line(2, 4, &say(key, &[&named.join(", "), &says.to_string()]));
    }
}

#[cfg(test)]
mod tests {
    use crate::text::bars;
    use crate::{golden, handmade};

    #[test]
    fn schedule_and_cutting_plan() {
        golden::same("bars.txt", &bars(&handmade::estimate()));
    }

    #[test]
    fn a_plan_that_is_not_proved_says_how_far_it_is() {
        let mut e = handmade::estimate();
        e.steel.cutting[0].bound = 4;
        e.steel.cutting[0].kept.clear();
        let text = bars(&e);
        assert!(text.contains("within 1 of the bound"), "{text}");
        assert!(text.contains("no offcut of 300 mm or more"), "{text}");
        e.steel = tankwright_quantities::steel::Schedule::default();
        assert!(bars(&e).contains("no bars"), "{}", bars(&e));
    }
}
