//! `tankwright draw`: drawings to scale, one SVG file a sheet and a picture if asked, into a folder.

pub(crate) mod given;
#[cfg(test)]
mod tests;

use std::path::Path;

use tankwright_draw::{Drawing, drawing, drawings, listed};
use tankwright_quantities::job::suggestion;
use tankwright_quantities::problem::Problem;

use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::load::{self, Prices};
use crate::outputs::{Output, write_with_folders};
use given::Draw;

pub(super) fn run(args: &Draw, cx: &mut Context<'_>) -> Outcome {
    let e = load::estimate(cx, &args.job, Prices::Never, false)?;
    let all = listed(&e);
    let unknown: Vec<Problem> = args
        .only
        .iter()
        .filter(|name| !all.iter().any(|(id, _)| id == *name))
        .map(|name| not_there(name, &all))
        .collect();
    if !unknown.is_empty() {
        return cx.refuse(Exit::Usage, &unknown);
    }
    let wanted = |id: &String| args.only.is_empty() || args.only.contains(id);
    let Some(out) = &args.out else {
        cx.note("no files are written: --out names no folder\n");
        return cx.print(&list(all.into_iter().filter(|(id, _)| wanted(id)).collect()));
    };
    let chosen: Vec<Drawing> = match args.only.as_slice() {
        [] => drawings(&e),
        _ => all.iter().filter(|(id, _)| wanted(id)).filter_map(|(id, _)| drawing(&e, id)).collect(),
    };
    let folder = Path::new(out);
    let output = |d: &Drawing| Output {
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
    if let Err(problem) = write_with_folders(cx.files, &outputs) {
        return cx.refuse(Exit::File, &[problem]);
    }
    let names: String = outputs.iter().map(|o| format!("{}\n", o.path.display())).collect();
    cx.print(&names)
}

/// Names and titles.
fn list(all: Vec<(String, String)>) -> String {
    let wide = all.iter().map(|(id, _)| id.chars().count()).max().unwrap_or(0);
    all.iter().map(|(id, title)| format!("{id:wide$}  {title}\n")).collect()
}

fn not_there(name: &str, all: &[(String, String)]) -> Problem {
    let near = suggestion(name, all.iter().map(|(id, _)| id.as_str()));
    let known = all.iter().map(|(id, _)| id.as_str()).collect::<Vec<_>>().join(", ");
    Problem::error("U008", None, format!("this job has no drawing `{name}`"))
        .hint(format!("{near}drawings: {known}"))
}
