//! The card of one stage, for the one who builds: what must be true, what must be there, what to cut, what to write down.

use rust_decimal::Decimal;
use tankwright_quantities::checks::Verdict;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::{Estimate, Mark};
use tankwright_quantities::languages::{figure, source, text};
use tankwright_quantities::orders::{Line, Pack, StageOrder};
use tankwright_quantities::programme::{Event, EventKind};
use tankwright_quantities::stage::Stage;
use tankwright_quantities::works::{Earth, Section, Unit};

use super::bars::{cut, millimetres};
use super::table::{Col, Page, Table};
use super::{goods, orders};
use crate::format::{NO_BREAK, group, legible, quantity, say, word};

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
    let mut sources = Sources::default();
    head(&mut page, e, stage, &mut sources);
    before(&mut page, e, stage, &mut sources);
    if let Some(order) = order {
        materials(&mut page, e, order);
    }
    cutting(&mut page, e, stage);
    pegs(&mut page, e, stage);
    write_down(&mut page, e, stage);
    after(&mut page, e, (stage, next), &mut sources);
    checks(&mut page, e, stage, &mut sources);
    cautions(&mut page, e, stage, &mut sources);
    sources.told(&mut page);
    Some(page)
}

fn events(e: &Estimate, stage: Stage, kinds: &[EventKind]) -> Vec<Event> {
    let of = e.programme.events.iter().filter(|v| v.stage == stage && kinds.contains(&v.kind));
    of.cloned().collect()
}

/// Stage, its days, and when they are.
fn head(page: &mut Page, e: &Estimate, stage: Stage, sources: &mut Sources) {
    page.heading(&say("paper-card", &[&goods::stage(stage).to_uppercase()]));
    if let Some(taken) = e.programme.days.iter().find(|d| d.stage == stage) {
        let key = match (taken.given, taken.days) {
            (true, 1) => "paper-card-day",
            (true, _) => "paper-card-days",
            (false, 1) => "paper-card-day-usual",
            (false, _) => "paper-card-days-usual",
        };
        page.line(2, 4, &say(key, &[&taken.days.to_string(), &source(&taken.source)]));
        if let Some((why, from)) = &taken.why {
            page.line(2, 4, &sources.mark(&why.to_string(), from));
        }
    }
    for v in events(e, stage, &[EventKind::Stage, EventKind::Pour]) {
        page.line(2, 4, &format!("{}: {}", v.title, goods::days(v.from, v.to)));
    }
}

/// Sources by number, told at the foot of the card: what is to be done stands alone.
#[derive(Default)]
struct Sources(Vec<String>);

impl Sources {
    /// What is said, with the number of its source.
    fn mark(&mut self, says: &str, from: &str) -> String {
        if from.is_empty() {
            return says.to_owned();
        }
        let from = source(from);
        let at = self.0.iter().position(|s| *s == from).unwrap_or_else(|| {
            self.0.push(from);
            self.0.len() - 1
        });
        format!("{says}{NO_BREAK}[{}]", at + 1)
    }

    /// The same of an event, after its days.
    fn dated(&mut self, v: &Event) -> String {
        self.mark(&format!("{}: {}", goods::days(v.from, v.to), v.title), &v.source)
    }

    fn told(&self, page: &mut Page) {
        if !self.0.is_empty() {
            let all: Vec<_> = (1..).zip(&self.0).map(|(n, s)| format!("[{n}]{NO_BREAK}{s}")).collect();
            page.blank();
            page.small(&say("paper-card-sources", &[&all.join("; ")]));
        }
    }
}

/// What must be true before the stage begins.
fn before(page: &mut Page, e: &Estimate, stage: Stage, sources: &mut Sources) {
    let holds = e.programme.holds.iter().filter(|h| h.before == stage);
    let mut rows: Vec<_> = holds.map(|h| sources.mark(&h.says.to_string(), &h.source)).collect();
    // The day of striking stands at the pour; here is where it is needed.
    let struck = |v: &&Event| {
        stage == Stage::Strike && v.kind == EventKind::Strike && v.title.key == "programme-props"
    };
    rows.extend(e.programme.events.iter().filter(struck).map(|v| sources.dated(v)));
    if !rows.is_empty() {
        page.heading(word("paper-card-before"));
    }
    rows.iter().for_each(|row| page.line(2, 6, &format!("[\u{a0}] {row}")));
}

