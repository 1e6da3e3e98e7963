//! Bars, materials, orders and programme of the hand-made estimate: two stages, three materials, two marks. Invented.

use tankwright_geometry::{Len, Ratio};
use tankwright_quantities::decimal;
use tankwright_quantities::job::Day;
use tankwright_quantities::materials::{Factor, Material, Materials, Rounding, Row, Step, Use};
use tankwright_quantities::orders::{Good, Line, Orders, Pack, StageOrder, Total};
use tankwright_quantities::programme::{Event, EventKind, HoldPoint, Programme, Taken};
use tankwright_quantities::sheet::Times;
use tankwright_quantities::source::Source;
use tankwright_quantities::stage::Stage::{self, Base, WallsLower};
use tankwright_quantities::steel::{BarKind, Cutting, Mark, Number, Pattern, Schedule};
use tankwright_quantities::store::{StoreAccount, StoreRow};
use tankwright_quantities::words::Phrase;

use crate::handmade::d;

fn words(text: &'static str) -> Phrase {
    Phrase::new(text)
}

fn source(text: &str) -> Source {
    Source { text: text.to_owned(), ..Source::default() }
}

fn y10() -> BarKind {
    BarKind { grade: "Y".to_owned(), diameter: 10 }
}

fn mark(mark: &str, member: &'static str, shape: &'static str, count: i64, dims: Vec<(char, Len)>) -> Mark {
    Mark {
        mark: mark.to_owned(),
        member: words(member),
        bar: y10(),
        shape,
        count: count.unsigned_abs(),
        number: Number { members: 1, each: Times::Count(count) },
        dims,
        sum: Len::ZERO,
        length_mm: 0,
        mass: Ratio::ZERO,
        stage: Base,
        remarks: Vec::new(),
    }
}

/// Two marks of one kind, cut from five bars of 6 m.
pub(crate) fn steel() -> Schedule {
    let mut across = mark("1", "base, across", "00", 10, vec![('A', Len::fixed(18_500))]);
    across.length_mm = 1_850;
    across.sum = Len::fixed(18_500);
    across.number.each = Times::Spaces { over: Len::fixed(18_000), at: Len::fixed(2_000), value: 10 };
    // 10 x 1.850 x 0.617
    across.mass = Ratio::of(114_145, 10_000);
    across.remarks = vec![words("9 spaces of 200 mm")];
    let dims = vec![('A', Len::fixed(12_000)), ('B', Len::fixed(2_125))];
    let mut starter = mark("2", "columns, starter bars", "11", 4, dims);
    // 1200 + 212.5 - 20 / 2 - 10 = 1392.5, up to 1400; 4 x 1.400 x 0.617
    starter.sum = Len::fixed(13_925);
    starter.length_mm = 1_400;
    starter.mass = Ratio::of(34_552, 10_000);
    starter.stage = WallsLower;
    let pattern =
        |stage, times, pieces: Vec<(i64, Stage)>, offcut_mm| Pattern { stage, times, pieces, offcut_mm };
    Schedule {
        laid: Vec::new(),
        uncut: Vec::new(),
        marks: vec![across, starter],
        cutting: vec![Cutting {
            bar: y10(),
            stock_mm: 6_000,
            kerf_mm: 0,
            // 10 x 1850 + 4 x 1400 = 24 100: more than four bars hold.
            bars: 5,
            bound: 5,
            latest: true,
            patterns: vec![
                pattern(Base, 3, vec![(1_850, Base); 3], 450),
                pattern(Base, 1, vec![(1_850, Base), (1_400, WallsLower), (1_400, WallsLower)], 1_350),
                pattern(WallsLower, 1, vec![(1_400, WallsLower); 2], 3_200),
            ],
            bought: vec![(Base, 4), (WallsLower, 1)],
            kept: vec![(3_200, 1), (1_350, 1), (450, 3)],
        }],
        mass_per_metre: vec![(y10(), Ratio::of(617, 1_000))],
        remarks: vec![words("spacers under the base: 40 mm blocks, one a square metre")],
    }
}

