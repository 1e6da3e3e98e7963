//! Reads `mixes.toml`, `recipes.toml`, `materials.toml`, `waste.toml` and `checks.toml`.

use tankwright_geometry::{Ratio, parse};

use super::entry::{Fields, is_id};
use super::read::{Kept, each_of, put, used};
use super::recipes::{Coat, Figure, FigureValue, Goods, Mix, Recipe, RecipeGood};
use super::stock::Stock;
use crate::materials::Rounding;
use crate::source::Source;

const UNITS: [&str; 6] = ["kg", "m3", "m2", "m", "nr", "l"];

/// Reads one of the five files; `false` where the name is another.
pub(super) fn read(stem: &str, top: &Fields<'_, '_>, path: &str, into: &mut Stock) -> bool {
    match stem {
        "mixes" => {
            each_of(top, "concrete", "id", |f| mix(f, 3), |m| put(into, "concrete", path, Concrete(m)));
            each_of(top, "mortar", "id", |f| mix(f, 2), |m| put(into, "mortar", path, Mortar(m)));
        }
        "recipes" => {
            each_of(top, "figure", "id", figure, |f| put(into, "figure", path, f));
            each_of(top, "recipe", "id", recipe, |r| put(into, "recipe", path, r));
            each_of(top, "coat", "id", coat, |c| put(into, "coat", path, c));
            if let Some(made) = top.part_if_any("made_blocks") {
                let read = (proportions(&made, 2), made.source());
                made.done();
                if let (Some(mix), Some(source)) = read {
                    put(into, "recipe", path, MadeBlocks(mix, source));
                }
            }
        }
        "checks" => {
            each_of(top, "figure", "id", figure, |f| put(into, "figure of checks", path, OfChecks(f)))
        }
        "materials" => each_of(top, "material", "id", goods, |g| put(into, "material", path, g)),
        "waste" => each_of(top, "waste", "id", waste, |w| put(into, "waste", path, w)),
        _ => return false,
    }
    top.done();
    true
}

struct Concrete(Mix);
struct Mortar(Mix);
struct OfChecks(Figure);
struct MadeBlocks(String, Source);
struct Waste(String, (Ratio, Source));

/// Replaces the entry of the same id; one that is used takes that from the others of its mix.
fn keep_mix(list: &mut Vec<Mix>, new: Mix) -> String {
    let id = new.id.clone();
    if new.used {
        list.iter_mut().filter(|m| m.mix == new.mix).for_each(|m| m.used = false);
    }
    list.retain(|m| m.id != id);
    list.push(new);
    id
}

impl Kept for Concrete {
    fn put(self, into: &mut Stock) -> String {
        keep_mix(&mut into.recipes.concrete, self.0)
    }
}

impl Kept for Mortar {
    fn put(self, into: &mut Stock) -> String {
        keep_mix(&mut into.recipes.mortar, self.0)
    }
}

impl Kept for Figure {
    fn put(self, into: &mut Stock) -> String {
        let id = self.id.clone();
        into.recipes.figures.insert(id.clone(), self);
        id
    }
}

impl Kept for OfChecks {
    fn put(self, into: &mut Stock) -> String {
        let id = self.0.id.clone();
        into.checks.insert(id.clone(), self.0);
        id
    }
}

impl Kept for Recipe {
    fn put(self, into: &mut Stock) -> String {
        let id = self.id.clone();
        into.recipes.recipes.insert(id.clone(), self);
        id
    }
}

impl Kept for Coat {
    fn put(self, into: &mut Stock) -> String {
        let id = self.id.clone();
        into.recipes.coats.insert(id.clone(), self);
        id
    }
}

impl Kept for MadeBlocks {
    fn put(self, into: &mut Stock) -> String {
        into.recipes.made_blocks = Some((self.0, self.1));
        "made_blocks".to_owned()
    }
}

impl Kept for Goods {
    fn put(self, into: &mut Stock) -> String {
        let id = self.id.clone();
        match into.recipes.goods.iter_mut().find(|g| g.id == id) {
            Some(old) => *old = self,
            None => into.recipes.goods.push(self),
        }
        id
    }
}

impl Kept for Waste {
    fn put(self, into: &mut Stock) -> String {
        into.recipes.waste.insert(self.0.clone(), self.1);
        self.0
    }
}

/// Proportions by volume, as the job file writes them.
fn proportions(f: &Fields<'_, '_>, parts: usize) -> Option<String> {
    let text = f.text("mix")?;
    let read: Vec<_> = text.split(':').map(parse::decimal).collect();
    if read.len() == parts && read.iter().all(|p| p.is_some_and(|p| p.signum() > 0)) {
        return Some(text);
    }
    let example = if parts == 3 { "1:2:4" } else { "1:4" };
    f.report("P011", f.span_of("mix"), format!("`mix` should have {parts} parts"), &format!("as {example}"));
    None
}

/// True where the key says so; it may be left out.
fn says_yes(f: &Fields<'_, '_>, key: &'static str) -> Option<bool> {
    if f.get(key).is_some() { f.flag(key) } else { Some(false) }
}

