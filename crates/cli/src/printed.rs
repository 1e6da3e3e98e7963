//! A paper printed to a file.

use tankwright_papers::NotPrinted;
use tankwright_run::unprinted;

use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::outputs::{Output, write_set};

/// Writes a paper; all of it or nothing.
pub(crate) fn write(cx: &mut Context<'_>, name: &str, bytes: Vec<u8>) -> Outcome {
    match write_set(cx.files, &[Output { path: name.into(), bytes }]) {
        Ok(()) => {
            cx.note(&format!("{name} is written\n"));
            Ok(())
        }
        Err(problem) => cx.refuse(Exit::File, &[problem]),
    }
}

/// A paper that cannot be printed, by a letter of the job or by a fault of the program.
pub(crate) fn not_printed<T>(cx: &mut Context<'_>, why: &NotPrinted) -> Outcome<T> {
    let exit = if matches!(why, NotPrinted::Letters(_)) { Exit::Job } else { Exit::Fault };
    cx.refuse(exit, &[unprinted(why)])
}
