//! Materials and orders as JSON: fields are only ever added. Amounts and money are decimal strings.

use rust_decimal::Decimal;
use serde::Serialize;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::materials::{Factor, Rounding, Row, Use};
use tankwright_quantities::orders::{Line, Total};
use tankwright_quantities::programme::Event;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::words::Phrase;

use super::{JobOut, ended, job, money, plain, write};
use crate::format::metres_plain;
use crate::ics::kind;
use crate::text::goods;
use crate::text::materials::{sums, uses, waste_inside};

#[derive(Serialize)]
struct MaterialsOut<'a> {
    format: u8,
    job: JobOut<'a>,
    profile: &'a str,
    rows: Vec<RowOut<'a>>,
    /// A material over the whole job.
    totals: Vec<SumOut<'a>>,
    mixes: Vec<MixOut>,
    remarks: Vec<RemarkOut<'a>>,
}

#[derive(Serialize)]
struct RowOut<'a> {
    material: &'a str,
    unit: &'a str,
    stage: &'static str,
    net: String,
    over_break: String,
    waste_percent: String,
    gross: String,
    title: String,
    /// By the recipes of all its uses.
    waste_inside: bool,
    uses: Vec<UseOut<'a>>,
    /// On the site at once.
    present: String,
}

#[derive(Serialize)]
struct UseOut<'a> {
    /// Id of the item in `takeoff`; null where no item's quantity is used.
    item: Option<&'a str>,
    base: String,
    over_break: bool,
    /// Taken off: `amount` is negative.
    less: bool,
    factors: Vec<FactorOut>,
    amount: String,
    source: String,
}

#[derive(Serialize)]
struct FactorOut {
    /// `times` or `over`.
    does: &'static str,
    /// A number, or a length in metres.
    value: String,
    says: String,
}

#[derive(Serialize)]
struct SumOut<'a> {
    material: &'a str,
    title: &'a str,
    unit: &'a str,
    supplier: &'a str,
    /// `delivery`, `bulk` or `plan`.
    rounding: &'static str,
    net: String,
    over_break: String,
    waste: String,
    gross: String,
    source: String,
}

#[derive(Serialize)]
struct MixOut {
    mix: String,
    stage: &'static str,
    m3: String,
}

#[derive(Serialize)]
struct RemarkOut<'a> {
    says: String,
    source: &'a str,
}

/// The materials as JSON.
#[must_use]
pub fn materials(e: &Estimate) -> String {
    let m = &e.materials;
    write(&MaterialsOut {
        format: 1,
        job: job(e),
        profile: &e.profile.0,
        rows: m.rows.iter().map(|r| row(e, r)).collect(),
        totals: m.materials.iter().map(|m| sum(e, m)).collect(),
        mixes: m.mixes.iter().map(mix).collect(),
        remarks: m.remarks.iter().map(|(s, source)| RemarkOut { says: s.to_string(), source }).collect(),
    })
}

fn mix((mix, stage, m3): &(Phrase, Stage, Decimal)) -> MixOut {
    MixOut { mix: mix.to_string(), stage: stage.id(), m3: plain(*m3) }
}

fn row<'a>(e: &'a Estimate, r: &'a Row) -> RowOut<'a> {
    RowOut {
        material: &r.material,
        unit: goods::unit(e, &r.material),
        stage: r.stage.id(),
        net: plain(r.net),
        over_break: plain(r.over_break),
        waste_percent: plain(r.waste_percent),
        gross: plain(r.gross),
        title: goods::title(e, &r.material),
        waste_inside: waste_inside(e, r),
        uses: uses(e, r).map(use_of).collect(),
        present: plain(r.present),
    }
}

fn use_of(u: &Use) -> UseOut<'_> {
    let factor = |f: &Factor| match f {
        Factor::Number(n) => ("times", ended(*n)),
        Factor::Times(len) => ("times", metres(len)),
        Factor::Over(len) => ("over", metres(len)),
    };
    let factors = u.steps.iter().map(|s| {
        let (does, value) = factor(&s.factor);
        FactorOut { does, value, says: s.says.to_string() }
    });
    UseOut {
        item: Some(u.item.as_str()).filter(|i| !i.is_empty()),
        base: ended(u.base),
        over_break: u.over_break,
        less: u.less,
        factors: factors.collect(),
        amount: ended(u.amount),
        source: u.source.to_string(),
    }
}

