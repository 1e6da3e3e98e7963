//! A small hand-made estimate for tests: a fall, strips of hoop iron, pi, a wall by area, a line of an item,
//! an item kept out of the bill, a decision, every kind of addition.

use rust_decimal::Decimal;
use tankwright_geometry::{InputId, Judge, Kept, Len, PI, Ratio, Test};
use tankwright_quantities::bill::{AddedOn, Addition, Bill, BillRow, BillSection, RateFrom, SideRow};
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::{Balance, Capacity, Caution, DefaultUsed, Earth, Estimate, Mark};
use tankwright_quantities::job::{Given, Input, Scale};
use tankwright_quantities::money::Currency;
use tankwright_quantities::problem::Place;
use tankwright_quantities::sheet::{Decision, Dim, Item, Line, Sheet, Times};
use tankwright_quantities::stage::Stage;
use tankwright_quantities::words::Phrase;
use tankwright_quantities::works::{Class, FaceRule, MadeOf, Proof, Section, Unit, Work};

static DIG: Work = Work::plain(
    "excavation-pit",
    Unit::M3,
    Section::Earthworks,
    Class::Earth,
    Proof::Cells,
    Stage::Dig,
    MadeOf::Nothing,
);
static WALL: Work = Work::plain(
    "brickwork-wall",
    Unit::M3,
    Section::Masonry,
    Class::Masonry,
    Proof::Cells,
    Stage::WallsLower,
    MadeOf::Nothing,
);
static IRON: Work = Work::plain(
    "hoop-iron",
    Unit::M,
    Section::Masonry,
    Class::Listed,
    Proof::Listed,
    Stage::WallsLower,
    MadeOf::Nothing,
);
static PLASTER: Work = Work::plain(
    "plaster-wall",
    Unit::M2,
    Section::Finishes,
    Class::Plaster,
    Proof::Faces(FaceRule::Inside),
    Stage::Plaster,
    MadeOf::Nothing,
);
static PASTE: Work = Work::plain(
    "cement-paste",
    Unit::M2,
    Section::Finishes,
    Class::Plaster,
    Proof::Formula,
    Stage::Plaster,
    MadeOf::Nothing,
);
static COVER: Work = Work::plain(
    "manhole-cover",
    Unit::Nr,
    Section::Pipework,
    Class::Listed,
    Proof::Listed,
    Stage::Finish,
    MadeOf::Nothing,
);

const LENGTH: u32 = 0;
const WIDTH: u32 = 1;
const HEIGHT: u32 = 2;
const WALL_T: u32 = 3;
const FALL: u32 = 4;
const EVERY: u32 = 5;
const BATTER: u32 = 6;
const COVERS: u32 = 7;
const TOP: u32 = 8;
const PIPE: u32 = 10;

/// Inputs by position: path, value, scale.
fn inputs() -> Vec<Input> {
    let row = |path: &str, value: Ratio, scale, given| Input {
        path: path.into(),
        value,
        scale,
        any_sign: path == "tank.cover_top",
        given,
    };
    let here = |line| Given::Here(Place { file: "job.toml".into(), span: 0..0, line });
    let mm = |mm: i128| Ratio::int(10 * mm);
    vec![
        row("tank.chambers[0]", mm(2110), Scale::Length, here(9)),
        row("tank.width", mm(1500), Scale::Length, here(10)),
        row("tank.height", mm(1600), Scale::Length, here(11)),
        row("tank.walls.thickness", mm(220), Scale::Length, here(20)),
        row("tank.base.fall", mm(61), Scale::Length, here(17)),
        row(
            "tank.walls.hoop_iron_every",
            Ratio::int(4),
            Scale::Plain,
            Given::Default("common practice, no source"),
        ),
        row("tank.pit.batter", Ratio::of(1, 4), Scale::Plain, here(14)),
        row("tank.cover.number", Ratio::int(2), Scale::Plain, here(31)),
        row("tank.cover_top", mm(-100), Scale::Length, here(12)),
        row("tank.base.projection", Ratio::ZERO, Scale::Length, Given::Nothing),
        row("tank.pipes.outlet.diameter", mm(110), Scale::Length, here(40)),
    ]
}

