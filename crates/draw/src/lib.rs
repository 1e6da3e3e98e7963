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
mod stages;
pub mod svg;
mod views;

pub use lettered::texts;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::words::look_up;

use paper::Rect;
use sheet::Head;
use views::{Made, Sheet, detail, figure, forms, plan, section, site, steel};

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
    let sheets = sheets(estimate);
    let of = sheets.len();
    (1..).zip(sheets).map(|(n, sheet)| finished(estimate, (sheet.make)(), Some([n, of]))).collect()
}

/// Name and title of each, none of them drawn.
#[must_use]
pub fn listed(estimate: &Estimate) -> Vec<(String, String)> {
    sheets(estimate).into_iter().map(|sheet| (sheet.id, headed(&sheet.title))).collect()
}

/// One of them, without making the others; nothing where the job has none of this name.
#[must_use]
pub fn drawing(estimate: &Estimate, id: &str) -> Option<Drawing> {
    let sheets = sheets(estimate);
    let of = sheets.len();
    let (n, sheet) = (1..).zip(sheets).find(|(_, sheet)| sheet.id == id)?;
    Some(finished(estimate, (sheet.make)(), Some([n, of])))
}

/// What a stage's card shows: the tank as it stands then, its work bold, and the sheets that its work is built from.
#[must_use]
pub fn of_stage(estimate: &Estimate, stage: Stage) -> Vec<Drawing> {
    stages::drawn(estimate, stage)
}

/// Every sheet, none of them drawn yet.
fn sheets(e: &Estimate) -> Vec<Sheet<'_>> {
    let mut all = vec![
        Sheet::new("plan-cover", look_up("draw-plan-cover"), || plan::cover(e)),
        Sheet::new("plan-floor", look_up("draw-plan-floor"), || plan::floor(e)),
        Sheet::new("long-section", look_up("draw-long-section"), || section::long(e).draw()),
        Sheet::new("cross-section", look_up("draw-cross-section"), || section::cross(e).draw()),
    ];
    all.extend(figure::sheets(e));
    all.extend(site::sheet_of(e));
    all.extend(steel::sheets(e));
    all.extend(detail::sheets(e));
    all.extend(forms::sheets(e));
    all
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

/// The long section with its dimensions and notes, without its sheet: for a page that has words of its own, and room for
/// so much of them, hundredths of a millimetre. Its letters stay as high as on a sheet; nothing where the room would make
/// the tank smaller than it is there.
#[must_use]
pub fn long_section(estimate: &Estimate, [wide, tall]: [i64; 2]) -> Option<View> {
    let [left, top, ..] = sheet::FIELD.0;
    let field = Rect([left, top, left + wide - 2 * sheet::ROUND, top + tall - 2 * sheet::ROUND]);
    let section = section::long(estimate);
    let Made { title, alt, paper, scale, .. } = section.draw_in(field);
    if scale > section.draw().scale {
        return None;
    }
    let title = headed(&title);
    let rect = sheet::view(&paper);
    let Rect([left, top, right, bottom]) = rect;
    let svg = svg::written_in(&paper, rect, &title, &alt);
    Some(View { title, alt, size: [right - left, bottom - top], svg })
}

fn headed(title: &str) -> String {
    let mut letters = title.chars();
    letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect()
}

fn finished(estimate: &Estimate, made: Made, sheet: Option<[usize; 2]>) -> Drawing {
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
