//! `tankwright cut`: a list of pieces cut from the fewest bars, or the cheapest.

mod csv_out;
pub(crate) mod given;
mod json;
mod read;
mod report;
#[cfg(test)]
mod tests;
mod text;

use std::collections::BTreeSet;
use std::path::Path;
use std::time::Instant;

use tankwright_cutting::{Effort, Failure, Instance, Piece, Refused, Stock, solve};
use tankwright_quantities::problem::Problem;

use crate::args::{Cut, Format};
use crate::context::{Context, Outcome};
use crate::exit::Exit;
use report::{Report, Source};

/// Steps of a search without `--time`: some seconds, the same end on every machine.
const STEPS: u64 = 20_000_000_000;

pub(super) fn run(args: &Cut, cx: &mut Context<'_>) -> Outcome {
    // The clock is read here and nowhere else: it says when to stop, never what is least.
    let begin = Instant::now();
    let (sources, by_cost) = match sources(args) {
        Ok(found) => found,
        Err(problems) => return cx.refuse(Exit::Usage, &problems),
    };
    let text = match cx.read(&args.list, Path::new(&args.list)) {
        Ok(text) => text,
        Err(problem) => return cx.refuse(Exit::File, &[problem]),
    };
    let longest = sources.iter().filter(|s| !s.offcut && s.limit.is_none()).map(|s| s.mm).max();
    let rows = match read::read(&args.list, &text, longest.unwrap_or(0)) {
        Ok((rows, cautions)) => {
            cx.say(&cautions);
            rows
        }
        Err(problems) => return cx.refuse(Exit::Job, &problems),
    };
    let price = |s: &Source| match (s.offcut, by_cost) {
        (true, _) => 0,
        (false, true) => s.price.unwrap_or(1),
        // Where only one length is bought, fewest is cheapest.
        (false, false) => 1,
    };
    let instance = Instance {
        pieces: rows.iter().map(|r| Piece { length: r.mm, count: r.count }).collect(),
        stocks: sources.iter().map(|s| Stock { length: s.mm, price: price(s), limit: s.limit }).collect(),
        kerf: args.kerf,
    };
    let over = || args.time.is_some_and(|t| begin.elapsed() >= t);
    let effort = match args.time {
        Some(_) => Effort { steps: u64::MAX, stop: Some(&over) },
        None => Effort::steps(STEPS),
    };
    let answer = match solve(&instance, effort) {
        Ok(answer) => answer,
        Err(failure) => return failed(cx, failure),
    };
    let report = Report::new(&args.list, sources, by_cost, &rows, &instance, &answer);
    let timed = args.time.is_some();
    cx.print(&match args.format {
        Format::Text => text::text(&report, timed),
        Format::Json => json::json(&report),
        Format::Csv => csv_out::csv(&report),
    })
}

/// Stock lengths, then offcuts, equal ones together; and whether prices decide.
fn sources(args: &Cut) -> Result<(Vec<Source>, bool), Vec<Problem>> {
    let mut problems = Vec::new();
    let mut refuse = |code, message: &str, hint: &str| {
        problems.push(Problem::error(code, None, message).hint(hint));
    };
    let mut sources: Vec<Source> = Vec::new();
    for stock in &args.stock {
        if sources.iter().any(|s| s.mm == stock.mm) {
            refuse(
                "U004",
                &format!("the stock length {} mm is given twice", stock.mm),
                "give each length once",
            );
        }
        sources.push(Source { mm: stock.mm, price: stock.price, limit: stock.limit, offcut: false });
    }
    let by_cost = sources.len() > 1;
    let lengths: BTreeSet<i64> = sources.iter().map(|s| s.mm).collect();
    if lengths.len() > 1 && sources.iter().any(|s| s.price.is_none()) {
        let hint = "as --stock 12m=1900 --stock 6m=1000: what is least depends on what each costs";
        refuse("U003", "several stock lengths and not a price for each", hint);
    }
    if sources.iter().all(|s| s.limit.is_some()) {
        let hint = "leave the number behind * away for one length; what lies in the store is an --offcut";
        refuse("U005", "no stock length that can be bought in any number", hint);
    }
    for offcut in &args.offcut {
        match sources.iter_mut().find(|s| s.offcut && s.mm == offcut.mm) {
            Some(s) => s.limit = s.limit.map(|n| n.saturating_add(offcut.number).min(1_000_000_000)),
            None => {
                let limit = Some(offcut.number);
                sources.push(Source { mm: offcut.mm, price: None, limit, offcut: true });
            }
        }
    }
    if sources.len() > tankwright_cutting::instance::MOST_STOCKS {
        let hint = "leave out the shortest offcuts, or give lengths that are nearly equal as the shorter";
        refuse("U006", "more than 64 lengths of stock and offcuts together", hint);
    }
    if problems.is_empty() { Ok((sources, by_cost)) } else { Err(problems) }
}

fn failed(cx: &mut Context<'_>, failure: Failure) -> Outcome {
    match failure {
        // Rows and stock were read within these bounds.
        Failure::Refused(Refused::Rows) => {
            let problem = Problem::error("K002", None, "the list has more than 100 000 rows");
            cx.refuse(Exit::Job, &[problem.hint("put equal lengths into one row")])
        }
        other => {
            cx.note(&format!("error: fault of the program: the cutting plan fails its check ({other:?})\n"));
            cx.note("hint: please report it, with the list\n");
            Err(Exit::Fault)
        }
    }
}
