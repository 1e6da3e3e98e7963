//! The paper of `size`, and every rule side by side.

use tankwright_quantities::checks::{Check, Verdict as Checked};
use tankwright_sizing::report::Outcome;
use tankwright_sizing::rule::{Kind, Limit, MeasuredTo, Status};
use tankwright_sizing::sized::{About, Amount, Answer, Sized, Worked, short};
use tankwright_sizing::{Refused, Report};

use super::{bounds, verdict};
use crate::format::{group, say, word};
use crate::text::checks;
use crate::text::table::{Col, Page, Table};

/// The report as a paper of at most 100 columns.
#[must_use]
pub fn text(r: &Report) -> String {
    let mut page = Page::default();
    if let Some(job) = &r.drawn {
        verdict::drawn(&mut page, job, &r.notes);
    }
    match (&r.rules[..], r.asked.as_str()) {
        ([one], asked) if asked != "all" => match one {
            Ok(sized) => single(&mut page, sized, &r.left()),
            Err(refused) => refusal(&mut page, refused),
        },
        ([], _) => page.line(0, 2, word("paper-size-no-rule")),
        (rules, _) => side_by_side(&mut page, r, rules),
    }
    if !r.soakage.is_empty() {
        page.heading(word("paper-size-soakage"));
    }
    if !r.test.is_empty() {
        if r.soakage.is_empty() {
            page.blank();
        }
        let forms: Vec<String> = r.test.iter().map(|(unit, n)| format!("{} {unit}", places(*n))).collect();
        page.line(0, 2, &say("paper-size-test", &[&forms.join(" = ")]));
    }
    methods(&mut page, &r.soakage);
    of_job(&mut page, r);
    list(&mut page, word("paper-size-overridden"), &r.overridden);
    page.done()
}

/// Four places at most: for tests.
fn places(n: tankwright_geometry::Ratio) -> String {
    tankwright_quantities::decimal::rounded(n, 4).map_or_else(|| short(n), |d| d.to_string())
}

fn known(a: &About) -> String {
    let read = match (a.recalled, a.seen.is_empty()) {
        (true, true) => say("paper-size-recalled", &[&a.confidence]),
        (true, false) => say("paper-size-recalled-part", &[&a.confidence, &a.seen]),
        _ => say("paper-size-seen", &[&a.confidence, &a.seen]),
    };
    let status = if a.status_note.is_empty() {
        a.status.id().to_owned()
    } else {
        say("paper-size-status", &[a.status.id(), &a.status_note])
    };
    format!("{status}; {read}")
}

fn level(to: Option<MeasuredTo>) -> &'static str {
    match to {
        Some(MeasuredTo::Inlet) => "paper-size-to-inlet",
        _ => "paper-size-to-water",
    }
}

fn head(page: &mut Page, a: &About) {
    page.line(0, 0, &say("paper-size-head", &[&a.rule]));
    page.line(0, 2, &a.cite);
    page.line(0, 2, &known(a));
    if !a.surface.is_empty() {
        page.line(0, 2, &say("paper-size-surface", &[&a.surface]));
    }
}

fn refusal(page: &mut Page, r: &Refused) {
    head(page, &r.about);
    page.blank();
    for reason in &r.reasons {
        page.line(0, 2, &say("paper-size-refused", &[reason]));
    }
    working(page, &r.working);
}

fn single(page: &mut Page, s: &Sized, left: &[String]) {
    head(page, &s.about);
    page.blank();
    match s.capacity_l() {
        Some(litres) => {
            let to = word(level(s.about.measured_to));
            page.line(0, 2, &say("paper-size-asks", &[&group(&short(litres)), to]));
            answers(page, s.answers.get(1..).unwrap_or_default());
            if let Some(v) = &s.verdict {
                verdict::lines(page, v);
            }
        }
        None => answers(page, &s.answers),
    }
    if let Some(pits) = &s.pits {
        page.line(0, 2, &pits.words);
    }
    if let Some(drains) = &s.drains {
        page.line(0, 2, &drains.words);
    }
    if !s.no_result.is_empty() {
        page.line(0, 2, &say("paper-size-none", &[&s.no_result]));
    }
    for b in &s.beside {
        page.line(0, 2, &say("paper-size-beside", &[&b.words, &asked(&b.answer)]));
    }
    let complies = s.verdict.as_ref().is_some_and(|v| v.complies == Some(true));
    if let Some(first) = s.proposal.chambers.first().filter(|_| !complies) {
        let lengths: Vec<String> = s.proposal.chambers.iter().map(|c| metres(c.length)).collect();
        let litres = group(&short(s.proposal.litres.floor()));
        let (width, depth) = (metres(first.width), metres(first.depth));
        page.line(0, 2, &say("paper-size-would-do", &[&lengths.join(" + "), &width, &depth, &litres]));
        s.proposal.notes.iter().for_each(|n| page.line(2, 4, n));
    }
    if !s.inputs.is_empty() {
        page.heading(word("paper-size-inputs"));
        let mut table = Table::new(2, &[Col::Left(18), Col::Left(10), Col::Fill(0)]);
        for i in &s.inputs {
            table.row([&i.name, &i.value, &i.how]);
        }
        page.table(&table);
    }
    working(page, &s.working);
    if let Some(v) = &s.verdict {
        verdict::found(page, v);
    }
    limits(page, "paper-size-limits", &s.shape);
    limits(page, "paper-size-distances", &s.clear);
    let levels: Vec<String> = s.levels.iter().map(|l| format!("{}; {}", l.words, l.source)).collect();
    list(page, word("paper-size-levels"), &levels);
    list(page, word("paper-size-doubts"), &s.doubts);
    let cautions: Vec<String> = s.cautions.iter().map(|c| format!("{} ({})", c.words, c.source)).collect();
    list(page, &say("paper-size-cautions", &[&cautions.len().to_string()]), &cautions);
    list(page, word("paper-size-not-checked"), &[&s.not_checked[..], left].concat());
    if !s.unused.is_empty() {
        page.blank();
        page.line(0, 2, &say("paper-size-unused", &[&s.unused.join(", ")]));
    }
}

