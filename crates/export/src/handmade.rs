//! A small estimate made by hand, figures shown as sums, so that papers are tested without measuring anything. Invented.

use rust_decimal::Decimal;
use tankwright_geometry::{InputId, Len, PI, Ratio};
use tankwright_quantities::bill::{AddedOn, Addition, Bill, BillRow, BillSection, RateFrom, SideRow};
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::{Balance, Capacity, Caution, DefaultUsed, Earth, Estimate, Mark, On};
use tankwright_quantities::job::{Given, Input, Scale};
use tankwright_quantities::money::Currency;
use tankwright_quantities::problem::Place;
use tankwright_quantities::sheet::{Decision, Dim, Item, Line, Sheet, Times};
use tankwright_quantities::words::Phrase;
use tankwright_quantities::works::earthwork::EXCAVATION_PIT as PIT;
use tankwright_quantities::works::finishes::CEMENT_PASTE as PASTE;
use tankwright_quantities::works::masonry::BRICKWORK_WALL as WALL;
use tankwright_quantities::works::voids::CLEAR_SPACE as SPACE;
use tankwright_quantities::works::{Section, Unit, Work};

use crate::goods_handmade;

/// Words of this fixture stand in no catalogue: an unknown key prints as itself.
fn words(text: &'static str) -> Phrase {
    Phrase::new(text)
}

/// A decimal from its digits: `(1234, 2)` is 12.34.
pub(crate) fn d(digits: i64, places: u32) -> Decimal {
    Decimal::new(digits, places)
}

fn here(line: usize) -> Given {
    Given::Here(Place { file: "job.toml".to_owned(), span: 0..0, line })
}

/// Chambers, width, height, wall, partition, fall: positions 0 to 6.
fn inputs() -> Vec<Input> {
    let one = |path: &str, tenths: i64, given| Input {
        path: path.to_owned(),
        value: tenths.into(),
        scale: Scale::Length,
        any_sign: false,
        given,
    };
    vec![
        one("tank.chambers[0]", 20_000, here(22)),
        one("tank.chambers[1]", 10_000, here(22)),
        one("tank.width", 15_000, here(23)),
        one("tank.height", 16_300, here(24)),
        one("tank.walls.thickness", 2_200, Given::Default("common practice, no source")),
        one("tank.partitions.thickness", 1_100, here(34)),
        one("tank.base.fall", 600, here(30)),
    ]
}

fn len(id: u32) -> Len {
    let value = inputs().get(id as usize).map_or(Ratio::ZERO, |i| i.value);
    Len::input(InputId(id), value, true)
}

fn dim(len: &Len, step: i64) -> Dim {
    let whole = len.value().round_half_away(Ratio::from(step));
    let booked = i64::try_from(whole.numer()).unwrap_or_default();
    Dim { len: len.clone(), booked, step, dropped: false, up: false }
}

/// A line whose value is its multipliers times its booked dimensions.
fn line(note: &'static str, times: Vec<Times>, dims: Vec<Dim>) -> Line {
    let factor = |t: &Times| match t {
        Times::Count(n)
        | Times::Input(_, n)
        | Times::Strips { value: n, .. }
        | Times::Spaces { value: n, .. } => Ratio::from(*n),
        Times::Fraction(f) => *f,
        Times::Pi => PI,
        Times::MassPerMetre(kg) => *kg,
    };
    let times_value = times.iter().map(factor).fold(Ratio::ONE, |a, b| a * b);
    let of = |f: &dyn Fn(&Dim) -> Ratio, all: bool| {
        let used = dims.iter().filter(|d| all || !d.dropped);
        used.map(|d| f(d) / Ratio::int(10_000)).fold(times_value, |a, b| a * b)
    };
    let booked = |d: &Dim| Ratio::from(d.booked);
    let (value, net) = (of(&booked, false), of(&booked, true));
    let exact = of(&|d: &Dim| d.len.value(), true);
    let named = dims.iter().find(|d| d.dropped);
    let per = named.map_or(Ratio::ONE, |d| d.len.value() / Ratio::int(10_000));
    Line { note: words(note), times, dims, of_item: None, value, net, exact, per }
}

