//! The JSON of `size`: fields are only ever added.

use serde::Serialize;
use tankwright_quantities::estimate::Caution as Told;
use tankwright_sizing::report::Outcome;
use tankwright_sizing::rule::Limit;
use tankwright_sizing::sized::{About, Amount, Answer, Beside, Sized, Taken, Worked};
use tankwright_sizing::{Refused, Report};

use super::drawn_json::{self as drawn, ChamberOut, CheckOut, JobOut, JudgedOut, OtherOut, PitsOut};
use super::{bounds, measured_to, plain};

#[derive(Serialize)]
struct One {
    format: u8,
    job: Option<JobOut>,
    #[serde(flatten)]
    rule: RuleOut,
    percolation: Vec<AmountOut>,
    soakage: Vec<RuleOut>,
    checks: Vec<CheckOut>,
    job_cautions: Vec<CautionOut>,
    overridden: Vec<String>,
}

#[derive(Serialize)]
struct All {
    format: u8,
    job: Option<JobOut>,
    given: Vec<InputOut>,
    percolation: Vec<AmountOut>,
    not_checked: Vec<String>,
    rules: Vec<RuleOut>,
    soakage: Vec<RuleOut>,
    checks: Vec<CheckOut>,
    job_cautions: Vec<CautionOut>,
    overridden: Vec<String>,
}

#[derive(Default, Serialize)]
struct RuleOut {
    rule: String,
    kind: &'static str,
    source: String,
    seen: String,
    recalled: bool,
    confidence: String,
    status: &'static str,
    status_note: String,
    measured_to: Option<&'static str>,
    surface: String,
    inputs: Vec<InputOut>,
    capacity_l: Option<String>,
    answers: Vec<AnswerOut>,
    beside: Vec<BesideOut>,
    no_result: String,
    chambers: Vec<ChamberOut>,
    chambers_l: Option<String>,
    chambers_notes: Vec<String>,
    shape: Vec<LimitOut>,
    distances: Vec<LimitOut>,
    levels: Vec<LevelOut>,
    emptying: Option<EmptyingOut>,
    working: Vec<WorkOut>,
    doubts: Vec<String>,
    cautions: Vec<CautionOut>,
    complies: Option<bool>,
    provided_l: Option<String>,
    provided_to_inlet_l: Option<String>,
    margin_l: Option<String>,
    other_level: Option<OtherOut>,
    judged: Vec<JudgedOut>,
    soak_pits: Option<PitsOut>,
    distances_judged: Vec<JudgedOut>,
    reasons: Vec<String>,
    not_checked: Vec<String>,
    unused: Vec<String>,
    refused: Option<Vec<String>>,
    needs: Vec<String>,
}

#[derive(Serialize)]
struct InputOut {
    name: String,
    value: String,
    how: String,
}

#[derive(Serialize)]
struct AmountOut {
    name: String,
    value: String,
    unit: String,
}

#[derive(Serialize)]
struct AnswerOut {
    id: String,
    title: String,
    value: String,
    unit: String,
    asked: String,
    asked_unit: String,
}

#[derive(Serialize)]
struct BesideOut {
    words: String,
    answer: AnswerOut,
    working: Vec<WorkOut>,
}

#[derive(Serialize)]
struct LimitOut {
    what: String,
    asked: String,
    recalled: bool,
    source: String,
}

#[derive(Serialize)]
struct LevelOut {
    asked_m: String,
    have_m: Option<String>,
    met: Option<bool>,
    words: String,
    source: String,
}

#[derive(Serialize)]
struct EmptyingOut {
    every_years: Option<String>,
    sludge_l: Option<String>,
    half_full: Vec<HalfOut>,
}

#[derive(Serialize)]
struct HalfOut {
    l_per_person_year: String,
    years: String,
}

#[derive(Serialize)]
struct WorkOut {
    step: String,
    title: String,
    how: String,
    value: Option<String>,
    unit: String,
    row: Vec<AmountOut>,
    notes: Vec<String>,
    source: String,
}

#[derive(Serialize)]
struct CautionOut {
    id: &'static str,
    text: String,
    source: String,
}

/// The report as JSON, two spaces a step, with a line end.
#[must_use]
pub fn json(r: &Report) -> String {
    let percolation = || {
        let form = |(unit, n): &(&str, _)| AmountOut {
            name: "percolation".to_owned(),
            value: plain(*n),
            unit: (*unit).to_owned(),
        };
        r.test.iter().map(form).collect()
    };
    let outs = |all: &[Outcome]| all.iter().map(rule).collect::<Vec<_>>();
    // Plain data: writing it to memory does not fail.
    let text = match (&r.rules[..], r.asked.as_str()) {
        ([one], asked) if asked != "all" => serde_json::to_string_pretty(&One {
            format: 1,
            job: drawn::job(r),
            rule: with_left(rule(one), r),
            percolation: percolation(),
            soakage: outs(&r.soakage),
            checks: drawn::checks(r),
            job_cautions: told(r),
            overridden: r.overridden.clone(),
        }),
        (rules, _) => serde_json::to_string_pretty(&All {
            format: 1,
            job: drawn::job(r),
            given: r.inputs.iter().map(|(n, v)| input(n, v, "given")).collect(),
            percolation: percolation(),
            not_checked: r.left(),
            rules: outs(rules),
            soakage: outs(&r.soakage),
            checks: drawn::checks(r),
            job_cautions: told(r),
            overridden: r.overridden.clone(),
        }),
    };
    text.unwrap_or_default() + "\n"
}

