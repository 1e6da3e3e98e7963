//! The pack of each material: the job's own, else the one of `rates/packs.toml`.

use rust_decimal::Decimal;

use super::size::OWN_UNITS;
use super::{Pack, Size, SizeError};
use crate::job::{Given, Job, Value, suggestion};
use crate::materials::{Material, Materials, Rounding};
use crate::problem::Problem;
use crate::rates::{PackEntry, Stock};
use crate::words::Phrase;

/// Strength classes of cement (EN 197-1), which are taken for the mass of a bag.
const CLASSES: [&str; 3] = ["32.5", "42.5", "52.5"];

/// A material's own id, then without its last parts: `bars/Y12`, `bars`.
pub(crate) fn names(id: &str) -> impl Iterator<Item = &str> {
    std::iter::successors(Some(id), |id| id.rsplit_once('/').map(|(family, _)| family))
}

/// The entry of a material or family that is marked as used.
fn entry<'a>(stock: &'a Stock, id: &str) -> Option<&'a PackEntry> {
    names(id).find_map(|name| stock.packs.iter().find(|p| p.used && p.material == name))
}

/// Everything a job may name in `[packs]` and `[orders] lead_days`.
pub(super) fn known<'a>(stock: &'a Stock, materials: &'a Materials) -> Vec<&'a str> {
    let listed = stock.packs.iter().map(|p| p.material.as_str());
    let used = materials.materials.iter().flat_map(|m| names(&m.id));
    let mut known: Vec<&str> = listed.chain(used).collect();
    known.sort_unstable();
    known.dedup();
    known
}

/// Is a name of the user's one of them, or a specification of one: `bars/Y16` where only `bars` is known?
pub(super) fn is_known(name: &str, known: &[&str]) -> bool {
    names(name).any(|n| known.contains(&n))
}

/// A name that no material has.
pub(super) fn unknown(job: &Job, path: &str, name: &str, known: &[&str]) -> Problem {
    let problem = Problem::error("J114", job.place(path), format!("{path}: `{name}` is no material"));
    let near = suggestion(name, known.iter().copied());
    problem.label("not known").hint(format!("{near}known: {}", known.join(", ")))
}

/// The user's own keys of a table, with their paths.
pub(super) fn own_keys<'a>(job: &'a Job, table: &str) -> Vec<(&'a str, String)> {
    let Some((Value::Group(paths), _)) = job.values.get(table) else { return Vec::new() };
    let cut = table.len() + 1;
    paths.iter().filter_map(|p| Some((p.get(cut..)?, p.clone()))).collect()
}

/// Size of a load of surplus earth in m3, where the job says it.
pub(crate) fn load_of_earth(job: &Job) -> Option<Decimal> {
    Size::read(job.text("packs.surplus-earth")).ok()?.in_unit("m3")
}

/// Everything wrong with `[packs]`.
pub(super) fn check(job: &Job, stock: &Stock, materials: &Materials, problems: &mut Vec<Problem>) {
    let known = known(stock, materials);
    for (name, path) in own_keys(job, "packs") {
        if !is_known(name, &known) {
            problems.push(unknown(job, &path, name, &known));
            continue;
        }
        let text = text(job, &path);
        problems.extend(match Size::read(&text) {
            Err(why) => Some(explained(job, &path, name, &text, why)),
            Ok(size) => {
                unfit(job, stock, materials, &path, name, &size).or_else(|| parted(job, &path, &size))
            }
        });
    }
}

/// What stands at a path of the job, a bare number too.
fn text(job: &Job, path: &str) -> String {
    match job.values.get(path) {
        Some((Value::Text(text), _)) => text.clone(),
        Some((Value::Number(number), _)) => crate::decimal::plain(*number),
        _ => String::new(),
    }
}

