//! What can be asked, and what answers. Everything that is served is in this program: a path is looked up, never opened.

use std::sync::Arc;

use hyper::{Method, StatusCode};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use tankwright_quantities::languages::{self, within};
use tankwright_quantities::problem::Problem;

use crate::answer::Ask;
use crate::desk::Desk;
use crate::guard::{LONGEST_ASK, LONGEST_FILE};
use crate::lists::Head;
use crate::papers;
use crate::problems::{Said, plain};

/// An answer before it is sent.
#[derive(Debug)]
pub(crate) struct Reply {
    pub(crate) status: StatusCode,
    pub(crate) kind: &'static str,
    /// Name of the file it is to be saved as.
    pub(crate) file: Option<String>,
    pub(crate) body: Vec<u8>,
}

/// What the page is made of.
const FILES: [(&str, &str, &str); 8] = [
    ("/", "text/html; charset=utf-8", include_str!("../page/page.html")),
    ("/page.css", "text/css; charset=utf-8", include_str!("../page/page.css")),
    ("/page.js", "text/javascript; charset=utf-8", include_str!("../page/page.js")),
    ("/prices.js", "text/javascript; charset=utf-8", include_str!("../page/prices.js")),
    ("/dims.js", "text/javascript; charset=utf-8", include_str!("../page/dims.js")),
    ("/account.js", "text/javascript; charset=utf-8", include_str!("../page/account.js")),
    ("/site.js", "text/javascript; charset=utf-8", include_str!("../page/site.js")),
    ("/show.js", "text/javascript; charset=utf-8", include_str!("../page/show.js")),
];

const JSON: &str = "application/json";

/// The most that may be sent to a path; nothing where no path of this name takes anything.
pub(crate) fn longest(path: &str) -> usize {
    match path {
        "/list" | "/list/plain" | "/list/map" | "/second" | "/store" => LONGEST_FILE,
        _ => LONGEST_ASK,
    }
}

/// Answers.
pub(crate) fn answer(desk: &Arc<Desk>, method: &Method, path: &str, body: Vec<u8>) -> Reply {
    if method == Method::GET {
        if let Some((_, kind, text)) = FILES.iter().find(|(p, ..)| *p == path) {
            return Reply { status: StatusCode::OK, kind, file: None, body: text.as_bytes().to_vec() };
        }
        return match path {
            "/start" => json(&begin(desk)),
            _ => refuse(StatusCode::NOT_FOUND, "there is no such page"),
        };
    }
    if method != Method::POST {
        return refuse(StatusCode::METHOD_NOT_ALLOWED, "only GET and POST");
    }
    match path {
        "/estimate" => asked(&body, |ask: Ask| json(&desk.answer(&ask))),
        "/compare" => asked(&body, |two| json(&desk.compare(two))),
        "/crosscheck" => asked(&body, |ask| json(&desk.crosscheck(&ask))),
        "/paper" => asked(&body, |ask| paper(desk, &ask)),
        "/cheapest" => asked(&body, |wanted| json(&desk.search_begin(wanted))),
        "/cheapest/look" => asked(&body, |look: Look| match desk.search_look(look.id, look.stop) {
            Some(progress) => json(&progress),
            None => refuse(StatusCode::NOT_FOUND, "this search is not running any more"),
        }),
        "/list" => dropped(&body, |head: Head, bytes| json(&desk.take_list(&head, bytes))),
        "/list/plain" => dropped(&body, |head, bytes| list_paper(desk.list_paper(&head, false, bytes))),
        "/list/map" => dropped(&body, |head, bytes| list_paper(desk.list_paper(&head, true, bytes))),
        "/needs" => asked(&body, |of| json(&desk.needs(&of))),
        "/figures" => asked(&body, |which| json(&desk.figures(&which))),
        "/explain" => asked(&body, |about| json(&desk.explain(&about))),
        "/card" => asked(&body, |about| json(&desk.card(&about))),
        "/store" => dropped(&body, |received, bytes| json(&desk.store(&received, bytes))),
        "/payments" => asked(&body, |ask| json(&desk.payments(&ask))),
        "/vary" => asked(&body, |ask| json(&desk.vary(&ask))),
        "/returned" => asked(&body, |ask| json(&desk.returned(&ask))),
        "/second" => dropped(&body, |head: Head, bytes| json(&desk.take_second(&head, bytes.to_vec()))),
        _ => refuse(StatusCode::NOT_FOUND, "there is no such page"),
    }
}

