//! A paper printed to a file.

use tankwright_papers::{NoPicture, NotPrinted};
use tankwright_quantities::problem::Problem;

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

fn unprinted(why: &NotPrinted) -> Problem {
    match why {
        NotPrinted::Letters(letters) => {
            let list: Vec<String> =
                letters.iter().map(|c| format!("`{c}` (U+{:04X})", u32::from(*c))).collect();
            let message = format!("the letters of the papers lack {}", list.join(", "));
            Problem::error("F011", None, message)
                .hint("they stand in a text of the job file: write it in other letters")
        }
        NotPrinted::Drawing(why) | NotPrinted::Writer(why) => {
            Problem::error("F012", None, format!("the paper cannot be printed: {why}"))
                .hint("this is a fault of the program")
        }
    }
}

/// A drawing that cannot be made a picture: a fault of the program, or too tall for so many dots.
pub(crate) fn no_picture(name: &str, why: &NoPicture) -> Problem {
    let why = match why {
        NoPicture::Drawing(why) => why.clone(),
        NoPicture::Size => "it would have too many dots".to_owned(),
        NoPicture::Packed => "it cannot be packed".to_owned(),
    };
    Problem::error("F012", None, format!("no picture of `{name}`: {why}")).hint("ask for fewer dots")
}
