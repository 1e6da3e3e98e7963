//! Manholes: none so small that it cannot be worked through.

use tankwright_geometry::Ratio;

use super::{Check, Finished, Verdict, limit, number};
use crate::stage::Stage;
use crate::words::Phrase;

/// The smallest side of any manhole.
pub(super) fn check(of: &Finished<'_>, found: &mut Vec<Check>) {
    let job = of.site.job;
    let sides =
        (0..job.count_of("tank.cover.manholes")).flat_map(|i| job.size(&format!("tank.cover.manholes[{i}]")));
    let Some(least) = sides.map(|l| l.value() / Ratio::int(10)).min() else { return };
    let Some(asked) = limit(of.site.stock, "manhole-least") else { return };
    found.push(Check {
        id: "manholes",
        verdict: if least >= asked.value { Verdict::Met } else { Verdict::NotMet },
        says: Phrase::with("check-manholes", &[&number(least, 1), &number(asked.value, 1)]),
        working: Vec::new(),
        source: asked.source.to_string(),
        stages: &[Stage::Cover],
        place: job.place("tank.cover.manholes"),
    });
}
