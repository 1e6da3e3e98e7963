//! What the rule that a job names says of its tank, in one line for the papers of an estimate, with its cautions.

use tankwright_geometry::Ratio;
use tankwright_quantities::estimate::{Capacity, Caution, Sizing};
use tankwright_quantities::job::Job;
use tankwright_quantities::words::Phrase;

use crate::read::Rules;
use crate::rule::MeasuredTo;
use crate::shape::three;
use crate::size::size_drawn;
use crate::sized::{Refused, Sized};
use crate::verdict::{Drawn, Verdict};

/// Holds a measured tank against the rule of its job; nothing where the job names none.
#[must_use]
pub fn says(rules: &Rules, job: &Job, capacity: &Capacity) -> Option<(Sizing, Vec<Caution>)> {
    let rule = rules.rules.get(crate::job::rule(job)?)?;
    let drawn = Drawn { job, capacity };
    // What is wrong in the job was refused before.
    let (inputs, notes) = crate::job::inputs(job, capacity, &[]).unwrap_or_default();
    Some(match size_drawn(rule, &inputs, Some(drawn)) {
        Ok(mut sized) => {
            sized.not_checked.extend(notes);
            let v = sized.verdict.take().unwrap_or_default();
            (line(&sized, &v), cautions(job, &sized, &v))
        }
        Err(refused) => none(&refused),
    })
}

fn none(refused: &Refused) -> (Sizing, Vec<Caution>) {
    let rule = refused.about.rule.clone();
    let says = Phrase::with("sizing-none", &[&rule, &refused.reasons.join("; ")]);
    let sizing = Sizing {
        rule,
        says,
        asked_l: None,
        provided_l: None,
        margin_l: None,
        complies: None,
        reasons: refused.reasons.clone(),
        not_checked: vec!["everything: the rule gives nothing for this job".to_owned()],
    };
    (sizing, Vec::new())
}

fn line(sized: &Sized, v: &Verdict) -> Sizing {
    let rule = &sized.about.rule;
    let whom = |name: &str| sized.inputs.iter().find(|i| i.name == name);
    let who = ["persons", "bedrooms", "fixture-units"].into_iter().find_map(whom);
    let who = who.map_or_else(String::new, |i| {
        Phrase::with("sizing-for", &[&i.value, &i.name.replace('-', " ")]).to_string()
    });
    let level = match v.to {
        Some(MeasuredTo::Inlet) => Phrase::new("sizing-to-inlet").to_string(),
        _ => String::new(),
    };
    let litres = |n: Option<Ratio>| n.map(grouped).unwrap_or_default();
    let says = match v.complies {
        Some(true) => {
            Phrase::with("sizing-complies", &[rule, &litres(v.asked), &who, &level, &litres(v.margin)])
        }
        Some(false) if v.asked.is_some() => {
            Phrase::with("sizing-fails", &[rule, &litres(v.asked), &who, &level, &v.reasons.join("; ")])
        }
        Some(false) => Phrase::with("sizing-none", &[rule, &v.reasons.join("; ")]),
        None => Phrase::with("sizing-none", &[rule, &sized.no_result]),
    };
    Sizing {
        rule: rule.clone(),
        says,
        asked_l: v.asked,
        provided_l: v.provided.map(Ratio::floor),
        margin_l: v.margin,
        complies: v.complies,
        reasons: v.reasons.clone(),
        not_checked: sized.not_checked.clone(),
    }
}

/// Thousands set apart, as papers do.
fn grouped(n: Ratio) -> String {
    let text = three(n.abs());
    let whole = text.find('.').unwrap_or(text.len());
    let mut out = if n.signum() < 0 { "-".to_owned() } else { String::new() };
    for (i, c) in text.chars().enumerate() {
        if i > 0 && i < whole && (whole - i).is_multiple_of(3) {
            out.push('\u{a0}');
        }
        out.push(c);
    }
    out
}

fn cautions(job: &Job, sized: &Sized, v: &Verdict) -> Vec<Caution> {
    let mut all = Vec::new();
    let mut add = |code, text: &str, source: &str| {
        let says = Phrase::with("plain", &[text]);
        all.push(Caution::new(code, says, source).at(job.place("sizing.rule")));
    };
    if v.complies == Some(false) {
        let text = Phrase::with("sizing-caution", &[&sized.about.rule, &v.reasons.join("; ")]).to_string();
        add("C055", &text, &sized.about.cite);
    }
    for c in &sized.cautions {
        match c.id {
            "emptying" => add("C056", &c.words, &c.source),
            "status" => add("C057", &c.words, &c.source),
            "recalled" => add("C058", &c.words, &c.source),
            _ => {}
        }
    }
    all
}
