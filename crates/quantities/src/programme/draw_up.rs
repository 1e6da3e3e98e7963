//! The programme of a job: what holds without a date, and the calendar where there is a first day.

use super::events::{Calendar, title};
use super::lengths::taken;
use super::stages::{Span, Week, any, idle_pours, present, spans};
use super::{Event, EventKind, HoldPoint, Programme, Taken};
use crate::job::{Day, Job};
use crate::orders::Orders;
use crate::problem::Problem;
use crate::sheet::Sheet;
use crate::site::Site;
use crate::stage::Stage;
use crate::words::Phrase;

const OURS: &str = "our own rule";

/// The programme of a job: stages follow one another, all days count unless the job names a day of rest, and no stage
/// begins before what it stands on has hardened.
///
/// # Errors
/// Dates that contradict each other, with their place in the job file (`J120` to `J122`).
pub fn draw_up(site: &Site<'_>, sheet: &Sheet, orders: &Orders) -> Result<Programme, Vec<Problem>> {
    let (job, times) = (site.job, &site.stock.times);
    let stages = present(sheet);
    let mut problems = Vec::new();
    idle_pours(job, sheet, &mut problems);
    let days: Vec<Taken> = stages.iter().map(|s| taken(job, times, sheet, *s)).collect();
    let start = Day::read(job.text("programme.start"));
    let spans = start.map(|start| spans(job, times, sheet, &days, start, &mut problems)).unwrap_or_default();
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut programme = Programme { holds: holds(site, sheet, &stages), ..Programme::default() };
    if let Some(start) = start {
        let says = Phrase::new(match job.text("programme.rest_day") {
            "" | "none" => "programme-sequence",
            _ => "programme-sequence-rest",
        });
        programme.cautions.push((Stage::SetOut, says, OURS.to_owned()));
        let (stock, week) = (site.stock, Week::of(job));
        let calendar = Calendar { stock, sheet, orders, spans: &spans, days: &days, start, week };
        programme.events = calendar.events();
        programme.cautions.extend(too_late(job, &programme.events));
    }
    programme.days = days;
    for notice in times.cautions.iter().filter(|n| stages.contains(&n.stage) && any(sheet, &n.works, None)) {
        let says = Phrase::with("plain", &[&notice.says]);
        programme.cautions.push((notice.stage, says, notice.source.to_string()));
    }
    let lids = sheet.items.iter().any(|i| i.work.id == "manhole-cover");
    if lids && !job.has("tank.manhole_shafts") {
        programme.cautions.push((Stage::Cover, Phrase::new("orders-frames"), OURS.to_owned()));
    }
    programme.cautions.extend(spans.iter().filter_map(too_early));
    programme.cautions.sort_by_key(|(stage, _, _)| *stage);
    Ok(programme)
}

/// Orders that should have gone out before the date of the job.
fn too_late(job: &Job, events: &[Event]) -> Vec<(Stage, Phrase, String)> {
    let Some(today) = Day::read(job.text("job.date")) else { return Vec::new() };
    // What should have come by then is history.
    let to_come = |e: &Event| e.title.args.get(2).and_then(|d| Day::read(d)).is_some_and(|d| d >= today);
    let late = events.iter().filter(|e| e.kind == EventKind::Order && e.from < today && to_come(e));
    let says = |e: &Event| {
        let who = e.title.args.first().map_or("", String::as_str);
        Phrase::with("programme-order-late", &[who, &e.from.to_string(), &today.to_string()])
    };
    late.map(|e| (e.stage, says(e), OURS.to_owned())).collect()
}

/// A real pour before what it stands on had hardened.
fn too_early(span: &Span) -> Option<(Stage, Phrase, String)> {
    let day = span.pour.filter(|day| *day < span.earliest)?;
    let args = [title(span.stage), &day.to_string(), &span.earliest.to_string()];
    Some((span.stage, Phrase::with("programme-too-early", &args), OURS.to_owned()))
}

fn holds(site: &Site<'_>, sheet: &Sheet, stages: &[Stage]) -> Vec<HoldPoint> {
    let times = &site.stock.times;
    let mut holds = Vec::new();
    for (at, stage) in stages.iter().enumerate() {
        for notice in times.pours.iter().filter(|n| n.stage == *stage && any(sheet, &n.works, None)) {
            let says = Phrase::with("programme-before-pour", &[title(*stage), &notice.says]);
            holds.push(HoldPoint { of: *stage, before: *stage, says, source: notice.source.to_string() });
        }
        let before = stages.get(at + 1).copied().unwrap_or(*stage);
        for notice in times.holds.iter().filter(|n| n.stage == *stage && any(sheet, &n.works, None)) {
            let says = Phrase::with("plain", &[&notice.says]);
            holds.push(HoldPoint { of: *stage, before, says, source: notice.source.to_string() });
        }
    }
    holds
}
