//! Bars, materials and orders as CSV: a column `row` says what each row is.

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::stage::Stage;

use super::{Out, text};
use crate::json::{ended, money, plain, rounding};
use crate::text::bars::millimetres;
use crate::text::goods;
use crate::text::materials::{source, sums, uses, waste_inside};

const MATERIALS: [&str; 15] = [
    "row",
    "material",
    "title",
    "unit",
    "stage",
    "net",
    "over_break",
    "waste_percent",
    "gross",
    "waste_inside",
    "waste",
    "supplier",
    "rounding",
    "source",
    "present",
];
const ORDERS: [&str; 18] = [
    "row",
    "stage",
    "material",
    "title",
    "unit",
    "opening",
    "ordered",
    "used",
    "closing",
    "pack_title",
    "pack",
    "packs",
    "reserve",
    "let_off",
    "serves",
    "rate",
    "cost",
    "present",
];
const BARS: [&str; 20] = [
    "row",
    "mark",
    "member",
    "grade",
    "diameter",
    "shape",
    "count",
    "a",
    "b",
    "c",
    "d",
    "e",
    "length_mm",
    "mass_kg",
    "stage",
    "remarks",
    "stock_mm",
    "kerf_mm",
    "pieces_mm",
    "offcut_mm",
];

/// Materials: rows `row` by stage, `total` of the job, `mix` for what is mixed on the site.
#[must_use]
pub fn materials(e: &Estimate) -> String {
    let mut out = Out::new(&MATERIALS);
    let n = String::new;
    for r in &e.materials.rows {
        let mut sources: Vec<_> = uses(e, r).map(source).collect();
        sources.dedup();
        out.row([
            text("row"),
            text(&r.material),
            text(&goods::title(e, &r.material)),
            text(goods::unit(e, &r.material)),
            text(r.stage.id()),
            plain(r.net),
            plain(r.over_break),
            plain(r.waste_percent),
            plain(r.gross),
            text(if waste_inside(e, r) { "yes" } else { "no" }),
            n(),
            n(),
            n(),
            text(&sources.join("; ")),
            plain(r.present),
        ]);
    }
    for m in &e.materials.materials {
        let [net, over, waste, gross] = sums(e, m).map(plain);
        out.row([
            text("total"),
            text(&m.id),
            text(&m.title),
            text(&m.unit),
            n(),
            net,
            over,
            n(),
            gross,
            n(),
            waste,
            text(&m.supplier),
            text(rounding(m.rounding)),
            text(&m.source.to_string()),
            n(),
        ]);
    }
    for (mix, stage, m3) in &e.materials.mixes {
        let head = [text("mix"), n(), text(&mix.to_string()), text("m3"), text(stage.id()), plain(*m3)];
        out.row(head.into_iter().chain((6..MATERIALS.len()).map(|_| n())));
    }
    out.done()
}

/// Orders, of one stage or all: rows `line` by stage, `total` of the job.
#[must_use]
pub fn orders(e: &Estimate, stage: Option<&str>) -> String {
    let mut out = Out::new(&ORDERS);
    let n = String::new;
    let cost = |c| money(&e.bill, c).unwrap_or_default();
    for order in e.orders.stages.iter().filter(|o| stage.is_none_or(|id| o.stage.id() == id)) {
        for l in &order.lines {
            let pack = goods::pack(e, &l.material);
            out.row([
                text("line"),
                text(order.stage.id()),
                text(&l.material),
                text(&goods::title(e, &l.material)),
                text(goods::unit(e, &l.material)),
                plain(l.opening),
                plain(l.ordered),
                plain(l.used),
                plain(l.closing),
                pack.map_or_else(n, |p| text(&p.title)),
                pack.map_or_else(n, |p| plain(p.size)),
                l.packs.to_string(),
                l.reserve.to_string(),
                plain(l.let_off),
                text(&ids(&l.serves)),
                n(),
                cost(l.cost),
                plain(l.present),
            ]);
        }
    }
    for t in &e.orders.totals {
        out.row([
            text("total"),
            n(),
            text(&t.material),
            text(&goods::title(e, &t.material)),
            text(goods::unit(e, &t.material)),
            n(),
            plain(t.ordered),
            plain(t.used),
            plain(t.ordered - t.used),
            text(&t.pack.title),
            plain(t.pack.size),
            t.packs.to_string(),
            n(),
            n(),
            n(),
            t.rate.map_or_else(n, plain),
            cost(t.cost),
            n(),
        ]);
    }
    out.done()
}

