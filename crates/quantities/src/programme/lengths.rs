//! How many days a stage takes: the job's own, else the usual ones for as much work as there is.

use tankwright_geometry::Ratio;

use super::Taken;
use crate::decimal;
use crate::job::{Given, Job};
use crate::rates::{Pace, Times};
use crate::sheet::Sheet;
use crate::stage::Stage;
use crate::words::Phrase;

/// Days of a stage and where they come from.
pub(super) fn taken(job: &Job, times: &Times, sheet: &Sheet, stage: Stage) -> Taken {
    let path = format!("programme.days.{}", stage.id());
    if let Some((_, Given::Here(place))) = job.values.get(&path) {
        let days = u32::try_from(job.count(&path).1).unwrap_or(1).max(1);
        return Taken {
            stage,
            days,
            source: format!("{}:{}", place.file, place.line),
            given: true,
            why: None,
        };
    }
    let Some(entry) = times.days.iter().find(|d| d.stage == stage) else {
        let source = "common practice, no source".to_owned();
        return Taken { stage, days: 1, source, given: false, why: None };
    };
    let usual = entry.days.max(1);
    let mut taken = Taken { stage, days: usual, source: entry.source.to_string(), given: false, why: None };
    if let Some(pace) = &entry.pace {
        follow(pace, sheet, usual, &mut taken);
    }
    taken
}

/// More days for more work than the usual ones stand for, fewer for less; where nothing says how many, it is told.
fn follow(pace: &Pace, sheet: &Sheet, usual: u32, taken: &mut Taken) {
    let of =
        sheet.items.iter().filter(|i| i.stage == taken.stage && pace.works.iter().any(|w| w == i.work.id));
    let Some(unit) = of.clone().map(|i| i.work.unit.id()).next() else { return };
    let sum = of.fold(Ratio::ZERO, |sum, i| sum + decimal::ratio(i.net));
    // What is printed is what is reckoned with.
    let Some(net) = decimal::rounded(sum, 1) else { return };
    let [amount, days] = [decimal::ratio(net), Ratio::from(i64::from(usual))];
    let figure = |r| decimal::rounded(r, 3).map(|d| d.to_string()).unwrap_or_default();
    let said = [net.to_string(), unit.to_owned(), usual.to_string(), figure(pace.amount)];
    let place = format!("programme.days.{}", taken.stage.id());
    let [net, unit, usual, stands] = said.each_ref().map(String::as_str);
    if amount > pace.amount {
        let Some((then, source)) = &pace.then else {
            let says = Phrase::with("programme-days-far", &[usual, stands, unit, net, &place]);
            taken.why = Some((says, String::new()));
            return;
        };
        let Some(more) = whole((amount - pace.amount) / *then) else { return };
        taken.days = taken.days.saturating_add(more);
        let says = Phrase::with("programme-days-more", &[net, unit, usual, stands, &figure(*then), &place]);
        taken.why = Some((says, source.clone()));
    } else if pace.less
        && let Some(fewer) = whole(amount * days / pace.amount).filter(|d| *d < taken.days)
    {
        taken.days = fewer.max(1);
        let says = Phrase::with("programme-days-less", &[net, unit, usual, stands, &place]);
        taken.why = Some((says, String::new()));
    }
}

/// Days begun count as whole ones.
fn whole(days: Ratio) -> Option<u32> {
    let up = -(-days).floor();
    u32::try_from(up.numer()).ok().filter(|_| up.is_known())
}
