//! Hatchings: one a material, our own after the sorts that practice knows, each with its word for the legend.
//!
//! Masonry: single strokes at 45 degrees. Concrete: grains; reinforced: pairs of strokes and grains; blinding: dots. Broken and
//! loose stone: outlines of stones. Ground: groups of three short strokes. Water: level strokes.
//!
//! No tile is turned: slanting strokes stand in an upright one. The dots of a turned tile are reckoned one by one, which
//! takes longer than all the rest of a picture.

use tankwright_quantities::works::Drawn;

use crate::paper::Fill;

/// A hatching: class and id in the SVG, word of the legend, its pattern.
pub(crate) struct Hatch {
    /// Class of areas.
    pub(crate) class: &'static str,
    /// Word key for the legend.
    pub(crate) word: &'static str,
    /// The `<pattern>`, whole.
    pub(crate) pattern: &'static str,
}

const fn hatch(class: &'static str, word: &'static str, pattern: &'static str) -> Hatch {
    Hatch { class, word, pattern }
}

static MASONRY: Hatch = hatch(
    "masonry",
    "draw-masonry",
    r##"<pattern id="masonry" width="2.25" height="2.25" patternUnits="userSpaceOnUse"><rect width="2.25" height="2.25" fill="#fff"/><path d="M-.375 1.5L1.5-.375M.75 2.625L2.625.75" stroke="#000" stroke-width=".18"/></pattern>"##,
);
static CONCRETE: Hatch = hatch(
    "concrete",
    "draw-concrete",
    r##"<pattern id="concrete" width="3" height="3" patternUnits="userSpaceOnUse"><rect width="3" height="3" fill="#fff"/><circle cx=".6" cy=".7" r=".14"/><circle cx="2.1" cy="1.4" r=".1"/><path d="M1 2.4l.5-.7.5.7z" fill="none" stroke="#000" stroke-width=".18"/></pattern>"##,
);
static REINFORCED: Hatch = hatch(
    "reinforced",
    "draw-reinforced",
    r##"<pattern id="reinforced" width="4.25" height="4.25" patternUnits="userSpaceOnUse"><rect width="4.25" height="4.25" fill="#fff"/><path d="M-.2.77L.77-.2M-.2 1.61L1.61-.2M.37 4.45L4.45.37M1.21 4.45L4.45 1.21" stroke="#000" stroke-width=".18"/><circle cx=".71" cy="1.84" r=".14"/><circle cx="2.83" cy="3.96" r=".14"/><circle cx=".21" cy="3.18" r=".14"/><circle cx="2.34" cy="1.06" r=".14"/></pattern>"##,
);
static BLINDING: Hatch = hatch(
    "blinding",
    "draw-blinding",
    r##"<pattern id="blinding" width="1.4" height="1.4" patternUnits="userSpaceOnUse"><rect width="1.4" height="1.4" fill="#fff"/><circle cx=".35" cy=".35" r=".13"/><circle cx="1.05" cy="1.05" r=".13"/></pattern>"##,
);
static HARDCORE: Hatch = hatch(
    "hardcore",
    "draw-hardcore",
    r##"<pattern id="hardcore" width="4.4" height="3.4" patternUnits="userSpaceOnUse"><rect width="4.4" height="3.4" fill="#fff"/><path d="M.3.5l1.3-.3.6.8-.5.7-1.2-.2zM2.5.4l1.4.1.3.8-1.1.5-.8-.5zM.9 2.1l1.1.1.4.7-.9.4-1-.4zM2.9 2.2l1.1-.2.2.7-.8.6-.9-.4z" fill="none" stroke="#000" stroke-width=".18"/></pattern>"##,
);
static STONE: Hatch = hatch(
    "stone",
    "draw-loose-stone",
    r##"<pattern id="stone" width="6" height="5" patternUnits="userSpaceOnUse"><rect width="6" height="5" fill="#fff"/><ellipse cx="1.5" cy="1.2" rx="1.2" ry=".8" fill="none" stroke="#000" stroke-width=".18"/><ellipse cx="4.4" cy="1.5" rx="1.1" ry=".9" fill="none" stroke="#000" stroke-width=".18"/><ellipse cx="1.3" cy="3.8" rx=".9" ry=".8" fill="none" stroke="#000" stroke-width=".18"/><ellipse cx="3.7" cy="3.9" rx="1.3" ry=".7" fill="none" stroke="#000" stroke-width=".18"/></pattern>"##,
);
static SOIL: Hatch = hatch(
    "soil",
    "draw-soil",
    r##"<pattern id="soil" width="5" height="4" patternUnits="userSpaceOnUse"><rect width="5" height="4" fill="#fff"/><path d="M.6 1.4l.9-.9M1.3 1.4l.9-.9" stroke="#000" stroke-width=".18"/><circle cx="3.9" cy="1.1" r=".12"/><circle cx="1" cy="3" r=".12"/><path d="M3.1 3.4l.9-.9" stroke="#000" stroke-width=".18"/></pattern>"##,
);
static EARTH: Hatch = hatch(
    "earth",
    "draw-earth",
    r##"<pattern id="earth" width="9" height="6" patternUnits="userSpaceOnUse"><path d="M1 2.2l1.2-1.2M1.9 2.2l1.2-1.2M2.8 2.2l1.2-1.2M5.5 5.2l1.2-1.2M6.4 5.2l1.2-1.2M7.3 5.2l1.2-1.2" stroke="#777" stroke-width=".18"/></pattern>"##,
);
static WATER: Hatch = hatch(
    "water",
    "draw-water",
    r##"<pattern id="water" width="8" height="4" patternUnits="userSpaceOnUse"><path d="M.5 1h3M4.8 3h2.2" stroke="#777" stroke-width=".18"/></pattern>"##,
);

/// The hatching of a filling; none for white, black and holes.
pub(crate) const fn of(fill: Fill) -> Option<&'static Hatch> {
    match fill {
        Fill::Of(drawn) => of_work(drawn),
        Fill::Earth => Some(&EARTH),
        Fill::Water => Some(&WATER),
        Fill::None | Fill::White | Fill::Black | Fill::Face(_) => None,
    }
}

const fn of_work(drawn: Drawn) -> Option<&'static Hatch> {
    match drawn {
        Drawn::Masonry => Some(&MASONRY),
        Drawn::Concrete => Some(&CONCRETE),
        Drawn::Reinforced => Some(&REINFORCED),
        Drawn::Blinding => Some(&BLINDING),
        Drawn::Hardcore => Some(&HARDCORE),
        Drawn::Stone => Some(&STONE),
        Drawn::Soil => Some(&SOIL),
        Drawn::Nothing | Drawn::Hole | Drawn::Room | Drawn::Sheet => None,
    }
}
