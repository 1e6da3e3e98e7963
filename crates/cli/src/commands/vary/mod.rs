//! `tankwright vary`: what was agreed against what was built, as omissions and additions at the contract's rates.

pub(crate) mod given;
#[cfg(test)]
mod tests;

use std::path::Path;

use tankwright_account::vary::{Contract, Now, vary};
use tankwright_quantities::estimate::Failure;
use tankwright_quantities::job::Job;
use tankwright_quantities::problem::{Problem, Severity};

use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::files::Kind;
use crate::load::{Found, Prices, asked, list_of_job, with_all};
use crate::outputs::{Output, make_folder, write_set};
use crate::trouble;
use given::Vary;

pub(super) fn run(args: &Vary, cx: &mut Context<'_>) -> Outcome {
    if args.contract == "-" && args.now == "-" {
        let problem =
            Problem::error("U070", None, "standard input holds one file: contract and account are two");
        return cx.refuse(Exit::Usage, &[problem.hint("name at least one of them by its file")]);
    }
    if let Some(name) = &args.built {
        match cx.files.kind(Path::new(name)) {
            Kind::Folder => return cx.refuse(Exit::File, &[trouble::folder(name)]),
            Kind::File if !args.force => return cx.refuse(Exit::File, &[trouble::exists(name)]),
            Kind::File | Kind::Nothing => {}
        }
    }
    // What is wrong with either file is told in one run.
    let now = read(cx, args);
    let loaded = with_all(cx, &args.job(), Prices::Must, false)?;
    let (text, job) = now?;
    let mut found = Found::default();
    let list =
        list_of_job(cx, &job, Prices::May, &|| asked(&job, &loaded.stock, &loaded.settings), &mut found);
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    // A bill that is priced was priced by a list.
    let Some(agreed) = &loaded.list else { return Err(Exit::Fault) };
    let contract = Contract { job: &loaded.job, estimate: &loaded.estimate, list: agreed };
    let date = args.date.as_deref().unwrap_or(job.text("job.date"));
    let account = vary(contract, Now { job: &job, text: &text, list: list.as_deref(), date }, &loaded.stock);
    let account = match account {
        Ok(account) => account,
        Err(Failure::Job(problems)) => return cx.refuse(Exit::Job, &problems),
        Err(Failure::Rates(problems)) => return cx.refuse(Exit::Rates, &problems),
        Err(Failure::Balance(balances)) => return cx.unbalanced(&balances),
    };
    cx.say(&account.cautions);
    if let Some(name) = &args.built {
        built(cx, name, &account.built)?;
    }
    cx.print(&engine::vary(&account, args.format))
}

/// The job file of the account; a file that is the contract's too is told of once, by the contract.
fn read(cx: &mut Context<'_>, args: &Vary) -> Outcome<(String, Job)> {
    let text = match cx.read(&args.now, Path::new(&args.now)) {
        Ok(text) => text,
        Err(problem) => return cx.refuse(Exit::File, &[problem]),
    };
    let (job, problems) = engine::read_job(&args.now, &text, false);
    if problems.iter().any(|p| p.severity == Severity::Error) {
        if args.now != args.contract {
            cx.say(&problems);
        }
        return Err(Exit::Job);
    }
    Ok((text, job))
}

/// Writes the job as built, its folder too.
fn built(cx: &mut Context<'_>, name: &str, text: &str) -> Outcome {
    let path = Path::new(name);
    let output = Output { path: path.to_owned(), bytes: text.as_bytes().to_vec() };
    let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
    let made = folder.map_or(Ok(()), |folder| make_folder(cx.files, folder));
    if let Err(problem) = made.and_then(|()| write_set(cx.files, &[output])) {
        return cx.refuse(Exit::File, &[problem]);
    }
    cx.note(&format!("{name} is written: the job as built\n"));
    Ok(())
}
