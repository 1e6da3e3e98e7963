//! Pictures of the workbook: plan and long section. Without the feature `papers` there are none.

use tankwright_export::cells::Picture;
use tankwright_quantities::problem::Problem;

#[cfg(feature = "papers")]
pub(crate) use dotted::views;

/// A drawing that becomes a picture.
pub(crate) struct View {
    seen: Picture,
    #[cfg_attr(not(feature = "papers"), expect(dead_code, reason = "nothing is drawn"))]
    svg: String,
}

impl View {
    /// What the book has to know of it.
    pub(crate) fn seen(&self) -> Picture {
        self.seen.clone()
    }
}

/// Nothing can be drawn.
#[cfg(not(feature = "papers"))]
pub(crate) fn views(_: &tankwright_quantities::estimate::Estimate) -> Vec<View> {
    Vec::new()
}

#[cfg(not(feature = "papers"))]
impl View {
    /// Its dots, as PNG.
    pub(crate) fn dots(&self) -> Result<Vec<u8>, Problem> {
        Ok(Vec::new())
    }
}

#[cfg(feature = "papers")]
mod dotted {
    use super::{Picture, Problem, View};

    /// Drawings on the Summary, by id.
    const VIEWS: [&str; 2] = ["plan-floor", "long-section"];
    /// Dots to a millimetre of the sheet: letters of 2.5 mm stay legible on screen and on paper.
    const DOTS: u32 = 4;

    /// Plan and section.
    pub(crate) fn views(e: &tankwright_quantities::estimate::Estimate) -> Vec<View> {
        let chosen = VIEWS.iter().filter_map(|id| tankwright_draw::drawing(e, id));
        let view = |d: tankwright_draw::Drawing| View {
            seen: Picture { title: d.title, alt: d.alt, sides: [d.width_mm, d.height_mm] },
            svg: d.svg,
        };
        chosen.map(view).collect()
    }

    impl View {
        /// Its dots, as PNG.
        pub(crate) fn dots(&self) -> Result<Vec<u8>, Problem> {
            let [wide, _] = self.seen.sides;
            tankwright_papers::png(&self.svg, wide, wide * DOTS).map_err(|e| {
                let text = format!("the picture of `{}` cannot be made: {e:?}", self.seen.title);
                Problem::error("X103", None, text)
            })
        }
    }
}
