//! The calendar's entries, from the stages' days.

use std::collections::BTreeMap;

use super::Taken;
use super::stages::{Span, Week, any, longest, water_test};
use super::{Event, EventKind};
use crate::job::Day;
use crate::orders::{Good, Line, Orders, Total};
use crate::rates::{Notice, Stock, Times, Wait};
use crate::sheet::Sheet;
use crate::stage::Stage;
use crate::words::{Phrase, look_up};

/// What the site itself provides: nobody is sent an order.
const SITE: &str = "site";

/// The stage's name on papers.
#[must_use]
pub fn title(stage: Stage) -> &'static str {
    look_up(match stage {
        Stage::SetOut => "stage-set-out",
        Stage::Dig => "stage-dig",
        Stage::Base => "stage-base",
        Stage::WallsLower => "stage-walls-lower",
        Stage::RingBeam => "stage-ring-beam",
        Stage::WallsUpper => "stage-walls-upper",
        Stage::Plaster => "stage-plaster",
        Stage::Cover => "stage-cover",
        Stage::SoakPit => "stage-soak-pit",
        Stage::Pipes => "stage-pipes",
        Stage::Strike => "stage-strike",
        Stage::Finish => "stage-finish",
    })
}

pub(super) struct Calendar<'a> {
    pub(super) stock: &'a Stock,
    pub(super) sheet: &'a Sheet,
    pub(super) orders: &'a Orders,
    pub(super) spans: &'a [Span],
    pub(super) days: &'a [Taken],
    pub(super) start: Day,
    pub(super) week: Week,
}

fn one_day(kind: EventKind, stage: Stage, day: Day, title: Phrase, source: &str) -> Event {
    Event { from: day, to: day, kind, stage, title, details: Vec::new(), source: source.to_owned() }
}

fn dated(days: u32, what: &Wait) -> String {
    Phrase::with("programme-wait", &[&days.to_string(), &what.says, &what.source.to_string()]).to_string()
}

