//! `tankwright rules`: what is known, with sources.

use tankwright_quantities::decimal::plain;
use tankwright_quantities::job::{self, Fallback};
use tankwright_quantities::rates::{self, Profile, Stock};
use tankwright_quantities::source::Source;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::words::look_up;
use tankwright_quantities::works;

use tankwright_geometry::Ratio;

use crate::args::{Format, Rules, What};
use crate::context::{Context, Outcome};
use crate::data::{self, stock};
use crate::engine;
use crate::list::{self, List};
use crate::load::Found;
use crate::trouble;

pub(super) fn run(args: &Rules, cx: &mut Context<'_>) -> Outcome {
    if args.keys {
        let text = match args.format {
            Format::Text => keys_text(),
            format => list::print(&[keys()], format),
        };
        return cx.print(&text);
    }
    let mut found = Found::default();
    let stock = stock(cx, &mut found);
    let sizing = data::rules(cx, &mut found);
    match found.exit {
        Some(exit) => return cx.refuse(exit, &found.problems),
        None => cx.say(&found.problems),
    }
    let all = [
        (What::Profiles, profiles(&stock)),
        (What::Works, works_list()),
        (What::Stages, stages()),
        (What::Soils, soils(&stock)),
        (What::Units, units(&stock)),
        (What::Currencies, currencies(&stock)),
        (What::Checklist, checklist(&stock)),
        (What::Sizing, sizing_rules(&sizing)),
        (What::Codes, codes()),
    ];
    let asked = all.into_iter().filter(|(what, _)| args.what.is_none_or(|w| w == *what));
    let lists: Vec<_> = asked.map(|(_, list)| list).collect();
    cx.print(&list::print(&lists, args.format))
}

/// A citation with where it was read and its note.
fn cited(source: &Source) -> String {
    let mut text = source.to_string();
    for (word, more) in [("from", &source.from), ("seen", &source.seen), ("note", &source.note)] {
        if !more.is_empty() {
            text.push_str(&format!("; {word}: {more}"));
        }
    }
    text
}

fn profiles(stock: &Stock) -> List {
    let mut rows = Vec::new();
    for p in stock.profiles.values() {
        profile(p, &mut rows);
    }
    List { name: "profiles", head: vec!["profile", "rule", "figure", "source"], rows }
}

fn profile(p: &Profile, rows: &mut Vec<Vec<String>>) {
    rows.extend(p.rules().into_iter().map(|r| vec![p.id.clone(), r.what, r.figure, cited(r.source)]));
}

/// Tenths of a millimetre as millimetres.
fn mm(tenths: i64) -> String {
    format!("{} mm", plain(Ratio::from(tenths) / Ratio::int(10)))
}

fn works_list() -> List {
    let mut works: Vec<_> = works::all().into_iter().filter(|w| !w.void).collect();
    works.sort_by_key(|w| w.section);
    let row = |w: &works::Work| {
        vec![w.id.to_owned(), w.unit.id().to_owned(), w.section.id().to_owned(), w.stage.id().to_owned()]
    };
    let rows = works.into_iter().map(row).collect();
    List { name: "works", head: vec!["work", "unit", "section", "stage"], rows }
}

fn stages() -> List {
    let row = |s: &Stage| vec![s.id().to_owned(), look_up(&format!("stage-{}", s.id())).to_owned()];
    List { name: "stages", head: vec!["stage", "title"], rows: Stage::ALL.iter().map(row).collect() }
}

fn soils(stock: &Stock) -> List {
    let mut rows = Vec::new();
    for s in stock.soils.values() {
        let mut add = |what: &str, figure: String, source: &Source| {
            rows.push(vec![s.id.clone(), what.to_owned(), figure, cited(source)]);
        };
        add("swell", plain(s.swell.0), &s.swell.1);
        add("t per m3 in the ground", plain(s.weight.0), &s.weight.1);
        add("sides stand", if s.sides_stand.0 { "yes" } else { "no" }.to_owned(), &s.sides_stand.1);
    }
    List { name: "soils", head: vec!["soil", "property", "figure", "source"], rows }
}