fn len(id: u32) -> Len {
    let value = inputs().get(id as usize).map_or(Ratio::ZERO, |i| i.value);
    Len::input(InputId(id), value, true)
}

fn dim(len: Len, step: i64) -> Dim {
    let booked = len.value().round_half_away(step.into()).numer();
    Dim { len, booked: i64::try_from(booked).unwrap_or(0), step, dropped: false, up: false }
}

fn line(note: &'static str, times: Vec<Times>, dims: Vec<Dim>) -> Line {
    let mut value = Ratio::ONE;
    for t in &times {
        value = value
            * match t {
                Times::Count(n)
                | Times::Input(_, n)
                | Times::Strips { value: n, .. }
                | Times::Spaces { value: n, .. } => Ratio::from(*n),
                Times::Fraction(f) => *f,
                Times::Pi => PI,
                Times::MassPerMetre(kg) => *kg,
            };
    }
    for d in dims.iter().filter(|d| !d.dropped) {
        value = value * Ratio::of(d.booked.into(), 10_000);
    }
    let note = Phrase::new(note);
    Line { note, times, dims, of_item: None, value, net: value, exact: value }
}

fn item(work: &'static Work, spec: &str, unit: Unit, places: u32, lines: Vec<Line>) -> Item {
    let sum: Ratio = lines.iter().map(|l| l.value).sum();
    let quantity = decimal::rounded(sum, places).unwrap_or_default();
    Item {
        id: [work.id, spec, work.stage.id()]
            .into_iter()
            .filter(|p| !p.is_empty())
            .collect::<Vec<_>>()
            .join("/"),
        work,
        spec: spec.into(),
        stage: work.stage,
        unit,
        wording: Phrase::new(work.id),
        lines,
        quantity,
        net: quantity,
        places,
        model: None,
        decisions: Vec::new(),
        unbilled: false,
        made: tankwright_quantities::made::Made::NOTHING,
        kept: Vec::new(),
    }
}

fn sheet() -> Sheet {
    let outer = |id| &len(id) + &len(WALL_T).times(2);
    let half = Len::share(&len(FALL), &(&len(LENGTH) - &len(WALL_T)).half(), &len(LENGTH));
    let depth = &(&len(HEIGHT) - &len(TOP)) + &half;
    let dig = line(
        "pit",
        vec![Times::Count(1)],
        vec![dim(outer(LENGTH), 100), dim(outer(WIDTH), 100), dim(depth.clone(), 100)],
    );
    let slope = depth.scaled(&len(BATTER));
    let third = line(
        "corners",
        vec![Times::Fraction(Ratio::of(4, 3))],
        vec![dim(slope.clone(), 1), dim(slope, 1), dim(depth.clone(), 1)],
    );
    let mut space = item(&DIG, "working-space", Unit::M3, 2, vec![third]);
    space.unbilled = true;

    let mut thick = dim(len(WALL_T), 50);
    thick.dropped = true;
    let side = line(
        "side walls",
        vec![Times::Count(2)],
        vec![dim(outer(LENGTH), 100), thick.clone(), dim(depth.clone(), 1)],
    );
    let end = line("end walls", vec![Times::Count(2)], vec![dim(len(WIDTH), 100), thick, dim(depth, 50)]);
    let hole = vec![Times::Count(-1), Times::Fraction(Ratio::of(1, 4)), Times::Pi];
    let hole = line("less pipe hole", hole, vec![dim(len(PIPE), 1), dim(len(PIPE), 1)]);
    let mut wall = item(&WALL, "220", Unit::M2, 4, vec![side, end, hole]);
    wall.decisions.push(Decision {
        what: Phrase::new("mean height booked"),
        size: Ratio::of(690, 311),
        clause: "1.3 (recalled)".into(),
    });

    // 1600 / 75 = 21.3 courses: (21 - 1) / 4 = 5 strips.
    let course = Len::fixed(750);
    let strips = Times::Strips { lift: len(HEIGHT), course, every: (InputId(EVERY), 4), value: 5 };
    let girth = &(&len(LENGTH) + &len(WIDTH)).times(2) + &len(WALL_T).times(4);
    let iron = item(&IRON, "", Unit::M, 3, vec![line("all round", vec![strips], vec![dim(girth, 1)])]);

    let clear = vec![dim(len(LENGTH), 100), dim(len(HEIGHT), 100)];
    let plaster = item(&PLASTER, "", Unit::M2, 12, vec![line("sides", vec![Times::Count(2)], clear)]);
    let mut of = line("-as plaster", vec![Times::Count(1)], Vec::new());
    of.of_item = Some(plaster.id.clone());
    of.value = decimal::ratio(plaster.quantity);
    let paste = item(&PASTE, "", Unit::M2, 2, vec![of]);
    let covers = item(
        &COVER,
        "",
        Unit::Nr,
        0,
        vec![line("covers", vec![Times::Input(InputId(COVERS), 2)], Vec::new())],
    );
    let clear = vec![dim(len(LENGTH), 1), dim(len(WIDTH), 1), dim(len(HEIGHT), 1)];
    let void = item(&DIG, "clear", Unit::M3, 12, vec![line("clear space", vec![Times::Count(1)], clear)]);
    // The paste stands before the plaster it refers to: references go both ways.
    let items = vec![item(&DIG, "net", Unit::M3, 2, vec![dig]), space, wall, iron, paste, plaster, covers];
    Sheet { items, voids: vec![void] }
}

