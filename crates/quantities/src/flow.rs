//! The whole flow on one screen: job and data in, a proved estimate out.

use std::collections::BTreeSet;

use tankwright_geometry::{InputId, Judge, Ratio};

use crate::balances;
use crate::beside;
use crate::bill;
use crate::build_up;
use crate::capacity;
use crate::cautions::cautions;
use crate::checks::{Finished, checks};
use crate::earth::earth;
use crate::elements::{ALL, Element};
use crate::estimate::{Estimate, Failure, Method};
use crate::formed;
use crate::job::Job;
use crate::ledger::{Book, SetOut, deduct, over_break};
use crate::materials;
use crate::model::Model;
use crate::orders;
use crate::pricing;
use crate::problem::{Problem, Severity, in_order};
use crate::programme;
use crate::rates::{PriceList, Profile, Stock};
use crate::report::{defaults, scope, sources};
use crate::setting_out;
use crate::site::Site;
use crate::sketch::Sketch;
use crate::space::Space;
use crate::steel::{self, Bench};
use crate::words::Phrase;
use crate::works::Class;

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
    /// What every rate could be built up from is wanted on the bill, though no price list is given.
    pub build_ups: bool,
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
    let stock = &*materials::with_own_units(job, stock).map_err(Failure::Job)?;
    let profile = known(job, stock, settings).map_err(Failure::Job)?;
    let judge = judge(job);
    let site = Site::set_out(job, stock, profile, &judge);

    let mut set = set_out(elements, &site);
    let bench = reinforce(elements, &site);
    refused(job.take_problems())?;
    // It goes on beside the measuring.
    let cutting = bench.plan();

    let mut book = Book::new(profile, &judge, &site.floor);
    measure(elements, &site, &mut book, &mut set);
    bench.book(&mut book);
    let model = Model::paint(&site, &set);
    prove(elements, &site, &model, &mut book);
    let sheet = book.close(&model).ok_or_else(too_large)?;
    let mut balances = balances::of_measurement(&site, &sheet, &model);

    let capacity = capacity::capacity(&site, &set);
    let sketch = Sketch {
        details: bench.details(),
        formed: formed::faces(&site, &set, &model, &[Class::Formwork]),
        lined: formed::faces(&site, &set, &model, &[Class::Plaster, Class::Sheet]),
        ..Sketch::of(elements, &site)
    };
    let bars = bench.close(cutting);
    let checks =
        checks(&Finished { site: &site, set: &set, sheet: &sheet, capacity: &capacity, bars: &bars });
    let materials = materials::reckon(&site, &sheet, &bars, &capacity).map_err(Failure::Job)?;
    let orders = orders::place(&site, &materials, &bars, prices).map_err(Failure::Job)?;
    let programme = programme::draw_up(&site, &sheet, &orders).map_err(Failure::Job)?;

    let date = settings.date.as_deref().unwrap_or(job.text("job.date")).to_owned();
    let mut bill = bill::draw_up(&sheet, job, stock);
    if settings.build_ups || prices.is_some_and(PriceList::builds_up) {
        build_up::outlines(&mut bill, &sheet, job, stock, prices);
    }
    let mut priced = Vec::new();
    if let Some(prices) = prices {
        let goods = pricing::Goods { sheet: &sheet, materials: &materials, orders: &orders };
        let client_buys = (job.text("job.supply") == "labour-only").then_some(goods);
        priced = pricing::price(&mut bill, job, stock, prices, &date, client_buys);
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
    balances.push(materials::balance(&materials, &sheet, &bars));
    balances.push(steel::balance(&bars, &sheet));
    balances.push(orders::balance(&orders, &materials));
    balances.extend(bill::balances(&bill, &sheet));
    if balances.iter().any(|b| !b.left.is_known() || !b.right.is_known()) {
        return Err(too_large());
    }
    if balances.iter().any(|b| !b.holds()) {
        return Err(Failure::Balance(balances));
    }

    let mut cautions = cautions(&site, &sheet, &bill);
    cautions.extend(priced.into_iter().map(of_price));
    Ok(Estimate {
        title: job.text("job.title").to_owned(),
        date,
        file: job.file.clone(),
        scope: scope(&site),
        profile: (profile.id.clone(), profile.title.clone()),
        method: Method {
            text: profile.method.as_ref().map_or_else(String::new, |(text, _)| text.clone()),
            notes: profile.notes.clone(),
        },
        inputs: job.inputs.clone(),
        tests: judge.tests(),
        earth: earth(&site, &sheet).ok_or_else(too_large)?,
        concrete: beside::concrete(&sheet).ok_or_else(too_large)?,
        capacity,
        checks,
        outer_plan: outer_plan(&site),
        sizing: None,
        setting_out: setting_out::marks(&site),
        space: Space::paint(&site, &set),
        sketch,
        cautions,
        defaults: defaults(job),
        sources: sources(&site),
        sheet,
        balances,
        steel: bars,
        materials,
        orders,
        programme,
        bill,
    })
}

