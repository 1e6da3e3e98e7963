//! The command line: arguments, files, messages, exit codes. No measuring and no pricing.
//!
//! [`run`] is the whole program with its surroundings as arguments; [`start`] gives it the real ones.

#![expect(clippy::result_large_err, reason = "an error ends the run: its size costs nothing")]

mod args;
mod commands;
mod context;
#[cfg(test)]
mod crosscheck_tests;
mod data;
mod engine;
pub mod exit;
#[cfg(test)]
mod fake;
pub mod files;
#[cfg(feature = "papers")]
mod firm;
#[cfg(test)]
mod goods_tests;
mod kept;
mod list;
mod load;
mod other_lists;
mod outputs;
mod price_lists;
#[cfg(feature = "papers")]
mod printed;
mod show;
mod size_args;
mod sized_job;
#[cfg(test)]
mod slips;
mod soak_job;
mod soak_text;
mod starter;
#[cfg(test)]
mod tests;
mod trouble;

use std::io::{self, BufWriter, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

use clap::Parser;
use clap::error::ErrorKind;

use args::Cli;
use context::{Context, Outcome};
use exit::Exit;
use files::{Disk, Files};
pub use trouble::CODES;

/// Runs the program. `args` begin with its own name; data go to `out`, everything else to `err`.
///
/// The answer is the exit code, see [`Exit`]; a panic is caught and is exit 1.
pub fn run(args: &[String], out: &mut dyn Write, err: &mut dyn Write, files: &dyn Files) -> i32 {
    let caught = catch_unwind(AssertUnwindSafe(|| ended(args, Context::new(out, err, files))));
    let exit = caught.unwrap_or_else(|panic| {
        let text = panic.downcast_ref::<String>().map(String::as_str);
        let text = text.or_else(|| panic.downcast_ref::<&str>().copied()).unwrap_or("no more is known");
        // Nobody is left to be told where this fails.
        drop(writeln!(
            err,
            "error: fault of the program: {}\nhint: please report it, with the job file",
            show::clean(text)
        ));
        Exit::Fault
    });
    exit.code()
}

/// Runs the program with the arguments, streams and disk of this process.
pub fn start() -> ExitCode {
    // `run` tells of a panic in its own words.
    std::panic::set_hook(Box::new(|_| ()));
    let mut err = io::stderr().lock();
    let args: Result<Vec<String>, _> = std::env::args_os().map(std::ffi::OsString::into_string).collect();
    let code = match args {
        Ok(args) => {
            let mut out = BufWriter::new(io::stdout().lock());
            let code = run(&args, &mut out, &mut err, &Disk);
            // `run` has sent on all it could; what is left could not be written.
            drop(out.into_parts());
            code
        }
        Err(arg) => {
            let text = show::clean(&arg.to_string_lossy());
            drop(writeln!(
                err,
                "error: the argument `{text}` is not UTF-8 text\nhint: give the file another name"
            ));
            Exit::Usage.code()
        }
    };
    ExitCode::from(u8::try_from(code).unwrap_or(1))
}

fn ended(args: &[String], mut cx: Context<'_>) -> Exit {
    let done = told(args, &mut cx);
    match done.and_then(|()| cx.flush()) {
        Ok(()) => Exit::Done,
        Err(exit) => {
            // What was printed before the end still belongs to the reader.
            match cx.flush() {
                Err(Exit::File) if exit == Exit::Done => Exit::File,
                _ => exit,
            }
        }
    }
}

fn told(args: &[String], cx: &mut Context<'_>) -> Outcome {
    match Cli::try_parse_from(args) {
        Ok(cli) => {
            match &cli.data {
                Some(folder) => cx.data = Some(folder.into()),
                None => data::home(cx),
            }
            commands::run(&cli.command, cx)
        }
        Err(e) => {
            let text = e.render().to_string();
            match e.kind() {
                ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => cx.print(&text),
                _ => {
                    cx.note(&text);
                    Err(Exit::Usage)
                }
            }
        }
    }
}