fn bill(sheet: &Sheet) -> Bill {
    let round = |d: Decimal| decimal::round(d, 2);
    let mut sections: Vec<BillSection> = Vec::new();
    for (i, item) in sheet.items.iter().enumerate().filter(|(_, i)| !i.unbilled) {
        let new = sections.last().is_none_or(|s| s.section != item.work.section);
        if new {
            let letter = char::from(b'A' + u8::try_from(sections.len()).unwrap_or(0));
            sections.push(BillSection { section: item.work.section, letter, rows: Vec::new(), total: None });
        }
        let Some(section) = sections.last_mut() else { continue };
        let rate = Decimal::new(1_234_567 + i64::try_from(i).unwrap_or(0), 2);
        let quantity = decimal::round(item.quantity, if item.unit == Unit::Nr { 0 } else { 3 });
        let from = RateFrom {
            code: item.work.id.into(),
            list: "prices.csv".into(),
            line: 10 + i,
            date: "2026-10-01".into(),
            source: "=invented, demo".into(),
            less_specific: i == 2,
        };
        section.rows.push(BillRow {
            reference: format!("{}{}", section.letter, section.rows.len() + 1),
            work: item.work,
            spec: item.spec.clone(),
            wording: item.wording.clone(),
            unit: item.unit,
            quantity,
            items: vec![item.id.clone()],
            rate: Some((rate, from)),
            amount: Some(round(quantity * rate)),
        });
    }
    for section in &mut sections {
        section.total = section.rows.iter().map(|r| r.amount).sum();
    }
    let measured: Decimal = sections.iter().filter_map(|s| s.total).sum();
    let side = |title: &str, worked: Option<(i64, i64)>, amount: i64| {
        let worked = worked.map(|(q, r)| ("m3".to_owned(), Decimal::new(q, 1), Decimal::from(r)));
        let amount = worked.as_ref().map_or(Decimal::from(amount), |(_, q, r)| round(q * r));
        SideRow { title: title.into(), worked, amount }
    };
    let preliminaries = vec![side("+Setting out", None, 4500), side("Watchman", Some((125, 333)), 0)];
    let provisional = vec![side("Rock, extra over", Some((10, 850)), 0)];
    let sides: Decimal = preliminaries.iter().chain(&provisional).map(|s| s.amount).sum();
    let mut running = measured + sides;
    let mut additions: Vec<Addition> = Vec::new();
    let chain = [
        ("Contingency", Some(5), AddedOn::Running),
        ("Overhead", Some(15), AddedOn::Measured),
        ("Transport", None, AddedOn::Amount),
        ("Tax", Some(18), AddedOn::Titles(vec![0, 1])),
        ("Say", None, AddedOn::Amount),
    ];
    let step = Decimal::from(1000);
    for (title, percent, on) in chain {
        let base = match &on {
            AddedOn::Measured => measured,
            AddedOn::Titles(of) => {
                measured + of.iter().filter_map(|i| additions.get(*i)).map(|a| a.amount).sum::<Decimal>()
            }
            AddedOn::Running | AddedOn::Amount => running,
        };
        let percent = percent.map(Decimal::from);
        let amount = match percent {
            Some(p) => round(base * p / Decimal::ONE_HUNDRED),
            None if title == "Say" => (running / step).ceil() * step - running,
            None => Decimal::new(12_345, 2),
        };
        running += amount;
        additions.push(Addition { title: title.into(), percent, base, on, amount });
    }
    Bill {
        currency: Currency { code: "KES".into(), digits: 2, unit: "shillings".into(), minor: "cents".into() },
        sections,
        measured: Some(measured),
        preliminaries,
        not_priced: vec!["Permits".into()],
        provisional,
        additions,
        say: Some(step),
        total: Some(running),
        total_in_words: "so many shillings".into(),
        price_list: Some(("prices.csv".into(), "2026-10-01".into(), "2026-10-01".into())),
    }
}