fn ids(stages: &[Stage]) -> String {
    stages.iter().map(|s| s.id()).collect::<Vec<_>>().join(" ")
}

/// Bars: rows `mark`; of the cutting plan `pattern` (count: bars cut so), `bought` (by stage) and `kept`.
#[must_use]
pub fn bars(e: &Estimate) -> String {
    let mut out = Out::new(&BARS);
    let n = String::new;
    for m in &e.steel.marks {
        let dim = |letter: char| m.dims.iter().find(|d| d.0 == letter).map_or_else(n, |d| millimetres(&d.1));
        let remarks: Vec<_> = m.remarks.iter().map(ToString::to_string).collect();
        out.row([
            text("mark"),
            text(&m.mark),
            text(&m.member.to_string()),
            text(&m.bar.grade),
            m.bar.diameter.to_string(),
            text(m.shape),
            m.count.to_string(),
            dim('A'),
            dim('B'),
            dim('C'),
            dim('D'),
            dim('E'),
            m.length_mm.to_string(),
            ended(m.mass),
            text(m.stage.id()),
            text(&remarks.join("; ")),
            n(),
            n(),
            n(),
            n(),
        ]);
    }
    for c in &e.steel.cutting {
        let mut put = |row: &str, count: u64, length: String, stage: &str, pieces: String, offcut: String| {
            let head =
                [text(row), n(), n(), text(&c.bar.grade), c.bar.diameter.to_string(), n(), count.to_string()];
            let tail = [
                length,
                n(),
                text(stage),
                n(),
                c.stock_mm.to_string(),
                c.kerf_mm.to_string(),
                text(&pieces),
                offcut,
            ];
            out.row(head.into_iter().chain((0..5).map(|_| n())).chain(tail));
        };
        for p in &c.patterns {
            let pieces: Vec<_> = p.pieces.iter().map(|(mm, _)| mm.to_string()).collect();
            put("pattern", p.times, n(), p.stage.id(), pieces.join(" "), p.offcut_mm.to_string());
        }
        c.bought.iter().for_each(|(s, bars)| put("bought", *bars, n(), s.id(), n(), n()));
        c.kept.iter().for_each(|(mm, count)| put("kept", *count, mm.to_string(), "", n(), n()));
    }
    out.done()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{golden, handmade};

    #[test]
    fn tables_of_bars_materials_and_orders() {
        let e = handmade::estimate();
        for (name, text, columns) in [
            ("bars.csv", bars(&e), BARS.len()),
            ("materials.csv", materials(&e), MATERIALS.len()),
            ("orders.csv", orders(&e, None), ORDERS.len()),
        ] {
            golden::same(name, &text);
            assert!(text.split_inclusive('\n').all(|l| l.ends_with("\r\n")), "{name}");
            let mut reader = csv::Reader::from_reader(text.as_bytes());
            assert!(reader.records().all(|r| r.is_ok_and(|r| r.len() == columns)), "{name}");
        }
        assert!(!orders(&e, Some("base")).contains("line,walls-lower"));
    }

    #[test]
    fn titles_of_goods_never_become_formulas() {
        let mut e = handmade::estimate();
        e.materials.materials[0].title = "=1+1".to_owned();
        e.orders.totals[0].pack.title = "@bag".to_owned();
        assert!(materials(&e).contains(",'=1+1,"), "{}", materials(&e));
        assert!(orders(&e, None).contains(",'@bag,"));
        // An account below nothing stays a number.
        assert!(orders(&e, None).contains(",-2,'@bag,"), "{}", orders(&e, None));
    }
}
