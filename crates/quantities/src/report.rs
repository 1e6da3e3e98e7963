//! What papers say about a job besides its figures: scope, defaults used, sources.

use tankwright_geometry::{Len, Ratio};

use crate::decimal;
use crate::elements::ALL;
use crate::estimate::DefaultUsed;
use crate::job::{Given, Job, Value};
use crate::levels;
use crate::site::Site;
use crate::words::Phrase;

/// A length as the scope prints it: metres, two places at least.
pub(crate) fn in_scope(l: &Len) -> String {
    decimal::rounded(l.value() / Ratio::int(10_000), 4)
        .map_or_else(String::new, |d| decimal::shown(d, d.scale().max(2)))
}

/// What is built, in words.
pub(crate) fn scope(site: &Site<'_>) -> Vec<Phrase> {
    let chambers = site.chambers.iter().map(in_scope).collect::<Vec<_>>().join(" + ");
    let n = site.chambers.len().to_string();
    let height = site.job.len("tank.height");
    let key = if site.chambers.len() == 1 { "scope-tank-one" } else { "scope-tank" };
    let mut scope = vec![Phrase::with(key, &[&n, &chambers, &in_scope(&site.width), &in_scope(&height)])];
    scope.extend(ALL.iter().flat_map(|element| element.scope(site)));
    scope
}

pub(crate) fn defaults(job: &Job) -> Vec<DefaultUsed> {
    let used = job.values.iter().filter_map(|(path, (value, given))| {
        let Given::Default(source) = given else { return None };
        // Nothing is made of these parts yet: a default of theirs is not used.
        if ["orders.", "programme."].iter().any(|part| path.starts_with(part)) {
            return None;
        }
        // A pipe without length has no fall.
        if path == "tank.pipes.outlet.fall" && job.len("tank.pipes.outlet.length").is_zero() {
            return None;
        }
        let value = match value {
            Value::Text(text) => text.clone(),
            Value::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
            Value::Texts(texts) => texts.join(", "),
            Value::Number(n) if path.ends_with(".fall") => one_in(*n),
            Value::Number(n) => decimal::plain(*n),
            // A lap of so many diameters.
            Value::Input(id) if path == "steel.lap" => {
                let input = job.inputs.get(id.0 as usize)?;
                let d = if input.scale == crate::job::Scale::Plain { "d" } else { "" };
                format!("{}{d}", shown_input(input))
            }
            Value::Input(id) if path.ends_with(".fall") => one_in_input(job.inputs.get(id.0 as usize)?),
            Value::Input(id) => job.inputs.get(id.0 as usize).map(shown_input)?,
            Value::Group(_) => return None,
        };
        Some(DefaultUsed { path: path.clone(), value, source: (*source).to_owned() })
    });
    used.collect()
}

/// A fall as people write it, where it is one: `1 in 100`.
fn one_in(fall: Ratio) -> String {
    let whole =
        decimal::rounded(Ratio::ONE / fall, 0).filter(|run| decimal::ratio(*run) * fall == Ratio::ONE);
    whole.map_or_else(|| decimal::plain(fall), levels::one_in_so_much)
}

/// A fall of the floor is a length.
fn one_in_input(input: &crate::job::Input) -> String {
    if input.scale == crate::job::Scale::Plain { one_in(input.value) } else { shown_input(input) }
}

fn shown_input(input: &crate::job::Input) -> String {
    match input.scale {
        crate::job::Scale::Length => format!("{} mm", decimal::plain(input.value / Ratio::int(10))),
        crate::job::Scale::Plain => decimal::plain(input.value),
    }
}

/// Sources of the data used.
pub(crate) fn sources(site: &Site<'_>) -> Vec<(String, String)> {
    let mut list = Vec::new();
    let p = site.profile;
    let mut add = |what: String, source: &crate::source::Source| list.push((what, source.to_string()));
    for rule in p.rules() {
        add(format!("profile {}: {}: {}", p.id, rule.what, rule.figure), rule.source);
    }
    if let Some(soil) = site.stock.soils.get(site.job.text("ground.soil")) {
        add(format!("soil {}: swell {}", soil.id, decimal::plain(soil.swell.0)), &soil.swell.1);
        add(format!("soil {}: do sides stand", soil.id), &soil.sides_stand.1);
    }
    if let Some(unit) = site.unit {
        add(format!("masonry unit {}", unit.id), &unit.source);
    }
    if site.job.has("steel") {
        let bars = &site.stock.bars;
        if let Some((density, source)) = &bars.density {
            add(format!("bars: {} kg/m3", decimal::plain(*density)), source);
        }
        let used: std::collections::BTreeSet<_> =
            crate::steel::KEYS.iter().filter_map(|k| crate::steel::split(site.job.text(k))).collect();
        for kind in &used {
            if let Some(grade) = bars.grades.get(&kind.grade) {
                add(format!("bars {}: {}", kind.id(), grade.title.to_lowercase()), &grade.source);
            }
            if let Some(size) = bars.sizes.get(&kind.diameter) {
                add(format!("bars {}: radius of bends and ends", kind.id()), &size.source);
            }
        }
    }
    if let Some((currency, source)) = site.stock.currencies.get(site.job.text("job.currency")) {
        add(format!("currency {}: {} digits", currency.code, currency.digits), source);
    }
    list
}
