//! Brick shafts round the manholes of a buried cover, from the cover up to ground and an upstand above it.

use tankwright_geometry::{Len, Z};

use crate::elements::{Element, cover};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Claim, Rank, SetOut, Spec, count};
use crate::problem::Problem;
use crate::site::{Site, Span};
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{masonry, voids};

/// The element.
pub static ELEMENT: ManholeShafts = ManholeShafts;

/// Manhole shafts.
#[derive(Debug)]
pub struct ManholeShafts;

const PART: &str = "tank.manhole_shafts";

static CODES: &[(&str, &str)] =
    &[("J057", "a manhole shaft that stands beyond the walls"), ("J058", "two manhole shafts that meet")];

static FIELDS: &[Field] = &[
    Field::part(PART, Presence::Optional, "brick shafts when the cover is below ground"),
    Field::length("tank.manhole_shafts.thickness", 500, Fallback::Required, "thickness of their walls"),
    Field::value(
        "tank.manhole_shafts.unit",
        Kind::Text,
        Fallback::Nothing,
        "masonry unit; left out: as the walls",
    ),
    Field::value(
        "tank.manhole_shafts.mortar",
        Kind::Mix { parts: 2 },
        Fallback::Nothing,
        "mortar; left out: as the walls",
    ),
    Field::length("tank.manhole_shafts.upstand", 0, Fallback::Nothing, "above ground"),
];

/// Shafts exist where the job asks for them and the cover is below ground.
fn built(site: &Site<'_>) -> bool {
    site.job.has(PART) && site.judge.cmp(&site.cover_top, &Len::ZERO).is_lt()
}

/// Where the lids of manholes lie: on the shafts, or on the cover itself.
#[must_use]
pub fn top(site: &Site<'_>) -> Len {
    if built(site) { site.job.len("tank.manhole_shafts.upstand") } else { site.cover_top.clone() }
}

fn thickness(site: &Site<'_>) -> Len {
    site.job.len("tank.manhole_shafts.thickness")
}

fn spec(site: &Site<'_>) -> Spec {
    let made = site.masonry(PART, &thickness(site));
    let more = [site.unit_title(&made.unit).to_owned(), made.mix.clone()];
    Spec::of(&masonry::MANHOLE_SHAFT, &site.mm(&thickness(site)), &[&more[0], &more[1]]).made(made)
}

/// What the shafts take in the ground, as lines of another item; `sign` 1 or -1.
pub fn in_ground_lines(site: &Site<'_>, book: &mut Book<'_>, to: &Spec, stage: Stage, sign: i64) {
    if !built(site) {
        return;
    }
    let twice = thickness(site).times(2);
    let depth = -&site.cover_top;
    for cover::Manhole { size: [a, b], .. } in cover::manholes(site) {
        let dims = [&(&a + &twice), &(&b + &twice), &depth];
        book.line(to, stage, Phrase::new("shafts-in-ground"), &[count(sign)], &dims);
    }
}

impl Element for ManholeShafts {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        if !built(site) {
            return;
        }
        refuse(site);
        let (spec, void) = (spec(site), Spec::plain(&voids::SHAFT));
        let t = thickness(site);
        let z = [Z::flat(site.cover_top.clone()), Z::flat(site.job.len("tank.manhole_shafts.upstand"))];
        for cover::Manhole { at: [x, y], .. } in cover::manholes(site) {
            let grow = |s: &Span| [&s[0] - &t, &s[1] + &t];
            let (gx, gy) = (grow(&x), grow(&y));
            let mut ring = |x: [&Len; 2], y: [&Len; 2]| {
                let block = Site::block(x, y, [&z[0], &z[1]]);
                out.claims.push(Claim::new("shaft", Rank::COVER, &spec, Stage::Finish, block));
            };
            ring([&gx[0], &x[0]], [&gy[0], &gy[1]]);
            ring([&x[1], &gx[1]], [&gy[0], &gy[1]]);
            ring([&x[0], &x[1]], [&gy[0], &y[0]]);
            ring([&x[0], &x[1]], [&y[1], &gy[1]]);
            let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], [&z[0], &z[1]]);
            out.claims.push(Claim::new("shaft", Rank::COVER, &void, Stage::Finish, block));
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        if !built(site) {
            return;
        }
        let (spec, void, s) = (spec(site), Spec::plain(&voids::SHAFT), Stage::Finish);
        let t = thickness(site);
        let height = &site.job.len("tank.manhole_shafts.upstand") - &site.cover_top;
        for cover::Manhole { size: [a, b], .. } in cover::manholes(site) {
            // Centre line: the four corners count once.
            let girth = &(&a + &b).times(2) + &t.times(4);
            book.line(&spec, s, Phrase::new("shaft-girth"), &[count(1)], &[&girth, &t, &height]);
            book.line(&void, s, Phrase::new("inside-shaft"), &[count(1)], &[&a, &b, &height]);
        }
    }
}

fn refuse(site: &Site<'_>) {
    let place = || site.job.place("tank.manhole_shafts.thickness");
    let (holes, t) = (cover::manholes(site), thickness(site));
    let ([x0, x1], [y0, y1]) = (site.outer_x(), site.outer_y());
    let beyond = |h: &cover::Manhole| {
        let [x, y] = &h.at;
        site.less(&(&x[0] - &t), &x0)
            || site.less(&x1, &(&x[1] + &t))
            || site.less(&(&y[0] - &t), &y0)
            || site.less(&y1, &(&y[1] + &t))
    };
    if holes.iter().any(beyond) {
        let problem = Problem::error("J057", place(), "a manhole shaft stands beyond the walls of the tank")
            .label(format!("the walls are {} mm thick", site.mm(&site.wall)))
            .hint("make the shaft no thicker than the wall under it");
        site.job.report(problem);
    }
    let twice = t.times(2);
    if holes.windows(2).any(|h| site.less(&(&h[1].at[0][0] - &h[0].at[0][1]), &twice)) {
        let problem = Problem::error("J058", place(), "two manhole shafts meet")
            .label("their walls overlap")
            .hint("make the manholes smaller or the shafts thinner");
        site.job.report(problem);
    }
}
