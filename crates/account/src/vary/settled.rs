//! What is settled at its real cost: provisional items, prime-cost and provisional sums, dayworks.

use rust_decimal::Decimal;
use tankwright_quantities::bill::RateFrom;
use tankwright_quantities::job::suggestion;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::PriceKind;

use super::Desk;
use super::codes::{DAYWORK_HOW, NOT_PROVISIONAL, PERCENT_TWICE, TOO_LARGE};
use super::entries::caution;
use super::exact::{share, sum, times};
use super::report::{Daywork, Settled};

fn blank(title: &str) -> Settled {
    let none = String::new;
    Settled {
        title: title.to_owned(),
        worked: None,
        percent: None,
        defined: None,
        omit: Decimal::ZERO,
        add: None,
        goods: None,
        worth: Decimal::ZERO,
        date: none(),
        by: none(),
        note: none(),
        photo: none(),
    }
}

/// Provisional items of the contract, with what `[[remeasured]]` says of them.
pub(super) fn remeasured(desk: &mut Desk<'_>) -> Vec<Settled> {
    let (of, now) = (desk.contract.job, desk.now.job);
    let same = |a: &str, b: &str| a.trim().to_lowercase() == b.trim().to_lowercase();
    let titles: Vec<String> = (0..of.count_of("provisional"))
        .map(|i| of.text(&format!("provisional[{i}].title")).to_owned())
        .collect();
    let entries: Vec<String> = (0..now.count_of("remeasured")).map(|i| format!("remeasured[{i}]")).collect();
    let title = |entry: &String| now.text(&format!("{entry}.title")).to_owned();
    for (i, entry) in entries.iter().enumerate() {
        let place = now.place(&format!("{entry}.title"));
        if !titles.iter().any(|t| same(t, &title(entry))) {
            let near = suggestion(&title(entry), titles.iter().map(String::as_str));
            let known = if titles.is_empty() {
                "it has none".to_owned()
            } else {
                format!("it has: {}", titles.join("; "))
            };
            let what = format!("the contract has no provisional item \"{}\"", title(entry));
            let problem = Problem::error(NOT_PROVISIONAL, place, what).label("not in the contract");
            desk.told.push(problem.hint(format!("{near}{known}; what is new is a [[variation]]")));
        } else if entries.iter().take(i).any(|e| same(&title(e), &title(entry))) {
            let what = format!("\"{}\" is measured again twice", title(entry));
            let problem = Problem::error(NOT_PROVISIONAL, place, what).label("again");
            desk.told.push(problem.hint("give one figure: all that was measured"));
        }
    }
    let mut all = Vec::new();
    for (i, at) in titles.iter().enumerate() {
        let path = |key: &str| format!("provisional[{i}].{key}");
        let number = |key: &str| desk.of_contract().number(&path(key), &mut Vec::new());
        let (quantity, rate, amount) = (number("quantity"), number("rate"), number("amount"));
        let omit = match (quantity, rate) {
            (Some(q), Some(r)) => times(q, r, desk.digits()),
            _ => amount,
        };
        let settled = Settled { omit: omit.unwrap_or_default(), ..blank(at) };
        let measured = entries.iter().find(|e| same(&title(e), at));
        let Some(entry) = measured.filter(|e| desk.counts(e, at, false)) else {
            all.push(settled);
            continue;
        };
        let key = |key: &str| format!("{entry}.{key}");
        let mut told = Vec::new();
        let measured = desk.money().number(&key("quantity"), &mut told);
        let amount = desk.money().amount(&key("amount"), &mut told);
        let text = |k: &str| now.text(&key(k)).to_owned();
        let settled = Settled {
            date: text("date"),
            by: text("by"),
            note: text("note"),
            photo: text("photo"),
            ..settled
        };
        match (quantity.zip(rate), measured, amount) {
            (Some((q, r)), Some(m), None) => match times(m, r, desk.digits()) {
                Some(add) => all.push(Settled {
                    worked: Some((of.text(&path("unit")).to_owned(), q, m, r)),
                    add: Some(add),
                    ..settled
                }),
                None => told.push(large(desk, &key("quantity"))),
            },
            (None, None, Some(add)) => all.push(Settled { add: Some(add), ..settled }),
            (by_rate, ..) if told.is_empty() => {
                let (label, hint) = if by_rate.is_some() {
                    (
                        "the contract has a rate for it",
                        "give its quantity, and nothing else: the contract's rate holds",
                    )
                } else {
                    ("the contract has an amount for it", "give its amount, and nothing else")
                };
                let what = format!("\"{at}\" must be measured again as the contract prices it");
                told.push(Problem::error(NOT_PROVISIONAL, now.place(entry), what).label(label).hint(hint));
            }
            _ => {}
        }
        desk.told.extend(told);
    }
    all
}