fn item(id: &str, work: &'static Work, spec: &str, unit: Unit, wording: Phrase, lines: Vec<Line>) -> Item {
    let sum = |f: &dyn Fn(&Line) -> Ratio| lines.iter().map(f).sum::<Ratio>();
    Item {
        id: id.to_owned(),
        work,
        spec: spec.to_owned(),
        stage: work.stage,
        unit,
        wording,
        quantity: decimal::rounded(sum(&|l| l.value), 2).unwrap_or_default(),
        net: decimal::rounded(sum(&|l| l.net), 12).unwrap_or_default(),
        places: 2,
        model: None,
        decisions: Vec::new(),
        judged: Vec::new(),
        whole: tankwright_quantities::sheet::Whole::default(),
        unbilled: false,
        made: tankwright_quantities::made::Made::NOTHING,
        kept: Vec::new(),
        lines,
    }
}

fn pit() -> Item {
    let clear = &(&len(0) + &len(5)) + &len(1);
    let (long, wide) = (&clear + &len(4).times(2), &len(2) + &len(4).times(2));
    // Half the fall below the outlet end, 325 mm of cover, base and blinding.
    let deep = &(&len(3) + &len(6).half()) + &Len::fixed(3_250);
    let dims = vec![dim(&long, 100), dim(&wide, 100), dim(&deep, 100)];
    let mut item = item(
        "excavation-pit/dig",
        &PIT,
        "",
        Unit::M3,
        words("Excavate pit, not deeper than 3.0 m"),
        vec![line("pit", vec![Times::Count(1)], dims)],
    );
    let exact = item.lines.iter().map(|l| l.exact).sum::<Ratio>();
    let (value, booked) = (item.lines.iter().map(|l| l.value).sum::<Ratio>(), decimal::ratio(item.quantity));
    item.model = Some(exact);
    item.decisions = vec![
        Decision {
            what: words("dimension booked: pit"),
            size: exact - value,
            clause: "east-africa 1.2".to_owned(),
        },
        Decision { what: words("total booked"), size: value - booked, clause: "east-africa 1.3".to_owned() },
    ];
    item
}

fn wall() -> Item {
    let clear = &(&len(0) + &len(5)) + &len(1);
    let thick = || Dim { dropped: true, ..dim(&len(4), 100) };
    let mean = &len(3) + &Len::share(&len(6), &(&len(1) + &len(5)), &clear);
    let hole = || dim(&Len::fixed(1_100), 100);
    let minus_circle = vec![Times::Count(-1), Times::Fraction(Ratio::of(1, 4)), Times::Pi];
    item(
        "brickwork-wall/220/walls-lower",
        &WALL,
        "220",
        Unit::M2,
        words("Brick walls, 220 mm thick, in mortar 1:4"),
        vec![
            line("side walls", vec![Times::Count(2)], vec![dim(&clear, 100), thick(), dim(&mean, 100)]),
            line("less pipe hole, inlet", minus_circle, vec![hole(), hole(), thick()]),
        ],
    )
}

fn paste(of: &Item) -> Item {
    let mut line = line("on the walls", vec![Times::Count(1)], Vec::new());
    line.of_item = Some(of.id.clone());
    line.value = decimal::ratio(of.quantity);
    line.net = line.value;
    let mut item = item("cement-paste/plaster", &PASTE, "", Unit::M2, words("Neat cement paste"), vec![line]);
    item.unbilled = true;
    item
}

fn space() -> Item {
    let clear = &len(0) + &len(1);
    let dims = vec![dim(&clear, 1), dim(&len(2), 1), dim(&len(3), 1)];
    let chambers = line("chambers", vec![Times::Count(1)], dims);
    item("void-clear-space/walls-lower", &SPACE, "", Unit::M3, words("Clear space"), vec![chambers])
}

fn rate(code: &str, line: usize, less_specific: bool) -> RateFrom {
    RateFrom {
        code: code.to_owned(),
        list: "rates/prices/demo-ugx.csv".to_owned(),
        line,
        date: "2026-10-01".to_owned(),
        source: "invented, demo".to_owned(),
        less_specific,
    }
}

fn row(reference: &str, item: &Item, rate: (i64, RateFrom), amount: i64) -> BillRow {
    BillRow {
        reference: reference.to_owned(),
        work: item.work,
        spec: item.spec.clone(),
        wording: item.wording.clone(),
        unit: item.unit,
        quantity: item.quantity,
        items: vec![item.id.clone()],
        rate: Some((d(rate.0, 0), rate.1)),
        amount: Some(d(amount, 0)),
        labour: None,
        outline: None,
        build_up: None,
    }
}