const WALL: &str = "brickwork-wall/220/walls-lower";

fn use_of(material: &str, stage: Stage, item: &str, base: Ratio, steps: &[(Ratio, &'static str)]) -> Use {
    let step = |(factor, says): &(Ratio, &'static str)| Step {
        factor: Factor::Number(*factor),
        says: words(says),
        again: false,
    };
    Use {
        material: material.to_owned(),
        stage,
        item: item.to_owned(),
        base,
        over_break: false,
        less: false,
        steps: steps.iter().map(step).collect(),
        amount: steps.iter().fold(base, |a, (f, _)| a * *f),
        waste_percent: Ratio::ZERO,
        source: source("invented table 1"),
        waste_inside: true,
    }
}

/// Cement and building sand of a base and a wall, and the bars.
pub(crate) fn materials() -> Materials {
    let (concrete, cement, sand) = ("concrete-base/1:2:4/base", "cement", "sand-building");
    let per_m3 = |kg| [(Ratio::int(kg), "kg of cement in 1 m3")];
    let half = [(Ratio::of(1, 2), "m3 of sand in 1 m3")];
    let broken = |u: Use| Use { over_break: true, ..u };
    let wasted = |u: Use, percent| Use {
        waste_percent: Ratio::int(percent),
        waste_inside: false,
        source: source("invented table 2"),
        ..u
    };
    let wall = Ratio::of(2_255_769_270_089, 1_000_000_000_000);
    let mortar = (Ratio::of(1, 4), "m3 of mortar in 1 m3 of wall");
    let (kg, m3) = ((Ratio::int(300), "kg of cement in 1 m3"), (Ratio::of(11, 10), "m3 of sand in 1 m3"));
    let bars = |stage, metres| Use {
        waste_inside: false,
        source: source("the cutting plan"),
        ..use_of("bars/Y10", stage, "", metres, &[])
    };
    let uses = vec![
        use_of(cement, Base, concrete, Ratio::ONE, &per_m3(320)),
        broken(use_of(cement, Base, concrete, Ratio::of(1, 10), &per_m3(320))),
        wasted(use_of(cement, WallsLower, WALL, wall, &[mortar, kg]), 5),
        use_of(sand, Base, concrete, Ratio::ONE, &half),
        broken(use_of(sand, Base, concrete, Ratio::of(1, 10), &half)),
        wasted(use_of(sand, WallsLower, WALL, wall, &[mortar, m3]), 10),
        bars(Base, Ratio::of(185, 10)),
        bars(WallsLower, Ratio::of(56, 10)),
    ];
    let row = |material: &str, stage, uses: Vec<usize>, net, over_break, waste: i64, gross| Row {
        material: material.to_owned(),
        stage,
        uses,
        net: d(net, 3),
        over_break: d(over_break, 3),
        waste_percent: d(waste, 0),
        gross: d(gross, 3),
        present: d(gross, 3),
    };
    let material = |id: &str, title: &str, unit: &str, supplier: &str, rounding| Material {
        id: id.to_owned(),
        title: title.to_owned(),
        unit: unit.to_owned(),
        supplier: supplier.to_owned(),
        rounding,
        source: source("invented"),
    };
    Materials {
        materials: vec![
            material(cement, "cement", "kg", "hardware", Rounding::Delivery),
            material(sand, "building sand", "m3", "quarry", Rounding::Bulk),
            material("bars/Y10", "bars Y10", "m", "hardware", Rounding::Plan),
        ],
        uses,
        rows: vec![
            row(cement, Base, vec![0, 1], 320_000, 32_000, 0, 352_000),
            // 2.255769270089 x 0.25 x 300 = 169.183; x 1.05 = 177.642
            row(cement, WallsLower, vec![2], 169_183, 0, 5, 177_642),
            row(sand, Base, vec![3, 4], 500, 50, 0, 550),
            // 2.255769270089 x 0.25 x 1.1 = 0.620; x 1.1 = 0.682
            row(sand, WallsLower, vec![5], 620, 0, 10, 682),
            row("bars/Y10", Base, vec![6], 18_500, 0, 0, 18_500),
            row("bars/Y10", WallsLower, vec![7], 5_600, 0, 0, 5_600),
        ],
        mixes: vec![(words("concrete 1:2:4"), Base, d(11, 1)), (words("mortar 1:4"), WallsLower, d(564, 3))],
        remarks: vec![(
            words("cement of mortar by table 2, not by dry volume"),
            "invented table 2".to_owned(),
        )],
    }
}

fn line(material: &str, account: [i64; 4], packs: u64, cost: Option<i64>) -> Line {
    let [opening, ordered, used, closing] = account.map(|n| d(n, 3));
    Line {
        material: material.to_owned(),
        opening,
        ordered,
        used,
        present: used,
        closing,
        packs,
        reserve: 0,
        let_off: d(0, 0),
        serves: Vec::new(),
        cost: cost.map(|n| d(n, 0)),
    }
}

fn total(
    material: &str,
    pack: (i64, &str, [&str; 2]),
    sums: [i64; 2],
    packs: [u64; 2],
    rate: Option<i64>,
) -> Total {
    let (size, title, words) = pack;
    Total {
        material: material.to_owned(),
        pack: Pack {
            size: d(size, 0),
            title: title.to_owned(),
            words: words.map(str::to_owned),
            source: if material == "cement" { "job.toml:90" } else { "common practice, no source" }
                .to_owned(),
            default: material != "cement",
        },
        ordered: d(sums[0], 3),
        used: d(sums[1], 3),
        packs: packs[0],
        packs_uncarried: packs[1],
        rate: rate.map(|n| d(n, 0)),
        cost: rate.and_then(|n| decimal::product(d(n, 0), packs[0].into())),
    }
}

fn good(material: &str, title: &str, unit: &str, supplier: &str) -> Good {
    let [material, title, unit, supplier] = [material, title, unit, supplier].map(str::to_owned);
    Good { material, title, unit, supplier, lead_days: 4, lead_default: true }
}

/// Cement and sand of the base, cement counted after the wall: 10 kg are gone.
pub(crate) fn account() -> StoreAccount {
    let row = |stage, id: usize, figures: [i64; 6], counted: Option<i64>| {
        let goods = orders().goods;
        let g = goods.get(id).cloned().unwrap_or_else(|| good("", "", "", ""));
        let [opening, ordered, received, rejected, used, should_be] = figures.map(|n| d(n, 3));
        StoreRow {
            stage,
            material: g.material,
            title: g.title,
            unit: g.unit,
            opening,
            ordered,
            received,
            rejected,
            used,
            should_be,
            counted: counted.map(|n| d(n, 3)),
            difference: counted.map(|n| d(n, 3) - should_be),
        }
    };
    StoreAccount {
        rows: vec![
            row(Base, 0, [0, 350_000, 350_000, 0, 352_000, -2_000], None),
            row(Base, 1, [0, 3_000, 3_200, 200, 550, 2_450], Some(2_500)),
            row(WallsLower, 0, [-2_000, 250_000, 250_000, 0, 177_642, 70_358], Some(60_000)),
        ],
        until: WallsLower,
        cautions: Vec::new(),
    }
}

/// Twelve bags, one trip, five bars; two kilograms let off, one bag in reserve, sand without a rate.
pub(crate) fn orders() -> Orders {
    let serves = |line: Line, stages: &[Stage]| Line { serves: stages.to_vec(), ..line };
    let both = [Base, WallsLower];
    let base = vec![
        // 352 is 7.04 bags: 0.04 of a bag is let off.
        Line {
            let_off: d(2, 0),
            ..serves(line("cement", [0, 350_000, 352_000, -2_000], 7, Some(252_000)), &[Base])
        },
        serves(line("sand-building", [0, 3_000, 550, 2_450], 1, None), &both),
        serves(line("bars/Y10", [0, 24_000, 18_500, 5_500], 4, Some(88_000)), &both),
    ];
    let walls = vec![
        // 2 + 177.642 is 3.6 bags: 4, and 1 in reserve.
        Line {
            reserve: 1,
            ..serves(line("cement", [-2_000, 250_000, 177_642, 70_358], 5, Some(180_000)), &[WallsLower])
        },
        line("sand-building", [2_450, 0, 682, 1_768], 0, None),
        serves(line("bars/Y10", [5_500, 6_000, 5_600, 5_900], 1, Some(22_000)), &[WallsLower]),
    ];
    Orders {
        stages: vec![StageOrder { stage: Base, lines: base }, StageOrder { stage: WallsLower, lines: walls }],
        totals: vec![
            total("cement", (50, "50 kg bag", ["bag", "bags"]), [600_000, 529_642], [12, 13], Some(36_000)),
            total("sand-building", (3, "3 m3 trip", ["trip", "trips"]), [3_000, 1_232], [1, 2], None),
            total("bars/Y10", (6, "6 m bar", ["bar", "bars"]), [30_000, 24_100], [5, 5], Some(22_000)),
        ],
        goods: vec![
            good("cement", "cement", "kg", "hardware"),
            good("sand-building", "building sand", "m3", "quarry"),
            good("bars/Y10", "bars Y10", "m", "hardware"),
        ],
        tolerance: d(5, 2),
        groups: vec![both.to_vec()],
        remarks: vec![words("no rate for sand-building in demo-ugx")],
        cost: None,
    }
}

#[expect(clippy::expect_used, reason = "days of this fixture")]
fn day(text: &str) -> Day {
    Day::read(text).expect("a day")
}

fn event(kind: EventKind, stage: Stage, title: &'static str, days: [&str; 2]) -> Event {
    let [from, to] = days.map(day);
    Event { from, to, kind, stage, title: words(title), details: Vec::new(), source: String::new() }
}

/// A base and a wall in December.
pub(crate) fn programme() -> Programme {
    let delivery = Event {
        details: vec!["cement 7 bags; sand, 1 trip".to_owned()],
        ..event(EventKind::Delivery, Base, "deliver for base", ["2026-12-01"; 2])
    };
    let curing = Event {
        source: "invented code, clause 7".to_owned(),
        ..event(EventKind::Curing, Base, "keep base damp", ["2026-12-03", "2026-12-09"])
    };
    let hold = |before, says, source: &str| HoldPoint {
        of: before,
        before,
        says: words(says),
        source: source.to_owned(),
    };
    Programme {
        events: vec![
            event(EventKind::Order, Base, "order for base", ["2026-11-27"; 2]),
            delivery,
            event(EventKind::Stage, Base, "base", ["2026-12-02", "2026-12-04"]),
            event(EventKind::Pour, Base, "pour base", ["2026-12-03"; 2]),
            curing,
            event(EventKind::Stage, WallsLower, "walls, lower part", ["2026-12-07", "2026-12-11"]),
        ],
        holds: vec![
            hold(Base, "bottom of the pit seen and firm", "invented code, clause 3"),
            hold(WallsLower, "base is three days old", "common practice, no source"),
        ],
        cautions: vec![(
            Base,
            words("the sides of the pit can fall"),
            "common practice, no source".to_owned(),
        )],
        days: vec![
            Taken { stage: Base, days: 3, source: "invented".to_owned(), given: false, why: None },
            Taken { stage: WallsLower, days: 5, source: "job.toml:101".to_owned(), given: true, why: None },
        ],
    }
}
