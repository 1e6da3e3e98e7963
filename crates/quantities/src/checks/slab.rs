//! The cover as a slab in bending: steel, spacing, depth, manholes, traffic. Screening only, for an engineer to confirm.
//!
//! Each panel stands for itself, as if the slab were cut over every beam and wall: by w l2 / 8 where it bends one way
//! (long span more than twice the short), else by a cited table.

use tankwright_geometry::Ratio;

use super::desk::{Desk, printed, reaches, says};
use super::panels::{Load, Panel, load, panels};
use super::{Check, Finished, METRE, MM, TWO, Verdict, bending};
use crate::elements::cover::manholes;
use crate::site::Site;
use crate::stage::Stage;
use crate::steel::BarKind;
use crate::steel::bars::split;
use crate::words::Phrase;

const STAGES: &[Stage] = &[Stage::Cover];

/// Adds the checks of the cover slab.
pub(super) fn check(of: &Finished<'_>, found: &mut Vec<Check>) {
    let panels = panels(of.site);
    bars(of, &panels, found);
    openings(of, &panels, found);
    traffic(of, found);
}

/// A mesh of the cover: along the tank (0) or across it (1).
#[derive(Debug)]
struct Mesh {
    bar: BarKind,
    /// mm.
    spacing: Ratio,
    /// Effective depth, mm.
    depth: Ratio,
    /// mm2 on a metre, as printed.
    steel: Ratio,
    /// Least steel, per cent.
    least: Ratio,
}

/// Both meshes. Bars across the tank are taken to lie lowest, bars along it on them.
fn meshes(site: &Site<'_>, desk: &mut Desk<'_>) -> Option<[Mesh; 2]> {
    let thickness = site.job.len("tank.cover.thickness").value() / MM;
    let mut low = thickness - site.job.len("steel.cover_to_steel").value() / MM;
    let mut mesh = |path: &str| {
        let bar = split(site.job.text(path))?;
        let diameter = Ratio::from(i64::from(bar.diameter));
        let spacing = site.job.len(&format!("{path}.spacing")).value() / MM;
        let depth = low - diameter / TWO;
        low = low - diameter;
        let ribbed = site.stock.bars.grades.get(&bar.grade).is_some_and(|g| g.ribbed);
        let least = desk.figure(if ribbed { "slab-least-ribbed" } else { "slab-least-plain" });
        let steel = printed(bending::on_a_metre(diameter, spacing), 0);
        Some(Mesh { bar, spacing, depth, steel, least })
    };
    let across = mesh("steel.cover.short")?;
    Some([mesh("steel.cover.long")?, across])
}

/// What one panel asks of one mesh.
#[derive(Debug)]
struct Asked {
    way: usize,
    needs: Ratio,
    /// Farthest that its bars may lie apart, mm.
    apart: Ratio,
}

/// What is looked at, and what it is made of.
struct Slab<'s> {
    meshes: &'s [Mesh; 2],
    load: &'s Load,
    thickness: Ratio,
    working: Vec<Phrase>,
    asked: Vec<Asked>,
    /// Span over depth, and moment over what the concrete bears: the most of any panel.
    slender: Ratio,
    pressed: Ratio,
}

fn way(way: usize) -> String {
    Phrase::new(if way == 0 { "slab-way-along" } else { "slab-way-across" }).to_string()
}

