//! A small hand-made estimate for tests: a fall, strips of hoop iron, pi, a wall by area, a line of an item,
//! an item kept out of the bill, a decision, every kind of addition.

use rust_decimal::Decimal;
use tankwright_geometry::{InputId, Judge, Kept, Len, PI, Ratio, Test};
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::{Balance, Capacity, Caution, DefaultUsed, Earth, Estimate, Mark, On};
use tankwright_quantities::job::{Given, Input, Scale};
use tankwright_quantities::problem::Place;
use tankwright_quantities::sheet::{Decision, Dim, Item, Line, Sheet, Times};
use tankwright_quantities::stage::Stage;
use tankwright_quantities::words::Phrase;
use tankwright_quantities::works::{Class, FaceRule, MadeOf, Proof, Section, Unit, Work};

use crate::bill_fixture::bill;
use crate::goods_fixture::{self, KG};

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

static BARS: Work = Work::plain(
    "bars",
    Unit::Kg,
    Section::Reinforcement,
    Class::Listed,
    Proof::Listed,
    Stage::Base,
    MadeOf::Nothing,
);

pub(crate) const LENGTH: u32 = 0;
pub(crate) const WIDTH: u32 = 1;
pub(crate) const HEIGHT: u32 = 2;
pub(crate) const WALL_T: u32 = 3;
const FALL: u32 = 4;
const EVERY: u32 = 5;
const BATTER: u32 = 6;
const COVERS: u32 = 7;
const TOP: u32 = 8;
pub(crate) const PIPE: u32 = 10;
pub(crate) const SPACING: u32 = 11;
pub(crate) const COVER_TO: u32 = 12;

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
        row("steel.base.short.spacing", mm(200), Scale::Length, here(50)),
        row("steel.cover_to_steel", mm(40), Scale::Length, here(51)),
        row("steel.stock_length", mm(6000), Scale::Length, here(52)),
        row("steel.kerf", mm(3), Scale::Length, here(53)),
        row("orders.reserve_bags.cover", Ratio::ONE, Scale::Plain, here(54)),
    ]
}

pub(crate) fn len(id: u32) -> Len {
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
    let factor = value;
    for d in dims.iter().filter(|d| !d.dropped) {
        value = value * Ratio::of(d.booked.into(), 10_000);
    }
    let booked =
        |d: &Dim| if d.up { Ratio::from(d.booked) } else { d.len.value().round_half_away(Ratio::ONE) };
    let net = dims.iter().fold(factor, |net, d| net * booked(d) / Ratio::int(10_000));
    let note = Phrase::new(note);
    Line { note, times, dims, of_item: None, value, net, exact: value }
}

fn item(work: &'static Work, spec: &str, unit: Unit, places: u32, lines: Vec<Line>) -> Item {
    item_in(work, work.stage, spec, (unit, places), lines, Vec::new())
}

fn item_in(
    work: &'static Work,
    stage: Stage,
    spec: &str,
    (unit, places): (Unit, u32),
    lines: Vec<Line>,
    kept: Vec<Line>,
) -> Item {
    let sum: Ratio = lines.iter().map(|l| l.value).sum();
    let quantity = decimal::rounded(sum, places).unwrap_or_default();
    let net = lines.iter().chain(&kept).map(|l| l.net).sum();
    Item {
        id: [work.id, spec, stage.id()].into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join("/"),
        work,
        spec: spec.into(),
        stage,
        unit,
        wording: Phrase::new(work.id),
        lines,
        quantity,
        net: decimal::rounded(net, 12).unwrap_or_default(),
        places,
        model: None,
        decisions: Vec::new(),
        unbilled: false,
        made: tankwright_quantities::made::Made::NOTHING,
        kept,
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
    let end =
        line("end walls", vec![Times::Count(2)], vec![dim(len(WIDTH), 100), thick.clone(), dim(depth, 50)]);
    let hole = vec![Times::Count(-1), Times::Fraction(Ratio::of(1, 4)), Times::Pi];
    let round = vec![dim(len(PIPE), 1), thick.clone(), dim(len(PIPE), 1)];
    let kept = line(
        "less opening",
        vec![Times::Count(-1)],
        vec![dim(len(PIPE).times(2), 100), thick, dim(len(WALL_T), 100)],
    );
    let hole = line("less pipe hole", hole, round);
    let mut wall = item_in(&WALL, Stage::WallsLower, "220", (Unit::M2, 4), vec![side, end, hole], vec![kept]);
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
    of.net = decimal::ratio(plaster.net);
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
    let mut items =
        vec![item(&DIG, "net", Unit::M3, 2, vec![dig]), space, wall, iron, paste, plaster, covers];
    items.extend(goods_fixture::marks().map(|(note, stage, members, each, dims)| {
        let sum = dims.iter().fold(Len::ZERO, |sum, (_, len)| sum + len);
        let up =
            Dim { booked: if members == 1 { 18_750 } else { 19_000 }, step: 250, up: true, ..dim(sum, 1) };
        let times = vec![Times::Count(i64::try_from(members).unwrap_or(0)), each, Times::MassPerMetre(KG)];
        item_in(&BARS, stage, "Y10", (Unit::Kg, 2), vec![line(note, times, vec![up])], Vec::new())
    }));
    Sheet { items, voids: vec![void] }
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
    let materials = goods_fixture::materials(&sheet);
    let d = Decimal::new;
    Estimate {
        space: tankwright_quantities::space::Space::default(),
        sketch: tankwright_quantities::sketch::Sketch::default(),
        steel: goods_fixture::steel(),
        orders: goods_fixture::orders(&materials),
        materials,
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
        capacity: Capacity { to_water_line: Some(5420), full: 6000, ..Capacity::default() },
        checks: Vec::new(),
        outer_plan: tankwright_geometry::Ratio::ZERO,
        sizing: None,
        setting_out: vec![Mark { title: Phrase::new("dig bottom"), metres: "-1.925".into(), stage: None }],
        bill,
        cautions: vec![Caution {
            code: "C001",
            says: Phrase::new("dig deeper than 1.2 m"),
            source: "common practice, no source".into(),
            place: None,
            stages: &[],
            on: On::Job,
        }],
        defaults: vec![DefaultUsed {
            path: "tank.walls.mortar".into(),
            value: "1:4".into(),
            source: "common practice, no source".into(),
        }],
        sources: vec![("soil firm-clay".into(), "recalled".into())],
    }
}
