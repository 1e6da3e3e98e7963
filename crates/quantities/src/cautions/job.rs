//! The job file: what no paper uses, who buys, bars that are lacking or idle.

use tankwright_geometry::Ratio;

use super::{NO_SOURCE, OURS, add};
use crate::bill::Bill;
use crate::estimate::Caution;
use crate::sheet::Sheet;
use crate::site::Site;
use crate::words::Phrase;
use crate::works::Section;

/// Parts of the job file that are read and checked, but that no paper uses yet.
pub(super) fn unused(site: &Site<'_>, sheet: &Sheet, found: &mut Vec<Caution>) {
    let job = site.job;
    let named = job.given("sizing.rule");
    let idle = ["tank.persons", "sizing"].into_iter().filter(|p| !named && job.given(p));
    let given: Vec<_> = idle.collect();
    if let Some(first) = given.first() {
        add(site, found, "C040", Phrase::with("caution-unused", &[&given.join(", ")]), OURS, first);
    }
    let later = ["variation", "remeasured", "daywork"].into_iter().find(|p| job.given(p));
    if let Some(first) = later {
        add(site, found, "C084", Phrase::new("caution-varied"), OURS, first);
    }
    let (start, date) = (job.text("programme.start"), job.text("job.date"));
    if crate::job::days_between(date, start).is_some_and(|days| days < 0) {
        let says = Phrase::with("caution-start", &[start, date]);
        add(site, found, "C050", says, OURS, "programme.start");
    }
    let soak = job.values.keys().find(|k| k.starts_with("site.soak.") && job.given(k));
    if let Some(first) = soak.filter(|_| !sheet.items.iter().any(|i| i.work.section == Section::SoakPit)) {
        add(site, found, "C083", Phrase::new("caution-idle-soak"), OURS, first);
    }
}

/// The client buys, and nothing is taken out of the rates.
pub(super) fn supply(site: &Site<'_>, bill: &Bill, found: &mut Vec<Caution>) {
    if site.job.text("job.supply") != "labour-only" || bill.client_buys.is_some() {
        return;
    }
    let says = bill.price_list.as_ref().map_or_else(
        || Phrase::new("caution-labour-no-prices"),
        |(name, ..)| Phrase::with("caution-labour-only", &[name]),
    );
    add(site, found, "C041", says, OURS, "job.supply");
}

/// Members that carry, the part of the job file that builds them, and the part that gives their bars.
const MEMBERS: [(&str, &str, &str); 7] = [
    ("base", "tank.base", "steel.base"),
    ("columns", "tank.columns", "steel.columns"),
    ("ring beams", "tank.ring_beams", "steel.ring_beams"),
    ("beams on walls", "tank.cover.wall_beams", "steel.wall_beams"),
    ("beam under the cover", "tank.cover.span_beam", "steel.span_beam"),
    ("cover", "tank.cover", "steel.cover"),
    ("cover of the soak pit", "soak_pit.cover", "steel.soak_pit_cover"),
];

/// Members without bars, bars without members, lintels and laps.
pub(super) fn bars(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    let built = |path: &str| match path {
        "tank.cover.wall_beams" => !site.wall_beams.is_zero(),
        "tank.ring_beams" => !site.ring_beams.is_empty(),
        path => job.has(path),
    };
    let bare = MEMBERS.iter().filter(|(_, part, steel)| built(part) && !job.has(steel));
    let names: Vec<&str> = bare.map(|(name, ..)| *name).collect();
    if !names.is_empty() {
        let place = if job.has("steel") { "steel" } else { "tank.cover" };
        add(site, found, "C042", Phrase::with("caution-no-bars", &[&names.join(", ")]), OURS, place);
    }
    for (name, part, steel) in MEMBERS {
        if job.given(steel) && !built(part) {
            add(site, found, "C043", Phrase::with("caution-idle-bars", &[name]), OURS, steel);
        }
    }
    if !job.has("steel") && crate::elements::openings::needs_lintel(site) {
        let path = "tank.partitions.opening.width";
        add(site, found, "C044", Phrase::new("caution-lintel"), NO_SOURCE, path);
    }
    let data = &site.stock.bars;
    let Some(rule) = data.lap_rule().filter(|_| job.has("steel")) else { return };
    let kinds = crate::steel::KEYS.iter().filter_map(|key| crate::steel::split(job.text(key)));
    let ribbed = kinds.filter(|k| data.grades.get(&k.grade).is_some_and(|g| g.ribbed));
    let worst = ribbed.map(|k| k.diameter).max().and_then(|d| Some((d, rule.lap(d)?)));
    if let Some((d, published)) = worst
        && crate::steel::lap(job, d).value() < published
    {
        let mm = |tenths: Ratio| crate::decimal::plain(tenths / Ratio::int(10));
        let own = mm(crate::steel::lap(job, d).value());
        let says = Phrase::with("caution-short-lap", &[&own, &d.to_string(), &mm(published)]);
        add(site, found, "C045", says, &rule.source.to_string(), "steel.lap");
    }
}
