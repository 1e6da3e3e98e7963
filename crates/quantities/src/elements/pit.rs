//! The pit: dug in depth bands, trimmed, supported, treated against termites, kept dry.
//!
//! Tight: the outer plan. Open: `net` (the base's plan, vertical) and `working-space` (the rest: its sides vertical up
//! to the highest level of the bottom, then leaning out by the batter, corners mitred).

use tankwright_geometry::{Amount, Len, Ratio};

use crate::cautions::Hole;
use crate::checks;
use crate::elements::{Element, base};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, SetOut, Spec, count};
use crate::model::Model;
use crate::problem::Problem;
use crate::rates::{DigClass, Room};
use crate::sheet::Times;
use crate::site::{Site, Span};
use crate::sketch::{Dig, Sketch, span};
use crate::source::Source;
use crate::space::tenths;
use crate::stage::Stage;
use crate::strips::{Slice, bands, deeper, ring_lines, sliced, strips};
use crate::words::Phrase;
use crate::works::{earthwork, earthwork::EXCAVATION_PIT};

/// The element.
pub static ELEMENT: Pit = Pit;

/// The pit.
#[derive(Debug)]
pub struct Pit;

static CODES: &[(&str, &str)] =
    &[("J040", "a floor above the ground"), ("J052", "projection, working space or batter in a tight pit")];

static FIELDS: &[Field] = &[
    Field::part("tank.pit", Presence::Always, "the hole"),
    Field::value(
        "tank.pit.face",
        Kind::Choice(&["tight", "open"]),
        Fallback::Default("tight", "the smallest dig; our choice, printed"),
        "walls built against the earth (tight), or with room round them (open)",
    ),
    Field::length("tank.pit.working_space", 0, Fallback::Nothing, "open: all round, beyond base and walls"),
    Field::value(
        "tank.pit.batter",
        Kind::Factor { places: 4 },
        Fallback::Nothing,
        "open pits: horizontal per 1 vertical",
    ),
    Field::length("tank.pit.over_break", 0, Fallback::Nothing, "tight pits: allowance beyond the net face"),
    Field::value(
        "tank.pit.termite",
        Kind::Flag,
        Fallback::Nothing,
        "treat bottom and sides: a poison, keep it from wells and streams",
    ),
];

/// Plan of the bottom, working space included: along, across.
fn bottom(site: &Site<'_>) -> [Span; 2] {
    let room = if site.open { site.working_space.clone() } else { Len::ZERO };
    base::plan(site).map(|s| [&s[0] - &room, &s[1] + &room])
}

fn sides([x, y]: &[Span; 2]) -> [Len; 2] {
    [&x[1] - &x[0], &y[1] - &y[0]]
}

/// Length and breadth of the bottom of the dig.
#[must_use]
pub fn bottom_size(site: &Site<'_>) -> [Len; 2] {
    sides(&bottom(site))
}

/// Length and breadth of the dig at ground level, where its sides lean out.
#[must_use]
pub fn top_size(site: &Site<'_>) -> Option<[Len; 2]> {
    let batter = &site.batter;
    let out = site.dig_depth().scaled(batter).times(2);
    (site.open && !batter.is_zero()).then(|| bottom_size(site).map(|side| &side + &out))
}

fn net_spec(site: &Site<'_>, band: &str) -> Spec {
    let class = class(site);
    let large = class.as_ref().is_some_and(|(_, large)| *large);
    let name = [if site.open { "net" } else { "" }, if large { "over-areas" } else { "" }, band]
        .into_iter()
        .filter(|s| !s.is_empty())
        .collect::<Vec<_>>()
        .join("/");
    let key = match (band.is_empty(), &site.profile.by_greatest_depth) {
        (true, _) => "excavation-pit",
        (_, None) => "excavation-pit-band",
        (_, Some(_)) => "excavation-pit-greatest",
    };
    let spec = Spec::plain(&EXCAVATION_PIT).worded(key, &[band]);
    let wording = match class {
        Some((of, _)) => {
            Phrase::with("wording-and", &[&spec.wording.to_string(), &of.says[usize::from(large)]])
        }
        None => spec.wording.clone(),
    };
    Spec { spec: name, wording, ..spec }
}

fn space_spec(band: &str) -> Spec {
    let name = ["working-space", band].into_iter().filter(|s| !s.is_empty()).collect::<Vec<_>>().join("/");
    let key = if band.is_empty() { "excavation-pit-space" } else { "excavation-pit-space-band" };
    Spec { spec: name, ..Spec::plain(&EXCAVATION_PIT).worded(key, &[band]) }
}