/// What the stage needs, what of it is there, what is to be ordered from whom and by when: one row a material.
fn materials(page: &mut Page, e: &Estimate, order: &StageOrder) {
    let lines: Vec<_> = order.lines.iter().filter(|l| l.packs > 0 || !goods::needed(l).is_zero()).collect();
    let to_order = lines.iter().any(|l| l.packs > 0);
    if !to_order {
        page.heading(word("paper-card-nothing-to-order"));
    }
    if lines.is_empty() {
        return;
    }
    if to_order {
        let head = word("paper-card-goods").to_owned();
        page.heading(&match goods::first(e, EventKind::Delivery, order.stage) {
            Some(day) => format!("{head}{}", say("paper-card-arrive", &[&goods::day(day)])),
            None => head,
        });
    }
    let figures =
        [Col::Right(11), Col::Left(12), Col::Right(11), Col::Left(10), Col::Right(11), Col::Left(8)];
    let cols: Vec<Col> = std::iter::once(Col::Fill(18)).chain(figures).collect();
    let mut table = Table::new(2, &cols);
    let heads = [
        "paper-material",
        "paper-card-needed",
        "paper-card-packs",
        "paper-card-there",
        "paper-card-order",
        "paper-card-left",
        "paper-counted",
    ];
    table.heads(heads);
    let mut groups: Vec<(String, Vec<&Line>)> = Vec::new();
    for line in lines {
        let from = from_whom(e, order, line);
        match groups.iter_mut().find(|g| g.0 == from) {
            Some(group) => group.1.push(line),
            None => groups.push((from, vec![line])),
        }
    }
    // What is there already comes last, under no supplier.
    groups.sort_by_key(|g| g.1.iter().all(|l| l.packs == 0));
    let one = groups.len() == 1;
    for (from, lines) in groups {
        if !(one && lines.iter().all(|l| l.packs == 0)) {
            table.across_at(0, &from);
        }
        lines.iter().for_each(|line| row(&mut table, e, line));
    }
    page.table(&table);
    orders::notes(page, e, order);
}

/// The supplier, and the last day to order; what is in the store comes from there.
fn from_whom(e: &Estimate, order: &StageOrder, line: &Line) -> String {
    if line.packs == 0 {
        return word("paper-card-from-store").to_owned();
    }
    let who = goods::supplier(e, &line.material);
    let by = goods::order_day(e, order.stage, who).filter(|_| who != goods::SITE);
    match by {
        Some(day) => say("paper-card-order-by", &[&text(who), &goods::day(day)]),
        None => text(who),
    }
}

fn row(table: &mut Table, e: &Estimate, line: &Line) {
    let unit = goods::unit(e, &line.material);
    let used = !goods::needed(line).is_zero();
    table.row([
        goods::title(e, &line.material),
        if used { goods::counted(goods::needed(line), unit, true) } else { "-".to_owned() },
        if used { in_packs(e, line) } else { String::new() },
        goods::counted(there(line.opening), unit, false),
        goods::ordered(e, line),
        goods::counted(there(line.closing), unit, false),
        word("paper-card-blank").to_owned(),
    ]);
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
        let (short, long): (Vec<_>, Vec<_>) =
            m.remarks.iter().map(ToString::to_string).partition(|r| r.chars().count() <= SHORT);
        let member = std::iter::once(member).chain(short).collect::<Vec<_>>().join("; ");
        table.row([m.mark.clone(), m.bar.id(), count, length, m.shape.to_owned(), member]);
        if !long.is_empty() {
            table.across_at(8, &long.join("; "));
        }
    }
    page.table(&table);
    from_bars(page, e, stage);
}

/// Letters of a remark that stands beside its bar; longer ones have a line of their own.
const SHORT: usize = 40;

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

