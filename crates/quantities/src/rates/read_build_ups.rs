//! Reads `build-ups/*.toml`: build-ups by work, and in `on-costs.toml` the day and standing on-costs.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::build_ups::{BuildLine, BuildUp, Needs};
use super::entry::Fields;
use super::stock::Stock;
use crate::build_up::{Group, OnCost, Say, Working};
use crate::decimal::rounded;
use crate::source::Source;
use crate::works::{self, MadeOf};

/// Words under which a quantity may stand, and its unit.
const QUANTITIES: [(&str, &str); 4] = [("hours", "hour"), ("days", "day"), ("nr", "nr"), ("items", "item")];

/// Lists of an entry.
const LISTS: [(&str, Group); 4] = [
    ("material", Group::Materials),
    ("labour", Group::Labour),
    ("plant", Group::Plant),
    ("sundries", Group::Sundries),
];

/// Reads one file of the folder.
pub(super) fn read(top: &Fields<'_, '_>, path: &str, into: &mut Stock) {
    let mut seen = BTreeSet::new();
    for entry in top.list_if_any("build_up") {
        for build_up in build_up(&entry, path) {
            let key = (build_up.code.clone(), build_up.unit.clone());
            if !seen.insert(key.clone()) {
                let message = format!("`{}` in {} stands twice in this file", key.0, key.1);
                entry.report("P014", entry.span_of("of"), message, "keep one of the two");
                continue;
            }
            into.overridden.push(format!("build-up {}, from {path}", build_up.code));
            into.build_ups.all.retain(|b| (b.code.as_str(), b.unit.as_str()) != (&*key.0, &*key.1));
            into.build_ups.all.push(build_up);
        }
    }
    if let Some(day) = top.part_if_any("day") {
        let read = (number(&day, "hours", Ratio::ONE, Ratio::int(24)), day.source());
        day.done();
        if let (Some(hours), Some(source)) = read {
            into.overridden.push(format!("hours of a day, from {path}"));
            into.build_ups.day = Some((hours, source));
        }
    }
    let own: Vec<OnCost> = top.list_if_any("on_cost").iter().filter_map(on_cost).collect();
    if !own.is_empty() {
        into.overridden.push(format!("on-costs, from {path}"));
        into.build_ups.on_costs = own;
    }
    top.done();
}

/// A decimal between two bounds.
fn number<'d>(f: &Fields<'_, 'd>, key: &'d str, least: Ratio, most: Ratio) -> Option<Decimal> {
    f.number(key, least, most).and_then(|n| rounded(n, 12))
}

fn build_up(f: &Fields<'_, '_>, path: &str) -> Vec<BuildUp> {
    let codes = f.texts_as_written("of").unwrap_or_default();
    let per = f.text("per").and_then(|text| amount(f, &text));
    for code in &codes {
        let id = code.split('/').next().unwrap_or_default();
        let Some(work) = works::all().into_iter().find(|w| w.id == id && !w.void) else {
            let message = format!("`{id}` is no work");
            f.report("P012", f.span_of("of"), message, "`tankwright rules works` lists them");
            continue;
        };
        // Constants of walls are given by area or by volume; the thickness turns one into the other.
        let wall = work.made_of == MadeOf::Masonry;
        let fits = |unit: &str| unit == work.unit.id() || (wall && ["m2", "m3"].contains(&unit));
        if let Some((_, unit)) = per.as_ref().filter(|(_, unit)| !fits(unit)) {
            let message = format!("`{id}` is not measured in {unit}");
            f.report("P012", f.span_of("per"), message, &format!("it is measured in {}", work.unit.id()));
        }
    }
    let recipe = f.get("recipe").is_none() || f.flag("recipe").unwrap_or(true);
    let mut lines = Vec::new();
    for (list, group) in LISTS {
        lines.extend(f.list_if_any(list).iter().filter_map(|l| line(l, group)));
    }
    let source = f.source();
    f.done();
    let (Some((per, unit)), Some(source)) = (per, source) else { return Vec::new() };
    let one = |code: &String| BuildUp {
        code: code.clone(),
        per,
        unit: unit.clone(),
        recipe,
        lines: lines.clone(),
        source: source.clone(),
        file: path.to_owned(),
    };
    codes.iter().map(one).collect()
}

