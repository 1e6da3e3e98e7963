//! Steel, materials and orders for the hand-made estimate: two marks in one cutting plan, goods by delivery, by the
//! load and by the plan, a use taken off, over-break, waste inside a recipe and not, a reserve. Invented.

use rust_decimal::Decimal;
use tankwright_geometry::{Len, Ratio};
use tankwright_quantities::decimal;
use tankwright_quantities::materials::{Factor, Material, Materials, Rounding, Row, Step, Use};
use tankwright_quantities::orders::{Line, Orders, Pack, StageOrder, Total};
use tankwright_quantities::sheet::{Sheet, Times};
use tankwright_quantities::source::Source;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::steel::{BarKind, Cutting, Mark, Number, Pattern, Schedule};
use tankwright_quantities::words::Phrase;

use crate::fixture::{COVER_TO, HEIGHT, LENGTH, PIPE, SPACING, WALL_T, WIDTH, len};

/// Kilograms in a metre of 10 mm.
pub(crate) const KG: Ratio = Ratio::of(617, 1000);

fn source() -> Source {
    Source { text: "invented".into(), ..Source::default() }
}

/// Between the covers of the outer plan: 2110 + 2 x 220 - 2 x 40 = 2470 along, 1500 + 440 - 80 = 1860 across.
fn between(id: u32) -> Len {
    &(&len(id) + &len(WALL_T).times(2)) - &len(COVER_TO).times(2)
}

/// Bars across the base: 2470 / 200 = 12.35, 13 spaces.
fn across() -> Times {
    Times::Spaces { over: between(LENGTH), at: len(SPACING), value: 14 }
}