/// Why a pack is refused, in the user's terms.
fn explained(job: &Job, path: &str, name: &str, text: &str, why: SizeError) -> Problem {
    let tell = |code, what: &str, label: String, hint: &str| {
        Problem::error(code, job.place(path), format!("{path}: {what}")).label(label).hint(hint)
    };
    let example = "an amount with its unit: \"50 kg\", \"5 m3\", \"20 l\", \"6 m\", \"2500 nr\", a roll as \"20 m x 4 m\"";
    let number = text.trim().trim_end_matches(|c: char| c.is_ascii_alphabetic() || c == ' ');
    let mass = text.to_lowercase().ends_with("kg") || text.to_lowercase().ends_with("lb");
    if names(name).any(|n| n == "cement") && CLASSES.contains(&number) && !mass {
        let hint = "42.5 is usually the strength class printed on the bag; say what the bag weighs, as \"50 kg\" \
                    (or \"42.5 kg\" where it really holds that)";
        return tell("J111", "this is the strength class of a cement", "not the mass of a bag".into(), hint);
    }
    match why {
        SizeError::NoUnit => {
            tell("J110", "a pack needs its unit", format!("{} of what?", text.trim()), example)
        }
        SizeError::Zero => tell("J115", "a pack holds more than nothing", "nothing in it".into(), example),
        SizeError::Range => {
            tell("J115", "no pack is so large or so small", "beyond all measure".into(), example)
        }
        SizeError::Unit(unit) => {
            let hint = "units of packs are kg, g, t, lb; m3, ft3, yd3; m2, ft2; m, mm, ft; l; nr";
            let unit: String = unit.chars().take(20).collect();
            tell("J112", "the unit of this pack is not known", format!("`{unit}` is no unit"), hint)
        }
        SizeError::Sides => {
            let hint = "two lengths make a roll in m2, three a load in m3: \"20 m x 4 m\"";
            tell("J112", "the sides of a pack should be two or three lengths", "not all lengths".into(), hint)
        }
        SizeError::NoNumber => tell("J112", "this is no pack", "an amount is wanted first".into(), example),
    }
}

/// Part of a piece.
fn parted(job: &Job, path: &str, size: &Size) -> Option<Problem> {
    (size.unit == "nr" && !size.amount.fract().is_zero()).then(|| {
        let what = format!("{path}: pieces come whole");
        let problem = Problem::error("J112", job.place(path), what).label("a part of a piece");
        problem.hint("say how many a pack holds, as \"500 nr\"")
    })
}

/// Names in `[packs]` and `[orders] lead_days` that act on nothing this job uses.
pub(super) fn idle(job: &Job, materials: &Materials) -> Vec<Phrase> {
    let tables = ["packs", "orders.lead_days"];
    let own = tables.into_iter().flat_map(|t| own_keys(job, t));
    let acts = |name: &str| materials.materials.iter().any(|m| names(&m.id).any(|n| n == name));
    let idle = own.filter(|(name, _)| *name != "surplus-earth" && !acts(name));
    idle.map(|(_, path)| Phrase::with("orders-idle", &[&path])).collect()
}

/// A size of another kind than the material is ordered in, or a length of bars beside `[steel]`.
fn unfit(
    job: &Job,
    stock: &Stock,
    materials: &Materials,
    path: &str,
    name: &str,
    size: &Size,
) -> Option<Problem> {
    if names(name).any(|n| n == "bars") {
        let what = format!("{path}: bars are bought in the stock length of [steel]");
        let problem = Problem::error("J119", job.place(path), what).label("not read here");
        return Some(problem.hint("write stock_length under [steel], and leave this line out"));
    }
    let of = |m: &&Material| names(&m.id).any(|n| n == name);
    let mut units: Vec<&str> = materials.materials.iter().filter(of).map(|m| m.unit.as_str()).collect();
    if units.is_empty() {
        units.extend(entry(stock, name).map(|e| e.size.unit));
    }
    let unit = units.into_iter().find(|unit| size.in_unit(unit).is_none())?;
    let what = format!("{path}: {name} is ordered in {unit}");
    let problem = Problem::error("J113", job.place(path), what).label(format!("this is in {}", size.unit));
    let weighed = (unit, size.unit) == ("m3", "kg");
    Some(problem.hint(if weighed {
        "loads are reckoned by room, not by weight: measure the body, length x width x height, as \
         \"4 m x 2 m x 60 cm\", or ask how many m3 a trip holds"
            .to_owned()
    } else {
        format!("say what a pack holds in {unit}")
    }))
}