/// Has the pit room beyond the net dig?
#[must_use]
pub fn has_space(site: &Site<'_>) -> bool {
    site.open && !(site.working_space.is_zero() && site.batter.is_zero())
}

/// Books the room beyond the net dig of an open pit, in a slice: a ring, or with a batter the whole pit less the net.
pub fn space_lines(site: &Site<'_>, book: &mut Book<'_>, spec: &Spec, stage: Stage, slice: &Slice) {
    if site.batter.is_zero() {
        let room = &site.working_space;
        return ring_lines(book, site, (spec, stage), &base::plan(site), room, &site.layers_deep(), slice);
    }
    let whole = bottom(site);
    let deep = site.layers_deep();
    let [length, breadth] = sides(&whole);
    let highest = site.dig_depth();
    let batter = &site.batter;
    let mut vertical = slice.clone();
    if !batter.is_zero() && site.judge.cmp(&slice.from, &highest).is_lt() {
        let low = slice.to.as_ref().map_or(&highest, |to| site.judge.min(to, &highest)).clone();
        let grown = |depth: &Len| {
            let out = (&highest - depth).scaled(batter).times(2);
            [&length + &out, &breadth + &out]
        };
        let ([l1, b1], [l2, b2]) = (grown(&slice.from), grown(&low));
        let height = &low - &slice.from;
        let sixth = [count(1), Times::Fraction(Ratio::of(1, 6))];
        for (key, l, b) in [
            ("prism-top", &l1, &b1),
            ("prism-bottom", &l2, &b2),
            ("prism-middle", &(&l1 + &l2), &(&b1 + &b2)),
        ] {
            book.line(spec, stage, Phrase::new(key), &sixth, &[l, b, &height]);
        }
        vertical.from = low;
    }
    let empty = vertical.to.as_ref().is_some_and(|to| site.judge.cmp(to, &vertical.from).is_le());
    if !empty {
        for s in strips(site, &whole[0], &deep, &vertical) {
            book.line(spec, stage, Phrase::new(s.note), &s.times, &[&s.run, &breadth, &s.depth]);
        }
    }
    let [net_x, _] = base::plan(site);
    let [_, net_breadth] = base::size(site);
    for s in strips(site, &net_x, &deep, slice) {
        let times: Vec<_> =
            s.times.iter().map(|t| if let Times::Count(n) = t { count(-n) } else { t.clone() }).collect();
        book.line(
            spec,
            stage,
            Phrase::with("less-net-dig", &[crate::words::look_up(s.note)]),
            &times,
            &[&s.run, &net_breadth, &s.depth],
        );
    }
}

/// Second formula for the net dig of a slice, cubic tenths of a millimetre.
#[must_use]
pub fn net_volume(site: &Site<'_>, slice: &Slice) -> Amount {
    let [x, _] = base::plan(site);
    let [_, breadth] = base::size(site);
    sliced(slice, |d| deeper(site, &x, &site.layers_deep(), d)) * breadth.amount()
}

/// Second formula for the room beyond the net dig: the battered part is integrated as a polynomial of the depth.
#[must_use]
pub fn space_volume(site: &Site<'_>, slice: &Slice) -> Amount {
    let whole = bottom(site);
    let [length, breadth] = sides(&whole).map(|l| l.amount());
    let (highest, batter) = (site.dig_depth(), site.batter.amount());
    // Sum of the rings leaning out above the highest level of the bottom, below a depth d.
    let leaning = |d: &Len| {
        if !site.less(d, &highest) {
            return Amount::ZERO;
        }
        let h = (&highest - d).amount();
        let two = &batter * &h * &h;
        (&length + &breadth) * &two + two * &batter * h * Ratio::of(4, 3)
    };
    let vertical = sliced(slice, |d| deeper(site, &whole[0], &site.layers_deep(), d)) * &breadth;
    vertical + sliced(slice, leaning) - net_volume(site, slice)
}

