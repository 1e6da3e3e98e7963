//! Two lists side by side, and a job priced under both.

use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::lists::{BillPair, Pair, Repriced, compare, reprice};

use super::given::Rates;
use super::{for_job, job_args, told};
use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::list::{self, List};
use crate::load::{self, Prices};
use crate::price_lists::open;

pub(super) fn run(args: &Rates, cx: &mut Context<'_>) -> Outcome {
    let [a, b] = &args.check[..] else {
        cx.note(&format!(
            "error: --compare sets two lists side by side; lists named: {}\n",
            args.check.len()
        ));
        return Err(Exit::Usage);
    };
    let job = for_job(args, cx)?;
    let (mut problems, mut worst, mut read) = (Vec::new(), None, Vec::new());
    for name in [a, b] {
        match open(cx, name, None, None, &told(args, job.as_ref())) {
            Ok(it) => read.push(it.list),
            Err((exit, found)) => {
                problems.extend(found);
                worst = Some(worst.map_or(exit, |w: Exit| w.min(exit)));
            }
        }
    }
    let [x, y] = &read[..] else { return cx.refuse(worst.unwrap_or(Exit::Fault), &problems) };
    if x.currency != y.currency {
        let message = format!("{a} is in {}, {b} in {}", x.currency, y.currency);
        let problem = Problem::error("R063", None, message)
            .hint("name two lists of one currency: nothing is converted");
        return cx.refuse(Exit::Rates, &[problem]);
    }
    let mut lists = vec![by_code(&compare(x, y))];
    if let Some(job) = &args.for_job {
        // Both are named with --rates, and so both must price the whole job.
        let first = load::estimate(cx, &job_args(args, job, Some(a)), Prices::Must, false)?;
        let second = load::estimate(cx, &job_args(args, job, Some(b)), Prices::Must, false)?;
        let Some(both) = reprice(&first.bill, &second.bill) else { return Err(Exit::Fault) };
        lists.extend(of_job(&both));
    }
    cx.print(&list::print(&lists, args.format))
}

fn by_code(pairs: &[Pair]) -> List {
    let shown = |d: Option<rust_decimal::Decimal>| d.map(|d| d.normalize().to_string()).unwrap_or_default();
    let row = |p: &Pair| {
        let only = match (p.a, p.b) {
            (Some(_), None) => "only in a",
            (None, Some(_)) => "only in b",
            _ => "",
        };
        let figures = [p.a, p.b, p.difference, p.percent].map(shown);
        [
            vec![p.kind.id().to_owned(), p.code.clone(), p.unit.clone()],
            figures.to_vec(),
            vec![only.to_owned()],
        ]
        .concat()
    };
    let head = vec!["kind", "code", "unit", "rate a", "rate b", "b less a", "per cent", "note"];
    List { name: "rates side by side", head, rows: pairs.iter().map(row).collect() }
}

fn of_job(both: &Repriced) -> Vec<List> {
    let shown = |d: rust_decimal::Decimal| d.normalize().to_string();
    let row = |p: &BillPair| {
        let [rate_a, rate_b] = p.rates;
        let [amount_a, amount_b] = p.amounts;
        let figures = [p.quantity, rate_a, rate_b, amount_a, amount_b, p.difference].map(shown);
        [vec![p.reference.clone(), p.code.clone(), p.unit.clone()], figures.to_vec()].concat()
    };
    let head =
        vec!["ref", "code", "unit", "quantity", "rate a", "rate b", "amount a", "amount b", "b less a"];
    let rows = List { name: "rows that differ", head, rows: both.rows.iter().map(row).collect() };
    let sum = |title: &str, [a, b]: [rust_decimal::Decimal; 2]| {
        vec![title.to_owned(), shown(a), shown(b), shown(b - a)]
    };
    let same = vec![format!("{} rows are the same", both.same), String::new(), String::new(), "0".to_owned()];
    let rest = sum("preliminaries, provisional items, additions", both.besides);
    let sums = vec![same, sum("measured works", both.measured), rest, sum("total", both.totals)];
    vec![rows, List { name: "the job", head: vec!["sum", "a", "b", "b less a"], rows: sums }]
}