/// What the page starts with.
#[derive(Serialize)]
struct Begin<'a> {
    version: &'static str,
    name: &'a str,
    text: &'a str,
    samples: Vec<[&'a str; 2]>,
}

fn begin(desk: &Desk) -> Begin<'_> {
    let samples = desk.given.samples.iter().map(|(name, text)| [*name, *text]).collect();
    let (name, text) = (&desk.given.name, &desk.given.text);
    Begin { version: env!("CARGO_PKG_VERSION"), name, text, samples }
}

#[derive(Deserialize)]
struct Look {
    id: u64,
    #[serde(default)]
    stop: bool,
}

#[derive(Deserialize)]
struct PaperAsk {
    text: String,
    paper: String,
}

#[derive(Serialize)]
struct Refused {
    problems: Vec<Said>,
}

fn paper(desk: &Desk, ask: &PaperAsk) -> Reply {
    let trail = papers::TRAILED.iter().any(|id| ask.paper.starts_with(id));
    let read = desk.read(&Ask { text: ask.text.clone(), ..Ask::default() }, trail);
    if ask.paper == "job.toml" {
        // The job file is the user's, right or wrong.
        let file = Some(format!("{}.toml", desk.given.stem));
        let kind = "text/plain; charset=utf-8";
        return Reply { status: StatusCode::OK, kind, file, body: read.text.into_bytes() };
    }
    // What an estimate says in words is written in the language of the paper too.
    let language = papers::language(&ask.paper);
    let usual = !trail && language.id == languages::ENGLISH;
    let came = if usual { desk.looked(&read) } else { within(language, || desk.estimate(&read)).paper };
    let problems = match came.made() {
        Ok((e, _)) => match papers::make(&ask.paper, &e, (&read.job, &read.text), &desk.given) {
            Some(Ok(made)) => {
                return Reply {
                    status: StatusCode::OK,
                    kind: made.mime,
                    file: Some(made.file),
                    body: made.bytes,
                };
            }
            Some(Err(problems)) => problems,
            None => return refuse(StatusCode::NOT_FOUND, "this job has no such paper"),
        },
        Err(problems) => problems,
    };
    Reply { status: StatusCode::UNPROCESSABLE_ENTITY, ..json(&Refused { problems: plain(&problems) }) }
}

/// A paper of a price list: its name and its text.
fn list_paper(made: Result<(String, String), Vec<Problem>>) -> Reply {
    match made {
        Ok((name, text)) => {
            let (status, kind) = (StatusCode::OK, "text/csv; charset=utf-8");
            Reply { status, kind, file: Some(name), body: text.into_bytes() }
        }
        Err(problems) => Reply {
            status: StatusCode::UNPROCESSABLE_ENTITY,
            ..json(&Refused { problems: plain(&problems) })
        },
    }
}

/// A file: one line of JSON that says what it is, and its bytes.
fn dropped<T: DeserializeOwned>(body: &[u8], answer: impl FnOnce(T, &[u8]) -> Reply) -> Reply {
    let end = body.iter().position(|b| *b == b'\n').unwrap_or(body.len());
    let (head, rest) = body.split_at(end);
    asked(head, |head| answer(head, rest.get(1..).unwrap_or_default()))
}

fn asked<T: DeserializeOwned>(body: &[u8], answer: impl FnOnce(T) -> Reply) -> Reply {
    match serde_json::from_slice(body) {
        Ok(ask) => answer(ask),
        Err(_) => refuse(StatusCode::BAD_REQUEST, "this question cannot be read"),
    }
}

fn json<T: Serialize>(value: &T) -> Reply {
    match serde_json::to_vec(value) {
        Ok(body) => Reply { status: StatusCode::OK, kind: JSON, file: None, body },
        Err(_) => refuse(StatusCode::INTERNAL_SERVER_ERROR, "fault of the program: please report it"),
    }
}

/// An answer in plain words.
pub(crate) fn refuse(status: StatusCode, words: &str) -> Reply {
    Reply { status, kind: "text/plain; charset=utf-8", file: None, body: format!("{words}\n").into_bytes() }
}
