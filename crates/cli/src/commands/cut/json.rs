//! The plan as JSON: fields are only ever added.

use serde::Serialize;

use super::report::{Report, money};

#[derive(Serialize)]
struct Out<'a> {
    format: u8,
    cutting: [Cutting<'a>; 1],
}

#[derive(Serialize)]
struct Cutting<'a> {
    grade: &'static str,
    diameter: u8,
    /// The longest stock that is bought.
    stock_mm: i64,
    kerf_mm: i64,
    /// Bars bought.
    bars: u64,
    /// No plan buys fewer.
    bound: i128,
    /// Of what `aim` says.
    proved_least: bool,
    /// `bars`, or `cost` where several lengths have prices.
    aim: &'static str,
    cost: Option<String>,
    cost_bound: Option<String>,
    stocks: Vec<StockOut>,
    patterns: Vec<PatternOut<'a>>,
    /// Offcuts of 300 mm and more.
    offcuts_kept: Vec<KeptOut>,
    sums_mm: SumsOut,
}

#[derive(Serialize)]
struct StockOut {
    stock_mm: i64,
    offcut: bool,
    price: Option<String>,
    limit: Option<u64>,
    used: u64,
}

#[derive(Serialize)]
struct PatternOut<'a> {
    times: u64,
    pieces_mm: Vec<i64>,
    offcut_mm: i64,
    stock_mm: i64,
    /// Whether it is cut from an offcut in the store.
    from_offcut: bool,
    /// Pieces of each mark, over all bars of the pattern.
    marks: Vec<MarkOut<'a>>,
}

#[derive(Serialize)]
struct MarkOut<'a> {
    length_mm: i64,
    mark: &'a str,
    count: u64,
}

#[derive(Serialize)]
struct KeptOut {
    length_mm: i64,
    count: u64,
}

#[derive(Serialize)]
struct SumsOut {
    stock: i128,
    pieces: i128,
    cuts: i128,
    offcuts_kept: i128,
    waste: i128,
}

pub(super) fn json(r: &Report) -> String {
    let stock = |i: usize| r.sources.get(i).map_or((0, false), |s| (s.mm, s.offcut));
    let patterns = r.patterns.iter().map(|p| {
        let repeat = |n: u64| usize::try_from(n).unwrap_or(usize::MAX);
        let marks = p.pieces.iter().flat_map(|piece| {
            let marked = piece.marks.iter().filter(|m| !m.0.is_empty());
            marked.map(|(mark, count)| MarkOut { length_mm: piece.mm, mark, count: *count })
        });
        PatternOut {
            times: p.times,
            pieces_mm: p.pieces.iter().flat_map(|x| std::iter::repeat_n(x.mm, repeat(x.number))).collect(),
            offcut_mm: p.offcut,
            stock_mm: stock(p.source).0,
            from_offcut: stock(p.source).1,
            marks: marks.collect(),
        }
    });
    let stocks = r.sources.iter().zip(&r.used).map(|(s, used)| StockOut {
        stock_mm: s.mm,
        offcut: s.offcut,
        price: s.price.map(|p| money(i128::from(p))),
        limit: s.limit,
        used: *used,
    });
    let out = Out {
        format: 1,
        cutting: [Cutting {
            grade: "",
            diameter: 0,
            stock_mm: r.stock_mm(),
            kerf_mm: r.kerf,
            bars: r.totals.bought,
            bound: r.bars_bound,
            proved_least: r.proved,
            aim: if r.by_cost { "cost" } else { "bars" },
            cost: r.cost.map(|c| money(c.0)),
            cost_bound: r.cost.map(|c| money(c.1)),
            stocks: stocks.collect(),
            patterns: patterns.collect(),
            offcuts_kept: r.kept.iter().map(|&(length_mm, count)| KeptOut { length_mm, count }).collect(),
            sums_mm: SumsOut {
                stock: r.sums.stock,
                pieces: r.sums.pieces,
                cuts: r.sums.cuts,
                offcuts_kept: r.sums.kept,
                waste: r.sums.waste,
            },
        }],
    };
    // Plain data: writing it to memory does not fail.
    serde_json::to_string_pretty(&out).unwrap_or_default() + "\n"
}