/// Checks and cautions of the drawn job; what is not checked where no rule has listed it.
fn of_job(page: &mut Page, r: &Report) {
    let lines: Vec<&Check> = r.checks.iter().filter(|c| c.verdict != Checked::NotChecked).collect();
    if !r.checks.is_empty() {
        page.heading(word("paper-size-checks"));
    }
    for c in lines {
        page.line(2, 4, &checks::line(c));
        c.working.iter().for_each(|w| page.line(6, 8, &w.to_string()));
    }
    let listed = r.asked != "all" && matches!(r.rules[..], [Ok(_)]);
    if !listed {
        list(page, word("paper-size-not-checked"), &r.left());
    }
    let told: Vec<String> = r.told.iter().map(|c| format!("{} ({})", c.says, c.source)).collect();
    list(page, &say("paper-size-cautions-job", &[&told.len().to_string()]), &told);
}

/// Metres to the centimetre at least.
fn metres(m: tankwright_geometry::Ratio) -> String {
    crate::format::value(m, 2, 4)
}

/// A number with its thousands set apart, and its unit.
fn amount(a: &Amount) -> String {
    format!("{} {}", group(&short(a.number)), a.unit).trim_end().to_owned()
}

/// The figure that is asked, and the exact one where that differs.
fn asked(a: &Answer) -> String {
    let figure = amount(&a.asked);
    if a.asked == a.amount { figure } else { format!("{figure} ({})", amount(&a.amount)) }
}

fn answers(page: &mut Page, all: &[Answer]) {
    for a in all {
        page.line(0, 2, &say("paper-size-answer", &[&a.title, &asked(a)]));
    }
}

fn working(page: &mut Page, steps: &[Worked]) {
    if steps.is_empty() {
        return;
    }
    page.heading(word("paper-size-working"));
    let mut table = Table::new(2, &[Col::Left(18), Col::Fill(30), Col::Right(16)]);
    for w in steps {
        let value = w.value.as_ref().map(amount).unwrap_or_default();
        table.row([&w.title, &w.how, &value]);
        let row: Vec<String> = w.row.iter().map(|(n, a)| format!("{n} {}", a.shown())).collect();
        if !row.is_empty() {
            table.row(["", &row.join(", "), ""]);
        }
        for note in w.notes.iter().chain(Some(&w.source).filter(|s| !s.is_empty())) {
            table.row(["", note, ""]);
        }
    }
    page.table(&table);
}

fn limits(page: &mut Page, key: &str, limits: &[Limit]) {
    if limits.is_empty() {
        return;
    }
    page.heading(word(key));
    let mut table = Table::new(2, &[Col::Left(18), Col::Fill(30), Col::Fill(30)]);
    for l in limits {
        table.row([&l.name.replace('_', " "), &bounds(l), &l.source.to_string()]);
    }
    page.table(&table);
}

fn list(page: &mut Page, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    page.heading(title);
    lines.iter().for_each(|l| page.line(2, 4, l));
}

