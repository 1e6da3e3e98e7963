//! The card of one stage, for the one who builds: what must be true, what must be there, what to cut, what to write down.

use rust_decimal::Decimal;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::languages::{source, text};
use tankwright_quantities::orders::{Line, Pack, StageOrder};
use tankwright_quantities::programme::{Event, EventKind};
use tankwright_quantities::stage::Stage;

use super::bars::{cut, millimetres};
use super::table::{Col, Page, Table};
use super::{goods, orders};
use crate::format::{group, least_places, quantity, say, word};

/// Ids of the stages this job has, in order.
#[must_use]
pub fn stage_ids(e: &Estimate) -> Vec<&'static str> {
    goods::stages(e).into_iter().map(Stage::id).collect()
}

/// The card of a stage; `None` where the job has no such stage.
#[must_use]
pub fn stage_card(e: &Estimate, id: &str) -> Option<String> {
    stage_page(e, id).map(Page::done)
}

/// The parts of that card.
#[must_use]
pub fn stage_page(e: &Estimate, id: &str) -> Option<Page> {
    let all = goods::stages(e);
    let at = all.iter().position(|s| s.id() == id)?;
    let (stage, next) = (*all.get(at)?, all.get(at + 1).copied());
    let order = e.orders.stages.iter().find(|o| o.stage == stage);
    let mut page = Page::default();
    super::head(&mut page, e);
    head(&mut page, e, stage);
    before(&mut page, e, stage);
    if let Some(order) = order {
        store(&mut page, e, order);
        to_order(&mut page, e, order);
    }
    cutting(&mut page, e, stage);
    write_down(&mut page, e, stage);
    after(&mut page, e, stage, next);
    checks(&mut page, e, stage);
    cautions(&mut page, e, stage);
    Some(page)
}

fn events(e: &Estimate, stage: Stage, kinds: &[EventKind]) -> Vec<Event> {
    let of = e.programme.events.iter().filter(|v| v.stage == stage && kinds.contains(&v.kind));
    of.cloned().collect()
}

/// Stage, its days, and when they are.
fn head(page: &mut Page, e: &Estimate, stage: Stage) {
    page.heading(&say("paper-card", &[&goods::stage(stage).to_uppercase()]));
    if let Some((_, n, from)) = e.programme.days.iter().find(|d| d.0 == stage) {
        let key = if *n == 1 { "paper-card-day" } else { "paper-card-days" };
        page.line(2, 4, &say(key, &[&n.to_string(), &source(from)]));
    }
    for v in events(e, stage, &[EventKind::Stage, EventKind::Pour]) {
        page.line(2, 4, &format!("{}: {}", v.title, goods::days(v.from, v.to)));
    }
}

fn sourced(says: &str, from: &str) -> String {
    if from.is_empty() { says.to_owned() } else { format!("{says} ({})", source(from)) }
}

/// What must be true before the stage begins.
fn before(page: &mut Page, e: &Estimate, stage: Stage) {
    let holds = e.programme.holds.iter().filter(|h| h.before == stage);
    let holds = holds.map(|h| sourced(&h.says.to_string(), &h.source));
    // The day of striking stands at the pour; here is where it is needed.
    let struck = |v: &&Event| {
        stage == Stage::Strike && v.kind == EventKind::Strike && v.title.key == "programme-props"
    };
    let days = e.programme.events.iter().filter(struck).cloned().map(dated);
    let rows: Vec<_> = holds.chain(days).collect();
    if !rows.is_empty() {
        page.heading(word("paper-card-before"));
    }
    rows.iter().for_each(|row| page.line(2, 6, &format!("[\u{a0}] {row}")));
}

/// What the stage uses, and what of it stands in the store already.
fn store(page: &mut Page, e: &Estimate, order: &StageOrder) {
    let used: Vec<_> = order.lines.iter().filter(|l| !goods::needed(l).is_zero()).collect();
    if used.is_empty() {
        return;
    }
    page.heading(word("paper-card-store"));
    let cols = [Col::Fill(24), Col::Right(11), Col::Left(12), Col::Right(11), Col::Right(11), Col::Left(8)];
    let mut table = Table::new(2, &cols);
    let heads = [
        "paper-material",
        "paper-card-needed",
        "paper-card-packs",
        "paper-card-there",
        "paper-card-left",
        "paper-counted",
    ];
    table.heads(heads);
    for line in used {
        let unit = goods::unit(e, &line.material);
        table.row([
            goods::title(e, &line.material),
            goods::counted(goods::needed(line), unit, true),
            in_packs(e, line),
            goods::counted(there(line.opening), unit, false),
            goods::counted(there(line.closing), unit, false),
            word("paper-card-blank").to_owned(),
        ]);
    }
    page.table(&table);
}

