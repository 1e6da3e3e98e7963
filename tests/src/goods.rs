//! Materials of single items, so that a published figure can be held against a recipe.
#![expect(clippy::panic, reason = "a test stops where it fails")]

use tankwright_geometry::{Judge, Len, Ratio, parse};
use tankwright_quantities::decimal::{rounded, shown};
use tankwright_quantities::estimate::Capacity;
use tankwright_quantities::made::Made;
use tankwright_quantities::materials::{Materials, balance, reckon};
use tankwright_quantities::sheet::{Item, Sheet};
use tankwright_quantities::site::Site;
use tankwright_quantities::steel::Schedule;
use tankwright_quantities::words::Phrase;
use tankwright_quantities::works::{self, Work};

use crate::{read, stock};

const JOB: &str = "format = 1\n[job]\ntitle = \"goods\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n[tank]\nchambers = [\"1.60 m\", \"0.80 m\"]\nwidth = \"1.20 m\"\nheight = \"1.50 m\"\n";

/// The work of an id.
///
/// # Panics
/// Where there is none.
#[must_use]
pub fn work(id: &str) -> &'static Work {
    works::all().into_iter().find(|w| w.id == id).unwrap_or_else(|| panic!("no work {id}"))
}

/// An item of a work: a quantity as text, a specification, makings.
#[must_use]
pub fn item(id: &str, net: &str, spec: &str, made: Made) -> Item {
    let work = work(id);
    let net = rounded(parse::decimal(net).unwrap_or(Ratio::UNKNOWN), 12).unwrap_or_default();
    Item {
        id: format!("{id}/{spec}"),
        work,
        spec: spec.to_owned(),
        stage: work.stage,
        unit: work.unit,
        wording: Phrase::with("plain", &[id]),
        lines: Vec::new(),
        quantity: net,
        net,
        places: 12,
        model: None,
        decisions: Vec::new(),
        judged: Vec::new(),
        whole: tankwright_quantities::sheet::Whole::default(),
        unbilled: false,
        made,
        kept: Vec::new(),
    }
}

/// A volume of concrete, m3.
#[must_use]
pub fn concrete(m3: &str, mix: &str) -> Item {
    item("concrete-base", m3, mix, Made::NOTHING)
}

/// Makings of a coat or a wall: mix, thickness in tenths of a millimetre, masonry unit.
#[must_use]
pub fn made(mix: &str, tenths: i64, unit: &str) -> Made {
    Made { mix: mix.to_owned(), unit: unit.to_owned(), thickness: Some(Len::fixed(tenths)), ..Made::NOTHING }
}

/// A volume of mortar, m3: a screed of 1 m.
#[must_use]
pub fn mortar(m3: &str, mix: &str) -> Item {
    item("screed", m3, mix, made(mix, 10_000, ""))
}

/// Materials of these items, with more lines in the job file; the balance closes.
///
/// # Panics
/// Where the job is refused or the balance does not close.
#[must_use]
pub fn goods(more: &str, items: Vec<Item>) -> Materials {
    let job = read(&format!("{JOB}{more}"), false).unwrap_or_else(|p| panic!("{p:?}"));
    let stock = stock();
    let own =
        tankwright_quantities::materials::with_own_units(&job, stock).unwrap_or_else(|p| panic!("{p:?}"));
    let profile = &own.profiles["exact"];
    let judge = Judge::default();
    let site = Site::set_out(&job, &own, profile, &judge);
    let sheet = Sheet { items, voids: Vec::new() };
    let none = Capacity::default();
    let schedule = Schedule::default();
    let materials = reckon(&site, &sheet, &schedule, &none).unwrap_or_else(|p| panic!("{p:?}"));
    let closes = balance(&materials, &sheet, &schedule);
    assert!(closes.holds(), "{:?}", closes.breaks);
    materials
}

/// The sum of all uses of a material, without waste, exact.
#[must_use]
pub fn needed(m: &Materials, material: &str) -> Ratio {
    m.uses.iter().filter(|u| u.material == material).map(|u| u.amount).sum()
}

/// A figure with so many places, as a book prints it.
#[must_use]
pub fn printed(value: Ratio, places: u32) -> String {
    rounded(value, places).map_or_else(String::new, |d| shown(d, places))
}

/// A decimal.
#[must_use]
pub fn r(text: &str) -> Ratio {
    parse::decimal(text).unwrap_or(Ratio::UNKNOWN)
}