/// What of the job is not checked, beside what of the rule is not.
fn with_left(mut rule: RuleOut, r: &Report) -> RuleOut {
    rule.not_checked.extend(r.left());
    rule
}

fn told(r: &Report) -> Vec<CautionOut> {
    let one = |c: &Told| CautionOut { id: c.code, text: c.says.to_string(), source: c.source.clone() };
    r.told.iter().map(one).collect()
}

fn input(name: &str, value: &str, how: &str) -> InputOut {
    InputOut { name: name.to_owned(), value: value.to_owned(), how: how.to_owned() }
}

fn rule(outcome: &Outcome) -> RuleOut {
    match outcome {
        Ok(sized) => worked(sized),
        Err(refused) => refusal(refused),
    }
}

fn about(a: &About) -> RuleOut {
    RuleOut {
        rule: a.rule.clone(),
        kind: a.kind.id(),
        source: a.cite.clone(),
        seen: a.seen.clone(),
        recalled: a.recalled,
        confidence: a.confidence.clone(),
        status: a.status.id(),
        status_note: a.status_note.clone(),
        measured_to: measured_to(a.measured_to),
        surface: a.surface.clone(),
        ..RuleOut::default()
    }
}

fn refusal(r: &Refused) -> RuleOut {
    RuleOut {
        refused: Some(r.reasons.clone()),
        needs: r.needs.clone(),
        working: r.working.iter().map(work).collect(),
        ..about(&r.about)
    }
}

fn worked(s: &Sized) -> RuleOut {
    let chamber = |c: &tankwright_sizing::sized::Chamber| ChamberOut {
        length_m: plain(c.length),
        width_m: plain(c.width),
        water_depth_m: plain(c.depth),
        water_line_m: None,
        volume_l: plain(c.litres),
        share: plain(c.share),
    };
    let v = s.verdict.as_ref();
    RuleOut {
        complies: v.and_then(|v| v.complies),
        provided_l: v.and_then(|v| v.provided).map(|l| plain(l.floor())),
        provided_to_inlet_l: v.and_then(|v| v.to_inlet).map(|l| plain(l.floor())),
        margin_l: v.and_then(|v| v.margin).map(plain),
        other_level: v.and_then(drawn::other),
        judged: v.map(|v| drawn::judged(&v.found)).unwrap_or_default(),
        distances_judged: drawn::judged(&s.distances),
        reasons: v.map(|v| v.reasons.clone()).unwrap_or_default(),
        soak_pits: s.pits.as_ref().map(drawn::pits),
        inputs: s.inputs.iter().map(|Taken { name, value, how }| input(name, value, how)).collect(),
        capacity_l: s.capacity_l().map(plain),
        answers: s.answers.iter().map(answer).collect(),
        beside: s
            .beside
            .iter()
            .map(|Beside { words, answer: a, working }| BesideOut {
                words: words.clone(),
                answer: answer(a),
                working: working.iter().map(work).collect(),
            })
            .collect(),
        no_result: s.no_result.clone(),
        chambers: s.proposal.chambers.iter().map(chamber).collect(),
        chambers_l: (!s.proposal.chambers.is_empty()).then(|| plain(s.proposal.litres)),
        chambers_notes: s.proposal.notes.clone(),
        shape: s.shape.iter().map(limit).collect(),
        distances: s.clear.iter().map(limit).collect(),
        levels: s
            .levels
            .iter()
            .map(|l| LevelOut {
                asked_m: plain(l.asked),
                have_m: l.have.map(plain),
                met: l.met,
                words: l.words.clone(),
                source: l.source.clone(),
            })
            .collect(),
        emptying: s.emptied.as_ref().map(|e| EmptyingOut {
            every_years: e.every.map(plain),
            sludge_l: e.sludge.map(plain),
            half_full: e
                .half_full
                .iter()
                .map(|(rate, years)| HalfOut { l_per_person_year: plain(*rate), years: plain(*years) })
                .collect(),
        }),
        working: s.working.iter().map(work).collect(),
        doubts: s.doubts.clone(),
        cautions: s
            .cautions
            .iter()
            .map(|c| CautionOut { id: c.id, text: c.words.clone(), source: c.source.clone() })
            .collect(),
        not_checked: s.not_checked.clone(),
        unused: s.unused.clone(),
        ..about(&s.about)
    }
}

fn amount(name: &str, a: &Amount) -> AmountOut {
    AmountOut { name: name.to_owned(), value: plain(a.number), unit: a.unit.clone() }
}

fn answer(a: &Answer) -> AnswerOut {
    AnswerOut {
        id: a.id.clone(),
        title: a.title.clone(),
        value: plain(a.amount.number),
        unit: a.amount.unit.clone(),
        asked: plain(a.asked.number),
        asked_unit: a.asked.unit.clone(),
    }
}

fn limit(l: &Limit) -> LimitOut {
    LimitOut {
        what: l.name.replace('_', " "),
        asked: bounds(l),
        recalled: l.source.recalled,
        source: l.source.text.clone(),
    }
}

fn work(w: &Worked) -> WorkOut {
    WorkOut {
        step: w.step.clone(),
        title: w.title.clone(),
        how: w.how.clone(),
        value: w.value.as_ref().map(|a| plain(a.number)),
        unit: w.value.as_ref().map(|a| a.unit.clone()).unwrap_or_default(),
        row: w.row.iter().map(|(n, a)| amount(n, a)).collect(),
        notes: w.notes.clone(),
        source: w.source.clone(),
    }
}
