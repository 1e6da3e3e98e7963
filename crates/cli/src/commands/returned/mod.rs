//! `tankwright returned`: priced copies of the bill to be priced, side by side.

pub(crate) mod given;

use tankwright_account::returned::{self, Copy, Form, Given, compare};
use tankwright_crosscheck::wording;

use crate::args::Format;
use crate::commands::returned::given::Returned;
use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::load::{Prices, with_all};
use crate::other_lists;
use tankwright_export::returned as papers;
use tankwright_run::Shape;

pub(super) fn run(args: &Returned, cx: &mut Context<'_>) -> Outcome {
    let all = with_all(cx, &args.job, Prices::May, false)?;
    let e = &all.estimate;
    let form = match Form::of(e, &all.job, &all.stock) {
        Ok(form) => form,
        Err(problems) => return cx.refuse(Exit::Job, &problems),
    };
    let own = other_lists::words(cx)?;
    let words = own.as_ref().unwrap_or_else(|| wording::builtin());
    let (mut copies, mut problems): (Vec<Copy>, Vec<_>) = Default::default();
    for name in &args.copies {
        let list = other_lists::rows(cx, name, words, Shape::Copy)?;
        let given = Given { file: &list.name, rows: &list.rows, unread: &list.others };
        match returned::read(&form, &e.sheet, words, given) {
            Ok((copy, cautions)) => {
                copies.push(copy);
                cx.say(&cautions);
            }
            Err(found) => problems.extend(found),
        }
    }
    let problems: Vec<_> = problems.into_iter().map(|p| other_lists::placed(p, cx)).collect();
    if !problems.is_empty() {
        return cx.refuse(Exit::Job, &problems);
    }
    let found = match compare(form, e, copies, args.ratio) {
        Ok(found) => found,
        Err(problems) => return cx.refuse(Exit::Job, &problems),
    };
    cx.print(&match args.format {
        Format::Text => papers::text(e, &found),
        Format::Json => papers::json(e, &found),
        Format::Csv => papers::csv(&found),
    })
}
