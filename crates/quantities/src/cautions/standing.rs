//! What every job is told, each on its papers once: gas, air, fire, holes, covers, props, what is only screened.

use super::{NO_SOURCE, OURS, shown};
use crate::checks;
use crate::estimate::{Caution, On};
use crate::programme;
use crate::sheet::Sheet;
use crate::site::Site;
use crate::stage::Stage;
use crate::words::{Phrase, look_up};

/// All of them, in the order of the work.
pub(super) fn told(site: &Site<'_>, sheet: &Sheet, found: &mut Vec<Caution>) {
    // A tank that one can go into; a hole to fall into; walls that stand alone.
    let inside = Stage::WallsLower.run(Stage::Finish);
    let open = Stage::Dig.run(Stage::Finish);
    let alone = Stage::WallsLower.run(Stage::Cover);
    let plain = |code, key, source: &str| Caution::new(code, Phrase::new(key), source);
    found.extend([
        plain(
            "C030",
            "caution-gas",
            "NIOSH FACE 8638 (1986): three dead in one septic tank, each a would-be rescuer",
        )
        .cards(inside),
        plain("C031", "caution-codes", OURS),
        plain("C032", "caution-backfill", NO_SOURCE).cards(alone),
        plain("C071", "caution-flame", "methane, an explosive gas: pumper.com 2014/10")
            .cards(&[Stage::Finish]),
        plain("C075", "caution-fence", "NHBC Standards: pits fenced or covered at night; children: our own")
            .cards(open)
            .on(On::Cards),
        plain("C079", "caution-screened", OURS).cards(&[Stage::Cover]).on(On::Size),
    ]);
    found.extend(
        [air(site), ladder(site), distances(site), traffic(site), props(site, sheet)].into_iter().flatten(),
    );
    covers(site, found);
}

/// Air, before anyone goes in.
fn air(site: &Site<'_>) -> Option<Caution> {
    let oxygen = checks::limit(site.stock, "oxygen")?;
    let source = format!("{}; lifeline: our own", oxygen.source);
    let told = Caution::new("C070", Phrase::with("caution-air", &[&shown(oxygen)]), &source);
    Some(told.cards(&[Stage::Cover, Stage::Strike, Stage::Finish]).on(On::Cards))
}

/// Ways out of a dig, its sides, its spoil.
fn ladder(site: &Site<'_>) -> Option<Caution> {
    let (ladder, spoil) =
        (checks::limit(site.stock, "ladder-from")?, checks::limit(site.stock, "spoil-back")?);
    let says = Phrase::with("caution-ladder", &[&shown(ladder), &shown(spoil)]);
    let source = format!("{}; {}", ladder.source, spoil.source);
    Some(Caution::new("C074", says, &source).cards(&[Stage::Dig]).on(On::Cards))
}

/// What to keep away from.
fn distances(site: &Site<'_>) -> Option<Caution> {
    let ids = ["clear-tank-house", "clear-soak-house", "clear-soak-stream"];
    let [tank, soak, stream] = ids.map(|id| checks::limit(site.stock, id));
    let well = site.stock.checks.get("clear-soak-well")?;
    let (asked, others) = (well.value("")?, well.values.iter().filter(|v| !v.used).map(shown));
    let others = others.collect::<Vec<_>>().join(", ");
    let args = [&shown(tank?), &shown(soak?), &shown(stream?), &shown(asked), &others];
    let source = format!("{}; {}; {}", tank?.source, soak?.source, asked.source);
    let says = Phrase::with("caution-distances", &args.map(String::as_str));
    Some(Caution::new("C082", says, &source).cards(&[Stage::SetOut]))
}

/// What may go over the cover.
fn traffic(site: &Site<'_>) -> Option<Caution> {
    let job = site.job;
    let traffic = job.text("tank.cover.traffic");
    let load = checks::limit(site.stock, &format!("load-{traffic}"))?;
    let cover: &[Stage] = &[Stage::Cover];
    if !["car", "lorry"].contains(&traffic) {
        let source = "EN 12566-1, scope: no loads of vehicles";
        let key = if traffic == "none" { "caution-nobody" } else { "caution-no-vehicles" };
        let says = Phrase::with(key, &[&shown(load)]);
        return Some(Caution::new("C080", says, source).at(job.place("tank.cover.traffic")).cards(cover));
    }
    let one = job.has("steel.cover") && job.count("steel.cover.layers").1 < 2;
    let layers = if one { look_up("caution-one-layer") } else { "" };
    let what = look_up(if traffic == "car" { "caution-cars" } else { "caution-lorries" });
    let says = Phrase::with("caution-vehicles", &[what, layers]);
    let told = Caution::new("C081", says, OURS).at(job.place("tank.cover.traffic"));
    Some(told.cards(cover).on(On::JobAndSize))
}

/// How long the cover is propped.
fn props(site: &Site<'_>, sheet: &Sheet) -> Option<Caution> {
    let wait = |kind, after| programme::longest(&site.stock.times, sheet, kind, after);
    let props = wait("props", Some(Stage::Cover))?;
    let sides = wait("sides", None)?;
    let says = Phrase::with("caution-props", &[&props.days.to_string(), &sides.says]);
    let source = format!("{}; {}", props.source, sides.source);
    Some(Caution::new("C078", says, &source).cards(&[Stage::Cover, Stage::Strike]).on(On::Cards))
}

/// Covers of manholes, where there are any.
fn covers(site: &Site<'_>, found: &mut Vec<Caution>) {
    let path = "tank.cover.manholes";
    if site.job.count_of(path) == 0 {
        return;
    }
    if let Some(least) = checks::limit(site.stock, "manhole-least") {
        let says = Phrase::with("caution-covers", &[&shown(least)]);
        let told = Caution::new("C076", says, &least.source.to_string()).at(site.job.place(path));
        found.push(told.cards(&[Stage::Cover, Stage::Finish]));
    }
    let told = Caution::new("C077", Phrase::new("caution-lift"), NO_SOURCE).at(site.job.place(path));
    found.push(told.cards(&[Stage::Finish]).on(On::Cards));
}