/// What can be seen in the store: what was not rounded up is carried as less than nothing in the account.
fn there(amount: Decimal) -> Decimal {
    amount.max(Decimal::ZERO)
}

/// `= 7.04 bags`: how many packs an amount is, to two places.
fn in_packs(e: &Estimate, line: &Line) -> String {
    let in_one = |p: &&Pack| p.size != Decimal::ONE && !goods::loose(e, &line.material);
    let Some(pack) = goods::pack(e, &line.material).filter(in_one) else {
        return String::new();
    };
    let n = decimal::ratio(goods::needed(line)) / decimal::ratio(pack.size);
    let shown = decimal::rounded(n, 2).map_or_else(String::new, |d| quantity(d, 0));
    format!("=\u{a0}{shown}\u{a0}{}", text(&pack.words[1]))
}

/// What is to be ordered, from whom, and by when.
fn to_order(page: &mut Page, e: &Estimate, order: &StageOrder) {
    let lines: Vec<_> = order.lines.iter().filter(|l| l.packs > 0).collect();
    if lines.is_empty() {
        page.heading(word("paper-card-nothing-to-order"));
        return;
    }
    let head = word("paper-card-order").to_owned();
    page.heading(&match goods::first(e, EventKind::Delivery, order.stage) {
        Some(day) => format!("{head}{}", say("paper-card-arrive", &[&goods::day(day)])),
        None => head,
    });
    let mut table = Table::new(2, &[Col::Fill(26), Col::Left(20), Col::Left(10), Col::Left(0)]);
    for line in lines {
        let who = goods::supplier(e, &line.material);
        let by = goods::order_day(e, order.stage, who).filter(|_| who != goods::SITE);
        let by = by.map(|day| say("paper-card-by", &[&goods::day(day)]));
        table.row([
            goods::title(e, &line.material),
            goods::ordered(e, line),
            text(who),
            by.unwrap_or_default(),
        ]);
    }
    page.table(&table);
    orders::notes(page, e, order);
}

/// The bars of this stage: how many of each mark, and from what they are cut.
fn cutting(page: &mut Page, e: &Estimate, stage: Stage) {
    let marks: Vec<_> = e.steel.marks.iter().filter(|m| m.stage == stage).collect();
    if marks.is_empty() {
        return;
    }
    page.heading(word("paper-card-bars"));
    let cols = [Col::Left(4), Col::Left(4), Col::Right(6), Col::Right(7), Col::Left(5), Col::Fill(30)];
    let mut table = Table::new(2, &cols);
    let heads = ["paper-mark", "paper-bar", "paper-number", "paper-length", "paper-shape", "paper-member"];
    table.heads(heads);
    for m in marks {
        let dims: Vec<_> = m.dims.iter().map(|(l, d)| format!("{l}\u{a0}{}", millimetres(d))).collect();
        let member =
            if m.shape == "00" { m.member.to_string() } else { format!("{}: {}", m.member, dims.join(", ")) };
        let (count, length) = (group(&m.count.to_string()), m.length_mm.to_string());
        table.row([m.mark.clone(), m.bar.id(), count, length, m.shape.to_owned(), member]);
        let remarks: Vec<_> = m.remarks.iter().map(ToString::to_string).collect();
        if !remarks.is_empty() {
            table.across_at(8, &remarks.join("; "));
        }
    }
    page.table(&table);
    from_bars(page, e, stage);
}

/// Patterns with a piece for this stage; pieces for later ones are kept.
fn from_bars(page: &mut Page, e: &Estimate, stage: Stage) {
    let cols = [Col::Left(4), Col::Right(6), Col::Fill(40), Col::Right(8), Col::Fill(16)];
    let mut table = Table::new(2, &cols);
    for c in &e.steel.cutting {
        for p in c.patterns.iter().filter(|p| p.pieces.iter().any(|(_, s)| *s == stage)) {
            let mut now = p.pieces.clone();
            let mut others = now.clone();
            now.retain(|(_, s)| *s == stage);
            others.retain(|(_, s)| *s > stage);
            let pieces = if others.is_empty() {
                cut(&now)
            } else {
                say(
                    "paper-card-keep-for",
                    &[&cut(&now), &cut(&others), &goods::stage_list(&stages_of(&others))],
                )
            };
            let from = if p.stage == stage {
                super::bars::of_length(1, c.stock_mm)
            } else {
                say("paper-card-kept-at", &[&goods::stage(p.stage)])
            };
            table.row([c.bar.id(), format!("{}\u{a0}x", p.times), pieces, p.offcut_mm.to_string(), from]);
        }
    }
    if table.is_empty() {
        return;
    }
    page.heading(word("paper-card-cutting"));
    let mut heads = Table::new(2, &cols);
    heads.heads(["paper-bar", "paper-cut-times", "paper-cut-pieces", "paper-cut-left", "paper-card-from"]);
    heads.append(table);
    page.table(&heads);
}

