//! Items as dimension sheets: lines, totals, decisions.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::sheet::{Item, Line, Times};

use super::table::{Col, Page, Table, WIDTH, width};
use crate::format::{bracketed, least_places, line_value, metres, quantity, say, value, word, working};

/// One item with its lines, what they come to, and why that differs from the model.
pub(crate) fn item(page: &mut Page, e: &Estimate, item: &Item, clauses: &mut Clauses) {
    page.blank();
    let head = [item.work.id, &item.spec, item.stage.id()];
    let head = head.iter().filter(|t| !t.is_empty()).copied().collect::<Vec<_>>().join("   ");
    let unbilled = if item.unbilled { word("paper-unbilled") } else { "" };
    page.line(0, 2, &format!("{head}   {}{unbilled}", item.wording));
    let mut table = Table::new(2, &[Col::Left(32), Col::Right(12), Col::Left(0), Col::Fill(0)]);
    let longest = item.lines.iter().map(|l| width(&l.note.to_string())).max().unwrap_or(0);
    let room = WIDTH.saturating_sub(2 + 32 + 2 + 12 + 2 + longest + 2);
    for line in &item.lines {
        let trail = [strips(line), bracketed(line, &e.inputs)];
        let trail = trail.iter().filter(|t| !t.is_empty()).map(String::as_str).collect::<Vec<_>>().join(" ");
        // A trail that does not fit beside its line stands under it.
        let beside = if width(&trail) <= room { trail.as_str() } else { "" };
        table.row([&working(line), &line_value(line.value, item.unit), &line.note.to_string(), beside]);
        if beside.is_empty() && !trail.is_empty() {
            table.across(&trail);
        }
    }
    let sum: Ratio = item.lines.iter().map(|l| l.value).sum();
    table.row(["", &line_value(sum, item.unit), item.unit.id()]);
    page.table(&table);
    page.line(2, 4, &totals(item));
    decisions(page, item, |clause| clauses.letter(clause));
}

/// What is booked, what is net, what the model says.
fn totals(item: &Item) -> String {
    let (least, unit) = (least_places(item.unit), item.unit.id());
    let net = quantity(item.net, least_places(item.work.unit));
    let text = say("paper-booked", &[&quantity(item.quantity, least), unit, &net, item.work.unit.id()]);
    let model = item.model.map_or_else(String::new, |model| {
        format!("   {}", say("paper-model-says", &[&value(model, least, 6), unit]))
    });
    let stage = say("paper-stage", &[word(&format!("stage-{}", item.stage.id()))]);
    format!("{text}{model}   {stage}")
}

/// How the number of strips of hoop iron was counted.
pub(crate) fn strips(line: &Line) -> String {
    let one = |t: &Times| match t {
        Times::Strips { lift, course, every, value } => Some(say(
            "paper-strips",
            &[&value.to_string(), &metres(lift.value()), &metres(course.value()), &every.1.to_string()],
        )),
        _ => None,
    };
    line.times.iter().filter_map(one).collect::<Vec<_>>().join("; ")
}

/// The clauses a take-off refers to: each is written out once, at the end, and called by its letter.
#[derive(Debug, Default)]
pub(crate) struct Clauses(Vec<String>);

impl Clauses {
    /// The letter of a clause, a new one at its first call.
    pub(crate) fn letter(&mut self, clause: &str) -> String {
        let at = self.0.iter().position(|c| c == clause).unwrap_or_else(|| {
            self.0.push(clause.to_owned());
            self.0.len() - 1
        });
        name(at)
    }

    /// The list of letters and clauses under a heading.
    pub(crate) fn list(&self, page: &mut Page, heading: &str) {
        let mut table = Table::new(2, &[Col::Left(0), Col::Fill(0)]);
        for (i, clause) in self.0.iter().enumerate() {
            table.row([name(i), clause.clone()]);
        }
        if !table.is_empty() {
            page.heading(heading);
            page.table(&table);
        }
    }
}

/// `a` to `z`, then `c26` and on.
pub(crate) fn name(at: usize) -> String {
    let letter = u8::try_from(at).ok().filter(|n| *n < 26).map(|n| char::from(b'a' + n));
    letter.map_or_else(|| format!("c{at}"), String::from)
}

/// The decisions of an item, each with its size and its clause as `shown`.
pub(crate) fn decisions(page: &mut Page, item: &Item, mut shown: impl FnMut(&str) -> String) {
    let mut table = Table::new(2, &[Col::Left(0), Col::Right(12), Col::Left(0), Col::Fill(0)]);
    for d in &item.decisions {
        let clause =
            if d.clause.is_empty() { String::new() } else { say("paper-clause", &[&shown(&d.clause)]) };
        let text = format!("{}{clause}", d.what);
        if d.size.is_zero() {
            table.row([word("paper-rule"), "", "", &text]);
        } else {
            table.row([word("paper-decision"), &size(d.size), item.unit.id(), &text]);
        }
    }
    page.table(&table);
}

/// Voids and ends of every item: size, limit, kept or deducted and why, with the letter of the clause.
pub(crate) fn judged<'a>(items: impl Iterator<Item = &'a Item>, clauses: &mut Clauses) -> Table {
    let mut table =
        Table::new(2, &[Col::Left(0), Col::Left(0), Col::Right(8), Col::Left(0), Col::Left(0), Col::Fill(0)]);
    for item in items {
        for j in &item.judged {
            let what = if j.times == 1 { j.what.to_string() } else { format!("{} x {}", j.times, j.what) };
            let verdict = word(if j.kept { "paper-kept" } else { "paper-deducted" });
            let clause = if j.clause.is_empty() {
                String::new()
            } else {
                say("paper-clause", &[&clauses.letter(&j.clause)])
            };
            let why = format!("{}{clause}", j.why);
            table.row([&item.id, &what, &value(j.size, 2, 4), j.unit.id(), verdict, &why]);
        }
    }
    table
}

/// A decision's size with its sign: a decimal, or a fraction where no short decimal holds it.
pub(crate) fn size(size: Ratio) -> String {
    let plain = decimal::plain(size);
    if size.signum() > 0 { format!("+{plain}") } else { plain }
}

/// Each proved item: booked, what its decisions come to, the model, and what stays unexplained.
pub(crate) fn proof<'a>(items: impl Iterator<Item = &'a Item>) -> Table {
    let mut table = Table::new(
        2,
        &[Col::Left(0), Col::Right(10), Col::Right(12), Col::Right(12), Col::Right(11), Col::Left(0)],
    );
    for item in items {
        let (Some(model), sum) = (item.model, item.decisions.iter().map(|d| d.size).sum::<Ratio>()) else {
            continue;
        };
        if table.is_empty() {
            let heads = [
                "paper-item",
                "paper-booked-head",
                "paper-decisions-head",
                "paper-model",
                "paper-unexplained",
            ];
            table.heads(heads);
        }
        let rest = model - decimal::ratio(item.quantity) - sum;
        let booked = quantity(item.quantity, least_places(item.unit));
        let cells =
            [booked, value(sum, 2, 6), value(model, 2, 6), value(rest, 0, 6), item.unit.id().to_owned()];
        table.row(std::iter::once(item.id.clone()).chain(cells));
    }
    table
}
