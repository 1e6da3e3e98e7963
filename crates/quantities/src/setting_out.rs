//! Levels below ground level, sides and diagonals, for pegs and strings.

use tankwright_geometry::{Len, Ratio};

use crate::decimal;
use crate::elements::{ALL, pit};
use crate::estimate::Mark;
use crate::levels::{from_house, from_tank, one_in};
use crate::site::Site;
use crate::stage::Stage;
use crate::words::Phrase;

/// Levels of the tank and of what leads to it and from it, from ground up, with the stage they are held against.
#[must_use]
pub fn levels(site: &Site<'_>) -> Vec<(Stage, Phrase, Len)> {
    let mut levels = Vec::new();
    let mut level = |stage: Stage, title: Phrase, z: &Len| levels.push((stage, title, z.clone()));
    let key = Phrase::new;
    level(Stage::Cover, key("level-cover-top"), &site.cover_top);
    level(Stage::Cover, key("level-cover-bottom"), &site.cover_bottom);
    level(Stage::WallsUpper, key("level-masonry-top"), &site.masonry_top);
    if let Some(run) = from_house(site).filter(|run| !run.length.is_zero()) {
        let fall = one_in(&run).unwrap_or_else(|| "0".to_owned());
        level(Stage::Pipes, Phrase::with("level-invert-house", &[&fall]), &-&run.from);
    }
    for name in ["inlet", "outlet"] {
        if site.job.has(&format!("tank.pipes.{name}")) {
            let invert = &site.masonry_top - &site.job.len(&format!("tank.pipes.{name}.below_top"));
            level(
                Stage::WallsUpper,
                key(if name == "inlet" { "level-invert-inlet" } else { "level-invert-outlet" }),
                &invert,
            );
        }
    }
    if let Some(run) = from_tank(site).filter(|run| !run.length.is_zero()) {
        let fall = one_in(&run).unwrap_or_else(|| "0".to_owned());
        level(Stage::Pipes, Phrase::with("level-invert-far", &[&fall]), &-&run.to);
    }
    for (i, [bottom, top]) in site.ring_beams.iter().enumerate() {
        let n = (i + 1).to_string();
        level(Stage::RingBeam, Phrase::with("level-ring-beam-top", &[&n]), top);
        level(Stage::RingBeam, Phrase::with("level-ring-beam-bottom", &[&n]), bottom);
    }
    let deep = site.layers_deep();
    let low = &site.floor.outlet - &site.floor.fall;
    level(Stage::Base, key("level-floor-outlet"), &site.floor.outlet);
    level(Stage::Base, key("level-floor-inlet"), &low);
    level(Stage::Dig, key("level-dig-outlet"), &(&site.floor.outlet - &deep));
    level(Stage::Dig, key("level-dig-inlet"), &(&low - &deep));
    levels
}

/// All marks, from the top down, then the lengths.
#[must_use]
pub fn marks(site: &Site<'_>) -> Vec<Mark> {
    let of_elements = ALL.iter().flat_map(|element| element.marks(site));
    let levels = levels(site).into_iter().chain(of_elements);
    let level = |(stage, title, z): (Stage, Phrase, Len)| Mark {
        title,
        metres: metres(-z.value()),
        stage: Some(stage),
    };
    let mut marks: Vec<Mark> = levels.map(level).collect();
    let plans = [
        (pit::top_size(site), "plan-dig-top", Stage::Dig),
        (Some(pit::bottom_size(site)), "plan-dig", Stage::Dig),
        (Some([site.outer_length(), site.outer_width()]), "plan-outside", Stage::WallsLower),
        (Some([site.length.clone(), site.width.clone()]), "plan-inside", Stage::WallsLower),
    ];
    for (sides, title, stage) in plans {
        let Some([l, b]) = &sides else { continue };
        let what = crate::words::look_up(title);
        let mut mark = |key, length| {
            let (title, stage) = (Phrase::with(key, &[what]), Some(stage));
            marks.push(Mark { title, metres: metres(length), stage });
        };
        mark("side-long", l.value());
        mark("side-short", b.value());
        mark("diagonal", diagonal(l.value(), b.value()));
    }
    for (n, [face, _]) in (1..).zip(&site.partitions) {
        let title = Phrase::with("partition-face", &[&i32::to_string(&n)]);
        marks.push(Mark { title, metres: metres(face.value()), stage: Some(Stage::WallsUpper) });
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