impl Element for Pit {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, _: &mut SetOut) {
        refuse(site);
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let deep = site.layers_deep();
        let [x, _] = base::plan(site);
        let [_, breadth] = base::size(site);
        for (band, slice) in bands(site) {
            let spec = net_spec(site, &band);
            for s in strips(site, &x, &deep, &slice) {
                book.line(&spec, Stage::Dig, Phrase::new(s.note), &s.times, &[&s.run, &breadth, &s.depth]);
            }
            banded(site, book, &spec);
            let spec = space_spec(&band);
            let dug = slice.from.is_zero() || site.judge.cmp(&slice.from, &deepest(site)).is_lt();
            if has_space(site) && dug {
                space_lines(site, book, &spec, Stage::Dig, &slice);
                keep_space(site, book, &spec, Stage::Dig);
                banded(site, book, &spec);
            }
        }
        if let Some((source, plan)) = by_face(site) {
            let face = Spec::plain(&earthwork::WORKING_SPACE_FACE);
            side_lines(site, book, &face, &plan);
            book.rule(&face, Stage::Dig, Phrase::new("for-a-volume"), source.to_string());
        }
        let whole = bottom(site);
        let [length, breadth] = sides(&whole);
        let trim = Spec::plain(&earthwork::BOTTOM_TRIM);
        book.line(&trim, Stage::Dig, Phrase::new("bottom-of-dig"), &[count(1)], &[&length, &breadth]);
        let ground = site.job;
        if ground.text("ground.support") != "none" {
            side_lines(site, book, &support(site), &whole);
        }
        if ground.flag("tank.pit.termite") {
            let spec = Spec::plain(&earthwork::TERMITE_TREATMENT);
            book.line(&spec, Stage::Dig, Phrase::new("bottom-of-dig"), &[count(1)], &[&length, &breadth]);
            side_lines(site, book, &spec, &whole);
        }
        if ground.flag("ground.keep_dry") {
            book.line(
                &Spec::plain(&earthwork::KEEP_DRY),
                Stage::Dig,
                Phrase::new("pit-and-soak-pit"),
                &[count(1)],
                &[],
            );
        }
    }

    fn holes(&self, site: &Site<'_>) -> Vec<Hole> {
        let safe = checks::limit(site.stock, "batter-safe");
        let leans = safe.is_some_and(|v| site.batter.value() >= v.value);
        vec![Hole {
            depth: &site.dig_depth() + &site.floor.fall,
            held: site.job.text("ground.support") != "none" || leans,
            path: "tank.height".to_owned(),
            stages: &[Stage::Dig],
            bare: ("C001", "caution-deep-dig"),
            other: Some(("C072", "caution-dig")),
        }]
    }

    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        let bottom = bottom(site);
        let lean = if site.open { site.dig_depth().scaled(&site.batter) } else { Len::ZERO };
        let top = bottom.clone().map(|s| [&s[0] - &lean, &s[1] + &lean]);
        let [bottom, top] = [bottom, top].map(|plan| plan.map(|s| span(&s)));
        let (below_floor, stages) = (tenths(&site.layers_deep()), [Stage::Dig, Stage::Finish]);
        out.digs.push(Dig { bottom, top, below_floor, filled: has_space(site), stages });
    }

    fn prove(&self, site: &Site<'_>, _: &Model, book: &mut Book<'_>) {
        for (band, slice) in bands(site) {
            book.prove(&net_spec(site, &band), Stage::Dig, net_volume(site, &slice));
            if has_space(site) {
                book.prove(&space_spec(&band), Stage::Dig, space_volume(site, &slice));
            }
        }
        if let Some((_, plan)) = by_face(site) {
            book.prove(&Spec::plain(&earthwork::WORKING_SPACE_FACE), Stage::Dig, side_area(site, &plan));
        }
        let whole = bottom(site);
        let [net_length, net_breadth] = base::size(site).map(|l| l.amount());
        let room = if site.open { site.working_space.amount() } else { Amount::ZERO };
        // Net plan, a ring of working space and its corners.
        let plan = &net_length * &net_breadth
            + (net_length + net_breadth) * &room * Ratio::int(2)
            + &room * &room * Ratio::int(4);
        book.prove(&Spec::plain(&earthwork::BOTTOM_TRIM), Stage::Dig, plan.clone());
        let side = side_area(site, &whole);
        if site.job.text("ground.support") != "none" {
            book.prove(&support(site), Stage::Dig, side.clone());
        }
        if site.job.flag("tank.pit.termite") {
            book.prove(&Spec::plain(&earthwork::TERMITE_TREATMENT), Stage::Dig, plan + side);
        }
    }
}

/// Working space that the profile does not bill by its volume.
pub fn keep_space(site: &Site<'_>, book: &mut Book<'_>, spec: &Spec, stage: Stage) {
    match &site.profile.working_space {
        Room::Billed => {}
        Room::InRate(source) => {
            book.keep_in_rate(spec, stage, Phrase::new("in-rate-of-dig"), source.to_string());
        }
        Room::ByFace(under, source) => {
            let key = if by_face(site).is_some() { "in-rate-of-face" } else { "in-rate-of-dig" };
            let says = Phrase::with(key, &[&site.mm(&Len::fixed(*under))]);
            book.keep_in_rate(spec, stage, says, source.to_string());
        }
    }
}

