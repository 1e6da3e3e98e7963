//! The map from a list's words to our codes: written once, never over what its owner filled in.

use std::path::Path;

use tankwright_quantities::rates::write_map;

use super::given::Rates;
use super::one;
use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::files::Kind;
use crate::outputs::{Output, write_set};

pub(super) fn run(args: &Rates, cx: &mut Context<'_>, file: &str) -> Outcome {
    let read = one(args, cx, "a map is made for one list")?;
    let path = Path::new(file);
    let old = match cx.files.kind(path) {
        Kind::Nothing => None,
        _ => Some(cx.read(file, path).or_else(|problem| cx.refuse(Exit::File, &[problem]))?),
    };
    cx.say(&read.list.cautions);
    let open = read.how.unmatched.len();
    let text = write_map(old.as_deref(), &read.how.unmatched);
    if old.as_deref() == Some(text.as_str()) || (old.is_none() && open == 0) {
        return cx.print(&format!("{file}: nothing to add, {open} rows are open\n"));
    }
    let output = Output { path: path.to_owned(), bytes: text.into_bytes() };
    if let Err(problem) = write_set(cx.files, &[output]) {
        return cx.refuse(Exit::File, &[problem]);
    }
    let list = args.check.first().map(String::as_str).unwrap_or_default();
    let list = list.split('#').next().unwrap_or_default();
    let beside = Path::new(list).with_extension("map.csv");
    let lies = if beside == path {
        format!("it lies beside {list} and is read with it")
    } else {
        format!("called {} it is read with the list", beside.display())
    };
    cx.print(&format!(
        "{file}: {open} rows are open. Write our code into the column code, - for what is not wanted; {lies}\n"
    ))
}