impl Slab<'_> {
    fn panel(&mut self, panel: &Panel, number: usize, desk: &mut Desk<'_>) {
        let clear = panel.clear();
        let short = usize::from(clear[1] <= clear[0]);
        let long = 1 - short;
        let depth = self.meshes[short].depth;
        let span = |w: usize| bending::span(clear[w], depth * MM, panel.bearing[w]) / METRE;
        let (lx, ly) = (span(short), span(long));
        // By clear sizes or by spans: the shorter span rules.
        let ratio = printed(ly / lx, 3).max(Ratio::ONE);
        let of = |w: Ratio| says(w / METRE);
        let [x, y, lx_says, ly_says, r] = [of(clear[0]), of(clear[1]), says(lx), says(ly), says(ratio)];
        let number = number.to_string();
        let moments = if ratio > TWO {
            self.working.push(Phrase::with("slab-one-way", &[&number, &x, &y, &lx_says, &r, &way(short)]));
            [bending::simple(self.load.total, lx), Ratio::ZERO]
        } else {
            let table = desk.table("slab-two-way");
            let [a, b] = ["short", "long"].map(|c| {
                let number = table.and_then(|t| t.between(c, ratio)).unwrap_or(Ratio::UNKNOWN);
                printed(number, 4)
            });
            let args = [&number, &x, &y, &lx_says, &ly_says, &r, &way(short), &says(a), &says(b)];
            self.working.push(Phrase::with("slab-two-way", &args.map(String::as_str)));
            [a, b].map(|a| bending::two_way(a, self.load.total, lx))
        };
        let [stress, arm, factor] = ["steel-stress", "lever-arm", "section-factor"].map(|id| desk.figure(id));
        for (w, moment) in [short, long].into_iter().zip(moments) {
            let mesh = &self.meshes[w];
            let moment = printed(moment, 4);
            let bends = !moment.is_zero();
            let bent =
                if bends { printed(bending::steel(moment, stress, arm, mesh.depth), 1) } else { Ratio::ZERO };
            let least = printed(bending::least(mesh.least, self.thickness), 1);
            let limits = if bends {
                ["slab-main-depths", "slab-main-apart"]
            } else {
                ["slab-cross-depths", "slab-cross-apart"]
            };
            let [depths, apart] = limits.map(|id| desk.figure(id));
            let apart = (depths * mesh.depth).min(apart);
            let [m, bent_says, d] = [moment, bent, mesh.depth].map(says);
            let [least_says, has, at] = [least, mesh.steel, mesh.spacing].map(says);
            let (way, bars) = (way(w), mesh.bar.id());
            self.working.push(if bends {
                Phrase::with("slab-bent", &[&way, &m, &bent_says, &d, &least_says, &has, &bars, &at])
            } else {
                Phrase::with("slab-cross", &[&way, &d, &least_says, &has, &bars, &at])
            });
            self.asked.push(Asked { way: w, needs: bent.max(least), apart });
            if w == short {
                self.slender = self.slender.max(printed(lx * bending::METRE / mesh.depth, 1));
                let bears = printed(bending::concrete(factor, bending::METRE, mesh.depth), 4);
                self.pressed = self.pressed.max(moment / bears);
            }
        }
    }
}

/// Bars of the cover against what its panels ask: steel, spacing, depth.
fn bars(of: &Finished<'_>, panels: &[Panel], found: &mut Vec<Check>) {
    let site = of.site;
    let mut desk = Desk::new(of);
    let load = load(site, &mut desk);
    let place = site.job.place("steel.cover");
    let check = |id, verdict, says, working, desk: &Desk<'_>| Check {
        id,
        verdict,
        says,
        working,
        source: desk.source(),
        stages: STAGES,
        place: place.clone(),
    };
    let Some(meshes) = meshes(site, &mut desk) else {
        let says = Phrase::new("slab-no-bars");
        found.push(check("slab-steel", Verdict::NotChecked, says, vec![load.working], &desk));
        return;
    };
    let thickness = site.job.len("tank.cover.thickness").value() / MM;
    if meshes.iter().any(|m| m.depth.signum() <= 0) {
        let says = Phrase::with("slab-no-depth", &[&says(thickness)]);
        found.push(check("slab-steel", Verdict::NotMet, says, vec![load.working], &desk));
        return;
    }
    let (working, slender, pressed) = (vec![load.working.clone()], Ratio::ZERO, Ratio::ZERO);
    let mut slab =
        Slab { meshes: &meshes, load: &load, thickness, working, asked: Vec::new(), slender, pressed };
    for (sample, number) in alike(panels) {
        slab.panel(sample, number, &mut desk);
    }
    slab.working.push(Phrase::new("slab-upward"));
    let pass = if load.wheels { Verdict::Flagged } else { Verdict::Screened };
    let Slab { asked, working, slender, pressed, .. } = slab;

    let short_of = |a: &Asked| a.needs / meshes[a.way].steel;
    let Some(worst) = asked.iter().max_by_key(|a| short_of(a)) else { return };
    let mesh = &meshes[worst.way];
    let enough = reaches(mesh.steel, worst.needs);
    let key = match (enough, load.wheels) {
        (false, _) => "slab-too-little",
        (true, true) => "slab-wheels",
        (true, false) => "slab-enough",
    };
    let words = Phrase::with(key, &[&way(worst.way), &says(worst.needs), &says(mesh.steel)]);
    let verdict = if enough { pass } else { Verdict::NotMet };
    found.push(check("slab-steel", verdict, words, working, &desk));

    let Some(worst) = asked.iter().max_by_key(|a| meshes[a.way].spacing / a.apart) else { return };
    let mesh = &meshes[worst.way];
    let near = reaches(worst.apart, mesh.spacing);
    let key = if near { "slab-near" } else { "slab-apart" };
    let words = Phrase::with(key, &[&way(worst.way), &says(mesh.spacing), &says(worst.apart)]);
    let verdict = if near { Verdict::Screened } else { Verdict::NotMet };
    let mut desk = Desk::new(of);
    for id in ["slab-main-depths", "slab-main-apart", "slab-cross-depths", "slab-cross-apart"] {
        desk.figure(id);
    }
    found.push(check("slab-spacing", verdict, words, Vec::new(), &desk));

    let mut desk = Desk::new(of);
    let most = desk.figure("span-depths");
    desk.figure("section-factor");
    let stiff = reaches(most, slender);
    let holds = reaches(Ratio::ONE, pressed);
    let key = if stiff && holds { "slab-thick-enough" } else { "slab-too-thin" };
    let share = printed(pressed * Ratio::int(100), 0);
    let words = Phrase::with(key, &[&says(slender), &says(most), &says(share)]);
    let verdict = if stiff && holds { pass } else { Verdict::NotMet };
    found.push(check("slab-depth", verdict, words, Vec::new(), &desk));
}