impl Calendar<'_> {
    fn times(&self) -> &Times {
        &self.stock.times
    }

    /// Everything, by date.
    pub(super) fn events(&self) -> Vec<Event> {
        let mut events = Vec::new();
        for (at, span) in self.spans.iter().enumerate() {
            self.work(span, &mut events);
            self.hardening(span, &mut events);
            self.striking(span, &mut events);
            self.holds(span, self.spans.get(at + 1), &mut events);
        }
        self.deliveries(&mut events);
        events.sort_by_key(|e| (e.from, e.kind, e.stage, e.to));
        events
    }

    fn work(&self, span: &Span, events: &mut Vec<Event>) {
        let (stage, name) = (span.stage, title(span.stage));
        let taken = self.days.iter().find(|d| d.stage == stage);
        let source = taken.map(|d| d.source.clone()).unwrap_or_default();
        let head = Phrase::with("programme-stage", &[name]);
        let mut work = one_day(EventKind::Stage, stage, span.from, head, &source);
        work.details.extend(taken.and_then(|d| d.why.as_ref()).map(|(says, _)| says.to_string()));
        events.push(Event { to: span.to, ..work });
        if let Some(day) = span.pour {
            let head = Phrase::with("programme-pour", &[name]);
            events.push(one_day(EventKind::Pour, stage, day, head, &source));
        }
    }

    fn hardening(&self, span: &Span, events: &mut Vec<Event>) {
        let (stage, done) = (span.stage, span.done());
        let cures = |w: &&Wait| {
            let here = w.after.is_none() && span.pour.is_some() && any(self.sheet, &w.works, Some(stage));
            let after = w.after == Some(stage) && any(self.sheet, &w.works, None);
            w.used && w.kind == "curing" && (here || after)
        };
        if let Some(wait) = self.times().waits.iter().filter(cures).max_by_key(|w| w.days) {
            let head = Phrase::with("programme-curing", &[title(stage), &wait.says]);
            let event = one_day(EventKind::Curing, stage, done.plus(1), head, &wait.source.to_string());
            events.push(Event { to: done.plus(wait.days.into()), ..event });
        }
        if let (Some([from, to]), Some(wait)) = (
            water_test(self.times(), self.sheet, stage, done),
            longest(self.times(), self.sheet, "water-test", stage),
        ) {
            let head = Phrase::with("programme-water-test", &[&wait.says]);
            let event = one_day(EventKind::WaterTest, stage, from, head, &wait.source.to_string());
            events.push(Event { to, ..event });
        }
    }

    /// Sides after each pour, props and soffit after the one they stand under.
    fn striking(&self, span: &Span, events: &mut Vec<Event>) {
        let Some(day) = span.pour else { return };
        let sides = |w: &&Wait| w.used && w.kind == "sides" && any(self.sheet, &w.works, Some(span.stage));
        if let Some(wait) = self.times().waits.iter().filter(sides).max_by_key(|w| w.days) {
            let head = Phrase::with("programme-sides", &[title(span.stage), &wait.says]);
            let day = day.plus(wait.days.into());
            events.push(one_day(EventKind::Strike, span.stage, day, head, &wait.source.to_string()));
        }
        let Some(wait) = longest(self.times(), self.sheet, "props", span.stage) else { return };
        let head = Phrase::with("programme-props", &[&wait.says]);
        let struck = day.plus(wait.days.into());
        let mut event = one_day(EventKind::Strike, span.stage, struck, head, &wait.source.to_string());
        let beside =
            |w: &&Wait| w.kind == "props" && w.after == Some(span.stage) && any(self.sheet, &w.works, None);
        event.details.extend(self.times().waits.iter().filter(beside).map(|w| dated(w.days, w)));
        events.push(event);
    }

    fn holds(&self, span: &Span, next: Option<&Span>, events: &mut Vec<Event>) {
        let fits = |n: &&Notice| n.stage == span.stage && any(self.sheet, &n.works, None);
        if let Some(pour) = span.pour {
            for notice in self.times().pours.iter().filter(fits) {
                let day = self.week.until(pour.plus(-1)).max(span.from).min(pour);
                let head = Phrase::with("programme-before-pour", &[title(span.stage), &notice.says]);
                events.push(one_day(EventKind::Hold, span.stage, day, head, &notice.source.to_string()));
            }
        }
        for notice in self.times().holds.iter().filter(fits) {
            let (stage, day) =
                next.map_or((span.stage, span.to), |n| (n.stage, n.from.plus(-1).max(span.to)));
            let head = match next {
                Some(n) => Phrase::with("programme-before-stage", &[title(n.stage), &notice.says]),
                None => Phrase::with("plain", &[&notice.says]),
            };
            events.push(one_day(EventKind::Hold, stage, day, head, &notice.source.to_string()));
        }
    }

    /// One delivery a stage and supplier, the day before the stage; ordered by the longest lead of what comes.
    fn deliveries(&self, events: &mut Vec<Event>) {
        let usual = self.times().waits.iter().find(|w| w.kind == "order" && w.used);
        for order in &self.orders.stages {
            let at = self.spans.iter().find(|s| s.stage >= order.stage).or(self.spans.last());
            let Some(span) = at else { continue };
            let day = self.week.until(span.from.plus(-1)).max(self.start);
            let mut by_supplier: BTreeMap<&str, Vec<(&Line, &Good, &Total)>> = BTreeMap::new();
            for line in order.lines.iter().filter(|l| l.packs > 0) {
                let at = self.orders.totals.iter().position(|t| t.material == line.material);
                let both = at.and_then(|at| Some((self.orders.goods.get(at)?, self.orders.totals.get(at)?)));
                if let Some((good, total)) = both {
                    by_supplier.entry(&good.supplier).or_default().push((line, good, total));
                }
            }
            for (supplier, lines) in by_supplier {
                let details: Vec<String> = lines.iter().map(|(l, g, t)| packs(l, g, t)).collect();
                let lead = lines.iter().map(|(_, g, _)| g.lead_days).max().unwrap_or(0);
                let own = lines.iter().any(|(_, g, _)| g.lead_days == lead && !g.lead_default);
                let source = match usual {
                    Some(wait) if !own => wait.source.to_string(),
                    _ => "orders.lead_days".to_owned(),
                };
                let name = title(order.stage);
                let head = Phrase::with("programme-order", &[supplier, name, &day.to_string()]);
                // Nobody sells on the day of rest.
                let by = self.week.until(day.plus(-i64::from(lead)));
                let event = one_day(EventKind::Order, order.stage, by, head, &source);
                if supplier != SITE {
                    events.push(Event { details: details.clone(), ..event });
                }
                let head = match supplier {
                    SITE => Phrase::with("programme-have-ready", &[name]),
                    _ => Phrase::with("programme-delivery", &[supplier, name]),
                };
                let event = one_day(EventKind::Delivery, order.stage, day, head, &source);
                events.push(Event { details, ..event });
            }
        }
    }
}

/// `cement: 8 bags (50 kg bag)`; what the site itself provides by its own unit, unless the job says how it comes.
fn packs(line: &Line, good: &Good, total: &Total) -> String {
    if good.supplier == SITE && total.pack.default {
        let amount = line.ordered.normalize().to_string();
        return Phrase::with("programme-amount", &[&good.title, &amount, &good.unit]).to_string();
    }
    let word = &total.pack.words[usize::from(line.packs != 1)];
    Phrase::with("programme-packs", &[&good.title, &line.packs.to_string(), word, &total.pack.title])
        .to_string()
}
