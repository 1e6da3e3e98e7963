//! The built-in data, and the user's own over them: those of the folder named with `--data`, else those kept at home.

use std::path::Path;
use std::sync::Arc;

use tankwright_quantities::job::Job;
use tankwright_quantities::rates::{Stock, builtin_files, read_stock};
use tankwright_sizing::{Rules, read_rules};

use crate::context::Context;
use crate::engine;
use crate::exit::Exit;
use crate::files::Kind;
use crate::load::Found;
use crate::trouble;

/// Who offers: no data of this kind, read where an offer is made.
pub(crate) const FIRM: &str = "firm.toml";

/// Where data are kept at home: the variable that says so, what stands below it, and how papers name the folder.
const HOMES: [(&str, &str, &str); 2] = [
    ("XDG_DATA_HOME", "tankwright", "$XDG_DATA_HOME/tankwright"),
    ("HOME", ".local/share/tankwright", "~/.local/share/tankwright"),
];

/// Takes the user's own data from home, where there are any. The first variable that is set counts (XDG Base Directory
/// Specification: relative paths in it are passed over).
pub(crate) fn home(cx: &mut Context<'_>) {
    let set = HOMES.iter().find_map(|(variable, below, shown)| {
        let folder = cx.files.variable(variable).filter(|v| Path::new(v).is_absolute())?;
        Some((Path::new(&folder).join(below), *shown))
    });
    if let Some((folder, shown)) = set.filter(|(folder, _)| cx.files.kind(folder) == Kind::Folder) {
        (cx.data, cx.home) = (Some(folder), Some(shown));
    }
}

/// Where the user's own data lie, in words.
pub(crate) fn whence(cx: &Context<'_>) -> String {
    cx.home.map_or_else(|| "named with --data".to_owned(), |home| format!("found in {home}"))
}

/// The data of this run. A problem in the built-in ones is a fault of the program.
pub(crate) fn stock(cx: &mut Context<'_>, found: &mut Found) -> Arc<Stock> {
    if let Some(kept) = cx.kept {
        return Arc::clone(&kept.stock);
    }
    let (mut stock, problems) = engine::stock();
    found.add(Exit::Fault, problems);
    if let Some(folder) = cx.data.clone() {
        let mut texts = Vec::new();
        read_folder(cx, &folder, true, &mut texts, found);
        read_folder(cx, &folder.join("profiles"), false, &mut texts, found);
        read_folder(cx, &folder.join("build-ups"), false, &mut texts, found);
        found.add(Exit::Rates, read_stock(&texts, Arc::make_mut(&mut stock)));
    }
    stock
}

/// The sizing rule that a job names; all of this run's where others may stand over it, or a message has to name them.
pub(crate) fn rules_of(cx: &mut Context<'_>, job: &Job, found: &mut Found) -> Arc<Rules> {
    let (one, problems) =
        tankwright_sizing::builtin_rule(tankwright_sizing::job::rule(job).unwrap_or_default());
    if cx.kept.is_some() || cx.data.is_some() || !tankwright_sizing::job::has_rule(job, &one) {
        return rules(cx, found);
    }
    found.add(Exit::Fault, problems);
    Arc::new(one)
}

/// The sizing rules of this run.
pub(crate) fn rules(cx: &mut Context<'_>, found: &mut Found) -> Arc<Rules> {
    if let Some(kept) = cx.kept {
        return Arc::clone(&kept.rules);
    }
    let (mut rules, problems) = tankwright_sizing::builtin();
    found.add(Exit::Fault, problems);
    if let Some(folder) = cx.data.clone() {
        let mut texts = Vec::new();
        read_folder(cx, &folder.join("rules"), false, &mut texts, found);
        found.add(Exit::Rates, read_rules(&texts, &mut rules));
    }
    Arc::new(rules)
}

/// Reads the data files of a folder; one that need not be there may be missing.
fn read_folder(
    cx: &mut Context<'_>,
    folder: &Path,
    must: bool,
    texts: &mut Vec<(String, String)>,
    found: &mut Found,
) {
    let names = match cx.files.list(folder) {
        Ok(names) => names,
        Err(_) if !must => return,
        Err(e) => {
            let problem = trouble::reading_folder(&cx.shown(folder), &e);
            return found.add(Exit::File, vec![problem]);
        }
    };
    for name in names.iter().filter(|n| n.ends_with(".toml") && *n != FIRM) {
        let path = folder.join(name);
        let shown = cx.shown(&path);
        match cx.read(&shown, &path) {
            // An untouched copy of a built-in file replaces nothing.
            Ok(text) if builtin_files().iter().any(|(p, t)| p.ends_with(name.as_str()) && *t == text) => {}
            Ok(text) => texts.push((shown, text)),
            Err(problem) => found.add(Exit::File, vec![problem]),
        }
    }
}
