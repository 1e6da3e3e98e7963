//! Levels of pipes beyond the tank: what comes out where, by length and fall.

use tankwright_geometry::{Len, Ratio};

use crate::site::Site;

/// Fall of the pipe from the outlet where the job says none: our own; whoever uses it prints it as a default.
pub const FALL: Ratio = Ratio::of(1, 100);

/// Invert at the far end of the pipe from the outlet: the outlet's invert less length x fall. `None` without an outlet.
#[must_use]
pub fn far_end(site: &Site<'_>) -> Option<Len> {
    let length = site.job.len("tank.pipes.outlet.length");
    let fall = site.job.len("tank.pipes.outlet.fall");
    let drop = if fall.is_zero() { length.times(FALL) } else { length.scaled(&fall) };
    site.water_line.as_ref().map(|invert| invert - &drop)
}
