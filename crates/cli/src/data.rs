//! The built-in data, and the user's own over them.

use std::path::Path;

use tankwright_quantities::rates::{Stock, builtin_files, read_stock};
use tankwright_sizing::{Rules, read_rules};

use crate::context::Context;
use crate::engine;
use crate::exit::Exit;
use crate::load::Found;
use crate::trouble;

/// The data of this run. A problem in the built-in ones is a fault of the program.
pub(crate) fn stock(cx: &mut Context<'_>, found: &mut Found) -> Stock {
    let (mut stock, problems) = engine::stock();
    found.add(Exit::Fault, problems);
    if let Some(folder) = cx.data.clone() {
        let mut texts = Vec::new();
        read_folder(cx, &folder, true, &mut texts, found);
        read_folder(cx, &folder.join("profiles"), false, &mut texts, found);
        found.add(Exit::Rates, read_stock(&texts, &mut stock));
    }
    stock
}

/// The sizing rules of this run.
pub(crate) fn rules(cx: &mut Context<'_>, found: &mut Found) -> Rules {
    let (mut rules, problems) = tankwright_sizing::builtin();
    found.add(Exit::Fault, problems);
    if let Some(folder) = cx.data.clone() {
        let mut texts = Vec::new();
        read_folder(cx, &folder.join("rules"), false, &mut texts, found);
        found.add(Exit::Rates, read_rules(&texts, &mut rules));
    }
    rules
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
            let problem = trouble::reading_folder(&folder.display().to_string(), &e);
            return found.add(Exit::File, vec![problem]);
        }
    };
    for name in names.iter().filter(|n| n.ends_with(".toml")) {
        let path = folder.join(name);
        let shown = path.display().to_string();
        match cx.read(&shown, &path) {
            // An untouched copy of a built-in file replaces nothing.
            Ok(text) if builtin_files().iter().any(|(p, t)| p.ends_with(name.as_str()) && *t == text) => {}
            Ok(text) => texts.push((shown, text)),
            Err(problem) => found.add(Exit::File, vec![problem]),
        }
    }
}
