//! Reads `packs.toml` and `programme.toml`.

use std::collections::BTreeSet;

use tankwright_geometry::Ratio;

use super::entry::Fields;
use super::read::id_once;
use super::{Notice, Pace, PackEntry, StageDays, Stock, Wait};
use crate::orders::Size;
use crate::stage::Stage;
use crate::works;

/// Packs; one of each material is marked as used, and a user's own takes the mark from the built-in one.
pub(super) fn packs(top: &Fields<'_, '_>, into: &mut Stock) {
    let (mut ids, mut marked) = (BTreeSet::new(), BTreeSet::new());
    for entry in top.list("pack") {
        let fresh = id_once(&entry, "id", &mut ids);
        let Some(pack) = pack(&entry).filter(|_| fresh) else { continue };
        if pack.used && !marked.insert(pack.material.clone()) {
            let message = format!("two packs of `{}` are marked as used", pack.material);
            entry.report("P017", entry.span_of("used"), message, "mark one of them");
            continue;
        }
        into.overridden.push(format!("pack {}, from {}", pack.id, top.doc.file));
        let other = |old: &mut PackEntry| {
            old.used &= !(pack.used && old.material == pack.material);
            old.id != pack.id
        };
        into.packs.retain_mut(other);
        into.packs.push(pack);
    }
    top.done();
    for pack in &into.packs {
        if !into.packs.iter().any(|p| p.used && p.material == pack.material) {
            let message = format!("no pack of `{}` is marked as used", pack.material);
            top.report("P017", 0..0, message, "mark the one that is taken where a job says nothing");
            return;
        }
    }
}

fn pack(f: &Fields<'_, '_>) -> Option<PackEntry> {
    let (id, material, written) = (f.id("id"), f.text("material"), f.text("size"));
    let words = pair(f, "words");
    let own = if f.get("own").is_some() { Some(pair(f, "own")?) } else { None };
    let by_load = f.get("by_load").is_some() && f.flag("by_load")?;
    let (used, source) = (f.flag("used"), f.source());
    f.done();
    let size = Size::read(&written?);
    if size.is_err() {
        let hint = "an amount with its unit, as \"50 kg\" or \"20 m x 4 m\"";
        f.report("P010", f.span_of("size"), "`size` is not the size of a pack".into(), hint);
    }
    Some(PackEntry {
        id: id?,
        material: material?,
        size: size.ok()?,
        words: words?,
        own,
        by_load,
        used: used?,
        source: source?,
    })
}

/// Word for one and for many.
fn pair(f: &Fields<'_, '_>, key: &'static str) -> Option<[String; 2]> {
    let words = <[String; 2]>::try_from(f.texts(key)?);
    if words.is_err() {
        f.report("P011", f.span_of(key), format!("`{key}` should be two words"), "for one and for many");
    }
    words.ok()
}

/// Times, hold points and cautions of the programme.
pub(super) fn times(top: &Fields<'_, '_>, into: &mut Stock) {
    let file = top.doc.file;
    let mut ids = BTreeSet::new();
    for f in lists(top, "days") {
        let stage = stage(&f, "stage");
        let (days, source) = (f.whole("days", 1_000), f.source());
        let pace = if f.get("of").is_some() { pace(&f).map(Some) } else { Some(None) };
        f.done();
        if let (Some(stage), Some(days), Some(pace), Some(source)) = (stage, days, pace, source) {
            into.overridden.push(format!("days of {}, from {file}", stage.id()));
            into.times.days.retain(|d| d.stage != stage);
            into.times.days.push(StageDays { stage, days, pace, source });
        }
    }
    into.times.days.sort_by_key(|d| d.stage);
    for f in lists(top, "wait") {
        let fresh = id_once(&f, "id", &mut ids);
        if let Some(wait) = wait(&f).filter(|_| fresh) {
            into.overridden.push(format!("wait {}, from {file}", wait.id));
            into.times.waits.retain(|w| w.id != wait.id);
            into.times.waits.push(wait);
        }
    }
    let mut notices = |key: &'static str, list: &mut Vec<Notice>, told: &mut Vec<String>| {
        for f in lists(top, key) {
            let fresh = id_once(&f, "id", &mut ids);
            if let Some(notice) = notice(&f).filter(|_| fresh) {
                told.push(format!("{key} {}, from {file}", notice.id));
                list.retain(|n| n.id != notice.id);
                list.push(notice);
            }
        }
        list.sort_by_key(|n| n.stage);
    };
    notices("hold", &mut into.times.holds, &mut into.overridden);
    notices("pour", &mut into.times.pours, &mut into.overridden);
    notices("caution", &mut into.times.cautions, &mut into.overridden);
    top.done();
}

