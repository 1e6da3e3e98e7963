//! Levels below the site datum (ground), sides and diagonals, for pegs and strings.

use tankwright_geometry::{Len, Ratio};

use crate::decimal;
use crate::elements::pit;
use crate::estimate::Mark;
use crate::site::Site;
use crate::words::Phrase;

/// All marks, from the top down, then the lengths.
#[must_use]
pub fn marks(site: &Site<'_>) -> Vec<Mark> {
    let mut marks = Vec::new();
    let mut level = |title: Phrase, z: &Len| marks.push(Mark { title, metres: metres(-z.value()) });
    let key = Phrase::new;
    level(key("level-cover-top"), &site.cover_top);
    level(key("level-cover-bottom"), &site.cover_bottom);
    level(key("level-masonry-top"), &site.masonry_top);
    for name in ["inlet", "outlet"] {
        if site.job.has(&format!("tank.pipes.{name}")) {
            let invert = &site.masonry_top - &site.job.len(&format!("tank.pipes.{name}.below_top"));
            level(key(if name == "inlet" { "level-invert-inlet" } else { "level-invert-outlet" }), &invert);
        }
    }
    for (i, [bottom, top]) in site.ring_beams.iter().enumerate() {
        let n = (i + 1).to_string();
        level(Phrase::with("level-ring-beam-top", &[&n]), top);
        level(Phrase::with("level-ring-beam-bottom", &[&n]), bottom);
    }
    let deep = site.layers_deep();
    let low = &site.floor.outlet - &site.floor.fall;
    level(key("level-floor-outlet"), &site.floor.outlet);
    level(key("level-floor-inlet"), &low);
    level(key("level-dig-outlet"), &(&site.floor.outlet - &deep));
    level(key("level-dig-inlet"), &(&low - &deep));
    let [length, breadth] = pit::bottom_size(site);
    for (sides, title) in [
        ([length, breadth], "dig"),
        ([site.outer_length(), site.outer_width()], "walls-outside"),
        ([site.length.clone(), site.width.clone()], "walls-inside"),
    ] {
        let what = crate::words::look_up(if title == "dig" {
            "plan-dig"
        } else if title == "walls-outside" {
            "plan-outside"
        } else {
            "plan-inside"
        });
        let [l, b] = [&sides[0], &sides[1]];
        marks.push(Mark { title: Phrase::with("side-long", &[what]), metres: metres(l.value()) });
        marks.push(Mark { title: Phrase::with("side-short", &[what]), metres: metres(b.value()) });
        marks.push(Mark {
            title: Phrase::with("diagonal", &[what]),
            metres: metres(diagonal(l.value(), b.value())),
        });
    }
    marks
}

fn metres(tenths: Ratio) -> String {
    let value = decimal::rounded(tenths / Ratio::int(10_000), 3);
    value.map_or_else(|| "?".to_owned(), |d| decimal::shown(d, 3))
}

/// Diagonal of a rectangle, to the tenth of a millimetre below; printed to the millimetre.
fn diagonal(a: Ratio, b: Ratio) -> Ratio {
    let square = (a * a + b * b).floor().numer();
    Ratio::int(square.max(0).isqrt())
}
