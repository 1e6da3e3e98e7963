//! What the page shows of a job: read, changed, measured and priced by the same calls as the commands.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use tankwright_draw::{Drawing, drawing};
use tankwright_export::format::{NO_BREAK, grouped, quantity};
use tankwright_export::{json, text};
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::{Balance, Estimate, Failure};
use tankwright_quantities::flow::Settings;
use tankwright_quantities::job::Job;
use tankwright_quantities::job::edit::edited;
use tankwright_quantities::job::spans::{Span, written};
use tankwright_quantities::problem::{Problem, Severity, in_order};
use tankwright_quantities::rates::PriceList;
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_run as run;

use crate::desk::Desk;
use crate::form::{Form, Group};
use crate::papers;
use crate::problems::{Said, Text};

/// The drawing that is looked at first.
const FIRST: &str = "long-section";

/// What the page asks.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Ask {
    /// The job file.
    pub(crate) text: String,
    /// What was typed at fields since.
    #[serde(default)]
    pub(crate) edits: Vec<Typed>,
    /// The paper that is looked at besides the bill: `orders`, `materials`, `bars`.
    #[serde(default)]
    pub(crate) show: String,
    /// Id of the drawing that is looked at.
    #[serde(default)]
    pub(crate) picture: String,
    /// The lists of drawings and papers too: nobody needs them while a key is typed.
    #[serde(default)]
    pub(crate) lists: bool,
}

/// Something typed at a field.
#[derive(Debug, Deserialize)]
pub(crate) struct Typed {
    pub(crate) path: String,
    pub(crate) value: String,
}

/// What the page gets.
#[derive(Debug, Serialize)]
pub(crate) struct Answer {
    format: u8,
    text: String,
    /// `priced`, `unpriced`, `refused`, `fault`.
    state: &'static str,
    problems: Vec<Said>,
    questions: Vec<Group>,
    lengths: Vec<Group>,
    lists: Vec<String>,
    #[serde(flatten)]
    made: Option<Shown>,
}

/// What is shown of an estimate.
#[derive(Debug, Serialize)]
struct Shown {
    title: String,
    date: String,
    profile: String,
    /// What is built, what it holds, what the rule says: lines of the screen.
    scope: Vec<String>,
    holds: String,
    sizing: Option<Verdict>,
    four: Vec<[String; 2]>,
    balances: usize,
    /// How amounts of money are grouped, as `[job] numbers` says it.
    numbers: &'static str,
    cautions: Vec<CautionSaid>,
    defaults: Vec<[String; 3]>,
    /// Id and title of every drawing; with the papers, where they are asked for.
    drawings: Option<Vec<[String; 2]>>,
    /// The drawing that is looked at.
    picture: Option<Picture>,
    papers: Option<Vec<papers::Listed>>,
    /// The JSON of `tankwright bill`.
    bill: Box<RawValue>,
    /// The JSON of the command that is looked at.
    paper: Option<Box<RawValue>>,
}

#[derive(Debug, Serialize)]
struct Verdict {
    says: String,
    complies: Option<bool>,
    reasons: Vec<String>,
}

#[derive(Debug, Serialize)]
struct CautionSaid {
    code: &'static str,
    says: String,
    source: String,
    line: Option<usize>,
}

/// A drawing.
#[derive(Debug, Serialize)]
struct Picture {
    id: String,
    title: String,
    alt: String,
    svg: String,
}

/// A job of the page.
pub(crate) struct Read {
    pub(crate) job: Job,
    pub(crate) text: String,
    pub(crate) spans: BTreeMap<String, Span>,
    /// Problems of the text alone.
    pub(crate) problems: Vec<Problem>,
}

/// What came of it.
pub(crate) enum Came {
    /// An estimate, and why it has no prices.
    Made(Arc<Estimate>, Vec<Problem>),
    /// Refused.
    Refused(Vec<Problem>),
    /// A fault of the program.
    Fault(Vec<Balance>),
}

impl Came {
    /// The estimate, and why it has no prices.
    ///
    /// # Errors
    /// Why there is none.
    pub(crate) fn made(self) -> Result<(Arc<Estimate>, Vec<Problem>), Vec<Problem>> {
        match self {
            Self::Made(e, unpriced) => Ok((e, unpriced)),
            Self::Refused(problems) => Err(problems),
            Self::Fault(balances) => Err(vec![unbalanced(&balances)]),
        }
    }

    /// The estimate, priced.
    ///
    /// # Errors
    /// Why there is none, or no prices.
    pub(crate) fn priced(self) -> Result<Arc<Estimate>, Vec<Problem>> {
        let (e, unpriced) = self.made()?;
        if e.bill.total.is_some() { Ok(e) } else { Err(unpriced) }
    }
}

