//! The reader as a whole. The elements' own tables stand in here as short ones.

mod good;
mod mutations;
mod refused;
mod together;

use super::{Fallback, Field, Job, Kind, Presence, read};
use crate::problem::Problem;

/// A few parts as the elements bring them.
static PARTS: &[Field] = &[
    Field::part("tank.pit", Presence::Always, "the dig"),
    Field::value(
        "tank.pit.face",
        Kind::Choice(&["tight", "open"]),
        Fallback::Default("tight", "a test"),
        "walls",
    ),
    Field::value("tank.pit.batter", Kind::Factor { places: 3 }, Fallback::Nothing, "slope of the sides"),
    Field::value("tank.pit.termite", Kind::Flag, Fallback::Nothing, "treatment"),
    Field::part("tank.base", Presence::Always, "the base"),
    Field::length("tank.base.fall", 0, Fallback::Nothing, "of the floor"),
    Field::part("tank.base.concrete", Presence::Always, "its concrete"),
    Field::length("tank.base.concrete.thickness", 500, Fallback::Default("100 mm", "a test"), "thickness"),
    Field::value(
        "tank.base.concrete.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:2:4", "a test"),
        "concrete",
    ),
    Field::part("tank.walls", Presence::Always, "the walls"),
    Field::length("tank.walls.thickness", 500, Fallback::Default("220 mm", "a test"), "thickness"),
    Field::value("tank.walls.mortar", Kind::Mix { parts: 2 }, Fallback::Default("1:4", "a test"), "mortar"),
    Field::part("tank.columns", Presence::Optional, "columns"),
    Field::value(
        "tank.columns.size",
        Kind::Size { least: 500, most: 20_000 },
        Fallback::Required,
        "along, across",
    ),
    Field::value(
        "tank.columns.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:1.5:3", "a test"),
        "concrete",
    ),
    Field::part("tank.ring_beams[]", Presence::List, "ring beams"),
    Field::length("tank.ring_beams[].above_floor", 0, Fallback::Required, "underside"),
    Field::length("tank.ring_beams[].depth", 500, Fallback::Required, "depth"),
    Field::part("tank.cover", Presence::Always, "the cover"),
    Field::length("tank.cover.thickness", 500, Fallback::Default("150 mm", "a test"), "thickness"),
    Field::part("tank.cover.span_beam", Presence::Optional, "span beam"),
    Field::length("tank.cover.span_beam.width", 500, Fallback::Required, "width"),
    Field::value(
        "tank.cover.manholes",
        Kind::Sizes { least: 3_000, most: 20_000 },
        Fallback::Nothing,
        "along, across",
    ),
];

fn tables() -> Vec<&'static [Field]> {
    let mut tables = super::parts::before();
    tables.push(PARTS);
    tables.extend(super::parts::after());
    tables
}

fn run(text: &str) -> (Job, Vec<Problem>) {
    read("job.toml", text, &tables())
}

/// A problem as `code line caret-text`.
fn short(text: &str, problem: &Problem) -> String {
    let place =
        problem.place.as_ref().map(|p| format!("{} {}", p.line, text.get(p.span.clone()).unwrap_or("CUT")));
    format!("{} {}", problem.code, place.unwrap_or_default())
}

const SMALLEST: &str = "format = 1\n[job]\ntitle = \"A\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n[tank]\nchambers = [\"2.00 m\"]\nwidth = \"1.50 m\"\nheight = \"1.60 m\"\n";

const FULL: &str = r#"format = 1

[job]
title = "Rest house, hill road"
date = 2026-11-25
currency = "UGX"
rates = "demo-ugx"

[ground]
water_table = "4.2 m"   # in the wet season
keep_dry = true

[tank]
persons = 14
chambers = ["2.00 m", 1000]
width = "5 ft 6 in"
height = "1.60 m"
cover_top = "-200 mm"

[tank.pit]
face = "open"
batter = "1 in 4"

[tank.base]
concrete = { mix = "1 : 2 : 4.0" }
fall = "60 mm"

[tank.columns]
size = ["220 mm", "0.22 m"]

[[tank.ring_beams]]
above_floor = "700 mm"
depth = "150 mm"

[[tank.ring_beams]]
above_floor = "1200 mm"
depth = "150 mm"

[tank.cover]
span_beam.width = "200 mm"
manholes = [["600 mm", "500 mm"], ["600 mm", "600 mm"]]

[steel]
base = { short = "Y10@200", long = "Y10@200" }

[waste]
bricks = "5"
sand-building = 10

[orders]
group = [["base", "walls-lower"]]
reserve_bags = { cover = 1 }
lead_days = { cement = 2 }

[programme]
start = "2026-12-01"
days = { dig = 7 }

[[preliminaries]]
title = "Setting out"
amount = "450000"

[[provisional]]
title = "Rock, extra over"
unit = "m3"
quantity = "1.0"
rate = "85000"

[additions]
say = "1000"
list = [
  { title = "Contingency", percent = "5" },
  { title = "Tax", percent = "18.5", on = ["measured", "Contingency"] },
]
"#;
