//! Everything that is built, one thing a file. Each file has the same parts, in this order:
//! what it is and its rules, the job-file fields it reads, `set_out`, `measure`, `reinforce`, what papers say of it
//! (`holes`, `marks`, `sketch`, `scope`), `prove`.

use tankwright_geometry::Len;

use crate::cautions::Hole;
use crate::job::Field;
use crate::ledger::{Book, SetOut};
use crate::model::Model;
use crate::site::Site;
use crate::sketch::Sketch;
use crate::stage::Stage;
use crate::steel::Bench;
use crate::words::Phrase;

/// One thing that is built.
pub trait Element: Sync {
    /// The rows of the job-file table that this element brings.
    fn fields(&self) -> &'static [Field];

    /// Codes of what this element refuses, each with its meaning in one line.
    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        &[]
    }

    /// Claims on space and gross faces; impossible dimensions are reported on the job.
    fn set_out(&self, site: &Site<'_>, out: &mut SetOut);

    /// Gross lines, from the site's dimensions and never from its own claims.
    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>);

    /// Bars of the members of this element, from the site's dimensions; impossible ones are reported on the job.
    fn reinforce(&self, site: &Site<'_>, bench: &mut Bench<'_>) {
        let _ = (site, bench);
    }

    /// Holes that people work in while this is built; none leaves no caution.
    fn holes(&self, site: &Site<'_>) -> Vec<Hole> {
        let _ = site;
        Vec::new()
    }

    /// Levels for pegs and strings beyond those of the tank, from ground up.
    fn marks(&self, site: &Site<'_>) -> Vec<(Stage, Phrase, Len)> {
        let _ = site;
        Vec::new()
    }

    /// What drawings show of it besides its claims.
    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        let _ = (site, out);
    }

    /// What is built besides the tank, in words.
    fn scope(&self, site: &Site<'_>) -> Vec<Phrase> {
        let _ = site;
        Vec::new()
    }

    /// A second formula for works the cells do not prove.
    fn prove(&self, site: &Site<'_>, model: &Model, book: &mut Book<'_>) {
        let _ = (site, model, book);
    }
}

/// Every element, one word each: declares the module and puts its `ELEMENT` into the one list.
macro_rules! elements {
    ($($file:ident)*) => {
        $(pub mod $file;)*

        /// The one list.
        pub static ALL: &[&dyn Element] = &[$(&$file::ELEMENT),*];
    };
}

elements! {
    pit base columns span_beam wall_beams ring_beams boards pipes vent walls openings partitions
    haunch cover manhole_shafts clear_space floor_finish soak_pit soak_lining soak_cover
    drain inspection_chambers pipe_lines backfill
}
