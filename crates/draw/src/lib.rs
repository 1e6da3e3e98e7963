//! Drawings of an estimate, to scale, as SVG: one geometry for file, paper, spreadsheet and page.
//!
//! The tank is cut out of the very cells that prove its quantities (`cut`), what stands beside it is sketched by its
//! elements in plain shapes; nothing here knows an element. Pure: no files, no clock, no floats. Coordinates are whole
//! tenths of a millimetre on site and whole hundredths of a millimetre on paper.

mod advances;
mod cut;
mod hatch;
mod lettered;
pub mod letters;
pub mod paper;
pub mod sheet;
pub mod svg;
mod views;

pub use lettered::texts;
use tankwright_quantities::estimate::Estimate;

use paper::Rect;
use sheet::Head;
use views::{Made, detail, figure, forms, plan, section, site, steel};

/// A drawing on its sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawing {
    /// Stable id, the name of its file: `long-section`.
    pub id: String,
    /// What it shows.
    pub title: String,
    /// What it shows in words, with its chief dimensions, for who cannot see it.
    pub alt: String,
    /// Width of the sheet, mm.
    pub width_mm: u32,
    /// Height of the sheet, mm.
    pub height_mm: u32,
    /// The drawing.
    pub svg: String,
}

/// Every drawing of a job, in the order of its sheets. The same estimate gives the same bytes.
#[must_use]
pub fn drawings(estimate: &Estimate) -> Vec<Drawing> {
    let mut made = vec![
        plan::cover(estimate),
        plan::floor(estimate),
        section::long(estimate).draw(),
        section::cross(estimate).draw(),
    ];
    let figures = &estimate.sketch.figures;
    for (i, figure) in figures.iter().enumerate() {
        let before = figures.iter().take(i).filter(|f| f.id == figure.id).count();
        made.push(figure::draw(estimate, figure, before + 1));
    }
    made.extend(site::draw(estimate));
    made.extend(steel::draw(estimate));
    made.extend(detail::draw(estimate));
    made.extend(forms::draw(estimate));
    let of = made.len();
    (1..).zip(made).map(|(n, made)| finished(estimate, made, [n, of])).collect()
}

/// A view without its sheet: no frame, no title block, no legend.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct View {
    /// What it shows.
    pub title: String,
    /// The same in words.
    pub alt: String,
    /// Width and height, hundredths of a millimetre.
    pub size: [i64; 2],
    /// The drawing.
    pub svg: String,
}

/// The long section with its dimensions and notes, without its sheet: for a page that has words of its own.
#[must_use]
pub fn long_section(estimate: &Estimate) -> View {
    let Made { title, alt, paper, .. } = section::long(estimate).draw();
    let title = headed(&title);
    let rect = sheet::view(&paper);
    let Rect([left, top, right, bottom]) = rect;
    let svg = svg::written_in(&paper, rect, &title, &alt);
    View { title, alt, size: [right - left, bottom - top], svg }
}

fn headed(title: &str) -> String {
    let mut letters = title.chars();
    letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect()
}

fn finished(estimate: &Estimate, made: Made, sheet: [usize; 2]) -> Drawing {
    let Made { id, shows, title, alt, mut paper, scale } = made;
    let title = headed(&title);
    let head = Head {
        job: &estimate.title,
        title: &title,
        date: &estimate.date,
        profile: &estimate.profile.1,
        sheet,
        scale,
    };
    sheet::note_defaults(&mut paper, &shows, &estimate.defaults);
    sheet::finish(&mut paper, &head);
    let [width_mm, height_mm] = paper.size.map(|n| u32::try_from(n / 100).unwrap_or(0));
    let svg = svg::written(&paper, &title, &alt);
    Drawing { id, title, alt, width_mm, height_mm, svg }
}
