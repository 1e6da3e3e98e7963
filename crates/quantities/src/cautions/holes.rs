//! Holes that people work in: their sides can fall.

use tankwright_geometry::{Len, Ratio};

use super::{metres, shown};
use crate::checks;
use crate::elements::{drain, inspection_chambers, pipe_lines, pipes, soak_pit};
use crate::estimate::{Caution, On};
use crate::rates::FigureValue;
use crate::site::Site;
use crate::stage::Stage;
use crate::words::Phrase;

/// A hole: how deep, whether anything holds its sides, where it stands in the job, its card; the cautions with nothing
/// to hold them beyond the limit, and otherwise.
struct Hole {
    depth: Len,
    held: bool,
    path: String,
    stages: &'static [Stage],
    bare: (&'static str, &'static str),
    other: Option<(&'static str, &'static str)>,
}

/// Of several the deepest.
fn deepest(digs: impl IntoIterator<Item = (String, Len)>) -> (String, Len) {
    digs.into_iter().max_by_key(|(_, d)| d.value()).unwrap_or((String::new(), Len::ZERO))
}

/// Every hole of the job, the tank's dig first.
fn all(site: &Site<'_>, leans: bool) -> Vec<Hole> {
    let job = site.job;
    let supported = job.text("ground.support") != "none";
    let trench =
        if job.has("tank.pipes.trench.depth") { "tank.pipes.trench.depth" } else { "tank.pipes.trench" };
    let soak = job.len("soak_pit.depth");
    let line = deepest(pipe_lines::digs(site));
    let drain = deepest(drain::trenches(site).into_iter().map(|t| (t.path, t.depth)));
    let chamber = deepest(inspection_chambers::digs(site));
    let hole =
        |depth, held, path: String, stages, bare, other| Hole { depth, held, path, stages, bare, other };
    let (pit, beyond, pipe) = (&[Stage::Dig][..], &[Stage::SoakPit][..], &[Stage::Pipes][..]);
    vec![
        hole(
            &site.dig_depth() + &site.floor.fall,
            supported || leans,
            "tank.height".to_owned(),
            pit,
            ("C001", "caution-deep-dig"),
            Some(("C072", "caution-dig")),
        ),
        hole(
            soak,
            soak_pit::support(site) != "none",
            "soak_pit.depth".to_owned(),
            beyond,
            ("C002", "caution-deep-soak-pit"),
            Some(("C073", "caution-soak-dig")),
        ),
        hole(
            pipes::deepest(site).unwrap_or(Len::ZERO),
            false,
            trench.to_owned(),
            pipe,
            ("C009", "caution-deep-trench"),
            None,
        ),
        hole(line.1, false, line.0, pipe, ("C009", "caution-deep-trench"), None),
        hole(drain.1, supported, drain.0, beyond, ("C060", "caution-deep-drain"), None),
        hole(chamber.1, supported, chamber.0, pipe, ("C061", "caution-deep-chamber"), None),
    ]
}

/// Told of each: beyond the limit on every paper, else on its card.
pub(super) fn holes(site: &Site<'_>, found: &mut Vec<Caution>) {
    let limit = |id| checks::limit(site.stock, id);
    let (Some(figure), Some(limit), Some(safe)) =
        (site.stock.checks.get("dig-unsupported"), limit("dig-unsupported"), limit("batter-safe"))
    else {
        return;
    };
    let who: Vec<_> = figure.values.iter().map(|v: &FigureValue| v.source.to_string()).collect();
    for hole in all(site, site.batter.value() >= safe.value).iter().filter(|h| !h.depth.is_zero()) {
        let deep = hole.depth.value() > limit.value * Ratio::int(10_000);
        let bare = deep && !hole.held;
        let Some((code, key)) = (if bare { Some(hole.bare) } else { hole.other }) else { continue };
        let says = Phrase::with(key, &[&metres(&hole.depth), &shown(limit)]);
        let place = site.job.place(&hole.path);
        let told = Caution::new(code, says, &who.join("; ")).at(place).cards(hole.stages);
        found.push(if bare { told } else { told.on(On::Cards) });
    }
}
