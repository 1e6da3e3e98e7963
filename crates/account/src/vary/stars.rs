//! Star rates: of items that the contract does not have, given by the account or found in a price list.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_quantities::bill::{Bill, BillRow, RateFrom, code, rate_row};
use tankwright_quantities::problem::{Place, Problem};
use tankwright_quantities::rates::{Lookup, PriceList};

use super::codes::{BUILD_UP, IDLE_STAR, NO_RATE, SAME_STAR, TOO_LARGE};
use super::entries::{caution, names};
use super::exact::{FINE, share, sum, times};
use super::report::{BuildLine, Star, StarFrom};
use super::{Desk, Now};

/// A build-up that adds up.
#[derive(Clone, Debug)]
pub(super) struct Built {
    lines: Vec<BuildLine>,
    total: Decimal,
}

/// A rate that is looked for.
pub(super) struct Wanted<'a> {
    pub(super) code: &'a str,
    pub(super) says: &'a str,
    pub(super) unit: &'a str,
    /// The variation that asks, and its number.
    pub(super) path: &'a str,
    pub(super) id: &'a str,
}

/// What prices a new row: the lists, and the row as a bill priced by the contract's list has it.
pub(super) struct Priced<'a> {
    pub(super) bill: Option<&'a Bill>,
    pub(super) lists: &'a [&'a PriceList],
}

/// A rate of `[[star_rate]]`.
#[derive(Debug)]
struct Given {
    item: String,
    star: Star,
    place: Option<Place>,
    used: Option<usize>,
}

/// All star rates of an account.
#[derive(Debug, Default)]
pub(super) struct Stars {
    given: Vec<Given>,
    /// Those that are used, in the order of their use.
    pub(super) used: Vec<Star>,
    by_row: BTreeMap<[String; 3], usize>,
}

/// What tells one row of a bill from another.
pub(super) fn key(row: &BillRow) -> [String; 3] {
    [code(row), row.wording.to_string(), row.unit.id().to_owned()]
}

/// The lines of a build-up below a path; nothing where there are none, or where a problem was told.
pub(super) fn build_up(desk: &Desk<'_>, path: &str, told: &mut Vec<Problem>) -> Option<Built> {
    let (job, money) = (desk.now.job, desk.money());
    let mut built = Built { lines: Vec::new(), total: Decimal::ZERO };
    let before = told.len();
    for i in 0..job.count_of(&format!("{path}.build_up")) {
        let at = |key: &str| format!("{path}.build_up[{i}].{key}");
        let [quantity, rate, percent] = ["quantity", "rate", "percent"].map(|k| money.number(&at(k), told));
        let (worked, amount) = match (quantity, rate, percent) {
            (Some(q), Some(r), None) => (Some((job.text(&at("unit")).to_owned(), q, r)), times(q, r, FINE)),
            (None, None, Some(p)) => (None, share(built.total, p, FINE)),
            _ => {
                let what = format!("{path}.build_up[{i}] is neither quantity and rate nor per cent");
                let problem = Problem::error(BUILD_UP, job.place(&format!("{path}.build_up[{i}]")), what);
                told.push(
                    problem
                        .label("one of the two")
                        .hint("give quantity and rate, or percent on the lines before"),
                );
                continue;
            }
        };
        let Some((amount, total)) = amount.and_then(|a| Some((a, sum([built.total, a])?))) else {
            let what = format!("{path}.build_up[{i}] is too large to be reckoned exactly");
            told.push(Problem::error(TOO_LARGE, job.place(&at("quantity")), what).label("quantity x rate"));
            continue;
        };
        built.total = total;
        built.lines.push(BuildLine { title: job.text(&at("title")).to_owned(), worked, percent, amount });
    }
    (told.len() == before && !built.lines.is_empty()).then_some(built)
}

