//! `tankwright offer`: the paper for the client.

pub(crate) mod given;

use tankwright_account::payments::{Asked, payments};
use tankwright_draw::{Drawing, drawings};
use tankwright_export::money::money;
use tankwright_export::payments::title;
use tankwright_papers::{Offer as Parts, Payment, Sheet, offer};

use crate::context::{Context, Outcome};
use crate::load::{Prices, with_job};
use crate::printed::print_to;
use given::Offer;

/// Drawings shown in the text.
const SHOWN: [&str; 2] = ["long-section", "plan-cover"];

pub(super) fn run(args: &Offer, cx: &mut Context<'_>) -> Outcome {
    let (job, e) = with_job(cx, &args.job, Prices::Must, false)?;
    let all = drawings(&e);
    let shown = all.iter().filter(|d| SHOWN.contains(&d.id.as_str())).map(sheet);
    let sheets = all.iter().filter(|_| args.drawings).map(sheet);
    // Terms that cannot be are refused where the job is read; a job without terms has no payments to show.
    let paid = payments(&e, &job, &Asked::default()).ok().filter(|_| job.given("payments"));
    let payments = paid.map_or_else(Vec::new, |p| {
        let row = |one| Payment {
            what: title(&p, one),
            when: one.date.map(|day| day.to_string()).unwrap_or_default(),
            amount: money(one.due, &e.bill.currency),
        };
        p.schedule.payments.iter().map(row).collect()
    });
    let parts = Parts { payments, shown: shown.collect(), sheets: sheets.collect(), bill: args.bill };
    print_to(cx, &args.out, &offer(&e, &job, &parts, "en"))
}

fn sheet(d: &Drawing) -> Sheet {
    let side = |mm: u32| i32::try_from(mm).unwrap_or(0) * 100;
    Sheet { svg: d.svg.clone(), alt: d.alt.clone(), size: [side(d.width_mm), side(d.height_mm)] }
}