/// The plan of the face by which the profile bills working space: that of the net dig, where the walls stand near it.
fn by_face<'a>(site: &Site<'a>) -> Option<(&'a Source, [Span; 2])> {
    let Room::ByFace(under, source) = &site.profile.working_space else { return None };
    let near = || site.judge.cmp(&site.projection, &Len::fixed(*under)).is_lt();
    (has_space(site) && near()).then(|| (source, base::plan(site)))
}

/// Says by which rule a pit is in a band and a class.
fn banded(site: &Site<'_>, book: &mut Book<'_>, spec: &Spec) {
    let p = site.profile;
    if !p.bands.0.is_empty() {
        let (key, source) = match &p.by_greatest_depth {
            Some(source) => ("band-greatest", source),
            None => ("band-slice", &p.bands.1),
        };
        book.rule(spec, Stage::Dig, Phrase::new(key), source.to_string());
    }
    if let Some((of, _)) = class(site) {
        let [length, breadth] = base::size(site);
        let m2 = length.value() * breadth.value() / Ratio::int(100_000_000);
        let plan = crate::decimal::rounded(m2, 2).map_or_else(String::new, |d| d.to_string());
        book.rule(spec, Stage::Dig, Phrase::with("dig-class", &[&plan]), of.source.to_string());
    }
}

/// The class of the pit by its plan: the rule, and whether it is the large one.
fn class<'a>(site: &Site<'a>) -> Option<(&'a DigClass, bool)> {
    let class = site.profile.dig_class.as_ref()?;
    let [length, breadth] = base::size(site);
    let width = site.judge.min(&length, &breadth);
    let wide = site.judge.cmp(width, &Len::fixed(class.width)).is_gt();
    let large = wide && site.judge.cmp_product(&[&length, &breadth], class.area).is_gt();
    Some((class, large))
}

/// Side supports, by kind.
#[must_use]
pub fn support(site: &Site<'_>) -> Spec {
    Spec::of(&earthwork::EARTHWORK_SUPPORT, site.job.text("ground.support"), &[])
}

fn deepest(site: &Site<'_>) -> Len {
    &site.dig_depth() + &site.floor.fall
}

fn side_lines(site: &Site<'_>, book: &mut Book<'_>, spec: &Spec, plan: &[Span; 2]) {
    let [_, breadth] = sides(plan);
    for s in strips(site, &plan[0], &site.layers_deep(), &Slice::whole()) {
        book.line(
            spec,
            Stage::Dig,
            Phrase::with("long-sides", &[crate::words::look_up(s.note)]),
            &[count(2)],
            &[&s.run, &s.depth],
        );
    }
    book.line(spec, Stage::Dig, Phrase::new("side-inlet"), &[count(1)], &[&breadth, &deepest(site)]);
    book.line(spec, Stage::Dig, Phrase::new("side-outlet"), &[count(1)], &[&breadth, &site.dig_depth()]);
}

/// Area of the sides of a pit with this plan of its bottom, from there up to ground, square tenths of a millimetre:
/// girth times the depth at the outlet end, and what the fall adds on three sides.
fn side_area(site: &Site<'_>, plan: &[Span; 2]) -> Amount {
    let [length, breadth] = sides(plan).map(|l| l.amount());
    let before = (-&plan[0][0]).amount();
    let girth = (length + &breadth) * site.dig_depth().amount() * Ratio::int(2);
    girth + site.floor.fall.amount() * (breadth + before * Ratio::int(2) + site.length.amount())
}

/// Side area of a tight pit: what over-break acts on, square tenths of a millimetre.
#[must_use]
pub fn tight_sides(site: &Site<'_>) -> Ratio {
    side_area(site, &bottom(site)).value()
}

fn refuse(site: &Site<'_>) {
    let job = site.job;
    if !site.less(&site.floor.outlet, &Len::ZERO) {
        let place = job.place("tank.cover_top").or_else(|| job.place("tank.height"));
        let problem = Problem::error("J040", place, "the floor lies above the ground")
            .label(format!("the floor at the outlet end is {} mm above ground", site.mm(&site.floor.outlet)))
            .hint("this tool measures tanks below ground: lower cover_top or raise the height");
        job.report(problem);
    }
    if site.open {
        return;
    }
    let tight = [
        ("tank.base.projection", "the base cannot project in a tight pit"),
        ("tank.pit.working_space", "there is no working space in a tight pit"),
        ("tank.pit.batter", "the sides of a tight pit do not lean out"),
    ];
    for (path, what) in tight.into_iter().filter(|(path, _)| !job.len(path).is_zero()) {
        let problem = Problem::error("J052", job.place(path), what)
            .label("the walls are built against the earth here")
            .hint("set it to 0, or write [tank.pit] face = \"open\"");
        job.report(problem);
    }
}