/// One panel of each size, and how many there are of it.
fn alike(panels: &[Panel]) -> Vec<(&Panel, usize)> {
    let mut kinds: Vec<(&Panel, usize)> = Vec::new();
    for panel in panels {
        let same = |p: &&mut (&Panel, usize)| p.0.clear() == panel.clear() && p.0.bearing == panel.bearing;
        match kinds.iter_mut().find(same) {
            Some((_, number)) => *number += 1,
            None => kinds.push((panel, 1)),
        }
    }
    kinds
}

/// A manhole wider than half of its panel, along or across.
fn openings(of: &Finished<'_>, panels: &[Panel], found: &mut Vec<Check>) {
    let site = of.site;
    let holes = manholes(site);
    let (mut working, mut most) = (Vec::new(), Ratio::ZERO);
    for (i, hole) in holes.iter().enumerate() {
        let size = [0, 1].map(|w: usize| hole.size[w].value());
        let middle = [0, 1].map(|w: usize| (hole.at[w][0].value() + hole.at[w][1].value()) / TWO);
        let Some(panel) = panels.iter().find(|p| p.holds(middle)) else { continue };
        let clear = panel.clear();
        let mm = |of: Ratio| says(of / MM);
        let args = [(i + 1).to_string(), mm(size[0]), mm(size[1]), mm(clear[0]), mm(clear[1])];
        working.push(Phrase::with("slab-opening", &[&args[0], &args[1], &args[2], &args[3], &args[4]]));
        most = most.max((size[0] / clear[0]).max(size[1] / clear[1]));
    }
    if working.is_empty() {
        return;
    }
    let mut desk = Desk::new(of);
    let limit = desk.figure("opening-share");
    let small = reaches(limit, most);
    let trimmed = site.job.has("steel.cover.trimmers");
    let key = match (small, trimmed) {
        (true, _) => "slab-openings-small",
        (false, true) => "slab-openings-large",
        (false, false) => "slab-openings-bare",
    };
    found.push(Check {
        id: "slab-openings",
        verdict: if small { Verdict::Screened } else { Verdict::Flagged },
        says: Phrase::new(key),
        working,
        source: desk.source(),
        stages: STAGES,
        place: site.job.place("tank.cover.manholes"),
    });
}

/// Wheels on the cover: never passed.
fn traffic(of: &Finished<'_>, found: &mut Vec<Check>) {
    let job = of.site.job;
    let kind = job.text("tank.cover.traffic");
    if !matches!(kind, "car" | "lorry") {
        return;
    }
    let single = job.count("steel.cover.layers").1 < 2;
    let key = if single { "slab-traffic-single" } else { "slab-traffic" };
    found.push(Check {
        id: "slab-traffic",
        verdict: Verdict::Flagged,
        says: Phrase::with(key, &[kind]),
        working: Vec::new(),
        source: "our own limit".to_owned(),
        stages: STAGES,
        place: job.place("tank.cover.traffic"),
    });
}
