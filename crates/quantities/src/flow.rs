//! The whole flow on one screen: job and data in, a proved estimate out.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use tankwright_geometry::{InputId, Judge, Ratio};

use crate::balances;
use crate::bill;
use crate::capacity::capacity;
use crate::cautions::cautions;
use crate::decimal;
use crate::elements::{ALL, Element, pit};
use crate::estimate::{DefaultUsed, Earth, Estimate, Failure};
use crate::job::{Given, Job, Value};
use crate::ledger::{Book, SetOut, deduct};
use crate::model::Model;
use crate::pricing;
use crate::problem::{Problem, Severity, in_order};
use crate::rates::{PriceList, Profile, Stock};
use crate::setting_out;
use crate::sheet::Sheet;
use crate::site::Site;
use crate::words::Phrase;
use crate::works::Earth as Role;

/// Codes of what the flow itself refuses, each with its meaning in one line.
pub const CODES: &[(&str, &str)] = &[
    ("J070", "a soil, masonry unit, profile or currency that is not known"),
    ("J071", "dimensions beyond what can be reckoned exactly"),
];

/// What the command line may say over the job file's head.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Settings {
    /// `--profile`.
    pub profile: Option<String>,
    /// `--date`.
    pub date: Option<String>,
}

/// Every table of fields of the job file, in the file's order: its head, the elements' parts, then steel and money.
#[must_use]
pub fn job_tables() -> Vec<&'static [crate::job::Field]> {
    let mut tables = crate::job::parts::before();
    tables.extend(ALL.iter().map(|e| e.fields()));
    tables.extend(crate::job::parts::after());
    tables
}

/// Measures, proves and (with a price list) prices a job.
///
/// # Errors
/// See [`Failure`]: a refused job or price list with all its problems, or a balance that does not close.
pub fn estimate(
    job: &Job,
    stock: &Stock,
    prices: Option<&PriceList>,
    settings: &Settings,
) -> Result<Estimate, Failure> {
    estimate_in(ALL, job, stock, prices, settings)
}

/// The same with the elements in the order given: the order makes no difference, and a test proves it.
///
/// # Errors
/// As [`estimate`].
pub fn estimate_in(
    elements: &[&dyn Element],
    job: &Job,
    stock: &Stock,
    prices: Option<&PriceList>,
    settings: &Settings,
) -> Result<Estimate, Failure> {
    let profile = known(job, stock, settings).map_err(Failure::Job)?;
    let any_sign = job.inputs.iter().enumerate().filter(|(_, i)| i.any_sign);
    let any_sign: BTreeSet<_> =
        any_sign.map(|(n, _)| InputId(u32::try_from(n).unwrap_or(u32::MAX))).collect();
    let judge = Judge::new(job.trail, any_sign);
    let site = Site::set_out(job, stock, profile, &judge);

    let mut set = SetOut::default();
    for element in elements {
        element.set_out(&site, &mut set);
    }
    refused(job.take_problems())?;

    let mut book = Book::new(profile, &judge, &site.floor);
    for element in elements {
        element.measure(&site, &mut book);
    }
    deduct(&mut book, &set);
    let model = Model::paint(&site, &set);
    for element in elements {
        element.prove(&site, &model, &mut book);
    }
    let sheet = book.close(&model).ok_or_else(too_large)?;
    let mut balances = balances::of_measurement(&site, &sheet, &model);

    let date = settings.date.as_deref().unwrap_or(job.text("job.date")).to_owned();
    let mut bill = bill::draw_up(&sheet, job, stock);
    let mut priced = Vec::new();
    if let Some(prices) = prices {
        priced = pricing::price(&mut bill, job, stock, prices, &date);
        if priced.iter().any(|p| p.severity == Severity::Error) {
            in_order(&mut priced);
            // A list in another currency is shown where the job says its own; it is the list that is refused.
            let of_job =
                |p: &Problem| p.code != "R043" && p.place.as_ref().is_some_and(|p| p.file == job.file);
            let errors = || priced.iter().filter(|p| p.severity == Severity::Error);
            let failure = if errors().all(of_job) { Failure::Job } else { Failure::Rates };
            return Err(failure(priced));
        }
    }
    balances.extend(bill::balances(&bill, &sheet));
    if balances.iter().any(|b| !b.left.is_known() || !b.right.is_known()) {
        return Err(too_large());
    }
    if balances.iter().any(|b| !b.holds()) {
        return Err(Failure::Balance(balances));
    }

    let mut cautions = cautions(&site);
    cautions.extend(priced.into_iter().map(of_price));
    Ok(Estimate {
        title: job.text("job.title").to_owned(),
        date,
        file: job.file.clone(),
        scope: scope(&site),
        profile: (profile.id.clone(), profile.title.clone()),
        inputs: job.inputs.clone(),
        tests: judge.tests(),
        earth: earth(&site, &sheet).ok_or_else(too_large)?,
        capacity: capacity(&site),
        setting_out: setting_out::marks(&site),
        cautions,
        defaults: defaults(job),
        sources: sources(&site),
        sheet,
        balances,
        bill,
    })
}