fn units(stock: &Stock) -> List {
    let row = |u: &rates::MasonryUnit| {
        let size = u.size.iter().map(|l| mm(*l)).collect::<Vec<_>>().join(" x ");
        let walls = u.walls.iter().map(|w| mm(*w)).collect::<Vec<_>>().join(", ");
        let kind = if u.hollow { "hollow" } else { "solid" };
        vec![u.id.clone(), u.title.clone(), size, mm(u.joint), walls, kind.to_owned(), cited(&u.source)]
    };
    let head = vec!["unit", "title", "size", "joint", "walls", "kind", "source"];
    List { name: "units", head, rows: stock.units.values().map(row).collect() }
}

fn currencies(stock: &Stock) -> List {
    let rows = stock.currencies.values().map(|(c, source)| {
        vec![c.code.clone(), c.digits.to_string(), c.unit.clone(), c.minor.clone(), cited(source)]
    });
    let head = vec!["currency", "minor digits", "unit", "minor unit", "source"];
    List { name: "currencies", head, rows: rows.collect() }
}

fn checklist(stock: &Stock) -> List {
    let row = |c: &rates::CheckItem| vec![c.id.clone(), c.title.clone(), cited(&c.source)];
    List {
        name: "checklist",
        head: vec!["item", "title", "source"],
        rows: stock.checklist.iter().map(row).collect(),
    }
}

fn sizing_rules(rules: &tankwright_sizing::Rules) -> List {
    let row = |r: &tankwright_sizing::Rule| {
        let recalled = if r.recalled() { "recalled" } else { "seen" };
        let known = format!("{recalled} {}", r.confidence);
        let seen =
            if r.source.seen.is_empty() { String::new() } else { format!("; seen: {}", r.source.seen) };
        let source = format!("{}{seen}", r.cite());
        [&r.id, r.kind.id(), &r.body, &r.year, r.status.id(), &known, &source].map(str::to_owned).to_vec()
    };
    let mut all: Vec<_> = rules.rules.values().collect();
    all.sort_by_key(|r| r.kind);
    let head = vec!["rule", "reckons", "body", "year", "status", "known", "source"];
    List { name: "sizing", head, rows: all.into_iter().map(row).collect() }
}

fn codes() -> List {
    let mut all = tankwright_quantities::codes::all();
    all.extend(trouble::CODES);
    all.extend(tankwright_run::CODES);
    #[cfg(feature = "web")]
    all.extend(tankwright_web::CODES);
    all.extend(tankwright_sizing::CODES);
    all.extend(tankwright_cheapest::CODES);
    all.extend(tankwright_crosscheck::CODES);
    all.extend(tankwright_account::codes::all());
    all.sort_unstable();
    let rows = all.into_iter().map(|(code, means)| vec![code.to_owned(), means.to_owned()]).collect();
    List { name: "codes", head: vec!["code", "means"], rows }
}

/// A key with its help; under it what it takes, and what holds without it.
fn keys_text() -> String {
    let mut out = String::new();
    for [key, takes, left_out, help] in job::reference(&engine::tables()) {
        let required = left_out == "must be given";
        let without = if required { left_out } else { format!("left out: {left_out}") };
        list::words(&mut out, &format!("{key} - {help}"), [0, 4]);
        list::words(&mut out, &format!("{takes}; {without}"), [4, 4]);
    }
    out
}

fn keys() -> List {
    let rows = engine::tables().into_iter().flatten().map(|f| {
        let takes = f.kind.map_or_else(|| "part".to_owned(), job::takes);
        let (left_out, source) = match f.fallback {
            Fallback::Required => ("must be given", ""),
            Fallback::Nothing => ("", ""),
            Fallback::Default(text, source) => (text, source),
        };
        [f.key, &takes, left_out, source, f.help].map(str::to_owned).to_vec()
    });
    List { name: "keys", head: vec!["key", "takes", "left out", "source", "help"], rows: rows.collect() }
}