fn large(desk: &Desk<'_>, path: &str) -> Problem {
    let problem = Problem::error(
        TOO_LARGE,
        desk.now.job.place(path),
        format!("{path} is too large to be reckoned exactly"),
    );
    problem.label("quantity x rate").hint("look for a slip: this is beyond any price of a tank")
}

/// Prime-cost sums: goods at what they cost, profit and attendance with them.
pub(super) fn prime_cost(desk: &mut Desk<'_>) -> Vec<Settled> {
    sums(desk, "prime_cost", "actual")
}

/// Provisional sums, at what was spent.
pub(super) fn provisional_sums(desk: &mut Desk<'_>) -> Vec<Settled> {
    sums(desk, "provisional_sum", "spent")
}

fn sums(desk: &mut Desk<'_>, list: &str, really: &str) -> Vec<Settled> {
    let (of, now) = (desk.contract.job, desk.now.job);
    let mut all = Vec::new();
    for i in 0..of.count_of(list) {
        let path = |key: &str| format!("{list}[{i}].{key}");
        let mut told = Vec::new();
        let amount = desk.of_contract().amount(&path("amount"), &mut told).unwrap_or_default();
        let percent = desk.of_contract().number(&path("percent"), &mut told);
        let actual = desk.money().amount(&path(really), &mut told);
        let with = |goods: Decimal| match percent {
            Some(p) => sum([goods, share(goods, p, desk.digits())?]),
            None => Some(goods),
        };
        let prime = list == "prime_cost";
        let reckoned = match (with(amount), actual.map(with)) {
            (Some(omit), None) => Some((omit, None)),
            (Some(omit), Some(Some(add))) => Some((omit, Some(add))),
            _ => {
                told.push(large(desk, &path(really)));
                None
            }
        };
        desk.told.extend(told);
        let Some((omit, add)) = reckoned else { continue };
        all.push(Settled {
            percent,
            defined: (!prime).then(|| of.flag(&path("defined"))),
            goods: prime.then_some((amount, actual)),
            note: now.text(&path("note")).to_owned(),
            omit,
            add,
            ..blank(of.text(&path("title")))
        });
    }
    all
}

