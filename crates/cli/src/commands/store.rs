//! `tankwright store`: goods received and counted, against what should be in the store.

use std::path::Path;

use crate::args::Store;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::load::{Prices, estimate};

pub(super) fn run(args: &Store, cx: &mut Context<'_>) -> Outcome {
    let e = estimate(cx, &args.job, Prices::Never, false)?;
    let text = match cx.read(&args.received, Path::new(&args.received)) {
        Ok(text) => text,
        Err(problem) => return cx.refuse(Exit::File, &[problem]),
    };
    match engine::store(&e, &args.received, &text) {
        Ok(account) => {
            cx.say(&account.cautions);
            cx.print(&engine::store_paper(&e, &account, args.format))
        }
        Err(problems) => cx.refuse(Exit::Job, &problems),
    }
}
