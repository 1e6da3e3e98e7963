//! A job file whose tank complies with a sizing rule: dimensions from the rule's result, the rest our own choice.
//! What is written is read, measured and judged by the same code as any job before anybody gets it.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::plain;
use tankwright_quantities::rates::Stock;
use tankwright_sizing::rule::{Rule, limit};
use tankwright_sizing::sized::{Sized, up};
use tankwright_sizing::unit::Unit;
use tankwright_sizing::{Inputs, known};

/// Steps of a dimension, and what a small tank gets where the rule asks for less, mm.
const STEP: Ratio = Ratio::int(10);
const PLASTER: Ratio = Ratio::int(20);
const SCREED: Ratio = Ratio::int(30);
const FREE: Ratio = Ratio::int(300);
const INLET_OVER: Ratio = Ratio::int(50);
const UNDER: Ratio = Ratio::int(300);
const OPENING: Ratio = Ratio::int(200);
const MANHOLE: Ratio = Ratio::int(600);
const WALL: Ratio = Ratio::int(220);
const BRICK: &str = "brick-220x105x65";
/// The pipe from the outlet to where the water soaks away: our own.
const TO_SOAK: &str = ", length = \"6 m\", fall = \"1 in 100\"";
const HALF_BRICK: Ratio = Ratio::int(110);

/// Writes it; `None` where the rule proposes no chambers. `soaks`: with a pipe from the outlet to pits or trenches.
#[must_use]
pub(crate) fn sized_job(
    rule: &Rule,
    sized: &Sized,
    inputs: &Inputs,
    stock: &Stock,
    soaks: bool,
) -> Option<String> {
    let chambers = &sized.proposal.chambers;
    let first = chambers.first()?;
    let mm = |m: Ratio| up(m * Ratio::int(1_000), STEP);
    let volume = sized.proposal.litres / Ratio::int(1_000);
    let least = |name: &str| {
        let asked = limit(&rule.shape, name, volume).and_then(|l| l.least.as_ref());
        asked.and_then(|q| q.number_in(&Unit::parse("mm")?)).map_or(Ratio::ZERO, |n| up(n, STEP))
    };
    let faces = PLASTER * Ratio::int(2);
    let lengths: Vec<Ratio> = chambers.iter().map(|c| mm(c.length) + faces).collect();
    let width = mm(first.width) + faces;
    let depth = mm(first.depth);
    let drop = INLET_OVER.max(least("inlet_drop")).max(least("inlet_above_water"));
    // The inlet stays 300 mm under the cover.
    let free = least("free_space").max(FREE + drop);
    let under = UNDER.max(least("opening_below_water"));
    let hole = least("access").max(MANHOLE);
    let (unit, wall, half) = walls(least("wall_thickness"), stock);
    let said = |n: Ratio| format!("\"{} mm\"", plain(n));
    let hole_of = |length: &Ratio| format!("[{}, {}]", said(hole.min(*length)), said(hole.min(width)));
    let holes: Vec<String> = lengths.iter().map(hole_of).collect();
    let lengths: Vec<String> = lengths.iter().map(|l| said(*l)).collect();
    let asks = sized.capacity_l().map(plain).unwrap_or_default();
    let mut out = format!(
        "# A tank by {id}, which asks for {asks} l: {cite}.\n\
         # Length, width and depth follow the rule; what it does not speak of is our own choice. Change what you like,\n\
         # and see whether it still complies: tankwright size THIS_FILE\n\
         # The local code and a licensed designer come before this file.\n\
         format = 1\n\n[job]\ntitle = \"A tank by {id}\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\nrates = \"demo-ugx\"\n\n",
        id = rule.id,
        cite = rule.cite(),
    );
    out.push_str(&format!("[sizing]\nrule = \"{}\"\n{}\n", rule.id, keys(inputs)));
    if let Some(water) = inputs.number("water-table") {
        out.push_str(&format!("[ground]\nwater_table = \"{} m\"\n\n", plain(water)));
    }
    out.push_str(&format!(
        "[tank]\nchambers = [{}]\nwidth = {}\nheight = {}\ncover_top = \"100 mm\"\n\n",
        lengths.join(", "),
        said(width),
        said(depth + SCREED + free)
    ));
    out.push_str(&format!(
        "[tank.walls]\nunit = \"{unit}\"\nthickness = {}\nmortar = \"1:4\"\n\n",
        said(wall)
    ));
    if lengths.len() > 1 {
        out.push_str(&format!(
            "[tank.partitions]\nthickness = {half}\nair_gap = \"100 mm\"\n\
             opening = {{ width = {o}, height = {o}, below_top = {} }}\n\n",
            said(free + under),
            half = said(half),
            o = said(OPENING),
        ));
    }
    out.push_str(&format!("[tank.cover]\nthickness = \"125 mm\"\nmanholes = [{}]\n\n", holes.join(", ")));
    out.push_str(&format!(
        "[tank.plaster]\nthickness = {}\nmix = \"1:3\"\nscreed = {{ thickness = {}, mix = \"1:3\" }}\n\n",
        said(PLASTER),
        said(SCREED)
    ));
    out.push_str(&format!(
        "[tank.pipes]\ninlet = {{ diameter = \"110 mm\", below_top = {} }}\n\
         outlet = {{ diameter = \"110 mm\", below_top = {}{} }}\n",
        said(free - drop),
        said(free),
        if soaks { TO_SOAK } else { "" }
    ));
    Some(out)
}

/// The inputs as keys of `[sizing]`, in their own units.
fn keys(inputs: &Inputs) -> String {
    let said = values(inputs).filter(|(name, _)| *name != "water-table");
    said.map(|(name, value)| format!("{} = {value}\n", name.replace('-', "_"))).collect()
}

/// The inputs by their names, as a job file writes them.
pub(crate) fn values(inputs: &Inputs) -> impl Iterator<Item = (&str, String)> {
    inputs.as_written().map(|(name, text)| {
        let form = known::find(name).map(|k| k.form);
        let number = inputs.number(name).map(plain);
        let value = match number {
            Some(n) if form == Some(known::Form::Whole) => n,
            Some(n) if form == Some(known::Form::Number) => format!("\"{n}\""),
            _ if name == "grinder" => (text == "yes").to_string(),
            _ => format!("\"{text}\""),
        };
        (name, value)
    })
}

/// Unit, outer wall and partition: the brick of the samples, or the first unit that makes the wall that is asked.
fn walls(least: Ratio, stock: &Stock) -> (String, Ratio, Ratio) {
    if least > WALL {
        let mm = |tenths: &i64| Ratio::from(*tenths) / Ratio::int(10);
        let fits = stock.units.values().filter_map(|u| {
            let wall = u.walls.iter().map(mm).filter(|w| *w >= least).min()?;
            let half = u.walls.iter().map(mm).filter(|w| *w < wall).min()?;
            Some((u.id.clone(), wall, half))
        });
        if let Some(found) = fits.min_by_key(|(_, wall, _)| *wall) {
            return found;
        }
    }
    (BRICK.to_owned(), WALL.max(least), HALF_BRICK)
}
