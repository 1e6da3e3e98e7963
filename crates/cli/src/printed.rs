//! A paper printed to a file.

use tankwright_papers::{NoPicture, NotPrinted, Paper, pdf};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::words::Phrase;

use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::outputs::{Output, write_set};

/// Writes the paper as PDF; all of it or nothing.
pub(crate) fn print_to(cx: &mut Context<'_>, name: &str, paper: &Paper) -> Outcome {
    let page_of = |n: &str, of: &str| Phrase::with("paper-page-of", &[n, of]).to_string();
    let bytes = match pdf(paper, &page_of) {
        Ok(bytes) => bytes,
        Err(why) => {
            let exit = if matches!(why, NotPrinted::Letters(_)) { Exit::Job } else { Exit::Fault };
            return cx.refuse(exit, &[not_printed(&why)]);
        }
    };
    match write_set(cx.files, &[Output { path: name.into(), bytes }]) {
        Ok(()) => {
            cx.note(&format!("{name} is written\n"));
            Ok(())
        }
        Err(problem) => cx.refuse(Exit::File, &[problem]),
    }
}

fn not_printed(why: &NotPrinted) -> Problem {
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
