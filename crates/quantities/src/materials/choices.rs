//! What the job chooses: whose mixes, which figures, its own waste. Read once, all problems together.

use std::collections::BTreeMap;

use tankwright_geometry::{Ratio, parse};

use crate::job::{Job, Value, suggestion};
use crate::materials::{Rounding, codes};
use crate::problem::Problem;
use crate::rates::{Mix, Recipes, covering};

/// The word that asks for the dry-volume method.
pub(super) const DRY: &str = "dry";

/// Choices of a job.
#[derive(Debug, Default)]
pub(super) struct Choices {
    /// Origin of concrete, `dry`, or empty.
    pub(super) concrete: String,
    /// Origin of mortar, `dry`, or empty.
    pub(super) mortar: String,
    /// Figures by id: another value's id, or a number of the job's own.
    pub(super) figures: BTreeMap<String, Chosen>,
    /// Waste by material, per cent.
    pub(super) waste: BTreeMap<String, Ratio>,
    /// Are blocks made on the site?
    pub(super) made: bool,
}

/// A figure the job chooses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Chosen {
    /// The value of this id.
    Named(String),
    /// A number of its own.
    Own(Ratio),
}

/// Reads the choices; what cannot be followed is reported and left out.
pub(super) fn read(job: &Job, stock: &Recipes, problems: &mut Vec<Problem>) -> Choices {
    let concrete = origin(job, "materials.concrete", &stock.concrete, problems);
    let mortar = origin(job, "materials.mortar", &stock.mortar, problems);
    let figures = figures(job, stock, problems);
    let waste = waste(job, stock, problems);
    Choices { concrete, mortar, figures, waste, made: job.text("materials.blocks") == "made" }
}

fn origin(job: &Job, path: &str, mixes: &[Mix], problems: &mut Vec<Problem>) -> String {
    let word = job.text(path);
    if word.is_empty() || word == DRY || mixes.iter().any(|m| m.origin == word) {
        return word.to_owned();
    }
    let mut known: Vec<&str> = mixes.iter().map(|m| m.origin.as_str()).chain([DRY]).collect();
    known.sort_unstable();
    known.dedup();
    let near = suggestion(word, known.iter().copied());
    let what = format!("{path}: nobody called `{word}` gives materials of mixes");
    let problem = Problem::error(codes::ORIGIN, job.place(path), what).label("no entry of this origin");
    problems.push(problem.hint(format!("{near}known: {}", known.join(", "))));
    String::new()
}

/// Names of an open table with the path of each.
fn own_keys<'a>(job: &'a Job, table: &str) -> Vec<(&'a str, String)> {
    let start = format!("{table}.");
    let paths = job.values.keys().filter_map(|k| k.strip_prefix(&start).map(|name| (name, k.clone())));
    paths.collect()
}

/// The text or number at a key, as text.
fn words(job: &Job, path: &str) -> String {
    match job.values.get(path) {
        Some((Value::Number(n), _)) => crate::decimal::plain(*n),
        Some((Value::Text(text), _)) => text.trim().to_owned(),
        _ => String::new(),
    }
}

fn figures(job: &Job, stock: &Recipes, problems: &mut Vec<Problem>) -> BTreeMap<String, Chosen> {
    let mut chosen = BTreeMap::new();
    for (name, path) in own_keys(job, "materials.figures") {
        let place = job.place(&path);
        let Some(figure) = stock.figures.get(name) else {
            let near = suggestion(name, stock.figures.keys().map(String::as_str));
            let problem =
                Problem::error(codes::FIGURE, place, format!("{path}: no figure is called `{name}`"));
            let hint =
                format!("{near}rates/recipes.toml lists the figures; `tankwright rates --export` writes it");
            problems.push(problem.label("not a figure of any recipe").hint(hint));
            continue;
        };
        let text = words(job, &path);
        let own = parse::decimal(&text).filter(|v| v.signum() > 0 && *v < Ratio::int(1_000_000));
        match (figure.value(&text).filter(|_| !text.is_empty()), own) {
            (Some(value), _) => {
                chosen.insert(name.to_owned(), Chosen::Named(value.id.clone()));
            }
            (None, Some(own)) => {
                chosen.insert(name.to_owned(), Chosen::Own(own));
            }
            (None, None) => {
                let known: Vec<&str> = figure.values.iter().map(|v| v.id.as_str()).collect();
                let near = suggestion(&text, known.iter().copied());
                let what = format!("{path}: `{text}` is no value of this figure");
                let problem = Problem::error(codes::VALUE, place, what).label(figure.says.clone());
                let hint = format!("{near}known: {}; or a number of your own above 0", known.join(", "));
                problems.push(problem.hint(hint));
            }
        }
    }
    chosen
}

fn waste(job: &Job, stock: &Recipes, problems: &mut Vec<Problem>) -> BTreeMap<String, Ratio> {
    let mut waste = BTreeMap::new();
    for (name, path) in own_keys(job, "waste") {
        let place = job.place(&path);
        if !covering(name).any(|id| stock.goods.iter().any(|g| g.id == id)) {
            let ids = || stock.goods.iter().map(|g| g.id.as_str());
            let near = suggestion(name, ids());
            let problem =
                Problem::error(codes::WASTE_OF, place, format!("waste: no material is called `{name}`"));
            let hint = format!("{near}known: {}", ids().collect::<Vec<_>>().join(", "));
            problems.push(problem.label("not a material").hint(hint));
            continue;
        }
        let planned = |id: &str| stock.goods.iter().any(|g| g.id == id && g.rounding == Rounding::Plan);
        if covering(name).any(planned) {
            let what = format!("{path}: bars are bought by the cutting plan, no waste is added to them");
            let problem = Problem::error(codes::CUT, place, what).label("not read here");
            problems
                .push(problem.hint("the offcuts are the waste, and they are listed; leave this line out"));
            continue;
        }
        let text = words(job, &path);
        match parse::decimal(&text).filter(|p| *p <= Ratio::int(100)) {
            Some(percent) => {
                waste.insert(name.to_owned(), percent);
            }
            None => {
                let problem = Problem::error(
                    codes::PERCENT,
                    place,
                    format!("{path}: per cent from 0 to 100 are wanted here"),
                );
                problems.push(problem.label("not a percentage").hint("write the number alone, as \"5\""));
            }
        }
    }
    waste
}

/// Names in `[waste]` that go further than the goods, `pipe/110`, must be a material of this job.
pub(super) fn unused_waste(job: &Job, materials: &[String], problems: &mut Vec<Problem>) {
    for (name, path) in own_keys(job, "waste") {
        if !name.contains('/') || materials.iter().any(|m| covering(m).any(|id| id == name)) {
            continue;
        }
        let near = suggestion(name, materials.iter().map(String::as_str));
        let what = format!("waste: this job has no material `{name}`");
        let problem = Problem::error(codes::WASTE_OF, job.place(&path), what);
        problems.push(problem.label("not a material of this job").hint(format!(
            "{near}materials of the job: {}",
            materials.iter().filter(|m| m.contains('/')).cloned().collect::<Vec<_>>().join(", ")
        )));
    }
}