fn bill(pit: &Item, wall: &Item) -> Bill {
    let section =
        |section, letter, row: BillRow| BillSection { section, letter, total: row.amount, rows: vec![row] };
    let add = |title: &str, percent: i64, base: i64, on, amount: i64| Addition {
        title: title.to_owned(),
        percent: (percent > 0).then(|| d(percent, 0)),
        base: d(base, 0),
        on,
        amount: d(amount, 0),
    };
    Bill {
        currency: Currency {
            code: "UGX".to_owned(),
            digits: 0,
            unit: "shillings".to_owned(),
            minor: "cents".to_owned(),
            ..Currency::default()
        },
        sections: vec![
            section(
                Section::Earthworks,
                'A',
                row("A1", pit, (12_000, rate("excavation-pit", 3, false)), 164_520),
            ),
            section(
                Section::Masonry,
                'E',
                row("E1", wall, (46_500, rate("brickwork-wall", 31, true)), 476_625),
            ),
        ],
        // 164 520 + 476 625
        measured: Some(d(641_145, 0)),
        preliminaries: vec![SideRow { title: "Setting out".to_owned(), worked: None, amount: d(450_000, 0) }],
        not_priced: vec!["water".to_owned(), "watchman".to_owned()],
        provisional: vec![SideRow {
            title: "Rock, extra over".to_owned(),
            worked: Some(("m3".to_owned(), d(10, 1), d(85_000, 0))),
            amount: d(85_000, 0),
        }],
        additions: vec![
            // 5 % of 641 145 + 450 000 + 85 000 = 1 176 145, rounded from 58 807.25
            add("Contingency", 5, 1_176_145, AddedOn::Running, 58_807),
            // 18 % of 641 145 + 58 807 = 699 952, rounded from 125 991.36
            add("Value added tax", 18, 699_952, AddedOn::Titles(vec![0]), 125_991),
            // 1 176 145 + 58 807 + 125 991 = 1 360 943, up to the next 1 000
            add("Rounding of the offer", 0, 0, AddedOn::Amount, 57),
        ],
        say: Some(d(1_000, 0)),
        total: Some(d(1_361_000, 0)),
        total_in_words: "one million three hundred and sixty-one thousand shillings".to_owned(),
        price_list: Some(("demo-ugx".to_owned(), "2026-10-01".to_owned(), "2026-11-01".to_owned())),
        client_buys: None,
    }
}

/// The estimate.
pub(crate) fn estimate() -> Estimate {
    let (pit, wall) = (pit(), wall());
    let mark = |title, metres: &str| Mark { title: words(title), metres: metres.to_owned(), stage: None };
    Estimate {
        space: tankwright_quantities::space::Space::default(),
        sketch: tankwright_quantities::sketch::Sketch::default(),
        steel: goods_handmade::steel(),
        materials: goods_handmade::materials(),
        orders: goods_handmade::orders(),
        programme: goods_handmade::programme(),
        title: "Rest house, hill road".to_owned(),
        date: "2026-11-25".to_owned(),
        file: "job.toml".to_owned(),
        scope: vec![words("two chambers 2.00 + 1.00 m, 1.50 m wide, 1.63 m high")],
        profile: ("east-africa".to_owned(), "East African practice".to_owned()),
        inputs: inputs(),
        tests: Vec::new(),
        bill: bill(&pit, &wall),
        balances: vec![Balance {
            name: "earth",
            says: words("dug = put back + taken away"),
            left: Ratio::of(1_371, 100),
            right: Ratio::of(1_371, 100),
            unit: "m3",
            breaks: Vec::new(),
        }],
        method: tankwright_quantities::estimate::Method::default(),
        concrete: tankwright_quantities::beside::Concrete::default(),
        earth: Earth {
            dug_net: d(1_371, 2),
            dug_actual: d(14_105, 3),
            put_back: d(0, 0),
            carted_bank: d(1_371, 2),
            carted_loose: d(171_375, 4),
            loads: Some((3, d(6, 0))),
        },
        capacity: Capacity { to_water_line: Some(5_420), full: 7_335, ..Capacity::default() },
        checks: Vec::new(),
        outer_plan: tankwright_geometry::Ratio::ZERO,
        sizing: None,
        setting_out: vec![mark("dig bottom, outlet end", "1.955"), mark("top of cover", "0.000")],
        cautions: vec![Caution {
            code: "C001",
            says: words("pit deeper than 1.2 m without support"),
            source: "common practice, no source".to_owned(),
            place: Some(Place { file: "job.toml".to_owned(), span: 0..0, line: 14 }),
            stages: &[],
            on: On::Job,
        }],
        defaults: vec![DefaultUsed {
            path: "tank.walls.thickness".to_owned(),
            value: "220 mm".to_owned(),
            source: "common practice, no source".to_owned(),
        }],
        sources: Vec::new(),
        sheet: Sheet { items: vec![pit, wall.clone(), paste(&wall)], voids: vec![space()] },
    }
}
