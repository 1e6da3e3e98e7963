//! The JSON of `cheapest`: fields are only ever added.

use serde::Serialize;
use tankwright_cheapest::{Beyond, Chosen, How, Report};
use tankwright_quantities::decimal::plain;
use tankwright_quantities::words::look_up;
use tankwright_sizing::sized::short;

use super::{area, built, lost, metres, money};

#[derive(Serialize)]
struct Out {
    format: u8,
    job: String,
    rule: String,
    asked_l: Option<String>,
    currency: String,
    candidates: u64,
    candidates_priced: u64,
    candidates_not_complying: u64,
    candidates_refused: u64,
    beyond_candidates: u64,
    seconds: String,
    searched: Vec<AxisOut>,
    drawn: DrawnOut,
    best: Vec<TankOut>,
    frontier: Vec<TankOut>,
    choices: Vec<TankOut>,
    bounds: Vec<BoundOut>,
    not_complying: Vec<MissOut>,
    refused: Vec<RefusedOut>,
    cautions: Vec<String>,
    not_checked: Vec<String>,
}

#[derive(Serialize)]
struct AxisOut {
    name: &'static str,
    values: Vec<String>,
    count: usize,
    from: &'static str,
    default: Option<&'static str>,
}

#[derive(Serialize)]
struct DrawnOut {
    total: String,
    chambers: Vec<String>,
    width: String,
    height: String,
    plan_area: String,
    provided_l: Option<String>,
    complies: Option<bool>,
}

#[derive(Serialize)]
struct TankOut {
    candidate: u64,
    total: String,
    chambers: Vec<String>,
    width: String,
    height: String,
    plan_area: String,
    provided_l: String,
    unit: String,
    wall: String,
    partition: String,
    face: String,
    cover: String,
    span_beam: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    job: Option<String>,
}

#[derive(Serialize)]
struct BoundOut {
    limit: String,
    end: &'static str,
    value: Option<String>,
    looked_at: Option<String>,
    best: Option<String>,
    saves: Option<String>,
}

#[derive(Serialize)]
struct MissOut {
    limit: String,
    times: u64,
}

#[derive(Serialize)]
struct RefusedOut {
    code: &'static str,
    times: u64,
    first_candidate: u64,
    message: String,
}

/// The report; `seconds` as a decimal. Lengths are metres, areas m2, both plain decimals in text.
#[must_use]
pub fn json(r: &Report, seconds: &str) -> String {
    let [not_complying, refused] = lost(r);
    let out = Out {
        format: 1,
        job: r.title.clone(),
        rule: r.sized.about.rule.clone(),
        asked_l: r.sized.capacity_l().map(plain),
        currency: r.currency.code.clone(),
        candidates: r.candidates,
        candidates_priced: r.tally.priced,
        candidates_not_complying: not_complying,
        candidates_refused: refused,
        beyond_candidates: r.beyond_candidates,
        seconds: seconds.to_owned(),
        searched: r.space.axes.iter().map(axis).collect(),
        drawn: DrawnOut {
            total: money(r, r.drawn.total),
            chambers: r.drawn.chambers.iter().map(|l| metres(*l)).collect(),
            width: metres(r.drawn.width),
            height: metres(r.drawn.height),
            plan_area: area(r.drawn.plan),
            provided_l: r.drawn.litres.map(|l| short(l.floor())),
            complies: r.drawn.complies,
        },
        best: r.best.iter().map(|c| tank(r, c)).collect(),
        frontier: r.frontier.iter().map(|c| tank(r, c)).collect(),
        choices: r.choices.iter().map(|c| tank(r, c)).collect(),
        bounds: bounds(r),
        not_complying: r
            .tally
            .missed
            .iter()
            .map(|(limit, times)| MissOut { limit: limit.clone(), times: *times })
            .collect(),
        refused: r
            .tally
            .refused
            .iter()
            .map(|(code, c)| RefusedOut {
                code,
                times: c.times,
                first_candidate: c.first + 1,
                message: c.words.clone(),
            })
            .collect(),
        cautions: super::text::cautions(r),
        not_checked: r.sized.not_checked.clone(),
    };
    // Plain data always has a JSON form.
    serde_json::to_string_pretty(&out).map(|text| text + "\n").unwrap_or_default()
}

fn axis(a: &tankwright_cheapest::Axis) -> AxisOut {
    let (from, default) = match a.how {
        How::Option => ("command-line", None),
        How::Job => ("job", None),
        How::Default(key) => ("default", Some(look_up(key))),
    };
    AxisOut { name: a.name, values: a.values.clone(), count: a.count, from, default }
}

fn tank(r: &Report, c: &Chosen) -> TankOut {
    let [unit, wall, partition, face, cover, span_beam] = built(c);
    TankOut {
        candidate: c.row.number + 1,
        total: money(r, c.row.total),
        chambers: c.chambers.iter().map(|l| metres(*l)).collect(),
        width: metres(c.width),
        height: metres(c.height),
        plan_area: area(c.row.plan),
        provided_l: short(c.row.litres.floor()),
        unit,
        wall,
        partition,
        face,
        cover,
        span_beam,
        job: (!c.job.is_empty()).then(|| c.job.clone()),
    }
}

/// Limits by their names; `saves` is the best total less the best one step looser, where that is lower.
fn bounds(r: &Report) -> Vec<BoundOut> {
    let best = r.best.first().map(|c| c.row.total);
    let saves =
        |total: rust_decimal::Decimal| best.map(|b| money(r, (b - total).max(rust_decimal::Decimal::ZERO)));
    let range = |b: &Beyond| BoundOut {
        limit: b.name.to_owned(),
        end: if b.over { "most" } else { "least" },
        value: Some(metres(b.end)),
        looked_at: Some(metres(b.at)),
        best: b.best.map(|t| money(r, t)),
        saves: b.best.and_then(saves),
    };
    let looser = r.looser.iter().map(|l| BoundOut {
        limit: l.name.clone(),
        end: if l.name == "max_plan" { "most" } else { "rule" },
        value: None,
        looked_at: None,
        best: Some(money(r, l.total)),
        saves: saves(l.total),
    });
    r.beyond.iter().map(range).chain(looser).collect()
}
