//! Levels of pipes beyond the tank: from the house to the inlet, from the outlet on, by length and fall.
//!
//! Ground is level; depths are those of inverts below it. The invert lies on the bed: the pipe's wall is not counted.

use rust_decimal::Decimal;
use tankwright_geometry::{Amount, Len, Ratio};

use crate::decimal;
use crate::job::codes::MISSING;
use crate::problem::Problem;
use crate::site::Site;

const START: &str = "tank.pipes.inlet.start";

/// A difference between given levels that is let pass, tenths of a millimetre: our own.
const NEAR: i64 = 10;

/// Codes of what is refused here, each with its meaning.
pub const CODES: &[(&str, &str)] = &[
    ("J140", "a drain whose start, length and fall do not lead to the inlet"),
    ("J141", "a pipe that would come out above ground"),
    ("J142", "a drain that rises to the tank"),
];

/// A pipe in the ground, in the way the water goes.
#[derive(Clone, Debug)]
pub struct Run {
    /// Its length.
    pub length: Len,
    /// Invert below ground where it begins.
    pub from: Len,
    /// Invert below ground where it ends.
    pub to: Len,
}

impl Run {
    /// Mean depth of the invert.
    #[must_use]
    pub fn mean(&self) -> Len {
        (&self.from + &self.to).half()
    }

    /// What lies between ground and this much under the invert, in elevation: a level strip and a wedge. Tenths of a
    /// millimetre squared.
    #[must_use]
    pub fn elevation(&self, under: &Len) -> Amount {
        let length = self.length.amount();
        &length * (&self.from + under).amount() + length * (&self.to - &self.from).amount() * Ratio::of(1, 2)
    }
}

/// Invert of the inlet below ground.
#[must_use]
pub fn inlet(site: &Site<'_>) -> Option<Len> {
    let pipe = "tank.pipes.inlet";
    site.job.has(pipe).then(|| &site.job.len(&format!("{pipe}.below_top")) - &site.masonry_top)
}

/// The drain from the house to the inlet, where its start or its fall is given.
#[must_use]
pub fn from_house(site: &Site<'_>) -> Option<Run> {
    let (length, to) = (site.job.len("tank.pipes.inlet.length"), inlet(site)?);
    let from = if site.job.has(START) {
        site.job.len(START)
    } else if site.job.has("tank.pipes.inlet.fall") {
        &to - &length.scaled(&site.job.len("tank.pipes.inlet.fall"))
    } else {
        return None;
    };
    Some(Run { length, from, to })
}

/// The pipe from the outlet to where the water soaks away: the outlet's invert and length x fall below it.
#[must_use]
pub fn from_tank(site: &Site<'_>) -> Option<Run> {
    let from = -site.water_line.as_ref()?;
    let length = site.job.len("tank.pipes.outlet.length");
    let to = &from + &length.scaled(&site.job.len("tank.pipes.outlet.fall"));
    Some(Run { length, from, to })
}

/// Invert at the far end of the pipe from the outlet, from ground up: below ground it is negative.
#[must_use]
pub fn far_end(site: &Site<'_>) -> Option<Len> {
    from_tank(site).map(|run| -&run.to)
}

/// A fall as people say it: `1 in 62.5`.
#[must_use]
pub fn one_in(run: &Run) -> Option<String> {
    let drop = (&run.to - &run.from).value();
    decimal::rounded(run.length.value() / drop, 1).filter(|_| drop.signum() > 0).map(one_in_so_much)
}

/// The words of it.
pub(crate) fn one_in_so_much(run: Decimal) -> String {
    format!("1 in {}", run.normalize())
}

/// Refuses a drain from the house whose levels cannot be.
pub fn refuse(site: &Site<'_>) {
    let Some(run) = from_house(site) else { return };
    let job = site.job;
    let [from, to] = [&run.from, &run.to].map(|l| site.mm(l));
    let fall = job.len("tank.pipes.inlet.fall");
    if !job.has(START) {
        above_ground(site, &run, "tank.pipes.inlet.fall");
    } else if site.less(&run.to, &run.from) {
        let problem = Problem::error("J142", job.place(START), "the drain rises from the house to the tank")
            .label(format!("it starts {from} mm below ground, the inlet is {to} mm below ground"))
            .hint("start it higher, or lower the inlet: below_top");
        job.report(problem);
    } else if job.has("tank.pipes.inlet.fall") || run.length.is_zero() {
        let reached = &run.from + &run.length.scaled(&fall);
        let (off, near) = (&reached - &run.to, Len::fixed(NEAR));
        if !site.less(&off, &near) || !site.less(&-&near, &off) {
            let hint = match one_in(&run) {
                Some(results) => {
                    format!("leave out start or fall: the other follows; this start gives {results}")
                }
                None => "leave out start or fall: the other follows".to_owned(),
            };
            let text = "start, length and fall of the drain do not lead to the inlet";
            let problem = Problem::error("J140", job.place(START), text)
                .label(format!("they lead to {} mm below ground, the inlet is at {to} mm", site.mm(&reached)))
                .hint(hint);
            job.report(problem);
        }
    }
}

/// Refuses a pipe that begins at or above ground.
pub fn above_ground(site: &Site<'_>, run: &Run, path: &str) {
    if site.less(&Len::ZERO, &run.from) {
        return;
    }
    let over = site.mm(&-&run.from);
    let text = "the pipe would come out above ground";
    let problem = Problem::error("J141", site.job.place(path), text)
        .label(format!("its invert would begin {over} mm above ground"))
        .hint("lower the tank or its pipes, or give the pipe less fall; ground is taken as level");
    site.job.report(problem);
}

/// Refuses a pipe from the outlet that others take their level from, where it begins above ground.
pub fn refuse_outlet(site: &Site<'_>) {
    if let Some(run) = from_tank(site) {
        above_ground(site, &run, "tank.pipes.outlet.below_top");
    }
}

/// Reports a depth that is neither given nor follows from an invert.
pub fn missing(site: &Site<'_>, part: &str, key: &str, help: &str) {
    missing_at(site, part, [part, key], help);
}

/// Reports a key of a part as missing, at the place of another that asks for it.
pub fn missing_at(site: &Site<'_>, at: &str, [part, key]: [&str; 2], help: &str) {
    let problem = Problem::error(MISSING, site.job.place(at), format!("{part}.{key} must be given"))
        .label(format!("{key} is missing in this part"))
        .hint(format!("write {key} = ... ({help})"));
    site.job.report(problem);
}