/// Who compares the lengths of a job; with trails it remembers.
pub(crate) fn judge(job: &Job) -> Judge {
    let any_sign = job.inputs.iter().enumerate().filter(|(_, i)| job.trail && i.any_sign);
    let any_sign: BTreeSet<_> =
        any_sign.map(|(n, _)| InputId(u32::try_from(n).unwrap_or(u32::MAX))).collect();
    Judge::new(job.trail, any_sign)
}

/// Claims and faces of all elements; what is impossible is reported on the job.
pub(crate) fn set_out(elements: &[&dyn Element], site: &Site<'_>) -> SetOut {
    // Room for what a usual tank has: claims and faces are large, and moving them takes time.
    let mut set = SetOut { claims: Vec::with_capacity(48), faces: Vec::with_capacity(80) };
    set_out_into(elements, site, &mut set);
    set
}

/// The same in place of what was set out before.
pub(crate) fn set_out_into(elements: &[&dyn Element], site: &Site<'_>, set: &mut SetOut) {
    set.claims.clear();
    set.faces.clear();
    for element in elements {
        element.set_out(site, set);
    }
}

/// Bars of all elements; what is impossible is reported on the job.
fn reinforce<'a>(elements: &[&dyn Element], site: &'a Site<'a>) -> Bench<'a> {
    let mut bench = Bench::new(site);
    for element in elements {
        element.reinforce(site, &mut bench);
    }
    bench
}

/// Why a job that was set out is refused, as [`estimate`] says it; `None` where nothing is wrong so far.
pub(crate) fn refusal(elements: &[&dyn Element], site: &Site<'_>) -> Option<Vec<Problem>> {
    reinforce(elements, site);
    match refused(site.job.take_problems()) {
        Err(Failure::Job(problems)) => Some(problems),
        _ => None,
    }
}

/// Every line but those of bars: gross, over-break, deductions.
pub(crate) fn measure(elements: &[&dyn Element], site: &Site<'_>, book: &mut Book<'_>, set: &mut SetOut) {
    for element in elements {
        element.measure(site, book);
    }
    over_break::add(site, book, set);
    deduct(book, set);
    book.in_units();
}

/// Every second formula.
pub(crate) fn prove(elements: &[&dyn Element], site: &Site<'_>, model: &Model, book: &mut Book<'_>) {
    for element in elements {
        element.prove(site, model, book);
    }
}

/// The profile, and every name the job uses for stored data.
pub(crate) fn known<'a>(
    job: &Job,
    stock: &'a Stock,
    settings: &Settings,
) -> Result<&'a Profile, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut check = |path: &str, name: &str, what: &str, known: Vec<&String>| {
        if !name.is_empty() && !known.iter().any(|k| *k == name) {
            let list = match known.len() {
                // Of the currencies nobody reads a list.
                101.. => format!("`tankwright rules` lists all {}", known.len()),
                _ => format!("known: {}", known.iter().map(|k| k.as_str()).collect::<Vec<_>>().join(", ")),
            };
            let near = crate::job::suggestion(name, known.iter().map(|k| k.as_str()));
            let problem = Problem::error("J070", job.place(path), format!("{what} `{name}` is not known"));
            problems.push(problem.label("no entry of this name").hint(format!("{near}{list}")));
        }
    };
    let profile = settings.profile.as_deref().unwrap_or(job.text("job.profile"));
    check("job.profile", profile, "measurement profile", stock.profiles.keys().collect());
    check("ground.soil", job.text("ground.soil"), "soil", stock.soils.keys().collect());
    check("job.currency", job.text("job.currency"), "currency", stock.currencies.keys().collect());
    let mut walls = ["tank.walls", "tank.partitions", "tank.manhole_shafts", "soak_pit.lining"]
        .map(str::to_owned)
        .to_vec();
    let chambers = "inspection_chambers";
    walls.extend((0..job.count_of(chambers)).map(|i| format!("{chambers}[{i}]")));
    for part in walls {
        let path = format!("{part}.unit");
        check(&path, job.text(&path), "masonry unit", stock.units.keys().collect());
    }
    match stock.profiles.get(profile) {
        Some(profile) if problems.is_empty() => Ok(profile),
        _ => Err(problems),
    }
}

/// Outer plan of the tank, m2.
pub(crate) fn outer_plan(site: &Site<'_>) -> Ratio {
    site.outer_length().value() * site.outer_width().value() / Ratio::int(100_000_000)
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
    crate::estimate::Caution::new(problem.code, says, &problem.hint.unwrap_or_default()).at(problem.place)
}
