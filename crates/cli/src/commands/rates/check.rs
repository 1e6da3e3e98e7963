//! What lists hold, what was not read as it stands, what a job misses, what is old, what is far from the others.

use std::collections::BTreeSet;

use tankwright_quantities::rates::lists::{Finding, far, missing, old};
use tankwright_quantities::rates::{PriceList, ReadList};

use super::given::Rates;
use super::{for_job, told};
use crate::args::Format;
use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::list::{self, List};
use crate::price_lists::{doubts, open};

/// Reads every list, then tells all that is wrong and what the good ones hold.
pub(super) fn run(args: &Rates, cx: &mut Context<'_>, names: &[String], builtin: bool) -> Outcome {
    let job = for_job(args, cx)?;
    let mut problems = Vec::new();
    let mut worst = None;
    let mut read = Vec::new();
    for name in names {
        match open(cx, name, None, None, &told(args, job.as_ref())) {
            Ok(it) => {
                problems.extend(it.list.cautions.clone());
                problems.extend(doubts(&it.list));
                read.push((name, it));
            }
            Err((exit, found)) => {
                problems.extend(found);
                worst = Some(worst.map_or(exit, |w: Exit| w.min(exit)));
            }
        }
    }
    let mut lists = Vec::new();
    if !read.is_empty() {
        let head = vec!["list", "currency", "rows", "from", "to", "without a rate", "source"];
        let rows = read.iter().map(|(name, it)| row(name, &it.list)).collect();
        lists.push(List { name: "price lists", head, rows });
        lists.extend(as_read(&read));
    }
    let date = args.date.clone().or_else(|| job.as_ref().map(|e| e.date.clone()));
    let mut found: Vec<Finding> = Vec::new();
    for (_, it) in &read {
        found.extend(job.iter().flat_map(|e| missing(e, &it.list)));
        found.extend(date.iter().flat_map(|d| old(&it.list, d, args.older)));
    }
    let all: Vec<&PriceList> = read.iter().map(|(_, it)| &it.list).collect();
    if !builtin {
        found.extend(far(&all, args.ratio));
    }
    if !found.is_empty() {
        lists.push(findings(&found));
    }
    if !lists.is_empty() {
        cx.print(&list::print(&lists, args.format))?;
    }
    if !builtin && !read.is_empty() && args.format == Format::Text {
        cx.print(&limits(args, date.as_deref(), all.len(), found.is_empty()))?;
    }
    match worst {
        Some(exit) if builtin => cx.refuse(exit.min(Exit::Fault), &problems),
        Some(exit) => cx.refuse(exit, &problems),
        None => {
            cx.say(&problems);
            Ok(())
        }
    }
}

/// What was looked at, and by which limits.
fn limits(args: &Rates, date: Option<&str>, lists: usize, nothing: bool) -> String {
    let mut text = String::from("\n");
    if nothing {
        text.push_str("nothing found:\n");
    }
    match &args.for_job {
        Some(job) => text.push_str(&format!("missing: what {job} needs\n")),
        None => text.push_str("missing: not looked for, name a job with --for\n"),
    }
    match date {
        Some(date) => {
            text.push_str(&format!("old: more than {} months before {date} (--older)\n", args.older))
        }
        None => text.push_str("old: not looked for, name a day with --date or a job with --for\n"),
    }
    match lists {
        1 => text.push_str("far: not looked for, name another list\n"),
        _ => text.push_str(&format!(
            "far: more than {} times the rate of another list of the same currency (--ratio; our own limit)\n",
            args.ratio
        )),
    }
    text
}

fn findings(found: &[Finding]) -> List {
    let row = |f: &Finding| {
        vec![
            f.fault.id().to_owned(),
            f.list.clone(),
            f.line.map(|l| l.to_string()).unwrap_or_default(),
            f.code.clone(),
            f.unit.clone(),
            f.rate.map(|r| r.to_string()).unwrap_or_default(),
            f.says.clone(),
        ]
    };
    let head = vec!["finding", "list", "line", "code", "unit", "rate", "says"];
    List { name: "findings", head, rows: found.iter().map(row).collect() }
}

/// What people's own lists hold besides rows that price, and what was worked out.
fn as_read(read: &[(&String, ReadList)]) -> Vec<List> {
    let (mut lines, mut open, mut worked) = (Vec::new(), Vec::new(), Vec::new());
    for (name, ReadList { list, how }) in read {
        if !how.own_form {
            let tax = match (how.tax_said, how.worked.iter().filter(|w| w.tax.is_some()).count()) {
                (false, _) => "not said: taken as without".to_owned(),
                (true, 0) => "without".to_owned(),
                (true, n) => format!("taken out of {n} rates"),
            };
            let counts = [list.rows.len(), how.unmatched.len(), how.left_out.len(), how.headings, how.totals];
            let counts = counts.map(|n| n.to_string());
            lines.push([vec![(*name).clone()], counts.to_vec(), vec![tax]].concat());
        }
        for u in &how.unmatched {
            let perhaps = u.perhaps.as_ref().map(|(kind, code)| format!("{} {code}", kind.id()));
            open.push(vec![
                (*name).clone(),
                u.line.to_string(),
                u.description.clone(),
                u.unit.clone(),
                u.rate.clone(),
                u.why.clone(),
                perhaps.unwrap_or_default(),
            ]);
        }
        for w in &how.worked {
            let tax = w.tax.map(|p| format!("{p} %")).unwrap_or_default();
            let many = if w.per == 1 { String::new() } else { w.per.to_string() };
            let cells =
                [w.line.to_string(), w.code.clone(), w.written.clone(), many, tax, w.rate.to_string()];
            worked.push([vec![(*name).clone()], cells.to_vec()].concat());
        }
    }
    let lists = [
        ("as read", vec!["list", "rows", "without a code", "left out", "headings", "totals", "tax"], lines),
        ("without a code", vec!["list", "line", "description", "unit", "rate", "why", "perhaps"], open),
        ("worked out", vec!["list", "line", "code", "written", "for", "tax in it", "rate"], worked),
    ];
    lists
        .into_iter()
        .filter(|(_, _, rows)| !rows.is_empty())
        .map(|(name, head, rows)| List { name, head, rows })
        .collect()
}

fn row(name: &str, list: &PriceList) -> Vec<String> {
    let dates = || list.rows.iter().map(|r| r.date.as_str());
    let blank = list.rows.iter().filter(|r| r.rate.is_none()).count();
    let sources: BTreeSet<_> = list.rows.iter().map(|r| r.source.as_str()).collect();
    let source = match sources.len() {
        0..=2 => sources.into_iter().collect::<Vec<_>>().join("; "),
        n => format!("{n} sources"),
    };
    vec![
        name.to_owned(),
        list.currency.clone(),
        list.rows.len().to_string(),
        dates().min().unwrap_or_default().to_owned(),
        dates().max().unwrap_or_default().to_owned(),
        blank.to_string(),
        source,
    ]
}