/// A star rate as an entry of the job file gives it: its rate, or what its build-up comes to in whole small units.
fn star(now: &Now<'_>, path: &str, rate: Option<Decimal>, built: Option<Built>, digits: u32) -> Option<Star> {
    let built_total = built.as_ref().map(|b| b.total);
    let rate = rate.or_else(|| built_total.map(|t| tankwright_quantities::decimal::round(t, digits)))?;
    let line = now.job.place(path).map_or(0, |p| p.line);
    Some(Star {
        code: String::new(),
        says: String::new(),
        unit: String::new(),
        rate,
        from: StarFrom::Given(now.job.file.clone(), line),
        working: now.job.text(&format!("{path}.working")).to_owned(),
        lines: built.map(|b| b.lines).unwrap_or_default(),
        built: built_total,
    })
}

/// Reads `[[star_rate]]`.
pub(super) fn read(desk: &mut Desk<'_>) {
    let job = desk.now.job;
    let mut told = Vec::new();
    for i in 0..job.count_of("star_rate") {
        let path = format!("star_rate[{i}]");
        let (item, unit) = (job.text(&format!("{path}.item")).trim(), job.text(&format!("{path}.unit")));
        let wrong = told.len();
        let rate = desk.money().number(&format!("{path}.rate"), &mut told);
        let built = build_up(desk, &path, &mut told);
        let Some(star) = star(&desk.now, &path, rate, built, desk.digits()) else {
            if told.len() == wrong {
                let problem = Problem::error(
                    BUILD_UP,
                    job.place(&path),
                    format!("the star rate of `{item}` has no rate"),
                );
                told.push(problem.label("no rate").hint("give rate, or build_up, or both"));
            }
            continue;
        };
        let place = job.place(&format!("{path}.item"));
        if desk.stars.given.iter().any(|g| g.item == item && g.star.unit == unit) {
            let problem =
                Problem::error(SAME_STAR, place, format!("there are two star rates for `{item}` in {unit}"));
            told.push(problem.label("again").hint("leave one of them"));
            continue;
        }
        let star = Star { unit: unit.to_owned(), ..star };
        desk.stars.given.push(Given { item: item.to_owned(), star, place, used: None });
    }
    desk.told.extend(told);
}

impl Stars {
    /// The rate of one that is used.
    pub(super) fn rate(&self, at: usize) -> Option<Decimal> {
        self.used.get(at).map(|s| s.rate)
    }

    fn push(&mut self, star: Star) -> usize {
        self.used.push(star);
        self.used.len() - 1
    }