impl Desk {
    /// Reads another job than that of the page.
    pub(crate) fn read_as(&self, name: &str, text: &str) -> Read {
        let (job, problems) = run::read_job(name, text, false);
        Read { job, text: text.to_owned(), spans: BTreeMap::new(), problems }
    }

    /// Reads the job of the page, as changed.
    pub(crate) fn read(&self, ask: &Ask, trail: bool) -> Read {
        let name = &self.given.name;
        let mut text = ask.text.clone();
        let (mut job, mut problems) = run::read_job(name, &text, trail);
        let mut lost = Vec::new();
        for typed in &ask.edits {
            let edit = run::typed::edit(&typed.path, &typed.value);
            let known = run::typed::field_of(&typed.path).is_some();
            let drops = matches!(edit, tankwright_quantities::job::edit::Edit::Drop(_));
            if drops && !written(&text).contains_key(&typed.path) {
                continue;
            }
            match edited(&text, &job, &[edit]) {
                Ok(out) if known => {
                    text = out;
                    (job, problems) = run::read_job(name, &text, trail);
                }
                _ => lost.push(typed.path.clone()),
            }
        }
        problems.extend(lost.iter().map(|path| {
            let message = format!("{path} cannot be replaced in the way this file is written");
            Problem::error("W001", job.place(path), message).hint("change it in the text of the job")
        }));
        let spans = written(&text);
        Read { job, text, spans, problems }
    }

    /// The price list that a job names.
    pub(crate) fn list_of(&self, job: &Job) -> Result<std::sync::Arc<PriceList>, Problem> {
        let name = job.text("job.rates");
        let known = self.list_names().join(", ");
        if name.is_empty() {
            let place = job.place("job.rates").or_else(|| job.place("job"));
            let problem =
                Problem::error("W005", place, "job.rates: no price list is named, so there are no prices");
            let problem = Problem { severity: Severity::Caution, ..problem };
            return Err(problem.hint(format!("choose one: {known}; or drop your own on the page")));
        }
        self.list(name).ok_or_else(|| {
            let message = format!("job.rates: there is no price list `{name}` on this page");
            let problem = Problem::error("W002", job.place("job.rates"), message).label("not on the page");
            problem.hint(format!("here are: {known}; drop your own on the page, it reads no files by itself"))
        })
    }

    /// Measures and prices a job.
    pub(crate) fn estimate(&self, read: &Read) -> Came {
        let data = &self.given.data;
        let job = &read.job;
        let mut refused = read.problems.clone();
        if job.given("sizing") {
            refused.extend(run::check_sizing(job, &data.rules));
        }
        if job.given("cheapest") {
            refused.extend(run::check_search(job, &data.stock));
        }
        if refused.iter().any(|p| p.severity == Severity::Error) {
            return Came::Refused(refused);
        }
        let (list, mut unpriced) = match self.list_of(job) {
            Ok(list) => (Some(list), Vec::new()),
            Err(problem) => (None, vec![problem]),
        };
        match run::estimate(job, &data.stock, list.as_deref(), &Settings::default(), false) {
            Ok(mut made) => {
                if job.given("sizing") {
                    run::say_sizing(&mut made.estimate, job, &data.rules);
                }
                run::own_data(&mut made.estimate, &data.stock, &data.whence);
                unpriced.extend(made.unpriced);
                unpriced.extend(refused);
                Came::Made(Arc::new(made.estimate), unpriced)
            }
            Err(Failure::Job(problems) | Failure::Rates(problems)) => {
                refused.extend(problems);
                Came::Refused(refused)
            }
            Err(Failure::Balance(balances)) => Came::Fault(balances),
        }
    }

    /// The same; a job that was measured a moment ago is not measured again.
    pub(crate) fn looked(&self, read: &Read) -> Came {
        let list = self.list_of(&read.job).ok();
        // What was typed may be wrong though the text is as before.
        if read.problems.iter().any(|p| p.severity == Severity::Error) {
            return self.estimate(read);
        }
        if let Some((estimate, unpriced)) = self.measured(&read.text, list.as_ref()) {
            return Came::Made(estimate, unpriced);
        }
        let came = self.estimate(read);
        if let Came::Made(estimate, unpriced) = &came {
            self.keep_measured(&read.text, list, (estimate.clone(), unpriced.clone()));
        }
        came
    }

