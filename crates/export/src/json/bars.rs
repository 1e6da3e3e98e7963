//! Bar schedule and cutting plan as JSON: fields are only ever added. Lengths are plain numbers, mm.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Number;
use tankwright_geometry::Len;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::steel::{Cutting, Mark};

use super::{JobOut, ended, job, write};
use crate::text::bars::millimetres;

#[derive(Serialize)]
struct BarsOut<'a> {
    format: u8,
    job: JobOut<'a>,
    marks: Vec<MarkOut<'a>>,
    cutting: Vec<CuttingOut<'a>>,
    mass_per_metre: Vec<MassOut<'a>>,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct MarkOut<'a> {
    mark: &'a str,
    member: String,
    grade: &'a str,
    diameter: u32,
    shape: &'static str,
    count: u64,
    /// By letter; a whole number of mm, or one decimal.
    dims: BTreeMap<char, Number>,
    length_mm: i64,
    mass_kg: String,
    stage: &'static str,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct CuttingOut<'a> {
    grade: &'a str,
    diameter: u32,
    stock_mm: i64,
    kerf_mm: i64,
    bars: u64,
    bound: u64,
    proved_least: bool,
    patterns: Vec<PatternOut>,
    bought: Vec<BoughtOut>,
    /// Offcuts of 300 mm and more.
    offcuts_kept: Vec<KeptOut>,
}

#[derive(Serialize)]
struct PatternOut {
    times: u64,
    pieces_mm: Vec<i64>,
    offcut_mm: i64,
    /// The stage the bar is bought for.
    stage: &'static str,
    /// The stage that needs each piece, in the order of `pieces_mm`.
    pieces_stage: Vec<&'static str>,
}

#[derive(Serialize)]
struct BoughtOut {
    stage: &'static str,
    bars: u64,
}

#[derive(Serialize)]
struct KeptOut {
    length_mm: i64,
    count: u64,
}

#[derive(Serialize)]
struct MassOut<'a> {
    grade: &'a str,
    diameter: u32,
    kg: String,
}

/// Schedule and cutting plan as JSON.
#[must_use]
pub fn bars(e: &Estimate) -> String {
    write(&BarsOut {
        format: 1,
        job: job(e),
        marks: e.steel.marks.iter().map(mark).collect(),
        cutting: e.steel.cutting.iter().map(cutting).collect(),
        mass_per_metre: e
            .steel
            .mass_per_metre
            .iter()
            .map(|(bar, kg)| MassOut { grade: &bar.grade, diameter: bar.diameter, kg: ended(*kg) })
            .collect(),
        remarks: e.steel.remarks.iter().map(ToString::to_string).collect(),
    })
}

fn mark(m: &Mark) -> MarkOut<'_> {
    MarkOut {
        mark: &m.mark,
        member: m.member.to_string(),
        grade: &m.bar.grade,
        diameter: m.bar.diameter,
        shape: m.shape,
        count: m.count,
        dims: m.dims.iter().filter_map(|(letter, len)| Some((*letter, number(len)?))).collect(),
        length_mm: m.length_mm,
        mass_kg: ended(m.mass),
        stage: m.stage.id(),
        remarks: m.remarks.iter().map(ToString::to_string).collect(),
    }
}

/// Digits as they are printed, without a detour through binary figures.
fn number(len: &Len) -> Option<Number> {
    millimetres(len).trim_end_matches("...").parse().ok()
}

fn cutting(c: &Cutting) -> CuttingOut<'_> {
    CuttingOut {
        grade: &c.bar.grade,
        diameter: c.bar.diameter,
        stock_mm: c.stock_mm,
        kerf_mm: c.kerf_mm,
        bars: c.bars,
        bound: c.bound,
        proved_least: c.proved_least(),
        patterns: c
            .patterns
            .iter()
            .map(|p| PatternOut {
                times: p.times,
                pieces_mm: p.pieces.iter().map(|(mm, _)| *mm).collect(),
                offcut_mm: p.offcut_mm,
                stage: p.stage.id(),
                pieces_stage: p.pieces.iter().map(|(_, s)| s.id()).collect(),
            })
            .collect(),
        bought: c.bought.iter().map(|(s, bars)| BoughtOut { stage: s.id(), bars: *bars }).collect(),
        offcuts_kept: c.kept.iter().map(|&(length_mm, count)| KeptOut { length_mm, count }).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handmade;
    use serde_json::{Value, json};

    #[test]
    fn binding_fields_of_the_bars() -> serde_json::Result<()> {
        let out: Value = serde_json::from_str(&bars(&handmade::estimate()))?;
        assert_eq!(out["format"], 1);
        let mark = &out["marks"][1];
        for (key, value) in [
            ("mark", json!("2")),
            ("member", json!("columns, starter bars")),
            ("grade", json!("Y")),
            ("diameter", json!(10)),
            ("shape", json!("11")),
            ("count", json!(4)),
            ("dims", json!({"A": 1200, "B": 212.5})),
            ("length_mm", json!(1400)),
            // 4 x 1.400 x 0.617
            ("mass_kg", json!("3.4552")),
            ("stage", json!("walls-lower")),
        ] {
            assert_eq!(mark[key], value, "{key}");
        }
        let cutting = &out["cutting"][0];
        for (key, value) in [
            ("grade", json!("Y")),
            ("diameter", json!(10)),
            ("stock_mm", json!(6000)),
            ("kerf_mm", json!(0)),
            ("bars", json!(5)),
            ("bound", json!(5)),
            ("proved_least", json!(true)),
        ] {
            assert_eq!(cutting[key], value, "{key}");
        }
        let pattern = &cutting["patterns"][1];
        assert_eq!(pattern["times"], 1);
        assert_eq!(pattern["pieces_mm"], json!([1850, 1400, 1400]));
        assert_eq!(pattern["offcut_mm"], 6000 - 1850 - 2 * 1400);
        Ok(())
    }
}