fn mix(f: &Fields<'_, '_>, parts: usize) -> Option<Mix> {
    let (id, mix, origin) = (f.id("id"), proportions(f, parts), f.id("origin"));
    let cement = f.number("cement", Ratio::ONE, Ratio::int(2000));
    let sand = f.number("sand", Ratio::ZERO, Ratio::int(3));
    let aggregate =
        if parts == 3 { f.number("aggregate", Ratio::ZERO, Ratio::int(3)) } else { Some(Ratio::ZERO) };
    let (waste_inside, used, source) = (says_yes(f, "waste_inside"), f.flag("used"), f.source());
    f.done();
    Some(Mix {
        id: id?,
        mix: mix?,
        origin: origin?,
        cement: cement?,
        sand: sand?,
        aggregate: aggregate?,
        waste_inside: waste_inside?,
        used: used?,
        source: source?,
    })
}

/// A number above 0, or a fraction of two: `135/100`.
fn fraction(f: &Fields<'_, '_>, key: &'static str) -> Option<Ratio> {
    let text = f.text(key)?;
    let (over, under) = text.split_once('/').unwrap_or((&text, "1"));
    let value = parse::decimal(over.trim()).zip(parse::decimal(under.trim())).map(|(a, b)| a / b);
    let value = value.filter(|v| v.is_known() && v.signum() > 0 && *v < Ratio::int(1_000_000));
    if value.is_none() {
        let message = format!("`{key}` is not a number above 0");
        f.report("P010", f.span_of(key), message, "as \"1.54\" or \"135/100\"");
    }
    value
}

fn figure(f: &Fields<'_, '_>) -> Option<Figure> {
    let (id, says) = (f.id("id"), f.text("says"));
    let entries = f.list("value");
    let several = entries.len() > 1;
    let read: Vec<_> = entries.iter().map(|e| figure_value(e, several)).collect();
    f.done();
    let values = read.into_iter().collect::<Option<Vec<_>>>()?;
    let counts = values.iter().filter(|v| v.used).count();
    if counts != 1 {
        let message = format!("{counts} values of this figure are marked as used");
        f.report("P017", f.span_of("id"), message, "mark one of them");
        return None;
    }
    Some(Figure { id: id?, says: says?, values })
}

fn figure_value(f: &Fields<'_, '_>, several: bool) -> Option<FigureValue> {
    let (id, value, waste_inside) = (f.id("id"), fraction(f, "value"), says_yes(f, "waste_inside"));
    let used = if several || f.get("used").is_some() { f.flag("used") } else { Some(true) };
    let source = f.source();
    f.done();
    Some(FigureValue { id: id?, value: value?, waste_inside: waste_inside?, used: used?, source: source? })
}

/// Words of a list that may be left out.
fn list_or_none(f: &Fields<'_, '_>, key: &'static str) -> Option<Vec<String>> {
    if f.get(key).is_some() { f.texts(key) } else { Some(Vec::new()) }
}

fn recipe(f: &Fields<'_, '_>) -> Option<Recipe> {
    let (id, unit) = (f.id("id"), f.choice("unit", &UNITS));
    let goods: Vec<_> = f.list("good").iter().map(recipe_good).collect();
    let source = f.source();
    f.done();
    let goods = goods.into_iter().collect::<Option<Vec<_>>>()?;
    Some(Recipe { id: id?, unit: UNITS.get(unit?)?.to_string(), goods, source: source? })
}

fn recipe_good(f: &Fields<'_, '_>) -> Option<RecipeGood> {
    let material = material_id(f, "material");
    let (times, over) = (list_or_none(f, "times"), list_or_none(f, "over"));
    f.done();
    Some(RecipeGood { material: material?, times: times?, over: over? })
}

/// An id of a material, perhaps with parts: `hardcore/bed`, `pipe/SPEC`.
fn material_id(f: &Fields<'_, '_>, key: &'static str) -> Option<String> {
    let text = f.text(key)?;
    if text.split('/').all(|part| part == "SPEC" || is_id(part)) {
        return Some(text);
    }
    f.report("P013", f.span_of(key), format!("`{text}` cannot be a material"), "as cement, or pipe/SPEC");
    None
}

fn coat(f: &Fields<'_, '_>) -> Option<Coat> {
    let (id, sand, times) = (f.id("id"), material_id(f, "sand"), list_or_none(f, "times"));
    let source = f.source();
    f.done();
    Some(Coat { id: id?, sand: sand?, times: times?, source: source? })
}

fn goods(f: &Fields<'_, '_>) -> Option<Goods> {
    let (id, title, unit) = (f.id("id"), f.text("title"), f.choice("unit", &UNITS));
    let (supplier, rounding) = (f.id("supplier"), f.choice("rounding", &["delivery", "bulk", "plan"]));
    let source = f.source();
    f.done();
    let rounding = [Rounding::Delivery, Rounding::Bulk, Rounding::Plan].get(rounding?).copied()?;
    let unit = UNITS.get(unit?)?.to_string();
    Some(Goods { id: id?, title: title?, unit, supplier: supplier?, rounding, source: source? })
}

fn waste(f: &Fields<'_, '_>) -> Option<Waste> {
    let id = material_id(f, "id");
    let value = used(f, "value", |f| f.number("value", Ratio::ZERO, Ratio::int(100)));
    f.done();
    Some(Waste(id?, value?))
}