    /// The rate of an item that a variation states.
    pub(super) fn of_variation(
        &mut self,
        desk: (&Now<'_>, &[&PriceList], u32),
        wanted: &Wanted<'_>,
        rate: Option<Decimal>,
        built: Option<Built>,
        told: &mut Vec<Problem>,
    ) -> Option<usize> {
        let (now, lists, digits) = desk;
        let named = |star: Star| Star {
            code: wanted.code.to_owned(),
            says: wanted.says.to_owned(),
            unit: wanted.unit.to_owned(),
            ..star
        };
        if let Some(star) = star(now, wanted.path, rate, built, digits) {
            return Some(self.push(named(star)));
        }
        let (work, spec) = wanted.code.split_once('/').unwrap_or((wanted.code, ""));
        if let Some(at) = self.of_given(work, spec, wanted.unit, wanted.says) {
            return Some(at);
        }
        if let Some((rate, from)) = lists.iter().find_map(|l| listed(l, work, spec, wanted.unit)) {
            let (working, lines) = (String::new(), Vec::new());
            let (code, says, unit) = (String::new(), String::new(), String::new());
            let star =
                Star { code, says, unit, rate, from: StarFrom::List(from), working, lines, built: None };
            return Some(self.push(named(star)));
        }
        let place = now.job.place(&format!("{}.item", wanted.path));
        told.push(none(place, wanted.code, wanted.unit, lists, wanted.id, None));
        None
    }

    /// The rate of a row that the contract does not have.
    pub(super) fn of_row(&mut self, row: &BillRow, priced: &Priced<'_>) -> Option<usize> {
        let key = key(row);
        if let Some(at) = self.by_row.get(&key) {
            return Some(*at);
        }
        let [code, says, unit] = key.clone();
        let at = match self.of_given(row.work.id, &row.spec, &unit, &says) {
            Some(at) => at,
            None => {
                // In a bill of labour a rate of the list is not the rate of the labour: the bill knows better.
                let same = |r: &&BillRow| self::key(r) == key;
                let of_bill = priced.bill.and_then(|b| b.sections.iter().flat_map(|s| &s.rows).find(same));
                let of_list = || priced.lists.iter().find_map(|l| listed(l, row.work.id, &row.spec, &unit));
                let (rate, from) = of_bill.and_then(|r| r.rate.clone()).or_else(of_list)?;
                let (working, lines) = (String::new(), Vec::new());
                self.push(Star {
                    code,
                    says,
                    unit,
                    rate,
                    from: StarFrom::List(from),
                    working,
                    lines,
                    built: None,
                })
            }
        };
        self.by_row.insert(key, at);
        Some(at)
    }

    fn of_given(&mut self, work: &str, spec: &str, unit: &str, says: &str) -> Option<usize> {
        // What names more of the specification is meant first.
        let fits = |g: &&mut Given| g.star.unit == unit && names(&g.item, work, spec);
        let given = self.given.iter_mut().filter(|g| fits(g)).max_by_key(|g| g.item.len())?;
        if let Some(at) = given.used.filter(|at| self.used.get(*at).is_some_and(|s| s.says == says)) {
            return Some(at);
        }
        let code = if spec.is_empty() { work.to_owned() } else { format!("{work}/{spec}") };
        let star = Star { code, says: says.to_owned(), ..given.star.clone() };
        self.used.push(star);
        given.used = Some(self.used.len() - 1);
        given.used
    }

    /// Star rates that nothing uses.
    pub(super) fn idle(&self, told: &mut Vec<Problem>) {
        for g in self.given.iter().filter(|g| g.used.is_none()) {
            let what = format!("nothing uses the star rate of `{}` in {}", g.item, g.star.unit);
            let problem = caution(IDLE_STAR, g.place.clone(), what).label("not used");
            told.push(problem.hint("what the contract has is priced by the contract"));
        }
    }
}

fn listed(list: &PriceList, work: &str, spec: &str, unit: &str) -> Option<(Decimal, RateFrom)> {
    let Lookup::Found { row, exact } = list.find(work, spec, unit) else { return None };
    let from = RateFrom {
        code: row.code.clone(),
        list: list.name.clone(),
        line: row.line,
        date: row.date.clone(),
        source: row.source.clone(),
        less_specific: !exact,
    };
    Some((row.rate?, from))
}

/// No rate for a row of a variation or of the drawing.
pub(super) fn no_rate(
    place: Option<Place>,
    row: &BillRow,
    lists: &[&PriceList],
    id: &str,
    currency: &str,
    date: &str,
) -> Problem {
    none(place, &code(row), row.unit.id(), lists, id, Some(rate_row(row, currency, date)))
}

fn none(
    place: Option<Place>,
    code: &str,
    unit: &str,
    lists: &[&PriceList],
    id: &str,
    row: Option<String>,
) -> Problem {
    let lists = lists.iter().map(|l| l.name.as_str()).collect::<Vec<_>>().join(" and ");
    let who = if id.is_empty() { "what is drawn now" } else { id };
    let nor = if lists.is_empty() { String::new() } else { format!(", nor has {lists}") };
    let what = format!("{who} brings `{code}` in {unit}, and the contract has no rate for it{nor}");
    let add = row.map(|row| format!("; or add to the price list: {row}")).unwrap_or_default();
    Problem::error(NO_RATE, place, what).label("no star rate").hint(format!(
        "agree a star rate and write it as [[star_rate]] with item = \"{code}\", unit = \"{unit}\", rate = \"...\" and \
         working or build_up{add}"
    ))
}