/// The profile, and every name the job uses for stored data.
fn known<'a>(job: &Job, stock: &'a Stock, settings: &Settings) -> Result<&'a Profile, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut check = |path: &str, name: &str, what: &str, known: Vec<&String>| {
        if !name.is_empty() && !known.iter().any(|k| *k == name) {
            let list = known.iter().map(|k| k.as_str()).collect::<Vec<_>>().join(", ");
            let near = crate::job::suggestion(name, known.iter().map(|k| k.as_str()));
            let problem = Problem::error("J070", job.place(path), format!("{what} `{name}` is not known"));
            problems.push(problem.label("no entry of this name").hint(format!("{near}known: {list}")));
        }
    };
    let profile = settings.profile.as_deref().unwrap_or(job.text("job.profile"));
    check("job.profile", profile, "measurement profile", stock.profiles.keys().collect());
    check("ground.soil", job.text("ground.soil"), "soil", stock.soils.keys().collect());
    check("job.currency", job.text("job.currency"), "currency", stock.currencies.keys().collect());
    for part in ["tank.walls", "tank.partitions", "tank.manhole_shafts"] {
        let path = format!("{part}.unit");
        check(&path, job.text(&path), "masonry unit", stock.units.keys().collect());
    }
    match stock.profiles.get(profile) {
        Some(profile) if problems.is_empty() => Ok(profile),
        _ => Err(problems),
    }
}

fn refused(mut problems: Vec<Problem>) -> Result<(), Failure> {
    in_order(&mut problems);
    if problems.is_empty() { Ok(()) } else { Err(Failure::Job(problems)) }
}

fn too_large() -> Failure {
    let problem = Problem::error("J071", None, "the dimensions grow beyond what can be reckoned exactly");
    Failure::Job(vec![
        problem.hint("a tank of this size is far beyond this tool; look for a slip in the units"),
    ])
}

fn of_price(problem: Problem) -> crate::estimate::Caution {
    let says = Phrase { key: "plain", args: vec![problem.message] };
    crate::estimate::Caution {
        code: problem.code,
        says,
        source: problem.hint.unwrap_or_default(),
        place: problem.place,
    }
}

/// The four numbers.
fn earth(site: &Site<'_>, sheet: &Sheet) -> Option<Earth> {
    let places = 12;
    let dug = sheet.items.iter().filter(|i| i.work.earth == Role::Dug);
    let billed: Ratio = dug.clone().filter(|i| !i.unbilled).map(|i| decimal::ratio(i.quantity)).sum();
    let over_break = if site.open { Ratio::ZERO } else { site.job.len("tank.pit.over_break").value() };
    let over = pit::tight_sides(site) * over_break / Ratio::int(1_000_000_000_000);
    let actual = balances::earth_sum(sheet, Role::Dug) + over;
    let back = balances::earth_sum(sheet, Role::PutBack);
    let bank = actual - back;
    let soil = site.stock.soils.get(site.job.text("ground.soil"));
    let loose = bank * soil.map_or(Ratio::ONE, |s| s.swell.0);
    let at = |r| decimal::rounded(r, places);
    let load = load_size(site).filter(|_| site.job.text("ground.surplus") == "cart");
    let loads = load.and_then(|size| {
        let n = Ratio::ZERO - (Ratio::ZERO - loose / decimal::ratio(size)).floor();
        Some((u64::try_from(n.numer()).ok()?, size))
    });
    Some(Earth {
        dug_net: at(billed)?,
        dug_actual: at(actual)?,
        put_back: at(back)?,
        carted_bank: at(bank)?,
        carted_loose: at(loose)?,
        loads,
    })
}

