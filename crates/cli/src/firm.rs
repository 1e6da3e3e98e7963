//! Who offers: `[firm]` of the job, else `firm.toml` among the user's own data; and the picture that it names.

use std::path::Path;

use tankwright_quantities::job::Job;
use tankwright_quantities::problem::Problem;
use tankwright_run::{Firm, LONGEST_LOGO, Logo};

use crate::context::Context;
use crate::data::FIRM;
use crate::exit::Exit;
use crate::files::Kind;
use crate::load::Found;
use crate::trouble;

/// Reads both, adding what is wrong with them.
pub(crate) fn firm(cx: &mut Context<'_>, job: &Job, found: &mut Found) -> Firm {
    if job.given("firm") {
        let base = Path::new(&job.file).parent().filter(|_| job.file != "-").map(Path::to_owned);
        return Firm { firm: None, logo: logo(cx, job, base.as_deref(), found) };
    }
    let Some(path) = cx.data.clone().map(|folder| folder.join(FIRM)) else { return Firm::default() };
    if cx.files.kind(&path) == Kind::Nothing {
        return Firm::default();
    }
    let shown = cx.shown(&path);
    let text = match cx.read(&shown, &path) {
        Ok(text) => text,
        Err(problem) => {
            found.add(Exit::File, vec![problem]);
            return Firm::default();
        }
    };
    let (firm, problems) = Firm::read(&shown, &text);
    found.add(Exit::Rates, problems);
    let logo = logo(cx, &firm, path.parent(), found);
    Firm { firm: Some(firm), logo }
}

/// The picture that a file names, looked for beside it.
fn logo(cx: &mut Context<'_>, firm: &Job, base: Option<&Path>, found: &mut Found) -> Option<Logo> {
    let name = Some(firm.text("firm.logo").to_owned()).filter(|n| !n.is_empty())?;
    let path = base.map_or_else(|| name.clone().into(), |base| base.join(&name));
    let bytes = match cx.files.kind(&path) {
        Kind::Nothing => Err("there is no such file".to_owned()),
        Kind::Folder => Err("it is a folder".to_owned()),
        Kind::File => cx.files.read(&path, LONGEST_LOGO).map_err(|e| trouble::plain(&e)),
    };
    match bytes.and_then(|bytes| Logo::read(&bytes).map_err(|why| why.says())) {
        Ok(logo) => Some(logo),
        Err(why) => {
            let problem = Problem::error("F013", firm.place("firm.logo"), format!("the logo `{name}` cannot be used: {why}"))
                .label(format!("looked for at `{}`", cx.shown(&path)))
                .hint("a PNG, JPEG or SVG file of at most 2 MB and 4 000 dots a side, beside the file that names it; without `logo` the offer has none");
            found.add(Exit::File, vec![problem]);
            None
        }
    }
}