/// Exact metres; whole tenths of a millimetre as they are, others with up to twelve places.
fn metres(len: &tankwright_geometry::Len) -> String {
    let tenths = len.value();
    match i64::try_from(tenths.numer()) {
        Ok(n) if tenths.is_known() && tenths.denom() == 1 => metres_plain(n),
        _ => ended(tenths / tankwright_geometry::Ratio::int(10_000)),
    }
}

/// The stable word of a rounding.
pub(crate) const fn rounding(rounding: Rounding) -> &'static str {
    match rounding {
        Rounding::Delivery => "delivery",
        Rounding::Bulk => "bulk",
        Rounding::Plan => "plan",
    }
}

fn sum<'a>(e: &Estimate, m: &'a tankwright_quantities::materials::Material) -> SumOut<'a> {
    let [net, over_break, waste, gross] = sums(e, m).map(plain);
    SumOut {
        material: &m.id,
        title: &m.title,
        unit: &m.unit,
        supplier: &m.supplier,
        rounding: rounding(m.rounding),
        net,
        over_break,
        waste,
        gross,
        source: m.source.to_string(),
    }
}

#[derive(Serialize)]
struct OrdersOut<'a> {
    format: u8,
    job: JobOut<'a>,
    profile: &'a str,
    currency: &'a str,
    stages: Vec<StageOut<'a>>,
    totals: Vec<TotalOut<'a>>,
    /// Part of a pack that is not rounded up.
    tolerance: String,
    groups: Vec<Vec<&'static str>>,
    remarks: Vec<String>,
    cost: Option<String>,
    /// Entries of the calendar, whole days; none where the programme has no dates.
    events: Vec<EventOut<'a>>,
}

#[derive(Serialize)]
struct EventOut<'a> {
    kind: &'static str,
    stage: &'static str,
    from: String,
    /// The last day.
    to: String,
    title: String,
    details: &'a [String],
    source: &'a str,
}

#[derive(Serialize)]
struct StageOut<'a> {
    stage: &'static str,
    title: String,
    lines: Vec<LineOut<'a>>,
}

#[derive(Serialize)]
struct LineOut<'a> {
    material: &'a str,
    unit: &'a str,
    opening: String,
    ordered: String,
    used: String,
    closing: String,
    /// What one pack holds, in the material's unit: `ordered = packs x pack`.
    pack: Option<String>,
    packs: u64,
    cost: Option<String>,
    title: String,
    pack_title: &'a str,
    /// Packs of `packs` that are a reserve.
    reserve: u64,
    /// Not rounded up, within the tolerance.
    let_off: String,
    serves: Vec<&'static str>,
    present: String,
}

#[derive(Serialize)]
struct TotalOut<'a> {
    material: &'a str,
    unit: &'a str,
    ordered: String,
    used: String,
    pack: String,
    packs: u64,
    cost: Option<String>,
    title: String,
    pack_title: &'a str,
    pack_source: &'a str,
    pack_default: bool,
    packs_uncarried: u64,
    rate: Option<String>,
}

/// The orders as JSON, of one stage or all; the totals are always of the whole job.
#[must_use]
pub fn orders(e: &Estimate, stage: Option<&str>) -> String {
    let o = &e.orders;
    let ids = |stages: &[Stage]| stages.iter().map(|s| s.id()).collect();
    let asked = o.stages.iter().filter(|s| stage.is_none_or(|id| s.stage.id() == id));
    write(&OrdersOut {
        format: 1,
        job: job(e),
        profile: &e.profile.0,
        currency: &e.bill.currency.code,
        stages: asked
            .map(|s| StageOut {
                stage: s.stage.id(),
                title: goods::stage(s.stage),
                lines: s.lines.iter().map(|l| line(e, l)).collect(),
            })
            .collect(),
        totals: o.totals.iter().map(|t| total(e, t)).collect(),
        tolerance: plain(o.tolerance),
        groups: o.groups.iter().map(|g| ids(g)).collect(),
        remarks: o.remarks.iter().map(ToString::to_string).collect(),
        cost: money(&e.bill, o.cost),
        events: e
            .programme
            .events
            .iter()
            .filter(|v| stage.is_none_or(|id| v.stage.id() == id))
            .map(event)
            .collect(),
    })
}

