//! The beam under the cover: bending, steel, depth. Screening only, for an engineer to confirm.
//!
//! Simply supported from wall to wall, or from partition to partition where they reach the cover; the slab over it
//! counts in its depth. It carries half of the slab on either side.

use tankwright_geometry::Ratio;

use super::desk::{Desk, printed, reaches, says};
use super::panels::{load, stretches};
use super::{Check, Finished, METRE, MM, TWO, Verdict, bending};
use crate::elements::span_beam;
use crate::stage::Stage;
use crate::steel::bars::split;
use crate::words::Phrase;

const STAGES: &[Stage] = &[Stage::Cover];

/// Adds the checks of the span beam, where there is one.
pub(super) fn check(of: &Finished<'_>, found: &mut Vec<Check>) {
    let (site, job) = (of.site, of.site.job);
    let Some([low, high]) = span_beam::across(site).map(|y| y.map(|l| l.value())) else { return };
    let mut desk = Desk::new(of);
    let load = load(site, &mut desk);
    let mut working = vec![load.working];
    let place = job.place("steel.span_beam").or_else(|| job.place("tank.cover.span_beam"));
    let mut add = |id, verdict, says, working, source| {
        found.push(Check { id, verdict, says, working, source, stages: STAGES, place: place.clone() });
    };
    let mm = |path: &str| job.len(path).value() / MM;
    let Some(main) = split(job.text("steel.span_beam.main")) else {
        let says = Phrase::new("span-beam-no-bars");
        add("span-beam-steel", Verdict::NotChecked, says, working, desk.source());
        return;
    };
    // Links lie outside the bars.
    let links = split(job.text("steel.span_beam.links")).map_or(0, |b| b.diameter);
    let [diameter, links] = [main.diameter, links].map(|d| Ratio::from(i64::from(d)));
    let breadth = (high - low) / MM;
    let [under, slab, cover] =
        ["tank.cover.span_beam.depth", "tank.cover.thickness", "steel.cover_to_steel"].map(mm);
    let depth = under + slab - cover - links - diameter / TWO;
    if depth.signum() <= 0 {
        let says = Phrase::with("slab-no-depth", &[&says(under + slab)]);
        add("span-beam-steel", Verdict::NotMet, says, working, desk.source());
        return;
    }
    let spans = stretches(site);
    let effective =
        spans.iter().map(|([from, to], bearing)| bending::span(*to - *from, depth * MM, *bearing) / METRE);
    let span = effective.max().unwrap_or(Ratio::UNKNOWN);
    // From the middle of one panel to the middle of the other.
    let carried = (site.width.value() / TWO + (high - low) / TWO) / METRE;
    let own = breadth * under * desk.figure("weight-reinforced") / (bending::METRE * bending::METRE);
    let line = printed(load.total * carried + own, 4);
    let moment = printed(bending::simple(line, span), 4);
    let shear = printed(bending::end_shear(line, span), 2);
    let args = [load.total, carried, own, line, span, moment, shear].map(says);
    working.push(Phrase::with("span-beam-bent", &args.each_ref().map(String::as_str)));

    let [stress, arm] = ["steel-stress", "lever-arm"].map(|id| desk.figure(id));
    let needs = printed(bending::steel(moment, stress, arm, depth), 1);
    let all = job.count("steel.span_beam.main.number").1;
    let bottom = all / 2;
    let has = printed(bending::bar(diameter) * Ratio::from(bottom), 0);
    let number = [bottom, all].map(|n| n.to_string());
    let [needs_says, has_says, depth_says] = [needs, has, depth].map(says);
    let args = [&needs_says, &depth_says, &has_says, &number[0], &number[1], &main.id()];
    working.push(Phrase::with("span-beam-steel-work", &args.map(String::as_str)));
    let enough = reaches(has, needs);
    let key = if !enough {
        "span-beam-too-little"
    } else if load.wheels {
        "span-beam-wheels"
    } else {
        "span-beam-enough"
    };
    let words = Phrase::with(key, &[&needs_says, &has_says, &number[0], &number[1]]);
    let pass = if load.wheels { Verdict::Flagged } else { Verdict::Screened };
    add("span-beam-steel", if enough { pass } else { Verdict::NotMet }, words, working, desk.source());

    let mut desk = Desk::new(of);
    let [most, factor] = ["span-depths", "section-factor"].map(|id| desk.figure(id));
    let slender = printed(span * bending::METRE / depth, 1);
    let bears = printed(bending::concrete(factor, breadth, depth), 4);
    let share = printed(moment / bears * Ratio::int(100), 0);
    let deep = reaches(most, slender) && reaches(bears, moment);
    let key = if deep { "span-beam-deep-enough" } else { "span-beam-too-shallow" };
    let words = Phrase::with(key, &[&says(slender), &says(most), &says(share)]);
    add("span-beam-depth", if deep { pass } else { Verdict::NotMet }, words, Vec::new(), desk.source());
}
