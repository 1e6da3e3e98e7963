//! `tankwright new`: a job file to start from.

use std::path::{Path, PathBuf};

use crate::args::New;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::files::Kind;
use crate::outputs::{Output, make_folder, write_set};
use crate::show;
use crate::starter::starter;
use crate::trouble;

macro_rules! samples {
    ($($name:literal),* $(,)?) => {
        /// Names of the samples.
        pub(crate) const SAMPLE_NAMES: [&str; [$($name),*].len()] = [$($name),*];
        const TEXTS: [&str; SAMPLE_NAMES.len()] = [$(include_str!(concat!("../../../../samples/", $name, "/job.toml"))),*];
    };
}

samples!["smallest", "rest-house", "clinic", "textbook", "school"];

pub(super) fn run(args: &New, cx: &mut Context<'_>) -> Outcome {
    let text = args.sample.as_ref().and_then(|name| {
        let sample = SAMPLE_NAMES.iter().zip(TEXTS).find(|(n, _)| *n == name);
        sample.map(|(_, text)| text.to_owned())
    });
    let text = text.unwrap_or_else(|| starter(&engine::tables()));
    if args.file == "-" {
        return cx.print(&text);
    }
    let path = Path::new(&args.file);
    match cx.files.kind(path) {
        Kind::Folder => return cx.refuse(Exit::File, &[trouble::folder(&args.file)]),
        Kind::File if !args.force => return cx.refuse(Exit::File, &[trouble::exists(&args.file)]),
        Kind::File | Kind::Nothing => {}
    }
    let output = Output { path: PathBuf::from(path), bytes: text.into_bytes() };
    let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
    let made = folder.map_or(Ok(()), |folder| make_folder(cx.files, folder));
    if let Err(problem) = made.and_then(|()| write_set(cx.files, &[output])) {
        return cx.refuse(Exit::File, &[problem]);
    }
    let next = show::argument(&args.file);
    cx.note(&format!("{} is written; next: tankwright estimate {next} --out out\n", args.file));
    Ok(())
}
