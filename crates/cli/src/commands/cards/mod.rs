//! `tankwright cards`: one card a stage, to be printed for the foreman.

pub(crate) mod given;

use tankwright_export::text::stage_ids;
use tankwright_quantities::languages::{self, Language};
use tankwright_quantities::problem::Problem;
use tankwright_run::print_cards;

use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::load::{Prices, estimate};
use crate::printed::{not_printed, write};
use given::Cards;

pub(super) fn run(args: &Cards, cx: &mut Context<'_>) -> Outcome {
    let Some(language) = languages::find(&args.lang) else {
        let problem = no_such_language(&args.lang);
        return cx.refuse(Exit::Usage, &[problem]);
    };
    // What the estimate says in words is written in the language too.
    let e = languages::within(language, || estimate(cx, &args.job, Prices::May, false)).paper?;
    if let Some(id) = args.stage.as_deref().filter(|id| !stage_ids(&e).contains(id)) {
        let problem = super::orders::no_such_stage(&e, id);
        return cx.refuse(Exit::Usage, &[problem]);
    }
    match print_cards(&e, args.stage.as_deref(), language) {
        Ok(printed) => {
            write(cx, &args.out, printed.bytes)?;
            lacking(cx, language, &printed.lacking);
            Ok(())
        }
        Err(why) => not_printed(cx, &why),
    }
}

/// What stands in English on cards of another language.
pub(crate) fn lacking(cx: &mut Context<'_>, language: &Language, words: &[String]) {
    if !words.is_empty() {
        cx.note(&format!("in English, as `{}` has no words for them: {}\n", language.id, words.join("; ")));
    }
}

pub(crate) fn no_such_language(id: &str) -> Problem {
    let known: Vec<String> = languages::all().map(|l| format!("{} ({})", l.id, l.name())).collect();
    Problem::error("U009", None, format!("there are no words in the language `{id}`"))
        .hint(format!("known: {}", known.join(", ")))
}