fn load_size(site: &Site<'_>) -> Option<Decimal> {
    let text = site.job.text("packs.surplus-earth").strip_suffix("m3")?.trim().to_owned();
    text.parse::<Decimal>().ok().filter(|d| *d > Decimal::ZERO)
}

/// What is built, in words.
fn scope(site: &Site<'_>) -> Vec<Phrase> {
    let metres = |l: &tankwright_geometry::Len| {
        decimal::rounded(l.value() / Ratio::int(10_000), 4)
            .map_or_else(String::new, |d| decimal::shown(d, d.scale().max(2)))
    };
    let chambers = site.chambers.iter().map(metres).collect::<Vec<_>>().join(" + ");
    let n = site.chambers.len().to_string();
    let height = site.job.len("tank.height");
    let key = if site.chambers.len() == 1 { "scope-tank-one" } else { "scope-tank" };
    let mut scope = vec![Phrase::with(key, &[&n, &chambers, &metres(&site.width), &metres(&height)])];
    if site.job.has("soak_pit") {
        let [d, deep] = ["diameter", "depth"].map(|k| metres(&site.job.len(&format!("soak_pit.{k}"))));
        let n = site.job.count("soak_pit.number").1.to_string();
        scope.push(Phrase::with("scope-soak-pit", &[&n, &d, &deep]));
    }
    scope
}

fn defaults(job: &Job) -> Vec<DefaultUsed> {
    let used = job.values.iter().filter_map(|(path, (value, given))| {
        let Given::Default(source) = given else { return None };
        let value = match value {
            Value::Text(text) => text.clone(),
            Value::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
            Value::Texts(texts) => texts.join(", "),
            Value::Number(n) => decimal::plain(*n),
            Value::Input(id) => job.inputs.get(id.0 as usize).map(shown_input)?,
            Value::Group(_) => return None,
        };
        Some(DefaultUsed { path: path.clone(), value, source: (*source).to_owned() })
    });
    used.collect()
}

fn shown_input(input: &crate::job::Input) -> String {
    match input.scale {
        crate::job::Scale::Length => format!("{} mm", decimal::plain(input.value / Ratio::int(10))),
        crate::job::Scale::Plain => decimal::plain(input.value),
    }
}

/// Sources of the data used.
fn sources(site: &Site<'_>) -> Vec<(String, String)> {
    let mut list = Vec::new();
    let p = site.profile;
    let mut add = |what: String, source: &crate::source::Source| list.push((what, source.to_string()));
    add(format!("profile {}: dimensions", p.id), &p.step.1);
    add(format!("profile {}: slab thickness", p.id), &p.slab_step.1);
    add(format!("profile {}: depth bands", p.id), &p.bands.1);
    for (unit, (places, source)) in &p.places {
        add(format!("profile {}: {} to {places} places", p.id, unit.id()), source);
    }
    if let Some(source) = &p.walls_by_area {
        add(format!("profile {}: walls in m2", p.id), source);
    }
    if let Some(source) = &p.working_space_in_rate {
        add(format!("profile {}: working space in the rate", p.id), source);
    }
    for (class, void) in &p.voids {
        let limit = decimal::plain(
            void.limit
                / if void.unit == crate::works::Unit::M3 {
                    Ratio::int(1_000_000_000_000)
                } else {
                    Ratio::int(100_000_000)
                },
        );
        add(
            format!("profile {}: voids in {} up to {limit} {} are kept", p.id, class.id(), void.unit.id()),
            &void.source,
        );
    }
    if let Some(soil) = site.stock.soils.get(site.job.text("ground.soil")) {
        add(format!("soil {}: swell {}", soil.id, decimal::plain(soil.swell.0)), &soil.swell.1);
        add(format!("soil {}: do sides stand", soil.id), &soil.sides_stand.1);
    }
    if let Some(unit) = site.unit {
        add(format!("masonry unit {}", unit.id), &unit.source);
    }
    if let Some((currency, source)) = site.stock.currencies.get(site.job.text("job.currency")) {
        add(format!("currency {}: {} digits", currency.code, currency.digits), source);
    }
    list
}