/// `100 m2`.
fn amount(f: &Fields<'_, '_>, text: &str) -> Option<(Decimal, String)> {
    let read = text.split_once(' ').and_then(|(n, unit)| {
        let n = tankwright_geometry::parse::decimal(n).filter(|n| n.signum() > 0)?;
        Some((rounded(n, 12)?, unit.trim().to_owned()))
    });
    if read.is_none() {
        let hint = "so much of the work, as \"1 m2\" or \"100 m2\"";
        f.report("P010", f.span_of("per"), "`per` is not an amount of work".into(), hint);
    }
    read
}

fn line(f: &Fields<'_, '_>, group: Group) -> Option<BuildLine> {
    let percent = f.get("percent").is_some();
    let code = if percent { String::new() } else { f.text(who(group))? };
    let title = if percent { f.text("title")? } else { f.text_or_empty("title") };
    let needs = if percent {
        let on = if f.get("on").is_some() { f.texts_as_written("on")? } else { Vec::new() };
        Needs::Percent(number(f, "percent", Ratio::ZERO, Ratio::int(1000))?, on)
    } else {
        quantity(f)?
    };
    let say = f.get("say").is_some().then(|| f.text("say")).flatten();
    let say = say.map(|text| Say::read_all(&text).filter(|s| s.len() == 1).and_then(|s| s.first().copied()));
    if say == Some(None) {
        let hint = "as \"up 1\", \"down 1\" or \"nearest 0.10\"";
        f.report("P010", f.span_of("say"), "`say` is no rounding".into(), hint);
        return None;
    }
    let own: Option<Source> = if f.get("source").is_some() { Some(f.source()?) } else { None };
    f.done();
    Some(BuildLine { group, code, title, needs, say: say.flatten(), source: own })
}

/// The key that names whom or what a line pays.
const fn who(group: Group) -> &'static str {
    match group {
        Group::Materials => "material",
        Group::Labour => "who",
        Group::Plant | Group::Sundries => "what",
    }
}

fn quantity(f: &Fields<'_, '_>) -> Option<Needs> {
    let given: Vec<(&str, &str)> = QUANTITIES.into_iter().filter(|(key, _)| f.get(key).is_some()).collect();
    let free = f.get("quantity").is_some();
    let (key, unit) = match (given.as_slice(), free) {
        ([(key, unit)], false) => (*key, (*unit).to_owned()),
        ([], true) => ("quantity", f.text_or_empty("unit")),
        _ => {
            let message = "how much? one of hours, days, nr, items, or quantity with unit".into();
            f.report("P003", f.span.clone(), message, "as hours = \"1.75\"");
            return None;
        }
    };
    let text = f.text(key)?;
    let working = Working::read(&text);
    if working.is_none() {
        let hint = "numbers with x, /, + 5 %, up, down, nearest: \"1 / 1.25\", \"59.26, up 1, + 5 %\"";
        f.report("P010", f.span_of(key), format!("`{key}` is no working"), hint);
    }
    Some(Needs::Quantity(working?, unit))
}

fn on_cost(f: &Fields<'_, '_>) -> Option<OnCost> {
    let (title, percent) = (f.text("title"), number(f, "percent", Ratio::ZERO, Ratio::int(1000)));
    let on = if f.get("on").is_some() { f.texts_as_written("on") } else { Some(Vec::new()) };
    let gross_up = f.get("gross_up").is_some() && f.flag("gross_up")?;
    let source = f.source();
    f.done();
    let percent = percent?;
    if gross_up && percent >= Decimal::ONE_HUNDRED {
        let message = "a share of the whole is less than 100 per cent".into();
        f.report("P011", f.span_of("percent"), message, "as percent = \"7.5\"");
        return None;
    }
    Some(OnCost { title: title?, percent, on: on?, gross_up, source: source?.to_string() })
}