fn stages_of(pieces: &[(i64, Stage)]) -> Vec<Stage> {
    let mut all: Vec<Stage> = pieces.iter().map(|(_, s)| *s).collect();
    all.sort();
    all.dedup();
    all
}

/// What to measure, count and write down.
fn write_down(page: &mut Page, e: &Estimate, stage: Stage) {
    let blank = word("paper-card-blank");
    let mut table = Table::new(2, &[Col::Fill(44), Col::Right(14), Col::Left(24)]);
    for item in e.sheet.items.iter().filter(|i| i.stage == stage) {
        let n = quantity(item.quantity, least_places(item.unit));
        table.row([
            item.wording.to_string(),
            format!("{n}\u{a0}{}", text(item.unit.id())),
            say("paper-card-built", &[blank]),
        ]);
    }
    let poured = !events(e, stage, &[EventKind::Pour]).is_empty();
    if table.is_empty() && !poured {
        return;
    }
    page.heading(word("paper-card-write"));
    page.table(&table);
    if poured {
        page.line(2, 4, &say("paper-card-poured", &[blank]));
    }
}

/// When the next stage may start and why; then the dates that this stage leaves to be kept.
fn after(page: &mut Page, e: &Estimate, stage: Stage, next: Option<Stage>) {
    if let Some(next) = next {
        let tested = events(e, stage, &[EventKind::WaterTest]).into_iter().map(dated);
        let holds = e.programme.holds.iter().filter(|h| h.before == next);
        let holds = holds.map(|h| sourced(&h.says.to_string(), &h.source));
        let rows: Vec<_> = tested.chain(holds).collect();
        let name = goods::stage(next);
        let from = goods::first(e, EventKind::Stage, next).map(goods::day).unwrap_or_default();
        page.heading(&match (from.is_empty(), rows.is_empty()) {
            (true, true) => say("paper-card-next-done", &[&name]),
            (false, true) => say("paper-card-next-done-from", &[&name, &from]),
            (true, false) => say("paper-card-next", &[&name]),
            (false, false) => say("paper-card-next-from", &[&name, &from]),
        });
        rows.iter().for_each(|row| page.line(2, 6, &format!("[\u{a0}] {row}")));
    }
    let kept: Vec<_> =
        events(e, stage, &[EventKind::Curing, EventKind::Strike]).into_iter().map(dated).collect();
    if !kept.is_empty() {
        page.heading(word("paper-card-dates"));
        kept.iter().for_each(|text| page.line(2, 4, text));
    }
}

fn dated(v: Event) -> String {
    sourced(&format!("{}: {}", goods::days(v.from, v.to), v.title), &v.source)
}

/// Checks that belong to this stage.
fn checks(page: &mut Page, e: &Estimate, stage: Stage) {
    let mine: Vec<_> = e.checks.iter().filter(|c| c.stages.contains(&stage)).collect();
    if mine.is_empty() {
        return;
    }
    page.heading(word("paper-card-checks"));
    mine.iter().for_each(|c| page.line(2, 4, &super::checks::line(c)));
}

/// Cautions of this stage: what kills first.
fn cautions(page: &mut Page, e: &Estimate, stage: Stage) {
    let of_job = e.cautions.iter().filter(|c| c.stages.contains(&stage));
    let of_job = of_job.map(|c| sourced(&c.says.to_string(), &c.source));
    let own = e.programme.cautions.iter().filter(|c| c.0 == stage);
    let own = own.map(|(_, says, source)| sourced(&says.to_string(), source));
    let mine: Vec<_> = of_job.chain(own).collect();
    if mine.is_empty() {
        return;
    }
    page.heading(word("paper-card-cautions"));
    mine.iter().for_each(|text| page.line(2, 4, &format!("! {text}")));
}

#[cfg(test)]
mod tests {
    use crate::text::{stage_card, stage_ids};
    use crate::{golden, handmade};

    #[test]
    fn cards_of_two_stages() {
        let e = handmade::estimate();
        assert_eq!(stage_ids(&e), ["dig", "base", "walls-lower", "plaster"]);
        let cards: Vec<_> = ["base", "walls-lower"].iter().filter_map(|id| stage_card(&e, id)).collect();
        golden::same("stage-cards.txt", &cards.join("\n"));
        assert_eq!(stage_card(&e, "cover"), None);
        assert_eq!(stage_card(&e, ""), None);
    }
}
