//! Every paper that can be taken from the page: the same calls as the commands that print them.

use serde::Serialize;
use tankwright_export::{csv, json, text};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::Job;
use tankwright_quantities::languages::{self, Language};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_run::{NoBook, illustrated, site_files};

use crate::answer::unbalanced;
use crate::desk::{FirmText, Given};
use crate::{office, printed};

/// A paper that is one call: name of its file, word, what makes it.
type Paper = (&'static str, &'static str, fn(&Estimate) -> String);

/// Papers as text.
const PAPERS: &[Paper] = &[
    ("summary.txt", "web-paper-summary", |e| text::screen(e, &[])),
    ("bill.txt", "web-paper-bill", text::bill),
    ("bill.csv", "web-paper-bill", csv::bill),
    ("bill.json", "web-paper-bill", json::bill),
    ("takeoff.txt", "web-paper-takeoff", text::takeoff),
    ("takeoff.csv", "web-paper-takeoff", csv::takeoff),
    ("takeoff.json", "web-paper-takeoff", json::takeoff),
    ("materials.txt", "web-paper-materials", text::materials),
    ("materials.csv", "web-paper-materials", csv::materials),
    ("materials.json", "web-paper-materials", json::materials),
    ("orders.txt", "web-paper-orders", text::orders),
    ("orders.csv", "web-paper-orders", |e| csv::orders(e, None)),
    ("orders.json", "web-paper-orders", |e| json::orders(e, None)),
    ("bars.txt", "web-paper-bars", text::bars),
    ("bars.csv", "web-paper-bars", csv::bars),
    ("bars.json", "web-paper-bars", json::bars),
];

/// The workbook's place among the papers.
const WORKBOOK: &str = "workbook.xlsx";

/// Papers that show the trail of each length begin so.
pub(crate) const TRAILED: [&str; 2] = [WORKBOOK, "takeoff."];

/// The beginning of the names of cards; a language follows, or a stage behind a stroke.
pub(crate) const CARDS: &str = "cards";

/// Before the names of drawings.
pub(crate) const DRAWINGS: &str = "drawings/";

/// A paper of the list on the page.
#[derive(Debug, Serialize)]
pub(crate) struct Listed {
    pub(crate) id: String,
    title: String,
}

pub(crate) fn listed(id: &str, title: String) -> Listed {
    Listed { id: id.to_owned(), title }
}

/// What can be taken.
pub(crate) fn list(
    e: &Estimate,
    (job, firm): (&Job, Option<&FirmText>),
    drawings: &[(String, String)],
) -> Vec<Listed> {
    let mut all = vec![listed("job.toml", look_up("web-paper-job").to_owned())];
    if e.bill.total.is_some() {
        all.push(listed(WORKBOOK, look_up("web-paper-workbook").to_owned()));
    }
    all.extend(printed::list(e, job, firm));
    all.extend(PAPERS.iter().map(|(id, word, _)| listed(id, look_up(word).to_owned())));
    all.extend(office::list(e));
    all.extend(drawings.iter().map(|(id, title)| {
        listed(&format!("{DRAWINGS}{id}.svg"), Phrase::with("web-paper-drawing", &[title]).to_string())
    }));
    all.extend(printed::pictures(drawings));
    all.extend(site_files(e).into_iter().flat_map(|(path, _)| {
        let name = path.strip_prefix("orders/").and_then(|p| p.strip_suffix(".txt"));
        let card = name.filter(|n| tankwright_run::stage_ids(e).contains(n));
        let title = match (card, name) {
            (Some(stage), _) => {
                Phrase::with("web-paper-card", &[look_up(&format!("stage-{stage}"))]).to_string()
            }
            (None, Some(name)) => Phrase::with("web-paper-message", &[name]).to_string(),
            (None, None) => look_up("web-paper-calendar").to_owned(),
        };
        let print = card.map(|stage| listed(&format!("{CARDS}/{stage}.pdf"), title.clone()));
        print.filter(|_| printed::PRINTS).into_iter().chain([listed(&path, title)])
    }));
    all
}

/// What a paper is made into.
pub(crate) struct Made {
    pub(crate) file: String,
    pub(crate) mime: &'static str,
    pub(crate) bytes: Vec<u8>,
}

/// The language that a paper is written in: its estimate is to be made within it.
pub(crate) fn language(id: &str) -> &'static Language {
    let own = id.strip_prefix(CARDS).and_then(|rest| rest.strip_suffix(".pdf")?.strip_prefix('-'));
    own.and_then(languages::find).unwrap_or_else(languages::english)
}

/// Makes a paper; `None` where there is none of this name. The workbook asks for a job that was read with its trail.
pub(crate) fn make(
    id: &str,
    e: &Estimate,
    (job, text): (&Job, &str),
    given: &Given,
) -> Option<Result<Made, Vec<Problem>>> {
    let name = id.rsplit('/').next().unwrap_or(id);
    let stem = &given.stem;
    let made = |bytes: Vec<u8>| Ok(Made { file: format!("{stem}-{name}"), mime: mime(id), bytes });
    if id == "job.toml" {
        return Some(Ok(Made {
            file: format!("{stem}.toml"),
            mime: mime(id),
            bytes: text.as_bytes().to_vec(),
        }));
    }
    if id == WORKBOOK {
        return Some(match illustrated(e) {
            Ok((bytes, _)) => Ok(Made { file: format!("{stem}.xlsx"), mime: mime(id), bytes }),
            Err(NoBook::Problems(problems)) => Err(problems),
            Err(NoBook::Balance(balance)) => Err(vec![unbalanced(&[balance])]),
        });
    }
    if let Some(done) = office::make(id, e, job, given) {
        return Some(done.and_then(made));
    }
    if let Some(done) = printed::make(id, e, job, given.firm.as_ref()) {
        return Some(done.and_then(made));
    }
    if let Some((_, _, paper)) = PAPERS.iter().find(|(name, ..)| *name == id) {
        return Some(made(paper(e).into_bytes()));
    }
    if let Some(drawing) = id.strip_prefix(DRAWINGS).and_then(|d| d.strip_suffix(".svg")) {
        let found = tankwright_draw::drawing(e, drawing)?;
        return Some(made(found.svg.into_bytes()));
    }
    let (_, text) = site_files(e).into_iter().find(|(path, _)| path == id)?;
    Some(made(text.into_bytes()))
}

fn mime(id: &str) -> &'static str {
    match id.rsplit('.').next() {
        Some("xlsx") => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        Some("pdf") => "application/pdf",
        Some("png") => "image/png",
        Some("csv") => "text/csv; charset=utf-8",
        Some("json") => "application/json",
        Some("svg") => "image/svg+xml",
        Some("ics") => "text/calendar; charset=utf-8",
        _ => "text/plain; charset=utf-8",
    }
}