/// Levels, sides and diagonals that this stage is built to; all of them where it is set out.
fn pegs(page: &mut Page, e: &Estimate, stage: Stage) {
    let own = |m: &&Mark| stage == Stage::SetOut || m.stage == Some(stage);
    let mut table = Table::new(2, &[Col::Fill(44), Col::Right(8), Col::Left(24)]);
    for mark in e.setting_out.iter().filter(own) {
        let blank = word("paper-card-blank");
        let built = if stage == Stage::SetOut { blank.to_owned() } else { say("paper-card-built", &[blank]) };
        table.row([mark.title.to_string(), figure(mark.metres.clone()), built]);
    }
    if !table.is_empty() {
        page.heading(word("paper-setting-out"));
        page.table(&table);
    }
}

/// What to measure, count and write down, and who did it when.
fn write_down(page: &mut Page, e: &Estimate, stage: Stage) {
    let blank = word("paper-card-blank");
    let mut table = Table::new(2, &[Col::Fill(44), Col::Right(14), Col::Left(24)]);
    let items = || e.sheet.items.iter().filter(|i| i.stage == stage);
    for item in items() {
        let n = legible(item.quantity, item.unit);
        table.row([
            item.wording.to_string(),
            format!("{n}\u{a0}{}", text(item.unit.id())),
            say("paper-card-built", &[blank]),
        ]);
    }
    page.heading(word("paper-card-write"));
    if !table.is_empty() {
        page.table(&table);
    }
    if items().any(|i| i.work.earth == Earth::Dug) {
        page.line(2, 4, &say("paper-card-depth", &[blank]));
    }
    let poured = items().any(|i| i.work.section == Section::Concrete && i.unit == Unit::M3);
    if poured || !events(e, stage, &[EventKind::Pour]).is_empty() {
        page.line(2, 4, &say("paper-card-poured", &[blank]));
    }
    page.line(2, 4, &say("paper-card-done", &[blank]));
}

/// When the next stage may start and why; then the dates that this stage leaves to be kept.
fn after(page: &mut Page, e: &Estimate, (stage, next): (Stage, Option<Stage>), sources: &mut Sources) {
    if let Some(next) = next {
        let tested = events(e, stage, &[EventKind::WaterTest]);
        let mut rows: Vec<_> = tested.iter().map(|v| sources.dated(v)).collect();
        let holds = e.programme.holds.iter().filter(|h| h.before == next);
        rows.extend(holds.map(|h| sources.mark(&h.says.to_string(), &h.source)));
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
        events(e, stage, &[EventKind::Curing, EventKind::Strike]).iter().map(|v| sources.dated(v)).collect();
    if !kept.is_empty() {
        page.heading(word("paper-card-dates"));
        kept.iter().for_each(|text| page.line(2, 4, text));
    }
}

/// Checks that belong to this stage: what is not met or not checked in words, the others by number.
fn checks(page: &mut Page, e: &Estimate, stage: Stage, sources: &mut Sources) {
    let mine = || e.checks.iter().filter(|c| c.stages.contains(&stage));
    let (told, others): (Vec<_>, Vec<_>) =
        mine().partition(|c| !matches!(c.verdict, Verdict::Met | Verdict::Screened));
    if told.is_empty() && others.is_empty() {
        return;
    }
    page.heading(word("paper-card-checks"));
    let number = |v: Verdict| others.iter().filter(|c| c.verdict == v).count().to_string();
    if !others.is_empty() {
        let counts = [Verdict::Met, Verdict::Screened].map(number);
        let key = if counts[1] == "0" { "paper-card-met" } else { "paper-card-checked" };
        page.line(2, 4, &say(key, &counts.each_ref().map(String::as_str)));
    }
    told.iter().for_each(|c| page.line(2, 4, &sources.mark(&super::checks::says(c), &c.source)));
}

/// Cautions of this stage: what kills first.
fn cautions(page: &mut Page, e: &Estimate, stage: Stage, sources: &mut Sources) {
    let of_job = e.cautions.iter().filter(|c| c.stages.contains(&stage));
    let mut mine: Vec<_> = of_job.map(|c| sources.mark(&c.says.to_string(), &c.source)).collect();
    let own = e.programme.cautions.iter().filter(|c| c.0 == stage);
    mine.extend(own.map(|(_, says, source)| sources.mark(&says.to_string(), source)));
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