/// The pack of a material that is not cut from bars, and what a buyer must know of it.
pub(super) fn of(job: &Job, stock: &Stock, material: &Material, remarks: &mut Vec<Phrase>) -> Pack {
    let entry = entry(stock, &material.id).filter(|e| e.size.in_unit(&material.unit).is_some());
    let own = names(&material.id).map(|n| format!("packs.{n}")).find(|path| job.has(path));
    let own = own.and_then(|path| Some((Size::read(job.text(&path)).ok()?, path)));
    if let Some((size, path)) = own
        && let Some(amount) = size.in_unit(&material.unit)
    {
        let words = entry.map_or_else(plain_words, |e| e.own.as_ref().unwrap_or(&e.words).clone());
        let source = match job.values.get(&path) {
            Some((_, Given::Here(place))) => format!("{}:{}", place.file, place.line),
            _ => path,
        };
        return Pack {
            size: amount,
            title: title(&size.text, &words, amount),
            words,
            source,
            default: false,
        };
    }
    if let Some(entry) = entry
        && let Some(amount) = entry.size.in_unit(&material.unit)
    {
        if entry.by_load {
            remarks.push(Phrase::with("orders-no-load", &[&material.title, &entry.size.text]));
        }
        let title = title(&entry.size.text, &entry.words, amount);
        let source = entry.source.to_string();
        return Pack { size: amount, title, words: entry.words.clone(), source, default: true };
    }
    // Nothing known: whole units, or half cubic metres of what comes by the load.
    let bulk = material.rounding == Rounding::Bulk && material.unit == "m3";
    let size = if bulk { Decimal::new(5, 1) } else { Decimal::ONE };
    let unit = OWN_UNITS.into_iter().find(|u| *u == material.unit).unwrap_or(material.unit.as_str());
    let words = match unit {
        _ if bulk => plain_words(),
        "nr" => ["piece".to_owned(), "pieces".to_owned()],
        unit => [unit.to_owned(), unit.to_owned()],
    };
    let text = format!("{size} {unit}");
    remarks.push(Phrase::with("orders-no-pack", &[&material.title, &text]));
    let source = "common practice, no source".to_owned();
    Pack { size, title: title(&text, &words, size), words, source, default: true }
}

/// The pack of any material, bars too, whether the job orders it or not.
pub(crate) fn of_any(job: &Job, stock: &Stock, material: &Material) -> Pack {
    let tenths = job.len("steel.stock_length").value();
    match crate::decimal::rounded(tenths / tankwright_geometry::Ratio::int(10_000), 4) {
        Some(metres) if material.rounding == Rounding::Plan && !metres.is_zero() => of_bars(job, metres),
        _ => of(job, stock, material, &mut Vec::new()),
    }
}

/// A bar of a length in metres.
pub(super) fn of_bars(job: &Job, size: Decimal) -> Pack {
    Pack {
        size,
        title: format!("{size} m bar"),
        words: ["bar".to_owned(), "bars".to_owned()],
        source: "steel.stock_length".to_owned(),
        default: !job.given("steel.stock_length"),
    }
}

fn plain_words() -> [String; 2] {
    ["pack".to_owned(), "packs".to_owned()]
}

/// `50 kg bag`; a piece is a piece, a kg a kg.
fn title(size: &str, words: &[String; 2], amount: Decimal) -> String {
    let [one, _] = words;
    let unit = size.rsplit(' ').next().unwrap_or_default();
    if amount == Decimal::ONE && (unit == one || unit == "nr") {
        one.clone()
    } else if unit == one {
        size.to_owned()
    } else {
        format!("{size} {one}")
    }
}
