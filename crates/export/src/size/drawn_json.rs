//! The JSON of a drawn tank and its soak pits: fields are only ever added.

use serde::Serialize;
use tankwright_geometry::Ratio;
use tankwright_quantities::checks::Check;
use tankwright_sizing::pits::Pits;
use tankwright_sizing::{Finding, Report, Verdict};

use super::{measured_to, plain};

#[derive(Serialize)]
pub(super) struct JobOut {
    pub(super) title: String,
    pub(super) file: String,
    pub(super) provided_l: Option<String>,
    pub(super) provided_to_inlet_l: Option<String>,
    pub(super) chambers: Vec<ChamberOut>,
    pub(super) notes: Vec<String>,
}

#[derive(Serialize)]
pub(super) struct ChamberOut {
    pub(super) length_m: String,
    pub(super) width_m: String,
    pub(super) water_depth_m: String,
    pub(super) water_line_m: Option<String>,
    pub(super) volume_l: String,
    pub(super) share: String,
}

#[derive(Serialize)]
pub(super) struct OtherOut {
    pub(super) measured_to: Option<&'static str>,
    pub(super) complies: bool,
    pub(super) margin_l: String,
}

#[derive(Serialize)]
pub(super) struct JudgedOut {
    pub(super) what: String,
    pub(super) text: String,
    pub(super) met: bool,
}

#[derive(Serialize)]
pub(super) struct CheckOut {
    pub(super) id: &'static str,
    pub(super) verdict: &'static str,
    pub(super) says: String,
    pub(super) working: Vec<String>,
    pub(super) source: String,
    pub(super) stages: Vec<&'static str>,
    pub(super) line: Option<usize>,
}

#[derive(Serialize)]
pub(super) struct PitsOut {
    pub(super) drawn: String,
    pub(super) wall_m2: String,
    pub(super) base_m2: String,
    pub(super) needed: Option<String>,
    pub(super) takes_l: Option<String>,
    pub(super) complies: Option<bool>,
    pub(super) text: String,
}

/// The drawn tank.
pub(super) fn job(r: &Report) -> Option<JobOut> {
    let job = r.drawn.as_ref()?;
    let all = job.to_water_line.map(|l| l / Ratio::int(1_000));
    let chamber = |c: &tankwright_quantities::estimate::Chamber| ChamberOut {
        length_m: plain(c.length),
        width_m: plain(c.width),
        water_depth_m: plain(c.depth),
        water_line_m: Some(plain(c.level)),
        volume_l: plain(c.volume * Ratio::int(1_000)),
        share: all.map(|all| plain(c.volume / all)).unwrap_or_default(),
    };
    Some(JobOut {
        title: job.title.clone(),
        file: job.file.clone(),
        provided_l: job.to_water_line.map(plain),
        provided_to_inlet_l: job.to_inlet.map(plain),
        chambers: job.capacity.chambers.iter().map(chamber).collect(),
        notes: r.notes.clone(),
    })
}

/// Every check of the drawn job.
pub(super) fn checks(r: &Report) -> Vec<CheckOut> {
    let one = |c: &Check| CheckOut {
        id: c.id,
        verdict: c.verdict.id(),
        says: c.says.to_string(),
        working: c.working.iter().map(ToString::to_string).collect(),
        source: c.source.clone(),
        stages: c.stages.iter().map(|s| s.id()).collect(),
        line: c.place.as_ref().map(|p| p.line),
    };
    r.checks.iter().map(one).collect()
}

/// Limits that were judged.
pub(super) fn judged(found: &[Finding]) -> Vec<JudgedOut> {
    let one = |f: &Finding| JudgedOut { what: f.name.replace('_', " "), text: f.words.clone(), met: f.met };
    found.iter().map(one).collect()
}

/// The verdict to the other level, where it differs.
pub(super) fn other(v: &Verdict) -> Option<OtherOut> {
    let (to, complies, margin) = v.other?;
    Some(OtherOut { measured_to: measured_to(Some(to)), complies, margin_l: plain(margin) })
}

/// Drawn soak pits.
pub(super) fn pits(p: &Pits) -> PitsOut {
    PitsOut {
        drawn: plain(p.number),
        wall_m2: plain(p.wall),
        base_m2: plain(p.base),
        needed: p.needed.map(plain),
        takes_l: p.takes.map(plain),
        complies: p.complies,
        text: p.words.clone(),
    }
}