/// How much work the days of a stage stand for.
fn pace(f: &Fields<'_, '_>) -> Option<Pace> {
    let bounds = (Ratio::of(1, 1_000), Ratio::int(1_000_000));
    let (works, amount) =
        (f.texts("of").and_then(|ids| known(f, "of", ids)), f.number("for", bounds.0, bounds.1));
    let less = f.get("less").map_or(Some(false), |_| f.flag("less"));
    let then = if f.get("then").is_some() {
        let (then, from) = (f.number("then", bounds.0, bounds.1), f.text("then_source"));
        Some((then?, from?))
    } else {
        None
    };
    Some(Pace { works: works?, amount: amount?, then, less: less? })
}

/// A list that a user's own file may leave out.
fn lists<'a, 'd>(top: &Fields<'a, 'd>, key: &'static str) -> Vec<Fields<'a, 'd>> {
    if top.get(key).is_some() { top.list(key) } else { Vec::new() }
}

fn stage(f: &Fields<'_, '_>, key: &'static str) -> Option<Stage> {
    let words = Stage::ALL.map(Stage::id);
    f.choice(key, &words).and_then(|at| Stage::ALL.get(at).copied())
}

fn works(f: &Fields<'_, '_>) -> Option<Vec<String>> {
    if f.get("works").is_some() {
        f.texts("works").and_then(|ids| known(f, "works", ids))
    } else {
        Some(Vec::new())
    }
}

/// Works, each alone or in a stage (`bars@base`), that there are; others are told.
fn known(f: &Fields<'_, '_>, key: &'static str, ids: Vec<String>) -> Option<Vec<String>> {
    let is = |id: &str| {
        let (work, stage) = id.split_once('@').map_or((id, None), |(work, stage)| (work, Some(stage)));
        let there = works::all().iter().any(|w| w.id == work);
        there && stage.is_none_or(|stage| Stage::ALL.iter().any(|s| s.id() == stage))
    };
    let Some(not) = ids.iter().find(|id| !is(id)) else { return Some(ids) };
    f.report("P012", f.span_of(key), format!("`{not}` is no work"), "`tankwright rules works` lists them");
    None
}

fn wait(f: &Fields<'_, '_>) -> Option<Wait> {
    let id = f.id("id");
    let kind = f.choice("kind", &Wait::KINDS).and_then(|at| Wait::KINDS.get(at));
    let works = works(f);
    let after = if f.get("after").is_some() { Some(stage(f, "after")?) } else { None };
    let (days, used, says, source) = (f.whole("days", 1_000), f.flag("used"), f.text("says"), f.source());
    f.done();
    Some(Wait {
        id: id?,
        kind: (*kind?).to_owned(),
        works: works?,
        after,
        days: days?,
        used: used?,
        says: says?,
        source: source?,
    })
}

fn notice(f: &Fields<'_, '_>) -> Option<Notice> {
    let (id, stage, works) = (f.id("id"), stage(f, "stage"), works(f));
    let (says, source) = (f.text("says"), f.source());
    f.done();
    Some(Notice { id: id?, stage: stage?, works: works?, says: says?, source: source? })
}
