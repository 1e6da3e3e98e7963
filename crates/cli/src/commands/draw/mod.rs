//! `tankwright draw`: drawings to scale, one SVG file a sheet and a picture if asked, into a folder.

pub(crate) mod given;
#[cfg(test)]
mod tests;

use std::path::Path;

use tankwright_draw::{Drawing, drawings};
use tankwright_quantities::job::suggestion;
use tankwright_quantities::problem::Problem;

use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::load::{self, Prices};
use crate::outputs::{Output, make_folder, write_set};
use given::Draw;

pub(super) fn run(args: &Draw, cx: &mut Context<'_>) -> Outcome {
    let e = load::estimate(cx, &args.job, Prices::Never, false)?;
    let all = drawings(&e);
    let unknown: Vec<Problem> = args
        .only
        .iter()
        .filter(|name| !all.iter().any(|d| d.id == **name))
        .map(|name| not_there(name, &all))
        .collect();
    if !unknown.is_empty() {
        return cx.refuse(Exit::Usage, &unknown);
    }
    let chosen: Vec<&Drawing> =
        all.iter().filter(|d| args.only.is_empty() || args.only.contains(&d.id)).collect();
    let Some(out) = &args.out else {
        cx.note("no files are written: --out names no folder\n");
        return cx.print(&list(&chosen));
    };
    let folder = Path::new(out);
    let output = |d: &&Drawing| Output {
        path: folder.join(format!("{}.svg", d.id)),
        bytes: d.svg.clone().into_bytes(),
    };
    #[allow(unused_mut, reason = "pictures are a feature")]
    let mut outputs: Vec<Output> = chosen.iter().map(output).collect();
    #[cfg(feature = "papers")]
    for drawing in chosen.iter().filter(|_| args.png.is_some()) {
        match tankwright_run::print_picture(drawing, args.png.unwrap_or_default()) {
            Ok(bytes) => outputs.push(Output { path: folder.join(format!("{}.png", drawing.id)), bytes }),
            Err(why) => return cx.refuse(Exit::Fault, &[tankwright_run::no_picture(&drawing.id, &why)]),
        }
    }
    let written = make_folder(cx.files, folder).and_then(|()| write_set(cx.files, &outputs));
    if let Err(problem) = written {
        return cx.refuse(Exit::File, &[problem]);
    }
    let names: String = outputs.iter().map(|o| format!("{}\n", o.path.display())).collect();
    cx.print(&names)
}

/// Names and titles.
fn list(all: &[&Drawing]) -> String {
    let wide = all.iter().map(|d| d.id.chars().count()).max().unwrap_or(0);
    all.iter().map(|d| format!("{:wide$}  {}\n", d.id, d.title)).collect()
}

fn not_there(name: &str, all: &[Drawing]) -> Problem {
    let near = suggestion(name, all.iter().map(|d| d.id.as_str()));
    let known = all.iter().map(|d| d.id.as_str()).collect::<Vec<_>>().join(", ");
    Problem::error("U008", None, format!("this job has no drawing `{name}`"))
        .hint(format!("{near}drawings: {known}"))
}