    /// All that the page shows.
    pub(crate) fn answer(&self, ask: &Ask) -> Answer {
        let read = self.read(ask, false);
        let data = &self.given.data;
        let lists = self.list_names();
        let form = Form {
            job: &read.job,
            text: &read.text,
            spans: &read.spans,
            stock: &data.stock,
            rules: &data.rules,
            lists: lists.clone(),
        };
        let (questions, lengths) = (form.questions(), form.lengths());
        let (state, mut problems, made) = match self.looked(&read) {
            Came::Made(e, unpriced) => {
                let state = if e.bill.total.is_some() { "priced" } else { "unpriced" };
                (state, unpriced, Some(shown(&e, (&read.job, self.given.firm.as_ref()), ask)))
            }
            Came::Refused(problems) => ("refused", problems, None),
            Came::Fault(balances) => ("fault", vec![unbalanced(&balances)], None),
        };
        in_order(&mut problems);
        let text = Text { name: &self.given.name, text: &read.text, spans: &read.spans };
        let problems = text.said(&problems);
        Answer { format: 1, text: read.text, state, problems, questions, lengths, lists, made }
    }
}

/// A fault of the program, with the figures that do not agree.
pub(crate) fn unbalanced(balances: &[Balance]) -> Problem {
    let broken = balances.iter().filter(|b| !b.holds());
    let said = |b: &Balance| format!("{}: {} is not {} {}", b.name, plain(b.left), plain(b.right), b.unit);
    let all: Vec<String> = broken.map(said).collect();
    let message = format!("the books do not balance; this is a fault of the program: {}", all.join("; "));
    Problem::error("W000", None, message).hint("please report it, with the job file")
}

fn plain(value: tankwright_geometry::Ratio) -> String {
    decimal::plain(value)
}

fn raw(json: String) -> Box<RawValue> {
    // What the exports write is JSON; were it not, the page would show nothing of it.
    RawValue::from_string(json).unwrap_or_else(|_| RawValue::NULL.to_owned())
}

fn shown(e: &Estimate, (job, firm): (&Job, Option<&crate::desk::FirmText>), ask: &Ask) -> Shown {
    let paper = match ask.show.as_str() {
        "orders" => Some(json::orders(e, None)),
        "materials" => Some(json::materials(e)),
        "bars" => Some(json::bars(e)),
        _ => None,
    };
    let drawings = ask.lists.then(|| tankwright_draw::listed(e));
    let caution = |c: &tankwright_quantities::estimate::Caution| CautionSaid {
        code: c.code,
        says: c.says.to_string(),
        source: c.source.clone(),
        line: c.place.as_ref().map(|p| p.line),
    };
    Shown {
        title: e.title.clone(),
        date: e.date.clone(),
        profile: e.profile.0.clone(),
        scope: e.scope.iter().map(|p| p.to_string()).collect(),
        holds: text::capacity_line(e),
        sizing: e.sizing.as_ref().map(|s| Verdict {
            says: s.says.to_string(),
            complies: s.complies,
            reasons: s.reasons.clone(),
        }),
        four: four(e),
        balances: e.balances.len(),
        numbers: e.bill.currency.grouping.id(),
        cautions: e.cautions_of_job().map(caution).collect(),
        defaults: e.defaults.iter().map(|d| [d.path.clone(), d.value.clone(), d.source.clone()]).collect(),
        papers: drawings.as_deref().map(|all| papers::list(e, (job, firm), all)),
        drawings: drawings.map(|all| all.into_iter().map(|(id, title)| [id, title]).collect()),
        picture: drawn(e, &ask.picture).map(|Drawing { id, title, alt, svg, .. }| Picture {
            id,
            title,
            alt,
            svg,
        }),
        bill: raw(json::bill(e)),
        paper: paper.map(raw),
    }
}

/// The drawing that is looked at; where there is none of this id the long section.
pub(crate) fn drawn(e: &Estimate, id: &str) -> Option<Drawing> {
    drawing(e, id).or_else(|| drawing(e, FIRST))
}

/// The four numbers that are told apart: figure and what it is.
fn four(e: &Estimate) -> Vec<[String; 2]> {
    let m3 = |d| format!("{} m\u{b3}", grouped(d, 2).replace(NO_BREAK, "\u{2009}"));
    let earth = &e.earth;
    let mut four = vec![
        [m3(earth.dug_net), look_up("paper-earth-billed").to_owned()],
        [m3(earth.dug_actual), look_up("paper-earth-dug").to_owned()],
        [m3(earth.put_back), look_up("paper-earth-back").to_owned()],
        [m3(earth.carted_loose), look_up("paper-earth-carted-loose").to_owned()],
    ];
    if let (Some((loads, size)), Some(last)) = (&earth.loads, four.last_mut()) {
        let words = if *loads == 1 { "web-one-load" } else { "web-loads" };
        let said = Phrase { key: words, args: vec![loads.to_string(), quantity(*size, 0)] };
        last[1] = format!("{}, {said}", last[1]);
    }
    four
}