fn tests() -> Vec<Test> {
    let judge = Judge::new(true, [InputId(TOP)].into());
    judge.cmp(&len(LENGTH), &len(WIDTH));
    judge.cmp(&len(TOP), &Len::ZERO);
    judge.cmp(&len(WALL_T), &len(PIPE).times(2));
    // A void of 0.0121 m2 against a limit of 0.10 m2.
    judge.cmp_product(&[&len(PIPE), &len(PIPE)], Ratio::int(10_000_000));
    let mut tests = judge.tests();
    let slope = Len::share(&len(FALL), &len(WALL_T), &len(LENGTH));
    let sign = slope.value().cmp(&Ratio::ZERO);
    tests.push(Test { kept: Kept::Difference(slope), sign });
    tests
}

/// The estimate.
pub(crate) fn estimate() -> Estimate {
    let sheet = sheet();
    let bill = bill(&sheet);
    let d = Decimal::new;
    Estimate {
        steel: tankwright_quantities::steel::Schedule::default(),
        materials: tankwright_quantities::materials::Materials::default(),
        orders: tankwright_quantities::orders::Orders::default(),
        programme: tankwright_quantities::programme::Programme::default(),
        title: "=Rest house & [hill] road".into(),
        date: "2026-11-25".into(),
        file: "job.toml".into(),
        scope: vec![Phrase::new("one chamber")],
        profile: ("east-africa".into(), "East Africa".into()),
        inputs: inputs(),
        tests: tests(),
        sheet,
        balances: vec![Balance {
            name: "earth",
            says: Phrase::new("dug = put back + taken away"),
            left: Ratio::of(1, 3),
            right: Ratio::of(1, 3),
            unit: "m3",
            breaks: Vec::new(),
        }],
        earth: Earth {
            dug_net: d(2306, 2),
            dug_actual: d(2461, 2),
            put_back: d(630, 2),
            carted_bank: d(1831, 2),
            carted_loose: d(229, 1),
            loads: Some((4, d(6, 0))),
        },
        capacity: Capacity { to_water_line: Some(5420), full: 6000 },
        setting_out: vec![Mark { title: Phrase::new("dig bottom"), metres: "-1.925".into() }],
        bill,
        cautions: vec![Caution {
            code: "C001",
            says: Phrase::new("dig deeper than 1.2 m"),
            source: "common practice, no source".into(),
            place: None,
        }],
        defaults: vec![DefaultUsed {
            path: "tank.walls.mortar".into(),
            value: "1:4".into(),
            source: "common practice, no source".into(),
        }],
        sources: vec![("soil firm-clay".into(), "recalled".into())],
    }
}