fn event(v: &Event) -> EventOut<'_> {
    EventOut {
        kind: kind(v.kind),
        stage: v.stage.id(),
        from: v.from.to_string(),
        to: v.to.to_string(),
        title: v.title.to_string(),
        details: &v.details,
        source: &v.source,
    }
}

fn line<'a>(e: &'a Estimate, l: &'a Line) -> LineOut<'a> {
    let pack = goods::pack(e, &l.material);
    LineOut {
        material: &l.material,
        unit: goods::unit(e, &l.material),
        opening: plain(l.opening),
        ordered: plain(l.ordered),
        used: plain(l.used),
        closing: plain(l.closing),
        pack: pack.map(|p| plain(p.size)),
        packs: l.packs,
        cost: money(&e.bill, l.cost),
        title: goods::title(e, &l.material),
        pack_title: pack.map_or("", |p| p.title.as_str()),
        reserve: l.reserve,
        let_off: plain(l.let_off),
        serves: l.serves.iter().map(|s| s.id()).collect(),
        present: plain(l.present),
    }
}

fn total<'a>(e: &'a Estimate, t: &'a Total) -> TotalOut<'a> {
    TotalOut {
        material: &t.material,
        unit: goods::unit(e, &t.material),
        ordered: plain(t.ordered),
        used: plain(t.used),
        pack: plain(t.pack.size),
        packs: t.packs,
        cost: money(&e.bill, t.cost),
        title: goods::title(e, &t.material),
        pack_title: &t.pack.title,
        pack_source: &t.pack.source,
        pack_default: t.pack.default,
        packs_uncarried: t.packs_uncarried,
        rate: t.rate.map(plain),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handmade;
    use serde_json::{Value, json};

    fn read(text: &str) -> Value {
        serde_json::from_str(text).unwrap_or_default()
    }

    #[test]
    fn binding_fields_of_the_materials() {
        let out = read(&materials(&handmade::estimate()));
        assert_eq!(out["format"], 1);
        let row = &out["rows"][1];
        for (key, text) in [
            ("material", "cement"),
            ("unit", "kg"),
            ("stage", "walls-lower"),
            ("net", "169.183"),
            ("over_break", "0"),
            ("waste_percent", "5"),
            ("gross", "177.642"),
        ] {
            assert_eq!(row[key], text, "{key}");
        }
        assert_eq!((&row["waste_inside"], &out["rows"][0]["waste_inside"]), (&json!(false), &json!(true)));
        let factor = &row["uses"][0]["factors"][0];
        let want = json!({"does": "times", "value": "0.25", "says": "m3 of mortar in 1 m3 of wall"});
        assert_eq!(factor, &want);
        assert_eq!(out["rows"][4]["uses"][0]["item"], Value::Null);
        // 352 + 177.642
        assert_eq!(out["totals"][0]["gross"], "529.642");
    }

    #[test]
    fn binding_fields_of_the_orders() {
        let out = read(&orders(&handmade::estimate(), None));
        assert_eq!(out["format"], 1);
        let stage = &out["stages"][1];
        assert_eq!((&stage["stage"], &stage["title"]), (&json!("walls-lower"), &json!("walls, lower part")));
        for (key, value) in [
            ("unit", json!("kg")),
            ("opening", json!("-2")),
            ("ordered", json!("250")),
            ("used", json!("177.642")),
            ("closing", json!("70.358")),
            ("pack", json!("50")),
            ("pack_title", json!("50 kg bag")),
            ("packs", json!(5)),
            ("reserve", json!(1)),
            ("cost", json!("180000")),
        ] {
            assert_eq!(stage["lines"][0][key], value, "{key}");
        }
        assert_eq!(stage["lines"][1]["cost"], Value::Null);
        let total = &out["totals"][0];
        for (key, value) in [
            ("material", json!("cement")),
            ("ordered", json!("600")),
            ("used", json!("529.642")),
            ("pack", json!("50")),
            ("packs", json!(12)),
            ("cost", json!("432000")), // 12 x 36 000
        ] {
            assert_eq!(total[key], value, "{key}");
        }
        assert_eq!(out["cost"], Value::Null);
        let stage = &out["events"][2];
        assert_eq!((&stage["kind"], &stage["from"]), (&json!("stage"), &json!("2026-12-02")));
        let one = read(&orders(&handmade::estimate(), Some("base")));
        assert_eq!(one["stages"].as_array().map(Vec::len), Some(1));
        assert_eq!(one["totals"], out["totals"]);
    }
}