fn side_by_side(page: &mut Page, r: &Report, rules: &[Outcome]) {
    let given: Vec<String> = r.inputs.iter().map(|(n, t)| format!("{n} {t}")).collect();
    page.line(0, 2, &say("paper-size-all", &[&given.join(", ")]));
    page.blank();
    let mut table =
        Table::new(0, &[Col::Left(16), Col::Right(8), Col::Left(10), Col::Left(10), Col::Fill(20)]);
    let heads =
        ["paper-size-rule", "paper-size-litres", "paper-size-level", "paper-size-known", "paper-size-remark"];
    table.heads(heads);
    let of = |o: &Outcome, kind: Kind| about(o).kind == kind;
    for outcome in rules.iter().filter(|o| of(o, Kind::Capacity)) {
        let a = about(outcome);
        let (litres, remark) = match outcome {
            Ok(s) => (s.capacity_l().map(|l| group(&short(l))).unwrap_or_default(), remark(s)),
            Err(refused) => (String::new(), refused.reasons.join("; ")),
        };
        let to = super::measured_to(a.measured_to).unwrap_or_default();
        let read = if a.recalled { "recalled" } else { "seen" };
        table.row([&a.rule, &litres, to, &format!("{read} {}", a.confidence), &remark]);
    }
    page.table(&table);
    let people: Vec<&Outcome> = rules.iter().filter(|o| of(o, Kind::Persons)).collect();
    if !people.is_empty() {
        page.heading(word("paper-size-people"));
        short_rows(page, &people);
    }
    let mut told: Vec<String> = Vec::new();
    for s in rules.iter().filter_map(|o| o.as_ref().ok()) {
        let general = s.cautions.iter().filter(|c| c.id == "local-code");
        told.extend(general.map(|c| format!("{} ({})", c.words, c.source)));
    }
    told.dedup();
    told.truncate(1);
    let doubts: Vec<String> = rules
        .iter()
        .filter_map(|o| o.as_ref().ok())
        .flat_map(|s| s.doubts.iter().map(|d| say("paper-size-answer", &[&s.about.rule, d])))
        .collect();
    list(page, word("paper-size-doubts"), &doubts);
    list(page, &say("paper-size-cautions", &[&told.len().to_string()]), &told);
}

fn about(o: &Outcome) -> &About {
    match o {
        Ok(s) => &s.about,
        Err(refused) => &refused.about,
    }
}

/// What a reader of the comparison must know of one rule.
fn remark(s: &Sized) -> String {
    let mut parts = Vec::new();
    if let Some(v) = &s.verdict {
        parts.push(verdict::short(v));
    }
    if !s.no_result.is_empty() {
        let said: Vec<String> = s.answers.iter().map(|a| format!("{} {}", a.title, asked(a))).collect();
        parts.push(say("paper-size-not-compared", &[&said.join(", "), &s.no_result]));
    }
    if !s.about.status_note.is_empty() {
        parts.push(say("paper-size-status", &[s.about.status.id(), &s.about.status_note]));
    }
    parts.extend(s.working.iter().flat_map(|w| w.notes.iter().cloned()));
    parts.extend(s.beside.iter().map(|b| say("paper-size-beside", &[&b.words, &asked(&b.answer)])));
    parts.join("; ")
}

fn methods(page: &mut Page, all: &[Outcome]) {
    let soakage: Vec<&Outcome> = all.iter().filter(|o| about(o).kind == Kind::Soakage).collect();
    short_rows(page, &soakage);
    let levels: Vec<String> = all
        .iter()
        .filter_map(|o| o.as_ref().ok())
        .flat_map(|s| s.levels.iter().map(|l| format!("{}; {}", l.words, l.source)))
        .collect();
    let mut once = Vec::new();
    for level in levels {
        if !once.contains(&level) {
            once.push(level);
        }
    }
    list(page, word("paper-size-levels"), &once);
    let mut told: Vec<String> = Vec::new();
    for c in soakage.iter().filter_map(|o| o.as_ref().ok()).flat_map(|s| &s.cautions) {
        let words = format!("{} ({})", c.words, c.source);
        if ["methods", "season", "test"].contains(&c.id) && !told.contains(&words) {
            told.push(words);
        }
    }
    list(page, &say("paper-size-cautions", &[&told.len().to_string()]), &told);
}

/// One rule a row, with all its answers or reasons, and its doubts under it.
fn short_rows(page: &mut Page, all: &[&Outcome]) {
    let mut table = Table::new(2, &[Col::Left(16), Col::Fill(40)]);
    for outcome in all {
        let a = about(outcome);
        let words = match outcome {
            Ok(s) => {
                let said: Vec<String> =
                    s.answers.iter().map(|x| say("paper-size-answer", &[&x.title, &asked(x)])).collect();
                said.join("; ")
            }
            Err(refused) => say("paper-size-refused", &[&refused.reasons.join("; ")]),
        };
        let surface = if a.surface.is_empty() { String::new() } else { format!("; {}", a.surface) };
        let status = match a.status {
            Status::Superseded | Status::Lapsed => format!("; {}", a.status.id()),
            Status::InForce | Status::Practice => String::new(),
        };
        let read = if a.recalled {
            format!("; {}", say("paper-size-recalled", &[&a.confidence]))
        } else {
            String::new()
        };
        table.row([a.rule.as_str(), &format!("{words}{surface}{status}{read}")]);
        if let Ok(s) = outcome {
            if let Some(pits) = &s.pits {
                table.row(["", &pits.words]);
            }
            if let Some(drains) = &s.drains {
                table.row(["", &drains.words]);
            }
            for f in &s.distances {
                let met = word(if f.met { "paper-size-met" } else { "paper-size-not-met" });
                table.row(["", &say("paper-size-answer", &[&f.words, met])]);
            }
            for note in s.working.iter().flat_map(|w| &w.notes).chain(&s.doubts).chain(&s.not_checked) {
                table.row(["", note]);
            }
        }
    }
    page.table(&table);
}