/// Member, stage, members, bars in each, dimensions.
type Given = (&'static str, Stage, u64, Times, Vec<(char, Len)>);

/// What multiplies and measures the two marks: 14 of 1860, 4 of 300 + 1600.
pub(crate) fn marks() -> [Given; 2] {
    let starter = vec![('A', Len::fixed(3000)), ('B', len(HEIGHT))];
    [
        ("base, across", Stage::Base, 1, across(), vec![('A', between(WIDTH))]),
        ("column starter", Stage::WallsLower, 4, Times::Count(1), starter),
    ]
}

/// The schedule and its plan: 14 x 1875 and 4 x 1900 from bars of 6 m, 3 mm a cut.
pub(crate) fn steel() -> Schedule {
    let bar = BarKind { grade: "Y".into(), diameter: 10 };
    let mark = |(i, (member, stage, members, each, dims)): (usize, Given)| {
        let sum = dims.iter().fold(Len::ZERO, |sum, (_, len)| sum + len);
        let (count, length_mm) = if i == 0 { (14, 1875) } else { (4, 1900) };
        Mark {
            mark: (i + 1).to_string(),
            member: Phrase::new(member),
            bar: bar.clone(),
            shape: if i == 0 { "00" } else { "11" },
            count,
            number: Number { members, each },
            dims,
            sum,
            length_mm,
            mass: Ratio::int(i128::from(count)) * Ratio::of(length_mm.into(), 1000) * KG,
            stage,
            remarks: vec![Phrase::new("actual spacing 190 mm")],
        }
    };
    let (base, walls) = (Stage::Base, Stage::WallsLower);
    let pattern = |times, pieces, offcut_mm| Pattern { stage: base, times, pieces, offcut_mm };
    let cutting = Cutting {
        bar: bar.clone(),
        stock_mm: 6000,
        kerf_mm: 3,
        bars: 6,
        bound: 6,
        latest: true,
        // 6000 - 3 x 1875 - 3 x 3 = 366; 6000 - 2 x 1900 - 1875 - 3 x 3 = 316.
        patterns: vec![
            pattern(4, vec![(1875, base); 3], 366),
            pattern(2, vec![(1900, walls), (1900, walls), (1875, base)], 316),
        ],
        bought: vec![(base, 6)],
        kept: vec![(366, 4), (316, 2)],
    };
    Schedule {
        laid: Vec::new(),
        uncut: Vec::new(),
        marks: marks().into_iter().enumerate().map(mark).collect(),
        cutting: vec![cutting],
        mass_per_metre: vec![(bar, KG)],
        remarks: vec![Phrase::new("chairs are not counted")],
    }
}

fn number(says: &'static str, value: Ratio) -> Step {
    Step { factor: Factor::Number(value), says: Phrase::new(says), again: false }
}

/// One over a number of uses.
fn again(uses: i128) -> Step {
    Step {
        factor: Factor::Number(Ratio::of(1, uses)),
        says: Phrase::new("over uses of the boards"),
        again: true,
    }
}

/// Every use of a material; amounts from the items' nets.
fn uses(sheet: &Sheet) -> Vec<Use> {
    let wall = "brickwork-wall/220/walls-lower";
    let one = |material: &str, stage, item: &str, steps: Vec<Step>| {
        let found = sheet.items.iter().chain(&sheet.voids).find(|i| i.id == item);
        let base = found.map_or(Ratio::int(2000), |i| decimal::ratio(i.net));
        let amount = steps.iter().fold(base, |a, s| match &s.factor {
            Factor::Number(n) => a * *n,
            Factor::Times(len) => a * len.value() / Ratio::int(10_000),
            Factor::Over(len) => a / (len.value() / Ratio::int(10_000)),
        });
        Use {
            material: material.into(),
            stage,
            item: item.into(),
            base,
            over_break: false,
            less: false,
            steps,
            amount,
            waste_percent: Ratio::of(25, 10),
            source: source(),
            waste_inside: false,
        }
    };
    let kg = || number("kg of cement in 1 m3 of mortar", Ratio::int(380));
    let coat = || Step {
        factor: Factor::Times(len(PIPE)),
        says: Phrase::new("thickness of the coat"),
        again: false,
    };
    let high = Step { factor: Factor::Over(len(HEIGHT)), says: Phrase::new("height"), again: false };
    let mut of_paste = one(
        "cement",
        Stage::Plaster,
        "cement-paste/plaster",
        vec![number("kg of cement in 1 m2 of paste", Ratio::of(4, 3))],
    );
    (of_paste.waste_percent, of_paste.waste_inside) = (Ratio::ZERO, true);
    let mut broken =
        one("cement", Stage::Base, "excavation-pit/clear/dig", vec![high, number("kg", 2.into())]);
    broken.over_break = true;
    let mut bricks =
        one("sand-building", Stage::WallsLower, wall, vec![number("bricks in 1 m3", Ratio::of(9, 10))]);
    (bricks.less, bricks.amount) = (true, -bricks.amount);
    let mut water = one("water", Stage::Plaster, "", Vec::new());
    water.waste_percent = Ratio::ZERO;
    let metres = || number("metres in 1 kg", Ratio::ONE / KG);
    let mut bars = [
        one("bars/Y10", Stage::Base, "bars/Y10/base", vec![metres()]),
        one("bars/Y10", Stage::WallsLower, "bars/Y10/walls-lower", vec![metres()]),
    ];
    bars.iter_mut().for_each(|b| b.waste_percent = Ratio::ZERO);
    let [first, mut second] = bars;
    // 4 bars of 1.900 m, and the wire that ties them.
    (second.item, second.base) = (String::new(), Ratio::int(4));
    second.steps = vec![number("m of the mark", Ratio::of(19, 10))];
    second.amount = Ratio::of(76, 10);
    let mut wire = one("binding-wire", Stage::WallsLower, "", vec![number("kg in 1 kg", Ratio::of(1, 100))]);
    (wire.base, wire.amount) = (Ratio::of(76, 10) * KG, Ratio::of(76, 1000) * KG);
    vec![
        one("cement", Stage::Base, "excavation-pit/net/dig", vec![number("kg in 1 m3", 15.into())]),
        broken,
        one("cement", Stage::WallsLower, wall, vec![number("mortar in 1 m3", Ratio::of(1, 4)), kg()]),
        one("cement", Stage::Plaster, "plaster-wall/plaster", vec![coat(), kg()]),
        of_paste,
        one(
            "sand-building",
            Stage::Base,
            "excavation-pit/net/dig",
            vec![number("m3 in 1 m3", Ratio::of(4, 10))],
        ),
        one("sand-building", Stage::WallsLower, wall, vec![number("m3 of wall", Ratio::of(12, 10))]),
        bricks,
        one("sand-building", Stage::Plaster, "plaster-wall/plaster", vec![coat()]),
        water,
        one(
            "boards",
            Stage::Base,
            "excavation-pit/net/dig",
            vec![number("m2 on 1 m3", Ratio::of(7, 10)), again(4)],
        ),
        one("boards", Stage::WallsLower, wall, vec![number("m2 on 1 m3", Ratio::of(21, 10)), again(3)]),
        one("boards", Stage::WallsLower, wall, vec![number("edges on 1 m3", Ratio::of(13, 10))]),
        first,
        second,
        wire,
    ]
}

/// Materials of the sheet.
pub(crate) fn materials(sheet: &Sheet) -> Materials {
    let uses = uses(sheet);
    let mut rows: Vec<Row> = Vec::new();
    let three = |r: Ratio| decimal::rounded(r, 3).unwrap_or_default();
    for (i, used) in uses.iter().enumerate() {
        let waste_percent = three(used.waste_percent);
        let same = |r: &&mut Row| {
            r.material == used.material && r.stage == used.stage && r.waste_percent == waste_percent
        };
        match rows.iter_mut().find(same) {
            Some(row) => row.uses.push(i),
            None => rows.push(Row {
                material: used.material.clone(),
                stage: used.stage,
                uses: vec![i],
                net: Decimal::ZERO,
                over_break: Decimal::ZERO,
                waste_percent,
                gross: Decimal::ZERO,
                present: Decimal::ZERO,
            }),
        }
    }
    for row in &mut rows {
        let sum = |over, of: fn(&Use) -> Ratio| {
            three(row.uses.iter().filter_map(|u| uses.get(*u)).filter(|u| u.over_break == over).map(of).sum())
        };
        let worn = |u: &Use| u.amount;
        let whole = sum(false, Use::at_once) + sum(true, Use::at_once);
        (row.net, row.over_break) = (sum(false, worn), sum(true, worn));
        let more = Ratio::ONE + decimal::ratio(row.waste_percent) / Ratio::int(100);
        row.gross = three(decimal::ratio(row.net + row.over_break) * more);
        row.present = three(decimal::ratio(whole) * more);
    }
    let one = |id: &str, unit: &str, rounding| Material {
        id: id.into(),
        title: id.into(),
        unit: unit.into(),
        supplier: "hardware".into(),
        rounding,
        source: source(),
    };
    let materials = vec![
        one("cement", "kg", Rounding::Delivery),
        one("sand-building", "m3", Rounding::Bulk),
        one("water", "l", Rounding::Delivery),
        one("boards", "m2", Rounding::Delivery),
        one("bars/Y10", "m", Rounding::Plan),
        one("binding-wire", "kg", Rounding::Delivery),
    ];
    let remarks = vec![(Phrase::new("mortar as mixed on the site"), "invented".to_owned())];
    Materials { materials, uses, rows, mixes: Vec::new(), remarks }
}

/// Orders: whole packs, each stage in turn; sand comes once for base and walls, once for the rest.
pub(crate) fn orders(materials: &Materials) -> Orders {
    let tolerance = Decimal::new(5, 2);
    let groups = vec![vec![Stage::Base, Stage::WallsLower]];
    let mut stages: Vec<StageOrder> =
        Stage::ALL.into_iter().map(|stage| StageOrder { stage, lines: Vec::new() }).collect();
    let mut totals = Vec::new();
    for material in &materials.materials {
        let (size, rate) = match material.unit.as_str() {
            "kg" => (Decimal::from(50), Decimal::new(85_025, 2)),
            "m3" => (Decimal::new(25, 1), Decimal::from(4000)),
            "l" => (Decimal::from(200), Decimal::new(15, 1)),
            "m2" => (Decimal::ONE, Decimal::from(30)),
            _ => (Decimal::from(6), Decimal::from(720)),
        };
        let used_in = |stage| -> Decimal {
            let own = materials.rows.iter().filter(|r| r.material == material.id && r.stage == stage);
            own.map(|r| r.gross).sum()
        };
        let present_in = |stage| -> Decimal {
            let own = materials.rows.iter().filter(|r| r.material == material.id && r.stage == stage);
            own.map(|r| r.present).sum()
        };
        let group = |stage: Stage| groups.iter().position(|g| g.contains(&stage));
        let (mut opening, mut all, mut opened) = (Decimal::ZERO, 0_u64, Vec::new());
        for order in &mut stages {
            let used = used_in(order.stage);
            let need = match material.rounding {
                Rounding::Delivery => used.max(present_in(order.stage)) - opening,
                Rounding::Bulk if used.is_zero() || opened.contains(&group(order.stage)) => Decimal::ZERO,
                Rounding::Bulk => {
                    opened.push(group(order.stage));
                    let of: Decimal =
                        Stage::ALL.into_iter().filter(|s| opened.contains(&group(*s))).map(used_in).sum();
                    of - size * Decimal::from(all)
                }
                Rounding::Plan => Decimal::ZERO,
            };
            let mut packs = u64::try_from((need / size - tolerance).ceil().max(Decimal::ZERO)).unwrap_or(0);
            if need > Decimal::ZERO && all == 0 {
                packs = packs.max(1);
            }
            if material.rounding == Rounding::Plan && order.stage == Stage::Base {
                packs = 6;
            }
            let reserve = u64::from(material.id == "cement" && order.stage == Stage::Cover);
            packs += reserve;
            all += packs;
            let ordered = size * Decimal::from(packs);
            let closing = opening + ordered - used;
            if [opening, ordered, used, closing].iter().any(|d| !d.is_zero()) {
                let cost = Some(decimal::round(rate * Decimal::from(packs), 2));
                let (material, serves) = (material.id.clone(), vec![order.stage]);
                let let_off = (-closing).max(Decimal::ZERO);
                let present = present_in(order.stage);
                let line = Line {
                    material,
                    opening,
                    ordered,
                    used,
                    present,
                    closing,
                    packs,
                    reserve,
                    let_off,
                    serves,
                    cost,
                };
                order.lines.push(line);
            }
            opening = closing;
        }
        let words = ["bag", "bags"].map(str::to_owned);
        let pack = Pack { size, title: "pack".into(), words, source: "invented".into(), default: true };
        totals.push(Total {
            material: material.id.clone(),
            pack,
            ordered: size * Decimal::from(all),
            used: Stage::ALL.into_iter().map(used_in).sum(),
            packs: all,
            packs_uncarried: all,
            rate: Some(rate),
            cost: Some(decimal::round(rate * Decimal::from(all), 2)),
        });
    }
    stages.retain(|s| !s.lines.is_empty());
    let cost = totals.iter().map(|t| t.cost).sum();
    Orders {
        stages,
        totals,
        tolerance,
        groups,
        remarks: vec![Phrase::new("prices are invented")],
        cost,
        ..Orders::default()
    }
}