/// Dayworks, each at its rate or at that of the contract's price list.
pub(super) fn dayworks(desk: &mut Desk<'_>) -> Vec<Daywork> {
    let job = desk.now.job;
    let mut all = Vec::new();
    for i in 0..job.count_of("daywork") {
        let entry = format!("daywork[{i}]");
        let path = |key: &str| format!("{entry}.{key}");
        let text = |key: &str| job.text(&path(key)).to_owned();
        if !desk.counts(&entry, &text("title"), false) {
            continue;
        }
        let mut told = Vec::new();
        let number = |key: &str, told: &mut Vec<Problem>| desk.money().number(&path(key), told);
        let (quantity, rate, percent) =
            (number("quantity", &mut told), number("rate", &mut told), number("percent", &mut told));
        let found = match (rate, job.given(&path("code"))) {
            (Some(rate), false) => Some((rate, text("unit"), None)),
            (None, true) => by_code(desk, &entry, &mut told),
            (given, _) => {
                let what = format!("{entry} must have a rate, or a code of the price list");
                let label = if given.is_some() { "both a rate and a code" } else { "no rate" };
                let problem = Problem::error(DAYWORK_HOW, job.place(&entry), what).label(label);
                told.push(problem.hint("give rate, or code = \"labourer\""));
                None
            }
        };
        if let (Some(quantity), Some((rate, unit, from))) = (quantity, found) {
            let digits = desk.digits();
            let amount = times(quantity, rate, digits).and_then(|cost| {
                let on_top = percent.map_or(Some(Decimal::ZERO), |p| share(cost, p, digits))?;
                Some((cost, sum([cost, on_top])?))
            });
            match amount {
                Some((cost, amount)) => all.push(Daywork {
                    date: text("date"),
                    by: text("by"),
                    title: text("title"),
                    quantity,
                    unit,
                    rate,
                    from,
                    cost,
                    percent,
                    amount,
                    worth: Decimal::ZERO,
                    note: text("note"),
                }),
                None => told.push(large(desk, &path("quantity"))),
            }
        }
        desk.told.extend(told);
    }
    twice(desk, all.iter().any(|d| d.percent.is_some_and(|p| !p.is_zero())));
    all.sort_by(|a, b| a.date.cmp(&b.date));
    all
}

fn by_code(
    desk: &Desk<'_>,
    entry: &str,
    told: &mut Vec<Problem>,
) -> Option<(Decimal, String, Option<RateFrom>)> {
    let job = desk.now.job;
    let (code, unit) = (job.text(&format!("{entry}.code")).trim(), job.text(&format!("{entry}.unit")));
    let list = desk.contract.list;
    let rows = || list.rows.iter().filter(|r| r.kind != PriceKind::Work);
    let fits = rows().find(|r| r.code == code && (unit.is_empty() || r.unit == unit));
    if let Some((row, rate)) = fits.and_then(|r| Some((r, r.rate?))) {
        let from = RateFrom {
            code: row.code.clone(),
            list: list.name.clone(),
            line: row.line,
            date: row.date.clone(),
            source: row.source.clone(),
            less_specific: false,
        };
        return Some((rate, row.unit.clone(), Some(from)));
    }
    let place = job.place(&format!("{entry}.code"));
    let units: Vec<&str> = rows().filter(|r| r.code == code).map(|r| r.unit.as_str()).collect();
    let (what, hint) = if units.is_empty() {
        let near = suggestion(code, rows().map(|r| r.code.as_str()));
        (
            format!("{} has no labour, plant or material `{code}`", list.name),
            format!("{near}give a rate in its place"),
        )
    } else {
        (
            format!("{} has `{code}` without a rate in {unit}", list.name),
            format!("it has it in {}: nothing is converted", units.join(", ")),
        )
    };
    told.push(Problem::error(DAYWORK_HOW, place, what).label("not in the contract's price list").hint(hint));
    None
}

/// Per cent on dayworks, and the contract's own per cent on all: profit may be in twice.
fn twice(desk: &mut Desk<'_>, on_top: bool) {
    let additions: Vec<&str> = desk
        .contract
        .estimate
        .bill
        .additions
        .iter()
        .filter(|a| a.percent.is_some())
        .map(|a| a.title.as_str())
        .collect();
    if on_top && !additions.is_empty() {
        let job = desk.now.job;
        let first =
            (0..job.count_of("daywork")).map(|i| format!("daywork[{i}].percent")).find(|p| job.given(p));
        let what =
            "dayworks have per cent of their own, and the contract's additions come on them as on all works";
        let problem = caution(PERCENT_TWICE, first.and_then(|p| job.place(&p)), what).label("on top");
        desk.told.push(
            problem.hint(format!(
                "the contract adds: {}; see that profit is not in twice",
                additions.join(", ")
            )),
        );
    }
}
